"""Every choice of the planner's form is one that the package knows, with its meaning (laws)."""

from pcbchem.bench.hazards.law import PLACES
from pcbchem.lesson.bath import choices, fields
from pcbchem.matter.labels import NOTATIONS
from pcbchem.reaction.bath.setup import AGITATIONS, FACINGS, MOVEMENTS


def test_law_the_package_knows_every_choice():
    assert tuple(choices.MOVES) == AGITATIONS
    assert set(choices.PLACES) == set(PLACES)
    assert set(choices.FACES) == set(FACINGS)
    for notations in choices.NOTATIONS.values():
        assert set(notations) <= set(NOTATIONS)


def test_law_a_movement_says_what_it_means():
    """A word alone is no number: rocked is 10 to 30 tilts a minute, shaken a tilt a second."""
    for movement, meaning in MOVEMENTS.items():
        if movement != "still":
            assert choices.MOVES[movement].endswith(meaning), movement
    assert choices.MOVES["rocked"] == "rocked: 10 to 30 tilts a minute"


def test_the_planner_starts_where_no_law_is_taken_for_granted():
    assert fields.STARTS["place"] == next(iter(choices.PLACES)) == "elsewhere"
