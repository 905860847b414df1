"""The workshop's board, bottles and baths are those that every page tells of (laws)."""

import itertools

import pytest
from helpers.water_baths import PARTS, STRENGTHS, own
from helpers.workshop import INPUTS

from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import outlook
from pcbchem.common.limits import InputError, collecting_warnings
from pcbchem.lesson.bath import planned
from pcbchem.lesson.workshop import PAIRS, ROOMY, USUAL, bath, tide_clock


def test_the_board_has_27_square_centimetres_of_bare_copper():
    """75 × 60 mm, 60 % of it bare, 1 oz."""
    board = tide_clock()
    assert float(board.area) == pytest.approx(27e-4)
    assert float(board.foil.areal_mass) == pytest.approx(0.305152, rel=1e-5)


def test_an_offcut_has_thinner_foil_and_the_same_sides():
    thin, board = tide_clock(0.5), tide_clock()
    assert float(thin.area) == float(board.area)
    assert 2 * float(thin.foil.areal_mass) == pytest.approx(float(board.foil.areal_mass))


@pytest.mark.parametrize("bottles", STRENGTHS)
def test_law_baths_are_those_of_the_tests(bottles):
    ours, theirs = bath(bottles, parts=1.2), own(bottles, parts=1.2)
    for name in ("acid", "peroxide", "parts", "place", "draws", "seed"):
        assert getattr(ours, name) == getattr(theirs, name), name
    assert ours.bath_per_area == pytest.approx(theirs.bath_per_area)


def test_the_usual_bath_is_the_planners():
    planner = planned(**INPUTS, draws=3).inputs
    ours = bath("mild")
    assert (ours.acid, ours.peroxide, ours.parts) == (planner.acid, planner.peroxide, planner.parts)
    assert ours.bath_per_area == pytest.approx(planner.bath_per_area) == pytest.approx(USUAL)


def test_a_roomy_bath_is_much_more_for_the_copper():
    assert bath("weak", ROOMY).bath_per_area == ROOMY > 3 * USUAL


def test_law_every_pair_is_tried_by_the_tests_of_page_04():
    rule = "put its strengths into STRENGTHS of tests/helpers/water_baths.py"
    assert list(PAIRS) == list(STRENGTHS), rule


@pytest.mark.parametrize("bottles", PAIRS)
def test_law_what_the_planner_calls_harm_is_only_drawn(bottles):
    """In either room and with any water of the slider: such a pair has no way to the planner."""
    harm = set()
    for room, parts in itertools.product((USUAL, ROOMY), PARTS):
        inputs = bath(bottles, room, parts).replace(draws=40)
        # the reasons of a plan alone: what would help and what is in doubt takes most of its time
        with collecting_warnings():
            reasons = hazards.reasons(outlook(inputs).bands)
        harm |= {reason.words for reason in reasons if reason.kind == "harm"}
    rule = f"only_drawn of {bottles!r} in PAIRS has to be {bool(harm)}: {harm or 'no harm'}"
    assert PAIRS[bottles].only_drawn == bool(harm), rule


@pytest.mark.parametrize("bottles", PAIRS)
def test_law_a_pair_that_is_only_drawn_is_named_so(bottles):
    pair = PAIRS[bottles]
    words = "drawn only, never mixed here"
    assert pair.only_drawn == (words in pair.words), f"such a pair, and no other, says {words!r}"


def test_other_bottles_are_refused_by_name():
    with pytest.raises(InputError, match="bottles = 'stale' is not known: choose from mild"):
        bath("stale")
