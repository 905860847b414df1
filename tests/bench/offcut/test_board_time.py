"""Law: no time of a refused bath, nor where offcuts say that a bottle is not what it should be."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut, width

from pcbchem import Board, Bottle, Tray, plan
from pcbchem.bench.offcut import board_time, new_draws
from pcbchem.bench.offcut.board_time import check_calibration, own_time, wider
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.inputs import UsedBath
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.band import Band

NOTHING = calibrate(Log.of([]))


def planned(acid=ACID, peroxide=PEROXIDE, **more):
    board = Board(area=27e-4)
    return plan(acid, peroxide, (0, 1, 1), board, Tray(), volume=150e-6, place="EU", **more)


def calibrated(*offcuts):
    return calibrate(Log.of(offcuts))


@pytest.fixture(scope="module")
def board():
    return planned()


def near(water, time):
    """An offcut of half the board in the board's tray."""
    half = Board(area=13.5e-4)
    return dataclasses.replace(offcut(water, time), volume=150e-6, board=half)


@pytest.mark.parametrize("same_hand", [False, True])
def test_law_it_is_the_band_of_the_doubt_that_is_left(board, same_hand):
    calibration = calibrated(near(0, 205.0), near(1, 450.0))
    own = own_time(board, calibration, same_hand=same_hand)
    doubt = calibration.doubt(board.inputs, same_hand=same_hand)
    band = etched(board.inputs, **doubt).run.band("time_to_clear")
    assert own.time.middle == band.middle
    # its ends a little farther off, in the logarithm
    ends = np.log([own.time.low, own.time.high]) - np.log(own.time.middle)
    assert ends == pytest.approx(1.07 * np.log([band.low, band.high] / band.middle))


def test_law_without_an_offcut_it_is_the_plan_s_band(board):
    own = own_time(board, NOTHING)
    before = board.bands["time_to_clear"]
    # 200 draws that lie in even steps among the 400
    assert (own.time.low, own.time.high) == pytest.approx((before.low, before.high), rel=0.05)
    assert own.transfer.doubt == 0.0 and "The step from" not in own.words


def test_law_a_band_that_ends_at_never_still_does():
    times = Band.of([100.0] * 5 + [200.0] * 3 + [np.inf] * 2, draws=10)
    assert wider(times).high == np.inf and wider(times).low == times.low == times.middle
    never = Band.of([100.0, np.inf, np.inf], draws=3)
    assert wider(never) is never


def test_law_offcuts_that_are_like_the_board_narrow_it_more(board):
    calibration = calibrated(near(0, 205.0), near(1, 450.0))
    before = width(board.bands["time_to_clear"])
    same, other = (width(own_time(board, calibration, same_hand=x).time) for x in (True, False))
    assert same < 0.9 * other and other < 1.1 * before


def test_law_the_words_say_which_step_was_taken_and_why(board):
    small = own_time(board, calibrated(offcut(0, 205.0)), same_hand=True)
    assert small.transfer.reasons == ("tray", "size")
    assert "offcut to board is taken to be good to 30 %. No offcut was etched in" in small.words
    large = own_time(board, calibrated(offcut(0, 205.0), near(0, 205.0)), same_hand=True)
    assert large.transfer.doubt == 0.15
    assert "taken to be good to 15 %. At least one offcut was etched like the board" in large.words
    unknown = own_time(board, calibrated(near(0, 205.0)))
    assert unknown.transfer.reasons == ("hand",)


def test_law_the_words_say_that_every_offcut_is_far_off(board):
    calibration = calibrated(offcut(0, 430.0), offcut(1, 950.0))
    own = own_time(board, calibration)
    assert own.warnings == calibration.warnings != ()
    assert "Every offcut took about " in own.words and own.words.endswith(ABOUT_TIME)


def test_law_the_cautions_of_an_offcut_stand_by(board):
    cautions = own_time(board, NOTHING).method_cautions
    assert "a refused bath has no offcut" in " ".join(caution.words for caution in cautions)


def test_law_the_words_hold_both_bands_and_what_they_are_about(board):
    own = own_time(board, calibrated(offcut(0, 205.0), offcut(1, 450.0)))
    assert own.words.startswith("On this bench 8 of 10 plausible baths clear this board in ")
    assert "(before: " in own.words and "Look first after " in own.words
    assert own.words.endswith(ABOUT_TIME)
    assert str(own) == own.words and len(repr(own)) < 60


def test_law_the_first_look_is_the_sooner_one(board, monkeypatch):
    monkeypatch.setattr(new_draws, "MOVES", 1)  # rough draws do
    slow = own_time(board, calibrated(near(0, 290.0), near(1, 640.0)), same_hand=True)
    assert slow.first_look == board.first_look < 0.5 * slow.time.low
    quick = own_time(board, calibrated(near(0, 130.0), near(1, 240.0)), same_hand=True)
    assert quick.first_look == pytest.approx(0.5 * float(quick.time.low))
    assert quick.first_look < board.first_look


def test_law_a_bench_far_too_fast_gives_no_time_and_says_why(board):
    calibration = calibrated(offcut(0, 20.0), offcut(0, 22.0), offcut(1, 40.0))
    message = r"line 2: clear after 20 s is impossible.*bottle is stronger.*do not mix it"
    with pytest.raises(ValueError, match=message):
        own_time(board, calibration)


def test_law_one_offcut_far_too_fast_gives_no_time_either(board):
    # minutes in place of seconds?
    rows = [offcut(0, 3.4), offcut(0, 210.0), offcut(1, 450.0), offcut(0, 222.0)]
    with pytest.raises(ValueError, match=r"line 2: clear after 3\.4 s .*Is the time in seconds"):
        own_time(board, calibrated(*rows))


@pytest.fixture(scope="module")
def one_too_fast():
    """A calibration whose first row was clear far too soon."""
    return calibrated(offcut(0, 3.4), offcut(0, 210.0), offcut(1, 450.0), offcut(0, 222.0))


def test_law_too_fast_is_told_by_what_was_expected_before(one_too_fast):
    # what is expected after may have followed the row
    followed = dataclasses.replace(one_too_fast, times_after=0.02 * one_too_fast.times_after)
    with pytest.raises(ValueError, match=r"line 2: clear after 3\.4 s"):
        check_calibration(followed)


def test_law_a_quick_row_that_fits_does_not_stop_it(one_too_fast):
    check_calibration(dataclasses.replace(one_too_fast, slips=np.full(4, 0.4)))


def test_law_a_row_not_clear_yet_is_never_too_fast(one_too_fast):
    first, *others = one_too_fast.offcuts
    unclear = dataclasses.replace(first, clear=False)
    check_calibration(dataclasses.replace(one_too_fast, offcuts=(unclear, *others)))


def test_law_a_slow_slip_among_good_rows_does_not_stop_it(board):
    good = [offcut(0, 210.0), offcut(0, 222.0), offcut(1, 450.0)]
    slip = own_time(board, calibrated(*good, offcut(0, 700.0)))
    clean = own_time(board, calibrated(*good))
    assert np.log(slip.time.high / clean.time.high) == pytest.approx(0, abs=0.05)


def test_law_where_no_offcut_fits_there_is_no_time(board):
    calibration = calibrated(offcut(0, 3000.0), offcut(0, 9000.0))
    message = r"flagged = 2, 3 is impossible: at least 1 offcut must fit.*measure it"
    with pytest.raises(ValueError, match=message):
        own_time(board, calibration)


def test_law_a_refused_bath_has_no_time():
    strong = planned(Bottle.labelled("HCl", 0.31), Bottle.labelled("H2O2", 0.30))
    assert strong.refused
    with pytest.raises(ValueError, match="board: verdict = 'do not mix' is impossible here"):
        own_time(strong, NOTHING)


@pytest.mark.parametrize(
    "name, value", [("used_bath", UsedBath(0.5, 100, 1000)), ("second", (0.5, 180.0))]
)
def test_law_a_used_bath_or_a_second_portion_has_no_time(name, value):
    # from cold bottles: a second portion into a warm bath would be refused for itself
    with pytest.raises(ValueError, match=f"board: {name} = .* it must be None, a fresh bath in"):
        own_time(planned(T_bottles=288.15, **{name: value}), NOTHING)


class Quick:
    """A run that is clear too soon to be watched."""

    def __init__(self, band):
        self.run = self
        self._band = dataclasses.replace(band, low=np.float64(29.0))

    def band(self, name):
        return self._band


def test_law_what_the_offcuts_make_too_fast_to_watch_is_refused(board, monkeypatch):
    run = Quick(board.bands["time_to_clear"])
    monkeypatch.setattr(board_time, "etched", lambda *_, **__: run)
    message = r"calibrated time = 29 s .* at least 30 s. .*do not mix it"
    with pytest.raises(ValueError, match=message):
        own_time(board, NOTHING)


def test_law_there_is_one_rule_of_what_is_too_fast(board, monkeypatch):
    monkeypatch.setattr(board_time, "rules", lambda: ())
    with pytest.raises(ValueError):  # without it no time at all
        own_time(board, NOTHING)


def test_law_only_a_plan_has_a_time(board):
    with pytest.raises(
        ValueError, match=r"board = .* it must be a Plan, the bath has to be judged"
    ):
        own_time(board.inputs, NOTHING)


def test_law_only_a_calibration_gives_a_time(board):
    with pytest.raises(ValueError, match="calibration = None is impossible: it must be a Calibr"):
        own_time(board, None)


def test_law_a_bottle_that_is_not_in_the_log_is_refused(board):
    with pytest.raises(ValueError, match="'mine' of HCl is not in the log"):
        own_time(board, calibrated(offcut(0, 215.0)), "mine")
