"""Places in the triangle and on the picture, and regions of one reason (laws)."""

import numpy as np
import pytest

from pcbchem.lesson.what_if.triangle import (
    FRAMES,
    HEIGHT,
    Box,
    neighbours,
    place_on_picture,
    points,
    regions,
    share_inside,
    shares_at,
)

CORNERS = [(1, 0, 0), (0, 1, 0), (0, 0, 1)]


def grid(steps):
    """All mixtures of so many steps."""
    counts = [
        (water, acid, steps - water - acid)
        for water in range(steps + 1)
        for acid in range(steps + 1 - water)
    ]
    return np.array(counts) / steps


def test_law_water_stands_on_top_acid_left_peroxide_right():
    water, acid, peroxide = points(CORNERS)
    assert water == pytest.approx([0.5, HEIGHT])
    assert acid == pytest.approx([0, 0]) and peroxide == pytest.approx([1, 0])


def test_law_all_sides_are_one():
    water, acid, peroxide = points(CORNERS)
    for one, other in ((water, acid), (acid, peroxide), (peroxide, water)):
        assert np.linalg.norm(one - other) == pytest.approx(1)


@pytest.mark.parametrize("narrow", [False, True])
def test_law_a_place_on_the_picture_leads_back(narrow):
    for shares in grid(7):
        x, y = place_on_picture(shares, narrow)
        assert 0 < x < 1 and 0 < y < 1
        assert shares_at(x, y, narrow) == pytest.approx(shares)


@pytest.mark.parametrize("narrow", [False, True])
def test_law_more_water_lies_higher_on_the_picture(narrow):
    heights = [place_on_picture((water, 1 - water, 0), narrow)[1] for water in (0, 0.5, 1)]
    assert heights == sorted(heights, reverse=True)


def test_law_the_triangle_lies_inside_its_picture():
    for frame in FRAMES.values():
        assert frame.left + frame.side < frame.width
        assert frame.bottom + HEIGHT * frame.side < frame.height


def test_law_neighbours_are_one_step_away():
    around = neighbours((3, 4, 5))
    assert len(set(around)) == 6
    assert all(sum(each) == 12 for each in around)
    assert {sum(abs(np.array(each) - (3, 4, 5))) for each in around} == {2}


def test_law_a_region_is_all_of_one_reason_that_hangs_together():
    """Two corners of one reason are two regions: a sentence belongs to each."""
    shares = grid(6)
    reasons = []
    for water, acid, peroxide in shares:
        reason = "weak" if max(acid, peroxide) > 0.8 else ""
        reasons.append("wet" if water > 0.6 else reason)
    found = regions(shares, 6, reasons)
    assert [region.reason for region in found] == ["wet", "weak", "weak"]
    counted = sum(len(region.members) for region in found)
    assert counted == sum(bool(reason) for reason in reasons)


def test_law_boxes_meet_where_they_share_a_place():
    box = Box(0, 0, 2, 1)
    assert box.meets(Box(1, 0.5, 3, 2)) and Box(0.5, 0.2, 0.6, 0.3).meets(box)
    assert not box.meets(Box(2.1, 0, 3, 1)) and not box.meets(Box(0, 1.1, 2, 2))


def test_law_words_count_as_inside_over_their_region_alone():
    shares = grid(20)
    is_wet = shares[:, 0] > 0.5
    inside = share_inside(Box(0.48, 0.55, 0.52, 0.6), shares, is_wet)
    dry = share_inside(Box(0.48, 0.1, 0.52, 0.15), shares, is_wet)
    # wider than the triangle is there
    wide = share_inside(Box(0.1, 0.7, 0.9, 0.75), shares, is_wet)
    assert (inside, dry) == (1, 0) and 0 < wide < 0.5
