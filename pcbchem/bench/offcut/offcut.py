"""An offcut: a scrap of board etched to see how long this bench takes."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable
from typing import Any, NamedTuple

import numpy as np

from ...common.limits import InputError, check_kind, check_number
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import (
    DEPTH,
    LEAST_DEPTH,
    LEAST_VOLUME,
    MOST_AREA,
    ROOMY,
    Board,
    Foil,
    Tray,
)
from ..bottle.bottle import Bottle
from ..plan.inputs import Inputs

MOST_VOLUME = 1.0
"""Largest bath [m³]."""
MOST_DEPTH = 1e6
"""Deepest bath [m]: an upright board may hang in hardly any open area."""
SPARE = 1.02
"""Mixed from any two bottles that there are, a bath is up to so many times smaller or larger than
what was poured [-]."""
LONGEST_TEXT = {"acid_bottle": 60, "peroxide_bottle": 60, "date": 40, "note": 1000}
"""Most letters of each text."""
MAY_BE_EMPTY = ("date", "note")
MOST_NOTE_LINES = 20
# Control letters, line ends other than a line feed, the sign for a lost letter, halves of a pair
FORBIDDEN = re.compile("[\x00-\x08\x0b-\x1f\x7f\x85\u2028\u2029\ufffd\ud800-\udfff]")
"""Letters that do not come back from a file of text."""

FOIL_DECIMALS = 5
"""Foil is written to 0.01 g/m² [decimals of kg/m²] (our choice)."""

SAME_TRAY = 0.15
"""How far a board lies from what an offcut says of it, in the same tray and hand: standard
deviation of the logarithm of the time (assumed) [-]."""
OTHER_TRAY = 0.3
"""The same in another tray or hand, or by an offcut that is too small (assumed) [-]."""
LARGE = 0.5
"""An offcut of at least this share of a board's bare copper is like it (assumed) [-]."""
ROUNDING = 1e-9
"""Half a board is half a board, whatever rounding says [-]."""
SAME_OPEN_AREA = 1.1
"""Trays whose open areas lie within this factor are taken for one (assumed) [-]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Offcut:
    """A scrap of board in a bath of known parts, and when it was seen clear.

    Every check of a plan's inputs is made, and its time can be computed; whether it was wise to mix
    it is not judged. Plan a bath before every offcut: a bath that `plan` refuses has no offcut.
    A board is one side: copper on the back that is not covered is etched too, so count it into the
    area, or cover it.

    Parameters
    ----------
    acid, peroxide : Bottle
        How strong, as far as known; a label is not kept.
    parts : tuple of three
        Water, acid and peroxide by volume [-].
    volume : float
        Bath [m³], to 1, or to 0.0392 in a tray without its open area; at least 0.102 mL, and
        0.102 mm deep.
    board : Board
        Its bare copper, on both sides where both are bare, and its foil; sides are not kept.
    tray : Tray
        How the bath was moved, and which way the copper looked.
    T_bottles : float
        Temperature of the bottles [K].
    time : float, optional
        When it was clear [s after the board went in], above 0 to 4 h; None: not etched yet.
    clear : bool
        False: still not clear at `time`.
    acid_bottle, peroxide_bottle : str
        Names of the bottles: offcuts that name the same bottle share its unknown strength.
    date, note : str
        Free words; only the note may have several lines.

    Attributes
    ----------
    inputs : Inputs
        The same as a plan's inputs, all fresh and in one portion, with 200 draws.

    Raises
    ------
    ValueError
        A value that cannot be: names it and its limits.

    Examples
    --------
    >>> offcut = Offcut(
    ...     acid=Bottle.labelled("HCl", 0.10),
    ...     peroxide=Bottle("H2O2", 0.09, 0.12),
    ...     parts=(1, 1, 1),
    ...     volume=50e-6,
    ...     board=Board(area=5e-4),
    ...     tray=Tray(),
    ...     T_bottles=293.15,
    ...     time=240,
    ... )
    >>> print(f"{offcut.inputs.bath_per_area * 100:.0f} mL per cm²")
    10 mL per cm²
    """

    acid: Bottle
    peroxide: Bottle
    parts: tuple[float, float, float]
    volume: float
    board: Board
    tray: Tray
    T_bottles: float
    time: float | None = None
    clear: bool = True
    acid_bottle: str = "acid"
    peroxide_bottle: str = "peroxide"
    date: str = ""
    note: str = ""
    inputs: Inputs = dataclasses.field(init=False, repr=False)

    def __post_init__(self) -> None:
        # Both are checked before one is divided by the other, and before a plan's check names them
        volume = check_number("volume", self.volume, 0.0, MOST_VOLUME, "m³", above=True)
        board, area = _board_of_row(self.board)
        # A plan's inputs check all that an offcut shares with a plan
        inputs = Inputs(
            acid=_without_label(self.acid),
            peroxide=_without_label(self.peroxide),
            parts=self.parts,
            board=board,
            tray=self.tray,
            bath_per_area=volume / area,
            place="elsewhere",  # the rules of a place are the plan's, an offcut is not judged
            T_bottles=self.T_bottles,
        )
        _check_depth(volume, area, self.tray)
        time = _check_time(self.time, self.clear)

        # What was checked takes the place of what came: the only way into a frozen dataclass
        checked = {
            "acid": inputs.acid,
            "peroxide": inputs.peroxide,
            "parts": tuple(float(part) for part in self.parts),  # as they stand in the log
            "volume": volume,
            "board": board,
            "T_bottles": inputs.T_bottles,
            "time": time,
            "inputs": inputs,
        }
        for name in LONGEST_TEXT:
            checked[name] = check_text(name, getattr(self, name))
        for name, value in checked.items():
            object.__setattr__(self, name, value)


def _board_of_row(board: Any) -> tuple[Board, float]:
    """Return what a row of a log holds of a board, its area and foil, and the area [m²]."""
    check_kind("board", board, Board)
    area = check_number("board: area", board.area, 0.0, MOST_AREA, "m²", above=True)
    # To the last bit 1 oz/ft² is 305.15172727394063 g/m²: nobody weighs a foil so well, and in a
    # log such a number looks as if somebody had
    areal_mass = float(np.asarray(board.foil.areal_mass))
    rounded = round(areal_mass, FOIL_DECIMALS)
    if rounded == 0:
        rounded = areal_mass
    return Board(area=area, foil=Foil(rounded)), area


def _check_time(time: Any, clear: Any) -> float | None:
    """Return the time [s] of an offcut, or refuse it; without one it cannot be "not clear"."""
    checked_time = None
    if time is not None:
        checked_time = check_number("time", time, 0.0, LONGEST, "s", above=True)
    if not isinstance(clear, bool) or (time is None and not clear):
        raise InputError(
            "clear", "it must be True, or False with a time", value=clear, about=f" = {clear!r}"
        )
    return checked_time


def _without_label(bottle: Bottle) -> Bottle:
    """Return what a row of a log can hold of a bottle: its ends."""
    if not isinstance(bottle, Bottle) or bottle.label is None:
        return bottle
    return Bottle(bottle.substance, bottle.low, bottle.high)


def _check_depth(volume: float, area: float, tray: Tray) -> None:
    """Refuse a bath [m³] over copper [m²] that is too shallow or too large to be computed."""
    if tray.open_area is None:
        open_area = None
        # Such a tray is `ROOMY` times wider than its copper, and no tray is wider than `MOST_AREA`
        check_number("board: area", area, 0.0, MOST_AREA / ROOMY, "m²", above=True)
    else:
        open_area = float(np.asarray(tray.open_area))
    check_number("volume", volume, *bath_limits(area, open_area), "m³")


class Transfer(NamedTuple):
    """How far a board may lie from what offcuts say of it.

    `doubt`: standard deviation of the logarithm of its time [-]. `reasons`: all that keeps the
    doubt from being the smaller one, of `TRANSFER_WORDS`.
    """

    doubt: float
    reasons: tuple[str, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """Which doubt was taken and why [%]; nothing without offcuts."""
        if self.doubt == 0.0:
            return ()
        step = f"The step from offcut to board is taken to be good to {100 * self.doubt:.0f} %."
        if not self.reasons:
            return (step, "At least one offcut was etched like the board, and is large enough.")
        return (step, *(TRANSFER_WORDS[reason] for reason in self.reasons))


TRANSFER_WORDS = {
    "hand": "Nobody said that the same hand etches the board in the same tray.",
    "movement": "No offcut was moved like the board.",
    "facing": "No offcut faced the way the board does.",
    "tray": "No offcut was etched in a tray as wide as the board's.",
    "size": f"No offcut has {100 * LARGE:.0f} % of the board's bare copper or more.",
    "together": "No single offcut had tray, movement and size of the board at once.",
}
"""What makes the step from offcut to board doubtful."""


def transfer(offcuts: Iterable[Offcut], inputs: Inputs, same_hand: bool) -> Transfer:
    """Tell how far a board may lie from what offcuts say of it.

    Parameters
    ----------
    offcuts : iterable of Offcut
        Those that fit what they say.
    inputs : Inputs
        The board and its bath.
    same_hand : bool
        Whether the hand that etched the offcuts etches the board, in the same tray.

    Returns
    -------
    Transfer
        `SAME_TRAY` where one offcut was as the board will be, else `OTHER_TRAY` [-].

    Examples
    --------
    >>> from pcbchem.bench.plan.inputs import Inputs
    >>> bottles = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> tray, board = Tray(open_area=0.015), Board(area=27e-4)
    >>> offcut = Offcut(*bottles, (0, 1, 1), 150e-6, Board(area=4e-4), tray, 293.15, 200.0)
    >>> inputs = Inputs(*bottles, (0, 1, 1), board, tray, 0.05, "EU")
    >>> print(transfer([offcut], inputs, same_hand=True))
    Transfer(doubt=0.3, reasons=('size',))
    """
    if not isinstance(same_hand, bool):
        raise InputError(
            "same_hand", "it must be True or False", value=same_hand, about=f" = {same_hand!r:.80}"
        )
    unlike = [_unlike(offcut, inputs) for offcut in offcuts]
    # One offcut that is like the board is enough, however unlike the others are
    shared = set(TRANSFER_WORDS).intersection(*unlike)
    if unlike and all(unlike) and not shared:
        shared = {"together"}
    if not same_hand:
        shared.add("hand")
    reasons = tuple(reason for reason in TRANSFER_WORDS if reason in shared)
    if reasons:
        return Transfer(OTHER_TRAY, reasons)
    return Transfer(SAME_TRAY, ())


def _unlike(offcut: Offcut, inputs: Inputs) -> set[str]:
    """Return in what an offcut was not etched as a board will be, of `TRANSFER_WORDS`."""
    bare = float(inputs.board.copper_area)
    offcut_bare = float(offcut.board.copper_area)
    # A tray of which nobody said the open area is as wide as its bath makes it
    surfaces = (
        float(offcut.tray.surface(offcut.volume, offcut_bare)),
        float(inputs.tray.surface(bare * inputs.bath_per_area, bare)),
    )
    is_unlike = {
        "movement": offcut.tray.agitation != inputs.tray.agitation,
        "facing": offcut.tray.facing != inputs.tray.facing,
        "tray": max(surfaces) > SAME_OPEN_AREA * min(surfaces),
        "size": offcut_bare < LARGE * bare * (1 - ROUNDING),
    }
    return {reason for reason, holds in is_unlike.items() if holds}


def bath_limits(area: float, open_area: float | None) -> tuple[float, float]:
    """Find the least and the most bath whose time can be computed.

    Parameters
    ----------
    area : float
        Bare copper [m²].
    open_area : float or None
        Open area of the tray [m²]; None: the bath lies 10 mm deep, or covers the copper.

    Returns
    -------
    tuple of float
        Least and most bath [m³].

    Examples
    --------
    >>> print(f"{bath_limits(4e-4, 0.01)[0] * 1e6:.2f} mL")
    1.02 mL
    """
    if open_area is None:
        # A little bath lies over ROOMY times the copper; a large one gets wider until MOST_AREA
        surface = ROOMY * area
        most = MOST_AREA * DEPTH / SPARE
    else:
        surface = open_area
        most = min(MOST_VOLUME, MOST_DEPTH * open_area / SPARE)
    # Mixed liquids shrink or swell, and how strong they are is in doubt: SPARE covers all of it
    return SPARE * max(LEAST_VOLUME, LEAST_DEPTH * surface), most


def check_text(name: str, text: Any) -> str:
    """Return a text of an offcut, a bottle's name without spaces around it.

    Parameters
    ----------
    name : str
        Which text, a key of `LONGEST_TEXT`.
    text : str
        The text.

    Returns
    -------
    str
        The text within its limits.

    Raises
    ------
    InputError
        No text, too long, too many lines, or letters that do not come back from a file.

    Examples
    --------
    >>> print(check_text("acid_bottle", " old one "))
    old one
    """
    if not isinstance(text, str):
        raise InputError(name, "it must be a text", value=text, about=f" = {text!r:.80}")
    if name.endswith("_bottle"):
        text = text.strip()  # a name tells bottles apart, and nobody sees a space
    most = LONGEST_TEXT[name]
    if name in MAY_BE_EMPTY:
        least, letters = 0, f"at most {most}"
    else:
        least, letters = 1, f"1 to {most}"
    if not least <= len(text) <= most:
        raise InputError(
            name, f"it must have {letters}", value=text, about=f" of {len(text)} letters"
        )
    if text.count("\n") >= MOST_NOTE_LINES:
        raise InputError(
            name,
            f"it must have at most {MOST_NOTE_LINES}",
            value=text,
            about=" of so many lines",
        )
    in_one_line = text
    if name != "note":
        in_one_line = text.replace("\n", "\r")  # in one line a line feed is as forbidden as this
    wrong = FORBIDDEN.search(in_one_line)
    if wrong:
        raise InputError(name, f"it must hold no {wrong.group()!a}", value=text)
    return str(text)  # a plain one also where it came out of an array
