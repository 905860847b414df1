"""Lines with a break after each, and as many squares as baths, none over another (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.bath.each_bath import COLUMNS, ROWS, in_one, kinds_of_squares, square
from pcbchem.page.picture import figure


def test_law_lines_are_as_they_were_and_end_in_a_break():
    lines = [np.array([[0.0, 3.0], [1.0, 2.0]]), np.array([[5.0, 6.0], [7.0, 8.0], [9.0, 1.0]])]
    points = in_one(lines).T
    breaks = np.flatnonzero(np.isnan(points).all(axis=1))
    assert list(breaks) == [2, 6] and len(points) == 7
    assert points[:2] == pytest.approx(lines[0]) and points[3:6] == pytest.approx(lines[1])
    assert in_one([]).shape == (2, 0)


@pytest.mark.parametrize("side", (0.78, 0.82))
def test_law_a_square_for_each_bath_and_none_over_another(side):
    corners = np.array([square(place, side) for place in range(COLUMNS * ROWS)])
    assert len(corners) == 200
    assert np.ptp(corners, axis=1) == pytest.approx(np.full((200, 2), side))
    # each in a step of its own, row by row
    steps = [tuple(step) for step in np.floor(corners.min(axis=1)).astype(int)]
    assert steps == [(column, row) for row in range(ROWS) for column in range(COLUMNS)]
    assert (np.floor(corners.max(axis=1)) == np.floor(corners.min(axis=1))).all()


def test_law_faint_squares_lie_under_the_kinds():
    axes = figure(2).subplots()
    kinds = kinds_of_squares(axes, 0.8, [{"facecolor": "black"}, {"facecolor": "white"}])
    faint, *over = axes.collections
    assert over == kinds and len(faint.get_paths()) == 200
    assert [len(kind.get_paths()) for kind in kinds] == [0, 0]
    assert axes.get_aspect() == 1 and not axes.axison
