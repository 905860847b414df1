"""Validation by geometry: the narrowest trace or gap is what was drawn, at any angle; corners and wedges are none.

Shapes are drawn from their exact distance functions, grey along the edge as the pixel is covered, so that nothing
here depends on how a drawing program fills.
"""

import numpy as np
import pytest

from pcbchem.bench.artwork.narrow_width import narrowest

MIDDLE = 127.5


def grid(size):
    """Middles of pixels, x and y."""
    return np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5)


def inked(distance, sharp=False):
    """Black where the distance from an edge is negative; grey where the edge cuts a pixel, unless it is to be sharp."""
    cover = np.clip(0.5 - distance, 0, 1)
    return np.round(255 * (1 - (cover > 0.5 if sharp else cover))).astype(np.uint8)


def bar(size, angle, width, length, centre):
    """Distance from the edge of a bar."""
    x, y = grid(size)
    u, v = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    along, across = (
        (x - centre[0]) * u + (y - centre[1]) * v,
        (y - centre[1]) * u - (x - centre[0]) * v,
    )
    return np.maximum(abs(along) - length / 2, abs(across) - width / 2)


def disc(size, radius, centre):
    x, y = grid(size)
    return np.hypot(x - centre[0], y - centre[1]) - radius


def wedge(size, angle, turn, tip):
    """A wedge with one sharp tip, closed by a disc much wider than anything narrow."""
    x, y = grid(size)
    along = (x - tip[0]) * np.cos(turn) + (y - tip[1]) * np.sin(turn)
    across = (y - tip[1]) * np.cos(turn) - (x - tip[0]) * np.sin(turn)
    half, long = np.radians(angle / 2), size * 0.45
    cut = np.maximum(abs(across) * np.cos(half) - along * np.sin(half), along - long)
    return np.minimum(cut, np.hypot(along - long, across) - max(long * np.tan(half), size * 0.2))


@pytest.mark.parametrize("angle", [0, 15, 22.5, 30, 45, 60, 90])
@pytest.mark.parametrize("width", [3.0, 9.45, 22.0])
def test_validation_a_trace_has_its_width_at_any_angle(width, angle):
    centre = (100.3, 99.8)
    distance = bar(200, angle, width, 150, centre)
    for sharp, within in ((False, 0.25), (True, 1.0)):
        place = narrowest(inked(distance, sharp), MIDDLE, True)
        assert place.width == pytest.approx(width, abs=within)
        assert distance[int(place.y), int(place.x)] <= 0.75


def test_validation_a_wide_trace_in_a_large_picture():
    assert narrowest(inked(bar(520, 20, 85, 420, (260, 260))), MIDDLE, True).width == pytest.approx(
        85, abs=0.25
    )


def test_validation_a_trace_of_a_fifth_of_a_millimetre_at_1200_to_the_inch():
    width = 0.2e-3 / (0.0254 / 1200)
    for angle in (10, 37, 80):
        place = narrowest(inked(bar(220, angle, width, 180, (110, 110))), MIDDLE, True)
        assert place.width * 0.0254 / 1200 == pytest.approx(0.2e-3, abs=5e-6)


@pytest.mark.parametrize("turn", [0.0, 0.3, 0.785, 1.2])
@pytest.mark.parametrize("gap", [3.0, 8.0, 11.0, 20.0])
def test_validation_a_gap_between_two_discs_is_measured_where_it_is_narrowest(gap, turn):
    step = (30 + gap / 2) * np.array([np.cos(turn), np.sin(turn)])
    centre = np.array([90.4, 89.7])
    both = np.minimum(disc(180, 30, centre + step), disc(180, 30, centre - step))
    for sharp, within in ((False, 0.35), (True, 1.0)):
        place = narrowest(inked(both, sharp), MIDDLE, False)
        assert place.width == pytest.approx(gap, abs=within)
        assert (
            np.hypot(place.x - centre[0], place.y - centre[1]) < 5
        )  # there it is half a pixel wider


@pytest.mark.parametrize("turn", [0.0, 0.5, 1.1])
def test_validation_a_neck_between_two_round_pads(turn):
    # pads that overlap: sharp notches close in the pixels on both sides, by less than 1.5 pixels each
    u = np.array([np.cos(turn), np.sin(turn)])
    for radius, neck in ((30, 16), (18, 18), (12, 10)):
        step = u * np.sqrt(radius**2 - neck**2 / 4)
        both = np.minimum(disc(160, radius, 80.2 + step), disc(160, radius, 80.2 - step))
        place = narrowest(inked(both), MIDDLE, True)
        assert abs(place.width - neck) <= place.doubt
        assert np.hypot(place.x - 80.2, place.y - 80.2) < 4
    # pads joined by a short trace
    joined = np.minimum(
        np.minimum(disc(160, 25, 80 + 40 * u), disc(160, 25, 80 - 40 * u)),
        bar(160, np.degrees(turn), 6, 80, (80, 80)),
    )
    assert narrowest(inked(joined), MIDDLE, True).width == pytest.approx(6, abs=0.25)


def corner(size, tip, way):
    """A large square with one corner at the tip, pointing against the way."""
    x, y = grid(size)
    sides = [
        (x - tip[0]) * np.cos(way + turn) + (y - tip[1]) * np.sin(way + turn)
        for turn in (np.pi / 4, -np.pi / 4)
    ]
    return np.max([-sides[0], -sides[1], sides[0] - 45, sides[1] - 45], axis=0)


@pytest.mark.parametrize("gap", [4.0, 7.3, 12.0, 20.0])
@pytest.mark.parametrize("other", ["corner", "edge", "pad"])
def test_validation_where_corners_meet_the_width_is_within_its_doubt(other, gap):
    rng = np.random.default_rng(int(gap))
    for turn in rng.uniform(0, 2 * np.pi, 2):
        u, centre = np.array([np.cos(turn), np.sin(turn)]), 80 + rng.uniform(-1, 1, 2)
        x, y = grid(160)
        facing = {
            "corner": corner(160, centre - u * gap / 2, turn + np.pi),
            "pad": disc(160, 25, centre - u * (gap / 2 + 25)),
            "edge": (x - centre[0]) * u[0] + (y - centre[1]) * u[1] + gap / 2,
        }[other]
        both = np.minimum(corner(160, centre + u * gap / 2, turn), facing)
        for sharp in (False, True):
            place = narrowest(inked(both, sharp), MIDDLE, False)
            assert abs(place.width - gap) <= place.doubt < 0.5 * gap + 4


@pytest.mark.parametrize("angle", [30, 45, 60, 90, 120])
def test_law_the_tip_of_a_wedge_and_a_corner_are_no_trace(angle):
    rng = np.random.default_rng(angle)
    for turn in rng.uniform(0, 2 * np.pi, 4):
        tip = 100 - 45 * np.array([np.cos(turn), np.sin(turn)]) + rng.uniform(0, 1, 2)
        for sharp in (False, True):
            grey = inked(wedge(200, angle, turn, tip), sharp)
            assert narrowest(grey, MIDDLE, True) is None
            assert narrowest(255 - grey, MIDDLE, False) is None


def test_law_a_nick_in_one_of_many_traces_is_found():
    grey = inked(np.min([bar(300, 0, 10, 260, (150, y)) for y in range(20, 290, 20)], axis=0))
    grey[156:162, 200:215] = 255  # out of the trace at y = 160, rows 155 to 165
    place = narrowest(grey, MIDDLE, True)
    assert place.width < 4.5 and 195 < place.x < 220 and 150 < place.y < 170


def test_law_a_picture_and_its_negative_swap_trace_and_gap_exactly():
    rng = np.random.default_rng(4)
    discs = [disc(200, radius, rng.uniform(0, 200, 2)) for radius in rng.uniform(8, 25, 12)]
    grey = inked(np.min(discs, axis=0))
    for dark in (True, False):
        assert narrowest(grey, MIDDLE, dark) == narrowest(255 - grey, MIDDLE, not dark) is not None


def test_law_moved_or_turned_by_quarters_it_is_the_same_width():
    grey = inked(np.minimum(bar(200, 25, 7, 120, (90, 100)), disc(200, 28, (150, 140))))
    first = narrowest(grey, MIDDLE, True)
    assert first.width == pytest.approx(7, abs=0.25)
    for down, over in ((1, 0), (13, 29), (0, 64)):
        moved = np.full((240, 300), 255, np.uint8)
        moved[down : down + 200, over : over + 200] = grey
        assert narrowest(moved, MIDDLE, True).width == pytest.approx(first.width, abs=0.1)
    for turned in (np.rot90(grey), grey[::-1], grey.T):
        assert narrowest(np.ascontiguousarray(turned), MIDDLE, True).width == pytest.approx(
            first.width, abs=0.1
        )


def test_law_beyond_the_board_nothing_begins():
    grey = np.full((120, 123), 255, np.uint8)
    grey[5:115, 4:60] = grey[5:115, 90:118] = 0  # 4 and 5 pixels from the edges: no gap
    assert narrowest(grey, MIDDLE, False) is None
    grey[:, 72:78] = 0  # a trace that runs out of the board on both sides
    assert narrowest(grey, MIDDLE, True).width == pytest.approx(6, abs=0.05)


def test_law_a_speck_is_no_trace_and_a_plain_field_has_none():
    grey = np.full((100, 100), 255, np.uint8)
    assert narrowest(grey, MIDDLE, True) is None and narrowest(grey, MIDDLE, False) is None
    grey[50, 50] = grey[20:22, 30:32] = 0
    assert narrowest(grey, MIDDLE, True) is None
