"""The cut is to scale both ways, and the line is the closed form (laws)."""

import numpy as np
import pytest

from pcbchem.common.units import um
from pcbchem.lesson.when_to_lift_it_out.numbers import (
    BATHS,
    DRAWN,
    OUNCES,
    course,
    factors,
    on_time,
    thickness,
)
from pcbchem.lesson.when_to_lift_it_out.picture import SIDE, outline
from pcbchem.reaction.trace import undercut_at, widths


def drawn(panel, narrow=False, **values):
    return panel.picture_and_words(narrow, predicted="-", **values)[0].parts


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", ["trace", "foils"])
def test_law_as_many_micrometres_to_an_inch_across_as_up(which, narrow, request):
    parts = drawn(request.getfixturevalue(which), narrow)
    parts["cut"].axes.figure.draw_without_rendering()
    to_pixels = parts["cut"].axes.transData.transform
    across, up = to_pixels((100, 0)) - to_pixels((0, 0)), to_pixels((0, 100)) - to_pixels((0, 0))
    assert across[0] == pytest.approx(up[1], rel=1e-6) and across[0] > 50
    assert across[1] == up[0] == 0


@pytest.mark.parametrize("name", BATHS)
@pytest.mark.parametrize("share", [0.2, 0.7, 1.0, 1.4, 2.5])
def test_law_the_wall_of_the_cut_is_the_package_s_front(name, share):
    """At each height, before clearing as on a thinner foil, after it as over-etched."""
    case = course(name)
    copper = outline(case, share * float(case.clear.middle))
    foil, over = case.foil * min(share, 1.0), max(share - 1.0, 0.0)
    right = (copper.x > 0) & (copper.x <= DRAWN / 2 / um + 1e-9)
    # without the lowest corner, which closes the outline
    x, depth = copper.x[right], case.foil / um - copper.y[right]
    wall = depth <= foil / um + 1e-9
    assert wall.sum() > 20
    undercut = undercut_at(foil, case.factor, over, np.clip(depth[wall] * um, 0, foil))
    assert x[wall] == pytest.approx((DRAWN / 2 - undercut) / um, abs=1e-6)
    # the same on both sides
    assert copper.x == pytest.approx(-copper.x[::-1]) and copper.y == pytest.approx(copper.y[::-1])
    # copper beside the trace while it is there, then none
    assert (copper.x.max() == pytest.approx(SIDE)) == (share < 1)


@pytest.mark.parametrize("time", [0.5, 2.0, 4.0, 8.0, 12.0])
@pytest.mark.parametrize("name", ["mild", "water", "strong"])
def test_law_arrows_boxes_and_words_have_the_widths(trace, name, time):
    parts, case = drawn(trace, time=time, bath=name), course(name)
    cut, left = parts["cut"], float(case.left(60 * time).middle)
    assert (cut.drawn.xy[0], cut.drawn.xyann[0]) == pytest.approx((-100, 100))
    resist = cut.resist.get_xy()[:, 0]
    assert (resist.min(), resist.max()) == pytest.approx((-100, 100))
    if left > 0:
        assert cut.left.xyann[0] - cut.left.xy[0] == pytest.approx(left / um)
        assert f"left {1000 * left:.3f} mm" == cut.left_words.get_text()
        crest = cut.crest.get_xy()[:, 0]
        assert crest.max() - crest.min() == pytest.approx(left / um)
        # the copper of the cut is as wide there
        top = cut.copper.get_xy()
        high = top[top[:, 1] > case.foil / um - 1e-6]
        # nearly clear is drawn as clear: a hundredth of the loss
        assert np.ptp(high[:, 0]) == pytest.approx(left / um, abs=0.01 * (200 - left / um) + 1e-6)
    else:
        assert cut.left_words.get_text() == "lost" and not cut.crest.get_visible()
        assert cut.resist.get_facecolor() == (1, 1, 1, 1)
    if case.is_clear(60 * time):
        over = max(60 * time / float(case.clear.middle) - 1, 0)
        foot = float(widths(DRAWN, case.foil, case.factor, over).foot)
        assert foot == pytest.approx(case.foot(60 * time))
        if foot > 0:
            assert cut.foot_words.get_text() == f"its foot: {1000 * foot:.2f} mm"
            assert np.ptp(cut.foot.get_xy()[:, 0]) == pytest.approx(foot / um)
    else:
        assert cut.foot_words.get_text() == "copper still covers the board"


def test_law_a_ridge_stands_a_while_then_nothing():
    """Lost under the resist, a ridge is left on the board; its height is the package's."""
    case = course("strong")
    clear = float(case.clear.middle)
    lost_at = DRAWN / float(case.pace.middle)
    ridge = outline(case, lost_at + 1.0)
    left = widths(DRAWN, case.foil, case.factor, (lost_at + 1.0) / clear - 1)
    assert float(left.top) == 0 and ridge.y.max() * um == pytest.approx(float(left.height))
    assert 0 < ridge.y.max() < case.foil / um
    assert outline(case, 2 * lost_at).x.size == 0


@pytest.mark.parametrize("name", BATHS)
def test_law_the_line_is_the_closed_form(trace, name):
    line, case = drawn(trace, bath=name)["line"], course(name)
    minutes, width = line.line.get_data()
    pace = np.sort(2 * thickness() / np.asarray(factors()) / case.clear.values)
    expected = np.maximum(1000 * (DRAWN - pace[100] * 60 * minutes), 0)
    assert width == pytest.approx(expected, abs=2e-4)
    # no bend anywhere until the trace is lost
    stands = width > 1e-3
    assert np.diff(width[stands], 2) == pytest.approx(np.zeros(stands.sum() - 2), abs=1e-9)
    assert line.axes.get_xscale() == line.axes.get_yscale() == "linear"
    assert line.axes.get_ylim()[0] == 0 and line.axes.get_xlim() == (0, 12)
    # the words' leader ends on the line
    x, y = (data[1] for data in line.leader.get_data())
    assert y == pytest.approx(np.interp(x, minutes, width), abs=2e-3)


@pytest.mark.parametrize("name", BATHS)
def test_law_stripe_dot_and_band_are_at_their_minutes(trace, name):
    line, case = drawn(trace, bath=name, time=6.0)["line"], course(name)
    low, high = float(case.clear.low) / 60, float(case.clear.high) / 60
    stripe = line.clear.get_xy()[:, 0]
    assert line.clear.get_visible() == (low < 12)
    if low < 12:
        assert (stripe.min(), stripe.max()) == pytest.approx((low, min(high, 12)))
    else:
        assert f"{low:.0f} to {high:.0f} min, beyond" in line.clear_words.get_text()
    assert line.dot.get_xydata()[0] == pytest.approx([6, 1000 * float(case.left(360.0).middle)])
    assert line.pointer.get_xdata()[0] == 6
    corners = line.band.get_xy()
    at_six = np.sort(corners[np.isclose(corners[:, 0], 6.0), 1])
    left = case.left(360.0)
    assert at_six == pytest.approx([1000 * float(left.low), 1000 * float(left.high)])


def test_law_three_stops_lie_on_the_line(foils):
    """Each foil's own runs, on the line of 1 oz to the width of a mark."""
    line = drawn(foils)["line"]
    for weight in OUNCES:
        (x,), (y,) = line.stops[weight].get_data()
        assert x == pytest.approx(float(course("mild", weight).clear.middle) / 60)
        assert y == pytest.approx(1000 * float(on_time(weight).middle))
        assert y == pytest.approx(np.interp(x, *line.line.get_data()), abs=4e-3)
        assert line.stops[weight].get_markerfacecolor() == "white"
        assert line.stop_words[weight].get_text().endswith(f"clear: {y:.3f}")


@pytest.mark.parametrize("foil", ["0.5", "1", "2"])
@pytest.mark.parametrize("late", [0.0, 1.0, 5.0])
def test_law_the_dot_is_the_foil_that_is_left_in(foils, foil, late):
    parts, case = drawn(foils, foil=foil, late=late), course("mild", float(foil))
    (x,), (y,) = parts["line"].dot.get_data()
    assert x == pytest.approx(float(case.clear.middle) / 60 + late)
    loss = np.sort(case.loss.values * (1 + 60 * late / case.clear.values))
    assert y == pytest.approx(1000 * (DRAWN - loss[100]), abs=8e-4)
    assert f"{y:.3f}" in parts["line"].dot_words.get_text()
    assert x < parts["line"].longest
    height = parts["cut"].copper.get_xy()[:, 1].max()
    assert height * um == pytest.approx(thickness(float(foil)))
