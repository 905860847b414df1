"""Picture of the peroxide: lines that fall over weeks, and a square for each of 200 baths.

`draw` puts numbers into artists that are made once, so that a choice redraws in milliseconds;
`moving` lists them back to front.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.units import hour
from ...page.picture import INK, LINE, plain
from ..bath.each_bath import COLUMNS, EACH_LINE, ROWS, in_one, kinds_of_squares, square
from .numbers import DAY, LEFT_OVER, LONGEST, SHORTEST, TIMES, WEEK, Left

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

LOWEST, HIGHEST = 1e-4, 1e4
"""Ends of the axis of peroxide [kg/m³]: above the lines there is room for words."""
MILLIGRAMS = {50: "50 000", 1: "1000", 0.1: "100", 0.001: "1"}
"""Its ticks in mg/L, by where they stand [kg/m³]."""
TICKS = {
    hour: "1 h",
    12 * hour: "12 h",
    3 * DAY: "3 days",
    4 * WEEK: "4 weeks",
}
"""Ticks of the axis of time [s]."""
STRIPE = "0.88"
"""Grey of the stripe in which it counts as gone."""
EACH = "200 baths, a square each"
"""Stands over the squares before anything is known of them."""
SIDE = 0.78
"""Of a square, of the distance between two [-]."""
GUESS_ENDS = LONGEST / 1.3
"""No guess is drawn later [s]."""
GUESS_AT = 300.0
"""Height of a guess in the picture [kg/m³]."""
GUESS_WORDS_AT = 900.0
"""Height of the word over it [kg/m³]."""


class Lines:
    """One Axes of peroxide left over the time since the board came out, made once and empty.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "both")
        axes.set(xscale="log", yscale="log", xlim=(SHORTEST, LONGEST), ylim=(LOWEST, HIGHEST))
        axes.minorticks_off()
        axes.set_xticks(list(TICKS), list(TICKS.values()))
        axes.set_yticks(list(MILLIGRAMS), list(MILLIGRAMS.values()))
        axes.minorticks_off()
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel("since the board came out (steps grow)", fontsize=size, color=INK)
        axes.set_title("peroxide left, mg/L (tenfold steps)", loc="left", fontsize=size, color=INK)
        axes.axhspan(LOWEST, LEFT_OVER, facecolor=STRIPE, edgecolor="none")
        look: dict[str, Any] = {"fontsize": size, "color": INK, "va": "center", "in_layout": False}
        self.lines = axes.plot([], [], color=LINE, linewidth=1.4)[0]
        self.moment = axes.plot([], [], color=INK, linewidth=2)[0]
        # at both ends of the axes a dot is whole
        dots: dict[str, Any] = {"linestyle": "", "marker": "o", "markersize": 7, "clip_on": False}
        self.filled = axes.plot([], [], color=INK, **dots)[0]
        self.hollow = axes.plot([], [], color=INK, markerfacecolor="white", **dots)[0]
        self.who = axes.text(SHORTEST * 1.15, 3000, EACH_LINE, **look)
        nothing = np.sqrt(LOWEST * LEFT_OVER)
        self.stripe_words = axes.text(SHORTEST * 1.15, nothing, "under 1 mg/L", **look)
        self.stripe_words.set_bbox({"facecolor": STRIPE, "edgecolor": "none", "pad": 0.5})
        # a bracket: a hollow circle would look like a bath whose peroxide is gone
        mark: dict[str, Any] = {"marker": "|", "markersize": 12, "markeredgewidth": 2, "color": INK}
        self.guess = axes.plot([], [], linewidth=2, **mark)[0]
        self.guess.set_clip_on(False)
        # what is not cut off at the axes would take part in laying them out
        for whole in (self.filled, self.hollow, self.guess):
            whole.set_in_layout(False)
        self.guess_words = axes.text(0, GUESS_AT, "you", **look)
        self.moving: tuple[Artist, ...] = (
            self.lines,
            self.who,
            self.stripe_words,
            self.moment,
            self.filled,
            self.hollow,
            self.guess,
            self.guess_words,
        )

    def draw(self, left: Left, time: str) -> None:
        """Draw every tenth bath, and where each of them is at one of the times."""
        # below the axis nothing is seen
        seen = np.maximum(left.lines, LOWEST / 100)
        self.lines.set_data(*in_one([np.column_stack([left.times, line]) for line in seen.T]))
        now = TIMES[time]
        self.moment.set_data([now, now], [LOWEST, 100])
        here = left.at[time][left.drawn]
        for dots, which in ((self.filled, here >= LEFT_OVER), (self.hollow, here < LEFT_OVER)):
            seen = np.maximum(here[which], LOWEST)
            dots.set_data(np.full(seen.size, now), seen)

    def draw_guess(self, span: tuple[float, float] | None) -> None:
        """Draw between which times [s] a reader predicted it gone, or nothing.

        What lies beyond the axis ends just before its end, where the mark is whole.
        """
        for artist in (self.guess, self.guess_words):
            artist.set_visible(span is not None)
        if span is None:
            return
        first, last = span
        self.guess.set_data([first, min(last, GUESS_ENDS)], [GUESS_AT, GUESS_AT])
        self.guess_words.set_position((first, GUESS_WORDS_AT))


class Squares:
    """One Axes of squares, one a bath, with the counts in words; made once.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = axes
        axes.set(xlim=(-0.2, COLUMNS + 0.2), ylim=(ROWS + 2.4, -2.4))
        look: dict[str, Any] = {"fontsize": size, "va": "center", "in_layout": False}
        kinds: tuple[dict[str, Any], ...] = (
            {"facecolor": "white", "edgecolor": INK},
            {"facecolor": LINE, "edgecolor": LINE},
        )
        self.kinds = kinds_of_squares(axes, SIDE, kinds)
        self.nothing = axes.text(0, -1.1, EACH, color=INK, **look)
        self.still = axes.text(0, ROWS + 1.0, "", color=LINE, fontweight="bold", **look)
        self.moving: tuple[Artist, ...] = (*self.kinds, self.nothing, self.still)

    def ask(self) -> None:
        """Say what the squares are, before anything is known of them."""
        self.nothing.set_text(EACH)

    def draw(self, left: Left, time: str) -> None:
        """Draw a square for each bath at one of the times: hollow where it is gone."""
        nothing = left.nothing(time)
        places = np.arange(left.total)
        for squares, which in zip(self.kinds, (places < nothing, places >= nothing), strict=True):
            squares.set_verts([square(int(place), SIDE) for place in places[which]])
        self.nothing.set_text(f"{nothing} of {left.total}: under 1 mg/L")
        self.still.set_text(f"{left.still(time)}: still peroxide, still gas")
