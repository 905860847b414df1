"""The artwork: a picture of the board, how much of it is bare, and where it is narrowest."""

from __future__ import annotations

import functools
import html
import io
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from ...bench.artwork import Artwork, read_artwork
from ...bench.artwork.picture_file import read_picture
from ...common.limits import InputError
from ...common.number_words import figures
from ...common.units import gram, mm
from ...page.picture import INK, LINE, Drawing, plain, sheet_of
from ...page.widget.controls import (
    Choice,
    Done,
    Field,
    Group,
    Link,
    PanelWords,
    Progress,
    Upload,
)
from ...page.widget.panel import Panel
from ..form.from_picture import LEAST_BARE
from ..form.table import SHORTEST_SIDE
from ..pages import PLANNER_PAGE
from .cautions import heading_html

if TYPE_CHECKING:
    from numpy.typing import NDArray

KINDS = (".png", ".tif", ".tiff", ".bmp")
"""Files of an artwork that are taken."""
MOST_BYTES = 40_000_000
"""Largest artwork that is taken [B] (our limit)."""
TOP = heading_html("Your artwork")
HEIGHT, NARROW_HEIGHT = 4.2, 4.6
"""Of the picture [inch]."""
MOST_PIXELS = 700
"""So many pixels along a side are drawn [-]: more cannot be seen."""
RING = 14
"""Size of a ring round a narrow place [pt]."""
NAMES_AT = {"trace": 0.3, "gap": 0.75}
"""How high beside the board the words of a ring stand [-]."""
BLACKS = {"kept": "copper that stays", "etched": "copper that goes"}
OUTLINES = {"whole": "the whole picture", "frame": "inside its frame"}
NO_FRAME = (
    "No straight line goes round all that is drawn in this picture: choose “the whole picture”, or "
    "draw a frame round the board"
)
EMPTY = "Then it stands here to scale, with its narrowest places marked."
NOTHING = "No picture yet: choose one, or drop it."
TO_PLANNER = "Take this bare copper to the planner"
FROM_ARTWORK = "Filled in from your artwork {}: {} cm² bare."
WHAT_IT_LOSES = (
    'What a trace loses, <a href="07_when_to_lift_it_out.ipynb">when to lift it out</a> says.'
)
ON_PAPER = "Your own bench: an artwork is not printed here."
CONTROLS = (
    Group(
        "The picture",
        (
            Upload(
                "artwork",
                "Choose a picture",
                KINDS,
                MOST_BYTES,
                help=(
                    "Of the copper side, in black and white, at most 40 MB. It goes to this page "
                    "alone."
                ),
            ),
            Choice("black", "black is", BLACKS, "kept"),
            Field(
                "dpi",
                "pixels per inch",
                "",
                50,
                25400,
                100,
                None,
                help="Blank: the file's own. A screen's 72 or 96 is no size of a board.",
            ),
            Field(
                "width",
                "or picture, wide",
                "mm",
                5,
                2000,
                1,
                None,
                help="How wide the whole picture is, by a ruler.",
            ),
            Choice("outline", "board is", OUTLINES, "whole"),
        ),
    ),
)
"""From top to bottom."""


def panel_of_artwork() -> Panel:
    """Make the panel of an artwork: its picture to scale, bare copper, narrowest places.

    Returns
    -------
    Panel
        The picture stays in its memory until it is removed; nothing is written anywhere.
    """
    upload: dict[str, Any] = {}

    def choose(_: Mapping[str, Any], came_with: Mapping[str, Any], __: Progress) -> Done:
        if came_with.get("removed"):
            upload.clear()
            return Done(remark="Removed.", redraws=True)
        name, data = came_with["name"], came_with["data"]
        read_pixels(name, data)  # what is no picture is refused here, and the last one stays
        upload.update(name=name, data=data)
        # a size that was given for another picture is none of this one
        return Done(remark=f"{name} is open.", values={"dpi": None, "width": None})

    def show(drawing: Drawing, **values: Any) -> PanelWords:
        return say(drawing, upload, values)

    def handed(**values: Any) -> dict[str, Any]:
        return to_planner(upload, values)

    return Panel(
        "Your own bench: the artwork",
        CONTROLS,
        build,
        show,
        works={"artwork": choose},
        links=(Link(TO_PLANNER, PLANNER_PAGE, handed),),
        on_paper=ON_PAPER,
        copied=in_copy,
    )


def read_of(upload: Mapping[str, Any], values: Mapping[str, Any]) -> Artwork:
    """Return what a picture says of the board, read as the controls say.

    Raises
    ------
    ValueError
        In the page's words.
    """
    width = values["width"]
    size = upload["name"], upload["data"], values["black"], values["dpi"], width
    try:
        whole = _read_once(*size, None)
    except InputError as error:
        raise ValueError(page_words(error)) from None
    if values["outline"] == "whole":
        return whole
    try:
        return _read_once(*size, "frame")
    except ValueError:
        raise ValueError(NO_FRAME) from None


@functools.lru_cache(maxsize=4)
def _read_once(
    name: str,
    data: bytes,
    black: str,
    dpi: float | None,
    width: float | None,
    outline: str | None,
) -> Artwork:
    """Read a picture, once for the same controls: it takes half a second."""
    wide = None if width is None else width * mm
    return read_artwork(data, name=name, black=black, dpi=dpi, width=wide, outline=outline)


@functools.lru_cache(maxsize=2)
def read_pixels(name: str, data: bytes) -> tuple[NDArray[np.uint8], int]:
    """Return a picture's grey values (rows, columns) [0 to 255], thinned out to what is drawn.

    And how many pixels of the file one of them stands for, along a side [-].

    Raises
    ------
    ValueError
        The file's name, and why it is no picture.
    """
    try:
        grey = read_picture(io.BytesIO(data)).grey
    except ValueError as error:
        raise ValueError(f"{name} {error}") from None
    step = max(1, -(-max(grey.shape) // MOST_PIXELS))
    # the darkest of each square: a thin line must not get lost
    rows, columns = (length // step * step for length in grey.shape)
    squares = grey[:rows, :columns].reshape(rows // step, step, columns // step, step)
    return np.asarray(squares.min(axis=(1, 3))), step


def page_words(error: InputError) -> str:
    """Write what is wrong with a size in the page's words."""
    if error.field == "width" and error.low is not None and error.high is not None:
        low, high = (figures(end / mm, 4) for end in (error.low, error.high))
        return f"Picture, wide, cannot be: it must be {low} to {high} mm"
    if error.field == "dpi":
        return f"Pixels per inch{error.about} cannot be: {error.rule}"
    return str(error)


def say(drawing: Drawing, upload: Mapping[str, Any], values: Mapping[str, Any]) -> PanelWords:
    """Say what the picture tells of the board, and draw it to scale."""
    if not upload:
        draw_nothing(drawing)
        return PanelWords(NOTHING, f"{NOTHING} {EMPTY}", top=TOP)
    try:
        art = read_of(upload, values)
    except ValueError as error:
        wrong = str(error)
        return PanelWords("Not read yet.", f"Not read yet. {wrong}", wrong=f"{wrong}.", top=TOP)
    area = figures(1e4 * art.area, 4)
    size = f"{figures(art.width / mm, 3)} × {figures(art.height / mm, 3)} mm"
    title = f"{area} cm² of {size} is bare"
    headline = f"{title}. Measure your print: is it {figures(art.width / mm, 3)} mm wide?"
    share = f"{100 * art.bare:.1f} % ({100 * art.bare_low:.1f} to {100 * art.bare_high:.1f} %)"
    sentences = [
        f"Bare: {share}, {figures(art.copper_mass() / gram, 3)} g of copper on a 1 oz foil."
    ]
    for name, place in narrow_places(art).items():
        sentences.append(f"Narrowest {name}: {narrow_words(place)} mm.")
    grey, step = read_pixels(upload["name"], upload["data"])
    if values["black"] == "etched":
        grey = 255 - grey  # dark is always copper that stays
    draw(drawing, art, grey, step * art.pixel)
    doubts = "".join(f"<li>{html.escape(doubt)}</li>" for doubt in art.doubts)
    notes = f"<ul>{doubts}</ul>"
    if art.trace is not None:
        notes += f"<p>{WHAT_IT_LOSES}</p>"
    readout = " ".join(sentences)
    alt = f"{title}. The artwork to scale, with rings at its narrowest places. {readout}"
    return PanelWords(readout, alt, notes=notes, headline=headline, top=TOP)


def narrow_places(art: Artwork) -> dict[str, Any]:
    """Return the narrowest trace and gap by name, where there are any."""
    places = {"trace": art.trace, "gap": art.gap}
    return {name: place for name, place in places.items() if place is not None}


def narrow_words(place: Any) -> str:
    """Write how narrow a place is [m] in mm: "0.68 ± 0.08"."""
    return f"{place.width / mm:.2f} ± {place.doubt / mm:.2f}"


def to_planner(upload: Mapping[str, Any], values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the planner's values of the board; nothing where no picture is read."""
    if not upload:
        return {}
    try:
        art = read_of(upload, values)
    except ValueError:
        return {}
    if min(art.width, art.height) < SHORTEST_SIDE * mm:
        return {}  # the planner knows no board so small
    return {
        "bare": max(round(100 * art.bare, 1), LEAST_BARE),
        "board_width": round(art.width / mm, 1),
        "board_height": round(art.height / mm, 1),
        "why": FROM_ARTWORK.format(art.name, figures(1e4 * art.area, 4)),
    }


def build(narrow: bool) -> Drawing:
    """Make an empty picture: all of it is drawn each time."""
    sheet, size, _ = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    return Drawing(sheet, axes=sheet.subplots(), size=size, narrow=narrow)


def draw_nothing(drawing: Drawing) -> None:
    """Draw an empty frame."""
    axes = drawing.parts["axes"]
    axes.clear()
    plain(axes, "")
    axes.set(xticks=(), yticks=())


def draw(drawing: Drawing, art: Artwork, grey: NDArray[np.uint8], pixel: float) -> None:
    """Draw the artwork, its pixels so large [m], with a ring round each narrowest place."""
    axes, size, narrow = (drawing.parts[name] for name in ("axes", "size", "narrow"))
    axes.clear()
    plain(axes, "")
    # the whole picture, from whose corner places are counted: the board may be a part of it
    high, wide = (length * pixel / mm for length in grey.shape)
    axes.imshow(
        grey, cmap="gray", vmin=0, vmax=255, extent=(0, wide, high, 0), interpolation="nearest"
    )
    axes.tick_params(labelsize=size)
    axes.set_xlabel("mm; dark is copper that stays", fontsize=size, color=INK)
    for name, place in narrow_places(art).items():
        x, y = place.x / mm, place.y / mm
        axes.plot(
            [x],
            [y],
            marker="o",
            markersize=RING,
            markerfacecolor="none",
            markeredgewidth=2,
            color=LINE,
            linestyle="",
        )
        if narrow:
            continue  # there the sentence says it
        # beside the board, so that no word lies on it
        axes.annotate(
            f"narrowest {name}\n{narrow_words(place)} mm",
            (x, y),
            xytext=(1.03, NAMES_AT[name]),
            textcoords="axes fraction",
            fontsize=size,
            color=INK,
            va="center",
            annotation_clip=False,
            arrowprops={"arrowstyle": "-", "color": LINE, "shrinkB": RING / 2},
        )


def in_copy(drawing: Drawing) -> PanelWords:
    """Draw and say what stands for the panel in a copy without Python."""
    draw_nothing(drawing)
    words = "In this copy no picture can be read: run the page."
    return PanelWords(words, words)
