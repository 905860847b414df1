"""Picture of one hill walked from two ends: temperature against strength in the jug.

The line of the jug is a part of the curve of all mixtures of two bottles: acid into water walks it
from the left foot, water into acid from the right one. `draw` puts numbers into artists that are
made once, so that a slider redraws in milliseconds.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.units import mol_per_L, to_celsius
from ...page.picture import FAINT, HOLLOW, INK, LINE, plain

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.text import Text

MOST = 12.7
"""End of the axis of strength [mol/L]: the strongest acid stands just before it."""
COLDEST, WARMEST, WARMEST_NARROW = 16.5, 45.5, 51.0
"""Ends of the axis of temperature [°C]: on a telephone more words stand over the hill."""
LINE_HEIGHT = 1.7
"""Of a line of words [°C]."""
HALF, HALF_NARROW = 1.3, 2.2
"""Half the width of the words under the hill, wide and narrow [mol/L]."""
FEET = 18.7
"""Under this stand the names of both feet [°C]."""
TICKS = (20, 25, 30, 35, 40)
WORDS_OF_RINGS = 41.0
"""Where the words of a guess about the feet stand [°C]."""
REGION = "0.91"
"""Grey of the strengths that are refused."""
SINGLE: dict[str, Any] = {"linestyle": ""}
"""The look of a line of which the marks alone are seen."""
UNDER = ((6.4, 27.2), (4.3, 23.2))
"""Where the words of both jugs stand under the hill, the dashed way and the solid one
[mol/L, °C]."""
UNDER_NARROW = ((6.0, 27.2), (6.0, 23.2))
ROUND, SQUARE = "o", "s"
"""Marks of a jug, and of where both end."""


@dataclasses.dataclass(frozen=True, eq=False)
class Walk:
    """A hill as it is drawn: strengths [mol/m³], temperatures [K], and words beside them.

    Parameters
    ----------
    up, over : tuple of array
        Strength [mol/m³] and temperature [K] along each way, from its start to the end of both.
    jugs : tuple
        Where the jug of each way stands [mol/m³, K].
    top : tuple of float
        The warmest mixture [mol/m³, K].
    feet : tuple of str
        Names of both feet.
    up_words, over_words, end_words, top_words : str
        What stands at each.
    """

    up: tuple[FloatArray, FloatArray]
    over: tuple[FloatArray, FloatArray]
    jugs: tuple[tuple[float, float], tuple[float, float]]
    top: tuple[float, float]
    feet: tuple[str, str]
    up_words: str
    over_words: str
    end_words: str
    top_words: str


@dataclasses.dataclass(frozen=True)
class Guess:
    """A hollow mark of what somebody predicted [mol/m³, K], and the words at it."""

    places: tuple[tuple[float, float], ...]
    words: str
    mark: str = SQUARE


def on_axes(strength: Any, T: Any) -> tuple[Any, Any]:
    """Return strength [mol/m³] and temperature [K] in the units of the axes [mol/L, °C]."""
    return np.asarray(strength) / mol_per_L, np.asarray(to_celsius(T))


class HillPicture:
    """One hill in one Axes, with a jug on each of its sides.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    limit : float
        From here on a strength is marked [mol/m³].
    over_words : str
        What stands there.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone.
    """

    def __init__(
        self, axes: Axes, limit: float, over_words: str, size: float, narrow: bool
    ) -> None:
        self.axes = plain(axes, "")
        self.limit, self.warmest = limit / mol_per_L, WARMEST_NARROW if narrow else WARMEST
        self.narrow = narrow
        axes.set(xlim=(-0.25, MOST), ylim=(COLDEST, self.warmest))
        axes.set_xticks(range(0, 13, 2), map(str, range(0, 13, 2)), fontsize=size, color=INK)
        axes.set_xlabel("acid in the jug (mol/L)", fontsize=size, color=INK)
        axes.set_title("how warm the jug is", loc="left", fontsize=size, color=INK)
        # its words stand in it: grey alone says nothing
        axes.axvspan(self.limit, MOST, facecolor=REGION, linewidth=0)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        patch = {"facecolor": REGION, "edgecolor": "none", "pad": 1.5}
        words = over_words.replace(" ", "\u00a0", 1)
        if narrow:
            # no room for the second line beside a guess
            words = words.split("\n")[0].replace(": ", ":\n")
        axes.text(
            MOST - 0.1,
            self.warmest - 0.5,
            words,
            ha="right",
            va="top",
            bbox=patch,
            linespacing=1.1,
            **look,
        )
        self._set_up_temperatures(size)
        self.feet = [axes.text(0, FEET, "", va="top", **look) for _ in range(2)]
        self.marks = line(axes, color=INK, **SINGLE, marker="|", markersize=12, markeredgewidth=2)
        self.over = line(axes, color=INK, linewidth=2.4, linestyle=(0, (4, 2)))
        self.up = line(axes, color=LINE, linewidth=4)
        # which way each is walked
        self.heads = [line(axes, color=colour, **SINGLE, markersize=11) for colour in (LINE, INK)]
        edge: dict[str, Any] = {"markeredgecolor": "white", "markeredgewidth": 1.2}
        self.jugs = [
            line(axes, color=colour, **SINGLE, marker=ROUND, markersize=13, **edge)
            for colour in (LINE, INK)
        ]
        self.end = line(axes, **SINGLE, marker=SQUARE, markersize=12, **HOLLOW)
        self.guess = line(
            axes, color=INK, **SINGLE, markerfacecolor="none", markersize=19, markeredgewidth=1.6
        )
        beside: dict[str, Any] = {**look, "va": "top", "linespacing": 1.05}
        self.up_words, self.over_words = (
            axes.text(0, 0, "", **{**beside, "color": colour}, ha="center")
            for colour in (LINE, INK)
        )
        self.end_words = axes.text(0, 0, "", **beside, fontweight="bold")
        self.pointers = [line(axes, color=FAINT, linewidth=1) for _ in range(3)]
        self.top_words = axes.text(0, 0, "", ha="center", va="bottom", linespacing=1.05, **look)
        self.guess_words = axes.text(0, 0, "", va="center", linespacing=1.05, **look)
        self.question = axes.text(
            3.0, 31, "?", ha="center", va="center", **{**look, "fontsize": 2.4 * size}
        )
        # back to front; whatever is not in `asked` tells the answer before the prediction
        self.answers: tuple[Artist, ...] = (
            *self.pointers,
            self.over,
            self.up,
            *self.heads,
            self.end,
            self.guess,
            self.over_words,
            self.up_words,
            self.end_words,
            self.top_words,
            self.guess_words,
            *reversed(self.jugs),
        )
        self.moving: tuple[Artist, ...] = (*self.feet, self.marks, self.question, *self.answers)

    def _set_up_temperatures(self, size: float) -> None:
        """Write the scale of temperatures as words that can wait: its ends tell how hot it gets."""
        # true ticks keep the room for them, and are never seen
        labels = [f"{tick} °C" for tick in TICKS]
        self.axes.set_yticks(TICKS, labels, fontsize=size, color="none")
        self.axes.tick_params(axis="y", length=0)
        across = self.axes.get_yaxis_transform()
        self.temperatures = [
            self.axes.text(
                -0.012,
                tick,
                label,
                transform=across,
                ha="right",
                va="center",
                fontsize=size,
                color=INK,
                in_layout=False,
                visible=False,
            )
            for tick, label in zip(TICKS, labels, strict=True)
        ]

    def show_temperatures(self, known: bool) -> bool:
        """Show the scale of temperatures where they are `known`; return whether that is new."""
        is_new = self.temperatures[0].get_visible() != known
        for words in self.temperatures:
            words.set_visible(known)
        return is_new

    def draw(self, walk: Walk, known: bool, guess: Guess | None = None) -> None:
        """Draw a hill where it is `known`, else its feet alone; and a guess in its own mark."""
        self.up.set_data(*on_axes(*walk.up))
        self.over.set_data(*on_axes(*walk.over))
        starts = [on_axes(strength[0], T[0]) for strength, T in (walk.up, walk.over)]
        self.marks.set_data([x for x, _ in starts], [y for _, y in starts])
        self._name_feet(walk.feet, float(starts[1][0]))
        for head, way, share in zip(self.heads, (walk.up, walk.over), (0.6, 0.13), strict=True):
            self._head(head, on_axes(*way), share)
        end = on_axes(walk.up[0][-1], walk.up[1][-1])
        self.end.set_data([end[0]], [end[1]])
        places = [on_axes(*jug) for jug in walk.jugs]
        for mark, place in zip(self.jugs, places, strict=True):
            mark.set_data([place[0]], [place[1]])
        over, up = UNDER_NARROW if self.narrow else UNDER
        self._put(self.over_words, walk.over_words, over)
        self._put(self.up_words, walk.up_words, up)
        self._point(self.pointers[0], self.over_words, over, places[1])
        self._point(self.pointers[1], self.up_words, up, places[0])
        lines = 1 + walk.end_words.count("\n")
        foot = max(float(end[1]) + 4.4, 28.0)
        self._put(self.end_words, walk.end_words, (0.0, foot + lines * LINE_HEIGHT))
        self.pointers[2].set_data([1.6, end[0]], [foot - 0.4, end[1]])
        x, y = on_axes(*walk.top)
        self.top_words.set(text=walk.top_words, x=self._inside(float(x)), y=float(y) + 0.9)
        self._draw_guess(guess)
        for artist in self.answers:
            artist.set_visible(known)
        self.question.set_visible(not known)

    def _put(self, words: Text, text: str, place: tuple[float, float]) -> None:
        """Write words with their upper edge at a place [mol/L, °C]."""
        words.set(text=text, x=place[0], y=place[1])

    def _point(self, pointer: Line2D, text: Text, words: tuple[float, float], target: Any) -> None:
        """Draw a thin line from the edge of words under the hill to a jug [mol/L, °C]."""
        if not text.get_text():
            pointer.set_data([], [])
            return
        x, top = words
        half = HALF_NARROW if self.narrow else HALF
        if target[1] > top and abs(target[0] - x) < half:
            start = x, top + 0.2
        elif target[0] > x:
            start = x + half, top - LINE_HEIGHT
        else:
            start = x - half, top - LINE_HEIGHT
        pointer.set_data([start[0], target[0]], [start[1], target[1]])

    def _head(self, head: Line2D, way: Any, share: float) -> None:
        """Put an arrow's head onto a way [mol/L, °C], after a share of its points [-]."""
        x, y = way
        place = int(share * (len(x) - 1))
        ends = self.axes.transData.transform([(x[i], y[i]) for i in (place, place + 1)])
        across, up = ends[1] - ends[0]
        # a triangle points upwards by itself
        triangle: Any = (3, 0, float(np.degrees(np.arctan2(up, across)) - 90))
        head.set_marker(triangle)
        head.set_data([x[place]], [y[place]])

    def _inside(self, x: float) -> float:
        """Return where words around x [mol/L] stand clear of the words at the left."""
        return max(x, 6.2) if self.narrow else x

    def _name_feet(self, names: tuple[str, str], right: float) -> None:
        """Write the names of both feet under them; the right one stands at `right` [mol/L]."""
        left, other = self.feet
        left.set(text=names[0], x=-0.15, ha="left")
        # of a mild acid beside its foot, or both names would touch
        is_near = right < MOST / 2
        other.set(text=names[1], x=right - (0.2 if is_near else -0.3))
        other.set_horizontalalignment("left" if is_near else "right")

    def _draw_guess(self, guess: Guess | None) -> None:
        """Draw hollow marks where somebody guessed; above the axes they stand at its edge."""
        if guess is None:
            self.guess.set_data([], [])
            self.guess_words.set_text("")
            return
        x, y = zip(*(on_axes(*place) for place in guess.places), strict=True)
        edge = self.warmest - (7.5 if self.narrow else 2.5)
        is_above = max(y) > edge
        self.guess.set_marker("^" if is_above else guess.mark)
        # a ring leaves the names of the feet free
        self.guess.set_markersize(15 if guess.mark == ROUND else 19)
        self.guess.set_data(x, np.minimum(y, edge))
        place = float(x[0]) + 0.6, min(float(y[0]), edge)
        if guess.mark == ROUND:
            # rings around the feet: there is no room for words beside them
            place = 0.0, WORDS_OF_RINGS
        self.guess_words.set(text=guess.words, x=place[0], y=place[1])


def line(axes: Axes, **look: Any) -> Line2D:
    """Return a line without points."""
    (empty,) = axes.plot([], [], **look)
    return empty
