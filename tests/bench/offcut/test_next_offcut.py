"""Which offcut next: held to calibrations of made-up outcomes, and never a test fiercer than the board's own bath."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut
from scipy import stats

from pcbchem import Board, Bottle, Foil, Tray, plan
from pcbchem.bench.offcut import next_offcut
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.likelihood import expected
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.inputs import Kept
from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.plan.planning import planned
from pcbchem.common.band import Band

NOTHING = calibrate(Log.of([]))


def of(parts=(0, 1, 1), acid=ACID, peroxide=PEROXIDE, volume=150e-6, area=27e-4, **more):
    return plan(acid, peroxide, parts, Board(area=area), Tray(), volume=volume, place="EU", **more)


@pytest.fixture(scope="module")
def board():
    return of()


def test_validation_the_share_is_what_made_up_outcomes_leave(board):
    # a second way: other strengths, outcomes drawn at random with noise, weighed by scipy's log-normal, bands by Band
    tests = next_offcut.candidates(board)
    found = {
        test.offcut.parts[0]: test.share for test in next_offcut.narrowing(tests, board, NOTHING)
    }
    generator = np.random.default_rng(8)
    held = {
        ("HCl", "acid"): np.asarray(ACID.strengths(400, 71)),
        ("H2O2", "peroxide"): np.asarray(PEROXIDE.strengths(400, 72)),
    }
    *times, own = expected(
        [*tests, dataclasses.replace(offcut(0), volume=150e-6, board=Board(area=27e-4))],
        NOTHING.draws,
        held,
    )

    def wide(weights):
        band = Band.of(own, 400, weights)
        return float(np.log(band.high / band.low))

    for test, its in zip(tests, times, strict=True):
        outcomes = its[generator.integers(400, size=300)] * np.exp(
            0.15 * generator.standard_normal(300)
        )
        each = stats.lognorm(s=0.15, scale=its)
        left = [wide(each.pdf(t) if t <= 1800 else each.sf(1800)) for t in outcomes]
        assert found[test.parts[0]] == pytest.approx(
            np.mean(left) / wide(np.ones(400)), abs=0.05
        ), test.parts


def test_validation_a_calibration_of_an_outcome_leaves_about_as_much(board):
    test, generator = next_offcut.candidates(board)[0], np.random.default_rng(8)

    def wide(doubt):
        band = etched(board.inputs, **doubt).run.band("time_to_clear")
        return float(np.log(band.high / band.low))

    now = wide(NOTHING.doubt(board.inputs))
    seen = [
        calibrate(Log.of([dataclasses.replace(test, time=float(time))]))
        for time in 226 * np.exp(0.23 * generator.standard_normal(8))
    ]
    left = [wide(found.doubt(board.inputs)) / now for found in seen]
    share = next_offcut.narrowing([test], board, NOTHING)[0].share
    assert share == pytest.approx(np.mean(left), abs=0.03 + 3 * np.std(left) / np.sqrt(8))


def test_law_the_two_bottles_of_a_board_are_not_tied(board, monkeypatch):
    kept = {}
    real = next_offcut.expected
    monkeypatch.setattr(
        next_offcut, "expected", lambda *given: kept.update(given[2]) or real(*given)
    )
    next_offcut.narrowing(next_offcut.candidates(board)[:1], board, NOTHING)
    acid, peroxide = kept["HCl", "acid"], kept["H2O2", "peroxide"]
    assert abs(np.corrcoef(acid, peroxide)[0, 1]) < 0.3 and acid.std() > 0


def test_law_the_likest_bath_tells_most_and_they_come_sorted(board):
    found = next_offcut.narrowing(next_offcut.candidates(board)[::-1], board, NOTHING)
    shares = [test.share for test in found]
    assert shares == sorted(shares) and len(found) == len(next_offcut.WATER)
    assert [test.offcut.parts[0] for test in found] == sorted(
        test.offcut.parts[0] for test in found
    )
    assert 0.3 < shares[0] < 0.75 < shares[-1] < 1
    assert all(test.offcut.time is None and test.time.low < test.time.high for test in found)


def test_law_of_normal_doubts_the_share_is_known(board, monkeypatch):
    # logarithms of times normal, the test's equal to the board's: variances v and s² leave v s² / (v + s²)
    even = stats.norm.ppf((np.arange(400) + 0.5) / 400)
    monkeypatch.setattr(
        next_offcut, "expected", lambda baths, *_: np.array([100 * np.exp(even)] * len(baths))
    )
    for spread in (0.3, 1.0):
        found = next_offcut.narrowing(
            [offcut(0)], board, dataclasses.replace(NOTHING, spread=spread), patience=14_400
        )
        assert found[0].share == pytest.approx(spread / np.hypot(1, spread), rel=0.05)


def test_law_a_test_that_cannot_tell_leaves_the_band_as_it_is(board):
    test = next_offcut.candidates(board)[:1]
    quick = next_offcut.narrowing(
        test, board, NOTHING, patience=1.0
    )  # never clear by then: nothing is learnt
    assert quick[0].share == pytest.approx(1, abs=1e-6)


def test_law_what_is_known_already_is_worth_less(board):
    test = next_offcut.candidates(board)[:1]
    known = calibrate(Log.of([offcut(0, 215.0), offcut(0, 225.0), offcut(0, 205.0)]))
    assert (
        next_offcut.narrowing(test, board, known)[0].share
        > next_offcut.narrowing(test, board, NOTHING)[0].share
    )


def test_law_a_blunter_eye_learns_less(board):
    test = next_offcut.candidates(board)[:1]
    blunt = dataclasses.replace(NOTHING, spread=0.5)
    assert next_offcut.narrowing(test, board, blunt)[0].share > 0.85


@pytest.mark.parametrize(
    "parts, peroxide, area, volume",
    [
        ((0, 1, 1), PEROXIDE, 27e-4, 150e-6),
        ((3, 1, 2), PEROXIDE, 27e-4, 150e-6),
        ((0, 1, 1), PEROXIDE, 27e-4, 400e-6),
        ((0, 1, 2), Bottle.labelled("H2O2", 0.03), 20e-4, 150e-6),
    ],
)
def test_law_no_test_is_stronger_or_has_less_bath_than_the_board(parts, peroxide, area, volume):
    board = of(parts, peroxide=peroxide, area=area, volume=volume)
    given = board.inputs
    tests = next_offcut.candidates(board, "A", "P")
    for test in tests:
        assert not planned(test.given.replace(place="EU")).refused or test.parts[0] > parts[0]
        assert test.given.bath_per_area >= given.bath_per_area * (1 - 1e-12)
        for k in (1, 2):
            assert test.given.parts[k] / sum(test.given.parts) <= given.parts[k] / sum(
                given.parts
            ) * (1 + 1e-12)
        assert (test.acid_bottle, test.peroxide_bottle, test.T_bottles) == (
            "A",
            "P",
            given.T_bottles,
        )
    assert len(next_offcut.narrowing(tests, board, NOTHING, "A", "P")) == len(tests)


FIERCER = {
    "acid in the bath": {"parts": (0, 1.1, 1)},
    "peroxide in the bath": {"parts": (0, 1, 1.1)},
    "acid": {"acid": Bottle("HCl", 0.05, 0.2), "acid_bottle": "A", "parts": (2, 1, 1)},
    "peroxide": {"peroxide": Bottle("H2O2", 0.02, 0.3), "peroxide_bottle": "P", "parts": (9, 1, 1)},
    "T_bottles": {"T_bottles": 296.0},
    "T_air": {"tray": Tray(T_air=303.0)},
    "volume": {"volume": 0.2e-3},
    "copper over bath": {"board": Board(area=4e-4, foil=Foil.ounces(4))},
    "agitation": {"tray": Tray("sprayed")},
    "bath over its surface": {"tray": Tray(open_area=5e-4)},
    "facing": {"tray": Tray(facing="down")},
}


@pytest.mark.parametrize("why", FIERCER)
def test_law_a_fiercer_test_is_refused(board, why):
    test = dataclasses.replace(offcut(0), **FIERCER[why])
    with pytest.raises(
        ValueError, match=rf"test 1: {why} = .* is (impossible.* 0 to|not known: choose from)"
    ):
        next_offcut.narrowing([test], board, NOTHING)


def test_law_there_is_no_offcut_of_a_refused_bath():
    refused = of((0, 1, 1), Bottle.labelled("HCl", 0.32), Bottle.labelled("H2O2", 0.30))
    assert refused.refused
    for call in (
        lambda: next_offcut.candidates(refused),
        lambda: next_offcut.narrowing([offcut(0)], refused, NOTHING),
    ):
        with pytest.raises(ValueError, match="board: verdict = 'do not mix' is impossible here"):
            call()


def test_law_an_upright_board_is_tried_face_up_in_a_flat_dish():
    board = plan(
        ACID,
        PEROXIDE,
        (0, 1, 1),
        Board(area=27e-4),
        Tray(facing="upright", open_area=20e-4),
        volume=150e-6,
        place="EU",
    )
    tests = next_offcut.candidates(board)
    assert {test.tray.facing for test in tests} == {"up"}
    for test in tests:  # and our own rules refuse none of them
        assert not planned(test.given).refused
    assert len(next_offcut.narrowing(tests, board, NOTHING)) == len(tests)


@pytest.mark.parametrize(
    "call, said",
    [
        (lambda board: next_offcut.candidates(board.inputs), r"board = .* it must be a Plan"),
        (
            lambda board: next_offcut.narrowing([offcut(0)], board, None),
            r"calibration = None is impossible",
        ),
        (
            lambda board: next_offcut.narrowing(
                [offcut(0)], board, calibrate(Log.of([offcut(0, 215.0)])), "mine"
            ),
            r"bottle 'mine' of HCl is not in the log: choose from acid",
        ),
        (
            lambda board: next_offcut.narrowing([], board, NOTHING),
            r"tests = \[\] is impossible.* at least 1 Offcut",
        ),
        (
            lambda board: next_offcut.narrowing(["mild"], board, NOTHING),
            r"tests = .* is impossible",
        ),
        (
            lambda board: next_offcut.narrowing([offcut(0)], board, NOTHING, patience=0.0),
            r"patience = 0 .* above 0 to 14400",
        ),
        (
            lambda board: next_offcut.narrowing(
                [offcut(0)], of(kept=Kept(0.2, 100, 1000)), NOTHING
            ),
            r"board: kept = ",
        ),
        (
            lambda board: next_offcut.narrowing(
                [dataclasses.replace(offcut(0), peroxide=Bottle("H2O2", 0.1, 0.11))], board, NOTHING
            ),
            r"bottle 'peroxide' .* two strengths",
        ),
    ],
)
def test_law_what_cannot_be_is_refused_by_name(board, call, said):
    with pytest.raises(ValueError, match=said):
        call(board)
