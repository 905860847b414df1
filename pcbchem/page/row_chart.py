"""Picture of rows: each with its words, a dot and a band of 8 in 10 on one axis of factors, and words at its end."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np

from .picture import FAINT, INK, LINE, SHADE, plain

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

SIZE, SMALL = 11.0, 9.5
"""Words in a picture, wide and narrow [pt]."""
BAR, THIN = 0.3, 0.2
"""Half the height of a band, of the distance between rows: with words at its end, and above it."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 0}


@dataclasses.dataclass(frozen=True)
class Row:
    """Low end, middle and high end of a row [unit of the axis], infinite where it never ends, and words at its end."""

    low: float
    middle: float
    high: float
    words: str


class Rows:
    """Rows in one Axes, the first on top: what stands still, and the artists that move, in `moving`.

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
        self.axes, self.ends, self.above, self.half = (
            plain(axes, "x"),
            ends,
            above,
            THIN if above else BAR,
        )
        axes.set(xscale="log", xlim=ends, ylim=(len(names) - 0.4, -0.75 if above else -0.6))
        axes.set_yticks(range(len(names)), names, fontsize=size, color=INK)
        axes.tick_params(axis="y", length=0)
        axes.spines["left"].set_visible(False)
        axes.minorticks_off()
        self.bands = [axes.fill([], [], color=SHADE, linewidth=0)[0] for _ in names]
        self.dots = [
            axes.plot([], [], color=LINE, marker="o", markersize=8, linestyle="")[0] for _ in names
        ]
        self.words = [
            axes.text(
                1,
                k,
                "",
                fontsize=size,
                color=INK,
                va="bottom" if above else "center",
                linespacing=1.05,
                in_layout=False,
                bbox=PATCH if above else None,
            )
            for k in range(len(names))
        ]
        (self.line,) = axes.plot([], [], color=FAINT, linewidth=1, linestyle=":")
        self.moving: tuple[Artist, ...] = (self.line, *self.bands, *self.dots, *self.words)

    def draw(self, rows: Sequence[Row], line: float) -> None:
        """Draw rows [unit of the axis], and a dotted line from top to bottom at a value on it."""
        left, right = self.ends
        for k, row in enumerate(rows):
            low, middle, high = (
                float(np.clip(value, left, right)) for value in (row.low, row.middle, row.high)
            )
            self.bands[k].set_xy(
                [
                    (low, k - self.half),
                    (high, k - self.half),
                    (high, k + self.half),
                    (low, k + self.half),
                ]
            )
            self.dots[k].set_data([middle], [k])
            gap = (right / left) ** 0.015
            self.words[k].set_text(row.words)
            if self.above:
                self.words[k].set_position((left, k - self.half - 0.03))
            else:
                room = high < left**0.35 * right**0.65
                wide = low < left**0.6 * right**0.4
                side: Literal["left", "center", "right"] = (
                    "left" if room else "center" if wide else "right"
                )
                places = {
                    "left": high * gap,
                    "center": float(np.sqrt(left * right)),
                    "right": low / gap,
                }
                self.words[k].set(x=places[side], y=k, ha=side)
        self.line.set_data([line, line], [-0.6, len(rows) - 0.4])

    def seen(self, rows: Mapping[int, tuple[float, float]]) -> None:
        """What was seen, by number of the row, from where to where [unit of the axis], as dark brackets under it."""
        for k, (low, high) in rows.items():
            ends = [low, min(high, self.ends[1])]
            self.axes.plot(
                ends,
                [k + self.half + 0.1] * 2,
                color=INK,
                linewidth=4,
                solid_capstyle="butt",
                marker="|",
                markersize=9,
                markeredgewidth=2,
            )
