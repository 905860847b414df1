"""A band says what lies between its draws, and `between` makes draws of two ends."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases

from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import Band, between
from pcbchem.common.limits import InputError

# ---- bands


def test_ends_are_draws_that_eight_of_ten_lie_between() -> None:
    # Law: of 1 to 100 the 10th, 50th and 90th, whatever their order.
    values = np.random.default_rng(3).permutation(np.arange(1.0, 101.0))
    band = Band.of(values, draws=100)
    assert (band.low, band.middle, band.high) == (10, 50, 90)


def test_what_never_happens_is_counted_and_ends_the_band() -> None:
    # Law: a quantile is one of the draws, infinite or not, and no number in between.
    band = Band.of([1.0, 2.0, 3.0, INF], draws=4)
    assert band.never == 0.25
    assert band.middle == 2
    assert band.high == INF


def test_each_scenario_has_its_band() -> None:
    # Law.
    values = np.arange(12.0).reshape(2, 6)
    both = Band.of(values, draws=6)
    second = Band.of(values[1], draws=6)
    assert both.low.shape == (2,)
    assert (both.low[1], both.middle[1], both.high[1]) == (second.low, second.middle, second.high)


def test_without_draws_each_value_is_its_own_band() -> None:
    # Law.
    band = Band.of([1.0, INF], draws=None)
    assert np.array_equal(band.low, [1, INF]) and np.array_equal(band.high, [1, INF])
    assert np.array_equal(band.never, [0, 1])


def test_a_weight_counts_like_so_many_draws() -> None:
    # Law.
    weighted = Band.of([1.0, 2.0, INF], draws=3, weights=[5.0, 3.0, 2.0])
    repeated = Band.of([1.0] * 5 + [2.0] * 3 + [INF] * 2, draws=10)
    assert (weighted.low, weighted.middle) == (repeated.low, repeated.middle)
    assert weighted.never == pytest.approx(repeated.never)
    assert weighted.over(1.5) == pytest.approx(repeated.over(1.5))


def test_the_share_over_a_limit_does_not_count_the_limit() -> None:
    # Law.
    band = Band.of([[1.0, 2.0, 3.0, 4.0], [0.0, 0.0, 0.0, INF]], draws=4)
    assert np.array_equal(band.over(2.0), [0.5, 0.25])
    assert np.array_equal(band.over([3.0, -1.0]), [0.25, 1.0])


# ---- draws between two ends


def test_draws_are_uniform_between_their_ends() -> None:
    # Law.
    draws = between(0.09, 0.12, draws=400, seed=1)
    assert isinstance(draws, Draws) and draws.shape == (400,)
    assert 0.09 <= draws.min() < 0.0905 and 0.1195 < draws.max() <= 0.12
    assert np.asarray(draws).mean() == pytest.approx(0.105, abs=4 * 0.03 / np.sqrt(12 * 400))


def test_a_seed_repeats_its_draws_and_no_others() -> None:
    # Law.
    draws = between(0.09, 0.12, draws=400, seed=1)
    assert np.array_equal(draws, between(0.09, 0.12, draws=400, seed=1))
    assert not np.array_equal(draws, between(0.09, 0.12, draws=400, seed=2))
    with pytest.raises(TypeError):
        between(0.0, 1.0, draws=3)


def test_equal_ends_leave_no_doubt() -> None:
    # Law.
    assert np.all(between(0.45, 0.45, draws=9, seed=0) == 0.45)


def test_ends_of_scenarios_get_a_draw_axis() -> None:
    # Law: and every scenario has the same chance.
    draws = np.asarray(between(np.array([[0.1], [0.2]]), 0.3, draws=7, seed=0))
    assert draws.shape == (2, 7)
    assert (draws[0] - 0.1) / 0.2 == pytest.approx((draws[1] - 0.2) / 0.1)


REFUSED: list[Case] = [
    ("no draws", lambda: between(0.1, 0.2, draws=0, seed=1), ("draws", "0", "1 to 400")),
    ("too many draws", lambda: between(0.1, 0.2, draws=401, seed=1), ("draws", "401", "1 to 400")),
    ("half a draw", lambda: between(0.1, 0.2, draws=1.5, seed=1), ("draws", "1.5", "400")),
    ("true draws", lambda: between(0.1, 0.2, draws=True, seed=1), ("draws", "True", "400")),
    ("negative seed", lambda: between(0.1, 0.2, draws=2, seed=-1), ("seed", "-1", "from 0")),
    (
        "limits the wrong way round",
        lambda: between(0.2, 0.1, draws=2, seed=1),
        ("low = 0.2", "at most high = 0.1"),
    ),
    (
        "one pair the wrong way round",
        lambda: between([[0.1], [0.3]], 0.2, draws=2, seed=1),
        ("low = 0.3", "at most high = 0.2"),
    ),
    ("limit infinite", lambda: between(0.1, INF, draws=2, seed=1), ("high", "inf", "1e+300")),
    ("limit not a number", lambda: between(NAN, 1.0, draws=2, seed=1), ("low", "nan", "1e+300")),
    (
        "limit an array without room",
        lambda: between([0.1, 0.2], 0.3, draws=2, seed=1),
        ("low", "0.1", "length 1"),
    ),
    (
        "limit already in doubt",
        lambda: between(0.1, as_draws([0.2]), draws=2, seed=1),
        ("high", "0.2", "length 1"),
    ),
    ("values not numbers", lambda: Band.of([NAN, 1.0, NAN], 3), ("values = nan (2 times)",)),
    ("negative weight", lambda: Band.of([1.0, 2.0], 2, [1, -1]), ("weights", "-1", "0 to 1e+12")),
    ("no weight at all", lambda: Band.of([1.0, 2.0], 2, [0, 0]), ("weights", "sum 0", "above 0")),
    ("one weight", lambda: Band.of([1.0, 2.0], 2, [1]), ("weights", "shape (1,)", "must be (2,)")),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)
    with pytest.raises(InputError) as caught:
        call()
    assert caught.value.field == words[0].split()[0]
