"""The tent is drawn to scale, from the package's own numbers (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.where_the_copper_goes.numbers import PARTS, share_of, tent, wanted
from pcbchem.lesson.where_the_copper_goes.picture import MOST_BOARDS, RATIOS
from pcbchem.lesson.where_the_copper_goes.predictions import answer_boards


def drawn(panel, **values):
    return panel.picture_and_words(False, predicted="-", **values)[0].parts["tent"]


@pytest.mark.parametrize("parts", [float(parts) for parts in PARTS[::6]])
def test_law_the_dot_lies_on_the_edge_of_the_tent(tray, parts):
    picture = drawn(tray, parts=parts)
    (x,), (y,) = picture.dot.get_data()
    assert x == pytest.approx(parts / (1 + parts))
    assert y == pytest.approx(np.interp(x, *picture.edge.get_data()))
    assert y == pytest.approx(float(tent().carried[tent().at(parts)]))
    assert picture.pointer.get_xdata()[0] == x


@pytest.mark.parametrize("bottle", ["9", "6", "3"])
def test_law_filled_below_and_dotted_above(weaker, bottle):
    picture, case = drawn(weaker, bottle=bottle), tent(float(bottle))
    assert picture.filled.get_xy()[:3].tolist() == [[0, 0], list(case.top), [1, 0]]
    assert picture.acid_on.get_ydata()[0] == pytest.approx(case.acid_only)
    assert picture.peroxide_on.get_ydata()[1] == pytest.approx(case.peroxide_only)
    for line in (picture.acid_on, picture.peroxide_on):
        assert line.get_linestyle() == ":" and list(case.top) in line.get_xydata().tolist()


@pytest.mark.parametrize("bottle", ["9", "6", "3"])
def test_law_words_lie_at_the_line_that_they_name(weaker, bottle):
    """Nearer to it than to the other, and above the tent; the top is called no mix to pour."""
    # the slider is far from the top
    picture = drawn(weaker, bottle=bottle, parts=0.2 if bottle == "3" else 3.0)
    width = picture.axes.bbox.width / picture.axes.bbox.height * MOST_BOARDS
    lines = (picture.acid_on, picture.peroxide_on)
    assert picture.acid_could.get_text() == "what the acid\ncould carry"
    assert picture.peroxide_could.get_text() == "what the peroxide\ncould carry"
    for words, own in zip((picture.acid_could, picture.peroxide_could), lines, strict=True):
        box = words.get_window_extent().transformed(picture.axes.transData.inverted())
        shares, boards = np.meshgrid(np.linspace(box.x0, box.x1), np.linspace(box.y0, box.y1))
        far = []
        for line in lines:
            x, y = line.get_data()
            at = np.linspace(0, 1, 400)
            xs, ys = x[0] + at * (x[1] - x[0]), y[0] + at * (y[1] - y[0])
            apart = np.hypot(
                (shares[..., None] - xs) * width, np.minimum(ys, MOST_BOARDS) - boards[..., None]
            )
            far.append(apart.min())
        assert far[lines.index(own)] == min(far) and min(far) < 2
        assert box.y0 > tent(float(bottle)).top[1]
    share, top = tent(float(bottle)).top
    # where equal parts are just right of the top, their words stand there
    assert picture.top_words.get_visible() == (bottle != "6")
    assert "not the mix to pour" in picture.top_words.get_text()
    x, y = picture.top_words.get_position()
    assert 0 < x - share < 0.05 and 0 < y - top < 0.5


def test_law_the_axes_are_straight_and_hold_every_tent(tray):
    axes = drawn(tray).axes
    assert axes.get_xscale() == axes.get_yscale() == "linear"
    assert axes.get_xlim() == (0, 1) and axes.get_ylim() == (0, MOST_BOARDS)
    assert max(tent(bottle).top[1] for bottle in (12.0, 9.0, 6.0, 3.0)) < MOST_BOARDS
    assert max(answer_boards().values()) < MOST_BOARDS
    names = [label.get_text() for label in axes.get_xticklabels()]
    assert names == ["acid\nonly", *RATIOS, "peroxide\nonly"]
    assert list(axes.get_xticks())[1:-1] == [float(share_of(part)) for part in RATIOS.values()]


def test_law_two_levels_lie_where_they_say(tray):
    picture = drawn(tray)
    assert [line.get_ydata()[0] for line in picture.levels] == [wanted(), 1]
    assert picture.levels[0].get_linestyle() != picture.levels[1].get_linestyle()
    texts = [text.get_text() for text in picture.axes.texts]
    assert "3 boards' worth:\nthe planner's least" in texts
    assert "1: one board,\none bath" in texts


def test_law_the_ring_is_what_equal_parts_carry(tray):
    picture = drawn(tray, parts=2.0)
    assert picture.ring.get_xydata().tolist() == [[0.5, float(tent().carried[tent().at(1.0)])]]
    assert picture.ring.get_visible() and not drawn(tray, parts=1.0).ring.get_visible()
