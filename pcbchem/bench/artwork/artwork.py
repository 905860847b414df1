"""Bare copper from the picture of an artwork: area, grams of copper, narrowest trace and gap.

The board is the whole picture unless its outline is given: as a box in metres, or as "frame", a
straight line round all that is drawn. A frame is never guessed: it may as well be copper. It is
one side of the board only: copper on the back that is not covered is etched too, and uses up its
share of the bath.
"""

from __future__ import annotations

import dataclasses
import io
import os
import pathlib
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...common.limits import InputError, check_choice, check_number, naming
from ...reaction.bath.setup import LONGEST_SIDE, Board, Foil
from .doubts import (
    BLACK,
    KEPT,
    THICK_LINE,
    doubt_colours,
    doubt_narrow,
    doubt_outline,
)
from .drawing import (
    CLOSED,
    MOST_FRAME,
    Box,
    Grey,
    Levels,
    check_drawn,
    edge_length,
    frame,
    grey_levels,
    histogram,
    outline_box,
)
from .narrow_width import Place, narrowest
from .picture_file import DPI, INCH, OFF, GreyPicture, pixel_size, read_picture

SHORTEST_SIDE = 0.005
"""Shortest side of a board [m]."""
SEEN_PIXELS = 3.0
"""Lines thinner than this may be missed [pixels]."""
FINE_LINE = 1e-4
"""Lines are drawn as thin as this on boards [m]."""
ONE_SIDE = (
    "This is one side. Copper on the back that is not covered is etched too: add all of it, or "
    "cover it."
)
"""The doubt that every artwork has."""

Outline = tuple[float, float, float, float] | str


@dataclass(frozen=True)
class Narrow:
    """A narrowest place: width and doubt [m], and its middle from the picture's top left [m]."""

    width: float
    doubt: float
    x: float
    y: float


@dataclass(frozen=True)
class Artwork:
    """What a picture says of a board.

    Lengths [m], areas [m²], shares [-]. `bare` is the share of the board to etch; it lies between
    `bare_low` and `bare_high` if every edge is half a pixel off, or if grey counts as black sooner
    or later (a quarter or three quarters of the way). `edge` is the length of all edges: an
    undercut of so many metres takes that times it from the copper that stays. `trace` is the
    narrowest copper that stays and `gap` the narrowest that goes, None where nothing is narrow.
    `doubts` are sentences about what may be wrong. `own_size` says whether the size comes from the
    file itself.
    """

    name: str
    width: float
    height: float
    bare: float
    bare_low: float
    bare_high: float
    edge: float
    pixel: float
    black: str
    trace: Narrow | None
    gap: Narrow | None
    doubts: tuple[str, ...]
    own_size: bool = True

    @property
    def board_area(self) -> float:
        """The whole board [m²]."""
        return self.width * self.height

    @property
    def area(self) -> float:
        """Copper to be etched [m²]."""
        # One side: the back counts only as a doubt
        return self.board_area * self.bare

    def board(self, foil: Foil | None = None) -> Board:
        """Return the board that a plan takes [m, m²]; its foil is 1 oz unless given.

        Its `copper` is what dissolves [mol].
        """
        if foil is None:
            foil = Foil.ounces(1.0)
        return Board(self.width, self.height, self.bare, foil)

    def copper_mass(self, foil: Foil | None = None) -> float:
        """Return the copper to dissolve [kg], of a foil that is 1 oz unless given."""
        if foil is None:
            foil = Foil.ounces(1.0)
        return self.area * float(np.asarray(foil.areal_mass))

    @property
    def words(self) -> str:
        """Size, bare copper, narrowest places and every doubt [mm, cm², %, g of 1 oz foil]."""
        sentences = [
            f"{self.name}: {1000 * self.width:.1f} × {1000 * self.height:.1f} mm (hold a ruler to "
            f"it), {1e4 * self.area:.2f} cm² of it bare: {100 * self.bare:.1f} % "
            f"({100 * self.bare_low:.1f} to {100 * self.bare_high:.1f} %), "
            f"{1000 * self.copper_mass():.2f} g of copper on a 1 oz foil."
        ]
        for name, place in {"trace": self.trace, "gap": self.gap}.items():
            if place is not None:
                sentences.append(
                    f"Narrowest {name}: {1000 * place.width:.2f} ± {1000 * place.doubt:.2f} mm, "
                    f"{1000 * place.x:.1f} mm from the left and {1000 * place.y:.1f} mm from the "
                    "top."
                )
        return "\n".join([*sentences, *self.doubts])

    def __str__(self) -> str:
        return self.words


def read_artwork(
    path: str | os.PathLike[str] | bytes,
    *,
    name: str | None = None,
    black: str | None = None,
    dpi: float | None = None,
    width: float | None = None,
    width_if_unknown: float | None = None,
    outline: Outline | None = None,
) -> Artwork:
    """Read an artwork: PNG, BMP, or TIFF of one page, in black and white or grey.

    The file is only read; of bytes nothing is written anywhere.

    Parameters
    ----------
    path : str, Path or bytes
        The file, or all that it holds.
    name : str, optional
        What bytes are called in words and errors: needed with them, and only with them.
    black : str, optional
        "kept" or "etched": the copper under black, kept unless given; where that looks wrong,
        `doubts` say so.
    dpi : float, optional
        Pixels per inch [1/inch], 50 to 25 400; not given the file's own, unless that is a screen's
        72 or 96.
    width : float, optional
        How wide the whole picture is [m], instead of `dpi` or to check it.
    width_if_unknown : float, optional
        How wide it is [m] if nothing else says so, neither the file nor `dpi` and `width`; a doubt
        then says that it was taken so.
    outline : tuple or str, optional
        The board: (x, y, width, height) from the top left [m]; or "frame", the inside of the
        outermost line; or not given, the whole picture.

    Returns
    -------
    Artwork
        Areas, shares, narrowest places and doubts, in SI units [m, m²].

    Raises
    ------
    ValueError
        The file's name, then why it cannot be read, or what has to be given; or an argument and
        its limits.

    Examples
    --------
    >>> import tempfile
    >>> from PIL import Image
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     picture = Image.new("1", (600, 300), 1)
    ...     picture.paste(0, (100, 100, 500, 200))
    ...     picture.save(f"{folder}/strip.png")
    ...     art = read_artwork(f"{folder}/strip.png", dpi=600)
    >>> print(f"{art.area * 1e4:.2f} of {art.board_area * 1e4:.2f} cm²")
    2.51 of 3.23 cm²
    >>> print(f"{art.copper_mass() * 1e6:.0f} mg of copper")
    77 mg of copper
    """
    title = _title(path, name)
    if black is not None:
        black = check_choice("black", black, BLACK)
    if dpi is not None:
        dpi = check_number("dpi", dpi, *DPI, "pixels per inch")
    if width is not None:
        width = check_number("width", width, SHORTEST_SIDE, LONGEST_SIDE, "m")
    if width_if_unknown is not None:
        width_if_unknown = check_number(
            "width_if_unknown", width_if_unknown, SHORTEST_SIDE, LONGEST_SIDE, "m"
        )

    with naming(title):
        if isinstance(path, bytes):
            picture = read_picture(io.BytesIO(path))
        else:
            picture = _picture_in(pathlib.Path(path))
        pixel, own_size = _pixel_of(picture, dpi, width, width_if_unknown)
        # The doubts are said in this order: how it was read, then what it may not show
        doubts = list(picture.notes)
        doubt_colours(picture, doubts)
        if SEEN_PIXELS * pixel > FINE_LINE:
            doubts.append(
                f"Lines and gaps under {SEEN_PIXELS * pixel * 1000:.2g} mm, {SEEN_PIXELS:g} "
                "pixels, may be missed: more pixels per inch show them."
            )
        art = _read_board(title, picture.grey, pixel, black or KEPT, outline, doubts)
        return dataclasses.replace(art, own_size=own_size)


def _title(path: Any, name: Any) -> str:
    """Return what a file or bytes are called; raise where that is not clear."""
    if isinstance(path, bytes):
        if not isinstance(name, str) or not name:
            rule = "bytes need the name of their file"
            raise InputError("name", rule, value=name, about=f" = {name!r:.80}")
        return name
    # An empty name would stand for the folder itself
    if not isinstance(path, str | os.PathLike) or not str(path):
        raise InputError(
            "path", "it must be the name of a file", value=path, about=f" = {path!r:.80}"
        )
    if name is not None:
        rule = "a file has its own: give one with bytes only"
        raise InputError("name", rule, value=name, about=f" = {name!r:.80}")
    file = pathlib.Path(path)
    return file.name or str(file)


def _pixel_of(
    picture: GreyPicture, dpi: float | None, width: float | None, width_if_unknown: float | None
) -> tuple[float, bool]:
    """Return the size of a pixel [m], and whether the file itself says it."""
    if dpi is not None or width is not None:
        return pixel_size(picture, dpi, width), False
    try:
        return pixel_size(picture), True
    except ValueError:
        if width_if_unknown is None:
            raise
        picture.notes.append(
            "The file gives no size that can be used: the picture was taken to be "
            f"{1000 * width_if_unknown:.4g} mm wide."
        )
        return pixel_size(picture, width=width_if_unknown), False


def _picture_in(file: pathlib.Path) -> GreyPicture:
    """Return the picture in a file, or say why there is none."""
    if file.is_dir():
        raise ValueError("is a folder")
    if not os.path.lexists(file):
        raise ValueError("there is no such file")
    if not file.is_file():
        raise ValueError("is not a file")
    try:
        with open(file, "rb") as stream:
            return read_picture(stream)
    except OSError as error:
        raise ValueError(f"cannot be opened: {error.strerror or error}") from None


def _read_board(
    name: str,
    picture: Grey,
    pixel: float,
    black: str,
    outline: Outline | None,
    doubts: list[str],
) -> Artwork:
    """Return the artwork inside the outline, from a picture with pixels of some size [m]."""
    dark_stays = black == KEPT
    box = _board_box(picture, pixel, outline, dark_stays, doubts)
    width = (box.right - box.left) * pixel
    height = (box.bottom - box.top) * pixel
    _check_sides(width, height, pixel)

    # Levels of the board alone: what lies around it may be a grey table under a scan
    grey = picture[box.top : box.bottom, box.left : box.right]
    counts = histogram(grey)
    levels = grey_levels(counts)
    edge = edge_length(grey, levels.middle)
    bare_low, bare, bare_high = _dark_shares(grey, counts, levels, edge)
    if dark_stays:
        # The light is bare, and least where the dark is most
        bare_low, bare, bare_high = 1 - bare_high, 1 - bare, 1 - bare_low
    # A trace is a narrow place of what stays, a gap one of what goes
    trace = _narrow(narrowest(grey, levels.middle, dark_stays), box, pixel)
    gap = _narrow(narrowest(grey, levels.middle, not dark_stays), box, pixel)

    doubt_outline(grey, levels.middle, pixel, outline, dark_stays, doubts)
    doubt_narrow("trace", trace.width if trace else None, pixel, doubts)
    doubt_narrow("gap", gap.width if gap else None, pixel, doubts)
    doubts.append(ONE_SIDE)

    return Artwork(
        name=name,
        width=width,
        height=height,
        bare=bare,
        bare_low=bare_low,
        bare_high=bare_high,
        edge=edge * pixel,
        pixel=pixel,
        black=black,
        trace=trace,
        gap=gap,
        doubts=tuple(doubts),
    )


def _board_box(grey: Grey, pixel: float, outline: Any, dark_stays: bool, doubts: list[str]) -> Box:
    """Return where the board lies in the picture [pixels]."""
    if outline is None:
        return Box(0, 0, grey.shape[1], grey.shape[0])
    if not isinstance(outline, str):
        return outline_box(outline, grey.shape, pixel)
    check_choice("outline", outline, ("frame",))
    line = frame(grey, grey_levels(histogram(grey)).middle, pixel, dark_stays)
    ask = "say where in it the board lies (outline)"
    if line is None:
        colour = "white"
        if dark_stays:
            colour = "black"
        raise ValueError(
            f"has no frame: no straight closed line is the outermost {colour} thing drawn. It "
            f"must be at most {MOST_FRAME * 1000:g} mm thick and straight along {CLOSED:.0%} of "
            f"each side, its corners may be round; turn the picture straight, or {ask}"
        )
    # A scanner leaves a border round its picture: the board would come out as large as the scan
    if line.on_rim and line.thickness > THICK_LINE:
        raise ValueError(
            "has no frame: the line found lies on the rim of the picture and is "
            f"{line.thickness * 1000:.2g} mm thick, over {THICK_LINE * 1000:g} mm: the border of a "
            f"scan? Cut it off, or {ask}"
        )
    doubts.append(
        f"The board is the inside of the frame; its line, {line.thickness * 1000:.2g} mm thick, "
        "was left out. If the board is meant to the middle of the line, it is half a line larger "
        "on each side."
    )
    return line.inside


def _check_sides(width: float, height: float, pixel: float) -> None:
    """Refuse a board too small or too large [m] to be one, by its pixels [m]."""
    for side, length in {"wide": width, "high": height}.items():
        # In whole pixels 5 mm may come out a little shorter
        if not SHORTEST_SIDE * (1 - OFF) <= length <= LONGEST_SIDE:
            raise ValueError(
                f"makes a board {length * 1000:.4g} mm {side} at {INCH / pixel:.4g} pixels per "
                f"inch: it must be {SHORTEST_SIDE * 1000:g} to {LONGEST_SIDE * 1000:g} mm; check "
                "pixels per inch and outline"
            )


def _dark_shares(
    grey: Grey, counts: NDArray[np.int64], levels: Levels, edge: float
) -> tuple[float, float, float]:
    """Return the share of a board that is dark [-]: at least, most likely, and at most.

    From its pixels, how many have each grey value, and the length of its edges [pixels].
    """
    least = _share_below(counts, levels.low)
    half = _share_below(counts, levels.middle)
    most = _share_below(counts, levels.high)
    # One colour alone is no drawing: its levels would be made up
    if half == 1:
        raise ValueError(_nothing_but("lighter"))
    if half == 0:
        raise ValueError(_nothing_but("darker"))
    check_drawn(grey, levels.low, levels.high)

    # A drawing has nothing beyond its black and its white: a grey pixel of an edge is dark in part.
    # A scan has noise: there a grey pixel is dark or it is light
    beyond = np.concatenate([counts[: round(levels.dark)], counts[round(levels.light) + 1 :]])
    dark = half
    if not beyond.any():
        parts = (levels.light - np.arange(256)).clip(0) / (levels.light - levels.dark)
        dark = float((parts * counts).sum()) / grey.size

    # Every edge half a pixel off, or grey counted the other way: whichever doubts more
    doubt = 0.5 * edge / grey.size
    return max(0.0, min(least, dark - doubt)), dark, min(1.0, max(most, dark + doubt))


def _share_below(counts: NDArray[np.int64], level: float) -> float:
    """Return the share of pixels [-] whose grey value is below a level [0 to 255]."""
    # Grey values are whole: below 63.75 lie 0 to 63, which are the first 64
    return float(counts[: int(np.ceil(level))].sum()) / int(counts.sum())


def _nothing_but(missing: str) -> str:
    """Return what is said of a picture without anything lighter, or darker, than middle grey."""
    return (
        f"shows nothing {missing} than middle grey: it must hold both; raise the contrast of a "
        "pale or dark scan"
    )


def _narrow(place: Place | None, box: Box, pixel: float) -> Narrow | None:
    """Return a narrow place of the board [pixels] in metres, from the corner of the picture."""
    if place is None:
        return None
    return Narrow(
        place.width * pixel,
        place.doubt * pixel,
        (place.x + box.left) * pixel,
        (place.y + box.top) * pixel,
    )
