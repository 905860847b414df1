"""The third panel of page 07: a made-up board from above, and with light behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ...page.picture import INK, Drawing, Words, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .inspection import COLUMNS, FIELD, HEIGHT, PIXEL, WIDTH, Board, made_up
from .texts import read_inspection
from .words import WAITS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

FIRST_BOARD, LAST_BOARD, START_BOARD = 1, 20, 1
"""Numbers of the boards [-], and which one stands there first."""
HIDDEN, SHOWN = "hidden", "shown"
"""Keys of the choice whether faults are shown."""
# board, line of a field, haze, copper: red, green, blue
FROM_ABOVE = ((196, 191, 148), (174, 169, 128), (201, 186, 138), (184, 98, 48))
LIGHT_BEHIND = ((250, 240, 190), (222, 212, 166), (139, 106, 60), (26, 23, 18))
VIEWS = {"from above, resist off": FROM_ABOVE, "light behind the board": LIGHT_BEHIND}
"""The two views, and the colours of each."""
MARKS = {"cut": ("o", "○"), "bridge": ("s", "□"), "haze": ("D", "◇")}
"""What is drawn around each fault, and how a title shows it: a word would lie on a trace."""
AROUND = 26.0
"""How large it is [pt]."""
ARTICLES = "a cut, a bridge and a haze"
TITLE = "Three faults on a board: where?"
"""What stands there before."""


def inspection_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of a made-up board with three faults to find.

    Parameters
    ----------
    prediction : Prediction, optional
        The board waits for it. None: it is shown.

    Returns
    -------
    Panel
        Number of the board, and whether its faults are shown.
    """

    def show(
        drawing: Drawing, board: float, faults: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        if predicted is None:
            drawing.parts["views"].empty()
            drawing.parts["title"].set_text(TITLE)
            return PanelWords(WAITS, f"{TITLE} Two empty frames. {WAITS}")
        number, are_shown = int(board), faults == SHOWN
        drawing.parts["views"].draw(made_up(number), are_shown)
        words = words_of(number, made_up(number), are_shown)
        title = words.title
        if drawing.parts["narrow"]:
            title = title.replace(": ", ":\n", 1)
        drawing.parts["title"].set_text(title)
        return PanelWords(words.readout, words.alt, notes=as_html(read_inspection()))

    controls: list[Slider | Choice] = [
        Slider("board", "Board", "", FIRST_BOARD, LAST_BOARD, 1, START_BOARD),
        Choice("faults", "Faults", {HIDDEN: "keep them hidden", SHOWN: "show them"}, HIDDEN),
    ]
    return Panel("Find three faults", controls, build, show, prediction=prediction, replies=False)


def words_of(number: int, board: Board, are_shown: bool) -> Words:
    """Say which faults a board has, and their fields where they are shown.

    Parameters
    ----------
    number : int
        Of the board [-].
    board : Board
        With its faults.
    are_shown : bool
        Whether their fields may be told.
    """
    title = f"Board {number}: {ARTICLES}. Where?"
    readout = f"Board {number}: {ARTICLES}. Look, decide, then show them. This board is made up."
    if are_shown:
        listed = ", ".join(f"{name} in {field}" for name, field in board.fields.items())
        marked = ", ".join(
            f"{MARKS[name][1]} {name} in {field}" for name, field in board.fields.items()
        )
        title = f"Board {number}: {marked}"
        readout = f"Board {number}: {listed}. This board is made up."
    alt = (
        f"{title}{'' if title.endswith('?') else '.'} A board {WIDTH:g} × {HEIGHT:g} mm with eight "
        "traces, twice: from above with the resist off, and with light behind it. Fields A to E "
        f"across, 1 to 4 down. {readout} Who cannot see it: the table below says what each fault "
        "is."
    )
    return Words(title, readout, alt)


class BoardViews:
    """Two Axes with one board: from above, and with light behind it.

    Parameters
    ----------
    places : sequence of Axes
        Where they are drawn.
    size : float
        Of the words [pt].
    """

    def __init__(self, places: Any, size: float) -> None:
        self.images, self.rings = [], []
        for axes, name in zip(places, VIEWS, strict=True):
            set_up_axes(axes, name, size)
            shape = (round(HEIGHT / PIXEL), round(WIDTH / PIXEL), 3)
            # nearest: a hair must not fade between two points
            image = axes.imshow(
                np.full(shape, 255, dtype=np.uint8),
                extent=(0, WIDTH, HEIGHT, 0),
                interpolation="nearest",
            )
            self.images.append(image)
            for mark, _ in MARKS.values():
                ring = axes.plot([], [], mark, markersize=AROUND, markerfacecolor="none")[0]
                ring.set(color=INK, markeredgewidth=2)
                self.rings.append(ring)
        self.moving = (*self.images, *self.rings)

    def draw(self, board: Board, are_shown: bool) -> None:
        """Draw a board in both views, its faults in circles where they are shown."""
        for image, colours in zip(self.images, VIEWS.values(), strict=True):
            image.set_data(pixels_of(board, colours))
            image.set_visible(True)
        by_name = {fault.name: fault for fault in board.faults}
        for ring, name in zip(self.rings, (*MARKS, *MARKS), strict=True):
            ring.set_data([by_name[name].x], [by_name[name].y])
            ring.set_visible(are_shown)

    def empty(self) -> None:
        """Draw two empty frames."""
        for artist in self.moving:
            artist.set_visible(False)


def pixels_of(board: Board, colours: tuple[tuple[int, int, int], ...]) -> NDArray[np.uint8]:
    """Return a board as points in the colours of one view: bare, lines of fields, haze, copper."""
    kinds = np.zeros(board.copper.shape, dtype=np.uint8)
    # only on what is bare: a line across a trace would look like a cut
    points = round(FIELD / PIXEL)
    kinds[points::points, :] = 1
    kinds[:, points::points] = 1
    kinds[board.haze] = 2
    kinds[board.copper] = 3
    return np.array(colours, dtype=np.uint8)[kinds]


def set_up_axes(axes: Axes, name: str, size: float) -> None:
    """Set up axes of fields, lettered across and numbered down, with words so large [pt]."""
    axes.set_title(name, loc="left", fontsize=size, color=INK)
    axes.set_xticks(FIELD * (np.arange(len(COLUMNS)) + 0.5), list(COLUMNS))
    axes.set_yticks(FIELD * (np.arange(int(HEIGHT / FIELD)) + 0.5), ["1", "2", "3", "4"])
    axes.tick_params(length=0, labelsize=size, labelcolor=INK)


def build(narrow: bool) -> Drawing:
    """Make two empty frames, beside each other or one under the other."""
    sheet, size, title = sheet_of(narrow, 3.9, 7.2)
    places = sheet.subplots(2, 1) if narrow else sheet.subplots(1, 2)
    views = BoardViews(places, size)
    return Drawing(sheet, (*views.moving, title), views=views, title=title, narrow=narrow)
