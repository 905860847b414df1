"""Picture of 200 weak baths: the courses of every tenth, and a square for each.

`draw` puts numbers into artists that are made once, so that a slider redraws in milliseconds;
`moving` lists them back to front.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...page.picture import INK, LINE, plain
from ..bath.each_bath import COLUMNS, EACH_LINE, ROWS, corners_at, in_one, kinds_of_squares, square
from .numbers import BROWN, HOURS, LASTS, NEVER, Fates
from .words import KINDS

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

    from ...common.arrays import FloatArray

BROWN_INK = "#8a4a10"
"""Colour of a brown bath: dashed or hatched too, so that it is not told by colour alone."""
SIDE = 0.82
"""Of a square, of the distance between two [-]."""
TOP = 132.0
"""End of the axis of copper [%]: above 100 there is room for words."""
LEGEND, PER_LINE = 1.1, 1.5
"""Distance of the words from the squares, and between their lines [squares]."""


@dataclasses.dataclass(frozen=True)
class Guess:
    """A reader's guess: the share of the baths that clear [-], and its words."""

    clear: float
    words: str


HALF_HOUR = 0.5
"""When a board comes out at the bench, clear or not [h]: resist stands no longer."""


class Courses:
    """One Axes of copper left over the hours, made once and empty.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "y")
        axes.set(xlim=(0, HOURS), ylim=(0, TOP))
        axes.set_yticks(range(0, 101, 20))
        axes.set_xticks(range(int(HOURS) + 1))
        axes.spines["left"].set_bounds(0, 100)
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel("hours since the board went in", fontsize=size, color=INK)
        axes.set_title("copper still on the board, %", loc="left", fontsize=size, color=INK)
        # at the bench no board waits for four hours
        axes.plot([HALF_HOUR, HALF_HOUR], [0, 100], color=INK, linewidth=1.2, linestyle=":")
        axes.text(HALF_HOUR + 0.05, 94, "½ h: board out", fontsize=size - 1, color=INK)
        self.solid = axes.plot([], [], color=LINE, linewidth=1.6)[0]
        self.dashed = axes.plot([], [], color=BROWN_INK, linewidth=1.4, linestyle=(0, (4, 2)))[0]
        dots: dict[str, Any] = {"linestyle": "", "marker": "o", "color": BROWN_INK}
        edge: dict[str, Any] = {"markeredgecolor": "white", "markersize": 7}
        self.dots = axes.plot([], [], **dots, **edge)[0]
        self.key = axes.plot([0.12], [109], **dots, **edge)[0]
        look: dict[str, Any] = {"fontsize": size, "va": "center", "in_layout": False}
        self.who = axes.text(0.04, 124, EACH_LINE, color=INK, **look)
        self.what = axes.text(0.26, 109, "peroxide spent: it turns brown", color=BROWN_INK, **look)
        self.moving: tuple[Artist, ...] = (
            self.solid,
            self.dashed,
            self.dots,
            self.key,
            self.who,
            self.what,
        )

    def draw(self, fates: Fates) -> None:
        """Draw the course of every tenth bath: dashed from where its peroxide is spent."""
        solid, dashed, dots = [], [], []
        for minutes, left, place in zip(fates.minutes, fates.left, fates.spent_at, strict=True):
            points = np.column_stack([minutes / 60, 100 * left])
            end = len(points) if place is None else place + 1
            solid.append(points[:end])
            if place is not None:
                dashed.append(points[place:])
                dots.append(points[place])
        self.solid.set_data(*in_one(solid))
        self.dashed.set_data(*in_one(dashed))
        self.dots.set_data(*np.reshape(dots, (-1, 2)).T)


class Squares:
    """One Axes of squares, one a bath, with the counts in words under them; made once.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = axes
        axes.set(xlim=(-0.1, COLUMNS + 1.2), ylim=(ROWS + LEGEND + 4 * PER_LINE, -1.3))
        look: dict[str, Any] = {"fontsize": size, "va": "center", "in_layout": False}
        axes.text(0, -0.75, "200 plausible baths, a square each", color=INK, **look)
        looks: tuple[dict[str, Any], ...] = (
            {"facecolor": LINE, "edgecolor": LINE},
            {"facecolor": "white", "edgecolor": BROWN_INK},
            {"facecolor": "white", "edgecolor": INK},
        )
        self.kinds = kinds_of_squares(axes, SIDE, looks)
        # strokes of all squares are one artist: a hatch would be drawn anew in every square
        self.hatching = axes.plot([], [], color=BROWN_INK, linewidth=1)[0]
        self.crosses = axes.plot([], [], color=INK, linewidth=1)[0]
        self.words = [
            axes.text(1.4, ROWS + LEGEND + PER_LINE * line + 0.4, "", color=INK, **look)
            for line in range(len(KINDS))
        ]
        hollow: dict[str, Any] = {"markerfacecolor": "white", "markeredgecolor": INK}
        self.guess = axes.plot([], [], linestyle="", marker="<", markersize=9, **hollow)[0]
        self.guess_line = axes.plot([], [], color=INK, linewidth=2, linestyle=":")[0]
        self.guess_words = axes.text(0, 0, "", color=INK, **look)
        self.moving: tuple[Artist, ...] = (
            *self.kinds,
            self.hatching,
            self.crosses,
            *self.words,
            self.guess_line,
            self.guess,
            self.guess_words,
        )

    def draw(self, fates: Fates, guess: Guess | None) -> None:
        """Draw a square for each bath, the quickest first, and what was guessed."""
        counts = fates.counts
        ends = np.cumsum((0, *counts))
        strokes = {BROWN: (self.hatching, hatch), NEVER: (self.crosses, cross)}
        for kind, words in enumerate(self.words):
            squares = [square(place, SIDE) for place in range(ends[kind], ends[kind + 1])]
            beside = [key_square(kind)]
            self.kinds[kind].set_verts([*squares, *beside])
            words.set_text(f"{counts[kind]} {KINDS[kind]}")
            if kind in strokes:
                line, stroked = strokes[kind]
                points = np.vstack([stroked(corners) for corners in (*squares, *beside)])
                line.set_data(points[:, 0], points[:, 1])
        for artist in (self.guess, self.guess_line, self.guess_words):
            artist.set_visible(guess is not None)
        if guess is not None:
            height = ROWS * guess.clear
            under = ROWS + LEGEND + PER_LINE * len(KINDS) + 0.4
            self.guess.set_data([COLUMNS + 0.35, 0.4], [height, under])
            self.guess_line.set_data([0, COLUMNS], [height, height])
            self.guess_words.set(position=(1.4, under), text="you predicted: clear above this")


def key_square(kind: int) -> FloatArray:
    """Return the corners of the square beside the words of a kind [-], in squares."""
    assert kind in (LASTS, BROWN, NEVER)
    return corners_at(0.0, ROWS + LEGEND + PER_LINE * kind, SIDE)


def hatch(corners: FloatArray) -> FloatArray:
    """Return three slanting strokes through a square [squares], each with a break after it."""
    first, second, third, fourth = corners
    gap = np.array([np.nan, np.nan])
    upper = [(first + fourth) / 2, (first + second) / 2, gap]
    lower = [(third + fourth) / 2, (second + third) / 2, gap]
    return np.array([*upper, fourth, second, gap, *lower])


def cross(corners: FloatArray) -> FloatArray:
    """Return both strokes through a square [squares], each with a break after it."""
    first, second, third, fourth = corners
    gap = [np.nan, np.nan]
    return np.array([first, third, gap, second, fourth, gap])
