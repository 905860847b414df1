"""Every choice of the planner's form is one that the package knows, with its meaning (laws)."""

import pytest

from pcbchem.bench.hazards.law import PLACES
from pcbchem.lesson.form import choices, fields
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


@pytest.mark.parametrize(
    ("unit", "number", "spelling", "meant"),
    [
        ("mm", 3, "in", 76.2),  # by definition: an inch is 25.4 mm
        ("mm", 3, '"', 76.2),
        ("mm", 1, "mil", 0.0254),
        ("mm", 7.5, "cm", 75),
        ("mL", 0.15, "l", 150),
        ("mL", 15, "cl", 150),
        ("mL", 5, "fl oz", 147.868),  # by definition: 231/128 cubic inch
        ("°C", 68, "°f", 20),
        ("°C", 32, "f", 0),
        ("min", 90, "s", 1.5),
        ("min", 0.5, "h", 30),
        ("%", 60, "percent", 60),
        ("oz", 35, "um", 1),
        ("oz", 70, "µm", 2),
        ("oz", 610.3, "g/m²", 2),  # an ounce on a square foot is 305.15 g/m²
        ("parts", 2, "parts", 2),
    ],
)
def test_law_a_number_with_another_unit_means_the_same(unit, number, spelling, meant):
    scale, offset = choices.READS[unit][spelling]
    assert number * scale + offset == pytest.approx(meant, rel=1e-4, abs=1e-9)


def test_second_source_a_thickness_is_near_the_standards_foil():
    """IPC-4562 has 17.1, 34.3, 68.6 µm for ½, 1, 2 oz: a label's figure is 2 % above it."""
    scale, _ = choices.READS["oz"]["um"]
    for microns, ounces in ((17.1, 0.5), (34.3, 1), (68.6, 2)):
        assert microns * scale == pytest.approx(ounces, rel=0.025)


def test_what_a_used_bath_holds_may_be_written_in_either_unit():
    """By hand: 63.546 g/mol of copper, 36.46 of HCl, 34.01 of H2O2 (IUPAC)."""
    assert choices.IN_USED_BATH["copper"]["mol/l"][0] == pytest.approx(63.546)
    assert choices.IN_USED_BATH["acid"]["g/l"][0] == pytest.approx(1 / 36.46, rel=1e-3)
    assert choices.IN_USED_BATH["peroxide"]["g/l"][0] == pytest.approx(1 / 34.01, rel=1e-3)


@pytest.mark.parametrize(
    ("bottle", "spelling", "meant"),
    [
        ("acid", "%", "% by weight"),
        ("acid", "m", "mol/L"),
        ("acid", "°bé", "degrees Baume"),
        ("peroxide", "vol", "volume strength"),
        ("peroxide", "% w/v", "% w/v"),
    ],
)
def test_a_strength_is_read_as_people_write_it(bottle, spelling, meant):
    assert choices.SPELLINGS[bottle][spelling] == meant


def test_acid_has_no_volumes_and_peroxide_no_baume():
    assert "vol" not in choices.SPELLINGS["acid"]
    assert "°bé" not in choices.SPELLINGS["peroxide"]
