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
    assert "3: what the\nplanner wants" in texts and "1: this board" in texts


def test_law_the_ring_is_what_equal_parts_carry(tray):
    picture = drawn(tray, parts=2.0)
    assert picture.ring.get_xydata().tolist() == [[0.5, float(tent().carried[tent().at(1.0)])]]
    assert picture.ring.get_visible() and not drawn(tray, parts=1.0).ring.get_visible()
