"""What a card says in words of its own agrees with the tables and the log (laws)."""

import re

import pytest

from pcbchem.bench.hazards.caution import (
    AFTERWARDS,
    AT_THE_TRAY,
    BEFORE,
    GOES_WRONG,
    bath_cautions,
)
from pcbchem.bench.offcut.log_layout import COLUMNS
from pcbchem.bench.waste.label import label_of
from pcbchem.common.tables import read
from pcbchem.lesson.bath import card_blocks as module
from pcbchem.lesson.bath.card_blocks import (
    CAN_WAIT,
    FOOT,
    LINE_AFTER,
    LINE_BEFORE,
    READY,
    READY_LINES,
    STRIP,
    TRAY,
    blocks_of,
    label_lines,
)
from pcbchem.lesson.bath.card_paper import Setting
from pcbchem.lesson.bath.plan_words import BATH_AFTER, BATH_BEFORE

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


def test_law_the_lines_of_other_baths_take_no_caution_s_room():
    """But that of rinsing an eye, which stands once more, on every card, if it goes wrong."""
    eye = (AT_THE_TRAY, 7)
    for line in (LINE_BEFORE, LINE_AFTER):
        later = CAN_WAIT[CAN_WAIT.index(line) :]
        earlier = {place for place in CAN_WAIT if place[0]} - set(later)
        assert earlier == {eye}, line
    rinsing = {
        place: " ".join(
            row["words"] for row in read("cautions") if (int(row["layer"]), int(row["no"])) == place
        )
        for place in (eye, (GOES_WRONG, 1))
    }
    for words in rinsing.values():
        assert re.search(r"eye\b.*running water.*30 minutes", words, re.IGNORECASE), words


@pytest.mark.parametrize("bath", ["developer", "stripper", "tin bath"])
def test_law_the_lines_of_other_baths_are_those_of_their_cautions(bath):
    said = {caution.topic: caution.words for caution in bath_cautions(bath)}
    dishes = "rinsed in two dishes of clean water"
    assert dishes in said["rinsed between"] and dishes in BATH_BEFORE
    assert "two rinse dishes" in BATH_AFTER
    assert "in a labelled tub of its own" in said["tubs of their own"]
    assert "a waste tub for each" in BATH_AFTER
    if bath != "tin bath":
        assert said["never acid"].startswith("Lye never meets acid, peroxide, a bath")
        assert "Lye never comes into this bath" in BATH_BEFORE


def test_law_the_lines_of_other_baths_bind_nobody_who_has_none():
    """A board painted by hand was never developed, and many boards are neither stripped in lye nor
    tinned: no line tells anybody to do so, and none says a number, a time or a strength."""
    assert BATH_BEFORE.startswith("A board that was developed is ")
    assert "two rinse dishes before lye or tin bath" in BATH_AFTER
    assert not re.search(r"\d|minute", BATH_BEFORE + BATH_AFTER)


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
        "Burns: water, 30 minutes",
        "No drink",
        "no children near",
        "No metal, no glass, nothing added",
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
