"""Ratios and apparent orders of the page are the bench's, and an order is a power (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.how_sure_is_it import numbers
from pcbchem.lesson.how_sure_is_it.numbers import ROCKED, ROOMY_WEAK, SHAKEN, STILL, STRONG

CASES = {
    "still": STILL,
    "rocked": ROCKED,
    "shaken": SHAKEN,
    "roomy": ROOMY_WEAK,
    "strong": STRONG,
}


@pytest.mark.parametrize("name", CASES)
def test_law_ratio_and_order_are_the_bench_s(bench, name):
    ratio = bench[name].ratio
    expected = [float(end[1]) for end in (ratio.low, ratio.middle, ratio.high)]
    assert numbers.ratio_of(CASES[name]) == pytest.approx(expected)
    assert numbers.weaker(CASES[name]) == 2
    order = numbers.order_of(CASES[name])
    assert [2**order.low, 2**order.middle, 2**order.high] == pytest.approx(expected)


@pytest.mark.parametrize("name", CASES)
def test_law_the_bands_alone_allow_more_than_any_pair(bench, name):
    times = bench[name].times
    ends = [times.low[1] / times.high[0], times.high[1] / times.low[0]]
    assert numbers.bands_alone(CASES[name]) == pytest.approx(ends)
    low, _, high = numbers.ratio_of(CASES[name])
    assert ends[0] < low < high < ends[1]


@pytest.mark.parametrize("name", ["still", "rocked", "shaken"])
def test_law_chance_alone_is_less_wide_than_the_bands(name):
    """Two extremes seldom meet; the tie of the two times makes the ratio narrower still."""
    case = CASES[name]
    (least, most), (low, high) = numbers.bands_alone(case), numbers.by_chance(case)
    own_low, _, own_high = numbers.ratio_of(case)
    assert least < low < own_low < own_high < high < most


def test_law_two_times_are_tied_most_where_it_is_shaken(bench):
    """What notes and replies say of the trays, by another measure than they print."""
    tied = {}
    for name in ("still", "rocked", "shaken"):
        times = np.log(bench[name].times.values)
        clears = np.isfinite(times).all(axis=0)
        tied[name] = np.corrcoef(times[:, clears])[0, 1]
    assert tied["shaken"] > 1.2 * tied["still"] > 1.2 * tied["rocked"] > 0


def test_law_the_usual_bath_lies_in_its_band(bench):
    """By hand it would take 5 min; the package is a little quicker, one bath or 200."""
    times = bench["still"].times
    usual = numbers.usual_time(STILL)
    assert times.low[0] < times.middle[0] < usual < times.high[0]
    assert usual < 4.80 / 0.0159


@pytest.mark.parametrize("name", CASES)
def test_law_slow_baths_stay_slow_more_often_than_by_chance(bench, name):
    """Counted a second time, by ranks."""
    ranks = np.argsort(np.argsort(bench[name].times.values, axis=-1), axis=-1)
    slow, again = numbers.slow_twice(CASES[name])
    assert slow == 100
    assert again == pytest.approx(np.sum(np.all(ranks >= 100, axis=0)), abs=1)
    assert again > 1.2 * slow / 2


def test_law_the_order_of_one_mixture_depends_on_the_tray():
    still, rocked, shaken = (numbers.order_of(case) for case in (STILL, ROCKED, SHAKEN))
    assert still.middle > rocked.high * 0.9 > rocked.middle > shaken.high
    assert still.low > shaken.high, "the bands of the two ends do not even meet"


def test_as_printed_the_measured_pair():
    """3.5 to 4.0 and 0.35 to 0.40 µm/min; 9.6 and 8.0 times weaker."""
    peroxide, acid, least, most = numbers.layers()
    assert (peroxide, acid) == pytest.approx((9.6, 8.0), abs=0.05)
    assert (least, most) == pytest.approx((3.5 / 0.40, 4.0 / 0.35))
    order = numbers.measured_order()
    assert order.low < 1 < order.middle < order.high < 1.2


@pytest.mark.parametrize("power", [0.5, 1.0, 2.7])
def test_law_an_order_is_a_power(power):
    assert numbers.order(3.0**power, 3.0) == pytest.approx(power)
