"""Which offcut next: held to made-up outcomes, and never a test fiercer than the board's bath."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut, width
from scipy import stats

from pcbchem import Board, Bottle, Foil, Tray, plan
from pcbchem.bench.offcut import next_offcut as module
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.calibration import Calibration
from pcbchem.bench.offcut.likelihood import expected_times
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.offcut.next_offcut import WATER, candidates, narrowing
from pcbchem.bench.offcut.offcut import Transfer
from pcbchem.bench.plan.inputs import UsedBath
from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.plan.planning import planned
from pcbchem.common.band import Band

NOTHING = calibrate(Log.of([]))
HALF = {"board": Board(area=13.5e-4), "volume": 150e-6}
"""Half the board in as much bath."""
SPREAD = 0.15


def plan_of(parts=(0, 1, 1), acid=ACID, peroxide=PEROXIDE, area=27e-4, tray=None, **more):
    inputs = {"volume": 150e-6, "place": "EU", **more}
    return plan(acid, peroxide, parts, Board(area=area), tray or Tray(), **inputs)


@pytest.fixture(scope="module")
def board():
    return plan_of()


def share_of(test, board, calibration=NOTHING, **more):
    return narrowing([test], board, calibration, **more)[0].share


# ---- how much a test narrows the band


def test_second_source_the_share_is_what_made_up_outcomes_leave(board):
    # a second way: other strengths, outcomes drawn at random with noise and a step from the board
    # to its offcut, weighed by scipy's log-normal of both together, bands by Band
    tests = candidates(board)
    shares = {test.offcut.parts: test.share for test in narrowing(tests, board, NOTHING)}
    generator = np.random.default_rng(8)
    strengths = {
        ("HCl", "acid"): np.asarray(ACID.strengths(400, 71)),
        ("H2O2", "peroxide"): np.asarray(PEROXIDE.strengths(400, 72)),
    }
    whole = dataclasses.replace(offcut(0), volume=150e-6, board=Board(area=27e-4))
    *test_times, board_times = expected_times([*tests, whole], NOTHING.draws, strengths)

    def width_by(weights):
        return width(Band.of(board_times, 400, weights))

    # of the rate of a draw the offcut has its share, and a rest of its own
    alike = 1 - 0.3**2 / (2 * 0.25**2)
    both = np.hypot(SPREAD, 0.25 * np.sqrt(1 - alike**2))
    step = NOTHING.draws["rate_factor"] ** (1 - alike)
    for test, times in zip(tests, np.array(test_times) * step, strict=True):
        noise = np.exp(both * generator.standard_normal(150))
        outcomes = times[generator.integers(400, size=150)] * noise
        time = stats.lognorm(s=both, scale=times)
        left = [width_by(time.pdf(t) if t <= 1800 else time.sf(1800)) for t in outcomes]
        expected = np.mean(left) / width_by(np.ones(400))
        assert shares[test.parts] == pytest.approx(expected, abs=0.05), test.parts


def test_second_source_a_calibrated_outcome_leaves_as_much(board):
    test, generator = candidates(board)[0], np.random.default_rng(8)

    def width_by(calibration):
        doubt = calibration.doubt(board.inputs)
        return width(etched(board.inputs, **doubt).run.band("time_to_clear"))

    left = []
    for time in 226 * np.exp(0.23 * generator.standard_normal(8)):
        log = Log.of([dataclasses.replace(test, time=float(time))])
        left.append(width_by(calibrate(log)) / width_by(NOTHING))
    doubt = 0.03 + 3 * np.std(left) / np.sqrt(8)
    assert share_of(test, board) == pytest.approx(np.mean(left), abs=doubt)


@pytest.mark.parametrize("spread", [0.3, 1.0])
def test_law_of_normal_doubts_the_share_is_known(spread, board, monkeypatch):
    # logarithms of times normal, the test's equal to the board's: variances v and s² leave
    # v s² / (v + s²)
    even = stats.norm.ppf((np.arange(400) + 0.5) / 400)
    times = 100 * np.exp(even)
    monkeypatch.setattr(module, "expected_times", lambda baths, *_: np.array([times] * len(baths)))
    monkeypatch.setattr(Calibration, "transfer", lambda *_: Transfer(0.0, ()))
    calibration = dataclasses.replace(NOTHING, spread=spread)
    share = share_of(offcut(0), board, calibration, patience=14_400)
    assert share == pytest.approx(spread / np.hypot(1, spread), rel=0.05)


def test_law_what_never_clears_counts_as_four_hours(board, monkeypatch):
    times = np.append(np.geomspace(100, 1000, 320), np.full(80, np.inf))
    monkeypatch.setattr(module, "expected_times", lambda baths, *_: np.array([times] * len(baths)))
    assert 0 < share_of(offcut(0), board) < 1


def test_law_the_two_bottles_of_a_board_are_not_tied(board, monkeypatch):
    kept, real = {}, module.expected_times

    def keep(baths, draws, strengths):
        kept.update(strengths)
        return real(baths, draws, strengths)

    monkeypatch.setattr(module, "expected_times", keep)
    narrowing(candidates(board)[:1], board, NOTHING)
    acid, peroxide = kept["HCl", "acid"], kept["H2O2", "peroxide"]
    assert abs(np.corrcoef(acid, peroxide)[0, 1]) < 0.3 and acid.std() > 0


def test_law_the_likest_bath_tells_most_and_they_come_sorted(board):
    # in the same tray and hand, or they all tell little
    like = [dataclasses.replace(test, **HALF) for test in candidates(board)[::-1]]
    tests = narrowing(like, board, NOTHING, same_hand=True)
    shares = [test.share for test in tests]
    assert shares == sorted(shares) and len(tests) == len(WATER)
    waters = [test.offcut.parts[0] for test in tests]
    assert waters == sorted(waters)
    assert 0.3 < shares[0] < 0.85 and shares[0] < shares[-1] < 1.1
    assert all(test.offcut.time is None and test.time.low < test.time.high for test in tests)


def test_law_a_test_like_the_board_tells_more_than_a_small_one(board):
    half = dataclasses.replace(offcut(0), **HALF)
    same, other = (share_of(half, board, same_hand=hand) for hand in (True, False))
    assert same < other - 0.1
    assert share_of(offcut(0), board, same_hand=True) > same + 0.1


def test_law_the_cautions_of_an_offcut_stand_by(board):
    cautions = narrowing([offcut(0)], board, NOTHING)[0].method_cautions
    assert "a refused bath has no offcut" in " ".join(caution.words for caution in cautions)


def test_law_a_test_that_cannot_tell_leaves_the_band_as_it_is(board):
    share = share_of(offcut(0), board, patience=1.0)  # never clear by then: nothing is learnt
    assert share == pytest.approx(1, abs=1e-6)


def test_law_what_is_known_already_is_worth_less(board):
    half = dataclasses.replace(offcut(0), **HALF)
    rows = [dataclasses.replace(half, time=time) for time in (215.0, 225.0, 205.0)]
    known = calibrate(Log.of(rows))
    shares = [share_of(half, board, each, same_hand=True) for each in (known, NOTHING)]
    assert shares[0] > shares[1]


def test_law_a_blunter_eye_learns_less(board):
    assert share_of(offcut(0), board, dataclasses.replace(NOTHING, spread=0.5)) > 0.85


# ---- no test is fiercer than the board's bath


BOARDS = {
    "usual": {},
    "much water": {"parts": (3, 1, 2)},
    # by rounding its fiercest candidate has a hair's breadth more copper for its bath
    "much bath": {"volume": 370e-6},
    "weak peroxide": {
        "parts": (0, 1, 2),
        "peroxide": Bottle.labelled("H2O2", 0.03),
        "area": 20e-4,
    },
}


@pytest.fixture(scope="module", params=BOARDS)
def any_board(request):
    return plan_of(**BOARDS[request.param])


def test_law_no_candidate_is_stronger_or_has_less_bath(any_board):
    inputs = any_board.inputs
    tests = candidates(any_board, "A", "P")
    for test in tests:
        assert test.inputs.bath_per_area >= inputs.bath_per_area * (1 - 1e-12)
        for k in (1, 2):
            share = inputs.parts[k] / sum(inputs.parts)
            assert test.inputs.parts[k] / sum(test.inputs.parts) <= share * (1 + 1e-12)
        assert (test.acid_bottle, test.peroxide_bottle) == ("A", "P")
        assert test.T_bottles == inputs.T_bottles
    assert len(narrowing(tests, any_board, NOTHING, "A", "P")) == len(tests)


def test_law_the_fiercest_candidate_is_not_refused(any_board):
    fiercest = candidates(any_board)[0]
    assert fiercest.parts[0] == any_board.inputs.parts[0]
    assert not planned(fiercest.inputs.replace(place="EU")).refused


def test_law_an_upright_board_is_tried_face_up_in_a_flat_dish():
    board = plan_of(tray=Tray(facing="upright", open_area=20e-4))
    tests = candidates(board)
    assert {(test.tray.facing, test.tray.open_area) for test in tests} == {("up", None)}
    assert not planned(tests[0].inputs).refused  # the fiercest, by our own rules
    assert len(narrowing(tests, board, NOTHING)) == len(tests)


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
    message = rf"test 1: {why} = .* is (impossible.* 0 to|not known: choose from)"
    with pytest.raises(ValueError, match=message):
        narrowing([test], board, NOTHING)


@pytest.mark.parametrize("kind, parts", [("acid", (0, 1.05, 1)), ("peroxide", (0, 1, 1.05))])
def test_law_a_bottle_counts_by_its_strong_end(board, kind, parts):
    bottle = {"acid": ACID, "peroxide": PEROXIDE}[kind]
    wider = dataclasses.replace(bottle, low=0.5 * bottle.low, label=None)
    test = dataclasses.replace(offcut(0), **{kind: wider, f"{kind}_bottle": "W"}, parts=parts)
    with pytest.raises(ValueError, match=rf"test 1: {kind} in the bath = .* is impossible"):
        narrowing([test], board, NOTHING)


def test_law_there_is_no_offcut_of_a_refused_bath():
    refused = plan_of(acid=Bottle.labelled("HCl", 0.32), peroxide=Bottle.labelled("H2O2", 0.30))
    assert refused.refused
    message = "board: verdict = 'do not mix' is impossible here"
    with pytest.raises(ValueError, match=message):
        candidates(refused)
    with pytest.raises(ValueError, match=message):
        narrowing([offcut(0)], refused, NOTHING)


# ---- refusals


def test_law_only_a_plan_has_candidates(board):
    with pytest.raises(ValueError, match=r"board = .* it must be a Plan"):
        candidates(board.inputs)


def test_law_a_used_bath_has_no_test():
    used = plan_of(used_bath=UsedBath(0.2, 100, 1000))
    with pytest.raises(ValueError, match=r"board: used_bath = "):
        narrowing([offcut(0)], used, NOTHING)


OTHER_STRENGTH = dataclasses.replace(offcut(0), peroxide=Bottle("H2O2", 0.1, 0.11))
ONE_OFFCUT = calibrate(Log.of([offcut(0, 215.0)]))
WRONG = {
    "no calibration": (([offcut(0)], None), {}, r"calibration = None is impossible"),
    "other name": (
        ([offcut(0)], ONE_OFFCUT, "mine"),
        {},
        r"bottle 'mine' of HCl is not in the log: choose from acid",
    ),
    "no test": (([], NOTHING), {}, r"tests = \[\] is impossible.* at least 1 Offcut"),
    "no offcut": ((["mild"], NOTHING), {}, r"tests = .* is impossible"),
    "no patience": (([offcut(0)], NOTHING), {"patience": 0.0}, r"patience = 0 .* above 0 to 14400"),
    "two strengths": (([OTHER_STRENGTH], NOTHING), {}, r"bottle 'peroxide' .* two strengths"),
}


@pytest.mark.parametrize("name", WRONG)
def test_law_what_cannot_be_is_refused_by_name(board, name):
    (tests, *rest), keywords, message = WRONG[name]
    with pytest.raises(ValueError, match=message):
        narrowing(tests, board, *rest, **keywords)
