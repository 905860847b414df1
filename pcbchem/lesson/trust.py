"""How far to trust a page: rules of the verdict, predictions beside what was seen, guesses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

import numpy as np

from ..bench.hazards.verdicts import Rule, rules
from ..bench.plan.planning import Plan
from ..common import tables
from ..common.arrays import FloatArray
from ..common.number_words import clock, degrees, span
from ..reaction.bath.bath import etch
from ..reaction.bath.parameters import RateParameters
from ..reaction.bath.reported import reports

Rows = dict[str, dict[str, Any]]
"""A table: of each row its name, and its cells by the names of the columns."""
EDGE = 0.05
"""So near to an end of what was seen, as a share of it [-], a prediction agrees at the edge."""
STATUSES = {
    "published": "measured and published",
    "from memory": "published, but quoted from memory",
    "derived": "worked out from published values",
    "fitted": "chosen so that the model meets an observation",
    "assumed": "a reasoned guess",
}
"""How a parameter of the rate model is known, the best first: the table is in this order."""
OF_THE_BATHS = {
    "high": " in 1 bath of 10",
    "low": " in 1 bath of 10",
    "middle": " in half of the baths",
    "upper quarter": " in 1 bath of 4",
    "never": " baths",
}
"""How many baths an end of a band stands for."""
PLAIN = {
    "cover": "too shallow to cover the board",
    "volume": "above {limit}",
    "acid_met": "above {limit} of acid, when peroxide of more than 6 % is poured into it",
    "strong_acid_met": "acid of {limit} and more, when peroxide of more than 4 % is poured into it",
    "peroxide_met": "above {limit} of peroxide, when acid of more than 12 % is poured into it",
    "peroxide_met_by_strong": "above {limit} of peroxide, when acid of 25 % and more is poured "
    "into it",
    "used_peroxide": "above {limit} of peroxide in a used bath",
    "acid_bottle": "acid of {limit} and more in the bottle",
    "peroxide_bottle": "peroxide above {limit} in the bottle",
    "bottle_temperature": "bottles above {limit}",
    "second_time": "a second portion before {limit}",
    "second_bath_temperature": "a second portion into a bath above {limit}",
    "bubbled": "air bubbled through the bath",
    "sprayed": "a bath that is sprayed",
}
"""Rules on these quantities are said in words of their own."""


def beside(plans: Mapping[str, Plan]) -> Rows:
    """List plans under each other, by the name that the page gives them.

    Parameters
    ----------
    plans : dict
        Names and plans.

    Returns
    -------
    dict
        By name: verdict, the band of times and how warm, while etching and in the day after
        [s or min, °C]; no volume.
    """
    rows: Rows = {}
    for name, plan in plans.items():
        rows[name] = {
            "verdict": plan.verdict,
            "clear in": span(plan.bands["time_to_clear"]),
            "while etching": degrees(plan.bands["etching_peak"]),
            "in the day after": degrees(plan.bands["standing_peak"]),
        }
    return rows


def verdict_rules() -> Rows:
    """List the rules of the verdict, each with its limit [°C, s, min, mol/L, %] and its source."""
    rows: Rows = {}
    for rule in rules():
        rows[rule.name] = {
            "verdict": rule.verdict,
            "falls when it is": rule_words(rule),
            "source": f"{rule.source} ({rule.as_of})",
        }
    return rows


def rule_words(rule: Rule) -> str:
    """Say when a rule's verdict falls."""
    limit = rule.shown(rule.limit)
    # said of the bath, not of so many baths of 10
    if rule.quantity in PLAIN:
        return PLAIN[rule.quantity].format(limit=limit)
    return f"{rule.side} {limit}{OF_THE_BATHS[rule.end]}"


def miss(low: float, middle: float, high: float, seen_low: float, seen_high: float) -> str:
    """Say how a prediction came out against what was seen, all in one unit [s, µm/min or -].

    Examples
    --------
    >>> print(miss(3.6, 7.3, 15, 2, 2))
    a miss: 1.8 to 7.5 times what was seen
    """
    if seen_low <= middle <= seen_high:
        # agreeing by a hair is no agreement to be proud of
        edge = middle < seen_low * (1 + EDGE) or middle > seen_high * (1 - EDGE)
        return "agrees, at the edge" if edge else "the middle agrees"
    if low > seen_high:
        return f"a miss: {low / seen_high:.1f} to {high / seen_high:.1f} times what was seen"
    if high < seen_low:
        return f"a miss: {low / seen_low:.2f} to {high / seen_low:.2f} of what was seen"
    # the band covers what was seen, its middle lies beside it
    nearest = seen_high if middle > seen_high else seen_low
    times = f"{middle / nearest:.2f} times the nearest value seen"
    return f"the middle misses: {times}; low to high covers it"


def leave_one_out() -> Rows:
    """List each fact as a model predicts it that was not told it, and how that came out.

    Beside it stands what the first edition of the model predicted, and whether that was nearer.

    Returns
    -------
    dict
        By fact: predictions, the middle and both ends [s, min or µm/min], and words.
    """
    first_edition = {row["fact"]: row for row in tables.read("leave_one_out_first")}
    rows: Rows = {}
    for row in tables.read("leave_one_out"):
        # "-" stands in the table for a ratio: no cell of it is blank
        unit = row["unit"].strip("-")
        low, middle, high = (float(row[name]) for name in ("low", "middle", "high"))
        seen = float(row["seen_low"]), float(row["seen_high"])
        before = float(first_edition[row["fact"]]["middle"])
        rows[row["fact"]] = {
            "predicted": f"{value_words(middle, unit)} ({ends_words(low, high, unit)})",
            "seen": row["practice"].replace("-", "–"),  # a range, as the page sets it
            "how it came out": miss(low, middle, high, *seen),
            "first edition": f"{value_words(before, unit)}: {nearer(middle, before, *seen)}",
            "source of what was seen": tables.source(row["source"]),
        }
    return rows


def reported() -> Rows:
    """List what people report of baths that chose no number of the model, beside what it says.

    Returns
    -------
    dict
        By report: predictions, the middle and both ends [s or min], and words.
    """
    rows: Rows = {}
    for report in reports():
        band = report.band()
        low, middle, high = (float(end) for end in (band.low, band.middle, band.high))
        rows[report.name] = {
            "predicted": f"{value_words(middle, 's')} ({ends_words(low, high, 's')})",
            "told": report.words,
            "we read": report.reading,
            "how it came out": miss(low, middle, high, report.low, report.high),
            "source": f"{tables.source(report.source)}; assumed: {report.assumption}",
        }
    return rows


def times_with(plan: Plan, **numbers: Any) -> FloatArray:
    """Return how long each plausible bath of a plan would take with other numbers in the model.

    Parameters
    ----------
    plan : Plan
        With all of its peroxide in one portion, and fresh.
    **numbers
        Parameters of the model by name, such as `size_exponent` [as in `RateParameters`].

    Returns
    -------
    array
        One time for each plausible bath [s].
    """
    parameters = RateParameters.plausible(plan.inputs.draws).replace(**numbers)
    inputs = plan.inputs
    # as a plan reads the etch: not knowing how fast peroxide decays makes no bath look cooler
    run = etch(plan.mixture, inputs.board, inputs.tray, parameters.for_heat_after())
    return np.asarray(run.time_to_clear)


def nearer(middle: float, before: float, seen_low: float, seen_high: float) -> str:
    """Say whether a middle lies nearer to what was seen than the one before, all in one unit [any].

    Examples
    --------
    >>> print(nearer(6.8, 7.3, 2, 2), "|", nearer(4.3, 4.1, 3.5, 4.0))
    better now | worse now
    """
    now, then = (_distance(value, seen_low, seen_high) for value in (middle, before))
    if now < then:
        return "better now"
    if now > then:
        return "worse now"
    return "inside both times"


def _distance(value: float, seen_low: float, seen_high: float) -> float:
    """Return how far a value lies outside what was seen, as a logarithm [-]; 0 inside."""
    outside = max(seen_low / value, value / seen_high, 1.0)
    return float(np.log(outside))


def ends_words(low: float, high: float, unit: str) -> str:
    """Say both ends of a prediction [unit]."""
    return f"from {value_words(low, unit)} to {value_words(high, unit)}"


def value_words(value: float, unit: str) -> str:
    """Say a time [s] in words people use, and any other value [unit] to three figures."""
    if unit == "s":
        return clock(value)
    return f"{value:#.3g} {unit}".strip()  # with #, 2.00 keeps its zeros: three figures


def statuses() -> Rows:
    """Count how many parameters of the rate model are known how well, and which [-]."""
    parameters = tables.read("parameters")
    count = Counter(parameter["status"] for parameter in parameters)
    rows: Rows = {}
    # a status that is not in `STATUSES` is an error: the page has no words for it
    for status in sorted(count, key=list(STATUSES).index):
        names = [
            parameter["name"].replace("_", " ")
            for parameter in parameters
            if parameter["status"] == status
        ]
        rows[status] = {
            "which means": STATUSES[status],
            "how many": count[status],
            "which": ", ".join(names),
        }
    return rows
