"""What a card says in words of its own agrees with the tables and the log (laws)."""

import re

import pytest

from pcbchem.bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG
from pcbchem.bench.offcut.log_layout import COLUMNS
from pcbchem.bench.waste.label import label_of
from pcbchem.common.tables import read
from pcbchem.lesson.bath import card_blocks as module
from pcbchem.lesson.bath.card_blocks import (
    CAN_WAIT,
    FOOT,
    READY,
    READY_LINES,
    STRIP,
    TRAY,
    blocks_of,
    label_lines,
)
from pcbchem.lesson.bath.card_paper import Setting

SETTING = Setting(9.0, 199.5)
LINES = {(int(row["layer"]), int(row["no"])) for row in read("cautions")}


def test_law_every_thing_of_the_cautions_has_its_box():
    """The table changes, the card follows: each word of what to wear and have ready."""
    boxes = set(re.findall(r"\w+", " ".join(READY).lower()))
    for row in read("cautions"):
        if (int(row["layer"]), int(row["no"])) in READY_LINES:
            words = set(re.findall(r"\w+", row["words"].lower().removeprefix("ready: ")))
            assert words <= boxes, (row["topic"], words - boxes)


def test_law_nothing_that_keeps_people_whole_can_wait():
    """Before a bottle, if it goes wrong, watch, stop, run, no stock, stay, never close, drains."""
    cautions = {place for place in CAN_WAIT if place[0]}
    assert cautions <= LINES
    never = {place for place in LINES if place[0] in (BEFORE, GOES_WRONG)}
    never |= {(AT_THE_TRAY, number) for number in (1, 2, 3, 6)}
    never |= {(AFTERWARDS, number) for number in (1, 2, 6)}
    assert never <= LINES and not cautions & never
    # what is written down goes before any caution, and how to lift the board out last
    assert CAN_WAIT[0] == STRIP and CAN_WAIT[-1] == (AT_THE_TRAY, 4)


def test_the_strip_asks_for_columns_of_the_log():
    columns = [column for column, _, _ in FOOT if column]
    assert set(columns) <= set(COLUMNS) and len(set(columns)) == len(columns)
    assert {"clear_after_s", "not_clear_after_s", "note"} <= set(columns)
    assert [words for column, words, _ in FOOT if not column] == ["warmest, °C"]
    assert sum(width for _, _, width in FOOT) == 100
    # a unit in the column's name is the unit on the card
    for column, words, _ in FOOT:
        assert column.endswith("_s") == words.endswith(", s")


def test_the_label_of_the_waste_says_what_is_in_it_and_where_it_goes(poured):
    label = " ".join(label_lines(poured["mild"]))
    for words in (
        "copper chloride, hydrochloric acid, hydrogen peroxide",
        "stands open",
        "never closed up",
        "Burns eyes and skin: water, 30 minutes",
        "No drink",
        "Keep children away",
        "No metal, no glass, nothing poured to it",
        "Never down the drain",
        "to the hazardous-waste site",
    ):
        assert words in label, words


def test_law_the_label_of_the_waste_is_that_of_what_is_left(poured):
    for name, plan in poured.items():
        tub = label_of(plan)
        words = " ".join(label_lines(plan))
        for said in (tub.signal, *tub.pictograms, tub.as_of):
            assert said in words, (name, said)
        for said in tub.class_words:
            assert said in words.lower(), (name, said)
        assert label_lines(plan)[1] in module.waste_label(plan, SETTING).html, name


@pytest.mark.parametrize("place", CAN_WAIT)
def test_law_what_is_left_out_is_gone_and_the_rest_stays(poured, place):
    plan = poured["mild"]
    whole = "".join(block.html for block in blocks_of(plan, SETTING, ()))
    less = "".join(block.html for block in blocks_of(plan, SETTING, (place,)))
    for caution in plan.cautions:
        words = module.marked(caution.words)
        own = (caution.layer, caution.number)
        assert (words in less) == (words in whole and own != place), own
    assert len(less) < len(whole)
    # whatever goes, one thing is always said
    assert "Nothing down the drain" in less
    # of the strip or of a label nobody says that it is a caution
    assert ("Not all of them fit" in less) == (place[0] > 0)


def test_a_board_that_stands_upright_has_a_tank_ready(poured):
    assert TRAY in " ".join(READY)
    assert module.things_ready(poured["mild"]) == list(READY)
    upright = module.things_ready(poured["upright"])
    assert len(upright) == len(READY) and not any("tray" in thing for thing in upright)
    assert any("in a larger, empty tub" in thing for thing in upright)


def test_law_large_print_is_never_below_twelve_points():
    assert module.large(9.0) == 12.0
    assert module.large(11.0) == 13.0


def test_a_bath_that_mostly_never_clears_is_looked_at_often(poured):
    class Slow:
        first_look = over_etch = None

    assert module.look_words(Slow()) == "Look often."
