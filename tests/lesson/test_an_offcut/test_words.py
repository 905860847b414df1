"""Title, sentence and text alternative of a bench say the same numbers (laws)."""

import re

import pytest

from pcbchem.lesson.test_an_offcut import words
from pcbchem.lesson.test_an_offcut.numbers import (
    BENCHES,
    CARE,
    MOST_OFFCUTS,
    after,
    by_labels,
    holds,
    seen,
    truth,
    width,
)
from pcbchem.lesson.test_an_offcut.words import (
    FUNNEL,
    HOW,
    MADE_UP,
    SHORT,
    TIMED,
    funnel_question,
    funnel_rows,
    funnel_words,
    list_of,
    timed_question,
    timed_rows,
    timed_words,
)

NUMBERS = (1, 7, 23, BENCHES)
"""Benches; the band of 23 misses the truth, as it does for few: and yet no draws are made anew."""


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("offcuts", range(MOST_OFFCUTS + 1))
def test_law_a_funnel_says_what_its_rows_show(number, offcuts):
    told = funnel_words(number, offcuts)
    rows = funnel_rows(number, offcuts, is_known=True)
    assert list(rows) == list(FUNNEL[: 3 + offcuts])
    for name, band in rows.items():
        low, high = re.search(rf"{name} ([\d.]+) to ([\d.]+) min", told.alt).groups()
        assert (float(low), float(high)) == pytest.approx(
            (band.low / 60, band.high / 60), abs=0.051
        )
    widths = [float(found) for found in re.findall(r"1\.\d\d|2\.\d\d", told.title)]
    last = [width(after(number, offcuts))] if offcuts else []
    assert widths == pytest.approx([*last, width(by_labels())], abs=0.0051)
    assert told.readout.endswith(MADE_UP) and MADE_UP in told.alt
    assert f"Bench {number}, " in told.readout
    band = after(number, offcuts) if offcuts else by_labels()
    where = "lies in it" if holds(band, truth(number)) else "lies outside"
    assert f"{words.range_words(band)}. The truth, {truth(number) / 60:.1f} min, {where}." in (
        told.readout
    )
    if offcuts:
        assert f"{list_of(seen(number)[:offcuts])} min." in told.alt
    else:
        assert "no offcut" in told.readout and "cross" not in told.alt


def test_law_a_headline_has_few_numbers():
    """Title and sentence together: the other numbers stand in the picture."""
    for number in NUMBERS:
        told = funnel_words(number, 2)
        assert len(re.findall(r"\d+(?:\.\d+)?", f"{told.title} {told.readout}")) <= 8


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("way", HOW)
def test_law_the_truth_lies_where_the_words_say(number, way):
    told = timed_words(number, way)
    band, true = after(number, MOST_OFFCUTS, way), truth(number)
    where = "lies in it" if holds(band, true) else "lies outside"
    for text in (told.title, told.readout, told.alt):
        assert where in text and f"{true / 60:.1f}" in text
        assert words.range_words(band) in text
    assert told.title.startswith(SHORT[way]) and SHORT[way] in told.readout
    assert list_of(seen(number, way)) in told.alt
    assert ("Watched it is" in told.readout) == (way != CARE)
    # of two rows that are one bar it is said
    watched, last = (timed_rows(number, way, is_known=True)[name] for name in (TIMED[1], TIMED[-1]))
    is_one_bar = (watched.low, watched.high) == (last.low, last.high)
    assert is_one_bar == (way == CARE) == ("are the same" in told.readout)
    rows = timed_rows(number, way, is_known=True)
    assert list(rows) == list(TIMED)
    for name, row in rows.items():
        assert f"{name} {words.range_words(row)}" in told.alt
    assert told.readout.endswith(MADE_UP)


def test_law_a_question_says_what_is_known_and_no_more():
    first, second = funnel_question(7), timed_question(7)
    assert "1.80" in first.title and "3.1 to 5.7 min" in first.alt
    assert not re.search(r"1\.[456]|bottles|offcut", first.alt)
    assert not re.search(r"1\.[456]|watched|truth|so timed", second.alt)
    assert "Predict first" in first.readout and "Predict first" in second.readout


def test_law_times_are_listed_as_people_do():
    assert list_of((60.0,)) == "1.0"
    assert list_of((60.0, 90.0)) == "1.0 and 1.5"
    assert list_of((60.0, 90.0, 240.0)) == "1.0, 1.5 and 4.0"
