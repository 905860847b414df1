"""Picture of the lye: what is left on one axis with what such lye does to both kinds of film.

`draw` puts numbers into artists that are made once; the boxes and the dashed line are the ground.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...bench.resist import practice
from ...page.picture import HOLLOW, INK, LINE, SHADE, in_one_line, plain
from .numbers import ENDS, Left, fresh_grams
from .words import BOX_WORDS, FILM_WORDS, grams_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

FOOT, TOP = 3.0, -1.05
"""Lower and upper end of the picture: rows count downwards [rows]."""
GUESS_AT, LYE_AT, LYE_WORDS_AT = -0.5, 0.0, 0.42
"""Heights of the prediction, of the bar and of the words under it [rows]."""
BOXES_AT = {"positive": 1.25, "negative": 2.4}
"""Heights of the middles of both rows of boxes [rows]."""
BOX, BAR = 0.36, 0.17
"""Half the height of a box and of the bar [rows]."""
NAME_ABOVE, NAME_HIGH = 0.42, 0.32
"""So far above the middle of its boxes a film is named on a telephone, and how high that is
[rows]."""
USED_FOR = {"positive": "develops", "negative": "strips"}
"""What lye is used for with each film: its box is grey."""
GREY = "0.82"
PATCH = {"facecolor": "white", "edgecolor": "none", "pad": 0.5}
LYE_NAME = "the lye,\nunused"
X_LABEL = "lye, grams in a litre   grey: what it is used for   bar: 8 of 10 cases   ● the middle"
NARROW_LABEL = "lye, grams in a litre\ngrey: what it is used for\nbar: 8 of 10 cases   ● the middle"


def between_boxes(lye: float, top: float, narrow: bool) -> tuple[list[float], list[float]]:
    """Return an upright line at some lye [g/L] from a height [rows] to the foot, without boxes.

    Where names stand above the boxes it is broken there, too.
    """
    above = NAME_ABOVE + NAME_HIGH if narrow else BOX
    ends = [top]
    for middle in BOXES_AT.values():
        # a break is NaN
        ends += [middle - above, np.nan, middle + BOX]
    ends.append(FOOT)
    return [lye] * len(ends), ends


class LyeRows:
    """One Axes: the lye on top, under it a row of boxes for each film; made once.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone: names stand above the boxes, not beside them.
    """

    def __init__(self, axes: Axes, size: float, narrow: bool) -> None:
        self.axes = plain(axes, "")
        self.narrow = narrow
        axes.set(xlim=ENDS, ylim=(FOOT, TOP))
        axes.set_xticks(range(0, 26, 5))
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel(NARROW_LABEL if narrow else X_LABEL, fontsize=size, color=INK)
        axes.spines["left"].set_visible(False)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        if narrow:
            axes.set_yticks([])
            for film, middle in BOXES_AT.items():
                name = in_one_line(FILM_WORDS[film])
                axes.text(ENDS[0], middle - NAME_ABOVE, name, va="bottom", **look)
        else:
            names = [LYE_NAME, *(FILM_WORDS[film] for film in BOXES_AT)]
            axes.set_yticks([LYE_AT, *BOXES_AT.values()], names, fontsize=size, color=INK)
            axes.tick_params(axis="y", length=0)
        self._draw_boxes(look)
        morning = fresh_grams()
        # no line crosses the words in a box
        x, y = between_boxes(morning, TOP + 0.25, narrow)
        axes.plot(x, y, color=INK, linestyle="--", linewidth=1.5)
        words = f"mixed this morning: {grams_words(morning)}"
        axes.text(morning + 0.3, TOP + 0.2, words, va="center", bbox=PATCH, **look)
        self.bar = axes.fill([], [], color=SHADE, linewidth=0)[0]
        self.dot = axes.plot([], [], color=LINE, marker="o", markersize=9, clip_on=False)[0]
        self.now = axes.plot([], [], color=LINE, linewidth=2.5)[0]
        self.now_words = axes.text(0, LYE_WORDS_AT, "", va="center", bbox=PATCH, **look)
        self.now_words.set(color=LINE, fontweight="bold")
        self.guess = axes.plot([], [], marker="D", markersize=8, clip_on=False, **HOLLOW)[0]
        self.guess_words = axes.text(0, GUESS_AT, "your prediction", va="center", **look)
        self.guess_words.set_bbox(PATCH)
        for whole in (self.dot, self.guess):
            whole.set_in_layout(False)
        self.moving: tuple[Artist, ...] = (
            self.bar,
            self.now,
            self.dot,
            self.now_words,
            self.guess_words,
            self.guess,
        )

    def _draw_boxes(self, look: dict[str, Any]) -> None:
        """Draw what lye does to each film, by its strength, in words."""
        for film, middle in BOXES_AT.items():
            for band in practice(film):
                left, right = band.low, min(band.high, ENDS[1])
                top, bottom = middle - BOX, middle + BOX
                self.axes.fill(
                    [left, right, right, left],
                    [top, top, bottom, bottom],
                    facecolor=GREY if band.word == USED_FOR[film] else "white",
                    edgecolor=INK,
                    linewidth=0.8,
                )
                words = BOX_WORDS[film, band.word]
                centre = (left + right) / 2
                self.axes.text(
                    centre, middle, words, ha="center", va="center", linespacing=1.0, **look
                )

    def draw(self, left: Left | None, guess: float | None = None) -> None:
        """Draw what is left of the lye, or nothing yet, and a guess [g/L]."""
        for artist in (self.bar, self.dot, self.now, self.now_words):
            artist.set_visible(left is not None)
        for artist in (self.guess, self.guess_words):
            artist.set_visible(left is not None and guess is not None)
        if left is None:
            return
        low, middle, high = (float(end) for end in (left.lye.low, left.lye.middle, left.lye.high))
        top, bottom = LYE_AT - BAR, LYE_AT + BAR
        self.bar.set_xy([(low, top), (high, top), (high, bottom), (low, bottom)])
        self.dot.set_data([middle], [LYE_AT])
        self.now.set_data(*between_boxes(middle, LYE_AT, self.narrow))
        self.now_words.set_text(f"now {grams_words(middle)}")
        # left of its line, unless the axis ends there
        is_near_end = middle < 4
        self.now_words.set_x(middle + (0.35 if is_near_end else -0.35))
        self.now_words.set_horizontalalignment("left" if is_near_end else "right")
        if guess is not None:
            self.guess.set_data([guess], [GUESS_AT])
            is_low = guess < ENDS[1] / 4
            aside = 1.0 if self.narrow else 0.6
            self.guess_words.set_x(guess + (aside if is_low else -aside))
            self.guess_words.set_horizontalalignment("left" if is_low else "right")
