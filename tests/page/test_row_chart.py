"""A chart of rows draws each where its numbers are, and its words where there is room (laws)."""

import numpy as np
import pytest

from pcbchem.page.picture import SIZE, Drawing, figure
from pcbchem.page.row_chart import ChartRow, RowChart, row_words, rows_of_tenfolds

ENDS = (0.1, 100.0)
NAMES = ("first", "second", "third")


def chart(above=False):
    white = figure(3.0)
    rows = RowChart(white.subplots(), NAMES, ENDS, SIZE, above)
    return rows, Drawing(white, rows.moving)


def test_law_a_row_is_where_its_numbers_are():
    rows, drawing = chart()
    rows.draw([ChartRow(1, 2, 4, "a"), ChartRow(0.5, 1, 8, "b"), ChartRow(2, 3, 5, "c")], 1.0)
    assert [dot.get_xdata()[0] for dot in rows.dots] == [2, 1, 3]
    for place, (low, high) in enumerate(((1, 4), (0.5, 8), (2, 5))):
        corners = rows.bands[place].get_xy()
        assert (corners[:, 0].min(), corners[:, 0].max()) == (low, high)
        assert corners[:, 1].mean() == pytest.approx(place, abs=0.2)
    assert [words.get_text() for words in rows.words] == ["a", "b", "c"]
    assert list(rows.line.get_xdata()) == [1.0, 1.0]
    assert drawing.png()


def test_law_what_is_beyond_the_axis_ends_there():
    rows, _ = chart()
    rows.draw(
        [ChartRow(0.01, np.inf, np.inf, "a"), ChartRow(1, 2, 3, "b"), ChartRow(1, 2, 3, "c")], 1.0
    )
    corners = rows.bands[0].get_xy()[:, 0]
    assert (corners.min(), corners.max()) == ENDS and rows.dots[0].get_xdata()[0] == ENDS[1]


@pytest.mark.parametrize(
    ("low", "high", "side"),
    [(0.2, 1.0, "left"), (20.0, 90.0, "right"), (0.2, 90.0, "center")],
)
def test_law_words_stand_where_the_band_leaves_room(low, high, side):
    """After it, before it, or across the middle where there is room on neither side."""
    rows, _ = chart()
    rows.draw([ChartRow(low, 1.0, high, "words")] * 3, 1.0)
    x, y = rows.words[0].get_position()
    assert rows.words[0].get_ha() == side and y == 0
    assert {"left": x > high, "right": x < low, "center": low < x < high}[side]


def test_law_words_above_a_row_begin_at_the_axis():
    rows, _ = chart(above=True)
    rows.draw([ChartRow(1, 2, 3, "words")] * 3, 1.0)
    for place in range(3):
        x, y = rows.words[place].get_position()
        assert x == ENDS[0] and y < place - rows.half


def test_law_what_was_seen_stands_under_its_band():
    rows, _ = chart()
    before = len(rows.axes.lines)
    rows.seen({1: (2.0, np.inf)})
    (bracket,) = rows.axes.lines[before:]
    assert list(bracket.get_xdata()) == [2.0, ENDS[1]]
    assert all(1 + rows.half < y < 2 for y in bracket.get_ydata())


@pytest.mark.parametrize("above", [False, True])
def test_law_a_name_stands_before_its_row_or_in_its_words(above):
    axes = figure(3.0).subplots()
    rows = rows_of_tenfolds(axes, ["one\nrow", "two"], ENDS, ("0.1", "10"), "mmol", SIZE, above)
    before = [label.get_text() for label in axes.get_yticklabels()]
    assert before == (["", ""] if above else ["one\nrow", "two"])
    assert row_words("one\nrow", "3", above) == ("one row: 3" if above else "3")
    assert row_words("one\nrow", "", above) == ("one row" if above else "")
    assert [label.get_text() for label in axes.get_xticklabels()] == ["0.1", "10"]
    assert list(axes.get_xticks()) == [0.1, 10] and axes.get_xlabel() == "mmol"
    assert not rows.line.get_visible()
    assert all(words.get_bbox_patch() is not None for words in rows.words)
