"""Narrow places of one colour of a picture, looked for on packed bits: 64 pixels to a word.

Take the copper of a trace. A pixel lies in a narrow place of some width when

* the other colour begins on both sides of it within that width, in about opposite directions;
* along the place its own colour goes on both ways, for `ALONG` times the width;
* and there the place is still `STILL` times as wide: it has not run out into a tip.

Each is a question about neighbours that lie some pixels away in one direction. A picture is
therefore kept as one long row of bits, row after row: the neighbour in any direction is a fixed
number of bits further on, and moving all the bits by that number answers the question for 64
pixels at a time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .drawing import Grey, of_colour

Bits = NDArray[np.uint64]
"""Pixels as bits, 64 to a word, set where a pixel has the colour that is looked at."""
Points = NDArray[np.intp]
"""Row and column of some pixels, shape (N, 2)."""

ALONG, STILL = 1.0, 0.7
"""How far a narrow place goes on both ways, and how wide it still is there, in widths [-]."""
FAN = 2**0.5 - 1
"""Tangent of 22.5°, half the angle between two of the four directions [-]."""
ROWS, MARGIN = 192, 32
"""Rows of a strip, and rows that are read above and below it [pixels].

The margin is more than any question reaches.
"""
MANY_WORDS = 500
"""With twice as many words some are left out, of each strip and direction [-]: they are alike."""
OUTSIDE = ~np.uint64(0)
"""Beyond the picture everything has the colour that is looked at: no place begins there."""


class Direction(NamedTuple):
    """One of the four directions in which a width is measured.

    `over` and `along` are how many bits further on the next pixel lies in that direction, and at
    right angles to it, along the place; `step` is how far that pixel is away [pixels].
    """

    over: int
    along: int
    step: float


class Strip(NamedTuple):
    """Some rows with their margins, and the directions in which they may hold a narrow place."""

    top: int
    bits: Bits
    directions: list[Direction]


def pack(grey: Grey, middle: float, dark: bool) -> Bits:
    """Pack pixels of one colour into bits, with at least 64 set bits at the end of each row.

    Parameters
    ----------
    grey : array
        Grey values [0 to 255].
    middle : float
        Grey value between dark and light [0 to 255].
    dark : bool
        Set a bit where the picture is darker, else where it is lighter.

    Returns
    -------
    array
        Rows by words [64 bits].

    Examples
    --------
    >>> print(pack(np.zeros((2, 100), np.uint8), 127.5, True).shape)
    (2, 3)
    """
    rows, columns = grey.shape
    # The set bits at the end keep a row apart from the next one, which follows it directly
    words = columns // 64 + 2
    row_bytes = np.full((rows, 8 * words), 255, np.uint8)
    whole, rest = divmod(columns, 8)
    for top in range(0, rows, ROWS):
        inside = of_colour(grey[top : top + ROWS], middle, dark)
        inside_bytes = np.packbits(inside, axis=1, bitorder="little")
        row_bytes[top : top + ROWS, : inside_bytes.shape[1]] = inside_bytes
    if rest:  # the last byte of a row is filled up with 0: these lie outside too
        row_bytes[:, whole] |= np.uint8((0xFF << rest) & 0xFF)
    return row_bytes.view("<u8")


def narrow_places(
    bits: Bits, columns: int, ladder: tuple[int, ...]
) -> Iterator[tuple[int, Points]]:
    """Look for narrow places, from narrow to wide.

    Parameters
    ----------
    bits : array
        Packed pixels [64 bits], as `pack` gives them.
    columns : int
        Pixels in a row [pixels].
    ladder : tuple of int
        Widths to try [pixels], rising; between one that has no place and one that has, each is
        tried.

    Yields
    ------
    tuple
        A width [pixels] that places have, and rows and columns of points in them (and in those one
        pixel wider).

    Examples
    --------
    >>> grey = np.full((80, 80), 255, np.uint8)
    >>> grey[:, 30:35] = 0
    >>> print(next(narrow_places(pack(grey, 127.5, True), 80, (3, 6)))[0])
    5
    """
    words_per_row = bits.shape[1]
    strips = _promising_strips(bits, ladder)
    # Up to this width there is no place
    widest_without = ladder[0] - 1
    rungs = list(ladder)
    while rungs:
        first = _first_rung(strips, words_per_row, rungs)
        if first is None:
            return
        widest_without = max([widest_without, *rungs[:first]])
        # The ladder leaves widths out: the narrowest place may lie between two rungs
        width = rungs[first]
        for narrower in range(widest_without + 1, width):
            if any(_holds_place(strip, words_per_row, narrower) for strip in strips):
                width = narrower
                break

        # A place drawn half a pixel wider shows as one pixel wider: take both to be measured
        points = []
        for wide in (width, width + 1):
            for strip in strips:
                for place in _places(strip, words_per_row, wide):
                    in_strip = _points(place, words_per_row, columns)
                    points.append(in_strip + np.array([strip.top, 0]))
        yield width, np.concatenate(points)

        # Whoever asks again found none of these to be a place: go on to wider ones
        widest_without = width
        rungs = [rung for rung in rungs if rung > width]


def _promising_strips(bits: Bits, ladder: tuple[int, ...]) -> list[Strip]:
    """Return the strips that may hold a place of any width of the ladder, with their directions.

    Most strips have none in most directions, and one question shows it: what is no place of more
    than the largest width, even if it goes on only for the smallest, is none of any width.
    """
    words_per_row = bits.shape[1]
    row = 64 * words_per_row
    diagonal = 2**0.5
    # Right, down, down and right, down and left; a row further on is down
    directions = (
        Direction(over=1, along=row, step=1.0),
        Direction(over=row, along=1, step=1.0),
        Direction(over=row + 1, along=row - 1, step=diagonal),
        Direction(over=row - 1, along=row + 1, step=diagonal),
    )
    strips = []
    for top in range(0, bits.shape[0], ROWS):
        rows = _rows_with_margin(bits, top)
        promising = [
            direction
            for direction in directions
            if _place(rows, words_per_row, direction, ladder[-1] + 1, ladder[0], still=0).any()
        ]
        if promising:
            strips.append(Strip(top, rows, promising))
    return strips


def _first_rung(strips: list[Strip], words_per_row: int, rungs: list[int]) -> int | None:
    """Return which rung is the first [index] at which any strip holds a place; None: at none."""
    first = len(rungs)
    for strip in strips:
        # Later strips look no higher than the lowest rung there is
        for rung in range(first):
            if _holds_place(strip, words_per_row, rungs[rung]):
                first = rung
                break
    if first == len(rungs):
        return None
    return first


def _places(strip: Strip, words_per_row: int, width: int) -> Iterator[Bits]:
    """Yield, for each direction, the bits of a strip in places of a width [pixels]."""
    for direction in strip.directions:
        yield _place(strip.bits, words_per_row, direction, width, width, STILL)


def _holds_place(strip: Strip, words_per_row: int, width: int) -> bool:
    """Return whether a strip holds a place of a width [pixels] in any direction."""
    return any(bool(place.any()) for place in _places(strip, words_per_row, width))


def _rows_with_margin(bits: Bits, top: int) -> Bits:
    """Return a strip of rows with its margins, one after the other; beyond the picture all set."""
    rows, words_per_row = bits.shape
    first, last = top - MARGIN, min(top + ROWS, rows) + MARGIN
    strip = np.full((last - first, words_per_row), OUTSIDE)
    strip[max(0, -first) : min(rows, last) - first] = bits[max(0, first) : last]
    return strip.ravel()


def _place(
    bits: Bits,
    words_per_row: int,
    direction: Direction,
    width: int,
    length: int,
    still: float,
) -> Bits:
    """Return the bits of a strip, without its margins, that lie in a narrow place.

    Its width [pixels] in one direction; for about `ALONG` times the length [pixels] it goes on both
    ways along itself; and there it is still that share of its width wide [-].

              other colour
        ─────────────────────────────
          e · · · · · x · · · · · e       x: the pixel; its own colour from e to e, and a run of
        ─────────────────────────────     `still` times the width through either e, across
              other colour
    """
    over, along = direction.over, direction.along
    across = max(1, round(width / direction.step))
    far = max(2, round(ALONG * length / direction.step))
    inside = slice(MARGIN * words_per_row, -MARGIN * words_per_row)

    # The other colour is near on both sides. Few pixels are left by this: stop as soon as none is
    place = bits & _between_other_colour(~bits, direction, across)
    if not place[inside].any():
        return place[inside]

    # From `far` pixels on one side along the place to as many on the other it has its own colour
    own_colour = _chain(bits, along, 2 * far + 1, np.bitwise_and)
    place &= _moved(own_colour, -far * along)

    # At both of those ends the pixel lies in a run across the place that is still wide enough
    run = int(np.ceil(still * across))
    if run > 1 and place[inside].any():
        wide = _in_runs(bits, over, run)
        place &= _moved(wide, far * along) & _moved(wide, -far * along)
    return place[inside]


def _between_other_colour(opposite: Bits, direction: Direction, count: int) -> Bits:
    """Return the bits with the other colour on both sides, at most `count` of their own between.

    Only bits near the middle are returned: one side begins within half the count, the other within
    half of it and one more.

    To either side the other colour counts if it lies in a fan, 22.5° to both sides of the
    direction: a place at any angle is seen in one of the four directions. So k pixels away it may
    lie up to k tan 22.5° to the side.

                         ..·'
                    ..·''   |
          x ───────┼────────┤  k tan 22.5°
                    ''·..   |
               k        ''·.
    """
    nearer, farther = (count + 1) // 2, count // 2 + 1

    # fan[k]: the other colour at that bit, or as far to its side as the fan is wide k pixels away
    fan = [opposite]
    spread, half_width = opposite, 0
    for k in range(1, farther + 1):
        if round(k * FAN) > half_width:
            half_width += 1
            aside = half_width * direction.along
            spread = spread | _moved(opposite, aside) | _moved(opposite, -aside)
        fan.append(spread)

    ahead = _moved(fan[1], direction.over)
    for k in range(2, nearer + 1):
        ahead |= _moved(fan[k], k * direction.over)
    behind = _moved(fan[1], -direction.over)
    for k in range(2, farther + 1):
        behind |= _moved(fan[k], -k * direction.over)
    return ahead & behind


def _moved(bits: Bits, by: int) -> Bits:
    """Return at each place the bit that lies so many places further on.

    What would come from outside the strip is set, or 0 in the last word: it lies in the margins.
    """
    whole, part = divmod(by, 64)
    result = np.empty_like(bits)
    first, last = max(-whole, 0), bits.size - max(whole, 0)
    source, target = bits[first + whole : last + whole], result[first:last]
    result[:first] = OUTSIDE
    result[last:] = OUTSIDE
    if not part:
        target[:] = source
        return result
    # A word takes the rest of its own source word, and the beginning of the one after that
    np.right_shift(source, np.uint64(part), out=target)
    target[:-1] |= source[1:] << np.uint64(64 - part)
    return result


def _chain(bits: Bits, step: int, count: int, merge: Callable[..., Any]) -> Bits:
    """Return each bit merged with the count − 1 that follow it, `step` places apart.

    By doubling: a bit that is merged with 3 others, merged with the bit 4 steps on, has all 8.
    """
    size = 1
    while size < count:
        more = min(size, count - size)
        bits = merge(bits, _moved(bits, more * step))
        size += more
    return bits


def _in_runs(bits: Bits, step: int, count: int) -> Bits:
    """Return the bits that lie in a straight run of at least `count`, `step` places apart."""
    if count < 2:
        return bits
    # Where a run begins all bits that follow are set; back from there each of them belongs to it
    starts = _chain(bits, step, count, np.bitwise_and)
    return _chain(starts, -step, count, np.bitwise_or)


def _points(place: Bits, words_per_row: int, columns: int) -> Points:
    """Return rows and columns of the bits of a strip: those of a few words, spread over all."""
    words = np.flatnonzero(place)
    words = words[:: max(1, words.size // MANY_WORDS)]
    # The lowest bit of a word is its leftmost pixel; what lies past the last column is no pixel
    bits = np.unpackbits(place[words].view(np.uint8).reshape(-1, 8), axis=1, bitorder="little")
    index, bit = np.nonzero(bits)
    row = words[index] // words_per_row
    column = words[index] % words_per_row * 64 + bit
    return np.stack([row, column], axis=1)[column < columns]
