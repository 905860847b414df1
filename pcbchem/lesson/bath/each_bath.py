"""How is each of many plausible baths drawn? As a line, all of them one artist, or as a square."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.extras import extra
from ...page.picture import FAINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.collections import PolyCollection

    from ...common.arrays import FloatArray

COLUMNS, ROWS = 20, 10
"""Squares beside and above each other [-]: one for each of the 200 baths."""
EACH_LINE = "each line a bath: 20 of the 200"
"""Stands over such lines."""


def in_one(lines: Sequence[FloatArray]) -> FloatArray:
    """Return lines one after the other, with a break after each: many lines are one artist.

    Parameters
    ----------
    lines : sequence of array
        Points of each, shape (N, 2) [in the units of the picture].

    Returns
    -------
    array
        Shape (2, M): all x, and all y [as given]; a break is NaN.

    Examples
    --------
    >>> print(in_one([np.array([[0.0, 1.0], [1.0, 2.0]])]).shape)
    (2, 3)
    """
    gap = np.array([[np.nan, np.nan]])
    points = [part for line in lines for part in (line, gap)]
    return np.vstack(points).T if points else np.empty((2, 0))


def corners_at(x: float, y: float, side: float) -> FloatArray:
    """Return the corners of a square from its first, of so long a side [squares]."""
    return np.array([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def square(place: int, side: float) -> FloatArray:
    """Return the corners of the square of a bath, row by row, of so long a side [squares]."""
    row, column = divmod(place, COLUMNS)
    return corners_at(column, row, side)


def kinds_of_squares(
    axes: Axes, side: float, looks: Sequence[dict[str, Any]]
) -> list[PolyCollection]:
    """Draw a faint square for each bath, and return what is drawn over them by kinds of baths.

    Parameters
    ----------
    axes : Axes
        Where: from now on without frame and ticks, and as long a step up as aside.
    side : float
        Of a square [of the distance between two].
    looks : sequence of dict
        Face and edge of each kind.

    Returns
    -------
    list of PolyCollection
        One for each kind, still without squares.

    Examples
    --------
    >>> from pcbchem.page.picture import figure
    >>> print(len(kinds_of_squares(figure(2).subplots(), 0.8, [{"facecolor": "black"}])))
    1
    """
    with extra("pages"):
        from matplotlib.collections import PolyCollection

    axes.set_axis_off()
    axes.set_aspect("equal", anchor="NW")
    # hollow before anything is known; what is known is drawn over it
    every = [square(place, side) for place in range(COLUMNS * ROWS)]
    faint = PolyCollection(every, facecolor="white", edgecolor=FAINT, linewidth=0.7)
    axes.add_collection(faint)
    kinds = []
    for look in looks:
        kind = PolyCollection([], linewidth=0.9, **look)
        axes.add_collection(kind)
        kinds.append(kind)
    return kinds
