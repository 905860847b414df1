"""Picture of a tent: boards that a full tray can carry, over the share of peroxide in it.

`draw` puts numbers into artists that are made once, so that a slider redraws in milliseconds;
`moving` lists them back to front, `answers` those that wait for a prediction.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

from ...page.picture import FAINT, INK, LINE, SHADE, plain
from .numbers import EQUAL, USUAL_PEROXIDE, Tent, share_of, wanted
from .words import boards_words, ratio_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from matplotlib.text import Text

MOST_BOARDS = 18.0
"""End of the axis of boards [-]: the same for all bottles."""
RATIOS = {"1 : ¼": 0.25, "1 : ½": 0.5, "1 : 1": 1.0, "1 : 2": 2.0, "1 : 4": 4.0}
"""What people pour, acid first, and the parts of peroxide to one of acid [-]."""
NARROW_RATIOS = ("1 : ½", "1 : 1", "1 : 2")
"""Those for which a telephone has room."""
PATCH = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.5}
INSIDE = {"facecolor": SHADE, "edgecolor": "none", "pad": 1}
NEAR = 0.12
"""Nearer than this to equal parts the words at the slider's dot say enough [share of the tray]."""
STEEP = 0.36
"""A tent whose top lies farther left has room for short words only on that side [share]."""
FAR, HALF = 0.2, 0.6
"""The dot farther than this from the top: room for words there. Where a steep line ends [share]."""
HALF_WORDS = 1.15
"""Half the height of two lines of words [boards]."""
CLOSE = 1.0
"""A guess nearer than this to the answer is named with it [boards]."""


@dataclasses.dataclass(frozen=True)
class Guess:
    """A reader's guess: share of peroxide and boards [-], words beside it, and fewer of them."""

    share: float
    boards: float
    words: str
    short: str


class TentPicture:
    """One Axes: a tent under two straight lines, made once and empty.

    Parameters
    ----------
    axes : Axes
        Where it is drawn.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone: fewer words.
    """

    def __init__(self, axes: Axes, size: float, narrow: bool = False) -> None:
        self.axes, self.narrow = axes, narrow
        set_up_axes(axes, size, narrow)
        self.filled = axes.fill([], [], facecolor=SHADE, edgecolor="none")[0]
        self.levels = [
            axes.plot([0, 1], [height, height], color=INK, linewidth=1.3, linestyle=style)[0]
            for height, style in ((wanted(), "--"), (1.0, ":"))
        ]
        dotted: dict[str, Any] = {"color": FAINT, "linewidth": 1.8, "linestyle": ":"}
        self.acid_on = empty_line(axes, **dotted)
        self.peroxide_on = empty_line(axes, **dotted)
        self.edge = empty_line(axes, color=LINE, linewidth=3)
        self.upright = empty_line(axes, color=FAINT, linewidth=1.2)
        self.pointer = empty_mark(axes, "^", 10, color=INK)
        self.pointer.set_clip_on(False)
        hollow: dict[str, Any] = {"color": INK, "markeredgewidth": 2}
        self.ring = empty_mark(axes, "o", 9, markerfacecolor="white", **hollow)
        self.dot = empty_mark(axes, "o", 11, color=LINE, markeredgecolor="white")
        self.guess = empty_mark(axes, "s", 12, markerfacecolor="none", **hollow)
        self.guess_words = words_at(axes, size, "left", "center", PATCH)
        self.ring_words = words_at(axes, size, "left", "bottom", PATCH)
        self.dot_words = words_at(axes, size + 1, "left", "bottom", PATCH)
        self.dot_words.set_fontweight("bold")
        self.peroxide_first = words_at(axes, size, "center", "center", INSIDE)
        self.acid_first = words_at(axes, size, "center", "center", INSIDE)
        self.acid_could = words_at(axes, size, "left", "center", PATCH)
        self.peroxide_could = words_at(axes, size, "left", "center", PATCH)
        what = "the" if narrow else "what the"
        self.acid_could.set_text(f"{what} acid\ncould carry")
        self.peroxide_could.set_text(f"{what} peroxide\ncould carry")
        self.top_words = words_at(axes, size - 1, "left", "bottom", PATCH)
        self.top_words.set_text("most copper by count,\nnot the mix to pour")
        # what waits for a prediction
        self.answers: tuple[Artist, ...] = (
            self.filled,
            self.acid_on,
            self.peroxide_on,
            self.acid_could,
            self.peroxide_could,
            self.edge,
            self.dot_words,
            self.dot,
        )
        # back to front
        self.moving: tuple[Artist, ...] = (
            self.filled,
            *self.levels,
            self.acid_on,
            self.peroxide_on,
            self.upright,
            self.pointer,
            self.acid_could,
            self.peroxide_could,
            self.top_words,
            self.peroxide_first,
            self.acid_first,
            self.edge,
            self.ring_words,
            self.guess_words,
            self.dot_words,
            self.ring,
            self.dot,
            self.guess,
        )

    def draw(self, tent: Tent, place: int, known: bool, guess: Guess | None = None) -> None:
        """Draw a tent, the slider at a place of it [-], and the answer if it is `known`."""
        share, top = tent.top
        self.filled.set_xy([(0, 0), (share, top), (1, 0)])
        self.edge.set_data([0, share, 1], [0, top, 0])
        self.acid_on.set_data([0, share], [tent.acid_only, top])
        self.peroxide_on.set_data([share, 1], [top, tent.peroxide_only])
        here, boards = float(tent.share[place]), float(tent.carried[place])
        # before the prediction right through, for its length would tell the count
        self.upright.set_data([here, here], [0, boards if known else MOST_BOARDS])
        self.pointer.set_data([here], [0.15])
        self.dot.set_data([here], [boards])
        for artist in self.answers:
            artist.set_visible(known)
        self._name_sides(tent, known, here)
        self._name_lines(tent, guess is not None)
        self.top_words.set(position=(share + 0.035, top + 0.2))
        # not under the words of the dot, of equal parts or of a guess
        is_free = abs(here - share) > FAR and not 0 < float(share_of(EQUAL)) - share < NEAR
        self.top_words.set_visible(known and guess is None and is_free)
        self._name_dot(here, boards, share)
        self._draw_ring(tent, here, known)
        self._draw_guess(guess, boards)

    def _name_sides(self, tent: Tent, known: bool, here: float) -> None:
        """Say what runs out first on each side of the top."""
        share, top = tent.top
        short = "peroxide\nruns out\nfirst" if share < STEEP else "peroxide\nruns out first"
        self.peroxide_first.set(position=(0.69 * share, 0.27 * top), text=short)
        self.acid_first.set(
            position=(share + 0.33 * (1 - share), 0.27 * top), text="the acid\nruns out first"
        )
        # on a telephone the title has to say it; on the left the dot's own words take the room
        self.peroxide_first.set_visible(known and not self.narrow and not is_low_left(here, share))
        self.acid_first.set_visible(known and not self.narrow)

    def _name_lines(self, tent: Tent, is_guessed: bool) -> None:
        """Put the words of the dotted lines on the side where nothing else is, nor a guess."""
        height = 0.91 * MOST_BOARDS
        self.acid_could.set_position((0.07 if self.narrow else 0.09, height))
        ends = MOST_BOARDS / tent.peroxide_only
        if ends < HALF:
            # a steep line leaves by the upper edge, and there is room on its right
            if is_guessed:
                height = 0.835 * MOST_BOARDS
            beside = (height + HALF_WORDS) / tent.peroxide_only + 0.01
            self.peroxide_could.set(position=(beside, height), ha="left", va="center")
            return
        # a flatter one on its left, a flat one over its end
        beside, height = 0.99, tent.peroxide_only + 0.2
        if ends < 1:
            height = (0.73 if self.narrow else 0.83) * MOST_BOARDS
            beside = height / tent.peroxide_only - 0.01
        self.peroxide_could.set(position=(beside, height), ha="right", va="bottom")

    def _name_dot(self, here: float, boards: float, top: float) -> None:
        """Put the count beside the slider's dot, outside the tent where there is room.

        Parameters
        ----------
        here, top : float
            Share of peroxide at the dot and at the top [-].
        boards : float
            Height of the dot [-].
        """
        place, ha, va = (here + 0.02, boards + 0.35), "left", "bottom"
        if is_low_left(here, top):
            place, va = (here + 0.035, boards - 0.1), "top"
        elif here < top:
            place, ha = (here - 0.02, boards + 0.35), "right"
        elif here > (0.67 if self.narrow else 0.72):
            # not over the words at the right edge
            place, ha = (1.0, boards + 1.3), "right"
        self.dot_words.set(position=place, ha=ha, va=va, text=f"{boards_words(boards)} boards")

    def _draw_ring(self, tent: Tent, here: float, known: bool) -> None:
        """Draw what equal parts carry, where the slider stands elsewhere [share].

        Before the prediction too where the question tells it: of the workshop's bottles.
        """
        equal, boards = float(share_of(EQUAL)), float(tent.carried[tent.at(EQUAL)])
        self.ring.set_data([equal], [boards])
        is_left = equal < tent.top[0]
        count = boards_words(boards) if known else f"about {boards:.0f}"
        self.ring_words.set(
            position=(equal + (-0.02 if is_left else 0.015), boards + 0.35),
            ha="right" if is_left else "left",
            text=f"{ratio_words(EQUAL)}\n{count}",
        )
        is_told = known or tent.bottle == USUAL_PEROXIDE
        self.ring.set_visible(is_told and (here != equal or not known))
        is_apart = abs(here - equal) > NEAR
        if self.narrow:
            # there the dot's words may reach as far from its left side
            is_apart = here - equal > NEAR
        self.ring_words.set_visible(is_told and (is_apart or not known))

    def _draw_guess(self, guess: Guess | None, boards: float) -> None:
        """Draw a guess as a hollow mark beside what is right [boards], or nothing."""
        self.guess.set_visible(guess is not None)
        self.guess_words.set_visible(guess is not None)
        if guess is None:
            return
        self.guess.set_data([guess.share], [guess.boards])
        beside = 0.05 if self.narrow else 0.025
        words = guess.short if self.narrow else guess.words
        self.guess_words.set(position=(guess.share + beside, guess.boards), text=words)
        if abs(guess.boards - boards) < CLOSE:
            self.guess_words.set_visible(False)
            self.dot_words.set_text(f"{guess.words}\n{self.dot_words.get_text()}")


def is_low_left(here: float, top: float) -> bool:
    """Tell whether a dot has no room for words on its left [shares of the tray]."""
    return here < top and here < 0.3


def set_up_axes(axes: Axes, size: float, narrow: bool) -> None:
    """Set up axes of boards over the share of peroxide [-], with their words."""
    plain(axes, "y")
    axes.set(xlim=(0, 1), ylim=(0, MOST_BOARDS))
    names = NARROW_RATIOS if narrow else tuple(RATIOS)
    places = [0.0, *(float(share_of(RATIOS[name])) for name in names), 1.0]
    axes.set_xticks(places, ["acid\nonly", *names, "peroxide\nonly"], fontsize=size, color=INK)
    axes.set_yticks(range(0, int(MOST_BOARDS) + 1, 2))
    axes.tick_params(axis="y", labelsize=size, labelcolor=INK)
    poured = "parts of acid : parts of peroxide, the tray always as full"
    over = "boards whose copper the tray's bath can carry away"
    planner, board = " boards' worth:\nthe planner's least", "one board,\none bath"
    if narrow:
        poured, over = poured.replace(", ", ",\n"), over.replace("copper ", "copper\n")
        planner, board = ": the\nplanner's\nleast", "one\nboard,\nits bath"
    axes.set_xlabel(poured, fontsize=size, color=INK)
    axes.set_title(over, loc="left", fontsize=size, color=INK)
    look: dict[str, Any] = {"fontsize": size, "color": INK, "va": "center", "linespacing": 1.05}
    axes.text(1.02, wanted() + (1.6 if narrow else 0.5), f"{wanted():g}{planner}", **look)
    axes.text(1.02, 1.3 if narrow else 0.6, f"1: {board}", **look)


def empty_line(axes: Axes, **look: Any) -> Line2D:
    """Make a line without points: `draw` puts them in."""
    return axes.plot([], [], **look)[0]


def empty_mark(axes: Axes, marker: Any, points: float, **look: Any) -> Line2D:
    """Make a mark of so many points [pt] without a place."""
    return axes.plot([], [], linestyle="", marker=marker, markersize=points, **look)[0]


def words_at(axes: Axes, size: float, ha: Any, va: Any, patch: dict[str, Any]) -> Text:
    """Make words without a text, on a patch [pt]: `draw` puts them in."""
    look: dict[str, Any] = {"fontsize": size, "color": INK, "linespacing": 1.05}
    return axes.text(0, 0, "", ha=ha, va=va, bbox=patch, in_layout=False, **look)
