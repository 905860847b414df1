"""Bare copper from the picture of an artwork: area to etch, grams of copper, narrowest trace and narrowest gap.

The board is the whole picture unless its outline is given: as a box in metres, or as "frame", a straight line round
all that is drawn. A frame is never guessed: it may as well be copper. It is one side of the board only: copper on the
back that is not covered is etched too, and takes its share of the bath.
"""

from __future__ import annotations

import os
import pathlib
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...common.limits import check_choice, check_number, naming
from ...reaction.bath.setup import LONGEST_SIDE, Board, Foil
from .drawing import (
    CLOSED,
    MOST_FRAME,
    around,
    boxed,
    check_drawn,
    counted,
    edge_length,
    frame,
    levels,
    rim_dark,
)
from .narrow_width import narrowest
from .picture_file import INCH, read_sheet

BLACK = ("kept", "etched")
"""What becomes of the copper under black: kept, as under toner; etched, as with a negative for dry film."""
DPI = (50.0, 25_400.0)  # pixels per inch
SCREENS = (72.0, 96.0)  # pixels per inch that programs write when they know nothing of paper
SHORTEST_SIDE = 0.005  # m
UNEVEN, OFF = (
    0.005,
    0.01,
)  # pixels may be so far from square, and two statements of size so far apart
MOST_COLOURED = 0.03  # share of the picture: more is a drawing in colours, or a photograph
RIM, EMPTY = 0.98, 0.7  # a rim of one colour; a drawing that fills less than this of the picture
FEW = 4.0  # pixels: narrower things are hardly drawn
SURE, FINE = 3.0, 1e-4  # pixels: thinner lines may be missed; m: lines that boards are drawn with
LINE = 0.0003  # m: a thicker line on the rim of a picture is the border of a scan
ONE_SIDE = "This is one side. Copper on the back that is not covered is etched too: add all of it, or cover it."
"""The doubt that every artwork has."""


@dataclass(frozen=True)
class Narrow:
    """A narrowest place: its width and the doubt of it [m], and its middle from the top left of the picture [m]."""

    width: float
    doubt: float
    x: float
    y: float


@dataclass(frozen=True)
class Artwork:
    """What a picture says of a board. Lengths [m], areas [m²], `bare` and its `bare_low`, `bare_high` [-].

    `bare` is the share of the board to etch; between `bare_low` and `bare_high` it lies if every edge is half a
    pixel off, or if grey counts as black sooner or later (a quarter or three quarters of the way). `edge` is the
    length of all edges [m]: an undercut of so many metres takes that times it from the copper that stays.
    `trace` is the narrowest copper that stays and `gap` the narrowest that goes, None where nothing is narrow.
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
        return self.board_area * self.bare

    def board(self, foil: Foil | None = None) -> Board:
        """The board that a plan takes [m, m²]; its `copper` is what dissolves [mol]. The foil is 1 oz unless given."""
        return Board(self.width, self.height, self.bare, Foil.ounces(1.0) if foil is None else foil)

    def copper_mass(self, foil: Foil | None = None) -> float:
        """Copper to dissolve [kg], of a foil that is 1 oz unless given."""
        return self.area * float(
            np.asarray((Foil.ounces(1.0) if foil is None else foil).areal_mass)
        )

    def copper(self, foil: Foil | None = None) -> float:
        """Copper to dissolve [mol], of a foil that is 1 oz unless given."""
        return float(self.board(foil).copper)

    @property
    def words(self) -> str:
        """Size, bare copper, narrowest places and every doubt, in words [mm, cm², %, g of 1 oz foil]."""
        said = [
            f"{self.name}: {1000 * self.width:.1f} × {1000 * self.height:.1f} mm (hold a ruler to it), "
            f"{1e4 * self.area:.2f} cm² of it bare: {100 * self.bare:.1f} % ({100 * self.bare_low:.1f} to "
            f"{100 * self.bare_high:.1f} %), {1000 * self.copper_mass():.2f} g of copper on a 1 oz foil."
        ]
        said += [
            f"Narrowest {what}: {1000 * place.width:.2f} ± {1000 * place.doubt:.2f} mm, {1000 * place.x:.1f} mm "
            f"from the left and {1000 * place.y:.1f} mm from the top."
            for what, place in (("trace", self.trace), ("gap", self.gap))
            if place is not None
        ]
        return "\n".join([*said, *self.doubts])

    def __str__(self) -> str:
        return self.words


def read_artwork(
    path: str | os.PathLike[str],
    *,
    black: str | None = None,
    dpi: float | None = None,
    width: float | None = None,
    outline: tuple[float, float, float, float] | str | None = None,
) -> Artwork:
    """Read an artwork: PNG, BMP, or TIFF of one page, in black and white or grey. The file is only read.

    Parameters
    ----------
    path : str or Path
        The file.
    black : str, optional
        "kept" or "etched": the copper under black, kept unless given; where that looks wrong, `doubts` say so.
    dpi : float, optional
        Pixels per inch [1/inch], 50 to 25 400; not given the file's own, unless that is a screen's 72 or 96.
    width : float, optional
        How wide the whole picture is [m], instead of `dpi` or to check it.
    outline : tuple or str, optional
        The board: (x, y, width, height) from the top left [m]; or "frame", the inside of the outermost line; or
        not given, the whole picture.

    Returns
    -------
    Artwork
        Areas, shares, narrowest places and doubts, in SI units [m, m²].

    Raises
    ------
    ValueError
        The file's name, then why it cannot be read, or what has to be given; or an argument and its limits.

    Examples
    --------
    >>> import tempfile
    >>> from PIL import Image
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     picture = Image.new("1", (600, 300), 1)
    ...     picture.paste(0, (100, 100, 500, 200))
    ...     picture.save(f"{folder}/strip.png")
    ...     art = read_artwork(f"{folder}/strip.png", dpi=600)
    >>> print(f"{art.area * 1e4:.2f} of {art.board_area * 1e4:.2f} cm², {art.copper_mass() * 1e6:.0f} mg of copper")
    2.51 of 3.23 cm², 77 mg of copper
    """
    if not isinstance(path, str | os.PathLike) or not str(path):
        raise ValueError(f"path = {path!r:.80} is impossible: it must be the name of a file")
    file = pathlib.Path(path)
    black = None if black is None else check_choice("black", black, BLACK)
    dpi = None if dpi is None else check_number("dpi", dpi, *DPI, "pixels per inch")
    width = (
        None if width is None else check_number("width", width, SHORTEST_SIDE, LONGEST_SIDE, "m")
    )
    with naming(file.name or str(file)):
        if not file.is_file():
            raise ValueError(
                "is a folder"
                if file.is_dir()
                else "there is no such file"
                if not os.path.lexists(file)
                else "is not a file"
            )
        try:
            with open(file, "rb") as opened:
                sheet = read_sheet(opened)
        except OSError as wrong:
            raise ValueError(f"cannot be opened: {wrong.strerror or wrong}") from None
        pixel, said = _pixel(sheet.grey.shape[1], sheet.resolution, dpi, width)
        if sheet.coloured > MOST_COLOURED:
            raise ValueError(
                f"has colours on {sheet.coloured:.0%} of it, at most {MOST_COLOURED:.0%} are read: "
                "save the copper layer alone in black and white"
            )
        if sheet.coloured:
            said.append(
                f"{sheet.coloured:.2%} of it is coloured and was read by its brightness: a light colour is "
                "taken for paper. Save the copper layer alone in black and white."
            )
        if SURE * pixel > FINE:
            said.append(
                f"Lines and gaps under {SURE * pixel * 1000:.2g} mm, {SURE:g} pixels, may be missed: "
                "more pixels per inch show them."
            )
        return _measured(file.name, sheet.grey, pixel, black, outline, [*sheet.said, *said])


def _pixel(
    across: int, resolution: tuple[float, float] | None, dpi: float | None, width: float | None
) -> tuple[float, list[str]]:
    """Size of a pixel [m] from what is given, else from the file; and where the two do not agree."""
    said: list[str] = []
    own = None if resolution is None else resolution[0] * INCH
    if dpi is not None and width is not None and abs(across * INCH / dpi / width - 1) > OFF:
        raise ValueError(
            f"dpi = {dpi:g} makes the picture {across * INCH / dpi * 1000:.4g} mm wide and width = "
            f"{width * 1000:.4g} mm: they must agree within {OFF:.0%}"
        )
    given = INCH / dpi if dpi is not None else width / across if width is not None else None
    if given is None:
        ask = f"give dpi = {DPI[0]:g} to {DPI[1]:g} pixels per inch, or width = of the whole picture in m"
        if resolution is None or own is None:
            raise ValueError(f"does not say how large it is: {ask}")
        if abs(resolution[0] / resolution[1] - 1) > UNEVEN:
            raise ValueError(
                f"has {own:.4g} pixels per inch across and {resolution[1] * INCH:.4g} down: they must be "
                f"equal within {UNEVEN:.1%}, or {ask}"
            )
        if any(abs(own / screen - 1) < UNEVEN for screen in SCREENS):
            raise ValueError(
                f"says {own:.0f} pixels per inch, which programs write for a screen when they know no "
                f"size: {ask}"
            )
        return INCH / check_number("its own pixels per inch", own, *DPI, "pixels per inch"), said
    if (
        own is not None
        and abs(own * given / INCH - 1) > OFF
        and not any(abs(own / s - 1) < UNEVEN for s in SCREENS)
    ):
        said.append(
            f"The file says {own:.4g} pixels per inch; it was read with {INCH / given:.4g}, as given."
        )
    return given, said


def _measured(
    name: str,
    grey: NDArray[np.uint8],
    pixel: float,
    black: str | None,
    outline: tuple[float, float, float, float] | str | None,
    said: list[str],
) -> Artwork:
    """The artwork inside the outline."""
    kept = black != "etched"
    left, top, right, bottom = _board(grey, pixel, outline, kept, said)
    height, width = (bottom - top) * pixel, (right - left) * pixel
    for side, length in (("wide", width), ("high", height)):
        if not SHORTEST_SIDE * (1 - OFF) <= length <= LONGEST_SIDE:
            raise ValueError(
                f"makes a board {length * 1000:.4g} mm {side} at {INCH / pixel:.4g} pixels per inch: it "
                f"must be {SHORTEST_SIDE * 1000:g} to {LONGEST_SIDE * 1000:g} mm; check dpi and outline"
            )
    grey = grey[top:bottom, left:right]
    counts = counted(grey)
    low, middle, high = levels(counts)
    early, half, late = (
        float(counts[: int(np.ceil(level))].sum()) / grey.size for level in (low, middle, high)
    )
    if half in (0.0, 1.0):
        raise ValueError(
            f"shows nothing {'lighter' if half else 'darker'} than middle grey: it must hold both; "
            "raise the contrast of a pale or dark scan"
        )
    check_drawn(grey, low, high)
    dark, light = 2 * low - middle, 2 * high - middle
    if (
        not counts[: round(dark)].any() and not counts[round(light) + 1 :].any()
    ):  # drawn: a grey edge is covered in part
        covered = (
            float(((light - np.arange(256)).clip(0) / (light - dark) * counts).sum()) / grey.size
        )
    else:  # scanned: greys are noise too
        covered = half
    edge = edge_length(grey, middle)
    doubt = 0.5 * edge / grey.size
    ends = max(0.0, min(early, covered - doubt)), min(1.0, max(late, covered + doubt))
    shares = (1 - covered, 1 - ends[1], 1 - ends[0]) if kept else (covered, *ends)
    trace, gap = (
        None
        if place is None
        else Narrow(
            place.width * pixel,
            place.doubt * pixel,
            (place.x + left) * pixel,
            (place.y + top) * pixel,
        )
        for place in (narrowest(grey, middle, dark) for dark in (kept, not kept))
    )
    rim = rim_dark(grey, middle)
    line = (
        frame(grey, middle, pixel, kept) if isinstance(outline, tuple | list | np.ndarray) else None
    )
    if line is not None and line[2]:
        said.append(
            f"A line {line[1] * 1000:.2g} mm thick runs along the outline and counts as copper that stays."
        )
    elif (rim if kept else 1 - rim) > RIM:
        other = BLACK[1] if kept else BLACK[0]
        said.append(
            "The rim of the board keeps its copper all round. If that is no ground plane, black and white are "
            f'the other way round: black="{other}".'
        )
    if outline is None:
        said += _margin(grey, middle, pixel, rim, kept)
    for what, place in (("trace", trace), ("gap", gap)):
        if place is not None and place.width < FEW * pixel:
            said.append(
                f"The narrowest {what} is {place.width / pixel:.1f} pixels wide, too few to trust: it may be "
                "dust or a dotted grey, or the picture needs more pixels per inch."
            )
    return Artwork(
        name,
        width,
        height,
        *shares,
        edge * pixel,
        pixel,
        black or BLACK[0],
        trace,
        gap,
        (*said, ONE_SIDE),
    )


def _board(
    grey: NDArray[np.uint8], pixel: float, outline: Any, kept: bool, said: list[str]
) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of the board [pixels]."""
    if outline is None:
        return 0, 0, grey.shape[1], grey.shape[0]
    if not isinstance(outline, str):
        return boxed(outline, grey.shape, pixel)
    check_choice("outline", outline, ("frame",))
    found = frame(grey, levels(counted(grey))[1], pixel, kept)
    box = "give outline = (x, y, width, height) in m"
    if found is None:
        raise ValueError(
            f'outline = "frame": no straight closed line is the outermost {"black" if kept else "white"} '
            f"thing drawn. It must be at most {MOST_FRAME * 1000:g} mm thick and straight along "
            f"{CLOSED:.0%} of each side, its corners may be round; turn the picture straight, or {box}"
        )
    if found[2] and found[1] > LINE:
        raise ValueError(
            f'outline = "frame": the line found lies on the rim of the picture and is '
            f"{found[1] * 1000:.2g} mm thick, over {LINE * 1000:g} mm: the border of a scan? Cut it off, "
            f"or {box}"
        )
    said.append(
        f"The board is the inside of the frame; its line, {found[1] * 1000:.2g} mm thick, was left out. If the "
        "board is meant to the middle of the line, it is half a line larger on each side."
    )
    return found[0]


def _margin(
    grey: NDArray[np.uint8], middle: float, pixel: float, rim: float, kept: bool
) -> list[str]:
    """What to say of a whole picture that may be larger than the board."""
    if 1 - RIM < rim < RIM:
        return []
    line = frame(grey, middle, pixel, kept)
    if line is not None and line[2] and line[1] > LINE:
        return [
            f"A border {line[1] * 1000:.2g} mm thick runs round the picture and counts as copper that stays. If it "
            "comes from a scan, cut it off or give the outline."
        ]
    if line is not None:
        return [
            'A closed line frames the drawing. If it is the outline of the board, give outline="frame".'
        ]
    box = around(grey, middle, rim < 0.5)
    fills = 1.0 if box is None else (box[2] - box[0]) * (box[3] - box[1]) / grey.size
    return (
        []
        if fills > EMPTY
        else [
            f"The drawing fills {fills:.0%} of the picture. If the board is smaller than the "
            "picture, give its outline, or its empty rim counts as board."
        ]
    )
