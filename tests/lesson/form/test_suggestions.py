"""What the form fills in: a bath that covers the board, a used bath from a plan (laws)."""

import dataclasses
import math
import re

import pytest
from helpers.workshop import INPUTS, REFUSED

from pcbchem.bench.hazards.verdicts import BOARD_NOT_COVERED, MUCH_BATH
from pcbchem.common.band import Band
from pcbchem.common.limits import InputError
from pcbchem.lesson.bath import planned
from pcbchem.lesson.form import fields
from pcbchem.lesson.form.suggestions import handy, outwards, suggested_total, used_from

TANK = {"facing": "upright", "tray_width": 90, "tray_length": 30}


def suggested(**changed):
    return suggested_total(fields.STARTS | changed)


def rules_of(total, **changed):
    """Rules that a plan with so much bath [mL] is judged by."""
    values = fields.STARTS | changed | {"total": total}
    return [reason.rule for reason in fields.plan_from(values, draws=20).reasons]


# How much bath


def test_the_workshops_own_board_gets_the_workshops_bath():
    """As printed on the page: 150 mL for 27 cm²."""
    total, why = suggested()
    assert total == 150 and "150 mL, for each cm² of copper as much as in the workshop's" in why


@pytest.mark.parametrize(
    ("changed", "total"),
    [
        ({"board_width": 150}, 300),  # twice the board
        ({"bare": 30}, 75),  # half the copper
        ({"back": "bare"}, 400),  # by hand: 72 cm² take 150 × 72 / 27 = 400 mL
        ({"back": "covered"}, 150),
        ({"foil": 2}, 150),
    ],
)
def test_law_a_bath_goes_with_the_bare_copper(changed, total):
    assert suggested(**changed)[0] == total


@pytest.mark.parametrize(
    "changed",
    [
        {"tray_width": 300, "tray_length": 300},
        {"tray_width": 300, "tray_length": 300, "held_back": 50},
        {"tray_width": 300, "tray_length": 300, "held_back": 90, "used_bath": 20},
        TANK,
        TANK | {"held_back": 30},
        {"bare": 5},
        {"bare": 1, "board_width": 300, "board_height": 200},
    ],
)
def test_law_a_suggested_bath_covers_the_board(changed):
    """And hardly more: a sixth less would leave copper dry, or the first portion alone would."""
    used = {name: 1 for name in fields.STARTS if name.startswith("used_")}
    changed = used | {"used_bath": 0, "used_peroxide": 0, "used_peroxide_to": 0} | changed
    total, why = suggested(**changed)
    assert "covers the board in its tray" in why
    assert BOARD_NOT_COVERED not in rules_of(total, **changed)
    if changed.get("tray_width"):
        assert BOARD_NOT_COVERED in rules_of(total * 5 / 6, **changed)


def test_law_a_suggested_bath_is_never_much_for_one_person():
    """A litre is where the rule begins: one step more would be minded."""
    big = {"board_width": 250, "board_height": 200}
    total, why = suggested(**big)
    assert total == 1000 and "the most that is not yet much for one person" in why
    assert MUCH_BATH not in rules_of(total, **big)
    assert MUCH_BATH in rules_of(total + 50, **big)


def test_a_tray_that_takes_too_much_to_cover_the_board_is_refused_without_an_amount():
    with pytest.raises(InputError, match=r"^tray_mm is too large: .* fits closer$") as error:
        suggested(tray_width=700, tray_length=700)
    assert not re.search(r"\d", str(error.value))


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"board_width": 1}, "board_mm"),
        ({"bare": 0}, "bare_percent"),
        ({"tray_width": 50, "tray_length": 40}, "tray_mm"),
        ({"facing": "upright"}, "tray_mm"),
        ({"held_back": 95}, "second"),
    ],
)
def test_a_board_or_tray_that_cannot_be_is_named(changed, named):
    with pytest.raises(InputError, match=f"^{named}"):
        suggested(**changed)


def test_law_every_suggestion_says_whose_it_is_and_that_it_permits_nothing():
    for changed in ({}, TANK, {"board_width": 250, "board_height": 200}):
        total, why = suggested(**changed)
        assert why.startswith(f"Our suggestion: {total:g} mL, ")
        assert why.endswith("The verdict decides.")


@pytest.mark.parametrize(
    ("volume", "amount"), [(3.1, 4), (19.2, 20), (21, 25), (101, 110), (301, 350), (1000, 1000)]
)
def test_volumes_are_rounded_up_to_what_people_measure(volume, amount):
    assert handy(volume * 1e-6) == amount


# A used bath


def test_law_a_used_bath_is_what_the_plan_leaves(mild):
    """Within a figure of what its own words say: 5.5 g/L of copper, 1.1 to 1.4 mol/L of acid."""
    values = used_from(mild)
    copper, acid = mild.bands["copper_used"], mild.bands["acid_used"]
    low, high = values["used_copper"], values["used_copper_to"]
    assert low <= copper.low * 0.063546 <= copper.high * 0.063546 <= high  # Cu g/mol, IUPAC
    assert high - low <= 0.2
    assert values["used_acid"] <= acid.low / 1000 < acid.high / 1000 <= values["used_acid_to"]
    assert (values["used_acid"], values["used_acid_to"]) == (1.1, 1.4)
    assert values["used_peroxide"] is None and values["used_peroxide_to"] is None
    assert len(values) == 6


def test_a_used_bath_is_planned_once_its_strip_is_read(mild):
    values = fields.STARTS | used_from(mild) | {"used_bath": 50}
    strip = {"used_peroxide": 0, "used_peroxide_to": 0.2}
    assert fields.plan_from(values | strip, draws=5).inputs.used_bath.share == 0.5


def test_much_copper_stays_within_its_field(mild):
    """By hand: its field ends at 3 mol/L, 190.6 g/L, and 2.995 mol/L is rounded up to 200."""
    much = {"copper_used": Band.of([2900.0, 2995.0], 2)}
    values = used_from(dataclasses.replace(mild, bands=mild.bands | much))
    assert values["used_copper_to"] == pytest.approx(190.638, abs=1e-3)
    assert values["used_copper"] == 180


def test_a_refused_plan_leaves_no_used_bath():
    with pytest.raises(ValueError, match=r"^this bath is refused: nobody makes it"):
        used_from(planned(**REFUSED | {"draws": 20}))


def test_a_class_is_given_no_used_bath():
    with pytest.raises(ValueError, match=r"^a class is given no amounts"):
        used_from(planned(**INPUTS | {"draws": 20, "school": True}))


@pytest.mark.parametrize(
    ("value", "low", "high"), [(1.14, 1.1, 1.2), (86.47, 86, 87), (0.0, 0, 0), (1.1, 1.1, 1.1)]
)
def test_a_band_is_rounded_outwards(value, low, high):
    assert (outwards(value, math.floor), outwards(value, math.ceil)) == (low, high)
