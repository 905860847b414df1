"""Picture of 200 plausible baths: time with water against time without, and bars of ratios."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...common.units import minute
from ...page.picture import FAINT, INK, LINE, SHADE, plain
from .numbers import Case, bands_alone, by_chance, course, ratio_of
from .words import ends

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

MOST = (9.0, 55.0)
"""Ends of both axes of times [min]: the same for every movement, so that they compare."""
MOST_RATIO = 14.0
"""End of the axis of ratios [-]."""
BAR = 0.17
"""Half the height of a bar, of the distance between two."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0}
ALONE, CHANCE, PAIRED = "by the two bands alone", "paired by chance", "bath by bath"


class Pairs:
    """Dots in one Axes, made once and empty: `draw` puts the numbers in."""

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "both")
        axes.set(xlim=(0, MOST[0]), ylim=(0, MOST[1]))
        axes.set_xlabel("without water (min)", fontsize=size, color=INK)
        axes.set_ylabel("with 2 parts of water (min)", fontsize=size, color=INK)
        axes.tick_params(labelsize=size, labelcolor=INK)
        self.box = axes.fill([], [], color=SHADE, linewidth=0)[0]
        self.rays = [
            axes.plot([], [], color=LINE, linewidth=width, linestyle=style)[0]
            for width, style in ((1.2, ":"), (2.2, "-"), (1.2, ":"))
        ]
        self.dots = axes.plot(
            [], [], color=INK, marker="o", markersize=3.2, markeredgewidth=0, linestyle=""
        )[0]
        self.moving: tuple[Artist, ...] = (self.box, *self.rays, self.dots)

    def draw(self, case: Case, is_known: bool) -> None:
        """Draw a bath with and without water; its dots and rays only when it `is_known`."""
        band = course(case).times
        left, right = band.low[0] / minute, band.high[0] / minute
        bottom, top = band.low[1] / minute, band.high[1] / minute
        self.box.set_xy([(left, bottom), (right, bottom), (right, top), (left, top)])
        without_water, with_water = band.values / minute
        # what never clears has no place on a straight axis; the words count all of them
        is_seen = (without_water < MOST[0]) & (with_water < MOST[1])
        self.dots.set_data(without_water[is_seen], with_water[is_seen])
        self.dots.set_visible(is_known)
        for ray, ratio in zip(self.rays, ratio_of(case), strict=True):
            ray.set_data([0, MOST[0]], [0, ratio * MOST[0]])
            ray.set_visible(is_known)


class Ranges:
    """Three bars of ratios on a straight axis: all but the first wait for a prediction."""

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "x")
        axes.set(xlim=(0, MOST_RATIO), ylim=(2.45, -0.6))
        axes.set_xticks(range(0, int(MOST_RATIO) + 1, 2))
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel("times as long with the water", fontsize=size, color=INK)
        self.bars = [
            axes.fill([], [], facecolor=colour, edgecolor=edge, linewidth=1.2)[0]
            for colour, edge in (("white", FAINT), ("white", LINE), (SHADE, LINE))
        ]
        self.dot = axes.plot([], [], color=LINE, marker="o", markersize=9, linestyle="")[0]
        self.words = [
            axes.text(
                0.1,
                place - BAR - 0.06,
                "",
                fontsize=size,
                color=INK,
                va="bottom",
                in_layout=False,
                bbox=PATCH,
            )
            for place in (0, 1, 2)
        ]
        self.moving: tuple[Artist, ...] = (*self.bars, self.dot, *self.words)

    def draw(self, case: Case, is_known: bool) -> None:
        """Draw what the two bands alone allow; by chance and bath by bath when it `is_known`."""
        low, middle, high = ratio_of(case)
        named = ((ALONE, bands_alone(case)), (CHANCE, by_chance(case)), (PAIRED, (low, high)))
        for place, (name, (left, right)) in enumerate(named):
            top, bottom = place - BAR, place + BAR
            self.bars[place].set_xy([(left, top), (right, top), (right, bottom), (left, bottom)])
            self.words[place].set_text(f"{name}: {ends((left, right))}")
        self.dot.set_data([middle], [2])
        for artist in (*self.bars[1:], self.dot):
            artist.set_visible(is_known)
        if not is_known:
            for words, name in zip(self.words[1:], (CHANCE, PAIRED), strict=True):
                words.set_text(f"{name}: predict first")
