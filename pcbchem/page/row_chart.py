"""A chart of rows: each with its words, a dot and a band of 8 in 10 on one axis of factors."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from .picture import FAINT, INK, LINE, SHADE, in_one_line, plain

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.text import Text

BAR, THIN = 0.3, 0.2
"""Half the height of a band, of the distance between rows: words at its end, or above it."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 0}
"""What lies behind words that stand on the grid."""


@dataclasses.dataclass(frozen=True)
class ChartRow:
    """What one row shows.

    Parameters
    ----------
    low, middle, high : float
        Both ends of its band and the dot [unit of the axis]; infinite where it never ends.
    words : str
        Beside the band.
    """

    low: float
    middle: float
    high: float
    words: str


def row_words(name: str, numbers: str, above: bool) -> str:
    """Write the words of a row: its numbers, after its name where that stands above the row.

    Parameters
    ----------
    name : str
        Of the row; it may have several lines.
    numbers : str
        What it shows, in words; none: still nothing.
    above : bool
        As in `RowChart`: no name stands before the row.

    Returns
    -------
    str
        In one line, where it holds the name.

    Examples
    --------
    >>> print(row_words("acid\\nspilt", "69 ppm", above=True))
    acid spilt: 69 ppm
    """
    if not above:
        return numbers
    name = in_one_line(name)
    return f"{name}: {numbers}" if numbers else name


def rows_of_tenfolds(
    axes: Axes,
    names: Sequence[str],
    ends: tuple[float, float],
    ticks: Sequence[str],
    label: str,
    size: float,
    above: bool,
) -> RowChart:
    """Make rows whose words lie on the grid, without a line: with few ticks, as they are written.

    Parameters
    ----------
    axes, names, ends, size, above
        As in `RowChart`; names stand before the rows, or, `above`, in their words alone.
    ticks : sequence of str
        Where the axis says so, in its own unit: "0.0001" and not 10⁻⁴.
    label : str
        What the axis says under it.

    Returns
    -------
    RowChart
        Still empty.
    """
    chart = RowChart(axes, [""] * len(names) if above else names, ends, size, above)
    axes.set_xticks([float(tick) for tick in ticks], list(ticks), fontsize=size, color=INK)
    axes.set_xlabel(label, fontsize=size, color=INK)
    chart.line.set_visible(False)
    for words in chart.words:
        words.set_bbox(PATCH)
    return chart


class RowChart:
    """Rows in one Axes, the first on top: what stands still, and what moves, in `moving`.

    Parameters
    ----------
    axes : Axes
        Where they are drawn.
    names : sequence of str
        Words before each row.
    ends : tuple of float
        Both ends of the axis [its own unit]; what is beyond ends there.
    size : float
        Of the words [pt].
    above : bool
        Words of a row stand above it, not at its end.
    """

    def __init__(
        self,
        axes: Axes,
        names: Sequence[str],
        ends: tuple[float, float],
        size: float,
        above: bool = False,
    ) -> None:
        self.axes = plain(axes, "x")
        self.ends = ends
        self.above = above
        self.half = THIN if above else BAR
        # y counts rows downwards: 0 is on top; words above the first row need more room there
        axes.set(xscale="log", xlim=ends, ylim=(len(names) - 0.4, -0.75 if above else -0.6))
        axes.set_yticks(range(len(names)), names, fontsize=size, color=INK)
        axes.tick_params(axis="y", length=0)
        axes.spines["left"].set_visible(False)
        axes.minorticks_off()
        # everything is made once, empty: a new picture only moves it
        self.bands = [axes.fill([], [], color=SHADE, linewidth=0)[0] for _ in names]
        self.dots = [
            axes.plot([], [], color=LINE, marker="o", markersize=8, linestyle="")[0] for _ in names
        ]
        self.words = [self._empty_words(place, size) for place in range(len(names))]
        (self.line,) = axes.plot([], [], color=FAINT, linewidth=1, linestyle=":")
        # back to front: no band may cover words
        self.moving: tuple[Artist, ...] = (self.line, *self.bands, *self.dots, *self.words)

    def _empty_words(self, place: int, size: float) -> Text:
        """Return the words of a row, still empty [pt]."""
        return self.axes.text(
            1,
            place,
            "",
            fontsize=size,
            color=INK,
            va="bottom" if self.above else "center",
            linespacing=1.05,
            in_layout=False,  # words to come must not push the axes aside
            bbox=PATCH if self.above else None,
        )

    def draw(self, rows: Sequence[ChartRow], line: float) -> None:
        """Draw rows, and a dotted line from top to bottom at a value [unit of the axis]."""
        left, right = self.ends
        for place, row in enumerate(rows):
            # what never ends, and what lies beyond the axis, is drawn up to its edge
            low, middle, high = (
                float(np.clip(value, left, right)) for value in (row.low, row.middle, row.high)
            )
            top, bottom = place - self.half, place + self.half
            self.bands[place].set_xy([(low, top), (high, top), (high, bottom), (low, bottom)])
            self.dots[place].set_data([middle], [place])
            self.words[place].set_text(row.words)
            if self.above:
                self.words[place].set_position((left, place - self.half - 0.03))
            else:
                self._put_words_beside(place, low, high)
        self.line.set_data([line, line], [-0.6, len(rows) - 0.4])

    def _put_words_beside(self, place: int, low: float, high: float) -> None:
        """Put the words of a row where its band [unit of the axis] leaves room for them."""
        left, right = self.ends
        # places on an axis of factors: left ** 0.35 * right ** 0.65 is 65 % of the way to the right
        gap = (right / left) ** 0.015
        words = self.words[place]
        words.set_y(place)
        if high < left**0.35 * right**0.65:
            words.set(x=high * gap, ha="left")  # after the band
        elif low < left**0.6 * right**0.4:
            # no room on either side: across the middle of it
            words.set(x=float(np.sqrt(left * right)), ha="center")
        else:
            words.set(x=low / gap, ha="right")  # before it

    def seen(self, rows: Mapping[int, tuple[float, float]]) -> None:
        """Mark what was seen, from where to where [unit of the axis], by number of the row.

        It is drawn as a dark bracket under the band, once: it does not move.
        """
        for place, (low, high) in rows.items():
            height = place + self.half + 0.1
            self.axes.plot(
                [low, min(high, self.ends[1])],
                [height, height],
                color=INK,
                linewidth=4,
                solid_capstyle="butt",  # not longer than what was seen
                marker="|",
                markersize=9,
                markeredgewidth=2,
            )
