"""How a picture looks and becomes pixels: colours, white figures, what moves over a ground that is kept."""

from __future__ import annotations

import base64
import dataclasses
import html
import struct
import zlib
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

INK, LINE, SHADE, FAINT = "#1a1a1a", "#004b87", "#b9cfe3", "#767676"
"""Words, dark line, pale band (they differ in grey too), and what stands behind."""
DPI = 96
WIDE, NARROW = 8.0, 3.9
"""Width of a picture beside nothing, and on a telephone [inch]."""
TELEPHONE = 600
"""Below so many pixels a page shows the narrow picture."""


def figure(height: float, width: float = WIDE) -> Figure:
    """An empty white figure of its own canvas, in no global list [inch]; it lays itself out until it is settled.

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
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    made = Figure(figsize=(width, height), dpi=DPI, layout="constrained", facecolor="white")
    FigureCanvasAgg(made)
    return made


def plain(axes: Axes, grid: str = "y") -> Axes:
    """The same Axes with two spines, opaque white and a faint grid behind ("x", "y", "both" or "")."""
    axes.set_facecolor("white")
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_axisbelow(True)
    if grid:
        axes.grid(axis=grid, color="0.9")  # type: ignore[arg-type]
    return axes


@dataclasses.dataclass(frozen=True)
class Picture:
    """A drawn figure as a page shows it: opaque PNG with its text alternative, or the words alone.

    `png`, `narrow` [bytes]: for a wide page and for a telephone (none: the wide one); `alt` [-].
    """

    png: bytes = dataclasses.field(repr=False)
    alt: str
    narrow: bytes = dataclasses.field(default=b"", repr=False)

    def _repr_html_(self) -> str:
        if not self.png:
            return f"<p>{html.escape(self.alt)}</p>"
        small = (
            self.narrow
            and f'<source media="(max-width: {TELEPHONE}px)" srcset="{address(self.narrow)}">'
        )
        image = (
            f'<img style="max-width:100%;width:768px;height:auto" alt="{html.escape(self.alt)}" '
            f'src="{address(self.png)}">'
        )
        return f"<picture>{small}{image}</picture>" if small else image


def address(png: bytes) -> str:
    """A PNG [bytes] as an address that holds it."""
    return "data:image/png;base64," + base64.b64encode(png).decode()


def encoded(pixels: NDArray[np.uint8]) -> bytes:
    """Pixels [height × width × 3] as a PNG [bytes] whose rows are packed as they are: twice as quick as the usual."""
    height, width, _ = pixels.shape
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)  # each row begins with 0: not filtered
    rows[:, 1:] = pixels.reshape(height, -1)
    parts = {
        b"IHDR": struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0),
        b"IDAT": zlib.compress(rows.tobytes(), 1),
        b"IEND": b"",
    }
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in parts.items()
    )


class Drawing:
    """A figure whose moving artists are drawn over a ground that is kept: a new picture takes milliseconds.

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
        self._ground: tuple[Any, Any] | None = None
        for artist in self.moving:
            artist.set_animated(True)
        if self.moving:
            figure.draw_without_rendering()
            figure.set_layout_engine("none")

    def png(self, dpr: float = 1.0) -> bytes:
        """The picture [bytes] at so many pixels of the screen to one of the page [-]."""
        canvas: Any = self.figure.canvas
        state = (dpr, *((*axes.get_xlim(), *axes.get_ylim()) for axes in self.figure.axes))
        if self._ground is None or self._ground[0] != state or not self.moving:
            self.figure.dpi = DPI * dpr
            canvas.draw()
            self._ground = state, canvas.copy_from_bbox(self.figure.bbox)
        canvas.restore_region(self._ground[1])
        for artist in self.moving:
            self.figure.draw_artist(artist)
        return encoded(np.asarray(canvas.buffer_rgba())[..., :3])


def picture(drawing: Drawing, alt: str, narrow: Drawing | None = None) -> Picture:
    """A `Picture` of a drawing [-], sharp on a fine screen, with words for what it shows and its narrow twin."""
    return Picture(drawing.png(2.0), alt, narrow.png(2.0) if narrow else b"")
