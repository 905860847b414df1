"""The profile under the resist: its shape, what the trade prints, and a second way to widths."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.ndimage import distance_transform_edt

from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import between
from pcbchem.reaction.bath.setup import AGITATIONS
from pcbchem.reaction.trace.overetch import UNEVEN
from pcbchem.reaction.trace.undercut import (
    allowance,
    etch_factor,
    front,
    measured_factor,
    over_at_loss,
    undercut_at,
    widths,
)

H = 35e-6
foils = st.floats(1e-6, 500e-6)
factors = st.floats(0.5, 10.0)
overs = st.floats(0.0, 20.0)
drawns = st.floats(1e-6, 5e-3)
cheap = settings(max_examples=60, deadline=None)


def ends(case):
    return tuple(
        float(tables.column("etch_factor", f"{end}_depth_over_undercut", case=case)[0])
        for end in ("low", "high")
    )


# What the trade prints.


def test_as_printed_the_table_holds_the_published_ranges():
    # two trade glossaries: T/D 2.5 to 3.5 on general boards, D/R 1.5 to 3.5 in photo-etching; 1
    # where it is isotropic
    assert ends("general_boards") == (2.5, 3.5)
    assert ends("photo_etching") == (1.5, 3.5)
    assert ends("isotropic") == (1, 1)
    assert {
        row["case"]: row["status"]
        for row in tables.read("etch_factor")
        if row["case"] in AGITATIONS
    } == dict.fromkeys(AGITATIONS, "assumed")


def test_law_the_factor_is_depth_over_undercut_by_definition():
    # IPC-T-50, from memory: conductor thickness over amount of undercut
    for factor in (1.0, 2.0, 3.5):
        assert H / undercut_at(H, factor) == pytest.approx(factor)
        assert H / undercut_at(H, factor, 0.4) == pytest.approx(measured_factor(factor, 0.4))


def test_law_the_rule_of_one_thickness_in_total():
    # trade note: add the copper thickness to the trace width. It gives the top as drawn for a
    # factor of 2 just clear, 2.6 at the 30 % of over-etch that is common practice: so it stands
    # between immersion and a spray
    assert ends("thickness_rule") == (2, 2)
    for over, factor in ((0.0, 2.0), (0.1, 2.2), (0.3, 2.6)):
        assert allowance(H, factor, over) == pytest.approx(H)
        assert measured_factor(factor, over) == pytest.approx(2)
        assert ends("trade_range")[0] < factor < ends("trade_range")[1]
    # the mean width, which carries the current, is as drawn for a factor of pi/2: area of a quarter
    # circle, twice
    assert allowance(H, np.pi / 2, at="mean") == pytest.approx(H)
    assert allowance(H, 1.0) > H > allowance(H, 3.0, UNEVEN[1])


def test_law_the_trades_undercut_fits_its_factor_at_one_end():
    # common practice: undercut on each side 0.5 to 1 foil thickness, "etch factor 1 to 3". At 1 it
    # is one thickness when just clear. Half a thickness is 2 to 2.6; 3 gives a third, and with 30 %
    # of over-etch still below half
    low, high = ends("trade_range")
    assert undercut_at(H, low) / H == pytest.approx(1.0)
    assert undercut_at(H, 2.0) / H == pytest.approx(0.5) == undercut_at(H, 2.6, UNEVEN[1]) / H
    assert undercut_at(H, high) / H == pytest.approx(1 / 3)
    assert undercut_at(H, high, UNEVEN[1]) / H < 0.5


def test_law_immersion_is_found_below_one_after_over_etch():
    # geometry, as the table of published definitions has it: 1 at first clear, below 1 when
    # over-etched
    assert measured_factor(1.0, 0.0) == 1
    assert np.all(measured_factor(1.0, np.array([0.01, *UNEVEN, 3.0])) < 1)


def test_law_foot_and_top_are_no_way_to_the_factor():
    over = np.array([0.0, 0.1, 0.3, 1.0])
    left = widths(1e-3, H, 1.0, over)
    slope = 2 * H / (left.foot - left.top)
    assert slope[0] == pytest.approx(1) and np.all(np.diff(slope) > 0)
    assert np.all(np.diff(measured_factor(1.0, over)) < 0)


def test_law_what_is_assumed_of_a_bath_stays_inside_what_is_said():
    low, high = np.array([ends(word) for word in AGITATIONS]).T
    assert np.all(np.diff(low) >= 0) and np.all(np.diff(high) > 0)  # more stirring, more downwards
    assert np.all(low[:4] == ends("isotropic")[0])
    assert low[4] <= ends("photo_etching")[0] and high[4] >= ends("general_boards")[1]
    for word in AGITATIONS:
        drawn = etch_factor(word, 100, seed=3)
        assert isinstance(drawn, Draws) and np.all(
            (drawn >= ends(word)[0]) & (drawn <= ends(word)[1])
        )


# The shape.


def area_under_resist(factor, over=0.0, thickness=H):
    depths = np.linspace(0, thickness, 20_001)
    return np.trapezoid(undercut_at(thickness, factor, over, depths), depths)


def test_law_a_quarter_circle_at_first_clearing():
    assert area_under_resist(1.0) == pytest.approx(np.pi * H**2 / 4, rel=1e-5)
    depths = np.linspace(0, H, 50)
    assert np.hypot(depths, undercut_at(H, 1.0, 0.0, depths)) == pytest.approx(np.full(50, H))
    assert undercut_at(H, 1.0, 0.0, H) == 0
    assert area_under_resist(2.5) == pytest.approx(np.pi * H**2 / 4 / 2.5, rel=1e-5)


def test_law_the_mean_allowance_is_the_area_from_both_sides():
    for factor, over in ((1.0, 0.0), (1.7, 0.25), (3.0, 2.0)):
        assert allowance(H, factor, over, at="mean") * H == pytest.approx(
            2 * area_under_resist(factor, over), rel=1e-5
        )
        assert allowance(H, factor, over) == pytest.approx(2 * undercut_at(H, factor, over))
        assert allowance(H, factor, over, at="foot") == pytest.approx(
            2 * undercut_at(H, factor, over, H)
        )


def test_law_long_after_clearing_the_walls_stand_upright():
    assert undercut_at(H, 1.0, 100.0, H) == pytest.approx(undercut_at(H, 1.0, 100.0), rel=1e-4)
    assert widths(1e-3, H, 1.0, 0.0).foot == pytest.approx(1e-3)


@cheap
@given(drawns, foils, factors, overs, overs)
def test_law_over_etch_only_takes_and_an_allowance_gives_back(drawn, thickness, factor, over, more):
    a, b = widths(drawn, thickness, factor, over), widths(drawn, thickness, factor, over + more)
    for name in ("top", "foot", "height"):
        assert 0 <= getattr(b, name) <= getattr(a, name) * (1 + 1e-12)
    assert a.top <= a.foot * (1 + 1e-12) and (b.lost or not a.lost) and bool(a.lost) == (a.top == 0)
    compensated = widths(drawn + allowance(thickness, factor, over), thickness, factor, over)
    assert compensated.top == pytest.approx(drawn, rel=1e-6) and not compensated.lost
    assert compensated.height == thickness


@cheap
@given(drawns, st.floats(1e-6, 5e-3), foils, factors, overs)
def test_law_trace_and_gap_share_their_pitch(drawn, gap, thickness, factor, over):
    left = widths(drawn, thickness, factor, over)
    at_top, at_foot = left.gaps(gap)
    assert left.top + at_top == pytest.approx(drawn + gap) == left.foot + at_foot
    if not left.lost:  # each side of the gap has moved by what the trace has lost
        assert at_top - gap == pytest.approx(
            2 * undercut_at(thickness, factor, over), rel=1e-6, abs=1e-15
        )


@cheap
@given(drawns, foils, factors, overs, st.floats(0.2, 1.0))
def test_law_all_lengths_scale_together(drawn, thickness, factor, over, scale):
    a, b = (
        widths(drawn, thickness, factor, over),
        widths(scale * drawn, scale * thickness, factor, over),
    )
    for name in ("top", "foot", "height"):
        assert getattr(b, name) == pytest.approx(
            scale * getattr(a, name), rel=1e-6, abs=1e-6 * drawn
        )


@cheap
@given(drawns, foils, factors)
def test_law_a_trace_is_lost_at_the_over_etch_that_is_said(drawn, thickness, factor):
    over = float(over_at_loss(drawn, thickness, factor))
    if over < 0:  # the faces meet before the board is clear
        assert 2 * undercut_at(thickness, factor) > drawn * (1 - 1e-9)
        assert widths(drawn, thickness, factor).lost
    else:
        assert widths(drawn, thickness, factor, over * (1 + 1e-9) + 1e-12).lost
        assert (
            not widths(drawn, thickness, factor, max(over * (1 - 1e-9) - 1e-12, 0.0)).lost
            or over < 1e-9
        )


def on_a_grid(drawn, thickness, factor, over, pixel):
    """Etch a grid of points: all copper within reach of some point of the opening is gone.

    Rows of copper in depths of one pixel, the resist over the middle; `distance_transform_edt`
    finds how far each point is from the nearest opening, with the sideways distance counted
    `factor` times.
    """
    side = 4 * thickness  # opening on each side, wide enough
    x = np.arange(-side - drawn / 2, drawn / 2 + side + pixel / 2, pixel)
    copper = np.ones((round(thickness / pixel) + 1, x.size), dtype=bool)
    copper[0] = np.abs(x) < drawn / 2
    distance = distance_transform_edt(copper, sampling=(pixel, factor * pixel))
    stands = distance > thickness * (1 + over)
    return stands.sum(axis=1) * pixel, stands[:, x.size // 2].sum() * pixel


@pytest.mark.parametrize("drawn", [100e-6, 250e-6])
@pytest.mark.parametrize(
    ("factor", "over"),
    [(1.0, 0.0), (1.0, 0.3), (1.0, 0.5), (1.0, 0.7), (1.0, 1.2), (2.0, 0.3), (3.0, 1.0)],
)
def test_law_a_union_of_discs_on_a_grid_leaves_the_same_trace(drawn, factor, over):
    pixel = 0.5e-6
    rows, height = on_a_grid(drawn, H, factor, over, pixel)
    left = widths(drawn, H, factor, over)
    near = 2 * pixel  # one pixel on each side
    assert rows[0] == pytest.approx(left.top, abs=near)
    assert height == pytest.approx(left.height, abs=near)
    depth = np.minimum(np.arange(rows.size) * pixel, H)
    expected = np.maximum(drawn - 2 * undercut_at(H, factor, over, depth), 0)
    # where the wall lies flat, one pixel of depth is many of width: compare with the rows just
    # above and below
    above, below = np.append(expected[0], expected[:-1]), np.append(expected[1:], expected[-1])
    assert np.all((rows >= above - near) & (rows <= below + near))
    assert rows[-1] == pytest.approx(left.foot, abs=near)


def test_law_of_a_lost_trace_its_ridge_is_left():
    # 60 µm drawn, factor 1: the faces meet when the front would be 30 µm deep, before a 35 µm foil
    # is clear
    assert widths(60e-6, H, 1.0).lost and over_at_loss(60e-6, H, 1.0) < 0
    half, reach = 50e-6, 1.5 * H  # 100 µm drawn, 52.5 µm deep
    left = widths(2 * half, H, 1.0, 0.5)
    assert left.lost and left.top == 0
    assert left.height == pytest.approx(H - np.sqrt(reach**2 - half**2))
    assert left.foot == pytest.approx(2 * (half - np.sqrt(reach**2 - H**2)))
    gone = widths(2 * half, H, 1.0, 5.0)
    assert gone.lost and gone.top == gone.foot == gone.height == 0


def test_law_scenarios_and_draws_broadcast_and_keep_their_mark():
    factor = between(1, 3, 20, seed=2)
    left = widths(np.array([[100e-6], [200e-6], [400e-6]]), as_draws(np.full(20, H)), factor, 0.2)
    for value in (
        left.top,
        left.foot,
        left.height,
        undercut_at(H, factor),
        allowance(H, factor, at="mean"),
        over_at_loss(1e-4, H, factor),
        measured_factor(factor, 0.1),
        left.gaps(2e-4)[1],
    ):
        assert isinstance(value, Draws)
    assert left.top.shape == left.foot.shape == left.height.shape == left.lost.shape == (3, 20)
    assert left.top[2, 7] == widths(400e-6, H, float(factor[7]), 0.2).top


IMPOSSIBLE = {
    "no foil": (
        lambda: undercut_at(0.0, 1.0),
        r"thickness = 0 is impossible: it must be above 0 to 0\.000558036 m",
    ),
    "micrometres given as metres": (
        lambda: widths(2e-4, 35.0, 1.0),
        "thickness = 35 is impossible",
    ),
    "no factor": (lambda: undercut_at(H, 0.0), "factor = 0 is impossible: it must be 0.5 to 10"),
    "not a number": (lambda: undercut_at(H, np.nan), "factor = nan is impossible"),
    "under-etched": (
        lambda: widths(2e-4, H, 1.0, -0.1),
        "over = -0.1 is impossible: it must be 0 to",
    ),
    "for ever": (lambda: widths(2e-4, H, 1.0, np.inf), "over = inf is impossible"),
    "no width": (
        lambda: over_at_loss(0.0, H, 1.0),
        "drawn = 0 is impossible: it must be above 0 to 2 m",
    ),
    "no gap": (
        lambda: widths(2e-4, H, 1.0).gaps(0.0),
        "gap = 0 is impossible: it must be above 0 to 2 m",
    ),
    "below the laminate": (
        lambda: undercut_at(H, 1.0, 0.0, np.array([0.0, 4e-5])),
        r"depth = 4e-05 m is impossible: it must be 0 to thickness = 3\.5e-05 m",
    ),
    "above the resist": (lambda: undercut_at(H, 1.0, 0.0, -1e-6), "depth = -1e-06 is impossible"),
    "an unknown place": (
        lambda: allowance(H, 1.0, at="middle"),
        "at = 'middle' is not known: choose from top, mean",
    ),
    "an unknown word": (lambda: etch_factor("stirred", 5, 1), "agitation = 'stirred' is not known"),
    "two lengths": (
        lambda: widths(2e-4, H, as_draws([1.0, 2.0]), as_draws([0.1] * 3)),
        "draws of two lengths",
    ),
    "shapes": (
        lambda: undercut_at(np.full(2, H), np.full(3, 1.0)),
        "shapes do not broadcast: thickness",
    ),
}


@pytest.mark.parametrize("case", IMPOSSIBLE)
def test_law_the_impossible_is_refused_by_name_value_and_limits(case):
    call, said = IMPOSSIBLE[case]
    with pytest.raises(ValueError, match=said):
        call()


# The front on its way, before the copper beside the trace is gone and after.


@given(foils, factors, st.floats(0.0, 0.999))
@cheap
def test_law_before_clearing_the_front_is_that_of_a_foil_as_thin_as_it_is_deep(foil, factor, share):
    curve = front(foil, factor, share)
    assert curve.depth[0] == 0 and curve.depth[-1] == pytest.approx(share * foil, abs=1e-15)
    assert curve.undercut[0] == pytest.approx(share * foil / factor)
    assert curve.undercut[-1] == pytest.approx(0, abs=1e-12)
    # each point lies on the ellipse
    if share > 0.01:
        radius = np.hypot(factor * curve.undercut, curve.depth)
        assert radius == pytest.approx(share * foil, rel=1e-9)


@given(foils, factors, st.floats(1.0, 5.0))
@cheap
def test_law_after_clearing_the_front_and_the_widths_are_one(foil, factor, share):
    curve = front(foil, factor, share, points=9)
    assert curve.depth[-1] == pytest.approx(foil)
    expected = undercut_at(foil, factor, share - 1, np.minimum(curve.depth, foil))
    assert curve.undercut == pytest.approx(expected, rel=1e-6, abs=1e-12)
    drawn = 3 * curve.undercut[0]
    left = widths(drawn, foil, factor, share - 1)
    assert left.top == pytest.approx(drawn - 2 * curve.undercut[0])
    assert left.foot == pytest.approx(drawn - 2 * curve.undercut[-1], rel=1e-6)


def test_law_the_front_moves_at_one_pace_and_does_not_know_when_the_board_is_clear():
    shares = np.linspace(0.0, 3.0, 301)
    under = front(H, 1.5, shares).undercut[0]
    assert np.diff(under) == pytest.approx(np.full(300, H / 1.5 * 0.01), rel=1e-9)


def test_law_points_of_a_front_stand_before_the_draws():
    draws = front(H, etch_factor("rocked", 20, seed=1), np.linspace(0.5, 2, 4)[:, None], points=5)
    assert isinstance(draws.undercut, Draws) and np.shape(draws.undercut) == (5, 4, 20)
    assert np.shape(front(H, 1.5, 1.0).depth) == (33,)


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"share": -0.1}, "share"),
        ({"share": np.inf}, "share"),
        ({"factor": 0.4}, "factor"),
        ({"thickness": 0.0}, "thickness"),
        ({"points": 1}, "points"),
        ({"points": 2.5}, "points"),
    ],
)
def test_bad_input_of_a_front_is_named(changes, name):
    with pytest.raises(ValueError, match=name):
        front(**{"thickness": H, "factor": 1.5, "share": 1.0} | changes)
