"""Picture of the film at the copper: thickness to scale, arrows as wide as what passes, bubbles for the gas made."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from ..matter.arrays import FloatArray
from ..matter.units import um
from .style import FAINT, INK, LINE, SHADE, plain

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

BUBBLE = 5e-7
"""Gas that one bubble stands for [m³ per m² of copper and second], the same for all bottles."""
MOST_BUBBLES = 6000
TOP, SLAB = 178.0, -24.0  # µm: end of the arrows in the bath, and of the copper
WIDEST = 17.0
"""Width of the widest arrow without water [hundredths of the picture's width]."""
ARROWS = {"peroxide": 15.0, "acid": 47.0, "copper": 82.0}
"""Where each stands [hundredths of the picture's width]."""


@dataclasses.dataclass(frozen=True)
class Film:
    """The film at one moment: thickness [m], what passes [mol/m²/s] by name, gas made [m³/m²/s].

    `widest`: what the widest arrow would carry [mol/m²/s].
    """

    thickness: float
    passing: dict[str, float]
    gas: float
    widest: float


def arrow(x: float, width: float, tail: float, tip: float) -> FloatArray:
    """Corners of an arrow upright at x, so wide [hundredths], from tail to tip [µm]."""
    half, head = width / 2, width / 2 + 3.5
    neck = tip - np.sign(tip - tail) * min(0.45 * abs(tip - tail), 10 + 0.9 * width)
    return np.array([(x - half, tail), (x + half, tail), (x + half, neck), (x + head, neck), (x, tip), (x - head, neck),
                     (x - half, neck)])


def spread(count: int) -> tuple[FloatArray, FloatArray]:
    """So many places in the strip [hundredths, µm], always the same: fewer bubbles are the first of them."""
    x, y = np.random.default_rng(4).random((2, count))
    return 1.5 + 97 * x, 4 + (TOP - 6) * y


class AtCopper:
    """The film in one Axes: what stands still, and the artists that move, in `moving` back to front."""

    def __init__(self, axes: Axes, size: float) -> None:
        self.axes = plain(axes, "")
        axes.set(xlim=(0, 100), ylim=(SLAB, 236))
        axes.set_xticks([])
        axes.set_xlabel("bubbles: the gas made\narrows: against no water", fontsize=size, color=INK)
        axes.spines["bottom"].set_visible(False)
        axes.spines["left"].set_bounds(0, 150)
        axes.set_yticks([0, 50, 100, 150], ["0", "50", "100", "150"], fontsize=size, color=INK)
        axes.set_ylabel("µm from the copper", fontsize=size, color=INK, y=0.38)
        axes.axhspan(SLAB, 0, facecolor="0.72", edgecolor="0.5", hatch="///", linewidth=0)
        axes.text(50, SLAB / 2, "copper", ha="center", va="center", fontsize=size, color=INK,
                  bbox={"facecolor": "0.9", "edgecolor": "none", "pad": 1})
        self.strip, = axes.fill([], [], color=SHADE, alpha=0.6, linewidth=0)
        self.edge, = axes.plot([], [], color=LINE, linewidth=1.6)
        self.bubbles, = axes.plot([], [], color=FAINT, marker="o", markersize=4.2, markerfacecolor="white",
                                  markeredgewidth=0.8, linestyle="")
        self.arrows = {name: axes.fill([], [], color=INK if name == "copper" else LINE, linewidth=0.5)[0]
                       for name in ARROWS}
        for name, x in ARROWS.items():
            for words, above in ((name, 31), ("out" if name == "copper" else "in", 12)):
                axes.text(x, TOP + above, words, ha="center", va="baseline", fontsize=size, color=INK)
        self.title = axes.set_title("film at the copper: 100 µm", loc="left", fontsize=size, color=INK)
        self.asked = axes.text(50, 90, "thin or thick?\nPredict first.", ha="center", va="center", fontsize=size,
                               color=INK)
        self.places = spread(MOST_BUBBLES)
        self.answers: tuple[Artist, ...] = (self.strip, self.bubbles, self.edge, *self.arrows.values())
        self.moving: tuple[Artist, ...] = (*self.answers, self.asked, self.title)

    def draw(self, film: Film, known: bool, title: str) -> None:
        """Draw a film where it is `known` [its own units], with its words above it."""
        thick, count = film.thickness / um, min(round(film.gas / BUBBLE), MOST_BUBBLES)
        self.strip.set_xy([(0, 0), (100, 0), (100, thick), (0, thick)])
        self.edge.set_data([0, 100], [thick, thick])
        self.bubbles.set_data(self.places[0][:count], self.places[1][:count])
        for name, x in ARROWS.items():
            ends = (2.0, TOP) if name == "copper" else (TOP, 2.0)
            self.arrows[name].set_xy(arrow(x, WIDEST * film.passing[name] / film.widest, *ends))
        for artist in self.answers:
            artist.set_visible(known)
        self.asked.set_visible(not known)
        self.title.set_text(title)
