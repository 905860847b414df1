"""The second surprise of page 03: by count a thin layer of bath would do, and it gets hot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ...common.units import to_celsius
from ...page.minute_bars import box
from ...page.picture import INK, LINE, SHADE, Drawing, plain, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import Warmth, too_warm, warmths
from .texts import read_warmth
from .words import degrees_words, name_words, row_words, warmth_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ENDS = (20.0, 100.0)
"""Ends of the axis [°C]: bottles and room are at 20 °C."""
PATCH = {"facecolor": "white", "edgecolor": "none", "pad": 0.5}
BAR, BAND = 0.24, 0.1
"""Half the height of a bar and of the band around its end, of the distance between rows."""
WAITS = "Predict first: then this says how warm less of the bath would get."
TITLE = "Could a thinner layer of bath do?"
"""What stands there before."""


def heat_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of three bars: just enough bath by count, as wanted, and as it is.

    Parameters
    ----------
    prediction : Prediction, optional
        The bars wait for it. None: they are shown.
    """

    def show(drawing: Drawing, predicted: str | None = WITHOUT) -> PanelWords:
        return say(drawing, predicted is not None)

    return Panel("How warm less bath gets", [], build, show, prediction=prediction, replies=False)


class WarmthBars:
    """Three rows of temperatures in one Axes, made once and empty.

    Parameters
    ----------
    axes : Axes
        Where they are drawn.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone: without the ends of the bands in words.
    """

    def __init__(self, axes: Axes, size: float, narrow: bool = False) -> None:
        self.axes, self.narrow = plain(axes, "x"), narrow
        axes.set(xlim=ENDS, ylim=(2.5, -0.75))
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.tick_params(axis="x", labelsize=size, labelcolor=INK)
        axes.set_xlabel("warmest in the bath while it etches, °C", fontsize=size, color=INK)
        look: dict[str, Any] = {"fontsize": size, "color": INK, "in_layout": False}
        self.bars = [axes.fill([], [], linewidth=1.5, edgecolor=LINE)[0] for _ in range(3)]
        self.bands = [axes.fill([], [], color=SHADE, linewidth=0)[0] for _ in range(3)]
        self.ends = [axes.plot([], [], color=INK, linewidth=2)[0] for _ in range(3)]
        self.line = axes.plot([], [], color=INK, linewidth=1.4, linestyle="--")[0]
        self.line_words = axes.text(0, -0.72, "", va="top", **look)
        self.names = [
            axes.text(ENDS[0], place - 0.33, "", bbox=PATCH, **look) for place in range(3)
        ]
        self.words = [
            axes.text(0, place, "", va="center", bbox=PATCH, **look) for place in range(3)
        ]
        self.moving = (
            *self.bars,
            *self.bands,
            self.line,
            *self.ends,
            self.line_words,
            *self.names,
            *self.words,
        )

    def draw(self, rows: tuple[Warmth, ...]) -> None:
        """Draw a row for each bath, the least of it on top."""
        limit = float(to_celsius(too_warm()))
        self.line.set_data([limit, limit], [-0.75, 2.5])
        self.line_words.set(x=limit + 0.6, text=f"{degrees_words(too_warm())}: lift the board out")
        for place, row in enumerate(rows):
            low, middle, high = (
                float(to_celsius(end))
                for end in (row.warmest.low, row.warmest.middle, row.warmest.high)
            )
            self.bars[place].set_xy(box(ENDS[0], middle, place, BAR))
            self.bars[place].set(
                facecolor="white" if row.refused else LINE, hatch="///" if row.refused else ""
            )
            self.bands[place].set_xy(box(low, high, place, BAND))
            self.ends[place].set_data([middle, middle], [place - BAR, place + BAR])
            self.names[place].set_text(name_words(row, rows[-1], self.narrow))
            self.words[place].set(x=high + 0.8, text=row_words(row, self.narrow))


def build(narrow: bool) -> Drawing:
    """Make three empty rows on one axis of degrees."""
    sheet, size, title = sheet_of(narrow, 3.2, 3.6)
    bars = WarmthBars(sheet.subplots(), size, narrow)
    return Drawing(sheet, (*bars.moving, title), bars=bars, title=title, narrow=narrow)


def say(drawing: Drawing, known: bool) -> PanelWords:
    """Draw the rows and say them; before a prediction, that they wait."""
    title, bars = drawing.parts["title"], drawing.parts["bars"]
    for artist in bars.moving:
        artist.set_visible(known)
    if not known:
        title.set_text(TITLE)
        return PanelWords(WAITS, f"{TITLE} An empty axis of degrees. {WAITS}")
    rows = warmths()
    bars.draw(rows)
    words = warmth_words(rows)
    title.set_text(words.title.replace(", ", ",\n") if drawing.parts["narrow"] else words.title)
    return PanelWords(words.readout, words.alt, notes=as_html(read_warmth()))
