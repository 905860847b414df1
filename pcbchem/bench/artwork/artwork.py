"""Bare copper from the picture of an artwork: area, grams of copper, narrowest trace and gap.

The board is the whole picture unless its outline is given: as a box in metres, or as "frame", a
straight line round all that is drawn. A frame is never guessed: it may as well be copper. It is
one side of the board only: copper on the back that is not covered is etched too, and uses up its
share of the bath.
"""

from __future__ import annotations

import os
import pathlib
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...common.limits import InputError, check_choice, check_number, naming
from ...reaction.bath.setup import LONGEST_SIDE, Board, Foil
from .drawing import (
    CLOSED,
    MOST_FRAME,
    Box,
    Grey,
    Levels,
    box_around,
    check_drawn,
    dark_share_of_rim,
    edge_length,
    frame,
    grey_levels,
    histogram,
    outline_box,
)
from .narrow_width import Place, narrowest
from .picture_file import DPI, INCH, OFF, GreyPicture, pixel_size, read_picture

KEPT, ETCHED = "kept", "etched"
BLACK = (KEPT, ETCHED)
"""What becomes of the copper under black.

Kept, as under toner; etched, as with a negative for dry film.
"""
SHORTEST_SIDE = 0.005
"""Shortest side of a board [m]."""
MOST_COLOURED = 0.03
"""Share of the picture that may be coloured [-]: more is a drawing in colours, or a photograph."""
ONE_COLOUR = 0.98
"""A rim that is so much of one colour is all of it [-]."""
FULL = 0.7
"""A drawing that fills more than this of the picture fills it [-]."""
TRUSTED_PIXELS = 4.0
"""A place narrower than this is hardly drawn [pixels]."""
SEEN_PIXELS = 3.0
"""Lines thinner than this may be missed [pixels]."""
FINE_LINE = 1e-4
"""Lines are drawn as thin as this on boards [m]."""
THICK_LINE = 0.0003
"""A thicker line on the rim of a picture is the border of a scan [m]."""
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
    `doubts` are sentences about what may be wrong.
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
    path: str | os.PathLike[str],
    *,
    black: str | None = None,
    dpi: float | None = None,
    width: float | None = None,
    outline: Outline | None = None,
) -> Artwork:
    """Read an artwork: PNG, BMP, or TIFF of one page, in black and white or grey.

    The file is only read.

    Parameters
    ----------
    path : str or Path
        The file.
    black : str, optional
        "kept" or "etched": the copper under black, kept unless given; where that looks wrong,
        `doubts` say so.
    dpi : float, optional
        Pixels per inch [1/inch], 50 to 25 400; not given the file's own, unless that is a screen's
        72 or 96.
    width : float, optional
        How wide the whole picture is [m], instead of `dpi` or to check it.
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
    # An empty name would stand for the folder itself
    if not isinstance(path, str | os.PathLike) or not str(path):
        raise InputError(
            "path", "it must be the name of a file", value=path, about=f" = {path!r:.80}"
        )
    if black is not None:
        black = check_choice("black", black, BLACK)
    if dpi is not None:
        dpi = check_number("dpi", dpi, *DPI, "pixels per inch")
    if width is not None:
        width = check_number("width", width, SHORTEST_SIDE, LONGEST_SIDE, "m")

    file = pathlib.Path(path)
    with naming(file.name or str(file)):
        picture = _picture_in(file)
        pixel = pixel_size(picture, dpi, width)
        # The doubts are said in this order: how it was read, then what it may not show
        doubts = list(picture.notes)
        _doubt_colours(picture, doubts)
        if SEEN_PIXELS * pixel > FINE_LINE:
            doubts.append(
                f"Lines and gaps under {SEEN_PIXELS * pixel * 1000:.2g} mm, {SEEN_PIXELS:g} "
                "pixels, may be missed: more pixels per inch show them."
            )
        return _read_board(file.name, picture.grey, pixel, black or KEPT, outline, doubts)


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


def _doubt_colours(picture: GreyPicture, doubts: list[str]) -> None:
    """Refuse a picture with many colours; doubt one with few."""
    if picture.colour_share > MOST_COLOURED:
        raise ValueError(
            f"has colours on {picture.colour_share:.0%} of it, at most {MOST_COLOURED:.0%} are "
            "read: save the copper layer alone in black and white"
        )
    if picture.colour_share:
        doubts.append(
            f"{picture.colour_share:.2%} of it is coloured and was read by its brightness: a light "
            "colour is taken for paper. Save the copper layer alone in black and white."
        )


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

    _doubt_outline(grey, levels.middle, pixel, outline, dark_stays, doubts)
    _doubt_narrow("trace", trace, pixel, doubts)
    _doubt_narrow("gap", gap, pixel, doubts)
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
    ask = "give outline = (x, y, width, height) in m"
    if line is None:
        colour = "white"
        if dark_stays:
            colour = "black"
        raise ValueError(
            f'outline = "frame": no straight closed line is the outermost {colour} thing drawn. It '
            f"must be at most {MOST_FRAME * 1000:g} mm thick and straight along {CLOSED:.0%} of "
            f"each side, its corners may be round; turn the picture straight, or {ask}"
        )
    # A scanner leaves a border round its picture: the board would come out as large as the scan
    if line.on_rim and line.thickness > THICK_LINE:
        raise ValueError(
            f'outline = "frame": the line found lies on the rim of the picture and is '
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
                "dpi and outline"
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


def _doubt_outline(
    grey: Grey,
    middle: float,
    pixel: float,
    outline: Outline | None,
    dark_stays: bool,
    doubts: list[str],
) -> None:
    """Say what the rim of the board makes one doubt: its outline, or what black stands for.

    From the board, its middle level [0 to 255] and the size of a pixel [m].
    """
    rim = dark_share_of_rim(grey, middle)
    stays_on_rim = 1 - rim
    if dark_stays:
        stays_on_rim = rim
    # Only for a box: of a frame the line was left out, and a whole picture is looked at below
    line = None
    if outline is not None and not isinstance(outline, str):
        line = frame(grey, middle, pixel, dark_stays)
    if line is not None and line.on_rim:
        doubts.append(
            f"A line {line.thickness * 1000:.2g} mm thick runs along the outline and counts as "
            "copper that stays."
        )
    elif stays_on_rim > ONE_COLOUR:
        # Copper all round is a ground plane, or the picture is a negative
        opposite = KEPT
        if dark_stays:
            opposite = ETCHED
        doubts.append(
            "The rim of the board keeps its copper all round. If that is no ground plane, black "
            f'and white are the other way round: black="{opposite}".'
        )
    # A whole picture may be larger than the board; but not if its rim is drawn on
    if outline is None and not 1 - ONE_COLOUR < rim < ONE_COLOUR:
        _doubt_margin(grey, middle, pixel, rim < 0.5, dark_stays, doubts)


def _doubt_margin(
    grey: Grey,
    middle: float,
    pixel: float,
    light_rim: bool,
    dark_stays: bool,
    doubts: list[str],
) -> None:
    """Say why a whole picture with a rim of one colour may be larger than the board."""
    line = frame(grey, middle, pixel, dark_stays)
    if line is not None and line.on_rim and line.thickness > THICK_LINE:
        doubts.append(
            f"A border {line.thickness * 1000:.2g} mm thick runs round the picture and counts as "
            "copper that stays. If it comes from a scan, cut it off or give the outline."
        )
        return
    if line is not None:
        doubts.append(
            "A closed line frames the drawing. If it is the outline of the board, give "
            'outline="frame".'
        )
        return
    # The drawing is what has another colour than the rim
    box = box_around(grey, middle, light_rim)
    if box is None:
        return
    drawing_share = (box.right - box.left) * (box.bottom - box.top) / grey.size
    if drawing_share <= FULL:
        doubts.append(
            f"The drawing fills {drawing_share:.0%} of the picture. If the board is smaller than "
            "the picture, give its outline, or its empty rim counts as board."
        )


def _doubt_narrow(name: str, place: Narrow | None, pixel: float, doubts: list[str]) -> None:
    """Say that the narrowest trace or gap has too few pixels [m] to be trusted, if so."""
    if place is not None and place.width < TRUSTED_PIXELS * pixel:
        doubts.append(
            f"The narrowest {name} is {place.width / pixel:.1f} pixels wide, too few to trust: it "
            "may be dust or a dotted grey, or the picture needs more pixels per inch."
        )
