"""Picture of a used bath: heat made and lost over its temperature, its hour after, its vessels.

`draw` puts numbers into artists that are made once, so that a slider redraws in milliseconds;
`moving` lists them back to front.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.units import minute, mm, to_celsius
from ...page.picture import FAINT, INK, LINE, SHADE, plain
from ..workshop import USUAL, tide_clock
from .numbers import COLDEST, FLAT, HOTTEST, MILD, TEMPERATURES, WEAK, Hour, hour_after, stop
from .words import degrees_words, vessel_words, whole

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.text import Text

FASTEST = 3.5
"""End of the axis of heat made and lost [°C a minute]."""
LOWEST, HIGHEST = 12.0, 80.0
"""Ends of the axis of the warmest [°C]."""
BASE = 20.0
"""Where the bars stand [°C]."""
ROOM_WIDE, ROOM_HIGH = 340.0, 92.0
"""What both vessels stand in, to scale [mm]."""
TRAY_AT, OTHER_AT = 75.0, 250.0
"""Middle of the flat tray and of the other vessel, and of their bars over them [mm]."""
HALF = 26.0
"""Half the width of a bar [mm]."""
GUESS_AT, GUESS_HALF = 190.0, 12.0
"""Middle of a guess beside the bar that it is about, and half its width [mm]."""
WALL = 3.0
"""How far a vessel's wall stands over its bath [mm]."""
SCALE_BAR = 50.0
"""Length of the bar that gives the scale [mm]."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.5}


@dataclasses.dataclass(frozen=True)
class Guess:
    """A reader's guess of the warmest [K], and words beside it."""

    temperature: float
    words: str


class WarmPicture:
    """Curves, bars and vessels of one bath, made once and empty.

    Parameters
    ----------
    curves, bars, vessels : Axes
        Where they are drawn.
    size : float
        Of the words [pt].
    """

    def __init__(
        self,
        curves: Axes,
        bars: Axes,
        vessels: Axes,
        size: float,
    ) -> None:
        self.curves, self.bars, self.vessels = curves, bars, vessels
        set_up_curves(curves, size)
        set_up_bars(bars, size)
        set_up_vessels(vessels, size)
        self.warms = curves.fill([], [], facecolor=SHADE, edgecolor="none")[0]
        self.made = line_on(curves, color=LINE, linewidth=3)
        self.lost = line_on(curves, color=INK, linewidth=2, linestyle="--")
        self.tray = line_on(curves, color=FAINT, linewidth=1.5, linestyle="--")
        self.other = line_on(curves, color=LINE, linewidth=1.8, linestyle=":")
        self.upright = line_on(curves, color=INK, linewidth=1)
        self.dot = line_on(curves, linestyle="", marker="o", markersize=9, color=LINE)
        self.ring = line_on(
            curves,
            linestyle="",
            marker="o",
            markersize=10,
            markerfacecolor="white",
            color=INK,
            markeredgewidth=2,
        )
        self.made_words = words_on(curves, size, "right", "center")
        self.made_words.set_color(LINE)
        self.made_words.set_fontweight("bold")
        self.lost_words = words_on(curves, size, "right", "center")
        self.lost_words.set_fontweight("bold")
        self.tray_words = words_on(curves, size, "right", "center")
        self.other_words = words_on(curves, size - 1, "left", "center")
        self.dot_words = words_on(curves, size - 1, "left", "bottom")
        self.ring_words = words_on(curves, size, "left", "top")
        self.boxes = [bars.fill([], [], facecolor=SHADE, edgecolor="none")[0] for _ in range(2)]
        self.middles = [line_on(bars, color=LINE, linewidth=3.5) for _ in range(2)]
        self.middle_words = [words_on(bars, size + 1, "left", "center") for _ in range(2)]
        self.ends_words = [words_on(bars, size - 1, "center", "top") for _ in range(2)]
        self.stop_line = line_on(bars, color=INK, linewidth=1.2, linestyle="--")
        self.stop_words = words_on(bars, size - 1, "center", "bottom")
        for words in self.middle_words:
            words.set_fontweight("bold")
        self.guess = bars.fill([], [], facecolor="none", edgecolor=INK, linewidth=1.8)[0]
        self.guess_words = words_on(bars, size - 1, "center", "bottom")
        self.water = [vessels.fill([], [], facecolor=SHADE, edgecolor="none")[0] for _ in range(2)]
        self.glass = [line_on(vessels, color=INK, linewidth=2.2) for _ in range(2)]
        self.names = [words_on(vessels, size - 1, "center", "top") for _ in range(2)]
        # what waits for a prediction
        self.answers: tuple[Artist, ...] = (
            self.warms,
            self.made,
            self.lost,
            self.tray,
            self.other,
            self.upright,
            self.dot,
            self.made_words,
            self.lost_words,
            self.tray_words,
            self.other_words,
            self.dot_words,
            *self.boxes,
            *self.middles,
            *self.middle_words,
            *self.ends_words,
        )
        # back to front
        self.moving: tuple[Artist, ...] = (
            self.warms,
            self.tray,
            self.other,
            self.lost,
            self.made,
            self.upright,
            self.other_words,
            self.tray_words,
            self.lost_words,
            self.made_words,
            self.dot_words,
            self.ring_words,
            self.dot,
            self.ring,
            *self.boxes,
            self.stop_line,
            *self.middles,
            self.stop_words,
            self.guess,
            *self.ends_words,
            *self.middle_words,
            self.guess_words,
            *self.water,
            *self.glass,
            *self.names,
        )

    def draw(self, hour: Hour, depth: float, known: bool, guess: Guess | None = None) -> None:
        """Draw a bath at a depth [mm], and the answer if it is `known`."""
        for artist in self.answers:
            artist.set_visible(known)
        self._draw_curves(hour, depth, known)
        self._draw_bars(hour, depth, known, guess)
        self._draw_vessels(hour, depth)

    def _draw_curves(self, hour: Hour, depth: float, known: bool) -> None:
        """Draw heat made and lost over the temperature, at a depth [mm]."""
        warmth = np.asarray(to_celsius(TEMPERATURES))
        made = hour.made * minute
        lost, tray = (
            np.array([hour.lost_at(float(T), each) for T in TEMPERATURES]) * minute
            for each in (depth, FLAT)
        )
        # as warm as it can get at all
        can_be = hour.highest > TEMPERATURES
        self.made.set_data(warmth[can_be], made[can_be])
        is_weak = hour.bottles == WEAK
        other = hour_after(MILD).made * minute if is_weak else made / 2
        self.other.set_data(warmth, other)
        self.lost.set_data(warmth, lost)
        self.tray.set_data(warmth, tray)
        # a bath as shallow has a curve too near to it
        self.tray.set_visible(known and depth > FLAT)
        # between the two, where it warms
        upper = np.where(can_be, np.maximum(made, lost), lost)
        outline = np.concatenate([upper, lost[::-1]])
        self.warms.set_xy(np.column_stack([np.concatenate([warmth, warmth[::-1]]), outline]))
        out = float(hour.out.middle)
        at, pace = float(to_celsius(out)), hour.made_at(out) * minute
        at_tray = hour.lost_at(out, FLAT) * minute
        self.dot.set_data([at], [pace])
        self.upright.set_data([at, at], [0, pace])
        parts = hour.parts_at(depth)
        # where it is off the picture the live sentence alone tells it
        is_in = parts is not None and hour.made_at(parts) * minute < FASTEST - 0.5
        self.ring.set_visible(known and is_in)
        self.ring_words.set_visible(known and is_in)
        if parts is not None:
            x, y = float(to_celsius(parts)), hour.made_at(parts) * minute
            self.ring.set_data([x], [y])
            self.ring_words.set(
                position=(x + 1.2, y - 0.1), text=f"from {degrees_words(parts)} on\nit warms itself"
            )
        said = f"board out at {degrees_words(out)}"
        if depth < FLAT:
            # steep curves leave no more room
            said = f"board out\nat {degrees_words(out)}"
        else:
            said += f":\nmade {pace:.2f}, lost\nby the tray {at_tray:.2f}"
        left = max(COLDEST + 0.4, at - 7.5)
        self.dot_words.set(position=(left, max(pace + 0.3, 0.85)), text=said)
        self._name_curves(depth, warmth, made, lost, tray)
        name = "half of the\nperoxide gone"
        if is_weak:
            name = "made with\n12 % peroxide"
            # right of its short end
            self.made_words.set(position=(float(to_celsius(hour.highest)) + 0.9, 0.13), ha="left")
        self._name_beside(self.other_words, name, warmth, other, 1.15, left=False)
        # where all is steep the ring's words stand there
        self.other_words.set_visible(known and (depth >= FLAT or is_weak))
        self.tray_words.set_visible(known and depth > FLAT)

    def _name_curves(
        self, depth: float, warmth: FloatArray, made: FloatArray, lost: FloatArray, tray: FloatArray
    ) -> None:
        """Put the words of the curves where there is room for them.

        Parameters
        ----------
        depth : float
            How deep the bath lies [mm].
        warmth : array
            Temperatures [°C].
        made, lost, tray : array
            Heat made, lost at this depth and by the flat tray [°C a minute].
        """
        if depth > FLAT:
            # made left of where it is steep, lost under its low curve
            self._name_beside(self.made_words, "heat made", warmth, made, 2.9)
            height = float(np.clip(0.5 * np.interp(41.0, warmth, lost), 0.2, 0.6))
            # above the name of a short curve at the bottom
            if made[-1] < FASTEST:
                height = max(height, 0.36)
            self.lost_words.set(
                position=(HOTTEST - 0.5, height),
                text=f"heat lost, {vessel_words(depth)}",
                ha="right",
            )
        else:
            # two steep ones: each is named on its own side
            name = "flat tray" if depth == FLAT else vessel_words(depth)
            made_first = bool(np.interp(1.9, made, warmth) < np.interp(1.9, lost, warmth))
            self._name_beside(self.made_words, "heat made", warmth, made, 2.2, left=made_first)
            self._name_beside(
                self.lost_words, f"heat lost,\n{name}", warmth, lost, 1.9, left=not made_first
            )
        self._name_beside(self.tray_words, "lost by\nthe tray", warmth, tray, 0.91 * FASTEST)

    def _name_beside(
        self,
        words: Text,
        name: str,
        warmth: FloatArray,
        pace: FloatArray,
        height: float,
        left: bool = True,
    ) -> None:
        """Put the name of a rising curve on its left or right, at a height of the axis.

        Parameters
        ----------
        words : Text
            What is put there.
        name : str
            What it says.
        warmth, pace : array
            The curve [°C, °C a minute].
        height : float
            How high [°C a minute].
        left : bool
            On its left, else on its right.
        """
        at = float(np.interp(height, pace, warmth))
        x, ha = (at - 0.9, "right") if left else (at + 0.9, "left")
        words.set(position=(x, height), text=name, ha=ha)

    def _draw_bars(self, hour: Hour, depth: float, known: bool, guess: Guess | None) -> None:
        """Draw the warmest of the hour after: of the flat tray and of this depth [mm]."""
        limit = float(to_celsius(stop()))
        self.stop_line.set_data([0, ROOM_WIDE], [limit, limit])
        self.stop_words.set(
            position=((TRAY_AT + OTHER_AT) / 2, limit + 0.6),
            text=f"{degrees_words(stop())}:\ntoo warm",
        )
        for place, (middle, each) in enumerate(((TRAY_AT, FLAT), (OTHER_AT, depth))):
            peak = hour.peak(each)
            low, half, high = (
                float(to_celsius(float(end))) for end in (peak.low, peak.middle, peak.high)
            )
            left, right = middle - HALF, middle + HALF
            self.boxes[place].set_xy([(left, low), (right, low), (right, high), (left, high)])
            self.middles[place].set_data([left - 6, right + 6], [half, half])
            self.middle_words[place].set(
                position=(right + 9, half), text=f"{whole(float(peak.middle))}"
            )
            self.ends_words[place].set(
                position=(middle, low - 1.8), text=f"{low:.0f} to {high:.0f} °C"
            )
        for artists in (self.boxes, self.middles, self.middle_words, self.ends_words):
            artists[1].set_visible(known and depth != FLAT)
        self.guess.set_visible(guess is not None)
        self.guess_words.set_visible(guess is not None)
        if guess is not None:
            height = float(to_celsius(guess.temperature))
            left, right = GUESS_AT - GUESS_HALF, GUESS_AT + GUESS_HALF
            self.guess.set_xy([(left, BASE), (right, BASE), (right, height), (left, height)])
            self.guess_words.set(position=(GUESS_AT, height + 0.8), text=guess.words)

    def _draw_vessels(self, hour: Hour, depth: float) -> None:
        """Draw the flat tray and a vessel as deep [mm] that holds as much, both to scale."""
        for place, (middle, deep) in enumerate(((TRAY_AT, FLAT), (OTHER_AT, depth))):
            half = side(deep) / 2
            left, right = middle - half, middle + half
            self.water[place].set_xy([(left, 0), (right, 0), (right, deep), (left, deep)])
            top = deep + WALL
            self.glass[place].set_data([left, left, right, right], [top, 0, 0, top])
        # in the flat tray there is no other vessel
        for artists in (self.water, self.glass, self.names):
            artists[1].set_visible(depth != FLAT)
        self.names[0].set(position=(TRAY_AT, -4), text=f"flat tray,\n{vessel_words(FLAT)}")
        self.names[1].set(position=(OTHER_AT, -4), text=vessel_words(depth))


def side(depth: float) -> float:
    """Return how wide a square vessel is that holds the workshop's bath so deep [both mm]."""
    # m³ over mm of depth to mm of side
    return float(np.sqrt(USUAL * float(tide_clock().copper_area) / (depth * mm)) / mm)


def set_up_curves(axes: Axes, size: float) -> None:
    """Set up axes of heat made and lost [°C a minute] over the temperature [°C]."""
    plain(axes, "both")
    axes.set(xlim=(COLDEST, HOTTEST), ylim=(0, FASTEST))
    axes.tick_params(labelsize=size, labelcolor=INK)
    axes.set_xlabel("temperature of the bath, °C", fontsize=size, color=INK)
    axes.set_title("warmed or cooled by, °C a minute", loc="left", fontsize=size, color=INK)


def set_up_bars(axes: Axes, size: float) -> None:
    """Set up an axis of the warmest in the hour after [°C]; bars stand over their vessels [mm]."""
    plain(axes, "y")
    axes.set(xlim=(0, ROOM_WIDE), ylim=(LOWEST, HIGHEST))
    axes.set_xticks([])
    axes.tick_params(axis="y", labelsize=size, labelcolor=INK)
    axes.set_title("warmest in the hour after, °C", loc="left", fontsize=size, color=INK)


def set_up_vessels(axes: Axes, size: float) -> None:
    """Set up an axis on which one [mm] is as long upwards as sideways."""
    axes.set(xlim=(0, ROOM_WIDE), ylim=(-28, ROOM_HIGH - 28))
    # the box has the shape of its limits: so the scale is one
    axes.set_box_aspect(ROOM_HIGH / ROOM_WIDE)
    axes.set_axis_off()
    left, high = 133.0, 40.0
    axes.plot([left, left + SCALE_BAR], [high, high], color=INK, linewidth=2.5, marker="|")
    axes.text(
        left + SCALE_BAR / 2, high + 4, "5 cm", ha="center", va="bottom", fontsize=size, color=INK
    )


def line_on(axes: Axes, **look: Any) -> Line2D:
    """Make a line without points: `draw` puts them in."""
    return axes.plot([], [], **look)[0]


def words_on(axes: Axes, size: float, ha: Any, va: Any) -> Text:
    """Make words without a text [pt], on a patch: `draw` puts them in."""
    look: dict[str, Any] = {"fontsize": size, "color": INK, "linespacing": 1.05, "bbox": PATCH}
    return axes.text(0, 0, "", ha=ha, va=va, in_layout=False, **look)
