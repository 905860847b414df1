"""The time of a board on one's own bench: never of a refused bath, never where offcuts say that a bottle is not so."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut

from pcbchem import Board, Bottle, Tray, plan
from pcbchem.bench.offcut.board_time import own_time
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.outlook import etched

NOTHING = calibrate(Log.of([]))


def of(acid=ACID, peroxide=PEROXIDE, parts=(0, 1, 1)):
    return plan(acid, peroxide, parts, Board(area=27e-4), Tray(), volume=150e-6, place="EU")


@pytest.fixture(scope="module")
def board():
    return of()


def test_law_it_is_the_band_of_the_doubt_that_is_left(board):
    found = calibrate(Log.of([offcut(0, 205.0), offcut(1, 450.0)]))
    own = own_time(board, found)
    band = etched(board.inputs, **found.doubt(board.inputs)).run.band("time_to_clear")
    assert (own.time.low, own.time.middle, own.time.high) == (band.low, band.middle, band.high)
    assert own.words.endswith(ABOUT_TIME) and str(own) == own.words and len(repr(own)) < 60
    assert (
        "On this bench 8 of 10 plausible baths clear this board in " in own.words
        and "(before: " in own.words
    )


def test_law_the_first_look_is_the_sooner_one(board):
    slow = own_time(board, calibrate(Log.of([offcut(0, 290.0), offcut(1, 640.0)])))
    assert slow.first_look == board.first_look
    quick = own_time(board, calibrate(Log.of([offcut(0, 150.0), offcut(1, 280.0)])))
    assert quick.first_look == pytest.approx(min(0.5 * float(quick.time.low), board.first_look))
    assert 0.5 * quick.time.low < 0.5 * slow.time.low


def test_law_a_bench_far_too_fast_gives_no_time_and_says_why(board):
    found = calibrate(Log.of([offcut(0, 20.0), offcut(0, 22.0), offcut(1, 40.0)]))
    assert (
        "a bottle is stronger than the log says: do not mix it until it is measured" in found.words
    )
    with pytest.raises(
        ValueError,
        match=r"line 2: clear after 20 s is impossible.*bottle is stronger.*do not mix it",
    ):
        own_time(board, found)
    alone = calibrate(
        Log.of([offcut(0, 3.4), offcut(0, 210.0), offcut(1, 450.0), offcut(0, 222.0)])
    )  # minutes?
    with pytest.raises(ValueError, match=r"line 2: clear after 3\.4 s .*Is the time in seconds"):
        own_time(board, alone)


def test_law_a_slow_slip_among_good_rows_does_not_stop_it(board):
    good = [offcut(0, 210.0), offcut(0, 222.0), offcut(1, 450.0)]
    slip = own_time(board, calibrate(Log.of([*good, offcut(0, 700.0)])))
    clean = own_time(board, calibrate(Log.of(good)))
    assert np.log(slip.time.high / clean.time.high) == pytest.approx(0, abs=0.05)


def test_law_where_no_offcut_fits_there_is_no_time(board):
    found = calibrate(Log.of([offcut(0, 3000.0), offcut(0, 9000.0)]))
    assert found.flagged == (2, 3)
    with pytest.raises(
        ValueError, match=r"flagged = 2, 3 is impossible: at least 1 offcut must fit.*measure it"
    ):
        own_time(board, found)


def test_law_a_refused_bath_has_no_time():
    strong = of(Bottle.labelled("HCl", 0.31), Bottle.labelled("H2O2", 0.30))
    assert strong.refused
    with pytest.raises(ValueError, match="board: verdict = 'do not mix' is impossible here"):
        own_time(strong, NOTHING)


def test_law_what_the_offcuts_make_too_fast_to_watch_is_refused(board, monkeypatch):
    rushed = dataclasses.replace(board.bands["time_to_clear"], low=np.float64(29.0))
    monkeypatch.setattr(
        "pcbchem.bench.offcut.board_time.etched",
        lambda *_, **__: type(
            "Seen", (), {"run": type("Run", (), {"band": staticmethod(lambda name: rushed)})}
        )(),
    )
    with pytest.raises(
        ValueError, match=r"calibrated time = 29 s .* at least 30 s. .*do not mix it"
    ):
        own_time(board, NOTHING)


@pytest.mark.parametrize(
    "call, said",
    [
        (lambda board: own_time(board.inputs, NOTHING), "board = .* it must be a Plan"),
        (lambda board: own_time(board, None), "calibration = None is impossible"),
        (
            lambda board: own_time(board, calibrate(Log.of([offcut(0, 215.0)])), "mine"),
            "'mine' of HCl is not in the log",
        ),
    ],
)
def test_law_what_cannot_be_is_refused_by_name(board, call, said):
    with pytest.raises(ValueError, match=said):
        call(board)
