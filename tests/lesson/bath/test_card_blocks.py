"""What a card says in words of its own agrees with the tables and the log (laws)."""

import re

import pytest

from pcbchem.bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG
from pcbchem.bench.offcut.log_layout import COLUMNS
from pcbchem.common.tables import read
from pcbchem.lesson.bath import card_blocks as module
from pcbchem.lesson.bath.card_blocks import CAN_WAIT, FOOT, LABEL, READY, READY_LINES, blocks_of

LINES = {(int(row["layer"]), int(row["no"])) for row in read("cautions")}


def test_law_every_thing_of_the_cautions_has_its_box():
    """The table changes, the card follows: each word of what to wear and have ready."""
    boxes = set(re.findall(r"\w+", " ".join(READY).lower()))
    for row in read("cautions"):
        if (int(row["layer"]), int(row["no"])) in READY_LINES:
            words = set(re.findall(r"\w+", row["words"].lower().removeprefix("ready: ")))
            assert words <= boxes, (row["topic"], words - boxes)


def test_law_what_can_wait_is_neither_first_aid_nor_a_reason_to_run():
    cautions = {place for place in CAN_WAIT if place[0]}
    assert cautions <= LINES
    never = {(GOES_WRONG, number) for number in (1, 2, 3, 4, 5, 7)}
    never |= {(AT_THE_TRAY, 1), (AT_THE_TRAY, 2), (AT_THE_TRAY, 3), (AFTERWARDS, 2)}
    assert not cautions & (never | {place for place in LINES if place[0] == BEFORE})


def test_the_strip_asks_for_columns_of_the_log():
    columns = [column for column, _, _ in FOOT if column]
    assert set(columns) <= set(COLUMNS) and len(set(columns)) == len(columns)
    assert {"clear_after_s", "not_clear_after_s", "note"} <= set(columns)
    assert [words for column, words, _ in FOOT if not column] == ["warmest, °C"]
    assert sum(width for _, _, width in FOOT) == 100
    # a unit in the column's name is the unit on the card
    for column, words, _ in FOOT:
        assert column.endswith("_s") == words.endswith(", s")


def test_the_label_of_the_waste_says_what_is_in_it_and_where_it_goes():
    label = " ".join(LABEL)
    for words in (
        "copper chloride, hydrochloric acid, hydrogen peroxide",
        "stands open",
        "never closed up",
        "Not down the drain",
        "to the collection point",
    ):
        assert words in label, words


@pytest.mark.parametrize("place", CAN_WAIT)
def test_law_what_is_left_out_is_gone_and_the_rest_stays(poured, place):
    plan = poured["mild"]
    whole = "".join(block.html for block in blocks_of(plan, 9.0, ()))
    less = "".join(block.html for block in blocks_of(plan, 9.0, (place,)))
    for caution in plan.cautions:
        words = module.marked(caution.words)
        own = (caution.layer, caution.number)
        assert (words in less) == (words in whole and own != place), own
    assert len(less) < len(whole)
    # whatever goes, one thing is always said
    assert "Not down the drain" in less or "Nothing down the drain." in less


def test_law_large_print_is_never_below_twelve_points():
    assert module.large(9.0) == 12.0
    assert module.large(11.0) == 13.0


def test_a_bath_that_mostly_never_clears_is_looked_at_often(poured):
    class Slow:
        first_look = over_etch = None

    assert module.look_words(Slow()) == "Look often."
