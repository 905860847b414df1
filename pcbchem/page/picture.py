"""How a picture looks and becomes pixels: colours, white figures, what moves and what stays."""

from __future__ import annotations

import base64
import dataclasses
import html
import struct
import zlib
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from ..common.extras import extra

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.text import Text
    from numpy.typing import NDArray

INK, LINE, SHADE, FAINT = "#1a1a1a", "#004b87", "#b9cfe3", "#767676"
"""Words, dark line, pale band (they differ in grey too), and what stands behind."""
DPI = 96  # a pixel of the page is 1/96 inch
WIDE, NARROW = 8.0, 3.9
"""Width of a picture beside nothing, and on a telephone [inch]."""
SIZE, SMALL = 11.0, 9.5
"""Words in a picture, wide and narrow [pt]."""
TELEPHONE = 600
"""Below so many pixels a page shows the narrow picture."""


HOLLOW: dict[str, Any] = {"markerfacecolor": "white", "color": INK, "markeredgewidth": 2}
"""Look of a mark that stands for a guess or a bound: no measurement."""


def figure(height: float, width: float = WIDE) -> Figure:
    """Make an empty white figure [inch], which lays itself out until it is settled.

    It has a canvas of its own and stands in no global list: nobody has to close it.

    Parameters
    ----------
    height, width : float
        Its size [inch], at 96 pixels an inch.

    Returns
    -------
    Figure
        Opaque, so that it stays readable on a dark page.

    Examples
    --------
    >>> print(figure(3).get_facecolor())
    (1.0, 1.0, 1.0, 1.0)
    """
    with extra("pages"):
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

    # "constrained" moves the axes until no words overlap
    empty = Figure(figsize=(width, height), dpi=DPI, layout="constrained", facecolor="white")
    FigureCanvasAgg(empty)
    return empty


def title_over(sheet: Figure, words: str, size: float) -> Text:
    """Write the title of a picture, a little larger than its other words.

    Parameters
    ----------
    sheet : Figure
        The picture: the title stands over all of it, at its left.
    words : str
        What it says; lines without words keep the place of what it will say.
    size : float
        Of the other words [pt].

    Returns
    -------
    Text
        The title.

    Examples
    --------
    >>> print(title_over(figure(3), "Four times as long", 11).get_size())
    12.0
    """
    return sheet.suptitle(words, x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK)


def sheet_of(
    narrow: bool, height: float, narrow_height: float, lines: int = 1
) -> tuple[Figure, float, Text]:
    """Return an empty figure for a wide or narrow page, the size of its words, and its title.

    Parameters
    ----------
    narrow : bool
        For a telephone.
    height, narrow_height : float
        Of the picture, wide and narrow [inch].
    lines : int
        How many lines the title may take [-]; a narrow one takes one more.

    Returns
    -------
    tuple of Figure, float and Text
        The figure, the size of its words [pt], and the title, still without words.

    Examples
    --------
    >>> print(sheet_of(True, 3.7, 4.6)[1])
    9.5
    """
    width, size, height = (NARROW, SMALL, narrow_height) if narrow else (WIDE, SIZE, height)
    sheet = figure(height, width)
    # lines without words keep the place of what it will say
    room = "\n" * (lines - 1 + narrow) or " "
    return sheet, size, title_over(sheet, room, size)


def in_one_line(words: str) -> str:
    """Write words of a picture in one line.

    Examples
    --------
    >>> print(in_one_line("film that\\nlight hardens"))
    film that light hardens
    """
    return words.replace("\n", " ")


def parted(title: str, *pauses: str) -> str:
    """Part a title in two lines, at the first of some pauses that it has: for a telephone.

    Examples
    --------
    >>> print(parted("Not rinsed: after 4 boards", ", ", ": "))
    Not rinsed:
    after 4 boards
    """
    for pause in pauses:
        if pause in title:
            return title.replace(pause, f"{pause.strip()}\n", 1)
    return title


def plain(axes: Axes, grid: Literal["x", "y", "both", ""] = "y") -> Axes:
    """Return the same Axes with two spines, opaque white and a faint grid behind."""
    axes.set_facecolor("white")
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_axisbelow(True)  # the grid behind the curves
    if grid:
        axes.grid(axis=grid, color="0.9")
    return axes


@dataclasses.dataclass(frozen=True)
class Picture:
    """A drawn figure as a page shows it: opaque PNG with its text alternative, or the words alone.

    Parameters
    ----------
    png : bytes
        For a wide page; none: the words stand alone.
    alt : str
        What the picture shows, in words.
    narrow : bytes
        For a telephone; none: the wide one.
    """

    png: bytes = dataclasses.field(repr=False)
    alt: str
    narrow: bytes = dataclasses.field(default=b"", repr=False)

    def _repr_html_(self) -> str:
        if not self.png:
            return f"<p>{html.escape(self.alt)}</p>"
        image = (
            '<img class="pcbchem-still" style="max-width:100%;width:768px;height:auto" '
            f'alt="{html.escape(self.alt)}" src="{address_of(self.png)}">'
        )
        if not self.narrow:
            return image
        narrow = address_of(self.narrow)
        source = f'<source media="(max-width: {TELEPHONE}px)" srcset="{narrow}">'
        return f"<picture>{source}{image}</picture>"


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: the finding over it, the live sentence, the picture in words."""

    title: str
    readout: str
    alt: str


def address_of(png: bytes) -> str:
    """Return an address that holds a PNG [bytes] itself."""
    return "data:image/png;base64," + base64.b64encode(png).decode()


def png_of(pixels: NDArray[np.uint8]) -> bytes:
    """Return pixels [height × width × 3] as a PNG [bytes].

    Its rows are packed as they are, not as differences: twice as quick as the usual way, and each
    move of a slider waits for it.
    """
    height, width, _ = pixels.shape
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)  # each row begins with 0: not filtered
    rows[:, 1:] = pixels.reshape(height, -1)
    eight_bits, true_colour = 8, 2  # numbers of the PNG format, as are the zeros below
    parts = {
        b"IHDR": struct.pack(">IIBBBBB", width, height, eight_bits, true_colour, 0, 0, 0),
        b"IDAT": zlib.compress(rows.tobytes(), 1),  # 1: the quickest
        b"IEND": b"",
    }
    png = b"\x89PNG\r\n\x1a\n"
    for kind, data in parts.items():
        checksum = zlib.crc32(kind + data)
        png += struct.pack(">I", len(data)) + kind + data + struct.pack(">I", checksum)
    return png


class Drawing:
    """A figure whose moving artists are drawn over a ground that stays: ready in milliseconds.

    Parameters
    ----------
    figure : Figure
        Laid out and settled here: its axes keep their places from now on.
    moving : sequence of Artist
        What changes from picture to picture, back to front; none: all of it is drawn each time.
    **parts : Any
        Whatever the page wants to find again, by name, in `parts`.
    """

    def __init__(self, figure: Figure, moving: Sequence[Artist] = (), **parts: Any) -> None:
        self.figure, self.moving, self.parts = figure, tuple(moving), parts
        self._ground: Any = None
        self._state_of_ground: tuple[float, ...] = ()
        for artist in self.moving:
            artist.set_animated(True)  # matplotlib then leaves it out of the ground
        if self.moving:
            # laid out once, then never again: else axes would jump as words get longer
            figure.draw_without_rendering()
            figure.set_layout_engine("none")

    def forget_ground(self) -> None:
        """Draw all of it once more next time: something that does not move has changed."""
        self._state_of_ground = ()

    def png(self, dpr: float = 1.0) -> bytes:
        """Return the picture [bytes] at so many pixels of the screen to one of the page [-]."""
        return png_of(self.pixels(dpr))

    def pixels(self, dpr: float = 1.0) -> NDArray[np.uint8]:
        """Return the picture as pixels [height × width × 3], so many to one of the page [-]."""
        canvas: Any = self.figure.canvas
        state = self._state(dpr)
        if not self.moving or state != self._state_of_ground:
            self.figure.dpi = DPI * dpr
            canvas.draw()
            # the picture without what moves, in pixels
            self._ground = canvas.copy_from_bbox(self.figure.bbox)
            self._state_of_ground = state
        canvas.restore_region(self._ground)
        for artist in self.moving:
            self.figure.draw_artist(artist)
        # without transparency: the ground is opaque
        return np.asarray(canvas.buffer_rgba())[..., :3]

    def _state(self, dpr: float) -> tuple[float, ...]:
        """Return all that the ground depends on: its pixels and the limits of its axes."""
        state = [dpr]
        for axes in self.figure.axes:
            state += [*axes.get_xlim(), *axes.get_ylim()]
        return tuple(state)


def picture_of(drawing: Drawing, alt: str, narrow: Drawing | None = None) -> Picture:
    """Return a `Picture` of a drawing, sharp on a fine screen, with words and a narrow twin."""
    return Picture(drawing.png(2.0), alt, narrow.png(2.0) if narrow else b"")
