"""Tables as a page shows them, how far to trust the model, and a line that counts while a search runs."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from ..bench.hazards.verdicts import rules
from ..bench.plan.planning import Plan
from ..common import tables
from ..common.number_words import clock, degrees, span
from ..common.units import minute

if TYPE_CHECKING:
    import pandas

EDGE = 0.05  # so near to an end of what was seen, a prediction agrees at the edge
STATUSES = {
    "published": "measured and published",
    "from memory": "published, but quoted from memory",
    "derived": "worked out from published values",
    "fitted": "chosen so that the model meets an observation",
    "assumed": "a reasoned guess",
}


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
        {
            name: {
                "verdict": plan.verdict,
                "clear in": span(plan.bands["time_to_clear"]),
                "while etching": degrees(plan.bands["etching_peak"]),
                "in the hour after": degrees(plan.bands["standing_peak"]),
            }
            for name, plan in plans.items()
        },
        orient="index",
    )


def verdict_rules() -> pandas.DataFrame:
    """The rules of the verdict as `pcbchem.bench.hazards` has them: each with its limit [°C, s, min, mol/L, %]."""
    import pandas

    ends = {
        "high": " in 1 bath of 10",
        "low": " in 1 bath of 10",
        "middle": " in half of the baths",
        "never": " baths",
    }
    plain = {
        "over_public": "above the limit where you are",
        "cover": "too shallow to cover the board",
        "volume": "above {limit}",
        "acid_met": "above {limit} of acid when peroxide is poured",
    }
    return pandas.DataFrame.from_records(
        [
            {
                "rule": rule.name,
                "verdict": rule.verdict,
                "falls when it is": plain.get(
                    rule.quantity, f"{rule.side} {{limit}}{ends[rule.end]}"
                ).format(limit=rule.shown(rule.limit)),
                "source": f"{rule.source} ({rule.as_of})",
            }
            for rule in rules()
        ],
        index="rule",
    )


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
        written = [
            clock(v) if unit == "s" else f"{v:#.3g} {unit}".strip() for v in (low, middle, high)
        ]
        rows.append(
            {
                "fact": row["fact"],
                "predicted": f"{written[1]} (from {written[0]} to {written[2]})",
                "seen": row["practice"].replace("-", "–"),
                "how it came out": miss(low, middle, high, *seen(row["practice"], row["unit"])),
                "source of what was seen": tables.source(row["source"]),
            }
        )
    return pandas.DataFrame.from_records(rows, index="fact")


def statuses() -> pandas.DataFrame:
    """How many parameters of the rate model are known how well, and which [-], counted in their table."""
    import pandas

    rows = tables.read("parameters")
    count = Counter(row["status"] for row in rows)
    return pandas.DataFrame.from_records(
        [
            {
                "status": status,
                "which means": STATUSES[status],
                "how many": count[status],
                "which": ", ".join(
                    r["name"].replace("_", " ") for r in rows if r["status"] == status
                ),
            }
            for status in sorted(count, key=list(STATUSES).index)
        ],
        index="status",
    )
