"""The narrowest place of one colour of a picture: where it is, and how wide.

A place counts when its colour goes on for its own width on both sides along it, and is there still 0.8 of it wide:
a trace, the neck between two pads, the gap between two pads; not a corner, nor the tip of a wedge of 30° or more.
So it must be about three times as long as wide. What lies outside the board counts as the same colour, so that a
distance to the board's edge is no gap. A slanted line under 3 pixels in pure black and white is a ragged stair and may
be missed: draw finer, or with grey edges. Where corners meet, or notches, the width comes out too large by a pixel or
more: pixels round a tip off, and lines beside each other are averaged. The doubt of such a place says so.

Candidates are found on packed bits (`necks`), wide ones in every second, fourth … pixel; each is then measured in
the grey values, between pixels, at the level half way between dark and light.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .narrow_search import ALONG, Points, narrow, packed

Grey = NDArray[np.uint8]
Floats = NDArray[np.floating[Any]]
Picture = tuple[Grey, float, bool]

PINCH, FEWEST = (
    0.85,
    3.0,
)  # two points nearly meet: narrower than this share of the mean over lines; and pixels
TAPER, LEAST = (
    0.8,
    4.0,
)  # of its width a place has on both sides at least; pixels it goes on at least
LONGEST = 12  # pixels: widest place looked for before every second pixel is left out
LADDER = {
    True: (1, 2, 3, 4, 6, 8, 10, 12),
    False: (7, 8, 10, 12),
}  # in the full picture; in a thinned one
MANY = 300  # candidates measured, spread over all that were found
BEST = 24  # of them measured finely
SPREAD = 2.5  # pixels to each side over which a width is averaged, at most
STEEP = 3.0  # a place widens at most so fast along it, for its doubt; between two right-angled corners by 2


@dataclass(frozen=True)
class Place:
    """A narrow place in pixels: its width, how far off that may be, and its middle from the top left corner."""

    width: float
    doubt: float
    x: float
    y: float


def narrowest(grey: Grey, middle: float, dark: bool) -> Place | None:
    """Find the narrowest place of the dark or of the light parts of a picture.

    Parameters
    ----------
    grey : array
        Grey values of the board [0 to 255], rows by columns.
    middle : float
        The grey value [0 to 255] between dark and light; an edge lies where the picture passes through it.
    dark : bool
        Look at the parts darker than that, else at the lighter ones.

    Returns
    -------
    Place or None
        Width, doubt and middle [pixels]; None where nothing is narrower than a fifth of the picture.

    Examples
    --------
    >>> grey = np.full((80, 80), 255, np.uint8)
    >>> grey[:, 30:37] = 0
    >>> print(f"{narrowest(grey, 127.5, dark=True).width:.1f} pixels at {narrowest(grey, 127.5, dark=True).x:.1f}")
    7.0 pixels at 33.5
    """
    thin, grey = 1, np.ascontiguousarray(grey)
    while thin == 1 or min(grey.shape) / thin >= 5 * LONGEST:
        words = packed(grey[::thin, ::thin], middle, dark)
        for run, points in narrow(words, -(-grey.shape[1] // thin), LADDER[thin == 1]):
            place = _measured(grey, middle, dark, points * thin, run * thin, thin)
            if place is not None:
                return place
        thin *= 2
    return None


def _measured(
    grey: Grey, middle: float, dark: bool, points: Points, run: int, thin: int
) -> Place | None:
    """The narrowest of some points, measured first roughly and then, the best of them, finely [pixels]."""
    points = points[np.linspace(0, len(points) - 1, min(len(points), MANY)).astype(int)]
    picture, reach = (grey, middle, dark), 1.6 * run + 2 * thin + 2
    rough = _across(
        picture, points, reach, np.arange(18) * (np.pi / 18), 18, np.zeros(1), max(0.5, run / 24)
    )
    best = np.argsort(rough[0], kind="stable")[:BEST]
    best = best[np.isfinite(rough[0][best])]
    if not best.size:
        return None
    turn = rough[3][best, None] + np.radians(np.linspace(-12, 12, 9))
    beside = np.linspace(-1, 1, 5) * min(0.25 * run, SPREAD)
    width, y, x, way = _across(picture, points[best], reach, turn, 36, beside, 0.5)
    k = int(np.argmin(width))
    if not np.isfinite(width[k]):
        return None
    found = (width[k], y[k], x[k], way[k])
    for step in (
        0.25 * run,
        1.0,
        0.5,
    ):  # what was found need not be its middle: on along it to where it is narrowest
        ahead = np.linspace(-step, step, 9)
        points = np.stack(
            [found[1] + ahead * np.cos(found[3]), found[2] - ahead * np.sin(found[3])], axis=1
        )
        turn = np.broadcast_to(found[3] + np.radians(np.linspace(-6, 6, 9)), (9, 9))
        near = _across(picture, points, reach, turn, 90, beside, 0.5)
        k = int(np.argmin(near[0]))
        if near[0][k] < found[0] - 0.1:
            found = (near[0][k], near[1][k], near[2][k], near[3][k])
    return _sure(picture, found, reach, thin)


def _sure(picture: Picture, found: tuple[Any, ...], reach: float, thin: int) -> Place:
    """A place with its doubt: a pixel, and how much wider lines beside each other are than the shortest of them."""
    width, y, x, way = found
    beside = np.linspace(-SPREAD, SPREAD, 5)
    down, over = y + beside * np.cos(way), x - beside * np.sin(way)
    one, other = (
        np.abs(_end(picture, down, over, np.full(beside.size, to), reach, 0.25))
        for to in (way, way + np.pi)
    )
    lines = np.minimum(
        one + other, width + STEEP * np.abs(beside)
    )  # beyond the end of a pad they are endless
    wider = max(float(lines.mean()), float(width)) - min(float(lines.min()), float(width))
    return Place(float(width), thin + wider, float(x) + 0.5, float(y) + 0.5)


def _across(
    picture: Picture,
    points: Points,
    reach: float,
    turn: Floats,
    around: int,
    beside: Floats,
    step: float,
) -> tuple[Floats, ...]:
    """Shortest width through each point over some directions, its middle and its direction; infinite at a tip.

    The width is the mean over lines beside each other; at a pinch, where those miss, from point to point.
    """
    y, x, turn = points[:, :1].astype(float), points[:, 1:].astype(float), np.atleast_2d(turn)
    down, over = (
        y[..., None] + beside * np.cos(turn)[..., None],
        x[..., None] - beside * np.sin(turn)[..., None],
    )
    one, other = (
        np.abs(_end(picture, down, over, way[..., None], reach, step))
        for way in (turn, turn + np.pi)
    )
    row, k = np.arange(len(points)), np.argmin((one + other).mean(axis=-1), axis=-1)
    one, other = one[row, k].mean(axis=-1), other[row, k].mean(axis=-1)
    width, way = one + other, np.broadcast_to(turn, (len(points), turn.shape[1]))[row, k]

    rays = np.abs(_end(picture, y, x, np.arange(2 * around) * (np.pi / around), reach, step))
    bent = np.arange(-(around // 4), around // 4 + 1)  # up to 45° from straight through
    pairs = (
        rays[:, :, None] + rays[:, (np.arange(2 * around)[:, None] + around + bent) % (2 * around)]
    )
    first, second = np.unravel_index(pairs.reshape(len(points), -1).argmin(axis=1), pairs.shape[1:])
    across = pairs[row, first, second]
    pinch = (across > FEWEST) & (across < PINCH * width - 1)
    one = np.where(pinch, rays[row, first], one)
    width = np.where(pinch, across, width)
    way = np.where(pinch, (first + bent[second] / 2) * (np.pi / around), way)

    good = np.isfinite(width)
    size = np.where(good, width, 1.0)
    ahead = np.where(good, one, size / 2) - size / 2
    y, x = y[:, 0] + ahead * np.sin(way), x[:, 0] + ahead * np.cos(way)
    away = np.array([-1, 1]) * np.maximum(ALONG * size, LEAST)[:, None]
    down, over = y[:, None] + away * np.cos(way)[:, None], x[:, None] - away * np.sin(way)[:, None]
    one, other = (_end(picture, down, over, to[:, None], reach, step) for to in (way, way + np.pi))
    return (
        np.where(np.all(one + other >= TAPER * size[:, None], axis=1) & good, width, np.inf),
        y,
        x,
        way,
    )


def _end(picture: Picture, y: Floats, x: Floats, turn: Floats, reach: float, step: float) -> Floats:
    """How far one can go from each point in a direction [pixels]; infinite: beyond reach, minus infinite: outside."""
    along = np.arange(0, reach + step, step)
    ways = np.asarray(turn)[..., None]
    inside = _above(
        picture, y[..., None] + along * np.sin(ways), x[..., None] + along * np.cos(ways)
    )
    out = inside <= 0
    first = np.argmax(out, axis=-1)[..., None]
    after, before = (
        np.take_along_axis(inside, np.maximum(at, 0), -1)[..., 0] for at in (first, first - 1)
    )
    first = first[..., 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        end = (first - 1 + before / (before - after)) * step
    return np.where(out.any(axis=-1), np.where(first > 0, end, -np.inf), np.inf)


def _above(picture: Picture, y: Floats, x: Floats) -> Floats:
    """How far the picture is inside its colour between pixels, linear; beyond the picture its edge goes on."""
    grey, middle, dark = picture
    y, x = np.clip(y, 0, grey.shape[0] - 1), np.clip(x, 0, grey.shape[1] - 1)
    row, column = y.astype(np.intp), x.astype(np.intp)
    down, over = y - row, x - column
    row *= grey.shape[1]
    row += column
    flat = grey.ravel()
    right, below = column < grey.shape[1] - 1, np.where(y < grey.shape[0] - 1, grey.shape[1], 0)
    here, beside, under, slant = (
        flat[at] - middle for at in (row, row + right, row + below, row + below + right)
    )
    upper, lower = here * (1 - over) + beside * over, under * (1 - over) + slant * over
    value = np.asarray(upper * (1 - down) + lower * down)
    return -value if dark else value
