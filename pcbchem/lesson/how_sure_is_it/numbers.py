"""How sure page 04's result is: times, ratios and apparent orders, computed once and kept."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np

from ...bench.plan.dilution import (
    Dilution,
    dilution,
    offcuts,
    over,
    times_weaker,
    times_without,
)
from ...bench.plan.dilution import ratio as ratio_without
from ...bench.plan.outlook import etched
from ...common.band import QUANTILES, Band
from ...common.limits import collecting_warnings
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.plausible import FACTS, WEAK_LAYER
from ..workshop import ROOMY, USUAL, bath

WATER = 2.0
"""Parts of water that the whole page is about [-]: both reagents are half as strong."""


@dataclasses.dataclass(frozen=True)
class Case:
    """A bath with and without water: bottles of `PAIRS`, bath over the copper [m³/m²], movement."""

    bottles: str
    agitation: str
    room: float = USUAL


STILL, ROCKED, SHAKEN = (Case("mild", movement) for movement in ("still", "rocked", "shaken"))
ROOMY_WEAK, STRONG = Case("weak", "rocked", ROOMY), Case("strong", "still")


@dataclasses.dataclass(frozen=True)
class Order:
    """An apparent order: both ends of its band and the middle [-]."""

    low: float
    middle: float
    high: float


# The warnings collected below are for those who write Python: a page says its doubts in words.


@cache
def course(case: Case) -> Dilution:
    """Return what the page's water does to a bath: without it first, then with it."""
    with collecting_warnings():
        return dilution(bath(case.bottles, case.room, agitation=case.agitation), [0.0, WATER])


def weaker(case: Case) -> float:
    """Return how many times weaker the page's water makes a bath [-]."""
    return float(course(case).weaker[1])


def ratio_of(case: Case) -> tuple[float, float, float]:
    """Return time with water over time without [-]: low, middle and high."""
    ratio = course(case).ratio
    return float(ratio.low[1]), float(ratio.middle[1]), float(ratio.high[1])


def bands_alone(case: Case) -> tuple[float, float]:
    """Return the smallest and the largest ratio that the two bands of times would allow [-]."""
    times = course(case).times
    return float(times.low[1] / times.high[0]), float(times.high[1] / times.low[0])


@cache
def by_chance(case: Case) -> tuple[float, float]:
    """Return both ends of the ratio if the two times had nothing to do with each other [-].

    Each bath without water is paired with every bath with it: nothing is drawn, so nothing varies.
    """
    without_water, with_water = course(case).times.values
    ratios = over(with_water[:, None], without_water[None, :])
    # a bath that never clears is infinitely slow: no way between two of them
    low, _, high = np.quantile(ratios, QUANTILES, method="nearest")
    return float(low), float(high)


def slow_twice(case: Case) -> tuple[int, int]:
    """Return how many baths are among the slower half without water, and of these with it [-]."""
    without_water, with_water = course(case).times.values
    is_slow = without_water >= np.median(without_water)
    is_slow_again = is_slow & (with_water >= np.median(with_water))
    return int(is_slow.sum()), int(is_slow_again.sum())


def order(ratio: float, times: float) -> float:
    """Return the apparent order of a pair [-]: the power of the strength that gives its ratio.

    Parameters
    ----------
    ratio : float
        Time in the weaker bath over time in the stronger [-].
    times : float
        How many times weaker it is [-], above 1.

    Examples
    --------
    >>> print(f"{order(8, 2):.0f}")
    3
    """
    return float(np.log(ratio) / np.log(times))


def order_of(case: Case) -> Order:
    """Return the apparent order of a bath with and without the page's water."""
    low, middle, high = (order(ratio, weaker(case)) for ratio in ratio_of(case))
    return Order(low, middle, high)


def layers() -> tuple[float, float, float, float]:
    """Return how many times weaker the weak layer's bath was, and how many times slower [-].

    Returns
    -------
    peroxide, acid : float
        Strength over strength [-].
    least, most : float
        Rate over rate, from the ends of what was read [-].
    """
    strong = next(fact for fact in FACTS if fact.name == "strong layer")
    peroxide, acid = strong.H2O2 / WEAK_LAYER.H2O2, strong.HCl / WEAK_LAYER.HCl
    least, most = strong.seen[0] / WEAK_LAYER.seen[1], strong.seen[1] / WEAK_LAYER.seen[0]
    return peroxide, acid, least, most


def measured_order() -> Order:
    """Return the apparent order of the two measured layers.

    Peroxide and acid were not weaker by the same: the band counts the one and the other.
    """
    peroxide, acid, least, most = layers()
    weaker_most, weaker_least = max(peroxide, acid), min(peroxide, acid)
    middle = order(np.sqrt(least * most), np.sqrt(peroxide * acid))
    return Order(order(least, weaker_most), middle, order(most, weaker_least))


@cache
def usual_time(case: Case) -> float:
    """Return the time to clear without water of one bath, no number of the model varied [s]."""
    inputs = bath(case.bottles, case.room, agitation=case.agitation)
    strengths = {"acid": inputs.acid.middle, "peroxide": inputs.peroxide.middle}
    with collecting_warnings():
        outcome = etched(inputs, parameters=RateParameters(), strengths=strengths)
    return float(outcome.run.time_to_clear)


@cache
def without(case: Case) -> dict[str, Band]:
    """Return times to clear [s] without water, all on and without each effect."""
    with collecting_warnings():
        return times_without(bath(case.bottles, case.room, agitation=case.agitation))


@cache
def two_offcuts(case: Case) -> tuple[float, Band]:
    """Return how many times weaker the second offcut's bath is, and the ratio to expect [-]."""
    inputs = bath(case.bottles, case.room, agitation=case.agitation)
    times = times_weaker(inputs, WATER)
    with collecting_warnings():
        return times, offcuts(inputs, times)


@cache
def two_without_bubbles(case: Case) -> Band:
    """Return the ratio that the model gives of two baths in which gas stirs nothing [-]."""
    inputs = bath(case.bottles, case.room, agitation=case.agitation)
    with collecting_warnings():
        return ratio_without(inputs, WATER, ("gas stirring",))
