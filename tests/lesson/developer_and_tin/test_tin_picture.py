"""Rows of tin are drawn from the package's numbers, on one axis with all there is (laws)."""

import pytest

from pcbchem.lesson.developer_and_tin.numbers import RINSES, carried, coating
from pcbchem.lesson.developer_and_tin.tin_picture import BOARD_ROW, ENDS, KILLED_ROW


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("dishes", RINSES)
def test_law_each_row_is_the_bench_s(tin, dishes, narrow):
    drawing, _ = tin.picture_and_words(narrow, predicted="-", rinse=str(dishes))
    rows = drawing.parts["rows"]
    board = carried(dishes)
    wanted = {
        BOARD_ROW: [1000 * end for end in coating()],
        KILLED_ROW: [1000 * float(board.killed.low), 1000 * float(board.killed.high)],
    }
    for place, (low, high) in wanted.items():
        x = rows.chart.bands[place].get_xy()[:, 0]
        assert (x.min(), x.max()) == pytest.approx((low, high))
        # nothing is cut off at an end of the axis
        assert ENDS[0] < low < high < ENDS[1]
    middle = 1000 * float(board.killed.middle)
    assert rows.chart.dots[KILLED_ROW].get_xdata()[0] == pytest.approx(middle)
    # no middle of a coating is known
    assert rows.chart.dots[BOARD_ROW] not in rows.moving
    assert not rows.chart.dots[BOARD_ROW].get_visible()


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("predicted", [None, "-"])
def test_law_all_the_tin_is_always_there(tin, narrow, predicted):
    axes = tin.picture_and_words(narrow, predicted=predicted)[0].parts["rows"].chart.axes
    upright = [line for line in axes.lines if list(line.get_xdata()) == [8.0, 8.0]]
    assert len(upright) == 1 and upright[0].get_visible() and axes.get_xscale() == "log"
    assert "all the tin\nin the bath: 8" in [text.get_text() for text in axes.texts]
