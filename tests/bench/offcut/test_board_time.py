"""Law: no time of a refused bath, nor where offcuts say that a bottle is not what it should be."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut

from pcbchem import Board, Bottle, Tray, plan
from pcbchem.bench.offcut import board_time, calibrating
from pcbchem.bench.offcut.board_time import check_calibration, own_time
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.inputs import UsedBath
from pcbchem.bench.plan.outlook import etched

NOTHING = calibrate(Log.of([]))


def planned(acid=ACID, peroxide=PEROXIDE, **more):
    board = Board(area=27e-4)
    return plan(acid, peroxide, (0, 1, 1), board, Tray(), volume=150e-6, place="EU", **more)


def calibrated(*offcuts):
    return calibrate(Log.of(offcuts))


@pytest.fixture(scope="module")
def board():
    return planned()


def test_law_it_is_the_band_of_the_doubt_that_is_left(board):
    calibration = calibrated(offcut(0, 205.0), offcut(1, 450.0))
    own = own_time(board, calibration)
    band = etched(board.inputs, **calibration.doubt(board.inputs)).run.band("time_to_clear")
    assert (own.time.low, own.time.middle, own.time.high) == (band.low, band.middle, band.high)


def test_law_the_words_hold_both_bands_and_what_they_are_about(board):
    own = own_time(board, calibrated(offcut(0, 205.0), offcut(1, 450.0)))
    assert own.words.startswith("On this bench 8 of 10 plausible baths clear this board in ")
    assert "(before: " in own.words and "Look first after " in own.words
    assert own.words.endswith(ABOUT_TIME)
    assert str(own) == own.words and len(repr(own)) < 60


def test_law_the_first_look_is_the_sooner_one(board, monkeypatch):
    monkeypatch.setattr(calibrating, "FEW", 0.0)  # the few draws left do: no new ones are made
    slow = own_time(board, calibrated(offcut(0, 290.0), offcut(1, 640.0)))
    assert slow.first_look == board.first_look < 0.5 * slow.time.low
    quick = own_time(board, calibrated(offcut(0, 150.0), offcut(1, 280.0)))
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
    with pytest.raises(ValueError, match=f"board: {name} = .* it must be None, a fresh bath in"):
        own_time(planned(**{name: value}), NOTHING)


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
