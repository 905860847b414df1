"""The picture of what water costs is drawn to scale, from the bench's own numbers (laws)."""

import numpy as np
import pytest
from helpers.water_baths import PARTS

from pcbchem import Tray
from pcbchem.bench.plan.dilution import film_at_start
from pcbchem.lesson.why_water_slows_it.panel import MOST_WATER
from pcbchem.lesson.why_water_slows_it.picture import BUBBLE, NEVER, TIMES, WIDEST, arrow, spread
from pcbchem.lesson.why_water_slows_it.words import CURVE, FILM

WATERS = [parts for parts in PARTS if parts <= MOST_WATER]


def drawn(panel, view, part, **values):
    """A part of one of the panel's pictures, with the answer."""
    return panel.picture_and_words(False, view=view, **values, predicted="-")[0].parts[part]


@pytest.mark.parametrize("parts", WATERS)
def test_law_the_marker_lies_on_the_middle_line(panel, bench, parts):
    """Where the slider stands, with the band's ends at it."""
    still, place = bench["still"], PARTS.index(parts)
    strengths = drawn(panel, CURVE, "strengths", water=parts)
    (x,), (y,) = strengths.dot.get_data()
    line = np.column_stack(strengths.middle.get_data())
    assert (line == (x, y)).all(axis=1).sum() == 1
    times = still.times
    low, middle, high = (
        min(float(ends[place]), NEVER) for ends in (times.low, times.middle, times.high)
    )
    assert (x, y) == pytest.approx((still.peroxide[place] / 1000, middle))
    assert list(strengths.bar.get_ydata()) == pytest.approx([low, high])
    assert TIMES[0] < low and high <= NEVER < TIMES[1]


def test_law_the_dashed_line_is_strength_alone(panel, bench):
    """From the undiluted middle in inverse proportion to strength: slope −1 on scales of factors.

    1 %: strengths are the mixture's own, and mixed liquids take up a little less room.
    """
    strengths = drawn(panel, CURVE, "strengths")
    x, y = strengths.alone.get_data()
    assert strengths.axes.get_xscale() == strengths.axes.get_yscale() == "log"
    start = (bench["still"].peroxide[0] / 1000, float(bench["still"].times.middle[0]))
    assert (x[0], y[0]) == pytest.approx(start)
    assert np.asarray(x) * y == pytest.approx(x[0] * y[0], rel=0.01)


@pytest.mark.parametrize("which, movement", [("panel", "still"), ("shaken", "shaken")])
@pytest.mark.parametrize("parts", WATERS)
def test_law_both_films_are_drawn_to_scale(bench, parts, which, movement, request):
    """Each edge is as high as the film is thick [µm]: the left without water, the right with it."""
    films = drawn(request.getfixturevalue(which), FILM, "films", water=parts)
    for film, where in zip(films, (0, PARTS.index(parts)), strict=True):
        thickness = float(bench[movement].film["thickness"][where]) * 1e6
        assert film.edge.get_ydata()[0] == pytest.approx(thickness)
        assert film.strip.get_xy()[:, 1].max() == film.edge.get_ydata()[0]
        assert f"{thickness:.0f} µm" in film.title.get_text() or not parts


@pytest.mark.parametrize("parts", WATERS)
def test_law_arrows_and_bubbles_are_in_proportion(panel, bench, parts):
    """To what passes, the widest arrow being that of no water; copper leaves, the others arrive."""
    still, place = bench["still"], PARTS.index(parts)
    film = drawn(panel, FILM, "films", water=parts)[1]
    bath = (still.acid[place], still.peroxide[place], still.T[place])
    passing = film_at_start(*bath, 27e-4, Tray(agitation="still"))
    undiluted = max(still.film[name][0] for name in ("peroxide", "acid", "copper"))
    for name, patch in film.arrows.items():
        corners = patch.get_xy()
        width = corners[1][0] - corners[0][0]
        assert width == pytest.approx(WIDEST * passing[name] / undiluted)
        assert (corners[4][1] < corners[0][1]) == (name != "copper")
    assert len(film.bubbles.get_xdata()) == round(float(passing["oxygen"]) / BUBBLE)


def test_what_people_say_stands_as_open_marks(panel):
    axes = drawn(panel, CURVE, "strengths").axes
    opened = [
        line.get_ydata()
        for line in axes.lines
        if line.get_marker() == "o" and line.get_markerfacecolor() == "white"
    ]
    assert [list(y) for y in opened] == [[2, 2], [60, 180], [1200]]
    texts = [text.get_text() for text in axes.texts]
    for words in ("about 2 s", "1 to 3 min", "more than 20 min"):
        assert sum(words in text for text in texts) == 1


def test_law_an_arrow_is_as_wide_and_long_as_it_should():
    corners = arrow(50, 10, 100, 2)
    assert corners[1][0] - corners[0][0] == 10 and corners[0][1] == 100
    assert tuple(corners[4]) == (50, 2), "the tip"


def test_law_bubbles_lie_in_the_strip_and_are_always_the_same():
    x, y = spread(50)
    assert x.min() > 0 and x.max() < 100 and y.min() > 0
    assert np.array_equal(spread(50)[0], x)
