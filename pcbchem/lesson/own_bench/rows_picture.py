"""A picture of rows: each a band of 8 in 10 with its words, drawn anew for each answer."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from ...page.picture import INK, LINE, SHADE, Drawing, plain, sheet_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes

HEIGHT, NARROW_HEIGHT = 3.4, 4.4
"""Of a picture [inch]."""
HALF = 0.28
"""Half the height of a band, of the distance between rows [-]."""
ROOM = 0.12
"""So much of the axis stays free beside the bands [-]."""
WORDS = 0.55
"""So much of a wide axis is kept for the words after a band [-]."""


@dataclasses.dataclass(frozen=True)
class Row:
    """A row: its name before it, ends and middle of its band [unit of the axis], its words.

    `dashed`: a band that may come to be.
    """

    name: str
    low: float
    middle: float
    high: float
    words: str
    dashed: bool = False


def build(narrow: bool) -> Drawing:
    """Make an empty picture of rows: all of it is drawn each time.

    It has no title: what it shows stands large beside it.
    """
    sheet, size, _ = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    return Drawing(sheet, axes=sheet.subplots(), size=size, narrow=narrow)


def draw(drawing: Drawing, rows: Sequence[Row], axis: str, *, is_log: bool = False) -> None:
    """Draw rows, the first on top.

    Parameters
    ----------
    drawing : Drawing
        From `build`.
    rows : sequence of Row
        At least one [unit of the axis].
    axis : str
        What the axis counts, with its unit.
    is_log : bool
        Whether equal steps on it are equal factors.
    """
    axes, size, narrow = (drawing.parts[name] for name in ("axes", "size", "narrow"))
    axes.clear()
    plain(axes, "x")
    left, right = _ends(rows, is_log, 0.0 if narrow else WORDS)
    axes.set(xlim=(left, right), ylim=(len(rows) - 0.4, -0.8 if narrow else -0.6))
    if is_log:
        axes.set_xscale("log")
        axes.set_xlim(left, right)
        _mark(axes, left, right)
    names = [row.name for row in rows]
    if narrow:
        names = [""] * len(rows)
    axes.set_yticks(range(len(rows)), names, fontsize=size, color=INK)
    axes.tick_params(axis="y", length=0)
    axes.tick_params(axis="x", labelsize=size)
    axes.spines["left"].set_visible(False)
    axes.set_xlabel(axis, fontsize=size, color=INK)
    for place, row in enumerate(rows):
        _draw_row(axes, place, row, size, narrow)


def _ends(rows: Sequence[Row], is_log: bool, words: float) -> tuple[float, float]:
    """Return where the axis begins and ends [its unit], with room for words on its right [-]."""
    finite = [end for row in rows for end in (row.low, row.high) if np.isfinite(end)]
    finite = finite or [1.0]  # nothing ever clears: every band lies beyond the right end
    low, high = min(finite), max(finite)
    if is_log:
        # at least a factor of two, or a narrow band fills the picture
        high = max(high, 2 * low)
        step = np.log(high / low)
        return low * np.exp(-ROOM * step), high * np.exp((ROOM + words) * step)
    step = max(high - low, 0.02 * high) or 1.0
    return max(low - ROOM * step, 0.0), high + (ROOM + words) * step


def _mark(axes: Axes, left: float, right: float) -> None:
    """Put round numbers on an axis of factors."""
    steps = (1, 1.5, 2, 3, 4, 5, 6, 8)
    numbers = [step * 10.0**power for power in range(-3, 6) for step in steps]
    shown = [number for number in numbers if left < number < right]
    while len(shown) > 7:
        shown = shown[::2]
    axes.set_xticks(shown, [f"{number:g}" for number in shown])
    axes.minorticks_off()


def _draw_row(axes: Axes, place: int, row: Row, size: float, narrow: bool) -> None:
    """Draw one row; on a narrow picture its name and words stand above it."""
    left, right = axes.get_xlim()
    low, middle, high = (
        float(np.clip(end, left, right)) for end in (row.low, row.middle, row.high)
    )
    top, bottom = place - HALF, place + HALF
    corners = [(low, top), (high, top), (high, bottom), (low, bottom)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    if row.dashed:
        axes.fill(xs, ys, facecolor="none", edgecolor=INK, linewidth=1.2, linestyle="--")
    else:
        axes.fill(xs, ys, color=SHADE, linewidth=0)
        axes.plot([middle], [place], color=LINE, marker="o", markersize=8, linestyle="")
    if narrow:
        words = f"{row.name}: {row.words}"
        axes.text(left, top - 0.03, words, fontsize=size, color=INK, va="bottom", in_layout=False)
        return
    gap = (right - left) * 0.012
    if axes.get_xscale() == "log":
        gap = high * ((right / left) ** 0.012 - 1)
    axes.text(high + gap, place, row.words, fontsize=size, color=INK, va="center", in_layout=False)
