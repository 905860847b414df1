"""Texts and times in words refuse what cannot be, by their label, and say how they read (laws)."""

import itertools

import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.answers import read_answer
from pcbchem.page.widget.controls import Slider, Text, TimeText
from pcbchem.page.widget.texts import refusals, times_read

NOTE = Text("note", "Note", "tray", 8)
DAY = Text("day", "Day", "", 10, "as 2026-11-30", kinds="0123456789-")
CLEAR = TimeText("clear", "Clear after", 10, 600)


@pytest.mark.parametrize("text", [NOTE, DAY, CLEAR, TimeText("a", "A", 0, 9, "5 s")])
def test_law_a_text_works_at_each_of_its_ends(text):
    for value in text.ends:
        text.check(value)
    assert {text.start, ""} <= set(text.ends)
    assert len(text.ends) == len(set(text.ends))


def test_law_the_longest_text_is_an_end():
    assert NOTE.ends == ("tray", "", "x" * 8)
    assert DAY.ends == ("", "0" * 10)


@pytest.mark.parametrize(
    "value",
    ["", "a b", "Großmöbl", "水槽", "<b>&\"'", "\u200d", "é" * 8, "🙂" * 8],
    ids=repr,
)
def test_law_one_line_of_any_words_is_taken(value):
    NOTE.check(value)


@pytest.mark.parametrize(
    ("text", "value", "words"),
    [
        (NOTE, None, "Note = None is no text"),
        (NOTE, 3, "Note = 3 is no text"),
        (NOTE, b"ab", "Note = b'ab' is no text"),
        (NOTE, "x" * 9, "Note = 'xxxxxxxxx'… is too long: it may have 8 letters, and has 9"),
        (NOTE, "a\nb", "Note = 'a\\nb' holds a line end"),
        (NOTE, "a\tb", "Note = 'a\\tb' holds a line end, or a letter that cannot be seen"),
        (NOTE, "a\r", "Note = 'a\\r' holds a line end"),
        (NOTE, "a\x00", "Note = 'a\\x00' holds a line end"),
        (NOTE, "a\x85", "Note = 'a\\x85' holds a line end"),
        (NOTE, "a\u2028", "Note = 'a\\u2028' holds a line end"),
        (NOTE, "a\u2029", "Note = 'a\\u2029' holds a line end"),
        (NOTE, "a\ud83d", "Note = 'a\\ud83d' holds a line end"),
        (DAY, "30 Nov", "Day = '30 Nov' holds ' ': it takes only these: 0123456789-"),
        (CLEAR, 250, "Clear after = 250 is no text"),
        (CLEAR, "9" * 61, "is too long: it may have 60 letters"),
        (CLEAR, "4\nmin", "Clear after = '4\\nmin' holds a line end"),
    ],
)
def test_law_no_line_of_words_is_refused_by_its_label(text, value, words):
    with pytest.raises(InputError) as refusal:
        text.check(value)
    assert words in str(refusal.value) and refusal.value.field == text.label


def test_law_a_refusal_quotes_no_whole_book():
    with pytest.raises(InputError) as refusal:
        NOTE.check("y" * 100_000)
    assert len(str(refusal.value)) < 120


@pytest.mark.parametrize("text", ["4 min 10 s", "250 s", "4:10", "250 sec", " 4:10 ", "4m10s"])
def test_law_a_time_is_read_as_people_write_it(text):
    """Second source: as an answer to a question is."""
    assert CLEAR.seconds(text) == read_answer(text, "time", "s") == 250


@pytest.mark.parametrize("text", ["", " ", "\u00a0"])
def test_law_a_time_may_be_left_blank(text):
    assert CLEAR.seconds(text) is None and CLEAR.read_as(text) == ""


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("250", "Clear after = '250' could be minutes or seconds: write min or s behind"),
        ("4,5", "Clear after = '4,5' could be minutes or seconds"),
        ("soup", "Clear after: 'soup' does not begin with a number."),
        ("3 g", "Clear after: '3 g' holds 'g', which is no unit of time"),
        ("4 to 5 min", "is a range"),
        ("9 s", "Clear after = '9 s' is impossible"),
        ("11 min", "Clear after = '11 min' is impossible"),
        ("-4 min", "below zero"),
        ("1e400 s", "Clear after: '1e400 s' is too large"),
    ],
)
def test_law_no_time_is_refused_by_label_text_and_limits(text, words):
    with pytest.raises(InputError) as refusal:
        CLEAR.seconds(text)
    said = str(refusal.value)
    assert words in said and text in said and said.endswith("it must be 10 to 600 s")
    error = refusal.value
    assert (error.field, error.value) == ("Clear after", text)
    assert (error.low, error.high, error.unit) == (10, 600, "s")
    assert CLEAR.read_as(text) == ""


@pytest.mark.parametrize("text", ["10 s", "600 s", "10:00", "10 min"])
def test_law_both_limits_may_be_reached(text):
    assert CLEAR.seconds(text) in (10, 600)


def test_law_what_a_time_was_taken_for_is_said_where_it_is_written_otherwise():
    assert CLEAR.read_as("4:10") == CLEAR.read_as("4 min 10 s") == "250 s"
    assert CLEAR.read_as("250 s") == CLEAR.read_as(" 250 s ") == ""
    assert CLEAR.read_as("250 sec") == "250 s"


def test_law_only_texts_are_looked_at():
    controls = (Slider("water", "Water", "", 0, 1, 1, 0), NOTE, CLEAR)
    for note, clear in itertools.product(("", "a\nb"), ("", "4:10", "4")):
        values = {"water": "no number", "note": note, "clear": clear}
        refused = {"note"} if note else set()
        refused |= {"clear"} if clear == "4" else set()
        assert set(refusals(controls, values)) == refused
        assert times_read(controls, values) == ({"clear": "= 250 s"} if clear == "4:10" else {})
