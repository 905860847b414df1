"""The narrowest place of one colour of a picture: where it is, and how wide.

A place counts when its colour goes on for its own width on both sides along it, and is there still
0.8 of it wide: a trace, the neck between two pads, the gap between two pads; not a corner, nor the
tip of a wedge of 30° or more. So it must be about three times as long as wide. What lies outside
the board counts as the same colour, so that a distance to the board's edge is no gap. A slanted
line under 3 pixels in pure black and white is a ragged stair and may be missed: draw finer, or with
grey edges. Where corners meet, or notches, the width comes out too large by a pixel or more: pixels
round a tip off, and lines beside each other are averaged. The doubt of such a place says so.

Candidates are found on packed bits (`narrow_search`), wide ones in every second, fourth … pixel;
each is then measured in the grey values, between pixels, at the level half way between dark and
light.

Directions are angles [rad] from the right downwards: a step in a direction goes cos to the right
and sin down. "Across" is the direction in which a place is narrow, "along" the one at right angles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .drawing import Grey
from .narrow_search import ALONG, Points, narrow_places, pack

Floats = NDArray[np.floating[Any]]

PINCH = 0.85
"""Two points nearly meet if they are nearer than this share of the mean over lines [-]."""
NARROWEST_PINCH = 3.0
"""Narrower than this, stairs of pixels look like a pinch [pixels]."""
TAPER = 0.8
"""Share of its width that a place still has on both sides, along it [-]."""
SHORTEST = 4.0
"""A place goes on at least so far along it, to both sides [pixels]."""
WIDEST = 12
"""Widest place that is looked for before every second pixel is left out [pixels]."""
LADDER = (1, 2, 3, 4, 6, 8, 10, 12)
"""Widths looked for in the full picture [pixels]."""
THINNED_LADDER = (7, 8, 10, 12)
"""Widths looked for in a thinned one [pixels]: what is narrower was in the one before."""
CANDIDATES = 300
"""Points measured at each width, spread over all there are [-]."""
BEST = 24
"""The narrowest of them, which are measured finely [-]."""
SPREAD = 2.5
"""Pixels to each side over which a width is averaged, at most [pixels]."""
STEEP = 3.0
"""A place widens at most so fast along it, for its doubt [-]; between right-angled corners by 2."""


class Picture(NamedTuple):
    """Grey values [0 to 255], the level between dark and light, and which side of it is inside."""

    grey: Grey
    middle: float
    dark: bool


class Crossing(NamedTuple):
    """Where a place was crossed: width, row and column of its middle [pixels], and direction [rad].

    Either of one place, or arrays with one value a point.
    """

    width: Any
    y: Any
    x: Any
    across: Any

    def at(self, which: Any) -> Crossing:
        """Return some of the crossings."""
        return Crossing(self.width[which], self.y[which], self.x[which], self.across[which])


@dataclass(frozen=True)
class Place:
    """A narrow place: its width, how far off that may be, and its middle from the top left corner.

    All in pixels.
    """

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
        The grey value [0 to 255] between dark and light; an edge lies where the picture passes
        through it.
    dark : bool
        Look at the parts darker than that, else at the lighter ones.

    Returns
    -------
    Place or None
        Width, doubt and middle [pixels]; None where nothing is narrower than a fifth of the
        picture.

    Examples
    --------
    >>> grey = np.full((80, 80), 255, np.uint8)
    >>> grey[:, 30:37] = 0
    >>> place = narrowest(grey, 127.5, dark=True)
    >>> print(f"{place.width:.1f} pixels at {place.x:.1f}")
    7.0 pixels at 33.5
    """
    picture = Picture(np.ascontiguousarray(grey), middle, dark)
    # Every pixel first, then every second, fourth …: a place twice as wide looks the same there.
    # Wider than a fifth of the picture nothing is narrow
    thinning = 1
    ladder: tuple[int, ...] = LADDER
    while thinning == 1 or min(grey.shape) / thinning >= 5 * WIDEST:
        coarse = picture.grey[::thinning, ::thinning]
        candidates = narrow_places(pack(coarse, middle, dark), coarse.shape[1], ladder)
        for width, points in candidates:
            place = _measure(picture, points * thinning, width * thinning, thinning)
            if place is not None:
                return place
        thinning *= 2
        ladder = THINNED_LADDER
    return None


def _measure(picture: Picture, points: Points, width: int, thinning: int) -> Place | None:
    """Return the narrowest of some points with about this width [pixels], or None.

    All are measured roughly, the best of them finely; from the narrowest the measuring then moves
    along its place to where that is narrowest.
    """
    few = np.linspace(0, len(points) - 1, min(len(points), CANDIDATES)).astype(int)
    points = points[few]
    # A ray may start off the middle, and a place may be drawn wider than its rung of the ladder
    longest = 1.6 * width + 2 * thinning + 2

    # Roughly: every 10° of half a turn, which is all a width needs, and along one line
    directions = np.arange(18) * (np.pi / 18)
    on_the_line = np.zeros(1)
    rough = _cross(picture, points, directions, on_the_line, 18, longest, max(0.5, width / 24))
    # A stable order, so that equal widths give the same place on every machine
    best = np.argsort(rough.width, kind="stable")[:BEST]
    best = best[np.isfinite(rough.width[best])]
    if not best.size:
        return None

    # Finely: every 3°, to more than a rough step on both sides of the best direction so far, and
    # over lines beside each other, since pixels make a stair of a slanted edge
    directions = rough.across[best, None] + np.radians(np.linspace(-12, 12, 9))
    beside = np.linspace(-1, 1, 5) * min(0.25 * width, SPREAD)
    fine = _cross(picture, points[best], directions, beside, 36, longest, 0.5)
    place = fine.at(int(np.argmin(fine.width)))
    if not np.isfinite(place.width):
        return None
    place = _narrowest_along(picture, place, beside, width, longest)
    return _with_doubt(picture, place, longest, thinning)


def _narrowest_along(
    picture: Picture, place: Crossing, beside: Floats, width: int, longest: float
) -> Crossing:
    """Return the narrowest crossing of a place of about this width [pixels].

    A candidate need not lie where its place is narrowest: go along it, in ever smaller steps.
    """
    for step in (0.25 * width, 1.0, 0.5):
        ahead = np.linspace(-step, step, 9)
        y = place.y + ahead * np.cos(place.across)
        x = place.x - ahead * np.sin(place.across)
        points = np.stack([y, x], axis=1)
        directions = place.across + np.radians(np.linspace(-6, 6, 9))
        # The same nine directions at each of the nine points
        directions = np.broadcast_to(directions, (9, 9))
        near = _cross(picture, points, directions, beside, 90, longest, 0.5)
        narrowest_near = near.at(int(np.argmin(near.width)))
        # Less than a tenth of a pixel is noise: do not wander off for it
        if narrowest_near.width < place.width - 0.1:
            place = narrowest_near
    return place


def _with_doubt(picture: Picture, place: Crossing, longest: float, thinning: int) -> Place:
    """Return a place with its doubt [pixels].

    A pixel, and how much wider lines beside each other are than the shortest of them.
    """
    beside = np.linspace(-SPREAD, SPREAD, 5)
    y = place.y + beside * np.cos(place.across)
    x = place.x - beside * np.sin(place.across)
    forward = np.full(beside.size, place.across)
    backward = np.full(beside.size, place.across + np.pi)
    ahead = np.abs(_rays(picture, y, x, forward, longest, 0.25))
    back = np.abs(_rays(picture, y, x, backward, longest, 0.25))
    lengths = ahead + back
    # Beyond the end of a pad a line does not end at all: no place widens faster than STEEP
    lengths = np.minimum(lengths, place.width + STEEP * np.abs(beside))
    # The width itself counts among them, so that the doubt is never below a pixel
    width = float(place.width)
    wider = max(float(lengths.mean()), width) - min(float(lengths.min()), width)
    # The middle of the first pixel is half a pixel from the corner of the picture
    return Place(width, thinning + wider, float(place.x) + 0.5, float(place.y) + 0.5)


def _cross(
    picture: Picture,
    points: Points | Floats,
    directions: Floats,
    beside: Floats,
    half_turn: int,
    longest: float,
    step: float,
) -> Crossing:
    """Return the shortest width through each of N points, its middle and its direction.

    The width is infinite where a point is in no narrow place: at a tip or in a corner.

    Parameters
    ----------
    picture : Picture
        What is measured.
    points : array
        Rows and columns [pixels], shape (N, 2).
    directions : array
        Directions to try [rad], shape (D,) for all or (N, D).
    beside : array
        How far beside each point, along its place, the lines lie over which a width is averaged
        [pixels], shape (L,).
    half_turn : int
        Rays in half a turn, where two points nearly meet [-].
    longest, step : float
        Length of a ray, and the step in which it is followed [pixels].
    """
    places = points.astype(float)
    directions = np.atleast_2d(directions)
    width, ahead, across = _mean_width(picture, places, directions, beside, longest, step)
    pinch = _pinch(picture, places, half_turn, longest, step)

    # Two corners that nearly meet: the lines beside miss them, and the mean is far too wide
    nearly_meet = (pinch.width > NARROWEST_PINCH) & (pinch.width < PINCH * width - 1)
    width = np.where(nearly_meet, pinch.width, width)
    ahead = np.where(nearly_meet, pinch.ahead, ahead)
    across = np.where(nearly_meet, pinch.across, across)

    # From the point to the middle between both edges
    is_crossed = np.isfinite(width)
    size = np.where(is_crossed, width, 1.0)  # any number, where there is none
    to_middle = np.where(is_crossed, ahead, size / 2) - size / 2
    y = places[:, 0] + to_middle * np.sin(across)
    x = places[:, 1] + to_middle * np.cos(across)
    is_crossed &= _goes_on(picture, y, x, across, size, longest, step)
    return Crossing(np.where(is_crossed, width, np.inf), y, x, across)


class Rays(NamedTuple):
    """Width through each point, the part of it ahead of the point [pixels], and direction [rad]."""

    width: Floats
    ahead: Floats
    across: Floats


def _mean_width(
    picture: Picture,
    points: Floats,
    directions: Floats,
    beside: Floats,
    longest: float,
    step: float,
) -> Rays:
    """Return the width through each point in the direction in which it is shortest.

    In each direction it is the mean over parallel lines a little beside each other. From the point
    of each line a ray goes ahead to the edge of the colour, and one back:

              edge ───────────────
                     ↑  ↑  ↑          ahead
                     ·  x  ·          x: the point, and the points beside it
                     ↓  ↓  ↓          back
              edge ───────────────
    """
    # Shape (N, D, L): at right angles to each direction. From outside the colour a ray is minus
    # infinite; `abs` makes that no width either, here and wherever two rays make one
    y = points[:, :1, None] + beside * np.cos(directions)[..., None]
    x = points[:, 1:, None] - beside * np.sin(directions)[..., None]
    ahead = np.abs(_rays(picture, y, x, directions[..., None], longest, step))
    back = np.abs(_rays(picture, y, x, (directions + np.pi)[..., None], longest, step))

    # Of each point the one direction in which it is shortest
    index = np.arange(len(points))
    shortest = np.argmin((ahead + back).mean(axis=-1), axis=-1)
    ahead = ahead[index, shortest].mean(axis=-1)
    back = back[index, shortest].mean(axis=-1)
    across = np.broadcast_to(directions, (len(points), directions.shape[1]))[index, shortest]
    return Rays(ahead + back, ahead, across)


def _pinch(picture: Picture, points: Floats, half_turn: int, longest: float, step: float) -> Rays:
    """Return the shortest way through each point from edge to edge that bends by 45° at most.

    Rays go out in all directions. Each is paired with those about opposite to it:

              ╲ corner ╱
               ╲      ╱
                ╲____╱
                   ↑        ahead
                   x
                  ↙         back, up to 45° from straight on
              ╱────╲
             ╱      ╲
    """
    turn = 2 * half_turn
    angle = np.pi / half_turn
    rays = np.abs(
        _rays(picture, points[:, :1], points[:, 1:], np.arange(turn) * angle, longest, step)
    )
    # A quarter of half a turn is 45°
    bends = np.arange(-(half_turn // 4), half_turn // 4 + 1)
    opposite = (np.arange(turn)[:, None] + half_turn + bends) % turn

    # Shape (N, rays, bends): which ray is ahead, and by how many rays the one back is bent
    widths = rays[:, :, None] + rays[:, opposite]
    shortest = widths.reshape(len(points), -1).argmin(axis=1)
    first, bend = np.unravel_index(shortest, widths.shape[1:])
    index = np.arange(len(points))
    across = (first + bends[bend] / 2) * angle  # half way between both
    return Rays(widths[index, first, bend], rays[index, first], across)


def _goes_on(
    picture: Picture,
    y: Floats,
    x: Floats,
    across: Floats,
    width: Floats,
    longest: float,
    step: float,
) -> NDArray[np.bool_]:
    """Return whether each place is still wide enough along it, to both sides.

    At its own width, or `SHORTEST`, from its middle it must be `TAPER` of its width wide, or it is
    the tip of a wedge or a corner.
    """
    away = np.array([-1, 1]) * np.maximum(ALONG * width, SHORTEST)[:, None]
    y = y[:, None] + away * np.cos(across)[:, None]
    x = x[:, None] - away * np.sin(across)[:, None]
    # A point outside the colour counts as minus infinity, and so as no place
    ahead = _rays(picture, y, x, across[:, None], longest, step)
    back = _rays(picture, y, x, (across + np.pi)[:, None], longest, step)
    return np.asarray(np.all(ahead + back >= TAPER * width[:, None], axis=1))


def _rays(
    picture: Picture, y: Floats, x: Floats, direction: Floats, longest: float, step: float
) -> Floats:
    """Return how far one can go from each point in a direction before the colour ends [pixels].

    Infinite: beyond the longest; minus infinite: the point itself lies outside the colour.
    """
    along = np.arange(0, longest + step, step)
    direction = np.asarray(direction)[..., None]
    inside = _inside(
        picture,
        y[..., None] + along * np.sin(direction),
        x[..., None] + along * np.cos(direction),
    )
    outside = inside <= 0
    # `argmax` finds the first true one; where none is true it gives 0, which is put right below
    first = np.argmax(outside, axis=-1)[..., None]
    after = np.take_along_axis(inside, np.maximum(first, 0), -1)[..., 0]
    before = np.take_along_axis(inside, np.maximum(first - 1, 0), -1)[..., 0]
    first = first[..., 0]

    # The edge lies between the last point inside and the first outside, on a straight line
    with np.errstate(divide="ignore", invalid="ignore"):
        end = (first - 1 + before / (before - after)) * step
    end = np.where(first > 0, end, -np.inf)
    return np.where(outside.any(axis=-1), end, np.inf)


def _inside(picture: Picture, y: Floats, x: Floats) -> Floats:
    """Return how far inside its colour the picture is between pixels [grey values].

    Below 0 it is outside. Linear between the middles of four pixels; beyond the picture its edge
    goes on.
    """
    grey, middle, dark = picture
    rows, columns = grey.shape
    y, x = np.clip(y, 0, rows - 1), np.clip(x, 0, columns - 1)
    row, column = y.astype(np.intp), x.astype(np.intp)
    down, over = y - row, x - column

    # Places of the four pixels in the flat picture; at its end the pixel itself once more
    flat = grey.ravel()
    row *= columns
    row += column
    right = column < columns - 1
    below = np.where(y < rows - 1, columns, 0)
    upper_left = flat[row] - middle
    upper_right = flat[row + right] - middle
    lower_left = flat[row + below] - middle
    lower_right = flat[row + below + right] - middle

    upper = upper_left * (1 - over) + upper_right * over
    lower = lower_left * (1 - over) + lower_right * over
    value = np.asarray(upper * (1 - down) + lower * down)
    if dark:
        return -value
    return value
