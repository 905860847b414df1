"""Narrow places on packed bits, against a slow search pixel by pixel that packs nothing."""

import numpy as np
import pytest
from helpers.artworks import disc_distance, inked

from pcbchem.bench.artwork.narrow_search import (
    ALONG,
    MANY_WORDS,
    MARGIN,
    ROWS,
    STILL,
    Direction,
    _moved,
    _place,
    _rows_with_margin,
    narrow_places,
    pack,
)
from pcbchem.bench.artwork.narrow_width import TAPER

MIDDLE = 127.5
FAN = np.tan(np.radians(45 / 2))
"""Four directions are 45° apart: each sees half of that to both sides."""
LADDER = (1, 2, 3, 4, 6, 8, 10, 12)
# Rows and columns of the next pixel across a place and along it, as in the module
ACROSS_AND_ALONG = [((0, 1), (1, 0)), ((1, 0), (0, 1)), ((1, 1), (1, -1)), ((1, -1), (1, 1))]


def blank(rows=80, columns=80):
    return np.full((rows, columns), 255, np.uint8)


def unpacked(bits, rows, columns):
    """Packed rows as true and false, shape (rows, columns)."""
    flat = np.unpackbits(bits.view(np.uint8).reshape(rows, -1), axis=1, bitorder="little")
    return flat[:, :columns].astype(bool)


@pytest.mark.parametrize("columns", [1, 7, 8, 63, 64, 65, 130])
def test_law_packing_keeps_every_pixel_and_sets_what_is_outside(columns):
    grey = np.random.default_rng(columns).integers(0, 256, (300, columns)).astype(np.uint8)
    for dark in (True, False):
        bits = pack(grey, MIDDLE, dark)
        every_bit = unpacked(bits, 300, 64 * bits.shape[1])
        assert np.array_equal(every_bit[:, :columns], (grey < MIDDLE) == dark)
        assert every_bit[:, columns:].all() and every_bit.shape[1] >= columns + 64


@pytest.mark.parametrize("by", [0, 1, 63, 64, 65, 200, -1, -64, -127])
def test_law_moving_takes_the_bit_so_many_places_further_on(by):
    bits = np.random.default_rng(1).integers(0, 2**64, 12, np.uint64)
    before, after = unpacked(bits, 1, 768)[0], unpacked(_moved(bits, by), 1, 768)[0]
    places = np.arange(256, 512)  # words at both ends take part of their bits from outside
    assert np.array_equal(after[places], before[places + by])


class Slow:
    """A picture of which every pixel is asked for by row and column, and nothing is packed."""

    def __init__(self, inside):
        self.inside = inside

    def is_own(self, row, column):
        """Whether a pixel has the colour; what is outside the picture has."""
        rows, columns = self.inside.shape
        if not (0 <= row < rows and 0 <= column < columns):
            return True
        return bool(self.inside[row, column])

    def has_other_colour(self, row, column, step, aside, reach):
        """Whether the other colour lies ahead within so many steps, in a fan of 22.5°."""
        for k in range(1, reach + 1):
            half_width = round(k * FAN)
            for side in range(-half_width, half_width + 1):
                y = row + k * step[0] + side * aside[0]
                x = column + k * step[1] + side * aside[1]
                if not self.is_own(y, x):
                    return True
        return False

    def longest_run(self, row, column, step):
        """Pixels of the colour in a straight run through this one."""
        if not self.is_own(row, column):
            return 0
        count = 1
        for way in (1, -1):
            k = 1
            while k < 40 and self.is_own(row + way * k * step[0], column + way * k * step[1]):
                count += 1
                k += 1
        return count

    def is_place(self, row, column, across, along, width):
        """Whether a pixel lies in a narrow place of a width, as the module's text says it."""
        length = float(np.hypot(*across))
        steps = max(1, round(width / length))
        far = max(2, round(ALONG * width / length))
        backward = (-across[0], -across[1])
        if not self.is_own(row, column):
            return False
        if not self.has_other_colour(row, column, across, along, (steps + 1) // 2):
            return False
        if not self.has_other_colour(row, column, backward, along, steps // 2 + 1):
            return False
        for k in range(-far, far + 1):
            if not self.is_own(row + k * along[0], column + k * along[1]):
                return False
        for way in (far, -far):
            end = row + way * along[0], column + way * along[1]
            if self.longest_run(*end, across) < np.ceil(STILL * steps):
                return False
        return True


def random_drawing(seed, size):
    """Discs and lines of all widths, some of them over the edge."""
    random = np.random.default_rng(seed)
    shapes = [
        disc_distance(size, random.uniform(3, 12), random.uniform(0, size, 2)) for _ in range(6)
    ]
    x, y = np.meshgrid(np.arange(size) + 0.5, np.arange(size) + 0.5)
    for _ in range(4):
        angle, offset = random.uniform(0, np.pi), random.uniform(0, size)
        across = (x - offset) * np.sin(angle) - (y - offset) * np.cos(angle)
        shapes.append(abs(across) - random.uniform(1, 4))
    return inked(np.min(shapes, axis=0), sharp=True)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("width", [1, 2, 3, 5, 8, 12])
def test_law_packed_places_are_those_of_a_slow_search(seed, width):
    size = 70
    grey = random_drawing(seed, size)
    for dark in (True, False):
        bits = pack(grey, MIDDLE, dark)
        words_per_row = bits.shape[1]
        row = 64 * words_per_row
        strip = _rows_with_margin(bits, 0)
        slow = Slow((grey < MIDDLE) == dark)
        for across, along in ACROSS_AND_ALONG:
            direction = Direction(
                over=across[0] * row + across[1],
                along=along[0] * row + along[1],
                step=float(np.hypot(*across)),
            )
            place = _place(strip, words_per_row, direction, width, width, STILL)
            expected = [
                [slow.is_place(y, x, across, along, width) for x in range(size)]
                for y in range(size)
            ]
            assert np.array_equal(unpacked(place, size, size), expected)


@pytest.mark.parametrize("width", range(1, 13))
def test_law_an_upright_line_of_a_width_is_found_at_it(width):
    grey = blank()
    grey[:, 30 : 30 + width] = 0
    first, points = next(narrow_places(pack(grey, MIDDLE, True), 80, LADDER))
    assert first == width
    assert (points[:, 1] >= 30).all() and (points[:, 1] < 30 + width).all()


def test_law_a_place_below_the_first_strip_counts_from_the_top():
    grey = blank(700, 90)
    grey[500:540, 40:45] = 0
    first, points = next(narrow_places(pack(grey, MIDDLE, True), 90, LADDER))
    assert first == 5
    assert (points[:, 0] >= 500).all() and (points[:, 0] < 540).all()


def test_law_widths_rise_and_the_next_wider_place_comes_next():
    grey = blank(120, 120)
    grey[:, 20:23] = 0
    grey[:, 60:67] = 0
    places = dict(narrow_places(pack(grey, MIDDLE, True), 120, LADDER))
    assert list(places) == sorted(places)
    assert (places[3][:, 1] < 23).all()
    assert any(60 <= column < 67 for column in places[7][:, 1])


def test_law_wide_and_empty_pictures_have_no_place():
    assert list(narrow_places(pack(blank(), MIDDLE, True), 80, LADDER)) == []
    assert list(narrow_places(pack(blank(), MIDDLE, False), 80, LADDER)) == []
    block = blank()
    block[20:60, 20:60] = 0
    assert list(narrow_places(pack(block, MIDDLE, True), 80, LADDER)) == []


def test_law_few_points_stand_for_many():
    grey = blank(2000, 400)
    grey[:, ::10] = 0  # 40 lines of one pixel
    _, points = next(narrow_places(pack(grey, MIDDLE, True), 400, LADDER))
    strips = points[:, 0] // ROWS
    assert len(np.unique(strips)) == 11  # of every strip
    for strip in range(11):
        row, column = points[strips == strip].T
        assert len({*zip(row, column // 64, strict=True)}) < 2 * MANY_WORDS


def test_law_the_search_is_no_stricter_than_the_measuring():
    assert STILL < TAPER


def test_law_no_question_reaches_beyond_the_margin():
    widest = LADDER[-1] + 1
    assert max(ALONG * widest, widest // 2 + 1, widest * STILL) + 2 <= MARGIN
