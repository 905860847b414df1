"""Courses and squares are drawn to scale from the package's own numbers (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.bath.each_bath import COLUMNS, ROWS
from pcbchem.lesson.weak_peroxide.numbers import BROWN, LASTS, NEVER, at
from pcbchem.lesson.weak_peroxide.picture import SIDE
from pcbchem.lesson.weak_peroxide.predictions import CLEAR

PLACES = (0.7, 1.1, 1.6, 3.0, 4.8)


def drawn(panel, **values):
    return panel.picture_and_words(False, predicted="-", **values)[0].parts


def corners(squares):
    """First corners of the squares of one kind, the one beside the words left out."""
    return [path.vertices[0] for path in squares.get_paths()][:-1]


@pytest.mark.parametrize("times", PLACES)
def test_law_squares_are_the_baths(weak, times):
    """As many of each kind as there are, none twice, none left out, all of one size."""
    squares = drawn(weak, times=times)["squares"]
    kinds = [corners(kind) for kind in squares.kinds]
    assert tuple(len(kind) for kind in kinds) == at(times).counts
    places = {(x, y) for kind in kinds for x, y in kind}
    assert places == {(x, y) for x in range(COLUMNS) for y in range(ROWS)}
    for kind in squares.kinds:
        for path in kind.get_paths():
            size = path.vertices.max(axis=0) - path.vertices.min(axis=0)
            assert size == pytest.approx([SIDE, SIDE])
    for words, count in zip(squares.words, at(times).counts, strict=True):
        assert words.get_text().startswith(f"{count} ")


@pytest.mark.parametrize("times", PLACES)
def test_law_strokes_lie_in_their_squares(weak, times):
    """Two through each that never clears, three through each that was brown, keys included."""
    squares = drawn(weak, times=times)["squares"]
    for kind, line, strokes in ((BROWN, squares.hatching, 3), (NEVER, squares.crosses, 2)):
        boxes = [path.vertices for path in squares.kinds[kind].get_paths()]
        points = line.get_xydata().reshape(len(boxes), strokes, 3, 2)
        assert np.isnan(points[:, :, 2]).all()  # a break after each stroke
        for box, ends in zip(boxes, points[:, :, :2], strict=True):
            assert (ends >= box.min(axis=0) - 1e-9).all() and (ends <= box.max(axis=0) + 1e-9).all()
            assert (ends[:, 0] != ends[:, 1]).all()  # slanting


def test_law_kinds_differ_without_colour(weak):
    """One filled, two white with strokes of their own (the law above)."""
    kinds = drawn(weak, times=1.1)["squares"].kinds
    assert (kinds[LASTS].get_facecolor()[0] < 0.6).any()
    for kind in (BROWN, NEVER):
        assert kinds[kind].get_facecolor()[0] == pytest.approx([1, 1, 1, 1])


@pytest.mark.parametrize("times", PLACES)
def test_law_lines_are_the_courses(weak, times):
    courses, fates = drawn(weak, times=times)["courses"], at(times)
    assert courses.axes.get_xscale() == courses.axes.get_yscale() == "linear"
    assert courses.axes.get_xlim() == (0, 4)
    assert np.isnan(courses.solid.get_xdata()).sum() == 20
    spent = [place for place in fates.spent_at if place is not None]
    assert np.isnan(courses.dashed.get_xdata()).sum() == len(spent)
    assert courses.dashed.get_linestyle() != courses.solid.get_linestyle()
    dots = courses.dots.get_xydata()
    assert len(dots) == len(spent)
    expected = [
        (minutes[place] / 60, 100 * left[place])
        for minutes, left, place in zip(fates.minutes, fates.left, fates.spent_at, strict=True)
        if place is not None
    ]
    assert dots == pytest.approx(np.array(expected).reshape(-1, 2))
    # a solid line ends where its dashed one begins
    solid, dashed = (
        [tuple(line.get_xydata()[place]) for place in places]
        for line, places in (
            (courses.solid, np.flatnonzero(np.isnan(courses.solid.get_xdata())) - 1),
            (
                courses.dashed,
                [0, *(np.flatnonzero(np.isnan(courses.dashed.get_xdata()))[:-1] + 1)][: len(spent)],
            ),
        )
    )
    assert set(dashed) <= set(solid)


@pytest.mark.parametrize("guess", CLEAR)
def test_law_the_guess_is_a_hollow_mark_at_its_share(weak, guess):
    drawing, words = weak.picture_and_words(False, times=1.1, predicted=guess)
    squares = drawing.parts["squares"]
    assert squares.guess.get_visible() and squares.guess.get_markerfacecolor() == "white"
    assert squares.guess.get_ydata()[0] == pytest.approx(ROWS * CLEAR[guess])
    assert squares.guess_words.get_text() == "you predicted: clear above this"
    assert f"“{weak.prediction.options[guess].words}”, is a hollow mark" in words.alt
