"""Lines and squares are drawn to scale from the package's own numbers (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.after_the_last_board.numbers import (
    LEFT_OVER,
    LONGEST,
    TIMES,
    WATER,
    peroxide_left,
)
from pcbchem.lesson.after_the_last_board.picture import SIDE
from pcbchem.lesson.after_the_last_board.predictions import GONE
from pcbchem.lesson.bath.each_bath import COLUMNS, ROWS


def drawn(panel, **values):
    return panel.picture_and_words(False, predicted="-", **values)[0].parts


@pytest.mark.parametrize("time", TIMES)
def test_law_squares_are_the_baths(peroxide, time):
    """As many of each kind as there are, none twice, none left out, all of one size."""
    hollow, filled = drawn(peroxide, time=time)["squares"].kinds
    nothing = int(np.sum(np.asarray(peroxide_left().at[time]) < LEFT_OVER))
    corners = [[path.vertices[0] for path in kind.get_paths()] for kind in (hollow, filled)]
    assert [len(kind) for kind in corners] == [nothing, 200 - nothing]
    places = {(x, y) for kind in corners for x, y in kind}
    assert places == {(x, y) for x in range(COLUMNS) for y in range(ROWS)}
    for path in (*hollow.get_paths(), *filled.get_paths()):
        assert np.ptp(path.vertices, axis=0) == pytest.approx([SIDE, SIDE])


def test_law_kinds_differ_without_colour(peroxide):
    """One hollow, one filled; the dots on the line too."""
    parts = drawn(peroxide, time="1w")
    hollow, filled = parts["squares"].kinds
    assert hollow.get_facecolor()[0] == pytest.approx([1, 1, 1, 1])
    assert (filled.get_facecolor()[0] < 0.6).any()
    assert parts["lines"].hollow.get_markerfacecolor() == "white"


@pytest.mark.parametrize("bottles", WATER)
def test_law_lines_are_every_tenth_bath(peroxide, bottles):
    lines, left = drawn(peroxide, bottles=bottles)["lines"], peroxide_left(bottles)
    points = lines.lines.get_xydata()
    assert np.isnan(points[:, 1]).sum() == left.drawn.size == 20
    apart = np.split(points, np.flatnonzero(np.isnan(points[:, 1])))
    for line, course in zip(apart, left.lines.T, strict=False):
        line = line[~np.isnan(line[:, 1])]
        seen = line[:, 1] > 1e-4
        assert line[seen, 1] == pytest.approx(course[seen])
        assert line[:, 0] == pytest.approx(left.times)
    # every tenth in the order in which they are done
    order = np.sort(left.gone.values)
    assert left.gone.values[left.drawn] == pytest.approx(order[4::10])


@pytest.mark.parametrize("time", TIMES)
def test_law_a_dot_is_hollow_where_peroxide_is_gone(peroxide, time):
    lines, left = drawn(peroxide, time=time)["lines"], peroxide_left()
    here = np.asarray(left.at[time])[left.drawn]
    assert lines.filled.get_xdata().size == np.sum(here >= LEFT_OVER)
    assert lines.hollow.get_xdata().size == np.sum(here < LEFT_OVER)
    assert (lines.filled.get_ydata() >= LEFT_OVER).all()
    assert set(lines.moment.get_xdata()) == {TIMES[time]}


def test_law_the_stripe_ends_at_a_milligram_in_a_litre(peroxide):
    axes = drawn(peroxide)["lines"].axes
    stripe = axes.patches[0]
    assert stripe.get_y() + stripe.get_height() == pytest.approx(1e-3)


@pytest.mark.parametrize("guess", GONE)
def test_law_the_guess_is_a_bracket_from_time_to_time(peroxide, guess):
    drawing, words = peroxide.picture_and_words(False, predicted=guess)
    mark = drawing.parts["lines"].guess
    assert (
        mark.get_visible()
        and mark.get_marker() == "|" != drawing.parts["lines"].hollow.get_marker()
    )
    first, last = GONE[guess]
    # three months lie beyond the axis: the mark ends before it does, whole
    begins, ends = mark.get_xdata()
    assert begins == first
    assert ends == last if last < LONGEST else LONGEST / 2 < ends < LONGEST
    assert f"“{peroxide.prediction.options[guess].words}”, is a bracket" in words.alt
