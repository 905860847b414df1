"""Results as tables and sentences in the lab's units: what comes out of a trial, and how far to trust the model."""

from __future__ import annotations

import dataclasses
import html
import re
from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np

from ..matter import tables
from ..matter.properties import MOLAR_MASS
from ..matter.units import ZERO_C, L, hour, minute, mL
from ..reaction.bath import LONGEST
from ..reaction.run import Band
from ..reaction.stoichiometry import needed
from .trial import Trial, violence

if TYPE_CHECKING:
    import pandas

TOO_WARM = 45.0 + ZERO_C  # K: the trade stops an etching bath above 45 to 50 °C (common practice)
HOT = 60.0 + ZERO_C  # K: the model was checked up to here, and a bath this hot needs watching (common practice)
FUMES = 3000.0  # mol/m³: more acid than this fumes and can lift the resist (common practice)
CELL = "text-align:left;padding:4px"  # narrow, so that a table fits a telephone
EDGE = 0.05  # so near to an end of what was seen, a prediction agrees at the edge
PEROXIDE_ADVICE = 0.03  # kg/kg: some bench advice keeps the peroxide in the bath under 3 % by weight (common practice)
STATUSES = {"published": "measured and published", "from memory": "published, but quoted from memory",
            "derived": "worked out from published values", "fitted": "chosen so that the model meets an observation",
            "assumed": "a reasoned guess"}


@dataclasses.dataclass(frozen=True)
class Sheet:
    """A table as a page shows it: nothing cut short, read from the left, the column `beneath` as text under it."""

    frame: pandas.DataFrame
    beneath: str = ""

    def _repr_html_(self) -> str:
        import pandas

        with pandas.option_context("display.max_colwidth", None):
            text = self.frame.drop(columns=self.beneath or []).rename_axis(None).to_html(border=0)
        if self.beneath:
            notes: dict[str, list[str]] = {}
            for name, note in self.frame[self.beneath].items():
                notes.setdefault(str(note), []).append(str(name))
            lines = "".join(f"<br>{' · '.join(names)}: {html.escape(note)}" for note, names in notes.items())
            text += f"<p>{self.beneath.capitalize()}{lines}</p>"
        return text.replace("<table ", '<table style="text-align:left" ').replace(
            "<th>", f'<th style="{CELL}">').replace("<td>", f'<td style="{CELL}">').replace(
            ' style="text-align: right;"', "")


def clock(seconds: Any) -> str:
    """A time in words people use: seconds, minutes or hours [s in], and "never" for infinity.

    Examples
    --------
    >>> print(clock(3.4), "|", clock(230), "|", clock(9000), "|", clock(float("inf")))
    3.4 s | 3.8 min | 2.5 h | never
    """
    t = float(seconds)
    if not np.isfinite(t):
        return "never"
    value, unit = (t, "s") if t < 1.5 * minute else (t / minute, "min") if t < 100 * minute else (t / 60 / minute, "h")
    return f"{value:.1f} {unit}" if value < 10 else f"{value:.0f} {unit}"


def span(band: Band) -> str:
    """Low to high end of a band of times [s in]: "3.0 to 5.0 min", "28 min to never", or "never" alone."""
    low, high = clock(band.low), clock(band.high)
    if low == "never":
        return low
    return f"{low.split()[0]} to {high}" if low.split()[-1] == high.split()[-1] else f"{low} to {high}"


def table(tried: Trial) -> pandas.DataFrame:
    """What comes out of a trial, one quantity a row.

    Parameters
    ----------
    tried : Trial
        From `trial` [SI].

    Returns
    -------
    DataFrame
        Low end, middle and high end [unit in the row's name] of what 8 of 10 plausible baths lie between.

    Examples
    --------
    >>> from pcbchem.lesson.trial import trial
    >>> mild = trial(acid=(9, 11, "% by weight"), peroxide=(10.2, 12, "% by weight"), parts=(0, 1, 1), total_mL=150,
    ...              board_mm=(75, 60), bare_percent=60)
    >>> print(", ".join(table(mild).columns))
    low end, middle, high end
    """
    import pandas

    bath, run, after = tried.bath, tried.run, tried.after
    need = needed(tried.board.copper)
    draws = run.draws

    def line(band: Band, form: str, scale: float = 1.0, less: float = 0.0) -> list[str]:
        return [f"{float(v) / scale - less:{form}}" for v in (band.low, band.middle, band.high)]

    times = run.band("time_to_clear")
    count = times.values.shape[-1]
    never = round(float(times.never) * count)
    rows = {"acid in the bath (mol/L)": line(Band.of(tried.acid, draws), ".2f", 1 / L),
            "peroxide in the bath (mol/L)": line(Band.of(tried.peroxide, draws), ".2f", 1 / L),
            "temperature after mixing (°C)": line(Band.of(bath.T, draws), ".1f", 1, ZERO_C),
            "acid, times what this copper needs":
                line(Band.of(bath.amount("HCl") / need["HCl"], draws), ".1f"),
            "peroxide, times what this copper needs":
                line(Band.of(bath.amount("H2O2") / need["H2O2"], draws), ".1f"),
            "time until the board is clear": [clock(v) for v in (times.low, times.middle, times.high)],
            f"baths that never clear, within {LONGEST / hour:.0f} hours": ["", f"{never} of {count}", ""],
            "warmest while etching (°C)": line(run.band("peak_temperature"), ".0f", 1, ZERO_C),
            "the hour after: warmest (°C)": line(after.band("peak_temperature"), ".0f", 1, ZERO_C),
            "the hour after: oxygen given off (L)": line(after.band("oxygen"), ".1f", L)}
    return pandas.DataFrame.from_dict(rows, orient="index", columns=["low end", "middle", "high end"])


def heat(tried: Trial) -> str:
    """When 1 bath in 10 gets hot, past `HOT` in the hour after or past `TOO_WARM` while etching [K]; else nothing."""
    after, peak = (float(r.band("peak_temperature").high) for r in (tried.after, tried.run))
    if after <= HOT and peak <= TOO_WARM:
        return ""
    return f"it can get hot {'while it etches' if peak > after else outlasting(tried)}"


def outlasting(tried: Trial) -> str:
    """What to call the time after: a board that never clears does not come out."""
    return "after the board is out" if np.isfinite(tried.run.band("time_to_clear").middle) else "when left standing"


def asked(tried: Trial) -> str:
    """The inputs in words [cm², g, mL], without the volume of a bath too violent to pour."""
    board = tried.board
    area, copper = float(board.area), float(board.copper)  # type: ignore[arg-type]
    whole, per = float(board.footprint), tried.poured / area

    def short(value: float) -> str:
        return f"{value:.0f}" if value >= 100 else f"{value:.2g}"

    words = (f"Board {short(whole * 1e4)} cm², {short(area * 1e4)} cm² of it bare, "
             f"{short(copper * MOLAR_MASS['Cu'] * 1000)} g of copper")
    if not violence(tried):
        words += f", in {short(tried.poured / mL)} mL of bath: {short(per * 100)} mL per cm²"
    odd = tried.run.band("reserve").middle > 200 or area < 0.02 * whole
    return f"{words}.{' **Is that the board you mean?**' if odd else ''}"


def lacks(tried: Trial) -> str:
    """What the middle bath holds too little of for this copper, as sentences."""
    said, need = "", needed(tried.board.copper)
    for name, substance in (("acid", "HCl"), ("peroxide", "H2O2")):
        held = float(Band.of(tried.bath.amount(substance) / need[substance], tried.run.draws).middle)
        if held < 1:
            said += f"**Not enough {name}** for this copper. " if held else f"**It holds no {name}.** "
    return said


def sentence(tried: Trial) -> str:
    """A trial in plain words: any warning first, the inputs, the times, the warmth, the hour after [s, °C, L]."""
    times, peak = tried.run.band("time_to_clear"), tried.run.band("peak_temperature")
    after, oxygen = tried.after.band("peak_temperature"), tried.after.band("oxygen")
    why, first = violence(tried), ""
    if why:
        first = f"**Too violent: do not mix this.** Why: {'; '.join(why)}. What follows is a curve to learn from.\n\n"
    elif heat(tried):
        most = max(after.high, peak.high) - ZERO_C
        first = f"**Careful: {heat(tried)}**, to {most:.0f} °C and more in 1 bath of 10.\n\n"
    never = f"{100 * float(times.never):.0f} % of the plausible baths never clear this board."
    if np.isfinite(times.high):
        said = (f"8 of 10 plausible baths clear this board in **{span(times)}**; the middle one takes "
                f"{clock(times.middle)}.{f' {never}' if times.never else ''}")
    else:
        said = f"**{never}**"
        said += f" 1 in 10 has cleared it by {clock(times.low)}." if np.isfinite(times.low) else ""
    said = said.replace("**", "") if why else said
    cooled = after.low < tried.T_air - 0.5 and Band.of(tried.bath.T, tried.run.draws).middle > tried.T_air - 0.5
    cool = " (evaporation can cool a bath below the room)" if cooled else ""
    hour = f"In the hour {outlasting(tried)}".replace("when left standing", "after that, left standing,")
    return (f"{first}{asked(tried)}\n\n{lacks(tried)}{said} At their warmest they reach {peak.low - ZERO_C:.0f} to "
            f"{peak.high - ZERO_C:.0f} °C. {hour} they give off {oxygen.low / L:.1f} to {oxygen.high / L:.1f} L of "
            f"oxygen and reach {after.low - ZERO_C:.0f} to {after.high - ZERO_C:.0f} °C{cool}.")


def cares(tried: Trial) -> str:
    """Where to be careful with a bath, as a list in Markdown [min, °C, % by weight]: no verdict and no permission."""
    run, after, bath, count = tried.run, tried.after, tried.bath, tried.run.band("time_to_clear").values.shape[-1]
    warm, later = (round(float(r.band("peak_temperature").over(TOO_WARM)) * count) for r in (run, after))
    acid, peroxide = (float(Band.of(v, run.draws).middle)
                      for v in (tried.acid, bath.mass_fraction("H2O2")))
    first, why, hot = run.band("time_to_clear").low, violence(tried), heat(tried)
    counts = [f"while etching {warm} of {count}", f"in the hour after {later} of {count}"][::-1 if why else 1]
    warmest = max(float(np.max(np.asarray(T))) for T in (bath.T, run.peak_temperature, after.peak_temperature))
    rest = [m for m in tried.outside if not (warmest > HOT and " K " in m)]
    return "\n".join(f"- {text}" for said, text in (
        (bool(why), f"**Too violent: do not mix this**: {'; '.join(why)}."),
        (not why and bool(np.isfinite(first)),
         f"Look at the board before {clock(first)}: 1 bath in 10 is clear sooner."),
        (bool(hot), f"{hot.capitalize()}: leave it open in a wide tray in the open air, watch it, never bottle it "
                    "(common practice)."),
        (True, f"The trade stops a bath at {TOO_WARM - ZERO_C:.0f} °C (common practice). Plausible baths warmer than "
               f"that: {'; '.join(counts)}."),
        (True, f"Some bench advice keeps peroxide in the bath under {100 * PEROXIDE_ADVICE:.0f} % by weight (common "
               f"practice): this one holds about {100 * peroxide:.1f} %, "
               f"{'above' if peroxide > PEROXIDE_ADVICE else 'below'} that."),
        (not why and (later > 0 or peroxide > PEROXIDE_ADVICE),
         f"{'' if hot else 'So leave it standing open, wide and outdoors. '}Weaker peroxide stays cooler; more bath "
         "for the same board, or more water in it, lowers the heat too."),
        (acid > FUMES, f"Acid above {FUMES * L:.0f} mol/L fumes and can lift the resist (common practice)."),
        (warmest > HOT, f"Hotter than {HOT - ZERO_C:.0f} °C: outside the range we checked."),
        (bool(rest), f"The model was not checked this far ({'; '.join(rest)}).")) if said)


def seen(practice: str, unit: str) -> tuple[float, float]:
    """What practice saw, as two limits in `unit` [s, µm/min or -]: "more than" has no upper one.

    Examples
    --------
    >>> print(seen("more than 20 min", "s"), seen("about 2 s", "s"))
    (1200.0, inf) (2.0, 2.0)
    """
    numbers = [float(n) for n in re.findall(r"\d+\.?\d*", practice)]
    scale = minute if unit == "s" and practice.endswith(" min") else 1.0
    return numbers[0] * scale, np.inf if practice.startswith("more than") else numbers[-1] * scale


def miss(low: float, middle: float, high: float, seen_low: float, seen_high: float) -> str:
    """How a prediction came out against what was seen, all in one unit [s, µm/min or -].

    Examples
    --------
    >>> print(miss(3.6, 7.3, 15, 2, 2))
    a miss: 1.8 to 7.5 times what was seen
    """
    if seen_low <= middle <= seen_high:
        edge = middle < seen_low * (1 + EDGE) or middle > seen_high * (1 - EDGE)
        return "agrees, at the edge" if edge else "the middle agrees"
    if low > seen_high:
        return f"a miss: {low / seen_high:.1f} to {high / seen_high:.1f} times what was seen"
    if high < seen_low:
        return f"a miss: {low / seen_low:.2f} to {high / seen_low:.2f} of what was seen"
    share = middle / (seen_high if middle > seen_high else seen_low)
    return f"the middle misses: {share:.2f} times the nearest value seen; low to high covers it"


def leave_one_out() -> pandas.DataFrame:
    """Each fact as the model predicts it when it is left out, beside what was seen, and how that came out.

    Returns
    -------
    DataFrame
        Indexed by fact; predictions, the middle and both ends [s, min or µm/min, written out], and words.
    """
    import pandas

    rows = []
    for row in tables.read("leave_one_out"):
        low, middle, high = (float(row[name]) for name in ("low", "middle", "high"))
        unit = row["unit"].strip("-")
        written = [clock(v) if unit == "s" else f"{v:#.3g} {unit}".strip() for v in (low, middle, high)]
        rows.append({"fact": row["fact"], "predicted": f"{written[1]} (from {written[0]} to {written[2]})",
                     "seen": row["practice"].replace("-", "–"),
                     "how it came out": miss(low, middle, high, *seen(row["practice"], row["unit"])),
                     "source of what was seen": tables.source(row["source"])})
    return pandas.DataFrame.from_records(rows, index="fact")


def statuses() -> pandas.DataFrame:
    """How many parameters of the rate model are known how well, and which [-], counted in their table."""
    import pandas

    rows = tables.read("parameters")
    count = Counter(row["status"] for row in rows)
    return pandas.DataFrame.from_records(
        [{"status": status, "which means": STATUSES[status], "how many": count[status],
          "which": ", ".join(r["name"].replace("_", " ") for r in rows if r["status"] == status)}
         for status in sorted(count, key=list(STATUSES).index)], index="status")
