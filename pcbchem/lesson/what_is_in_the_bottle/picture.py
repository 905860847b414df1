"""Picture of a mixture: as it is poured, and beside that what is in it, to scale.

All places are in inches, in one pair of axes over the whole picture, so that vessels and words add
up on a wide page and on a telephone.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ...page.picture import FAINT, INK, LINE

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon

POURED = {"water": "white", "acid": "#8ea9bd", "peroxide": "0.84"}
"""What fills a layer that is poured, while it is not told how much of it is water."""
INSIDE = {"H2O": "white", "HCl": LINE, "H2O2": "0.35"}
"""What fills a share of what is in a mixture, from the bottom up."""
DISSOLVED = {"water": "white", "acid": LINE, "peroxide": "0.35"}
"""What fills the share of a liquid that is not water: as inside."""
MOST_LAYERS = 3
LIP = 0.07
"""How far the rim of a vessel stands out [inch]."""
LINES_APART = 0.42
"""From the middle of one label of two lines to the next [inch]."""


@dataclasses.dataclass(frozen=True)
class Frame:
    """Where one mixture is drawn [inch].

    Parameters
    ----------
    left : float
        Left side of its first vessel [inch].
    foot, height : float
        Of both vessels [inch].
    width : float
        Of each vessel [inch].
    between : float
        From one vessel to the other [inch].
    """

    left: float
    foot: float
    height: float
    width: float
    between: float

    @property
    def second(self) -> float:
        """Left side of the second vessel [inch]."""
        return self.left + self.width + self.between


class Vessel:
    """Layers in a vessel, from the bottom up, with the vessel around them."""

    def __init__(self, axes: Axes, left: float, frame: Frame, size: float) -> None:
        self.left, self.frame = left, frame
        right, top = left + frame.width, frame.foot + frame.height
        self.layers: list[Polygon] = [
            axes.fill([], [], edgecolor=INK, linewidth=0.8)[0] for _ in range(MOST_LAYERS)
        ]
        # what is not water in a layer that is poured: the rest of it stays white
        self.dissolved: list[Polygon] = [
            axes.fill([], [], edgecolor=INK, linewidth=0.8)[0] for _ in range(MOST_LAYERS)
        ]
        # a little smaller: they stand on what is white of a layer
        look: dict[str, Any] = {
            "ha": "center",
            "va": "center",
            "fontsize": size - 0.5,
            "color": INK,
        }
        self.words = [
            axes.text(left + frame.width / 2, frame.foot, "", in_layout=False, **look)
            for _ in range(MOST_LAYERS + 1)
        ]
        rim = [left - LIP, left, left, right, right, right + LIP]
        heights = [top + LIP, top, frame.foot, frame.foot, top, top + LIP]
        (self.wall,) = axes.plot(rim, heights, color=INK, linewidth=2, solid_joinstyle="miter")
        self.moving: tuple[Artist, ...] = (
            *self.layers,
            *self.dissolved,
            self.wall,
            *self.words,
        )

    def draw(
        self,
        layers: Sequence[tuple[float, str, str]],
        instead: str = "",
        empty: bool = False,
        dissolved: Sequence[tuple[float, str]] = (),
    ) -> list[float]:
        """Draw layers, and return the middle of each [inch].

        Parameters
        ----------
        layers : sequence of tuple
            Share of the height [-], fill and words of each, from the bottom up.
        instead : str
            Words in a vessel without layers.
        empty : bool
            The vessel is dotted: nothing may be in it.
        dissolved : sequence of tuple
            Of each layer the share that is not water [-], drawn at its right, and its fill.
        """
        self.wall.set(linestyle=":" if empty else "-", color=FAINT if empty else INK)
        bottom, middles = self.frame.foot, []
        for place, layer in enumerate(self.layers):
            shown = place < len(layers)
            layer.set_visible(shown)
            self.words[place].set_visible(shown)
            self.dissolved[place].set_visible(shown and place < len(dissolved))
            if not shown:
                continue
            share, fill, words = layers[place]
            tall = share * self.frame.height
            right = self.left + self.frame.width
            layer.set_xy(corners(self.left, right, bottom, bottom + tall))
            layer.set_facecolor(fill)
            edge = right
            if place < len(dissolved):
                part, dark = dissolved[place]
                edge = right - part * self.frame.width
                self.dissolved[place].set_xy(corners(edge, right, bottom, bottom + tall))
                self.dissolved[place].set_facecolor(dark)
            # in the middle of what is white
            middle = (self.left + edge) / 2
            self.words[place].set(text=words, x=middle, y=bottom + tall / 2)
            middles.append(bottom + tall / 2)
            bottom += tall
        self.words[-1].set(text=instead, y=self.frame.foot + self.frame.height / 2)
        self.words[-1].set_visible(bool(instead))
        return middles


def corners(left: float, right: float, bottom: float, top: float) -> list[tuple[float, float]]:
    """Return the corners of a box [inch]."""
    return [(left, bottom), (right, bottom), (right, top), (left, top)]


class Beside:
    """A mixture in two vessels: as it is poured, and what is in it, with words beside that."""

    def __init__(self, axes: Axes, frame: Frame, name: str, size: float) -> None:
        self.frame = frame
        top = frame.foot + frame.height
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        self.name = name
        self.heading = axes.text(frame.left, top + 0.64, "", fontweight="bold", **look)
        self.bottles = axes.text(frame.left, top + 0.39, "", **look)
        under: dict[str, Any] = {"ha": "center", "va": "top", **look}
        middle = frame.left + frame.width / 2
        axes.text(middle, frame.foot - 0.1, "as poured", **under)
        middle = frame.second + frame.width / 2
        self.inside_words = axes.text(middle, frame.foot - 0.1, "", **under)
        arrow = {"arrowstyle": "-|>", "color": FAINT, "linewidth": 1.4}
        height = frame.foot + 0.3 * frame.height
        axes.annotate(
            "",
            (frame.second - 0.08, height),
            (frame.left + frame.width + 0.08, height),
            arrowprops=arrow,
        )
        self.poured = Vessel(axes, frame.left, frame, size)
        self.inside = Vessel(axes, frame.second, frame, size)
        (self.guess,) = axes.plot([], [], color=INK, linewidth=2, linestyle=(0, (4, 2)))
        # white under it: it may lie on the dark shares
        (self.under_guess,) = axes.plot([], [], color="white", linewidth=4.5)
        self.guess_words = axes.text(frame.second - 0.05, 0, "", ha="right", va="center", **look)
        self.leaders: list[Line2D] = [
            axes.plot([], [], color=INK, linewidth=0.9)[0] for _ in range(2)
        ]
        self.labels = [axes.text(0, 0, "", va="center", **look) for _ in range(2)]
        self.moving: tuple[Artist, ...] = (
            self.heading,
            self.bottles,
            self.inside_words,
            *self.poured.moving,
            *self.inside.moving,
            self.under_guess,
            self.guess,
            self.guess_words,
            *self.leaders,
            *self.labels,
        )

    def draw_poured(
        self,
        heading: str,
        bottles: str,
        parts: Sequence[tuple[float, str]],
        refused: bool,
        not_water: Mapping[str, float] | None = None,
    ) -> None:
        """Draw what is poured, from the bottom up.

        Parameters
        ----------
        heading, bottles : str
            Words above it.
        parts : sequence of tuple
            Parts [-] with their names.
        refused : bool
            Nothing is poured.
        not_water : dict of float, optional
            What is not water in each liquid [kg/kg], by name; None: it is not told.
        """
        self.heading.set_text(f"{self.name}   {heading}")
        self.bottles.set_text(bottles)
        self.inside_words.set_text("what would be in it" if refused else "what is in it")
        if refused:
            self.poured.draw([], "refused:\nnothing\nis poured", empty=True)
            return
        whole = sum(part for part, _ in parts)
        layers, dissolved = [], []
        for part, name in parts:
            fill = POURED[name]
            if not_water is not None:
                fill = "white"
                dissolved.append((not_water[name], DISSOLVED[name]))
            layers.append((part / whole, fill, f"{part:g} {name}"))
        self.poured.draw(layers, dissolved=dissolved)

    def draw_inside(self, shares: dict[str, float], labels: tuple[str, str]) -> None:
        """Draw the shares of what is in it [kg/kg], and words beside acid and peroxide."""
        water = f"water\n{100 * shares['H2O']:.0f} %"
        layers = [
            (shares["H2O"], INSIDE["H2O"], water),
            (shares["HCl"], INSIDE["HCl"], ""),
            (shares["H2O2"], INSIDE["H2O2"], ""),
        ]
        _, acid, peroxide = self.inside.draw(layers)
        # words of two lines need room, even where the shares are thin
        highest = self.frame.foot + self.frame.height
        upper = min(max(peroxide, acid + LINES_APART), highest)
        lower = min(acid, upper - LINES_APART)
        edge = self.frame.second + self.frame.width
        for place, (share, height) in enumerate(((acid, lower), (peroxide, upper))):
            self.leaders[place].set_data([edge, edge + 0.14], [share, height])
            self.labels[place].set(text=labels[place], x=edge + 0.2, y=height)
        for artist in (*self.leaders, *self.labels):
            artist.set_visible(True)

    def draw_question(self) -> None:
        """Draw that what is in it is not known yet."""
        self.inside.draw([], "?")
        for artist in (*self.leaders, *self.labels):
            artist.set_visible(False)

    def draw_guess(self, share: float | None) -> None:
        """Draw a guess of the share of water [kg/kg] as a dashed line; None: no guess."""
        seen = share is not None
        for artist in (self.guess, self.under_guess, self.guess_words):
            artist.set_visible(seen)
        if share is None:
            return
        height = self.frame.foot + share * self.frame.height
        ends = [self.frame.second, self.frame.second + self.frame.width]
        for line in (self.guess, self.under_guess):
            line.set_data(ends, [height, height])
        self.guess_words.set(text="your\nguess", y=height)
