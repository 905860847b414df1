"""Tables as a page shows them, how far to trust the model, and a line that counts while a search runs."""

from __future__ import annotations

import dataclasses
import html
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np

from ..bench.hazards import rules
from ..bench.plan import Plan
from ..bench.spoken import clock, degrees, figures, span
from ..matter import tables
from ..matter.units import minute

if TYPE_CHECKING:
    import pandas

CELL = "text-align:left;padding:4px"  # narrow, so that a table fits a telephone
EDGE = 0.05  # so near to an end of what was seen, a prediction agrees at the edge
STATUSES = {"published": "measured and published", "from memory": "published, but quoted from memory",
            "derived": "worked out from published values", "fitted": "chosen so that the model meets an observation",
            "assumed": "a reasoned guess"}


def shown(value: Any) -> str:
    """What stands in a cell of a table: a number to 3 figures [any unit], "never" for infinity, blank for NaN.

    Examples
    --------
    >>> print([shown(v) for v in (1249.6, 0.08, 0.002, 0.0, float("inf"), float("nan"), "acid")])
    ['1250', '0.08', 'under 0.01', '0', 'never', '', 'acid']
    """
    if not isinstance(value, float):
        return str(value)
    if 0 < value < 0.01:
        return "under 0.01"
    return "" if np.isnan(value) else figures(round(value, 2), 3) if np.isfinite(value) else "never"


@dataclasses.dataclass(frozen=True)
class Sheet:
    """A table as a page shows it: nothing cut short, read from the left, the column `beneath` as text under it.

    `caption` says above it what its numbers are.
    """

    frame: pandas.DataFrame
    beneath: str = ""
    caption: str = ""

    def _repr_html_(self) -> str:
        import pandas

        with pandas.option_context("display.max_colwidth", None):
            table = self.frame.drop(columns=self.beneath or []).map(shown)
            text = table.rename_axis(None).to_html(border=0)
        if self.beneath:
            notes: dict[str, list[str]] = {}
            for name, note in self.frame[self.beneath].items():
                notes.setdefault(str(note), []).append(str(name))
            lines = "".join(f"<br>{' · '.join(names)}: {html.escape(note)}" for note, names in notes.items())
            text += f"<p>{self.beneath.capitalize()}{lines}</p>"
        if self.caption:
            above = f'<caption style="{CELL};caption-side:top">{html.escape(self.caption)}</caption>'
            text = re.sub(r"(<table [^>]*>)", lambda opened: opened[1] + above, text, count=1)
        return text.replace("<table ", '<table style="text-align:left" ').replace(
            "<th>", f'<th style="{CELL}">').replace("<td>", f'<td style="{CELL}">').replace(
            ' style="text-align: right;"', "")


@contextmanager
def counting(what: str = "tried") -> Iterator[Callable[[int, int], None]]:
    """A line on the page that counts while a search runs, "tried 120 of 462", and is gone when it ends.

    Parameters
    ----------
    what : str
        The word before the count [-].

    Yields
    ------
    callable
        Takes how many are done and how many there are [-].
    """
    from IPython.display import DisplayHandle

    def line(text: str) -> dict[str, str]:
        return {"text/plain": text, "text/html": f'<div role="status">{html.escape(text)}</div>' if text else ""}

    handle: Any = DisplayHandle()  # type: ignore[no-untyped-call]
    handle.display(line(""), raw=True)
    try:
        yield lambda done, total: handle.update(line(f"{what} {done} of {total}"), raw=True)
    finally:
        handle.update(line(""), raw=True)


def beside(plans: Mapping[str, Plan]) -> pandas.DataFrame:
    """Plans one under the other, by the name that the page gives them.

    Parameters
    ----------
    plans : dict
        Names and plans.

    Returns
    -------
    DataFrame
        Verdict, the band of times and how warm, while etching and in the hour after [s or min, °C]; no volume.
    """
    import pandas

    return pandas.DataFrame.from_dict(
        {name: {"verdict": plan.verdict, "clear in": span(plan.bands["time_to_clear"]),
                "while etching": degrees(plan.bands["etching_peak"]),
                "in the hour after": degrees(plan.bands["standing_peak"])} for name, plan in plans.items()},
        orient="index")


def verdict_rules() -> pandas.DataFrame:
    """The rules of the verdict as `pcbchem.bench.hazards` has them: each with its limit [°C, s, min, mol/L, %]."""
    import pandas

    ends = {"high": " in 1 bath of 10", "low": " in 1 bath of 10", "middle": " in half of the baths", "never": " baths"}
    plain = {"over_public": "above the limit where you are", "cover": "too shallow to cover the board",
             "volume": "above {limit}", "acid_met": "above {limit} of acid when peroxide is poured"}
    return pandas.DataFrame.from_records(
        [{"rule": rule.name, "verdict": rule.verdict,
          "falls when it is": plain.get(rule.quantity, f"{rule.side} {{limit}}{ends[rule.end]}").format(
              limit=rule.shown(rule.limit)),
          "source": f"{rule.source} ({rule.as_of})"} for rule in rules()], index="rule")


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
