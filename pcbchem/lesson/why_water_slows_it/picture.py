"""Picture of what water costs: time to clear against strength, beside the film at the copper.

Both parts move by the same rules: `draw` puts numbers into artists that are made once, so that a
slider redraws in milliseconds; `moving` lists them back to front, `answers` those that wait for a
prediction.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.units import hour, minute, mol_per_L, um
from ...page.picture import FAINT, INK, LINE, SHADE, plain
from .words import Mark

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon
    from matplotlib.text import Annotation, Text

STRENGTHS = (6.5, 0.052)
"""Ends of the strength axis [mol/L], weak to the right: the same for all bottles."""
NEVER = 8 * hour
"""Where the time axis says "never" [s]: not within the 4 hours that are computed."""
TIMES = (0.8, 1.35 * NEVER)
"""Ends of the time axis [s]."""
TICKS = {
    "2 s": 2.0,
    "10 s": 10.0,
    "1 min": minute,
    "10 min": 10 * minute,
    "1 h": hour,
    "4 h": 4 * hour,
    "never": NEVER,
}
STRENGTH_TICKS = (5, 2, 1, 0.5, 0.2, 0.1)  # mol/L
FOOT = 5.0  # s, down to where the slider's line comes: above the words at the foot
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0}
SINGLE = {"linestyle": ""}
"""The look of a line of which the marks alone are seen."""
BUBBLE = 1e-7
"""Gas that one bubble stands for [m³ per m² of copper and second], the same for all bottles."""
MOST_BUBBLES = 6000
TOP, SLAB = 310.0, -42.0  # µm: end of the arrows in the bath, and of the copper
WIDEST = 17.0
"""Width of the widest arrow without water [hundredths of the picture's width]."""
ARROWS = {"peroxide": 15.0, "acid": 47.0, "copper": 82.0}
"""Where each stands [hundredths of the picture's width]."""


@dataclasses.dataclass(frozen=True)
class Places:
    """Where words of a curve stand [mol/L, s]: where the band's end, where the line's begin."""

    band: tuple[float, float]
    alone: tuple[float, float]


@dataclasses.dataclass(frozen=True, eq=False)
class Curve:
    """Times to clear over strengths of peroxide [mol/m³]: a band, and by strength alone [s]."""

    strength: FloatArray
    low: FloatArray
    middle: FloatArray
    high: FloatArray
    alone: FloatArray
    places: Places


def on_axis(times: Any) -> Any:
    """Return times [s] where the axis has them: infinite ones at "never"."""
    return np.minimum(times, NEVER)


def set_up_axes(axes: Axes, size: float) -> None:
    """Set up axes of time against strength [s, mol/L], with words and ticks and nothing in them."""
    plain(axes, "both")
    axes.set(xscale="log", yscale="log", xlim=STRENGTHS, ylim=TIMES)
    axes.set_xlabel("peroxide in the bath (mol/L), weaker to the right", fontsize=size, color=INK)
    axes.set_yticks(list(TICKS.values()), list(TICKS), fontsize=size, color=INK)
    labels = [f"{strength:g}" for strength in STRENGTH_TICKS]
    axes.set_xticks(STRENGTH_TICKS, labels, fontsize=size, color=INK)
    axes.minorticks_off()
    axes.set_title("time to clear the board", loc="left", fontsize=size, color=INK)


def write(
    axes: Axes,
    words: str,
    place: tuple[float, float],
    size: float,
    ha: str = "left",
    va: str = "top",
    **look: Any,
) -> Text:
    """Write words at a place [mol/L, s] on a white patch."""
    return axes.text(
        *place,
        words,
        ha=ha,
        va=va,
        fontsize=size,
        color=INK,
        bbox=PATCH,
        linespacing=1.05,
        in_layout=False,
        **look,
    )


def write_beside(
    axes: Axes, words: str, place: tuple[float, float], offset: tuple[float, float], size: float
) -> Annotation:
    """Write words on a white patch so far from a place [mol/L, s; pt]."""
    return axes.annotate(
        words,
        place,
        offset,
        textcoords="offset points",
        fontsize=size,
        color=INK,
        bbox=PATCH,
        in_layout=False,
    )


def empty_line(axes: Axes, **look: Any) -> Line2D:
    """Make a line without points: `draw` puts them in."""
    return axes.plot([], [], **look)[0]


def empty_shape(axes: Axes, **look: Any) -> Polygon:
    """Make a filled shape without corners: `draw` puts them in."""
    return axes.fill([], [], **look)[0]


def draw_trade(axes: Axes, marks: Sequence[Mark]) -> list[Artist]:
    """Draw what people say as open marks, with an arrow for "more than"; return these."""
    look: dict[str, Any] = {
        "color": FAINT,
        "marker": "o",
        "markerfacecolor": "white",
        "markeredgecolor": FAINT,
        "markersize": 7,
    }
    artists: list[Artist] = []
    for mark in marks:
        x = mark.strength / mol_per_L
        if np.isfinite(mark.high):
            artists += axes.plot([x, x], [mark.low, mark.high], linewidth=1.2, **look)
            continue
        # "more than": one mark, and an arrow that ends nowhere in particular
        artists += axes.plot([x], [mark.low], linestyle="", **look)
        arrow = {
            "arrowstyle": "-|>",
            "color": FAINT,
            "shrinkA": 4,
            "shrinkB": 0,
            "mutation_scale": 12,
        }
        artists.append(axes.annotate("", (x, 2.6 * mark.low), (x, mark.low), arrowprops=arrow))
    return artists


def write_trade(axes: Axes, marks: Sequence[Mark], size: float, narrow: bool) -> list[Artist]:
    """Write beside the open marks what people say [pt]; return what a band may cover."""
    below = -28 if narrow else -20
    # dx, dy [pt] and alignment, mark by mark, so that no words overlap
    offsets = ((11, 2, "left", "center"), (-8, 0, "right", "center"), (4, below, "left", "top"))
    artists: list[Artist] = []
    for mark, (dx, dy, ha, va) in zip(marks, offsets, strict=True):
        place = (mark.strength / mol_per_L, mark.middle)
        words = write_beside(axes, f"people say\n{mark.words}", place, (dx, dy), size)
        words.set(ha=ha, va=va, linespacing=1.05)
        # words at the foot lie below every band: they can stay in the ground
        if mark.middle > FOOT:
            artists.append(words)
    return artists


class Strengths:
    """Time against strength in one Axes, with what people say [s, mol/L]."""

    def __init__(
        self,
        axes: Axes,
        trade: Sequence[Mark],
        size: float,
        narrow: bool,
    ) -> None:
        self.axes, self.narrow = axes, narrow
        set_up_axes(axes, size)
        self.upright = empty_line(axes, color=FAINT, linewidth=1.2)
        # stands on the axis itself, half of it outside
        self.pointer = empty_line(
            axes, color=INK, **SINGLE, marker="^", markersize=8, clip_on=False, in_layout=False
        )
        self.band = empty_shape(axes, color=SHADE, linewidth=0)
        self.alone = empty_line(axes, color=INK, linewidth=1.4, linestyle=(0, (5, 3)))
        self.middle = empty_line(axes, color=LINE, linewidth=2.2)
        evidence = draw_trade(axes, trade)
        evidence += write_trade(axes, trade, size, narrow)
        # on a telephone these words stay as they are: there is no room for the factor
        self.alone_words = write(axes, "strength alone" if narrow else "", (1, 1), size)
        curve_words = "line: the middle bath\nband: 8 of 10 baths"
        self.band_words = write(
            axes, curve_words, (1, 1), size, "right", "bottom", multialignment="left"
        )
        self.bar = empty_line(axes, color=LINE, linewidth=4, solid_capstyle="butt")
        # white around it: it lies on the line
        self.dot = empty_line(
            axes, color=LINE, **SINGLE, marker="o", markersize=9, markeredgecolor="white"
        )
        # the evidence moves too, though it never changes: the band must lie under it
        self.moving: tuple[Artist, ...] = (
            self.upright,
            self.pointer,
            self.band,
            *evidence,
            self.alone_words,
            self.band_words,
            self.alone,
            self.middle,
            self.bar,
            self.dot,
        )
        # whatever is left out here tells the answer before the prediction
        self.answers: tuple[Artist, ...] = (
            self.band,
            self.middle,
            self.bar,
            self.dot,
            self.band_words,
            self.alone,
            self.alone_words,
        )

    def draw(self, curve: Curve, place: int, known: bool) -> None:
        """Draw a curve, the slider at a place of it [-], and the answer if it is `known`."""
        x = curve.strength / mol_per_L
        low, middle, high = on_axis(curve.low), on_axis(curve.middle), on_axis(curve.high)
        # along its lower edge and back along its upper one
        self.band.set_xy(np.column_stack([np.r_[x, x[::-1]], np.r_[low, high[::-1]]]))
        self.middle.set_data(x, middle)
        self.alone.set_data(x, curve.alone)
        slider = x[place]
        # up to the curve; before the prediction right through, for its length would tell the time
        self.upright.set_data([slider, slider], [FOOT, middle[place] if known else TIMES[1]])
        self.pointer.set_data([slider], [TIMES[0] * 1.12])
        self.bar.set_data([slider, slider], [low[place], high[place]])
        self.dot.set_data([slider], [middle[place]])
        self.band_words.set_position(curve.places.band)
        self.alone_words.set_position(curve.places.alone)
        if not self.narrow:
            factor = f": ×{curve.alone[place] / curve.alone[0]:.3g}" if place else ""
            self.alone_words.set_text(f"if only strength\ncounted{factor}")
        for artist in self.answers:
            artist.set_visible(known)


@dataclasses.dataclass(frozen=True)
class Film:
    """The film at one moment: thickness [m], what passes [mol/m²/s] by name, gas [m³/m²/s].

    `widest`: what the widest arrow would carry [mol/m²/s].
    """

    thickness: float
    passing: dict[str, float]
    gas: float
    widest: float


def arrow(x: float, width: float, tail: float, tip: float) -> FloatArray:
    """Return the corners of an upright arrow [hundredths], from tail to tip [µm]."""
    half, head = width / 2, width / 2 + 3.5
    # a wide arrow has a long head, but a short one is never all head
    neck = tip - np.sign(tip - tail) * min(0.45 * abs(tip - tail), 10 + 0.9 * width)
    return np.array(
        [
            (x - half, tail),
            (x + half, tail),
            (x + half, neck),
            (x + head, neck),
            (x, tip),
            (x - head, neck),
            (x - half, neck),
        ]
    )


def spread(count: int) -> tuple[FloatArray, FloatArray]:
    """Return places in the strip [hundredths, µm]: always the same, fewer are the first of them."""
    x, y = np.random.default_rng(4).random((2, count))
    # not over the edges of the strip
    return 1.5 + 97 * x, 4 + (TOP - 6) * y


def set_up_height(axes: Axes, size: float, narrow: bool) -> None:
    """Set up axes of height above the copper [µm], with the copper at their foot."""
    plain(axes, "")
    axes.set(xlim=(0, 100), ylim=(SLAB, 410))
    axes.set_xticks([])
    key = "shaded: the film, hardly moving\nwider arrow: more each second"
    if narrow:
        key = "shaded: the film\nwider arrow:\nmore each second"
    axes.set_xlabel(key, fontsize=size, color=INK)
    axes.spines["bottom"].set_visible(False)
    # the scale ends where the film can: above it stand the names of the arrows
    axes.spines["left"].set_bounds(0, 300)
    scale = [0, 100, 200, 300]
    axes.set_yticks(scale, [str(height) for height in scale], fontsize=size, color=INK)
    axes.set_ylabel("µm from the copper", fontsize=size, color=INK, y=0.43)  # middle of the scale
    axes.axhspan(SLAB, 0, facecolor="0.72", edgecolor="0.5", hatch="///", linewidth=0)
    patch = {"facecolor": "0.9", "edgecolor": "none", "pad": 1}
    axes.text(
        50, SLAB / 2, "copper", ha="center", va="center", fontsize=size, color=INK, bbox=patch
    )


def name_arrows(axes: Axes, size: float) -> None:
    """Write over each arrow what it carries, and which way [pt]."""
    for name, x in ARROWS.items():
        way = "out" if name == "copper" else "in"
        for words, above in ((name, 56), (way, 20)):
            axes.text(x, TOP + above, words, ha="center", va="baseline", fontsize=size, color=INK)


class AtCopper:
    """The film in one Axes: height above the copper [µm], with arrows and bubbles."""

    def __init__(self, axes: Axes, size: float, narrow: bool = False) -> None:
        self.axes = axes
        set_up_height(axes, size, narrow)
        self.strip = empty_shape(axes, color=SHADE, alpha=0.6, linewidth=0)
        self.edge = empty_line(axes, color=LINE, linewidth=1.6)
        self.bubbles = empty_line(
            axes,
            color=FAINT,
            **SINGLE,
            marker="o",
            markersize=4.2,
            markerfacecolor="white",
            markeredgewidth=0.8,
        )
        self.arrows = {}
        for name in ARROWS:
            colour = INK if name == "copper" else LINE
            self.arrows[name] = empty_shape(axes, color=colour, linewidth=0.5)
        # beside each other on a telephone the names would touch
        name_arrows(axes, size - 1.5 if narrow else size)
        # as wide as it gets, so that the layout holds whatever stands here later
        longest = "2.5 parts of water: film of 100 µm"
        if narrow:
            longest = longest.replace(": ", ":\n")
        self.title = axes.set_title(longest, loc="left", fontsize=size, color=INK)
        question = "thin or thick?\nPredict first."
        self.question = axes.text(
            50, 90, question, ha="center", va="center", fontsize=size, color=INK
        )
        self.places = spread(MOST_BUBBLES)
        self.answers: tuple[Artist, ...] = (
            self.strip,
            self.bubbles,
            self.edge,
            *self.arrows.values(),
        )
        self.moving: tuple[Artist, ...] = (*self.answers, self.question, self.title)

    def draw(self, film: Film, known: bool, title: str) -> None:
        """Draw a film where it is `known` [its own units], with its words above it."""
        thickness = film.thickness / um
        self.strip.set_xy([(0, 0), (100, 0), (100, thickness), (0, thickness)])
        self.edge.set_data([0, 100], [thickness, thickness])
        count = min(round(film.gas / BUBBLE), MOST_BUBBLES)
        # the first of them, always the same: more gas adds bubbles and moves none
        self.bubbles.set_data(self.places[0][:count], self.places[1][:count])
        for name, x in ARROWS.items():
            tail, tip = (2.0, TOP) if name == "copper" else (TOP, 2.0)
            width = WIDEST * film.passing[name] / film.widest
            self.arrows[name].set_xy(arrow(x, width, tail, tip))
        for artist in self.answers:
            artist.set_visible(known)
        self.question.set_visible(not known)
        self.title.set_text(title)
