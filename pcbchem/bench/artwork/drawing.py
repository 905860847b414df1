"""What a grey picture of an artwork shows: levels of grey, edges, outline, and whether it is a drawing at all."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...common.limits import check_number
from .picture_file import STRIP

Grey = NDArray[np.uint8]
Box = tuple[int, int, int, int]

MOST_GREY = 0.01  # share of the board that is grey all round: more is a photograph
MOST_FRAME, CLOSED = (
    0.001,
    0.8,
)  # m: thickest line of a frame; share of a side its line covers: corners may be round
RIM = 2  # pixels


def levels(counts: NDArray[np.int64]) -> tuple[float, float, float]:
    """Find the levels of grey at which pixels are told apart.

    Parameters
    ----------
    counts : array
        How many pixels have each grey value [pixels], 256 of them.

    Returns
    -------
    tuple of float
        Grey values [0 to 255] a quarter, half and three quarters of the way from the black to the white of the picture.

    Examples
    --------
    >>> print(levels(np.bincount([0, 0, 255], minlength=256)))
    (63.75, 127.5, 191.25)
    """
    ends = [0.0, 255.0]
    for k, part in enumerate((counts[:128], counts[128:])):
        total = np.cumsum(part)
        if total[-1]:
            ends[k] = 128.0 * k + float(np.searchsorted(total, total[-1] / 2))
    dark, light = ends
    return dark + (light - dark) / 4, (dark + light) / 2, light - (light - dark) / 4


def counted(grey: Grey) -> NDArray[np.int64]:
    """How many pixels have each grey value [pixels]."""
    return sum(
        (np.bincount(part.ravel(), minlength=256) for part in _strips(grey)),
        np.zeros(256, np.int64),
    )


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
    found = 0
    for part in _strips(grey, beside=4):
        between = (part > low) & (part < high)
        found += int(
            np.count_nonzero(
                between[2:-2, 2:-2]
                & between[:-4, 2:-2]
                & between[4:, 2:-2]
                & between[2:-2, :-4]
                & between[2:-2, 4:]
            )
        )
    if found > MOST_GREY * grey.size:
        raise ValueError(
            f"is grey on {found / grey.size:.0%} of the board, at most {MOST_GREY:.0%} is read: it looks "
            "like a photograph or a grey layer; save the copper layer in black and white"
        )


def edge_length(grey: Grey, middle: float) -> float:
    """How long all edges between dark and light are [pixels]: right along multiples of 45°, else up to 9 % long.

    Parameters
    ----------
    grey : array
        Grey values [0 to 255].
    middle : float
        Level between dark and light [0 to 255].

    Returns
    -------
    float
        Length [pixels], from how often lines in four directions cross an edge.

    Examples
    --------
    >>> grey = np.full((100, 100), 255, np.uint8)
    >>> grey[20:80, 20:80] = 0
    >>> print(f"{edge_length(grey, 127.5) / 240:.2f}")
    1.00
    """
    straight = slanted = 0
    for part in _strips(grey, beside=1):
        dark = part < middle
        straight += int(
            np.count_nonzero(dark[:-1, 1:] ^ dark[:-1, :-1])
            + np.count_nonzero(dark[1:] ^ dark[:-1])
        )
        slanted += int(
            np.count_nonzero(dark[1:, 1:] ^ dark[:-1, :-1])
            + np.count_nonzero(dark[1:, :-1] ^ dark[:-1, 1:])
        )
    return float((straight + slanted / 2**0.5) / (1 + 2**0.5))


def rim_dark(grey: Grey, middle: float) -> float:
    """Share of the rim of a picture that is dark [-], at a level between dark and light [0 to 255]."""
    sides = (grey[:RIM], grey[-RIM:], grey[:, :RIM], grey[:, -RIM:])
    return float(np.concatenate([(side < middle).ravel() for side in sides]).mean())


def around(grey: Grey, middle: float, dark: bool) -> Box | None:
    """Left, top, right and bottom [pixels] of all that is dark, or light, at a level [0 to 255]; None: nothing is."""
    rows, columns = [], np.zeros(grey.shape[1], bool)
    for part in _strips(grey):
        there = part < middle if dark else part >= middle
        rows.append(there.any(axis=1))
        columns |= there.any(axis=0)
    ys, xs = np.flatnonzero(np.concatenate(rows)), np.flatnonzero(columns)
    return (int(xs[0]), int(ys[0]), int(xs[-1]) + 1, int(ys[-1]) + 1) if ys.size else None


def frame(
    grey: Grey, middle: float, pixel: float, dark: bool = True
) -> tuple[Box, float, bool] | None:
    """Find a line that frames all of one colour: straight along 80 % of each side at least, 1 mm thick at most.

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
    tuple or None
        Left, top, right and bottom of its inside [pixels], its thickest side [m], and whether it lies on the rim of the
        picture all round; None where there is no such line.

    Examples
    --------
    >>> grey = np.full((100, 100), 255, np.uint8)
    >>> grey[10:90, 10:90], grey[12:88, 12:88] = 0, 255
    >>> print(frame(grey, 127.5, 1e-4))
    ((12, 12, 88, 88), 0.0002, False)
    """
    box = around(grey, middle, dark)
    if box is None:
        return None
    left, top, right, bottom = box
    inside, most = grey[top:bottom, left:right], int(MOST_FRAME / pixel) + 2
    thick = []
    for side in (inside.T, inside, inside.T[::-1], inside[::-1]):
        covered = ((side[:most] < middle) == dark).mean(axis=1) >= CLOSED
        start = next(
            (k for k in range(min(3, covered.size)) if covered[k]), covered.size
        )  # slightly ragged outside
        end = next((k for k in range(start, covered.size) if not covered[k]), covered.size)
        thick.append(end)
        if end >= min(most, side.shape[0] // 2):
            return None
    rim = (left, top, right, bottom) == (0, 0, *grey.shape[::-1])
    return (
        (left + thick[0], top + thick[1], right - thick[2], bottom - thick[3]),
        max(thick) * pixel,
        rim,
    )


def boxed(outline: Any, shape: tuple[int, ...], pixel: float) -> Box:
    """The pixels of an outline.

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
    tuple of int
        Left, top, right and bottom [pixels], each at the nearest whole pixel.

    Raises
    ------
    ValueError
        Not such a box, or one that is not inside the picture: names the value and the limits.

    Examples
    --------
    >>> print(boxed((0.01, 0, 0.02, 0.03), (300, 300), 1e-4))
    (100, 0, 300, 300)
    """
    if not isinstance(outline, tuple | list | np.ndarray) or len(outline) != 4:
        raise ValueError(
            f"outline = {outline!r:.80} is impossible: it must be (x, y, width, height) in m, "
            '"frame" or None'
        )
    ends = []
    for name, longest, start, size in (
        ("width", shape[1], outline[0], outline[2]),
        ("height", shape[0], outline[1], outline[3]),
    ):
        at = check_number(
            f"outline: {'x' if name == 'width' else 'y'}", start, 0.0, longest * pixel, "m"
        )
        long = check_number(
            f"outline: {name}", size, 0.0, longest * pixel - at + pixel / 2, "m", above=True
        )
        first = round(at / pixel)
        ends.append((first, min(longest, max(first + 1, round((at + long) / pixel)))))
    (left, right), (top, bottom) = ends
    return left, top, right, bottom


def _strips(grey: Grey, beside: int = 0) -> Iterator[Grey]:
    """The picture in strips of about a million pixels, each with so many rows of the next."""
    rows = max(1, STRIP // max(1, grey.shape[1]))
    for top in range(0, max(1, grey.shape[0] - beside), rows):
        yield grey[top : top + rows + beside]
