"""The picture of pairs: axes from zero, the same for each movement, wide enough (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.how_sure_is_it.numbers import ROCKED, SHAKEN, STILL
from pcbchem.lesson.how_sure_is_it.panel import build
from pcbchem.lesson.how_sure_is_it.picture import MOST, MOST_RATIO

NAMES = {"still": STILL, "rocked": ROCKED, "shaken": SHAKEN}


@pytest.fixture(scope="module")
def drawing():
    return build(False)


def test_law_axes_begin_at_zero(drawing):
    pairs, ranges = drawing.parts["pairs"], drawing.parts["ranges"]
    assert pairs.axes.get_xlim() == (0, MOST[0]) and pairs.axes.get_ylim() == (0, MOST[1])
    assert ranges.axes.get_xlim() == (0, MOST_RATIO)
    for axes in (pairs.axes, ranges.axes):
        assert axes.get_xscale() == "linear" == axes.get_yscale()


@pytest.mark.parametrize("name", NAMES)
def test_law_the_rectangle_is_where_both_bands_cross(drawing, bench, name):
    drawing.parts["pairs"].draw(NAMES[name], True)
    corners = drawing.parts["pairs"].box.get_xy()[:4]
    times = bench[name].times
    for axis in (0, 1):
        ends = float(times.low[axis]) / 60, float(times.high[axis]) / 60
        assert (corners[:, axis].min(), corners[:, axis].max()) == pytest.approx(ends)
        assert ends[1] < MOST[axis]


def test_law_it_is_drawn_wide_and_narrow():
    for narrow in (False, True):
        picture = build(narrow)
        picture.parts["pairs"].draw(STILL, True)
        picture.parts["ranges"].draw(STILL, True)
        assert picture.png(1.0).startswith(b"\x89PNG")
        assert np.isfinite(picture.parts["pairs"].dots.get_xdata()).all()
