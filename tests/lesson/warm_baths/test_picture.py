"""Curves, bars and vessels are drawn to scale, from the package's own numbers (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.warm_baths.numbers import (
    FLAT,
    JAR,
    MILD,
    STRONG,
    TEMPERATURES,
    WEAK,
    hour_after,
)
from pcbchem.lesson.warm_baths.picture import SCALE_BAR, side
from pcbchem.lesson.workshop import PAIRS


def drawn(panel, narrow=False, **values):
    return panel.picture_and_words(narrow, predicted="-", **values)[0]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("depth", [6.0, 10.0, 20.0, 60.0])
def test_law_both_vessels_hold_as_much_and_are_to_one_scale(deep, depth, narrow):
    drawing = drawn(deep, narrow, depth=depth)
    picture = drawing.parts["warm"]
    drawing.png(1.0)
    # a millimetre is as many points of the screen upwards as sideways
    box, (left, right), (low, high) = (
        picture.vessels.get_window_extent(),
        picture.vessels.get_xlim(),
        picture.vessels.get_ylim(),
    )
    across, up = box.width / (right - left), box.height / (high - low)
    assert across == pytest.approx(up, rel=0.01)
    for water, deepness in zip(picture.water, (FLAT, depth), strict=True):
        corners = water.get_xy()
        wide, tall = np.ptp(corners[:, 0]), np.ptp(corners[:, 1])
        assert tall == deepness
        # 150 mL in a square vessel
        assert wide**2 * tall == pytest.approx(150e3, rel=1e-6)
        assert left <= corners[:, 0].min() and corners[:, 0].max() <= right
    assert picture.water[1].get_visible() == (depth != FLAT)
    bar = next(line for line in picture.vessels.lines if line.get_marker() == "|")
    assert np.ptp(bar.get_xdata()) == SCALE_BAR == 50
    assert side(JAR) == pytest.approx(50.0) and side(FLAT) == pytest.approx(122.47, abs=0.01)


@pytest.mark.parametrize("bottles", [MILD, STRONG])
@pytest.mark.parametrize("depth", [8.0, 20.0, 60.0])
def test_law_curves_and_shade_are_those_of_the_numbers(deep, bottles, depth):
    picture, hour = drawn(deep, depth=depth, bottles=bottles).parts["warm"], hour_after(bottles)
    assert picture.curves.get_xscale() == picture.curves.get_yscale() == "linear"
    can_be = hour.highest > TEMPERATURES
    assert picture.made.get_ydata() == pytest.approx(60 * hour.made[can_be])
    assert picture.other.get_ydata() == pytest.approx(30 * hour.made)
    assert picture.other_words.get_text().replace("\n", " ") == "half of the peroxide gone"
    place = list(range(6, 61, 2)).index(int(depth))
    assert picture.lost.get_ydata() == pytest.approx(60 * hour.lost[place])
    assert picture.tray.get_ydata() == pytest.approx(60 * hour.lost[2])
    (x,), (y,) = picture.dot.get_data()
    assert x == pytest.approx(float(hour.out.middle) - 273.15)
    assert y == pytest.approx(np.interp(x, *picture.made.get_data()))
    tray = 60 * hour.lost_at(x + 273.15, FLAT)
    said = picture.dot_words.get_text()
    assert (f"made {y:.2f}, lost\nby the tray {tray:.2f}" in said) == (depth >= FLAT)
    # no curve is told from another by its colour alone
    styles = {line.get_linestyle() for line in (picture.made, picture.lost, picture.other)}
    assert len(styles) == 3
    shade = picture.warms.get_xy()
    upper = shade[: len(TEMPERATURES), 1]
    assert np.all(upper >= 60 * hour.lost[place] - 1e-9)
    warms = (hour.made > hour.lost[place]) & (hour.highest > TEMPERATURES)
    assert np.array_equal(upper > 60 * hour.lost[place] + 1e-9, warms)


@pytest.mark.parametrize("bottles", [MILD, STRONG])
@pytest.mark.parametrize("depth", [8.0, 10.0, 60.0])
def test_law_bars_are_8_of_10_of_the_hour_after_on_a_straight_axis(deep, bottles, depth):
    picture, hour = drawn(deep, depth=depth, bottles=bottles).parts["warm"], hour_after(bottles)
    assert picture.bars.get_yscale() == "linear"
    for place, each in enumerate((FLAT, depth)):
        peak = hour.peak(each)
        heights = picture.boxes[place].get_xy()[:, 1]
        assert heights.min() == pytest.approx(float(peak.low) - 273.15)
        assert heights.max() == pytest.approx(float(peak.high) - 273.15)
        assert picture.middles[place].get_ydata()[0] == pytest.approx(float(peak.middle) - 273.15)
        # each stands over its vessel
        assert np.mean(picture.boxes[place].get_xy()[:-1, 0]) == pytest.approx(
            np.mean(picture.water[place].get_xy()[:-1, 0])
        )
    low, high = picture.bars.get_ylim()
    assert low < 20 and high > 75
    assert picture.stop_line.get_ydata()[0] == pytest.approx(45.0)
    assert picture.boxes[1].get_visible() == (depth != FLAT)


def test_law_weak_bottles_make_little_heat_and_end_at_their_ceiling(weak):
    picture, hour = drawn(weak).parts["warm"], hour_after(WEAK)
    last = picture.made.get_xdata()[-1]
    assert last == pytest.approx(hour.highest - 273.15, abs=0.51) and last < 31
    assert picture.other.get_ydata() == pytest.approx(60 * hour_after(MILD).made)
    assert picture.other_words.get_text().replace("\n", " ") == "made with 12 % peroxide"
    # on the same axes as the mild bath: that is what shows how little it is
    assert picture.curves.get_ylim()[1] == pytest.approx(3.5)
    assert not picture.ring.get_visible()
    # the peroxide of the mild bottles
    assert PAIRS[MILD].peroxide == 12


def test_law_the_ring_lies_where_made_and_lost_cross(deep):
    picture = drawn(deep, depth=8.0).parts["warm"]
    assert picture.ring.get_visible() and picture.ring_words.get_visible()
    (x,), (y,) = picture.ring.get_data()
    for line in (picture.made, picture.lost):
        assert y == pytest.approx(np.interp(x, *line.get_data()), rel=0.01)
    assert f"from {x:.0f} °C on" in picture.ring_words.get_text()
    assert not drawn(deep, depth=60.0).parts["warm"].ring.get_visible()
