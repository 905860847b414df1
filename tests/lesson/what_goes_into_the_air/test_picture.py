"""Rows, lines and the hatched row are drawn from the package's numbers (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.what_goes_into_the_air.numbers import (
    ACIDS,
    DANGER,
    GARAGE,
    MOMENT,
    PLACES,
    SMELL,
    breathed,
    chlorine_at_most,
    limit,
)
from pcbchem.lesson.what_goes_into_the_air.picture import ENDS, LINES, UNKNOWN_ROW


def drawn(panel, narrow=False, **values):
    return panel.picture_and_words(narrow, **{"predicted": "-", **values})[0].parts["rows"]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("acid", ACIDS)
def test_law_each_row_is_a_band_with_a_dot(acids, acid, place, narrow):
    rows = drawn(acids, narrow, acid=f"{acid:g}", place=place)
    for number, band in enumerate(breathed(acid, place).rows):
        x = rows.chart.bands[number].get_xy()[:, 0]
        low, middle, high = (1e6 * float(end) for end in (band.low, band.middle, band.high))
        # nothing is cut off at an end of the axis
        assert ENDS[0] < low < high < ENDS[1]
        assert (x.min(), x.max()) == pytest.approx((low, high))
        assert rows.chart.dots[number].get_xdata()[0] == pytest.approx(middle)
        assert rows.chart.dots[number].get_ydata()[0] == number


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("predicted", [None, "-"])
def test_law_lines_and_the_fourth_row_are_always_there(things, narrow, predicted):
    rows = drawn(things, narrow, predicted=predicted)
    axes = rows.chart.axes
    assert axes.get_xscale() == "log"
    upright = [line for line in axes.lines if len(line.get_xdata()) == 2 and line.get_visible()]
    upright = [line for line in upright if line.get_xdata()[0] == line.get_xdata()[1]]
    upright = [line for line in upright if line not in rows.moving]
    wanted = [1e6 * limit(kind).value for kind in (SMELL, MOMENT, DANGER)]
    assert sorted(line.get_xdata()[0] for line in upright) == pytest.approx(wanted)
    # told apart without colours
    assert len({line.get_linestyle() for line in upright}) == len(LINES) == 3
    (hatched,) = (patch for patch in axes.patches if patch.get_hatch())
    corners = hatched.get_xy()
    assert (corners[:, 0].min(), corners[:, 0].max()) == ENDS, "over the whole axis"
    assert corners[:, 1].mean() == pytest.approx(UNKNOWN_ROW, abs=0.2)
    assert hatched not in rows.moving and hatched.get_visible()
    words = [text.get_text() for text in axes.texts if text.get_visible()]
    assert any("nobody has measured this" in each.replace("\n", " ") for each in words)
    assert any("chlorine, mist" in each for each in [*words, *names(axes)])


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("place", PLACES)
def test_law_the_ceiling_of_chlorine_is_marked_in_the_hatched_row(things, narrow, place):
    """Hollow, for it is a bound: whatever the other rows are, and before them too."""
    rows = drawn(things, narrow, place=place)
    most = 1e6 * chlorine_at_most(place)
    assert rows.ceiling.get_xdata() == pytest.approx([most]) and most > 10
    assert list(rows.ceiling.get_ydata()) == [UNKNOWN_ROW]
    assert rows.ceiling.get_markerfacecolor() == "white" and rows.ceiling.get_visible()
    room = 60 if place == GARAGE else 30
    told = rows.ceiling_words.get_text().replace("\n", " ")
    assert told == f"all its acid as chlorine: {most:.0f} in {room} m³, dangerous at once from 10"
    asked = drawn(things, narrow, predicted=None)
    assert asked.ceiling.get_xdata() == pytest.approx([1e6 * chlorine_at_most()])


def names(axes):
    return [label.get_text() for label in axes.get_yticklabels()]


def test_law_no_region_is_shaded_but_the_bands(things):
    """A stripe under a limit would look like a good place."""
    rows = drawn(things)
    others = [patch for patch in rows.chart.axes.patches if patch not in rows.chart.bands]
    assert len(others) == 1 and others[0].get_hatch()


def test_law_a_narrow_row_has_its_name_above(things):
    rows = drawn(things, narrow=True)
    texts = [words.get_text() for words in rows.chart.words[:3]]
    assert texts[0].startswith("the workshop's bath, 5 % acid, 15 min open: ")
    heights = [words.get_position()[1] for words in rows.chart.words[:3]]
    assert np.all(np.array(heights) < np.arange(3))
