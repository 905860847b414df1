"""Results as tables and sentences in the lab's units: what comes out of a trial, and how far to trust the model."""

from __future__ import annotations

import dataclasses
import re
from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np

from ..matter import tables
from ..matter.units import ZERO_C, L, minute
from ..reaction.bath import LONGEST
from ..reaction.run import Band
from ..reaction.stoichiometry import needed
from .trial import Trial

if TYPE_CHECKING:
    import pandas

TOO_WARM = 45.0 + ZERO_C  # K: the trade stops an etching bath above 45 to 50 °C (common practice)
VIOLENT = {"time": 30.0, "etching": 60.0 + ZERO_C, "standing": 75.0 + ZERO_C}  # s, K: nobody pours past these (same)
PEROXIDE_ADVICE = 0.03  # kg/kg: some bench advice keeps the peroxide in the bath under 3 % by weight (common practice)
STATUSES = {"published": "measured and published", "from memory": "published, but quoted from memory",
            "derived": "worked out from published values", "fitted": "chosen so that the model meets an observation",
            "assumed": "a reasoned guess"}


@dataclasses.dataclass(frozen=True)
class Sheet:
    """A table as a page shows it: nothing cut short, every column read from the left."""

    frame: pandas.DataFrame

    def _repr_html_(self) -> str:
        import pandas

        with pandas.option_context("display.max_colwidth", None):
            text = self.frame.rename_axis(None).to_html(border=0)
        return text.replace("<table ", '<table style="text-align:left" ').replace(
            "<th>", '<th style="text-align:left">').replace("<td>", '<td style="text-align:left">').replace(
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
    rows = {"acid in the bath (mol/L)": line(Band.of(bath.concentration("HCl"), draws), ".2f", 1 / L),
            "peroxide in the bath (mol/L)": line(Band.of(bath.concentration("H2O2"), draws), ".2f", 1 / L),
            "temperature after mixing (°C)": line(Band.of(bath.T, draws), ".1f", 1, ZERO_C),
            "acid, times what this copper needs":
                line(Band.of(bath.amount("HCl") / need["HCl"], draws), ".1f"),
            "peroxide, times what this copper needs":
                line(Band.of(bath.amount("H2O2") / need["H2O2"], draws), ".1f"),
            "time until the board is clear": [clock(v) for v in (times.low, times.middle, times.high)],
            f"baths that never clear, within {LONGEST / 3600:.0f} hours": ["", f"{never} of {count}", ""],
            "warmest while etching (°C)": line(run.band("peak_temperature"), ".0f", 1, ZERO_C),
            "the hour after: warmest (°C)": line(after.band("peak_temperature"), ".0f", 1, ZERO_C),
            "the hour after: oxygen given off (L)": line(after.band("oxygen"), ".1f", L)}
    return pandas.DataFrame.from_dict(rows, orient="index", columns=["low end", "middle", "high end"])


def sentence(tried: Trial) -> str:
    """One plain sentence or two on a trial: the times, the warmth, and what the bath does afterwards [s, °C, L]."""
    times, peak = tried.run.band("time_to_clear"), tried.run.band("peak_temperature")
    after, oxygen = tried.after.band("peak_temperature"), tried.after.band("oxygen")
    never = f"{100 * float(times.never):.0f} % of the plausible baths never clear this board."
    if np.isfinite(times.high):
        said = (f"8 of 10 plausible baths clear this board in **{span(times)}**; the middle one takes "
                f"{clock(times.middle)}.{f' {never}' if times.never else ''}")
    else:
        said = f"**{never}**"
        said += f" 1 in 10 has cleared it by {clock(times.low)}." if np.isfinite(times.low) else ""
    return (f"{said} At their warmest they reach {peak.low - ZERO_C:.0f} to "
            f"{peak.high - ZERO_C:.0f} °C. In the hour after the board is out they give off {oxygen.low / L:.1f} to "
            f"{oxygen.high / L:.1f} L of oxygen and reach {after.low - ZERO_C:.0f} to {after.high - ZERO_C:.0f} °C.")


def cares(tried: Trial) -> str:
    """Where to be careful with a bath, as a list in Markdown [min, °C, % by weight]: no verdict and no permission."""
    run, after, count = tried.run, tried.after, tried.run.band("time_to_clear").values.shape[-1]
    warm, later = (round(float(r.band("peak_temperature").over(TOO_WARM)) * count) for r in (run, after))
    peroxide = float(Band.of(tried.bath.mass_fraction("H2O2"), run.draws).middle)
    above = "above" if peroxide > PEROXIDE_ADVICE else "below"
    first = run.band("time_to_clear").low
    look = f"- Look at the board before {clock(first)}: 1 bath in 10 is clear sooner.\n" if np.isfinite(first) else ""
    if (first < VIOLENT["time"] or run.band("peak_temperature").high > VIOLENT["etching"]
            or after.band("peak_temperature").middle > VIOLENT["standing"]):
        look = "- **Too violent: do not mix this.** The answer above is a curve to learn from.\n"
    return (f"{look}- The trade stops a bath at {TOO_WARM - ZERO_C:.0f} °C (common practice). Warmer than that while "
            f"etching: {warm} of {count} plausible baths; in the hour after: {later} of {count}.\n"
            f"- Some bench advice keeps peroxide in the bath under {100 * PEROXIDE_ADVICE:.0f} % by weight (common "
            f"practice): this one holds about {100 * peroxide:.1f} %, {above} that.")


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
        return "the middle agrees"
    if low > seen_high:
        return f"a miss: {low / seen_high:.1f} to {high / seen_high:.1f} times what was seen"
    if high < seen_low:
        return f"a miss: {low / seen_low:.2f} to {high / seen_low:.2f} of what was seen"
    share = middle / (seen_high if middle > seen_high else seen_low)
    return f"the middle misses: {share:.2f} times the nearest value seen; the band reaches it"


def leave_one_out() -> pandas.DataFrame:
    """Each fact as the model predicts it when it is left out, beside what was seen, and how that came out.

    Returns
    -------
    DataFrame
        Indexed by fact; predictions [s, min or µm/min, written out] and words.
    """
    import pandas

    rows = []
    for row in tables.read("leave_one_out"):
        low, middle, high = (float(row[name]) for name in ("low", "middle", "high"))
        unit = row["unit"].strip("-")
        written = [clock(v) if unit == "s" else f"{v:#.3g} {unit}".strip() for v in (low, middle, high)]
        rows.append({"fact": row["fact"], **dict(zip(("low end", "middle", "high end"), written, strict=True)),
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
