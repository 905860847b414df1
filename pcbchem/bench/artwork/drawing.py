"""What a grey picture of an artwork shows: levels of grey, edges, outline, and if it is a drawing.

A picture is looked at in strips of rows: a large one has tens of millions of pixels, and a second
array of that size would take as much memory again.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...common.limits import InputError, check_number
from .picture_file import STRIP

Grey = NDArray[np.uint8]
"""Grey values from 0 black to 255 white, rows by columns."""

MOST_GREY = 0.01
"""Share of the board that may be grey all round [-]: more is a photograph."""
MOST_FRAME = 0.001
"""Thickest line of a frame [m]."""
CLOSED = 0.8
"""Share of a side that the line of a frame covers at least [-]: its corners may be round."""
RAGGED = 3
"""A line may begin so many pixels inside its outermost pixel: it is ragged outside."""
RIM = 2
"""Width of the rim of a picture [pixels]."""


class Box(NamedTuple):
    """Part of a picture [pixels]: `left` and `top` belong to it, `right` and `bottom` do not."""

    left: int
    top: int
    right: int
    bottom: int


class Frame(NamedTuple):
    """A line that frames a drawing: its inside [pixels] and its thickest side [m].

    `on_rim`: whether it lies on the rim of the picture all round.
    """

    inside: Box
    thickness: float
    on_rim: bool


class Levels(NamedTuple):
    """Grey values [0 to 255] of a picture: of its ink and paper, and three on the way between.

    `low`, `middle` and `high` are a quarter, half and three quarters of the way from `dark` to
    `light`.
    """

    dark: float
    low: float
    middle: float
    high: float
    light: float


def grey_levels(counts: NDArray[np.int64]) -> Levels:
    """Find the levels of grey at which pixels are told apart.

    Parameters
    ----------
    counts : array
        How many pixels have each grey value [pixels], 256 of them.

    Returns
    -------
    Levels
        Grey values [0 to 255]: dark is the median of the darker half of the scale, light that of
        the lighter half.

    Examples
    --------
    >>> print(grey_levels(np.bincount([0, 0, 255], minlength=256)).middle)
    127.5
    """
    # A median, so that neither the grey of edges nor a speck moves it; a colour that is missing
    # counts as full black or white
    dark = _median(counts[:128], missing=0.0)
    light = 128.0 + _median(counts[128:], missing=127.0)
    low = dark + (light - dark) / 4
    high = light - (light - dark) / 4
    return Levels(dark, low, (dark + light) / 2, high, light)


def _median(counts: NDArray[np.int64], missing: float) -> float:
    """Return the place in a list of counts up to which half of them lie; `missing` if all are 0."""
    total = np.cumsum(counts)
    if not total[-1]:  # the last running total is that of all
        return missing
    return float(np.searchsorted(total, total[-1] / 2))


def histogram(grey: Grey) -> NDArray[np.int64]:
    """Count how many pixels have each grey value [pixels], shape (256,)."""
    counts = np.zeros(256, np.int64)
    for strip in _strips(grey):
        counts += np.bincount(strip.ravel(), minlength=256)
    return counts


def check_drawn(grey: Grey, low: float, high: float) -> None:
    """Refuse a picture that is grey over whole areas, not along edges alone.

    Parameters
    ----------
    grey : array
        Grey values of the board [0 to 255].
    low, high : float
        Between these it is grey [0 to 255].

    Raises
    ------
    ValueError
        More than 1 % of it is grey all round.

    Examples
    --------
    >>> check_drawn(np.zeros((100, 100), np.uint8), 64, 191)
    """
    count = 0
    for strip in _strips(grey, extra_rows=4):
        is_grey = (strip > low) & (strip < high)
        # A grey pixel of an edge has black or white within two pixels on some side of it
        all_round = (
            is_grey[2:-2, 2:-2]
            & is_grey[:-4, 2:-2]
            & is_grey[4:, 2:-2]
            & is_grey[2:-2, :-4]
            & is_grey[2:-2, 4:]
        )
        count += int(np.count_nonzero(all_round))
    if count > MOST_GREY * grey.size:
        raise ValueError(
            f"is grey on {count / grey.size:.0%} of the board, at most {MOST_GREY:.0%} is read: it "
            "looks like a photograph or a grey layer; save the copper layer in black and white"
        )


def edge_length(grey: Grey, middle: float) -> float:
    """Return how long all edges between dark and light are.

    Lines in four directions, one through every pixel, cross an edge the more often the longer it
    is. An edge of length L along a row crosses L of the upright lines and none of the level ones,
    and L of each of the two diagonal kinds. So L = (straight + diagonal / √2) / (1 + √2); right for
    multiples of 45°, and up to 9 % too long between them.

    Parameters
    ----------
    grey : array
        Grey values [0 to 255].
    middle : float
        Level between dark and light [0 to 255].

    Returns
    -------
    float
        Length [pixels].

    Examples
    --------
    >>> grey = np.full((100, 100), 255, np.uint8)
    >>> grey[20:80, 20:80] = 0
    >>> print(f"{edge_length(grey, 127.5) / 240:.2f}")
    1.00
    """
    straight = diagonal = 0
    for strip in _strips(grey, extra_rows=1):
        # Each pixel against its neighbour in four directions: "or, but not both" is an edge
        dark = strip < middle
        level = dark[:-1, 1:] ^ dark[:-1, :-1]
        upright = dark[1:] ^ dark[:-1]
        falling = dark[1:, 1:] ^ dark[:-1, :-1]
        rising = dark[1:, :-1] ^ dark[:-1, 1:]
        straight += int(np.count_nonzero(level) + np.count_nonzero(upright))
        diagonal += int(np.count_nonzero(falling) + np.count_nonzero(rising))
    return float((straight + diagonal / 2**0.5) / (1 + 2**0.5))


def dark_share_of_rim(grey: Grey, middle: float) -> float:
    """Return the share of the rim that is dark [-], below a level [0 to 255]."""
    # The corners count twice: nothing beside a whole rim
    sides = (grey[:RIM], grey[-RIM:], grey[:, :RIM], grey[:, -RIM:])
    return float(np.concatenate([(side < middle).ravel() for side in sides]).mean())


def of_colour(grey: Grey, middle: float, dark: bool) -> NDArray[np.bool_]:
    """Return which pixels are dark, or else light, at a level between [0 to 255]."""
    if dark:
        return grey < middle
    return grey >= middle


def box_around(grey: Grey, middle: float, dark: bool) -> Box | None:
    """Return the box round all that is dark, or light, at a level [0 to 255]; None: nothing is."""
    in_row = []
    in_column = np.zeros(grey.shape[1], bool)
    for strip in _strips(grey):
        inside = of_colour(strip, middle, dark)
        in_row.append(inside.any(axis=1))
        in_column |= inside.any(axis=0)
    rows = np.flatnonzero(np.concatenate(in_row))
    columns = np.flatnonzero(in_column)
    if not rows.size:
        return None
    return Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def frame(grey: Grey, middle: float, pixel: float, dark: bool = True) -> Frame | None:
    """Find a line that frames all of one colour.

    It is straight along 80 % of each side at least, and 1 mm thick at most.

    Parameters
    ----------
    grey : array
        Grey values [0 to 255].
    middle : float
        Level between dark and light [0 to 255].
    pixel : float
        Size of a pixel [m].
    dark : bool
        Whether the line is the dark, else the light.

    Returns
    -------
    Frame or None
        Its inside [pixels], its thickest side [m], and whether it lies on the rim of the picture;
        None where there is no such line.

    Examples
    --------
    >>> grey = np.full((100, 100), 255, np.uint8)
    >>> grey[10:90, 10:90], grey[12:88, 12:88] = 0, 255
    >>> print(tuple(frame(grey, 127.5, 1e-4).inside))
    (12, 12, 88, 88)
    """
    box = box_around(grey, middle, dark)
    if box is None:
        return None
    # Rows to look at: the thickest line, a pixel more for its edges, and one to see that it ends
    most = int(MOST_FRAME / pixel) + 2
    drawing = grey[box.top : box.bottom, box.left : box.right]
    # Each side in turn as the first rows: left, top, right, bottom
    sides = (drawing.T, drawing, drawing.T[::-1], drawing[::-1])
    lines = []
    for side in sides:
        line = _line_on_side(side[:most], middle, dark)
        # A line that goes on to the middle of the drawing is no line
        if line >= min(most, side.shape[0] // 2):
            return None
        lines.append(line)
    left, top, right, bottom = lines
    inside = Box(box.left + left, box.top + top, box.right - right, box.bottom - bottom)
    on_rim = box == (0, 0, grey.shape[1], grey.shape[0])
    return Frame(inside, max(lines) * pixel, on_rim)


def _line_on_side(rows: Grey, middle: float, dark: bool) -> int:
    """Return in how many of the first rows [pixels] a line lies; all of them if it has no end."""
    # A row belongs to the line if nearly all of it has its colour
    is_line = of_colour(rows, middle, dark).mean(axis=1) >= CLOSED
    starts = np.flatnonzero(is_line[:RAGGED])
    if not starts.size:
        return len(rows)
    start = int(starts[0])
    ends = np.flatnonzero(~is_line[start:])
    if not ends.size:
        return len(rows)
    return start + int(ends[0])


def outline_box(outline: Any, shape: tuple[int, ...], pixel: float) -> Box:
    """Return the pixels of an outline.

    Parameters
    ----------
    outline : tuple
        (x, y, width, height) from the top left of the picture [m].
    shape : tuple of int
        Rows and columns of the picture [pixels].
    pixel : float
        Size of a pixel [m].

    Returns
    -------
    Box
        Each end at the nearest whole pixel [pixels].

    Raises
    ------
    InputError
        Not such a box, or one that is not inside the picture: names the value and the limits.

    Examples
    --------
    >>> print(tuple(outline_box((0.01, 0, 0.02, 0.03), (300, 300), 1e-4)))
    (100, 0, 300, 300)
    """
    if not isinstance(outline, tuple | list | np.ndarray) or len(outline) != 4:
        raise InputError(
            "outline",
            'it must be (x, y, width, height) in m, "frame" or None',
            value=outline,
            about=f" = {outline!r:.80}",
        )
    x, y, width, height = outline
    rows, columns = shape
    left, right = _side_of_outline("x", x, "width", width, columns, pixel)
    top, bottom = _side_of_outline("y", y, "height", height, rows, pixel)
    return Box(left, top, right, bottom)


def _side_of_outline(
    start_name: str, start: Any, size_name: str, size: Any, most: int, pixel: float
) -> tuple[int, int]:
    """Return where one side of an outline begins and ends [pixels], from start and size [m]."""
    whole = most * pixel
    start = check_number(f"outline: {start_name}", start, 0.0, whole, "m")
    # Half a pixel more: an outline right up to the rim must not fail by rounding
    longest = whole - start + pixel / 2
    size = check_number(f"outline: {size_name}", size, 0.0, longest, "m", above=True)
    first = round(start / pixel)
    last = max(first + 1, round((start + size) / pixel))  # one pixel at least
    return first, min(most, last)


def _strips(grey: Grey, extra_rows: int = 0) -> Iterator[Grey]:
    """Yield the picture in strips of about a million pixels, each with some rows of the next."""
    rows = max(1, STRIP // max(1, grey.shape[1]))
    # A strip that would hold nothing but the extra rows of the one before is left out
    for top in range(0, max(1, grey.shape[0] - extra_rows), rows):
        yield grey[top : top + rows + extra_rows]
