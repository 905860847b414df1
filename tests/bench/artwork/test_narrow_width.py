"""The narrowest trace or gap is what was drawn, at any angle; corners and wedges are none.

Shapes are drawn from their exact distance functions, grey along the edge as the pixel is covered,
so that nothing here depends on how a drawing program fills.
"""

import numpy as np
import pytest
from helpers.artworks import DPI, disc_distance, grid, inked

from pcbchem.bench.artwork.narrow_width import Picture, _pinch, narrowest

MIDDLE = 127.5


def bar(size, angle, width, length, centre):
    """Distance from the edge of a bar."""
    x, y = grid(size)
    right, down = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    along = (x - centre[0]) * right + (y - centre[1]) * down
    across = (y - centre[1]) * right - (x - centre[0]) * down
    return np.maximum(abs(along) - length / 2, abs(across) - width / 2)


def wedge(size, angle, turn, tip):
    """A wedge with one sharp tip, closed by a disc much wider than anything narrow."""
    x, y = grid(size)
    along = (x - tip[0]) * np.cos(turn) + (y - tip[1]) * np.sin(turn)
    across = (y - tip[1]) * np.cos(turn) - (x - tip[0]) * np.sin(turn)
    half, long = np.radians(angle / 2), size * 0.45
    cut = np.maximum(abs(across) * np.cos(half) - along * np.sin(half), along - long)
    radius = max(long * np.tan(half), size * 0.2)
    return np.minimum(cut, np.hypot(along - long, across) - radius)


def corner(size, tip, turn):
    """A large square with one corner at the tip, pointing against the turn."""
    x, y = grid(size)
    first, second = (
        (x - tip[0]) * np.cos(side) + (y - tip[1]) * np.sin(side)
        for side in (turn + np.pi / 4, turn - np.pi / 4)
    )
    return np.max([-first, -second, first - 45, second - 45], axis=0)


def two_discs(size, radius, centre, apart):
    """Two discs whose middles lie a vector to both sides of a centre."""
    return np.minimum(
        disc_distance(size, radius, centre + apart), disc_distance(size, radius, centre - apart)
    )


@pytest.mark.parametrize("angle", [0, 15, 22.5, 30, 45, 60, 90])
@pytest.mark.parametrize("width", [3.0, 9.45, 22.0])
@pytest.mark.parametrize("sharp, slack", [(False, 0.25), (True, 1.0)])
def test_law_a_trace_has_its_width_at_any_angle(width, angle, sharp, slack):
    distance = bar(200, angle, width, 150, (100.3, 99.8))
    place = narrowest(inked(distance, sharp), MIDDLE, True)
    assert place.width == pytest.approx(width, abs=slack)
    assert distance[int(place.y), int(place.x)] <= 0.75


def test_law_a_wide_trace_in_a_large_picture():
    place = narrowest(inked(bar(520, 20, 85, 420, (260, 260))), MIDDLE, True)
    assert place.width == pytest.approx(85, abs=0.25)


@pytest.mark.parametrize("angle", [10, 37, 80])
def test_law_a_trace_of_a_fifth_of_a_millimetre_at_1200_dpi(angle):
    pixel = 0.0254 / DPI
    place = narrowest(inked(bar(220, angle, 0.2e-3 / pixel, 180, (110, 110))), MIDDLE, True)
    assert place.width * pixel == pytest.approx(0.2e-3, abs=5e-6)


@pytest.mark.parametrize("turn", [0.0, 0.3, 0.785, 1.2])
@pytest.mark.parametrize("gap", [3.0, 8.0, 11.0, 20.0])
@pytest.mark.parametrize("sharp, slack", [(False, 0.35), (True, 1.0)])
def test_law_a_gap_between_discs_is_measured_at_its_narrowest(gap, turn, sharp, slack):
    centre = np.array([90.4, 89.7])
    apart = (30 + gap / 2) * np.array([np.cos(turn), np.sin(turn)])
    place = narrowest(inked(two_discs(180, 30, centre, apart), sharp), MIDDLE, False)
    assert place.width == pytest.approx(gap, abs=slack)
    # 5 pixels away it is half a pixel wider
    assert np.hypot(place.x - centre[0], place.y - centre[1]) < 5


@pytest.mark.parametrize("turn", [0.6, 1.4, 2.5])
def test_law_a_gap_that_hardly_narrows_is_followed_to_its_end(turn):
    # large pads: the points first measured lie up to 6 pixels off, where it is 6²/60 = 0.6 wider
    centre = np.array([100.3, 99.6])
    apart = 70 * np.array([np.cos(turn), np.sin(turn)])
    place = narrowest(inked(two_discs(200, 60, centre, apart)), MIDDLE, False)
    assert place.width == pytest.approx(20, abs=0.2)


def test_law_a_pinch_points_half_way_between_its_two_rays():
    # tips that meet within 8 pixels, and a point 3 pixels off the line between: both rays bend to
    # it, and the direction of the pinch is that of the line
    tips = np.minimum(corner(160, (84, 80), 0.0), corner(160, (76, 80), np.pi))
    picture = Picture(inked(tips), MIDDLE, dark=False)
    pinch = _pinch(picture, np.array([[82.5, 79.5]]), 90, 20.0, 0.5)
    assert pinch.width[0] == pytest.approx(2 * np.hypot(4, 3), abs=1.5)
    assert abs(np.sin(pinch.across[0])) < 0.05


@pytest.mark.parametrize("turn", [0.0, 0.5, 1.1])
@pytest.mark.parametrize("radius, neck", [(30, 16), (18, 18), (12, 10)])
def test_law_a_neck_between_two_round_pads(turn, radius, neck):
    # pads that overlap: sharp notches close in the pixels on both sides, by less than 1.5 pixels
    # each
    apart = np.sqrt(radius**2 - neck**2 / 4) * np.array([np.cos(turn), np.sin(turn)])
    pads = two_discs(160, radius, np.array([80.2, 80.2]), apart)
    place = narrowest(inked(pads), MIDDLE, True)
    assert abs(place.width - neck) <= place.doubt
    assert np.hypot(place.x - 80.2, place.y - 80.2) < 4


@pytest.mark.parametrize("turn", [0.0, 0.5, 1.1])
def test_law_pads_joined_by_a_short_trace_are_as_wide_as_it(turn):
    apart = 40 * np.array([np.cos(turn), np.sin(turn)])
    pads = two_discs(160, 25, np.array([80, 80]), apart)
    trace = bar(160, np.degrees(turn), 6, 80, (80, 80))
    place = narrowest(inked(np.minimum(pads, trace)), MIDDLE, True)
    assert place.width == pytest.approx(6, abs=0.25)


def facing(shape, turn, centre, gap):
    """A corner, a pad or an edge that lies half a gap from the centre."""
    direction = np.array([np.cos(turn), np.sin(turn)])
    if shape == "corner":
        return corner(160, centre - direction * gap / 2, turn + np.pi)
    if shape == "pad":
        return disc_distance(160, 25, centre - direction * (gap / 2 + 25))
    x, y = grid(160)
    return (x - centre[0]) * direction[0] + (y - centre[1]) * direction[1] + gap / 2


@pytest.mark.parametrize("gap", [4.0, 7.3, 12.0, 20.0])
@pytest.mark.parametrize("shape", ["corner", "edge", "pad"])
def test_law_where_corners_meet_the_width_is_within_its_doubt(shape, gap):
    random = np.random.default_rng(int(gap))
    for turn in random.uniform(0, 2 * np.pi, 2):
        centre = 80 + random.uniform(-1, 1, 2)
        tip = centre + np.array([np.cos(turn), np.sin(turn)]) * gap / 2
        distance = np.minimum(corner(160, tip, turn), facing(shape, turn, centre, gap))
        for sharp in (False, True):
            place = narrowest(inked(distance, sharp), MIDDLE, False)
            assert abs(place.width - gap) <= place.doubt < 0.5 * gap + 4


@pytest.mark.parametrize("angle", [30, 45, 60, 90, 120])
def test_law_the_tip_of_a_wedge_and_a_corner_are_no_trace(angle):
    random = np.random.default_rng(angle)
    for turn in random.uniform(0, 2 * np.pi, 4):
        to_tip = 45 * np.array([np.cos(turn), np.sin(turn)])
        tip = 100 - to_tip + random.uniform(0, 1, 2)
        for sharp in (False, True):
            grey = inked(wedge(200, angle, turn, tip), sharp)
            assert narrowest(grey, MIDDLE, True) is None
            assert narrowest(255 - grey, MIDDLE, False) is None


def test_law_a_nick_in_one_of_many_traces_is_found():
    traces = [bar(300, 0, 10, 260, (150, y)) for y in range(20, 290, 20)]
    grey = inked(np.min(traces, axis=0))
    grey[156:162, 200:215] = 255  # out of the trace at y = 160, rows 155 to 165
    place = narrowest(grey, MIDDLE, True)
    assert place.width < 4.5 and 195 < place.x < 220 and 150 < place.y < 170


@pytest.mark.parametrize("dark", [True, False])
def test_law_a_picture_and_its_negative_swap_trace_and_gap(dark):
    random = np.random.default_rng(4)
    discs = [
        disc_distance(200, radius, random.uniform(0, 200, 2))
        for radius in random.uniform(8, 25, 12)
    ]
    grey = inked(np.min(discs, axis=0))
    place = narrowest(grey, MIDDLE, dark)
    assert place is not None
    assert narrowest(255 - grey, MIDDLE, not dark) == place


def slanted_trace():
    """A trace of 7 pixels into a pad."""
    trace, pad = bar(200, 25, 7, 120, (90, 100)), disc_distance(200, 28, (150, 140))
    return inked(np.minimum(trace, pad))


@pytest.mark.parametrize("down, over", [(0, 0), (1, 0), (13, 29), (0, 64)])
def test_law_moved_it_is_the_same_width(down, over):
    picture = np.full((240, 300), 255, np.uint8)
    picture[down : down + 200, over : over + 200] = slanted_trace()
    width = narrowest(slanted_trace(), MIDDLE, True).width
    assert width == pytest.approx(7, abs=0.25)
    assert narrowest(picture, MIDDLE, True).width == pytest.approx(width, abs=0.1)


@pytest.mark.parametrize("turn", [np.rot90, np.flipud, np.transpose])
def test_law_turned_by_quarters_it_is_the_same_width(turn):
    width = narrowest(slanted_trace(), MIDDLE, True).width
    place = narrowest(turn(slanted_trace()), MIDDLE, True)
    assert place.width == pytest.approx(width, abs=0.1)


def test_law_beyond_the_board_nothing_begins():
    grey = np.full((120, 123), 255, np.uint8)
    grey[5:115, 4:60] = 0
    grey[5:115, 90:118] = 0  # 4 and 5 pixels from the edges: no gap
    assert narrowest(grey, MIDDLE, False) is None
    grey[:, 72:78] = 0  # a trace that runs out of the board on both sides
    assert narrowest(grey, MIDDLE, True).width == pytest.approx(6, abs=0.05)


@pytest.mark.parametrize("dark", [True, False])
def test_law_a_plain_field_has_no_narrow_place(dark):
    assert narrowest(np.full((100, 100), 255, np.uint8), MIDDLE, dark) is None


def test_law_a_speck_is_no_trace():
    grey = np.full((100, 100), 255, np.uint8)
    grey[50, 50] = 0
    grey[20:22, 30:32] = 0
    assert narrowest(grey, MIDDLE, True) is None


def test_law_a_place_found_in_every_second_pixel_is_in_doubt_by_two():
    # wider than the ladder of the full picture, which ends at 12
    grey = np.full((200, 200), 255, np.uint8)
    grey[:, 90:110] = 0
    place = narrowest(grey, MIDDLE, True)
    assert place.width == pytest.approx(20, abs=0.05) and place.doubt >= 2
