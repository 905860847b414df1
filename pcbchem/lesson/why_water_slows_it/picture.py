"""Picture of what water costs: time to clear against strength, with what was seen, beside the film at the copper."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.units import hour, minute, mol_per_L, um
from ...page.picture import FAINT, INK, LINE, SHADE, plain
from .words import Mark

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.text import Text

STRENGTHS = (6.5, 0.052)
"""Ends of the strength axis [mol/L], weak to the right: the same for all bottles, so that moves compare."""
NEVER = 8 * hour
"""Where the time axis says "never" [s]: not within the 4 hours that are computed."""
TIMES = (0.8, 1.35 * NEVER)
TICKS = {
    "2 s": 2.0,
    "10 s": 10.0,
    "1 min": minute,
    "10 min": 10 * minute,
    "1 h": hour,
    "4 h": 4 * hour,
    "never": NEVER,
}
FLOOR = 2.6  # s, where the bracket of what was measured lies
HALF = (
    0.03  # half the width of the hollow bar of a guess, and its least half height, in powers of ten
)
FOOT = 5.0  # s, down to where the slider's line comes: above the words at the foot
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0}
BUBBLE = 5e-7
"""Gas that one bubble stands for [m³ per m² of copper and second], the same for all bottles."""
MOST_BUBBLES = 6000
TOP, SLAB = 178.0, -24.0  # µm: end of the arrows in the bath, and of the copper
WIDEST = 17.0
"""Width of the widest arrow without water [hundredths of the picture's width]."""
ARROWS = {"peroxide": 15.0, "acid": 47.0, "copper": 82.0}
"""Where each stands [hundredths of the picture's width]."""


@dataclasses.dataclass(frozen=True)
class Places:
    """Where the words of a curve stand, as (strength [mol/L], time [s]): the band's end there, the line's begin."""

    band: tuple[float, float]
    alone: tuple[float, float]


@dataclasses.dataclass(frozen=True, eq=False)
class Curve:
    """Times to clear over strengths: peroxide [mol/m³], low, middle and high [s], and by strength alone [s]."""

    strength: FloatArray
    low: FloatArray
    middle: FloatArray
    high: FloatArray
    alone: FloatArray
    places: Places


def shown(times: Any) -> Any:
    """Times [s] where the axis has them: infinite ones at "never"."""
    return np.minimum(times, NEVER)


def labelled(axes: Axes, size: float) -> None:
    """Axes of time against strength with their words and ticks [s, mol/L], and nothing in them."""
    plain(axes, "both")
    axes.set(xscale="log", yscale="log", xlim=STRENGTHS, ylim=TIMES)
    axes.set_xlabel("peroxide in the bath (mol/L), weaker to the right", fontsize=size, color=INK)
    axes.set_yticks(list(TICKS.values()), list(TICKS), fontsize=size, color=INK)
    strengths = (5, 2, 1, 0.5, 0.2, 0.1)
    axes.set_xticks(strengths, [f"{c:g}" for c in strengths], fontsize=size, color=INK)
    axes.minorticks_off()
    axes.set_title("time to clear the board", loc="left", fontsize=size, color=INK)


def written(
    axes: Axes,
    words: str,
    at: tuple[float, float],
    size: float,
    ha: str = "left",
    va: str = "top",
    **look: Any,
) -> Text:
    """Words at a place [mol/L, s] on a white patch."""
    return axes.text(
        *at,
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


def remembered(
    axes: Axes, measured: tuple[Mark, ...], told: tuple[Mark, ...], size: float
) -> list[Artist]:
    """What others saw [mol/m³, s]: films measured as filled squares over a bracket, what people say as open marks.

    Returns what a band may cover: it has to be drawn again over it.
    """
    made: list[Artist] = []
    x = [mark.strength / mol_per_L for mark in measured]
    made += axes.plot(x, [FLOOR, FLOOR], color=FAINT, linewidth=1.5, marker="|", markersize=9)
    for place, mark in zip(x, measured, strict=True):
        middle = float(np.sqrt(mark.low * mark.high))
        made += axes.plot(
            [place, place], [FLOOR, middle], color=FAINT, linewidth=0.8, linestyle=":"
        )
        made += axes.plot([place], [middle], color=FAINT, marker="s", markersize=6, linestyle="")
    written(
        axes,
        "measured here: two thin layers",
        (float(np.sqrt(x[0] * x[-1])), FLOOR * 1.25),
        size,
        "center",
        "bottom",
    )
    for mark in told:
        place, ends = mark.strength / mol_per_L, [mark.low, mark.high]
        open_ = {
            "color": FAINT,
            "markerfacecolor": "white",
            "markeredgecolor": FAINT,
            "markersize": 7,
        }
        if np.isfinite(mark.high):
            made += axes.plot([place, place], ends, marker="o", linewidth=1.2, **open_)  # type: ignore[arg-type]
        else:
            made += axes.plot([place], [mark.low], marker="o", linestyle="", **open_)  # type: ignore[arg-type]
            made += [
                axes.annotate(
                    "",
                    (place, 2.6 * mark.low),
                    (place, mark.low),
                    arrowprops={
                        "arrowstyle": "-|>",
                        "color": FAINT,
                        "shrinkA": 4,
                        "shrinkB": 0,
                        "mutation_scale": 12,
                    },
                )
            ]
    return made


class Strengths:
    """Time against strength in one Axes: what stands still, and the artists that move, in `moving` back to front."""

    def __init__(
        self,
        axes: Axes,
        measured: tuple[Mark, ...],
        told: tuple[Mark, ...],
        size: float,
        narrow: bool,
    ) -> None:
        self.axes, self.narrow = axes, narrow
        labelled(axes, size)
        (self.upright,) = axes.plot([], [], color=FAINT, linewidth=1.2)
        (self.pointer,) = axes.plot(
            [],
            [],
            color=INK,
            marker="^",
            markersize=8,
            linestyle="",
            clip_on=False,
            in_layout=False,
        )
        (self.band,) = axes.fill([], [], color=SHADE, linewidth=0)
        (self.alone,) = axes.plot([], [], color=INK, linewidth=1.4, linestyle=(0, (5, 3)))
        (self.middle,) = axes.plot([], [], color=LINE, linewidth=2.2)
        seen = remembered(axes, measured, told, size)
        offsets = (
            (11, 2, "left", "center"),
            (-8, 0, "right", "center"),
            (4, -28 if narrow else -20, "left", "top"),
        )
        for mark, (dx, dy, ha, va) in zip(told, offsets, strict=True):
            y = float(np.sqrt(mark.low * mark.high)) if np.isfinite(mark.high) else mark.low
            words = axes.annotate(
                mark.words,
                (mark.strength / mol_per_L, y),
                (dx, dy),
                textcoords="offset points",
                ha=ha,
                va=va,
                fontsize=size,
                color=INK,
                linespacing=1.05,
                bbox=PATCH,
                in_layout=False,
            )
            seen += [words] * (y > FOOT)
        self.alone_words = written(axes, "strength alone" if narrow else "", (1, 1), size)
        self.band_words = written(
            axes,
            "line: the middle bath\nband: 8 of 10 baths",
            (1, 1),
            size,
            "right",
            "bottom",
            multialignment="left",
        )
        (self.bar,) = axes.plot([], [], color=LINE, linewidth=4, solid_capstyle="butt")
        (self.dot,) = axes.plot(
            [], [], color=LINE, marker="o", markersize=9, markeredgecolor="white", linestyle=""
        )
        (self.guess,) = axes.fill([], [], facecolor="none", edgecolor=INK, linewidth=1.6)
        self.guess_words = axes.annotate(
            "",
            (1, 1),
            (0, 0),
            textcoords="offset points",
            fontsize=size,
            color=INK,
            bbox=PATCH,
            in_layout=False,
        )
        self.moving: tuple[Artist, ...] = (
            self.upright,
            self.pointer,
            self.band,
            *seen,
            self.alone_words,
            self.band_words,
            self.alone,
            self.middle,
            self.bar,
            self.guess,
            self.guess_words,
            self.dot,
        )
        self.answers: tuple[Artist, ...] = (
            self.band,
            self.middle,
            self.bar,
            self.dot,
            self.band_words,
            self.alone,
            self.alone_words,
        )
        """What is hidden until a prediction is made."""

    def draw(self, curve: Curve, at: int, known: bool, guess: Mark | None) -> None:
        """Draw a curve, the slider at its point number `at` [-], the answer where it is `known`, and a guess."""
        x = curve.strength / mol_per_L
        low, middle, high = shown(curve.low), shown(curve.middle), shown(curve.high)
        self.band.set_xy(np.column_stack([np.r_[x, x[::-1]], np.r_[low, high[::-1]]]))
        self.middle.set_data(x, middle)
        self.alone.set_data(x, curve.alone)
        self.upright.set_data([x[at], x[at]], [FOOT, middle[at] if known else TIMES[1]])
        self.pointer.set_data([x[at]], [TIMES[0] * 1.12])
        self.bar.set_data([x[at], x[at]], [low[at], high[at]])
        self.dot.set_data([x[at]], [middle[at]])
        self.band_words.set_position(curve.places.band)
        self.alone_words.set_position(curve.places.alone)
        if not self.narrow:
            factor = f": ×{curve.alone[at] / curve.alone[0]:.3g}" if at else ""
            self.alone_words.set_text(f"if only strength\ncounted{factor}")
        for artist in self.answers:
            artist.set_visible(known)
        for artist in (self.guess, self.guess_words):
            artist.set_visible(guess is not None)
        if guess is not None:
            place, half = guess.strength / mol_per_L, 10**HALF
            low_end, high_end = (
                min(guess.low, guess.high / half**2),
                max(guess.high, guess.low * half**2),
            )
            self.guess.set_xy(
                [
                    (place * half, low_end),
                    (place / half, low_end),
                    (place / half, high_end),
                    (place * half, high_end),
                ]
            )
            under = guess.high < curve.low[np.argmin(abs(curve.strength - guess.strength))]
            self.guess_words.set_text(guess.words)
            self.guess_words.xy = (place, low_end if under else high_end)
            self.guess_words.set_position((6, 0) if under else (-6, -2))
            self.guess_words.set(ha="left" if under else "right", va="top" if under else "bottom")


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
        axes.text(
            50,
            SLAB / 2,
            "copper",
            ha="center",
            va="center",
            fontsize=size,
            color=INK,
            bbox={"facecolor": "0.9", "edgecolor": "none", "pad": 1},
        )
        (self.strip,) = axes.fill([], [], color=SHADE, alpha=0.6, linewidth=0)
        (self.edge,) = axes.plot([], [], color=LINE, linewidth=1.6)
        (self.bubbles,) = axes.plot(
            [],
            [],
            color=FAINT,
            marker="o",
            markersize=4.2,
            markerfacecolor="white",
            markeredgewidth=0.8,
            linestyle="",
        )
        self.arrows = {
            name: axes.fill([], [], color=INK if name == "copper" else LINE, linewidth=0.5)[0]
            for name in ARROWS
        }
        for name, x in ARROWS.items():
            for words, above in ((name, 31), ("out" if name == "copper" else "in", 12)):
                axes.text(
                    x, TOP + above, words, ha="center", va="baseline", fontsize=size, color=INK
                )
        self.title = axes.set_title(
            "film at the copper: 100 µm", loc="left", fontsize=size, color=INK
        )
        self.asked = axes.text(
            50,
            90,
            "thin or thick?\nPredict first.",
            ha="center",
            va="center",
            fontsize=size,
            color=INK,
        )
        self.places = spread(MOST_BUBBLES)
        self.answers: tuple[Artist, ...] = (
            self.strip,
            self.bubbles,
            self.edge,
            *self.arrows.values(),
        )
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
