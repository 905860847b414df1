"""The fields of one more offcut say one row of a log; refusals are read as words (laws)."""

import re

import pytest

from pcbchem.bench.offcut.log_layout import COLUMNS
from pcbchem.bench.offcut.log_row import cells_of
from pcbchem.common.limits import InputError
from pcbchem.lesson.bath.card_blocks import FOOT
from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench.bench import workshop_plan
from pcbchem.lesson.own_bench.offcut_form import (
    COLUMN_OF,
    CONTROLS,
    DISH,
    FIRST,
    HOT,
    NOT_CLEAR,
    OTHER,
    REST,
    ROW,
    WORDS_OF,
    offcut_from,
    page_words,
)
from pcbchem.page.widget.controls import Field, all_controls

TODAY = "2027-03-01"
STARTS = {control.name: control.start for control in all_controls((ROW, REST))}
OUNCE = 305.15  # g/m²
STRENGTHS = {
    "acid_low": 14.0,
    "acid_to": 16.0,
    "peroxide_low": 5.5,
    "peroxide_to": 6.0,
    "water": 2.0,
    "acid": 1.5,
    "peroxide": 1.25,
}
"""Another recipe than the workshop's, in each of its fields."""
ANOTHER = STRENGTHS | {
    "foil": 2.0,
    "bottles": 17.0,
    "air": 25.0,
}
"""A bath that is unlike the workshop's in each of its fields."""


def offcut(plan=None, **values):
    return offcut_from(STARTS | {"seen": "4 min"} | values, plan or workshop_plan(), TODAY)


def test_law_every_field_fills_a_column_and_every_column_a_field():
    numbers = {control.name for control in CONTROLS.values() if isinstance(control, Field)}
    assert set(COLUMN_OF) == numbers
    said = {column for column, _ in COLUMN_OF.values()} | set(WORDS_OF.values())
    chosen = {"agitation", "facing", "clear_after_s", "not_clear_after_s"}
    assert said | chosen == set(COLUMNS)


def test_law_the_card_s_strip_is_filled_in_field_by_field():
    """What is written beside the tray has a field among the first, or goes into the note."""
    first = {control.name: "x" for control in FIRST if control.name in WORDS_OF}
    assert {"date", "acid_bottle", "peroxide_bottle", "note"} == set(first)
    columns = {column for column, _, _ in FOOT if column}
    for outcome, time in (("clear", "clear_after_s"), (NOT_CLEAR, "not_clear_after_s")):
        other = {"clear_after_s", "not_clear_after_s"} - {time}
        cells = cells_of(offcut(outcome=outcome, **first))
        assert {column for column in columns if not cells[column]} == other
    without = [words for column, words, _ in FOOT if not column]
    assert without == ["warmest, °C"], "it goes into the note"


def test_law_one_that_was_lifted_out_hot_was_not_clear():
    """Its note says so, before what its reader writes."""
    plain, noted = offcut(outcome=HOT), offcut(outcome=HOT, note="foam")
    assert not plain.clear and plain.time == 240
    assert (plain.note, noted.note) == ("lifted out at 45 °C", "lifted out at 45 °C; foam")


def test_as_printed_left_blank_an_offcut_is_half_the_workshop_s_board():
    """27 cm² in 150 mL, one to one, 10 mm deep: 13.5 cm² in 75 mL, in a tray of 150 cm²."""
    row = offcut()
    assert float(row.board.copper_area) == pytest.approx(13.5e-4)
    assert row.volume == pytest.approx(75e-6) and row.tray.open_area == pytest.approx(0.015)
    assert float(row.board.foil.areal_mass) == pytest.approx(OUNCE / 1000, abs=1e-12)
    assert (row.parts, row.time, row.clear) == ((0, 1, 1), 240, True)
    assert (row.date, row.note) == (TODAY, "")
    assert (row.acid_bottle, row.peroxide_bottle) == ("acid", "peroxide")
    assert (row.acid.low, row.acid.high) == pytest.approx((0.09, 0.11))


def test_law_a_smaller_offcut_has_as_much_bath_for_its_copper():
    row = offcut(bare=4.0)
    assert row.volume / float(row.board.copper_area) == pytest.approx(150e-6 / 27e-4)
    assert offcut(bare=4.0, bath=30.0).volume == pytest.approx(30e-6)


def test_law_a_dish_has_its_own_open_area_or_none_that_is_known():
    assert offcut(dish=DISH).tray.open_area is None
    assert offcut(dish=DISH, open=40.0).tray.open_area == pytest.approx(40e-4)


def test_law_a_field_that_is_hidden_says_nothing():
    """It keeps what was entered before: another bath's, or a dish's."""
    assert offcut(open=40.0).tray.open_area == offcut().tray.open_area
    hidden = cells_of(offcut(**STRENGTHS))
    assert hidden == cells_of(offcut())


def test_law_the_board_s_own_bath_may_be_warmer_or_on_other_foil():
    row = offcut(foil=2.0, bottles=17.0, air=25.0)
    assert row.parts == offcut().parts and (row.T_bottles, row.tray.T_air) == (290.15, 298.15)
    assert float(row.board.foil.areal_mass) == pytest.approx(2 * OUNCE / 1000)


def test_law_another_bath_is_said_number_by_number():
    row = offcut(recipe=OTHER, moved="still", faced="down", outcome=NOT_CLEAR, **ANOTHER)
    assert row.parts == (2.0, 1.5, 1.25) and not row.clear
    ends = (row.acid.low, row.acid.high, row.peroxide.low, row.peroxide.high)
    assert ends == pytest.approx((0.14, 0.16, 0.055, 0.06))
    assert float(row.board.foil.areal_mass) == pytest.approx(2 * OUNCE / 1000)
    assert (row.T_bottles, row.tray.T_air) == pytest.approx((290.15, 298.15))
    assert (row.tray.agitation, row.tray.facing) == ("still", "down")


@pytest.mark.parametrize(
    "text, seconds",
    [("4 min 10 s", 250), ("4:10", 250), ("250 s", 250), ("4,5 min", 270), ("0.5 h", 1800)],
)
def test_law_a_time_is_read_as_people_write_it(text, seconds):
    assert offcut(seen=text).time == seconds


def test_law_words_come_as_they_are_without_spaces_around():
    row = offcut(date=" spring ", note=" lamp, on; 5 “mm” ", acid_bottle=" old ")
    assert (row.date, row.note, row.acid_bottle) == ("spring", "lamp, on; 5 “mm”", "old")


def test_law_a_number_never_looks_like_thousands():
    """1.234 could be either in a file of a spreadsheet."""
    row = offcut(bare=5.125, bath=30.125)
    assert float(row.board.copper_area) == pytest.approx(5.125e-4)
    assert row.volume == pytest.approx(30.125e-6)


# ---- refusals

BAD = [
    ({"bare": 0.0}, "Bath = 0 cannot be: it must be above 0"),
    ({"bare": -1.0, "bath": 30.0}, "Bare copper on it = -1 cannot be: it must be above 0"),
    ({"bare": 1000.0}, "Bare copper on it = 1000 cannot be facing up: it must be above 0 to open"),
    ({"bare": 0.05}, "over open area of the dish = 150: it must be 1.53 to"),
    ({"bath": 0.0}, "Bath = 0 cannot be: it must be above 0"),
    ({"bath": 0.1}, "Bath = 0.1 cannot be over bare copper on it = 13.5"),
    ({"bath": 1.0}, "Bath = 1 cannot be over open area of the dish = 150"),
    ({"bath": 1e9}, "Bath = 1e+09 cannot be"),
    ({"dish": DISH, "open": 0.5}, "cannot be facing up: it must be above 0 to open area"),
    ({"dish": DISH, "open": 1e6}, "Open area of the dish = 1e+06 cannot be"),
    ({"dish": DISH, "bare": 500.0, "bath": 1e5}, "with open area of the dish blank"),
    ({"acid_low": 50.0}, "Acid, at least = 50 cannot be: it must be 0 to 45 %"),
    ({"acid_low": 12.0}, "it must be at most acid, at most = 11 %"),
    ({"acid_to": 46.0}, "Acid, at most = 46 cannot be"),
    ({"peroxide_low": 60.0}, "it must be at most peroxide, at most = 12 %"),
    ({"peroxide_to": 71.0}, "Peroxide, at most = 71 cannot be: it must be 0 to 70 %"),
    ({"water": -1.0}, "Water = -1 cannot be"),
    ({"acid": -0.5}, "Acid = -0.5 cannot be"),
    ({"peroxide": 1e7}, "Peroxide = 1e+07 cannot be"),
    ({"water": 0.0, "acid": 0.0, "peroxide": 0.0}, "is nothing to pour"),
    ({"foil": 0.0}, "Copper foil = 0 cannot be"),
    ({"foil": 1e6}, "Copper foil ="),
    ({"bottles": 41.0}, "Bottles and water = 41 cannot be: it must be 0 to 40 °C"),
    ({"air": -50.0}, "Air = -50 cannot be: it must be -23.15 to"),
    ({"note": 1001 * "x"}, "Note of 1001 letters"),
    ({"date": 41 * "x"}, "Date of 41 letters"),
    ({"acid_bottle": ""}, "Its acid bottle of 0 letters cannot be: it must have 1 to 60"),
    ({"peroxide_bottle": "  "}, "Its peroxide bottle of 0 letters"),
    ({"peroxide_bottle": 61 * "x"}, "Its peroxide bottle of 61 letters"),
    ({"acid_bottle": "a\nb"}, "Its acid bottle"),
    ({"note": "a\x07b"}, "Note"),
    ({"seen": ""}, "After: say how long it was in, such as 4 min 10 s"),
    ({"seen": "4.1"}, "could be minutes or seconds: write min or s behind the number"),
    ({"seen": "4"}, "could be minutes or seconds"),
    ({"seen": "-4 min"}, "is below zero"),
    ({"seen": "0 s"}, "it must be 0.5 to 14400 s"),
    ({"seen": "5 h"}, "it must be 0.5 to 14400 s"),
    ({"seen": "1:99"}, "is no time on a clock"),
    ({"seen": "soon"}, "does not begin with a number"),
]


@pytest.mark.parametrize("values, words", BAD)
def test_law_what_cannot_be_is_said_by_the_page_s_labels(values, words):
    if any(name in ANOTHER for name in values):
        values = {"recipe": OTHER, **values}
    with pytest.raises(ValueError) as error:
        offcut(**values)
    said = str(error.value)
    assert words in said
    names = [name for name in COLUMNS if "_" in name]
    assert [name for name in names if name in said] == [], "no reader knows the file's columns"
    assert not re.search(r"m³|kg|\d K\b", said)


def test_law_a_column_without_a_field_keeps_its_name():
    said = page_words(InputError("agitation", "choose from still", value="x", wrong="is not known"))
    assert said == "Agitation = 'x' is not known: choose from still. Nothing was added."


def test_law_an_offcut_is_like_the_board_that_was_handed_over():
    """Half of 100 × 80 mm, 40 % bare, 2 oz, in its own tray of 200 × 150 mm."""
    board = {
        "board_width": 100,
        "board_height": 80,
        "bare": 40,
        "foil": 2,
        "tray_width": 200,
        "tray_length": 150,
        "total": 320,
        "water_parts": 1,
        "agitation": "still",
    }
    row = offcut(fields.plan_from(fields.STARTS | board))
    assert float(row.board.copper_area) == pytest.approx(16e-4)
    assert row.volume == pytest.approx(160e-6) and row.tray.open_area == pytest.approx(0.03)
    assert row.parts[0] == 1 and row.tray.agitation == "still"
    assert float(row.board.foil.areal_mass) == pytest.approx(2 * OUNCE / 1000, rel=1e-4)
