"""What a calibration says, and the doubt that it leaves: strengths stay with their draws."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import BOARD, PEROXIDE, offcut, width

from pcbchem import Bottle
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.likelihood import expected_times
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.inputs import UsedBath
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.arrays import as_draws
from pcbchem.common.band import Band
from pcbchem.common.number_words import figures
from pcbchem.reaction.bath.parameters import shipped_draws

TWO = [offcut(0, 200.0), offcut(1, 460.0)]


@pytest.fixture(scope="module")
def two():
    return calibrate(Log.of(TWO))


def calibrated(*times, **more):
    """A bench that etched one bath several times [s]."""
    return calibrate(Log.of([offcut(0, time) for time in times]), **more)


# ---- numbers


def test_law_a_row_is_flagged_from_one_half_on(two):
    assert dataclasses.replace(two, slips=np.array([0.49, 0.51])).flagged == (3,)


def test_law_equal_draws_count_once(two):
    draws = {name: np.repeat(column[:200], 2) for name, column in two.draws.items()}
    strengths = {name: np.repeat(column[:200], 2) for name, column in two.strengths.items()}
    weights = np.full(400, 1 / 400)
    twice = dataclasses.replace(two, draws=draws, strengths=strengths, weights=weights)
    assert twice.effective_draws == pytest.approx(200)
    # equal in all but one number is not equal
    strengths = {**strengths, ("HCl", "acid"): two.strengths["HCl", "acid"]}
    assert dataclasses.replace(twice, strengths=strengths).effective_draws == pytest.approx(400)


def test_law_the_table_says_what_was_seen_and_expected(two):
    frame = two.to_frame()
    assert list(frame.index) == [2, 3] and list(frame["seen (s)"]) == [200, 460]
    assert frame["after, middle (s)"].to_numpy() == pytest.approx(two.times_after[:, 1])
    assert frame["before, high (s)"].to_numpy() == pytest.approx(two.times_before[:, 2])
    assert len(calibrate(Log.of([])).to_frame()) == 0


def test_law_parameters_take_each_draw_by_its_weight(two):
    column = np.asarray(two.parameters(200).rate_factor)
    assert column.shape == (200,)
    often = np.array([np.sum(column == value) for value in two.draws["rate_factor"]])
    assert np.abs(often - 200 * two.weights).max() <= 1 + 1e-9


def test_law_parameters_keep_their_sets_together(two):
    sets = {tuple(row) for row in np.array([*two.draws.values()]).T.tolist()}
    parameters = two.parameters(50)
    columns = [np.asarray(getattr(parameters, name)) for name in two.draws]
    assert {tuple(row) for row in np.array(columns).T.tolist()} <= sets


# ---- words


def test_law_the_words_say_what_it_rests_on(two):
    assert two.words.startswith(
        "2 offcuts; a time seen is taken to be good to 15 %. "
        f"Of 400 plausible draws they leave as many as {two.shipped_left:.0f}. "
    )
    assert str(two) == two.words and len(repr(two)) < 80


def test_law_the_words_say_that_it_is_about_time_only(two):
    assert two.words.endswith(ABOUT_TIME)


def test_law_the_words_say_that_draws_were_made(two):
    anew = dataclasses.replace(two, new_draws=400, shipped_left=7.2)
    count = f"{two.effective_draws:.0f}"
    assert f"as many as 7: too few, so {count} new ones were made around them. " in anew.words


def test_law_the_words_say_what_was_measured(two):
    strength = Strength("H2O2", 0.106, 0.002, "oxygen over water")
    measured = dataclasses.replace(two, measured={("H2O2", "peroxide"): strength})
    sentence = "Bottle 'peroxide' of H2O2 was measured: oxygen over water: 10.6 ± 0.2 % by weight."
    assert sentence in measured.words


def test_law_the_words_say_the_bad_rows(two):
    blank, foil = (4, "clear_after_s is blank"), (9, "foil_g_per_m2 = -1 is impossible")
    one, both = (dataclasses.replace(two, bad=bad).words for bad in ((blank,), (blank, foil)))
    assert "1 row of the log cannot be used and does not count: line 4: clear_after_s is" in one
    assert "2 rows of the log cannot be used and do not count: line 4: clear_after_s is" in both
    assert "; line 9: foil_g_per_m2 = -1 is impossible." in both
    assert "cannot be used" not in two.words


def test_law_the_words_say_which_row_does_not_fit():
    good = [offcut(0, 230.0), offcut(0, 240.0), offcut(1, 500.0), offcut(2, 790.0)]
    without = calibrate(Log.of(good)).words
    with_slip = calibrate(Log.of([*good, offcut(1, 2900.0)])).words
    assert "Line 6 does not fit and hardly counts: seen 48 min, expected 7." in with_slip
    assert "scatter" not in with_slip and "stronger" not in with_slip
    assert "not fit" not in without


def test_law_the_words_doubt_the_bottles_where_nothing_fits():
    words = calibrated(5.0, 9000.0).words
    assert "No offcut fits: " in words and "Measure it before you mix again" in words


def test_law_an_offcut_far_too_quick_is_warned_of():
    words = calibrated(20.0, 22.0).words
    assert "a bottle is stronger than the log says: do not mix it until it is measured" in words


def test_law_a_worse_hand_than_stated_is_noticed():
    wild = calibrated(140.0, 330.0, 210.0, 150.0, 310.0, 220.0)
    assert "more than the 15 % that was taken: calibrate with spread=0.3" in wild.words
    calm = calibrated(200.0, 230.0, 210.0, 240.0, 215.0, 220.0)
    assert "scatter" not in calm.words


def test_law_scatter_is_the_root_mean_square_about_the_middles(two):
    assert two.scatter is None  # two offcuts do not tell
    calibration = calibrated(200.0, 230.0, 210.0)
    off = np.log(np.array([200.0, 230.0, 210.0]) / calibration.times_after[:, 1])
    assert calibration.scatter == pytest.approx(np.sqrt((off**2).mean()))


def test_law_what_was_not_clear_has_no_time_that_scatters():
    calibration = calibrated(200.0, 230.0, 210.0)
    *others, last = calibration.offcuts
    offcuts = (*others, dataclasses.replace(last, clear=False))
    assert dataclasses.replace(calibration, offcuts=offcuts).scatter is None  # two do not tell


FAST = [offcut(0, 110.0), offcut(1, 240.0)]
SLOW = [offcut(0, 460.0), offcut(1, 1000.0)]
"""Twice as quick or slow as the middle of what is expected of them."""


@pytest.mark.parametrize("offcuts, times", [(SLOW, 2.0), (SLOW[:1], 2.0), (FAST, 0.5)])
def test_law_offcuts_all_far_on_one_side_are_told(offcuts, times):
    calibration = calibrate(Log.of(offcuts), few=0.0)
    assert calibration.times_the_middle == pytest.approx(times, rel=0.15)
    every = "Every offcut" if len(offcuts) > 1 else "The offcut"
    assert f"{every} took about {figures(calibration.times_the_middle)} times" in calibration.words
    assert "check the weight of the foil, and whose bottle it was" in calibration.words
    assert ("may be stronger" in calibration.words) == (offcuts is FAST)


def test_law_offcuts_on_two_sides_or_not_far_are_not(two):
    assert two.times_the_middle is None and "whose bottle" not in two.words
    # so slow that the mean of both is far, but not on one side
    apart = calibrate(Log.of([offcut(0, 1200.0), offcut(1, 420.0)]), few=0.0)
    assert apart.times_before[1, 1] > 420 and apart.times_the_middle is None


def test_law_not_clear_yet_is_slow_but_never_quick():
    late = dataclasses.replace(SLOW[0], clear=False)
    assert calibrate(Log.of([late]), few=0.0).times_the_middle == pytest.approx(2, rel=0.15)
    early = dataclasses.replace(FAST[0], time=10.0, clear=False)
    assert calibrate(Log.of([early])).times_the_middle is None
    assert calibrate(Log.of([early, late]), few=0.0).times_the_middle is not None


def test_law_a_step_widens_what_the_offcuts_say_of_a_board(two):
    # nothing is told of a board that is as far off as two trays without anything in common
    bands = []
    for transfer in (0.0, 0.15, 0.3):
        draws = two.for_board(transfer)
        times = expected_times([whole_board()], draws.columns, draws.strengths)[0]
        bands.append(width(Band.of(times, 400, draws.weights)))
    shipped = expected_times([whole_board()], shipped_draws(), two.shipped_strengths)[0]
    before = width(Band.of(shipped, 400))
    assert bands == sorted(bands) and bands[0] < 0.7 * before < bands[2] < 1.15 * before


def whole_board():
    """The board as if it were an offcut."""
    return dataclasses.replace(offcut(0), volume=150e-6, board=BOARD.board)


# ---- the doubt that is left


def test_law_strengths_stay_with_their_draws(two):
    # an offcut run again from what is left gives the band the calibration says, and torn apart
    # a wider one
    inputs = TWO[0].inputs
    of_offcuts = two.for_board(0.0)
    strengths = {
        "acid": two.strengths_of(inputs.acid, "acid", 200, 0, of_offcuts),
        "peroxide": two.strengths_of(inputs.peroxide, "peroxide", 200, 0, of_offcuts),
    }
    doubt = {
        "parameters": two.parameters(200),
        "strengths": {name: as_draws(values) for name, values in strengths.items()},
    }
    together = etched(inputs, **doubt).run.band("time_to_clear")
    band = [together.low, together.middle, together.high]
    assert band == pytest.approx(two.times_after[0], rel=0.03)
    turned = {
        name: as_draws(np.roll(np.asarray(values), 67))
        for name, values in doubt["strengths"].items()
    }
    torn = etched(inputs, parameters=doubt["parameters"], strengths=turned).run.band(
        "time_to_clear"
    )
    assert width(torn) > 1.1 * width(together)


def test_law_another_bottle_is_as_doubtful_as_its_label(two):
    same, other = two.doubt(BOARD)["strengths"], two.doubt(BOARD, "acid", None)["strengths"]
    assert np.array_equal(same["acid"], other["acid"])
    assert np.array_equal(other["peroxide"], PEROXIDE.strengths(200, BOARD.seed + 1))


def test_law_a_calibrated_board_is_narrower(two):
    before = etched(BOARD).run.band("time_to_clear")
    after = etched(BOARD, **two.doubt(BOARD)).run.band("time_to_clear")
    assert width(after) < 0.8 * width(before)


def doubt_of(**changes):
    return lambda calibration: calibration.doubt(BOARD.replace(**changes))


WRONG = {
    "used bath": (
        doubt_of(used_bath=UsedBath(0.5, 100, 1000)),
        r"used_bath = .* is impossible here",
    ),
    "other name": (
        lambda calibration: calibration.doubt(BOARD, "Acid"),
        r"bottle 'Acid' of HCl is not in the log: choose from acid, or give",
    ),
    "other limits": (
        doubt_of(acid=Bottle("HCl", 0.2, 0.22)),
        r"bottle 'acid' = 20 to 22 % of HCl is impossible: it must be 9 to 11 % as in the log",
    ),
    "too many": (
        lambda calibration: calibration.parameters(401),
        r"draws = 401 is impossible.* 1 to 400",
    ),
    "none": (lambda calibration: calibration.parameters(0), r"draws = 0 is impossible.* 1 to 400"),
    "half": (lambda calibration: calibration.parameters(0.5), r"draws = 0.5 is impossible"),
}


@pytest.mark.parametrize("name", WRONG)
def test_law_what_cannot_be_is_refused_by_name(two, name):
    call, message = WRONG[name]
    with pytest.raises(ValueError, match=message):
        call(two)


# ---- how far new draws are


@pytest.mark.parametrize("transfer", [0.15, 0.3])
def test_law_progress_is_told_once_for_the_draws_that_are_made_once(transfer):
    """From nothing to all; shipped draws, and those that are there already, tell nothing."""
    offcuts = [offcut(0, 560.0 + number, note=str(number)) for number in range(6)]
    calibration = calibrate(Log.of(offcuts), few=0.0)
    shares = []
    draws = calibration.for_board(transfer, shares.append)
    assert draws.new_draws == 400 and len(shares) >= 8
    assert shares == sorted(shares) and 0 < shares[0] < shares[-1] == pytest.approx(1)
    count = len(shares)
    assert calibration.for_board(transfer, shares.append) is draws and len(shares) == count
    calibrate(Log.of([offcut(0, 230.0)])).for_board(transfer, shares.append)
    assert len(shares) == count
