"""What may be wrong with the picture of an artwork: a sentence for each doubt.

Each function adds to a list of sentences; what cannot be read at all is refused.
"""

from __future__ import annotations

from .drawing import Grey, box_around, dark_share_of_rim, frame
from .picture_file import GreyPicture

KEPT, ETCHED = "kept", "etched"
BLACK = (KEPT, ETCHED)
"""What becomes of the copper under black.

Kept, as under toner; etched, as with a negative for dry film.
"""
MOST_COLOURED = 0.03
"""Share of the picture that may be coloured [-]: more is a drawing in colours, or a photograph."""
ONE_COLOUR = 0.98
"""A rim that is so much of one colour is all of it [-]."""
FULL = 0.7
"""A drawing that fills more than this of the picture fills it [-]."""
TRUSTED_PIXELS = 4.0
"""A place narrower than this is hardly drawn [pixels]."""
THICK_LINE = 0.0003
"""A thicker line on the rim of a picture is the border of a scan [m]."""


def doubt_colours(picture: GreyPicture, doubts: list[str]) -> None:
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


def doubt_outline(
    grey: Grey,
    middle: float,
    pixel: float,
    outline: tuple[float, float, float, float] | str | None,
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
        # said without a name of Python's: a page says it too
        opposite = "stays"
        if dark_stays:
            opposite = "goes"
        doubts.append(
            "The rim of the board keeps its copper all round. If that is no ground plane, black "
            f"and white are the other way round: black is copper that {opposite}."
        )
    # A whole picture may be larger than the board; but not if its rim is drawn on
    if outline is None and not 1 - ONE_COLOUR < rim < ONE_COLOUR:
        doubt_margin(grey, middle, pixel, rim < 0.5, dark_stays, doubts)


def doubt_margin(
    grey: Grey,
    middle: float,
    pixel: float,
    light_rim: bool,
    dark_stays: bool,
    doubts: list[str],
) -> None:
    """Say why a whole picture with a rim of one colour may be larger than the board.

    From the picture, its middle level [0 to 255] and the size of a pixel [m].
    """
    line = frame(grey, middle, pixel, dark_stays)
    if line is not None and line.on_rim and line.thickness > THICK_LINE:
        doubts.append(
            f"A border {line.thickness * 1000:.2g} mm thick runs round the picture and counts as "
            "copper that stays. If it comes from a scan, cut it off or give the outline."
        )
        return
    if line is not None:
        doubts.append(
            "A closed line frames the drawing. If it is the outline of the board, cut the picture "
            "there, or give the frame as its outline."
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


def doubt_narrow(name: str, width: float | None, pixel: float, doubts: list[str]) -> None:
    """Say that the narrowest trace or gap [m] has too few pixels [m] to be trusted, if so."""
    if width is not None and width < TRUSTED_PIXELS * pixel:
        doubts.append(
            f"The narrowest {name} is {width / pixel:.1f} pixels wide, too few to trust: it "
            "may be dust or a dotted grey, or the picture needs more pixels per inch."
        )
