"""The hill is drawn where it is, and its two ways are told apart without colour (laws)."""

import pytest

from pcbchem.lesson.acid_into_water.numbers import ASKED, FUMES, MILD, STRONGEST, hill
from pcbchem.lesson.acid_into_water.panel import build, say
from pcbchem.lesson.acid_into_water.picture import MOST


@pytest.fixture(params=[False, True])
def drawing(request):
    return build(request.param)


@pytest.mark.parametrize("acid", [ASKED, STRONGEST, MILD])
def test_law_curves_and_jugs_stand_where_they_are(drawing, acid):
    pair, picture = hill(acid), drawing.parts["hill"]
    say(drawing, pair, 40, "-", None)
    for line, way in ((picture.up, pair.up), (picture.over, pair.over)):
        assert line.get_xdata() == pytest.approx(way.strength / 1000)
        assert line.get_ydata() == pytest.approx(way.T - 273.15)
    for mark, way in zip(picture.jugs, (pair.up, pair.over), strict=True):
        strength, T = way.at(40)
        assert mark.get_xydata()[0] == pytest.approx([strength / 1000, T - 273.15])
    assert picture.end.get_xydata()[0] == pytest.approx([pair.end[0] / 1000, pair.end[1] - 273.15])


def test_law_axes_are_straight_and_hold_every_hill(drawing):
    axes = drawing.parts["hill"].axes
    assert axes.get_xscale() == axes.get_yscale() == "linear"
    strongest = hill(STRONGEST)
    assert strongest.over.strength.max() / 1000 < MOST
    assert axes.get_ylim()[0] < 20 < strongest.top[1] - 273.15 < axes.get_ylim()[1]


def test_law_the_two_ways_differ_in_more_than_colour(drawing):
    picture = drawing.parts["hill"]
    assert picture.up.get_linestyle() == "-" and picture.over.get_linestyle() == "--"
    assert picture.up.get_linewidth() > picture.over.get_linewidth()


def test_law_what_is_refused_begins_at_the_rule_s_limit(drawing):
    """A grey region up to the end of the axis."""
    picture = drawing.parts["hill"]
    (region,) = picture.axes.patches
    assert region.get_x() == FUMES.limit / 1000 == picture.limit
    assert region.get_x() + region.get_width() == pytest.approx(MOST)


def test_law_its_words_are_there_before_and_after(drawing):
    for predicted in (None, "-"):
        say(drawing, hill(ASKED), 25, predicted, None)
        seen = [t.get_text() for t in drawing.parts["hill"].axes.texts if t.get_visible()]
        assert any("the planner refuses it" in " ".join(text.split()) for text in seen)


@pytest.mark.parametrize("narrow", [False, True])
def test_law_the_scale_comes_and_goes_with_the_answer(narrow):
    """It lies in the ground of the picture, which is drawn only when something there changes."""

    def pictures(*predicted):
        drawing = build(narrow)
        drawn = []
        for guess in predicted:
            say(drawing, hill(ASKED), 25, guess, None)
            drawn.append(drawing.png(1.0))
        return drawn

    asked, answered = pictures(None, "-")
    answered_at_once, asked_again = pictures("-", None)
    assert asked == asked_again != answered
    assert answered == answered_at_once
