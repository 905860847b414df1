"""Law: a picture of rows shows each band where its numbers are, with its words."""

import math

import numpy as np
import pytest

from pcbchem.lesson.own_bench.rows_picture import Row, build, draw

ROWS = [
    Row("labels alone", 3.1, 4.1, 5.4, "3.1 to 5.4 min"),
    Row("your three offcuts", 3.3, 3.9, 4.6, "3.3 to 4.6 min"),
    Row("one more like the board", 3.4, 3.9, 4.5, "would leave 80 %", dashed=True),
]
BOTH = pytest.mark.parametrize("narrow", [False, True])


def drawn(rows, narrow=False, is_log=True):
    drawing = build(narrow)
    draw(drawing, rows, "minutes", is_log=is_log)
    assert drawing.png()
    return drawing.parts["axes"]


def words_in(axes):
    names = [label.get_text() for label in axes.get_yticklabels()]
    return " ".join([*names, *(text.get_text() for text in axes.texts)])


@BOTH
@pytest.mark.parametrize("is_log", [True, False])
def test_law_a_band_lies_where_its_ends_are(narrow, is_log):
    axes = drawn(ROWS, narrow, is_log)
    for place, (patch, row) in enumerate(zip(axes.patches, ROWS, strict=True)):
        x, y = patch.get_xy().T
        assert (x.min(), x.max()) == pytest.approx((row.low, row.high))
        assert y.min() < place < y.max() and y.max() - y.min() < 1, "rows do not touch"
    middles = [float(line.get_xdata()[0]) for line in axes.lines]
    assert middles == [row.middle for row in ROWS if not row.dashed]
    assert axes.patches[-1].get_linestyle() == "--"


@BOTH
def test_law_every_row_has_its_name_and_its_words(narrow):
    whole = words_in(drawn(ROWS, narrow))
    for row in ROWS:
        assert row.name in whole and row.words in whole


@BOTH
def test_law_a_second_picture_leaves_nothing_of_the_first(narrow):
    drawing = build(narrow)
    draw(drawing, ROWS, "minutes", is_log=True)
    draw(drawing, ROWS[:1], "% by weight")
    axes = drawing.parts["axes"]
    assert len(axes.patches) == 1 and ROWS[1].name not in words_in(axes)
    assert axes.get_xscale() == "linear" and axes.get_xlabel() == "% by weight"


@BOTH
@pytest.mark.parametrize(
    "row",
    [
        Row("slow", 200.0, math.inf, math.inf, "from 3 h"),
        Row("never", math.inf, math.inf, math.inf, "never"),
        Row("sure", 4.0, 4.0, 4.0, "4 min"),
        Row("nothing", 0.0, 0.0, 0.0, "0 %"),
    ],
)
def test_law_a_band_that_ends_nowhere_is_drawn_all_the_same(row, narrow):
    for rows in ([ROWS[0], row], [row]):
        for is_log in (True, False):
            if is_log and not row.low:
                continue  # no time is nothing
            axes = drawn(rows, narrow, is_log)
            assert np.all(np.isfinite(axes.get_xlim()))


@BOTH
def test_law_an_axis_of_minutes_has_round_marks(narrow):
    for low, high in ((0.05, 0.1), (3, 5), (0.5, 240), (10, 12)):
        axes = drawn([Row("x", low, (low * high) ** 0.5, high, "x")], narrow)
        marks = [float(label.get_text()) for label in axes.get_xticklabels()]
        assert 1 <= len(marks) <= 7
        assert all(f"{mark:.1e}"[:3] in "1.0 1.5 2.0 3.0 4.0 5.0 6.0 8.0" for mark in marks)
