"""Narrow places of one colour of a picture, looked for on packed bits: 64 pixels to a word, bands of rows.

A pixel lies in a narrow place of so many pixels when the other colour begins on both sides of it within that width,
in about opposite directions; when along the place its colour goes on both ways for `ALONG` times the width; and when
there it is still `STILL` times as wide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

Bits = NDArray[np.uint64]
Points = NDArray[np.intp]
Way = tuple[int, int, float]

ALONG, STILL = 1.0, 0.7
"""How far a narrow place must go on both ways, and how wide it must still be there, in its own widths."""
SLOPE = 2**0.5 - 1  # tangent of 22.5°, half the angle between two of the four directions
HALO, BAND = 32, 192  # rows read beside a band, and of it


def packed(grey: NDArray[np.uint8], middle: float, dark: bool) -> Bits:
    """Pixels of one colour as bits, 64 to a word, with at least 64 set bits at the end of each row.

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
    >>> print(packed(np.zeros((2, 100), np.uint8), 127.5, True).shape)
    (2, 3)
    """
    rows, columns = grey.shape
    words = columns // 64 + 2
    bits = np.full((rows, 8 * words), 255, np.uint8)
    whole, rest = divmod(columns, 8)
    for top in range(0, rows, BAND):
        part = grey[top : top + BAND]
        inside = part < middle if dark else part >= middle
        bits[top : top + BAND, : whole + bool(rest)] = np.packbits(
            inside, axis=1, bitorder="little"
        )
    if rest:
        bits[:, whole] |= np.uint8((0xFF << rest) & 0xFF)
    return bits.view("<u8")


def narrow(words: Bits, columns: int, ladder: tuple[int, ...]) -> Iterator[tuple[int, Points]]:
    """Look for narrow places from short to long.

    Parameters
    ----------
    words : array
        Packed pixels [64 bits], as `packed` gives them.
    columns : int
        Pixels in a row [pixels].
    ladder : tuple of int
        Widths to try [pixels], rising; between one that has no place and one that has, each is tried.

    Yields
    ------
    tuple
        A width [pixels] that places have, and rows and columns of points in them (and in those one wider).

    Examples
    --------
    >>> grey = np.full((80, 80), 255, np.uint8)
    >>> grey[:, 30:35] = 0
    >>> print(next(narrow(packed(grey, 127.5, True), 80, (3, 6)))[0])
    5
    """
    per_row, low, rungs = words.shape[1], ladder[0] - 1, list(ladder)
    row = 64 * per_row
    ways = ((1, row, 1.0), (row, 1, 1.0), (row + 1, row - 1, 2**0.5), (row - 1, row + 1, 2**0.5))
    bands: list[tuple[int, Bits, list[Way]]] = []
    for top in range(0, words.shape[0], BAND):  # most have no place at all in most directions
        band = _band(words, top)
        hopeful = [
            way for way in ways if _place(band, per_row, way, ladder[-1] + 1, ladder[0], 0).any()
        ]
        bands += [(top, band, hopeful)] if hopeful else []

    def places(band: Bits, ways: list[Way], run: int) -> Iterator[Bits]:
        return (_place(band, per_row, way, run, run, STILL) for way in ways)

    def holds(band: Bits, ways: list[Way], run: int) -> bool:
        return any(bool(place.any()) for place in places(band, ways, run))

    while rungs:
        most = len(rungs)
        for (
            _,
            band,
            hopeful,
        ) in bands:  # the first rung that any band needs; later bands look no higher
            most = next((k for k in range(most) if holds(band, hopeful, rungs[k])), most)
        if most == len(rungs):
            return
        low, high = max([low, *rungs[:most]]), rungs[most]
        between = range(low + 1, high)
        high = next(
            (
                run
                for run in between
                if any(holds(band, hopeful, run) for _, band, hopeful in bands)
            ),
            high,
        )
        found = [
            _points(place, per_row, columns) + np.array([top, 0])
            for run in (high, high + 1)
            for top, band, hopeful in bands
            for place in places(band, hopeful, run)
        ]
        yield high, np.concatenate(found)
        low, rungs = high, [rung for rung in rungs if rung > high]


def _band(words: Bits, top: int) -> Bits:
    """Some rows with their neighbours, flat; beyond the picture every bit is set."""
    rows, per_row = words.shape
    first, last = top - HALO, min(top + BAND, rows) + HALO
    band = np.full((last - first, per_row), ~np.uint64(0))
    band[max(0, -first) : min(rows, last) - first] = words[max(0, first) : last]
    return band.ravel()


def _shifted(words: Bits, by: int) -> Bits:
    """The same bits, each moved down by so many places in the flat order; what comes in from outside is set."""
    whole, part = divmod(by, 64)
    moved, size = np.empty_like(words), words.size
    first, last = max(-whole, 0), size - max(whole, 0)
    here, place = words[first + whole : last + whole], moved[first:last]
    moved[:first] = moved[last:] = ~np.uint64(0)
    if not part:
        place[:] = here
        return moved
    np.right_shift(here, np.uint64(part), out=place)
    place[:-1] |= here[1:] << np.uint64(64 - part)
    return moved


def _chain(words: Bits, step: int, count: int, merge: Callable[..., Any]) -> Bits:
    """Each bit merged with the count − 1 that follow it at that step, by doubling."""
    done = 1
    while done < count:
        more = min(done, count - done)
        words = merge(words, _shifted(words, more * step))
        done += more
    return words


def _opened(words: Bits, step: int, count: int) -> Bits:
    """Bits that lie in a straight run of at least that many."""
    return (
        words
        if count < 2
        else _chain(_chain(words, step, count, np.bitwise_and), -step, count, np.bitwise_or)
    )


def _place(words: Bits, per_row: int, way: Way, run: int, goes_on: int, still: float) -> Bits:
    """Bits of a band in a place so many pixels wide that goes on, across its width, for about so many both ways."""
    step, across, length = way
    count, far = max(1, round(run / length)), max(2, round(ALONG * goes_on / length))
    inside = slice(HALO * per_row, -HALO * per_row)
    place = words & _beside(~words, step, across, count)
    if place[inside].any():
        place &= _shifted(_chain(words, across, 2 * far + 1, np.bitwise_and), -far * across)
        width = int(np.ceil(still * count))
        if width > 1 and place[inside].any():
            wide = _opened(words, step, width)
            place &= _shifted(wide, far * across) & _shifted(wide, -far * across)
    return place[inside]


def _beside(other: Bits, step: int, across: int, count: int) -> Bits:
    """Bits with another colour on both sides, at most `count` of their own between, each within 22.5° of the step."""
    spread, wide, width = other, [other], 0
    near = (count + 1) // 2, count // 2 + 1
    for k in range(1, near[1] + 1):
        if round(k * SLOPE) > width:
            width += 1
            spread = spread | _shifted(other, width * across) | _shifted(other, -width * across)
        wide.append(spread)
    sides = []
    for way, reach in zip((step, -step), near, strict=True):
        hit = _shifted(wide[1], way)
        for k in range(2, reach + 1):
            hit |= _shifted(wide[k], k * way)
        sides.append(hit)
    return sides[0] & sides[1]


def _points(place: Bits, per_row: int, columns: int) -> Points:
    """Rows and columns of the bits of such places: a few thousand at most, spread over all."""
    hits = np.flatnonzero(place)
    hits = hits[:: max(1, hits.size // 500)]
    bits = np.unpackbits(place[hits].view(np.uint8).reshape(-1, 8), axis=1, bitorder="little")
    word, bit = np.nonzero(bits)
    row, column = hits[word] // per_row, hits[word] % per_row * 64 + bit
    return np.stack([row, column], axis=1)[column < columns]
