"""What offcuts say about the draws: weights, slips, new draws, and strengths that stay with their draws."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import BOARD, PEROXIDE, offcut, width
from scipy import stats

from pcbchem import Bottle, RateParameters
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut import calibrating as calibration
from pcbchem.bench.offcut import likelihood as seen
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.inputs import Kept
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.arrays import as_draws
from pcbchem.reaction.bath.parameters import shipped_draws

TWO = [offcut(0, 200.0), offcut(1, 460.0)]


@pytest.fixture(scope="module")
def two():
    return calibrate(Log.of(TWO))


def test_validation_weights_are_the_likelihoods_of_a_statistics_library(two):
    # scipy.stats: log-normal density of a time, survival function of a censored one; one row in twenty may be a slip,
    # by which it never clears, or the logarithm of the time is uniform from 1 s to 4 h, each in half of all slips
    rows_ = [*TWO, offcut(2, 900.0, clear=False)]
    held = {
        names: np.asarray(bottle.strengths(400, k))
        for k, (names, bottle) in enumerate(seen.bottles(rows_).items())
    }
    times = seen.expected(rows_, shipped_draws(), held)
    spread, whole = calibration.SPREAD, np.log(14_400)
    each = [
        0.95 * t * stats.lognorm.pdf(t, s=spread, scale=times[k]) + 0.025 / whole
        for k, t in enumerate((200, 460))
    ]
    each.append(
        0.95 * stats.lognorm.sf(900, s=spread, scale=times[2])
        + 0.025 * (1 + np.log(14_400 / 900) / whole)
    )
    for count, found in ((2, two), (3, calibrate(Log.of(rows_)))):
        product = np.prod(each[:count], axis=0)
        assert found.made == 0
        assert found.weights == pytest.approx(product / product.sum(), rel=1e-9, abs=1e-15)
        assert found.survived == pytest.approx(product.sum() ** 2 / (product**2).sum(), rel=1e-9)
        assert found.effective == pytest.approx(found.survived, rel=1e-9)


def test_law_the_same_seen_twice_counts_as_once_with_the_spread_over_root_two(monkeypatch):
    monkeypatch.setattr(seen, "SLIP", 0.0)
    twice = calibrate(Log.of([offcut(0, 210.0)] * 2), spread=0.2)
    once = calibrate(Log.of([offcut(0, 210.0)]), spread=0.2 / np.sqrt(2))
    assert twice.weights == pytest.approx(once.weights, rel=1e-9, abs=1e-15)


def test_law_no_offcut_leaves_the_shipped_draws_as_they_are():
    nothing = calibrate(Log.of([]))
    assert nothing.weights == pytest.approx(1 / 400) and nothing.effective == pytest.approx(400)
    every = RateParameters.plausible(400, calibration=nothing)
    assert np.array_equal(every.rate_factor, RateParameters.plausible(400).rate_factor)
    assert len(nothing.to_frame()) == 0 and nothing.flagged == ()


def test_law_an_offcut_narrows_its_own_band_and_moves_it_to_what_was_seen(two):
    low, middle, high = two.after.T
    assert np.all(np.log(high / low) < 0.8 * np.log(two.before[:, 2] / two.before[:, 0]))
    assert np.all(
        np.abs(np.log(middle / [200, 460])) < np.abs(np.log(two.before[:, 1] / [200, 460]))
    )
    frame = two.to_frame()
    assert list(frame.index) == [2, 3] and list(frame["seen (s)"]) == [200, 460]
    assert frame["after, middle (s)"].to_numpy() == pytest.approx(middle)


def test_law_the_order_of_rows_does_not_matter(two):
    turned = calibrate(Log.of(TWO[::-1]))
    assert turned.weights == pytest.approx(two.weights, rel=1e-9)


def test_law_a_slip_is_flagged_and_hardly_moves_the_band():
    good = [offcut(0, 230.0), offcut(0, 240.0), offcut(1, 500.0), offcut(2, 790.0)]
    without, with_it = (
        calibrate(Log.of(good)),
        calibrate(Log.of([*good, offcut(1, 2900.0, note="wrong bottle?")])),
    )
    assert without.flagged == () and with_it.flagged == (6,)
    assert with_it.slips[4] > 0.99 and with_it.slips[:4].max() < 0.2
    assert with_it.after[:4, 1] == pytest.approx(without.after[:, 1], rel=0.02)
    assert "Line 6 does not fit and hardly counts: seen 48 min, expected 7." in with_it.words
    assert (
        "scatter" not in with_it.words
        and "stronger" not in with_it.words
        and "not fit" not in without.words
    )
    assert without.words.startswith(
        "4 offcuts; a time seen is taken to be good to 15 %. Of 400 plausible draws "
    )


def test_law_one_given_up_after_four_hours_does_not_overrule_the_others(two):
    found = calibrate(Log.of([*TWO, offcut(0, 14_400.0, clear=False)]))
    assert found.flagged == (4,) and found.made == 0
    assert found.after[:2] == pytest.approx(two.after, rel=0.02)


def test_law_what_was_measured_counts_as_its_normal_density(two):
    # by hand: the weights without it times the density of the strength by the measurement
    measured = {("H2O2", "peroxide"): Strength("H2O2", 0.106, 0.002, "oxygen over water")}
    found = calibrate(Log.of(TWO), measured=measured)
    product = two.weights * stats.norm.pdf(two.strengths["H2O2", "peroxide"], 0.106, 0.002)
    assert found.made == 0 and found.weights == pytest.approx(
        product / product.sum(), rel=1e-9, abs=1e-15
    )
    assert (
        "Bottle 'peroxide' of H2O2 was measured: oxygen over water: 10.6 ± 0.2 % by weight."
        in found.words
    )


def test_law_bad_rows_of_the_log_are_said(two):
    log = dataclasses.replace(
        Log.of(TWO), bad=((4, "clear_after_s is blank"), (9, "foil_g_per_m2 = -1 is impossible"))
    )
    found = calibrate(log)
    assert (
        "2 rows of the log cannot be used and do not count: line 4: clear_after_s is blank; "
        in found.words
    )
    assert np.array_equal(found.weights, two.weights) and "cannot be used" not in two.words


def test_law_a_row_whose_bath_cannot_be_computed_is_left_out_and_named(two, monkeypatch):
    def picky(offcuts, *rest):
        if any(offcut.note == "film" for offcut in offcuts):
            raise ValueError("depth of the bath = 1e-05 is impossible")
        return seen.expected(offcuts, *rest)

    monkeypatch.setattr(calibration, "expected", picky)
    found = calibrate(Log.of([offcut(0, 99.0, acid_bottle="A", note="film"), *TWO]))
    assert found.lines == (3, 4) and found.bad == ((2, "depth of the bath = 1e-05 is impossible"),)
    assert (
        "1 row of the log cannot be used and does not count: line 2: depth of the bath"
        in found.words
    )
    assert set(found.strengths) == set(two.strengths)
    assert found.after == pytest.approx(two.after, rel=0.05)


def test_law_a_worse_hand_than_stated_is_noticed():
    wild = calibrate(
        Log.of([offcut(0, time) for time in (140.0, 330.0, 210.0, 150.0, 310.0, 220.0)])
    )
    assert "more than the 15 % that was taken: calibrate with spread=0.3" in wild.words
    calm = calibrate(
        Log.of([offcut(0, time) for time in (200.0, 230.0, 210.0, 240.0, 215.0, 220.0)])
    )
    assert "scatter" not in calm.words


def test_law_the_words_say_that_it_is_about_time_only(two):
    assert two.words.endswith(ABOUT_TIME) and str(two) == two.words and len(repr(two)) < 80


def test_law_draws_of_equal_weight_count_once_where_they_are_equal(two):
    twice = {name: np.repeat(column[:200], 2) for name, column in two.draws.items()}
    held = {names: np.repeat(column[:200], 2) for names, column in two.strengths.items()}
    even = dataclasses.replace(two, draws=twice, strengths=held, weights=np.full(400, 1 / 400))
    assert even.effective == pytest.approx(200)
    held["HCl", "acid"] = two.strengths["HCl", "acid"]  # equal in all but one number is not equal
    assert dataclasses.replace(even, strengths=held).effective == pytest.approx(400)


def test_law_nobody_can_change_the_shipped_draws():
    found = calibrate(Log.of([]))
    with pytest.raises(ValueError, match="read-only"):
        found.draws["rate_factor"] *= 2
    found.draws["rate_factor"] = np.ones(400)
    assert RateParameters.plausible(400).rate_factor.std() > 0.1


def test_law_equal_offcuts_are_etched_once(monkeypatch):
    calls = []
    real = seen.etch
    monkeypatch.setattr(
        seen, "etch", lambda bath, *rest: (calls.append(bath.HCl.shape), real(bath, *rest))[1]
    )
    rows_ = [offcut(0, 215.0), offcut(1, 470.0), offcut(0, 222.0), offcut(0, 218.0, note="again")]
    found = calibrate(Log.of(rows_))
    assert calls == [(2, 400)] and found.after.shape == (4, 3)
    assert np.array_equal(found.before[0], found.before[3]) and not np.array_equal(
        found.before[0], found.before[1]
    )


def test_law_a_row_is_flagged_from_one_half_on(two):
    assert dataclasses.replace(two, slips=np.array([0.49, 0.51])).flagged == (3,)


def test_law_where_no_offcut_fits_the_bottles_are_doubted():
    found = calibrate(Log.of([offcut(0, 5.0), offcut(0, 9000.0)]))
    assert found.flagged == (2, 3) and "Measure it before you mix again" in found.words
    assert found.weights == pytest.approx(1 / 400, rel=0.5)  # nothing is learnt from what cannot be


def test_law_not_clear_yet_moves_the_band_up_only():
    late = calibrate(Log.of([offcut(0, 240.0, clear=False)]))
    assert np.all(late.after[0] > late.before[0])
    soon = calibrate(Log.of([offcut(0, 20.0, clear=False)]))
    assert soon.weights == pytest.approx(1 / 400, rel=1e-6)


def test_law_strengths_stay_with_their_draws(two):
    # an offcut run again from what is left gives the band the calibration says, and torn apart a wider one
    given = TWO[0].given
    doubt = two.doubt(given, "acid", "peroxide")
    together = etched(given, **doubt).run.band("time_to_clear")
    assert [together.low, together.middle, together.high] == pytest.approx(two.after[0], rel=0.03)
    turned = {
        name: as_draws(np.roll(np.asarray(values), 67)) for name, values in doubt["drawn"].items()
    }
    torn = etched(given, parameters=doubt["parameters"], drawn=turned).run.band("time_to_clear")
    assert width(torn) > 1.1 * width(together)


def test_law_another_bottle_is_as_doubtful_as_its_label(two):
    kept, other = (
        two.doubt(BOARD, "acid", "peroxide")["drawn"],
        two.doubt(BOARD, "acid", None)["drawn"],
    )
    assert np.array_equal(kept["acid"], other["acid"])
    assert np.array_equal(other["peroxide"], PEROXIDE.strengths(200, BOARD.seed + 1))


def test_law_a_calibrated_board_is_narrower(two):
    before = etched(BOARD).run.band("time_to_clear")
    after = etched(BOARD, **two.doubt(BOARD, "acid", "peroxide")).run.band("time_to_clear")
    assert width(after) < 0.8 * width(before)


def test_law_plausible_takes_each_draw_as_often_as_its_weight_says(two):
    draws = RateParameters.plausible(200, calibration=two)
    assert draws.rate_factor.shape == (200,)
    often = [
        int(np.sum(np.asarray(draws.rate_factor) == value)) for value in two.draws["rate_factor"]
    ]
    assert np.abs(np.array(often) - 200 * two.weights).max() <= 1 + 1e-9


@pytest.mark.parametrize(
    "call, said",
    [
        (lambda found: calibrate("offcuts.csv"), r"log = 'offcuts.csv' is not a log"),
        (lambda found: calibrate(Log.of(TWO), spread=0.0), r"spread = 0 is impossible.* 0.02 to 1"),
        (
            lambda found: calibrate(Log.of(TWO), spread=np.nan),
            r"spread = nan is impossible.* 0.02 to 1",
        ),
        (
            lambda found: calibrate(
                dataclasses.replace(Log.of(TWO), offcuts=(offcut(0), offcut(1, 3.0)))
            ),
            r"line 2: time = None is impossible",
        ),
        (
            lambda found: found.doubt(BOARD.replace(kept=Kept(0.5, 100, 1000))),
            r"kept = .* is impossible here",
        ),
        (
            lambda found: found.doubt(BOARD, "Acid"),
            r"bottle 'Acid' of HCl is not in the log: choose from acid, or give",
        ),
        (
            lambda found: calibrate(
                Log.of(TWO), measured={("HCl", "other"): Strength("HCl", 0.1, 0.001, "weighing")}
            ),
            r"measured: \('HCl', 'other'\): .* it must be a Strength by one of the keys \('HCl', 'acid'\)",
        ),
        (
            lambda found: calibrate(
                Log.of(TWO), measured={("HCl", "acid"): Strength("HCl", 0.2, 0.001, "weighing")}
            ),
            r"measured: 'acid': middle = 0.2 is impossible: .* 0.087 to 0.113 kg/kg",
        ),
        (
            lambda found: calibrate(
                Log.of(TWO), measured={("HCl", "acid"): Strength("HCl", 0.1, 0.05, "weighing")}
            ),
            r"measured: 'acid': .*cannot tell",
        ),
        (
            lambda found: found.doubt(BOARD.replace(acid=Bottle("HCl", 0.2, 0.22)), "acid"),
            r"bottle 'acid' = 20 to 22 % of HCl is impossible: it must be 9 to 11 % as in the log",
        ),
        (
            lambda found: RateParameters.plausible(200, calibration="mine"),
            r"calibration = 'mine' is not one",
        ),
        (
            lambda found: RateParameters.plausible(401, calibration=found),
            r"draws = 401 is impossible.* 1 to 400",
        ),
    ],
)
def test_law_what_cannot_be_is_refused_by_name(two, call, said):
    with pytest.raises(ValueError, match=said):
        call(two)
