"""A log of offcuts: scraps of board etched to see how long this bench takes, one row each, in lab units in its file."""

from __future__ import annotations

import csv
import dataclasses
import decimal
import hashlib
import io
import re
from collections.abc import Iterable
from typing import Any

from ..reaction.bath import LONGEST
from ..reaction.setup import Board, Tray
from .inputs import Bottle, Inputs, one

MOST_VOLUME = 1.0  # m³ of bath
LONGEST_TEXT = {"acid_bottle": 60, "peroxide_bottle": 60, "date": 40, "note": 1000}  # letters
CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f\x85\u2028\u2029\ufffd\ud800-\udfff]")
EXACT = decimal.Context(prec=60)
"""Shifting a decimal point is exact in decimal numbers: a value comes back from the file to its last bit."""
ZERO_C = decimal.Decimal("273.15")
NUMBERS = {"acid_low_percent": 2, "acid_high_percent": 2, "peroxide_low_percent": 2, "peroxide_high_percent": 2,
           "water_parts": 0, "acid_parts": 0, "peroxide_parts": 0, "bath_mL": 6, "bare_cm2": 4, "foil_g_per_m2": 3,
           "open_cm2": 4, "bottles_C": None, "air_C": None, "clear_after_s": 0, "not_clear_after_s": 0}
"""Columns of numbers: how many places the point moves from SI to the unit in the name; None: from kelvin to °C."""
COLUMNS = ("date", "acid_bottle", "acid_low_percent", "acid_high_percent", "peroxide_bottle", "peroxide_low_percent",
           "peroxide_high_percent", "water_parts", "acid_parts", "peroxide_parts", "bath_mL", "bare_cm2",
           "foil_g_per_m2", "agitation", "facing", "open_cm2", "bottles_C", "air_C", "clear_after_s",
           "not_clear_after_s", "note")


@dataclasses.dataclass(frozen=True, eq=False)
class Offcut:
    """A scrap of board in a bath of known parts, and when it was seen clear; every check of a plan is made.

    Parameters
    ----------
    acid, peroxide : Bottle
        How strong, as far as known; a label is not kept.
    parts : tuple of three
        Water, acid and peroxide by volume [-].
    volume : float
        Bath [m³], above 0 to 1.
    board : Board
        Its bare copper and its foil; sides are not kept.
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

    Raises
    ------
    ValueError
        A value that cannot be: names it and its limits.

    Examples
    --------
    >>> offcut = Offcut(Bottle.labelled("HCl", 0.10), Bottle("H2O2", 0.09, 0.12), (1, 1, 1), 50e-6,
    ...                 Board(area=5e-4), Tray(), 293.15, time=240)
    >>> print(f"{offcut.given.bath_per_area * 100:.0f} mL per cm²")
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
    given: Inputs = dataclasses.field(init=False, repr=False)
    """The same as a plan's inputs, all fresh and in one portion, with 200 draws."""

    def __post_init__(self) -> None:
        volume = one("volume", self.volume, 0.0, MOST_VOLUME, "m³", above=True)
        if not isinstance(self.board, Board):
            raise ValueError(f"board = {self.board!r} is impossible: it must be a Board")
        area = one("board: area", self.board.area, 0.0, 4.0, "m²", above=True)
        given = Inputs(self.acid, self.peroxide, self.parts, Board(area=area, foil=self.board.foil), self.tray,
                       volume / area, "elsewhere", self.T_bottles)
        if self.time is not None:
            object.__setattr__(self, "time", one("time", self.time, 0.0, LONGEST, "s", above=True))
        if not isinstance(self.clear, bool) or not (self.clear or self.time is not None):
            raise ValueError(f"clear = {self.clear!r} is impossible: it must be True, or False with a time")
        for name in LONGEST_TEXT:
            object.__setattr__(self, name, worded(name, getattr(self, name)))
        plain = {name: Bottle(bottle.substance, bottle.low, bottle.high)
                 for name, bottle in (("acid", self.acid), ("peroxide", self.peroxide))}
        parts = tuple(float(part) for part in self.parts)
        for name, value in {**plain, "parts": parts, "volume": volume, "board": given.board, "given": given,
                            "T_bottles": given.T_bottles}.items():
            object.__setattr__(self, name, value)


@dataclasses.dataclass(frozen=True, eq=False)
class Log:
    """Offcuts, the line of the file each begins on, the bad rows as (line, reason), and the hash of the bytes."""

    offcuts: tuple[Offcut, ...]
    lines: tuple[int, ...]
    bad: tuple[tuple[int, str], ...]
    sha256: str

    @classmethod
    def of(cls, offcuts: Iterable[Offcut]) -> Log:
        """A log from memory, as a new file with these offcuts would be read.

        Parameters
        ----------
        offcuts : iterable of Offcut
            Etched, each with its time.

        Returns
        -------
        Log
            `sha256` is that of the text the file would hold.

        Raises
        ------
        ValueError
            Something else, an offcut without a time, or one name for two bottles.

        Examples
        --------
        >>> print(len(Log.of([]).offcuts))
        0
        """
        known: dict[tuple[str, str], tuple[int, Bottle]] = {}
        rows, lines, at = [",".join(COLUMNS) + "\n"], [], 2
        offcuts = tuple(offcuts)
        for offcut in offcuts:
            cells = cells_of(offcut)
            share_bottles(offcut, at, known)
            text = io.StringIO()
            csv.writer(text, lineterminator="\n").writerow(cells[name] for name in COLUMNS)
            rows.append(text.getvalue())
            lines.append(at)
            at += rows[-1].count("\n")
        return cls(offcuts, tuple(lines), (), hashlib.sha256("".join(rows).encode("utf-8")).hexdigest())


def worded(name: str, text: Any) -> str:
    """A text of an offcut within its limits, or ValueError naming it; bottles' names without spaces around them."""
    if not isinstance(text, str):
        raise ValueError(f"{name} = {text!r:.80} is impossible: it must be a text")
    text = text.strip() if name.endswith("_bottle") else text
    most = LONGEST_TEXT[name]
    if not (0 if name in ("date", "note") else 1) <= len(text) <= most:
        raise ValueError(f"{name} of {len(text)} letters is impossible: it must have "
                         f"{'at most' if name in ('date', 'note') else '1 to'} {most}")
    wrong = CONTROLS.search(text if name == "note" else text.replace("\n", "\r"))
    if wrong:
        raise ValueError(f"{name} = {text!r:.80} is impossible: it must hold no {wrong.group()!a}")
    return text


def share_bottles(offcut: Offcut, line: int, known: dict[tuple[str, str], tuple[int, Bottle]]) -> None:
    """Note which bottles an offcut names, or refuse a name that stood for another strength before."""
    for kind in ("acid", "peroxide"):
        name, bottle = getattr(offcut, f"{kind}_bottle"), getattr(offcut, kind)
        first, before = known.get((kind, name), (line, bottle))
        if bottle != before:
            raise ValueError(f"{kind}_bottle = {name!r} is {bottle.low * 100:g} to {bottle.high * 100:g} % here and "
                             f"{before.low * 100:g} to {before.high * 100:g} % in line {first}: "
                             "give it another name, or the same limits")
    for kind in ("acid", "peroxide"):
        known.setdefault((kind, getattr(offcut, f"{kind}_bottle")), (line, getattr(offcut, kind)))


def cells_of(offcut: Offcut) -> dict[str, str]:
    """The row of an offcut, text by text, with decimal points."""
    if not isinstance(offcut, Offcut):
        raise ValueError(f"offcut = {offcut!r:.80} is impossible: it must be an Offcut")
    if offcut.time is None:
        raise ValueError("time = None is impossible in a log: it must be above 0, of an offcut that was etched")
    board, tray, foil = offcut.board, offcut.tray, offcut.board.foil
    values: dict[str, Any] = dict(zip(
        NUMBERS, (offcut.acid.low, offcut.acid.high, offcut.peroxide.low, offcut.peroxide.high, *offcut.parts,
                  offcut.volume, board.area, foil.areal_mass, tray.open_area, offcut.T_bottles, tray.T_air,
                  offcut.time if offcut.clear else None, None if offcut.clear else offcut.time), strict=True))
    texts = {name: "" if value is None else in_lab_units(float(value), NUMBERS[name]) for name, value in values.items()}
    return texts | {"date": offcut.date, "acid_bottle": offcut.acid_bottle, "peroxide_bottle": offcut.peroxide_bottle,
                    "agitation": tray.agitation, "facing": tray.facing, "note": offcut.note}


def in_lab_units(value: float, places: int | None) -> str:
    """A value [SI] as its exact decimal text in the unit of its column; it never looks like whole thousands."""
    exact = decimal.Decimal(repr(value + 0.0))
    lab = EXACT.subtract(exact, ZERO_C) if places is None else EXACT.scaleb(exact, places)
    lab = lab.normalize(EXACT)
    text: str = format(lab, "f") if -30 < lab.adjusted() < 30 else str(lab)
    return text + "0" if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text) else text


def in_si(lab: decimal.Decimal, places: int | None) -> float:
    """A number in the unit of its column as SI [SI], rounded once."""
    return float(EXACT.add(lab, ZERO_C) if places is None else EXACT.scaleb(lab, -places))
