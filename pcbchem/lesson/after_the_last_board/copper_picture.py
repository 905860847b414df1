"""Picture of the copper: what stays dissolved over fresh mud and over mud that has aged.

`draw` puts numbers into artists that are made once, so that a slider redraws in milliseconds;
`moving` lists them back to front.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...page.picture import HOLLOW, INK, LINE, SHADE, plain
from .numbers import DEATHS, NEUTRAL, PH_AXIS, PH_HIGH, CopperLeft, total_copper
from .words import milligrams_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

LOWEST, HIGHEST = 5e-4, 1e5
"""Ends of the axis of copper [mg/L]."""
MILLIGRAMS = {1e4: "10 000", 100: "100", 1: "1", 0.01: "0.01"}
"""Its ticks [mg/L]."""
SHORT_LINE = 3.0
"""So far the line goes before a prediction [pH]: acid holds all of it."""
MOST = PH_HIGH + 0.5
"""End of the axis [pH]. Above lies what other bases do: a page draws no way to a drain."""
WORDS_INSIDE = 6.0
"""From here on the band has room for words [pH]."""
FRESH_AT, AGED_AT, AGED_HIGH = 7.2, 7.6, 0.12
"""Where the two kinds of mud are named [pH], and how high the lower one [mg/L]."""
NAME_WIDE = 2.4
"""So wide at most is the name of the upper one [pH]."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.5}


class Band:
    """One Axes of copper dissolved over pH: a band between two kinds of mud; made once and empty.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "both")
        axes.set(yscale="log", xlim=(0, MOST), ylim=(LOWEST, HIGHEST))
        axes.set_xticks(range(0, int(PH_HIGH) + 1, 2))
        axes.set_yticks(list(MILLIGRAMS), list(MILLIGRAMS.values()))
        axes.minorticks_off()
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel("pH of the water", fontsize=size, color=INK)
        axes.set_title("copper dissolved in the water, mg/L", loc="left", fontsize=size, color=INK)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        total, deaths = 1000 * total_copper(), 1000 * DEATHS
        axes.plot([0, MOST], [deaths, deaths], color=INK, linewidth=1.8, linestyle=(0, (5, 3)))
        axes.text(
            0.15,
            deaths * 1.4,
            f"kills half of the water fleas: {milligrams_words(DEATHS)}",
            va="bottom",
            **look,
        )
        axes.plot([0, SHORT_LINE], [total, total], color=LINE, linewidth=2.5)
        axes.text(
            0.15,
            total * 1.5,
            f"as it came out of the tray: {milligrams_words(total_copper())}",
            va="bottom",
            **look,
        )
        self.band = axes.fill([], [], facecolor=SHADE, edgecolor="none")[0]
        self.aged = axes.plot([], [], color=LINE, linewidth=2.5)[0]
        self.fresh = axes.plot([], [], color=LINE, linewidth=2.5)[0]
        self.fresh_words = axes.text(0, 0, "over fresh mud", va="bottom", **look)
        self.aged_words = axes.text(0, 0, "over aged mud", va="center", ha="right", **look)
        self.between = axes.plot([], [], color=INK, linewidth=2.5)[0]
        dots: dict[str, Any] = {"linestyle": "", "marker": "o", "markersize": 9, "color": INK}
        self.dots = axes.plot([], [], markeredgecolor="white", **dots)[0]
        self.words = axes.text(0, 0, "", fontweight="bold", ha="right", va="center", **look)
        self.words.set_bbox(PATCH)
        self.guess = axes.plot([], [], linestyle="", marker="s", markersize=10, **HOLLOW)[0]
        self.guess_words = axes.text(0, 0, "", va="center", bbox=PATCH, **look)
        self.moving: tuple[Artist, ...] = (
            self.band,
            self.aged,
            self.fresh,
            self.fresh_words,
            self.aged_words,
            self.between,
            self.words,
            self.dots,
            self.guess_words,
            self.guess,
        )

    def draw(self, left: CopperLeft, pH: float) -> None:
        """Draw the band with so much soda left over, and what is left at a pH [-]."""
        aged, fresh = 1000 * left.aged, 1000 * left.fresh
        self.band.set_xy(
            np.column_stack([np.append(PH_AXIS, PH_AXIS[::-1]), np.append(aged, fresh[::-1])])
        )
        self.aged.set_data(PH_AXIS, aged)
        self.fresh.set_data(PH_AXIS, fresh)
        low, high = (1000 * end for end in left.at(pH))
        self.between.set_data([pH, pH], [low, high])
        self.dots.set_data([pH, pH], [low, high])
        beside = (PH_AXIS >= FRESH_AT) & (PH_AXIS <= FRESH_AT + NAME_WIDE)
        self.fresh_words.set_position((FRESH_AT, 1.6 * float(fresh[beside].max())))
        self.aged_words.set_position((AGED_AT, AGED_HIGH))
        self.words.set_text(between(low, high))
        # in the band where there is room for words, else under it, and never over the axis
        height = np.sqrt(low * high) if pH >= WORDS_INSIDE else low / 6
        is_near_axis = pH < SHORT_LINE
        self.words.set(
            position=(pH if is_near_axis else pH - 0.2, height),
            horizontalalignment="center" if is_near_axis else "right",
        )

    def draw_guess(self, amount: float | None, words: str) -> None:
        """Draw a guess of the copper at the pH of the question [kg/m³], or nothing."""
        for artist in (self.guess, self.guess_words):
            artist.set_visible(amount is not None)
        if amount is None:
            return
        self.guess.set_data([NEUTRAL], [1000 * amount])
        self.guess_words.set(position=(NEUTRAL + 0.3, 1000 * amount), text=words, ha="left")


def between(low: float, high: float) -> str:
    """Write what lies between two ends [mg/L in] in two lines, or one where they agree.

    Examples
    --------
    >>> print(between(0.52, 98.4), "|", between(5495, 5495))
    0.52 to
    98 mg/L | 5500 mg/L
    """
    ends = [milligrams_words(end / 1000) for end in (low, high)]
    if ends[0] == ends[1]:
        return f"{ends[0]} mg/L"
    return f"{ends[0]} to\n{ends[1]} mg/L"
