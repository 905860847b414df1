"""The two pictures: a cut through one trace, to scale both ways, and its width over minutes.

`draw` puts numbers into artists that are made once; `moving` lists them back to front.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.units import minute, mm, um
from ...page.picture import FAINT, HOLLOW, INK, LINE, SHADE, plain
from ...reaction.trace import front
from .numbers import DRAWN, MILD, OUNCES, Course, course, on_time
from .words import OUNCE_WORDS, width_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.text import Annotation

    from ...common.arrays import FloatArray

BOARD, RESIST, STRIPE = "0.82", "0.3", "0.88"
"""Greys of the board, of the resist, and of the times at which the board gets clear."""
SIDE = 136.0
"""Half of what the cut shows [µm]."""
FLOOR, TOP_OF_ALL = -176.0, 116.0
"""Ends of the cut's height, with the view from above under it [µm]."""
THIN_FLOOR, THICK_TOP = -62.0, 140.0
"""The same where there is no view from above, and foil of 2 oz [µm]."""
RESIST_THICK, BOARD_THICK = 11.0, 38.0
"""How thick resist and board are drawn [µm]: theirs alone is not to scale."""
STRIP = (-135.0, -98.0)
"""Where the view from above lies [µm]."""
HIGHEST = 0.25
"""End of the axis of widths [mm]."""
STRAIGHT = "straight: no bend\nwhere the board clears"
"""Stands at the line."""
WORDS_WIDE = 105 * um
"""A trace so wide has room for its own words [m]."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.5}


@dataclasses.dataclass(frozen=True)
class Outline:
    """The copper of a cut [µm]: corners from left to right, above the board.

    Parameters
    ----------
    x, y : array
        Across, from the middle of the trace, and up from the board [µm].
    """

    x: FloatArray
    y: FloatArray


def outline(course: Course, time: float) -> Outline:
    """Return the copper of a cut after a time in the bath [s]; without points where none is left.

    Before the copper beside the trace is gone it goes on to both edges of the picture.
    """
    half, foil = DRAWN / 2, course.foil
    share = time / float(course.clear.middle)
    if course.is_clear(time):
        share = max(share, 1.0)
    wall = front(foil, course.factor, share)
    undercut, depth = np.asarray(wall.undercut), np.asarray(wall.depth)
    # where the two fronts have met nothing is left: only below that
    stands = undercut < half
    across, up = half - undercut[stands], foil - depth[stands]
    if not stands.all():
        # their meeting point, a ridge; without points below it all is gone
        reach = foil * share
        meeting = np.sqrt(reach**2 - (course.factor * half) ** 2)
        if meeting < foil:
            across, up = np.append(0.0, across), np.append(foil - meeting, up)
    if share < 1:
        # the floor that is not etched through
        across, up = np.append(across, SIDE * um), np.append(up, up[-1])
    across, up = np.append(across, across[-1:]), np.append(up, np.zeros(across[-1:].size))
    return Outline(
        np.concatenate([-across[::-1], across]) / um, np.concatenate([up[::-1], up]) / um
    )


class Cut:
    """One Axes without axes: the cut through a trace, and under it the trace from above.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    from_above : bool
        Whether the view from above is there too.
    """

    def __init__(self, axes: Axes, size: float, from_above: bool = True) -> None:
        self.axes, self.from_above = axes, from_above
        low, high = (FLOOR, TOP_OF_ALL) if from_above else (THIN_FLOOR, THICK_TOP)
        axes.set(xlim=(-SIDE, SIDE), ylim=(low, high))
        # as many µm to an inch across as up
        axes.set_aspect("equal", anchor="N")
        axes.set_axis_off()
        look: dict[str, Any] = {"fontsize": size, "color": INK, "ha": "center", "in_layout": False}
        self.heading = axes.text(-SIDE, high - 14, "", **{**look, "ha": "left"})
        self.heading.set_text("cut through the trace, to scale")
        half = DRAWN / 2 / um
        axes.fill(*box(-SIDE, SIDE, -BOARD_THICK, 0), facecolor=BOARD, edgecolor="none")
        axes.text(0, -BOARD_THICK / 2 - 1, "board: glass and resin", va="center", **look)
        self.copper = axes.fill([], [], facecolor=SHADE, edgecolor=LINE, linewidth=2)[0]
        self.resist = axes.fill([], [], facecolor=RESIST, edgecolor=RESIST, linewidth=1.2)[0]
        self.resist_words = axes.text(0, 0, "resist", va="center", **look)
        self.drawn = arrow(axes, half)
        self.drawn_words = axes.text(0, 0, "", va="bottom", **look)
        self.drawn_words.set_text(f"drawn {width_words(DRAWN, 2)} mm")
        self.left = arrow(axes, 0.0, LINE)
        self.left_words = axes.text(0, 0, "", va="center", **{**look, "color": LINE})
        self.left_words.set(fontweight="bold")
        self.whole = axes.text(0, 0, "", va="center", **look)
        self.moving: tuple[Artist, ...] = (
            self.copper,
            self.resist,
            self.resist_words,
            self.drawn,
            self.drawn_words,
            self.left,
            self.left_words,
            self.whole,
            self.heading,
        )
        if from_above:
            self._add_view(look)

    def _add_view(self, look: dict[str, Any]) -> None:
        """Make the trace as it is seen from above, without resist."""
        axes, (low, high) = self.axes, STRIP
        words = axes.text(-SIDE, high + 7, "", va="bottom", **{**look, "ha": "left"})
        words.set_text("the same from above, resist off")
        self.ground = axes.fill(*box(-SIDE, SIDE, low, high), facecolor=BOARD, edgecolor="none")[0]
        self.foot = axes.fill([], [], facecolor=SHADE, edgecolor=LINE, linewidth=1)[0]
        self.crest = axes.fill([], [], facecolor=LINE, edgecolor=LINE, linewidth=1)[0]
        self.foot_arrow = arrow(axes, 0.0)
        self.foot_words = axes.text(0, low - 16, "", va="top", **look)
        self.view_words = words
        self.moving = (
            *self.moving,
            words,
            self.ground,
            self.foot,
            self.crest,
            self.foot_arrow,
            self.foot_words,
        )

    def draw(self, course: Course, time: float, left: float) -> None:
        """Draw the trace after a time in the bath [s], so wide under the resist [m]."""
        copper, foil, half = outline(course, time), course.foil / um, DRAWN / 2 / um
        self.copper.set_xy(np.column_stack([copper.x, copper.y]))
        self.copper.set_visible(copper.x.size > 0)
        is_lost = bool(left <= 0)
        self.resist.set_xy(np.transpose(box(-half, half, foil, foil + RESIST_THICK)))
        # hollow where it holds on to nothing
        self.resist.set_facecolor("white" if is_lost else RESIST)
        self.resist_words.set(
            position=(0, foil + RESIST_THICK / 2 - 0.5), color=INK if is_lost else "white"
        )
        stretch(self.drawn, half, foil + RESIST_THICK + 9)
        self.drawn_words.set_position((0, foil + RESIST_THICK + 14))
        self.whole.set_visible(False)
        self.left.set_visible(not is_lost)
        stretch(self.left, left / 2 / um, foil - 6)
        # thin copper, or a narrow trace, has no room for words inside: they stand under the board
        inside = foil > 25 and left > WORDS_WIDE
        words = "lost" if is_lost else f"left {width_words(left)} mm"
        self.left_words.set(position=(0, 14 if inside else -BOARD_THICK - 10), text=words)
        if is_lost:
            self.left_words.set_position((0, 14))
        if self.from_above:
            self._draw_view(course, time, left)

    def _draw_view(self, course: Course, time: float, left: float) -> None:
        """Draw it from above: crest, foot, and copper all over where the board is not clear."""
        low, high = STRIP
        is_clear = course.is_clear(time)
        foot, crest = course.foot(time) / 2 / um, left / 2 / um
        wide = foot if is_clear else SIDE
        self.foot.set_xy(np.transpose(box(-wide, wide, low, high)))
        self.foot.set_visible(foot > 0)
        self.crest.set_xy(np.transpose(box(-crest, crest, low, high)))
        self.crest.set_visible(left > 0)
        stretch(self.foot_arrow, foot, low - 9)
        self.foot_arrow.set_visible(is_clear and foot > 0)
        words = "copper still covers the board"
        if is_clear:
            words = f"its foot: {width_words(course.foot(time), 2)} mm" if foot > 0 else "all gone"
        self.foot_words.set_text(words)

    def empty(self, course: Course) -> None:
        """Draw the copper whole, under its resist: nothing is etched yet."""
        self.draw(course, 0.0, DRAWN)
        self.left.set_visible(False)
        self.left_words.set_visible(False)
        self.whole.set(
            position=(0, course.foil / um / 2), text=f"copper, {course.foil / um:.0f} µm"
        )
        self.whole.set_visible(True)
        if self.from_above:
            for artist in (self.ground, self.foot, self.crest, self.foot_arrow):
                artist.set_visible(False)
            self.foot_words.set_text("")
            self.view_words.set_visible(False)

    def fill(self) -> None:
        """Let all be seen again that `empty` hides."""
        self.left_words.set_visible(True)
        if self.from_above:
            self.ground.set_visible(True)
            self.view_words.set_visible(True)


class WidthLine:
    """One Axes: narrowest width over minutes in the bath, a straight line with its band.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    longest : float
        End of the axis of time [min].
    """

    def __init__(self, axes: Axes, size: float, longest: float) -> None:
        self.axes, self.longest = plain(axes, "both"), longest
        axes.set(xlim=(0, longest), ylim=(0, HIGHEST))
        axes.set_xticks(range(0, int(longest) + 1, 2))
        axes.set_yticks([0, 0.05, 0.10, 0.15, 0.20], ["0", "0.05", "0.10", "0.15", "0.20"])
        axes.tick_params(labelsize=size, labelcolor=INK)
        axes.set_xlabel("minutes in the bath", fontsize=size, color=INK)
        axes.set_title("narrowest width left (mm)", loc="left", fontsize=size, color=INK)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        self.clear = axes.fill([], [], facecolor=STRIPE, edgecolor="none")[0]
        self.clear_words = axes.text(0, 0.006, "", rotation=90, ha="center", va="bottom", **look)
        self.clear_words.set_bbox({"facecolor": STRIPE, "edgecolor": "none", "pad": 0.5})
        self.band = axes.fill([], [], facecolor=SHADE, edgecolor="none", alpha=0.85)[0]
        self.line = axes.plot([], [], color=LINE, linewidth=2.5)[0]
        self.straight = axes.text(0, 0, "", va="center", bbox=PATCH, **look)
        self.leader = axes.plot([], [], color=FAINT, linewidth=1.2)[0]
        self.band_words = axes.text(0, 0, "8 of 10", ha="right", va="center", **look)
        self.stem = axes.plot([], [], color=FAINT, linewidth=1.2)[0]
        self.pointer = mark(axes, "^", 9, color=INK)
        self.pointer.set_clip_on(False)
        self.dot = mark(axes, "o", 11, color=LINE, markeredgecolor="white")
        self.dot.set_clip_on(False)
        self.guess = mark(axes, "s", 11, markerfacecolor="none", color=INK, markeredgewidth=2)
        self.guess_words = axes.text(0, 0, "", va="center", bbox=PATCH, **look)
        self.moving: tuple[Artist, ...] = (
            self.clear,
            self.band,
            self.line,
            self.leader,
            self.stem,
            self.clear_words,
            self.band_words,
            self.straight,
            self.guess_words,
            self.pointer,
            self.dot,
            self.guess,
        )

    def draw_line(self, course: Course) -> None:
        """Draw what the bath leaves, from the first minute to the last on the axis."""
        times = np.linspace(0, self.longest, 121)
        widths = [course.left(float(time) * minute) for time in times]
        middle, low, high = (
            np.array([float(getattr(width, end)) for width in widths]) / mm
            for end in ("middle", "low", "high")
        )
        self.line.set_data(times, middle)
        self.band.set_xy(
            np.column_stack([np.append(times, times[::-1]), np.append(low, high[::-1])])
        )

        self._name(course)

    def _name(self, course: Course) -> None:
        """Put the words of line and band where there is room, whatever the bath."""
        pace = float(course.pace.middle) * minute / mm
        drawn = DRAWN / mm
        # in the band, under the line
        end = min(self.longest, (drawn - 0.07) / pace) - 0.2
        middle, low = (
            float(getattr(course.left(end * minute), part)) for part in ("middle", "low")
        )
        self.band_words.set_position((end, (0.45 * middle + 0.55 * low) / mm))
        # a steep line leaves room on its right, a flat one under it
        is_steep = drawn - pace * self.longest < 0.1
        self.straight.set_text(STRAIGHT)
        if is_steep:
            x, y = 0.99 * self.longest, 0.231
            at = 0.55 * drawn / pace
            start = (max(at + 0.3, 0.6 * self.longest), 0.213)
            self.straight.set(position=(x, y), ha="right")
        else:
            x, y, at = 0.08 * self.longest, 0.09, 0.3 * self.longest
            start = (0.25 * self.longest, 0.107)
            self.straight.set(position=(x, y), ha="left")
        self.leader.set_data([start[0], at], [start[1], drawn - pace * at])

    def draw_clear(self, course: Course) -> None:
        """Draw the stripe of times at which the board gets clear, or say that it lies beyond."""
        low, high = float(course.clear.low) / minute, float(course.clear.high) / minute
        is_beyond = low > self.longest
        self.clear.set_xy(np.transpose(box(low, min(high, self.longest), 0, HIGHEST)))
        self.clear.set_visible(not is_beyond)
        self.clear_words.set(
            position=((low + min(high, self.longest)) / 2, 0.006),
            text="board clear",
            rotation=90,
            ha="center",
        )
        if is_beyond:
            self.clear_words.set(
                position=(0.97 * self.longest, 0.015),
                text=f"board clear: {low:.0f} to {high:.0f} min, beyond",
                rotation=0,
                ha="right",
            )

    def draw_slider(self, time: float, width: float) -> None:
        """Draw where the slider stands [min], and the width there [m]."""
        self.stem.set_data([time, time], [0, width / mm])
        self.pointer.set_data([time], [0])
        self.dot.set_data([time], [width / mm])

    def draw_guess(self, time: float, width: float | None, words: str) -> None:
        """Draw a guess as a hollow mark [min, m], or none."""
        self.guess.set_visible(width is not None)
        self.guess_words.set_visible(width is not None)
        if width is None:
            return
        self.guess.set_data([time], [width / mm])
        # low ones have room on their left, under the line
        if width / mm < 0.16:
            self.guess_words.set(position=(time - 0.4, width / mm), ha="right", text=words)
        else:
            self.guess_words.set(position=(time + 0.4, width / mm), ha="left", text=words)

    def show(self, is_answered: bool) -> None:
        """Show all that waits for a prediction, or hide it."""
        for artist in self.moving:
            artist.set_visible(is_answered)


class FoilLine(WidthLine):
    """The same line with a stop where each foil is clear, and a dot for one that stays in longer.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    longest : float
        End of the axis of time [min].
    """

    def __init__(self, axes: Axes, size: float, longest: float) -> None:
        super().__init__(axes, size, longest)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        self.stops = {weight: mark(axes, "s", 10, **HOLLOW) for weight in OUNCES}
        self.stop_words = {
            weight: axes.text(0, 0, "", va="bottom", bbox=PATCH, **look) for weight in OUNCES
        }
        self.dot_words = axes.text(0, 0, "", va="top", bbox=PATCH, **{**look, "color": LINE})
        self.dot_words.set(fontweight="bold", ha="left")
        # the dot has words of its own, and the stripe would be that of one foil
        for artist in (self.straight, self.stem, self.clear, self.clear_words):
            artist.set_visible(False)
        self.moving = (
            self.band,
            self.line,
            self.band_words,
            self.leader,
            *self.stop_words.values(),
            self.dot_words,
            *self.stops.values(),
            self.pointer,
            self.dot,
        )

    def draw_stops(self) -> None:
        """Draw each foil the second that it is clear."""
        for weight in OUNCES:
            time = float(course(MILD, weight).clear.middle) / minute
            width = float(on_time(weight).middle)
            self.stops[weight].set_data([time], [width / mm])
            self.stop_words[weight].set(
                position=(time + 0.3, width / mm + 0.007),
                text=f"{OUNCE_WORDS[weight]} clear: {width_words(width)}",
            )

    def draw_dot(self, ounces: float, late: float) -> None:
        """Draw a foil [oz/ft²] that is left in too long [min]."""
        foil = course(MILD, ounces)
        time, width = (
            float(foil.clear.middle) / minute + late,
            float(foil.late(late * minute).middle),
        )
        self.draw_slider(time, width)
        words = f"{OUNCE_WORDS[ounces]}, {late:g} min too long: {width_words(width)}"
        if late == 0:
            words = f"{OUNCE_WORDS[ounces]} to the second: {width_words(width)}"
        if time < self.longest / 2:
            # under the line, at its left
            self.dot_words.set(position=(0.2, 0.053), text=words.replace(": ", ":\n"), ha="left")
            self.leader.set_data([0.2 * self.longest, time], [0.055, width / mm])
        else:
            self.dot_words.set(position=(0.99 * self.longest, 0.243), text=words, ha="right")
            self.leader.set_data([time, time], [0.225, width / mm])


def box(left: float, right: float, low: float, high: float) -> tuple[list[float], list[float]]:
    """Return the corners of a box, across and up [units of the axes]."""
    return [left, right, right, left], [low, low, high, high]


def arrow(axes: Axes, half: float, colour: str = INK) -> Annotation:
    """Make a line with an arrow at each end, so wide on each side of the middle [µm]."""
    look = {"arrowstyle": "<->", "color": colour, "linewidth": 1.4, "shrinkA": 0, "shrinkB": 0}
    return axes.annotate("", xy=(-half, 0), xytext=(half, 0), arrowprops=look)


def stretch(line: Annotation, half: float, height: float) -> None:
    """Put both ends of an arrow as far from the middle, at a height [µm]."""
    line.xy = (-half, height)
    line.set_position((half, height))


def mark(axes: Axes, marker: Any, points: float, **look: Any) -> Line2D:
    """Make a mark of so many points [pt] without a place."""
    return axes.plot([], [], linestyle="", marker=marker, markersize=points, **look)[0]
