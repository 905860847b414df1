"""Grey levels, edges, frames and outlines of drawings of which all is known."""

import numpy as np
import pytest
from helpers.artworks import disc, framed, page, photograph

from pcbchem.bench.artwork import drawing
from pcbchem.bench.artwork.drawing import (
    box_around,
    check_drawn,
    dark_share_of_rim,
    edge_length,
    frame,
    grey_levels,
    histogram,
    outline_box,
)
from pcbchem.common.limits import InputError

MIDDLE = 127.5
TENTH = 1e-4
"""A pixel of a tenth of a millimetre [m]."""


def test_law_a_histogram_counts_every_pixel_once():
    # more than one strip of a million pixels
    grey = np.random.default_rng(3).integers(0, 256, (1100, 1500)).astype(np.uint8)
    counts = histogram(grey)
    assert counts.sum() == grey.size
    assert np.array_equal(counts, [np.count_nonzero(grey == value) for value in range(256)])


def test_law_levels_lie_between_ink_and_paper():
    counts = np.zeros(256, int)
    counts[[40, 220]] = 900, 100  # however little paper there is
    levels = grey_levels(counts)
    assert (levels.dark, levels.light) == (40, 220)
    assert (levels.low, levels.middle, levels.high) == (85, 130, 175)


def test_law_noise_round_ink_and_paper_moves_no_level():
    counts = np.zeros(256, int)
    counts[[35, 40, 45, 215, 220, 225]] = 10, 80, 10, 20, 60, 20
    assert grey_levels(counts).middle == 130


def test_law_strips_of_any_height_show_the_same(monkeypatch):
    grey = disc(100, 30, (50, 50))
    length, photo = edge_length(grey, MIDDLE), photograph()
    for rows in (1, 5, 33):
        monkeypatch.setattr(drawing, "STRIP", rows * 100)
        assert edge_length(grey, MIDDLE) == length
        assert np.array_equal(histogram(grey), np.bincount(grey.ravel(), minlength=256))
        check_drawn(grey, 64, 191)
        with pytest.raises(ValueError, match="photograph"):
            check_drawn(photo, 64, 191)


@pytest.mark.parametrize("value, middle", [(30, 142.5), (200, 100.0)])
def test_law_a_picture_of_one_colour_lacks_black_or_white(value, middle):
    counts = np.zeros(256, int)
    counts[value] = 5
    assert grey_levels(counts).middle == middle


def test_law_a_photograph_is_grey_all_round():
    with pytest.raises(ValueError, match=r"is grey on \d+% of the board, at most 1% is read"):
        check_drawn(photograph(), 64, 191)


def test_law_soft_edges_are_no_photograph():
    check_drawn(disc(300, 80, (150, 150)), 64, 191)


@pytest.mark.parametrize("size", [60, 1100])
def test_law_the_edge_of_a_square_is_its_sides(size):
    grey = np.full((size + 40, size + 40), 255, np.uint8)
    grey[20:-20, 20:-20] = 0
    # a corner is a little shorter than its sides: four of them, by less than a pixel each
    assert edge_length(grey, MIDDLE) == pytest.approx(4 * size, abs=4)


def test_law_an_edge_at_45_degrees_has_its_length():
    row, column = np.mgrid[:300, :300]
    grey = np.where(row > column, 0, 255).astype(np.uint8)
    assert edge_length(grey, MIDDLE) == pytest.approx(300 * 2**0.5, rel=0.01)


def test_law_an_edge_at_any_angle_is_at_most_9_percent_long():
    row, column = np.mgrid[:400, :400]
    for angle in np.radians(np.linspace(3, 42, 8)):
        grey = np.where(row > 20 + column * np.tan(angle), 0, 255).astype(np.uint8)
        length = edge_length(grey, MIDDLE) * np.cos(angle) / 400
        assert 0.99 < length < 1.09


def test_law_a_rim_is_dark_by_its_share():
    grey = np.full((100, 100), 255, np.uint8)
    assert dark_share_of_rim(grey, MIDDLE) == 0
    grey[:50] = 0
    assert dark_share_of_rim(grey, MIDDLE) == pytest.approx(0.5)
    assert dark_share_of_rim(np.zeros_like(grey), MIDDLE) == 1


def test_law_a_box_lies_round_all_of_a_colour():
    grey = page(400, 360, (120, 110, 220, 190))
    assert box_around(grey, MIDDLE, dark=True) == (120, 110, 220, 190)
    assert box_around(grey, MIDDLE, dark=False) == (0, 0, 400, 360)
    assert box_around(np.full_like(grey, 255), MIDDLE, dark=True) is None


@pytest.mark.parametrize("at, on_rim", [(20, False), (0, True)])
def test_law_a_frame_is_found_with_its_inside_and_thickness(at, on_rim):
    line = frame(framed(3, at=at), MIDDLE, TENTH)
    assert line.inside == (at + 3, at + 3, 360 - at - 3, 300 - at - 3)
    assert line.thickness == pytest.approx(0.3e-3)
    assert line.on_rim == on_rim


def test_law_a_light_frame_on_black_is_found_the_same():
    line = frame(framed(3), MIDDLE, TENTH)
    assert frame(framed(3, ink=255, paper=0), MIDDLE, TENTH, dark=False) == line


def test_law_a_frame_thicker_than_a_millimetre_is_none():
    assert frame(framed(10), MIDDLE, TENTH) is not None
    assert frame(framed(15), MIDDLE, TENTH) is None


def test_law_a_frame_may_have_round_corners():
    rounded = framed(2)
    for rows in (slice(18, 40), slice(-40, -18)):
        for columns in (slice(18, 40), slice(-40, -18)):
            rounded[rows, columns] = 255
    line = frame(rounded, MIDDLE, TENTH)
    assert line.inside == (22, 22, 338, 278)


def test_law_a_broken_frame_is_none():
    broken = framed(2)
    broken[:, 130:220] = 255  # 72 % of the upper side is left
    assert frame(broken, MIDDLE, TENTH) is None


def test_law_a_frame_is_the_outermost_thing_drawn():
    grey = framed(2)
    grey[5:8, 5:60] = 0
    assert frame(grey, MIDDLE, TENTH) is None
    assert frame(np.full_like(grey, 255), MIDDLE, TENTH) is None


def test_law_an_outline_is_rounded_to_whole_pixels():
    assert outline_box((1.04e-3, 0.96e-3, 2e-3, 3e-3), (100, 200), TENTH) == (10, 10, 30, 40)
    # the whole picture, and a hair more
    assert outline_box((0, 0, 0.02004, 0.01), (100, 200), TENTH) == (0, 0, 200, 100)
    # one pixel at least
    assert outline_box((0.001, 0.001, 1e-9, 1e-9), (100, 200), TENTH) == (10, 10, 11, 11)


@pytest.mark.parametrize("outline", [(1, 2), 5, (0, 0, 1), None])
def test_law_what_is_no_box_is_refused(outline):
    with pytest.raises(InputError, match=r"outline = .* it must be \(x, y, width, height\)"):
        outline_box(outline, (100, 200), TENTH)


@pytest.mark.parametrize(
    "outline, field",
    [
        ((-1e-3, 0, 0.01, 0.01), "outline: x"),
        ((0, 0.011, 0.01, 0.01), "outline: y"),
        ((0.01, 0, 0.011, 0.01), "outline: width"),
        ((0, 0, 0.01, 0), "outline: height"),
        ((0, 0, "wide", 0.01), "outline: width"),
    ],
)
def test_law_an_outline_outside_the_picture_names_its_side(outline, field):
    with pytest.raises(InputError) as error:
        outline_box(outline, (100, 200), TENTH)
    assert error.value.field == field


def test_law_a_pad_smaller_than_the_thickest_line_is_no_frame():
    # 10 pixels of a tenth of a millimetre: every side of it is "a line" right through to the other
    grey = np.full((40, 40), 255, np.uint8)
    grey[15:25, 15:25] = 0
    assert frame(grey, MIDDLE, TENTH) is None
