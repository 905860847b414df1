"""Picture of times as bars on one straight axis of minutes, one of them a prediction."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from ..common.units import minute
from .picture import FAINT, INK, LINE, SHADE, plain

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

BAR = 0.32
"""Half the height of a bar, of the distance between rows."""
BAND = 0.14
"""Half the height of the pale band that lies around the end of a bar."""

LETTER, LETTER_NARROW = 0.0145, 0.02
"""Room that a letter takes at most, of the length of the axis [-], wide and narrow."""


@dataclasses.dataclass(frozen=True)
class Bar:
    """One row: its name, how long [s], both ends of its band [s], and words beside it.

    `known`: drawn; else the row stands empty with its words. `hollow`: somebody's guess.
    """

    name: str
    time: float
    words: str
    low: float = np.nan
    high: float = np.nan
    known: bool = True
    hollow: bool = False


class MinuteBars:
    """Rows of times in one Axes, the first on top, on a straight axis of minutes.

    Parameters
    ----------
    axes : Axes
        Where they are drawn.
    rows : int
        How many there may be [-].
    longest : float
        End of the axis [s]; what is beyond ends there.
    size : float
        Of the words [pt].
    above : bool
        Names stand above the bars, as on a telephone, not before them.
    label : str
        What the minutes are.
    """

    def __init__(
        self,
        axes: Axes,
        rows: int,
        longest: float,
        size: float,
        above: bool = False,
        label: str = "minutes",
    ) -> None:
        self.axes = plain(axes, "x")
        self.longest, self.above = longest / minute, above
        axes.set(xlim=(0, self.longest), ylim=(rows - 0.5, -0.5))
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.tick_params(axis="x", labelsize=size, labelcolor=INK)
        axes.set_xlabel(label, fontsize=size, color=INK)
        self.bars = [axes.fill([], [], linewidth=1.6)[0] for _ in range(rows)]
        self.bands = [axes.fill([], [], color=SHADE, linewidth=0)[0] for _ in range(rows)]
        self.ends = [axes.plot([], [], color=INK, linewidth=2)[0] for _ in range(rows)]
        look: dict[str, Any] = {"fontsize": size, "color": INK, "va": "center", "in_layout": False}
        self.words = [axes.text(0, place, "", **look) for place in range(rows)]
        self.names = [axes.text(0, place, "", **look) for place in range(rows)]
        # back to front: the band lies on its bar, and no bar covers words
        self.moving: tuple[Artist, ...] = (
            *self.bars,
            *self.bands,
            *self.ends,
            *self.names,
            *self.words,
        )

    def draw(self, rows: Sequence[Bar]) -> None:
        """Draw rows; the places of those that are not given stay empty."""
        for place in range(len(self.bars)):
            if place < len(rows):
                self._draw_row(place, rows[place])
            for artists in (self.bars, self.bands, self.ends, self.names, self.words):
                artists[place].set_visible(place < len(rows))

    def _draw_row(self, place: int, row: Bar) -> None:
        """Draw one row at its place, from top to bottom [-]."""
        middle = place + 0.18 if self.above else place
        half = 0.2 if self.above else BAR
        length = self._along(row.time) if row.known else 0.0
        self.bars[place].set_xy(box(0, length, middle, half))
        colour = "none" if row.hollow else LINE
        if place == 0:
            colour = FAINT  # where all comes from, not what is asked
        self.bars[place].set(facecolor=colour, edgecolor=INK if row.hollow else "none")
        low, high = self._along(row.low), self._along(row.high)
        has_band = row.known and np.isfinite(row.low)
        self.bands[place].set_xy(box(low, high, middle, BAND) if has_band else np.zeros((4, 2)))
        self.ends[place].set_data(
            [length, length] if has_band else [], [middle - half, middle + half] if has_band else []
        )
        end = max(length, high) if has_band else length
        self._place_words(place, row, end, middle)

    def _place_words(self, place: int, row: Bar, end: float, middle: float) -> None:
        """Put the name before the row or above it, and its words where they fit [min]."""
        gap = 0.012 * self.longest
        name, words = self.names[place], self.words[place]
        name.set_text(row.name)
        if self.above:
            name.set(x=0, y=place - 0.22, ha="left")
        else:
            name.set(x=-gap, y=place, ha="right")
        words.set_text(row.words)
        letter = LETTER_NARROW if self.above else LETTER
        room = self.longest - end - gap
        if room > letter * len(row.words) * self.longest:
            words.set(x=end + gap, y=middle, ha="left")
        else:
            # above the bar, at the end of the axis
            above = place - 0.22 if self.above else middle - BAR - 0.12
            words.set(x=self.longest, y=above, ha="right")

    def _along(self, time: float) -> float:
        """Return a time [s] on the axis [min]; what is beyond it ends there."""
        return float(np.clip(time / minute, 0, self.longest)) if time == time else 0.0


def box(left: float, right: float, middle: float, half: float) -> list[tuple[float, float]]:
    """Return the corners of a bar from left to right [any unit], so high around its middle [-]."""
    top, bottom = middle - half, middle + half
    return [(left, top), (right, top), (right, bottom), (left, bottom)]
