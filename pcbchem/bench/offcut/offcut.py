"""An offcut: a scrap of board etched to see how long this bench takes, and its row in a log, in lab units."""

from __future__ import annotations

import dataclasses
import decimal
import re
from typing import Any, NamedTuple

from ...common.limits import check_choice, check_number
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import LIMITS
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import (
    AGITATIONS,
    DEPTH,
    FACINGS,
    LEAST_DEPTH,
    LEAST_VOLUME,
    MOST_AREA,
    MOST_AREAL_MASS,
    ROOMY,
    Board,
    Foil,
    Tray,
)
from ..bottle.bottle import BOTTLES, Bottle
from ..plan.inputs import BATH_PER_AREA, MOST_PART, Inputs
from .log_file import Layout

MOST_VOLUME = 1.0  # m³ of bath
MOST_DEPTH = 1e6  # m, where an upright board hangs in hardly any open area
SPARE = 1.02
"""Mixed from any two bottles that there are, a bath is up to 1.02 times smaller or larger than what was poured [-]."""
LONGEST_TEXT = {"acid_bottle": 60, "peroxide_bottle": 60, "date": 40, "note": 1000}  # letters
MOST_NOTE_LINES = 20
CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f\x85\u2028\u2029\ufffd\ud800-\udfff]")
EXACT = decimal.Context(prec=60)
"""Shifting a decimal point is exact in decimal numbers: a value comes back from the file to its last bit."""
ZERO_C = decimal.Decimal("273.15")


class Column(NamedTuple):
    """A column of numbers: places its point moves from SI (None: from kelvin to °C), limits [unit in its name]."""

    places: int | None
    low: float
    high: float
    above: bool = False


NUMBERS = {
    **{f"acid_{end}_percent": Column(2, 0.0, 100 * LIMITS["HCl"]) for end in ("low", "high")},
    **{f"peroxide_{end}_percent": Column(2, 0.0, 100 * LIMITS["H2O2"]) for end in ("low", "high")},
    **{f"{name}_parts": Column(0, 0.0, MOST_PART) for name in ("water", "acid", "peroxide")},
    "bath_mL": Column(6, 0.0, 1e6 * MOST_VOLUME, above=True),
    "bare_cm2": Column(4, 0.0, 1e4 * MOST_AREA, above=True),
    "foil_g_per_m2": Column(3, 0.0, 1e3 * MOST_AREAL_MASS, above=True),
    "open_cm2": Column(4, 0.0, 1e4 * MOST_AREA, above=True),
    "bottles_C": Column(None, round(BOTTLES[0] - 273.15, 2), round(BOTTLES[1] - 273.15, 2)),
    "air_C": Column(None, round(T_LOW - 273.15, 2), round(T_HIGH - 273.15, 2)),
    "clear_after_s": Column(0, 0.0, LONGEST, above=True),
    "not_clear_after_s": Column(0, 0.0, LONGEST, above=True),
}
MAY_BE_BLANK = ("open_cm2", "air_C", "clear_after_s", "not_clear_after_s")


@dataclasses.dataclass(frozen=True, eq=False)
class Offcut:
    """A scrap of board in a bath of known parts, and when it was seen clear.

    Every check of a plan's inputs is made, and its time can be computed; whether it was wise to mix it is not judged.
    Plan a bath before every offcut: a bath that `plan` refuses has no offcut. A board is one side: copper on the back
    that is not covered is etched too, so count it into the area, or cover it.

    Parameters
    ----------
    acid, peroxide : Bottle
        How strong, as far as known; a label is not kept.
    parts : tuple of three
        Water, acid and peroxide by volume [-].
    volume : float
        Bath [m³], to 1, or to 0.0392 in a tray without its open area; at least 0.102 mL, and 0.102 mm deep.
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
        volume = check_number("volume", self.volume, 0.0, MOST_VOLUME, "m³", above=True)
        if not isinstance(self.board, Board):
            raise ValueError(f"board = {self.board!r} is impossible: it must be a Board")
        area = check_number("board: area", self.board.area, 0.0, MOST_AREA, "m²", above=True)
        board = self.board if self.board.width is None else Board(area=area, foil=self.board.foil)
        plain = {
            name: Bottle(bottle.substance, bottle.low, bottle.high)
            if getattr(bottle, "label", None)
            else bottle
            for name, bottle in (("acid", self.acid), ("peroxide", self.peroxide))
        }
        given = Inputs(
            plain["acid"],
            plain["peroxide"],
            self.parts,
            board,
            self.tray,
            volume / area,
            "elsewhere",
            self.T_bottles,
        )
        open_area = None if self.tray.open_area is None else float(given.tray.open_area)  # type: ignore[arg-type]
        if open_area is None and area > MOST_AREA / ROOMY:
            check_number("board: area", area, 0.0, MOST_AREA / ROOMY, "m²", above=True)
        least, most = bath_ends(area, open_area)
        if not least <= volume <= most:
            check_number("volume", volume, least, most, "m³")
        if self.time is not None:
            object.__setattr__(
                self, "time", check_number("time", self.time, 0.0, LONGEST, "s", above=True)
            )
        if not isinstance(self.clear, bool) or not (self.clear or self.time is not None):
            raise ValueError(
                f"clear = {self.clear!r} is impossible: it must be True, or False with a time"
            )
        for name in LONGEST_TEXT:
            object.__setattr__(self, name, worded(name, getattr(self, name)))
        parts = tuple(float(part) for part in self.parts)
        for name, value in {
            **plain,
            "parts": parts,
            "volume": volume,
            "board": board,
            "given": given,
            "T_bottles": given.T_bottles,
        }.items():
            object.__setattr__(self, name, value)


def bath_ends(area: float, open_area: float | None) -> tuple[float, float]:
    """Least and most bath [m³] whose time can be computed, over copper [m²] in a tray of that open area [m²], or None.

    Examples
    --------
    >>> print(f"{bath_ends(4e-4, 0.01)[0] * 1e6:.2f} mL")
    1.02 mL
    """
    surface = ROOMY * area if open_area is None else open_area
    return (
        SPARE * max(LEAST_VOLUME, LEAST_DEPTH * surface),
        MOST_AREA * DEPTH / SPARE
        if open_area is None
        else min(MOST_VOLUME, MOST_DEPTH * open_area / SPARE),
    )


def worded(name: str, text: Any) -> str:
    """A text of an offcut within its limits, or ValueError naming it; bottles' names without spaces around them."""
    if not isinstance(text, str):
        raise ValueError(f"{name} = {text!r:.80} is impossible: it must be a text")
    text = str(text.strip() if name.endswith("_bottle") else text)
    most = LONGEST_TEXT[name]
    if not (0 if name in ("date", "note") else 1) <= len(text) <= most:
        raise ValueError(
            f"{name} of {len(text)} letters is impossible: it must have "
            f"{'at most' if name in ('date', 'note') else '1 to'} {most}"
        )
    if text.count("\n") >= MOST_NOTE_LINES:
        raise ValueError(
            f"{name} of so many lines is impossible: it must have at most {MOST_NOTE_LINES}"
        )
    wrong = CONTROLS.search(text if name == "note" else text.replace("\n", "\r"))
    if wrong:
        raise ValueError(f"{name} = {text!r:.80} is impossible: it must hold no {wrong.group()!a}")
    return str(text)


def cells_of(offcut: Offcut) -> dict[str, str]:
    """The row of an offcut, text by text, with decimal points."""
    if not isinstance(offcut, Offcut):
        raise ValueError(f"offcut = {offcut!r:.80} is impossible: it must be an Offcut")
    if offcut.time is None:
        raise ValueError(
            "time = None is impossible in a log: it must be above 0, of an offcut that was etched"
        )
    board, tray, foil = offcut.board, offcut.tray, offcut.board.foil
    values: dict[str, Any] = dict(
        zip(
            NUMBERS,
            (
                offcut.acid.low,
                offcut.acid.high,
                offcut.peroxide.low,
                offcut.peroxide.high,
                *offcut.parts,
                offcut.volume,
                board.area,
                foil.areal_mass,
                tray.open_area,
                offcut.T_bottles,
                tray.T_air,
                offcut.time if offcut.clear else None,
                None if offcut.clear else offcut.time,
            ),
            strict=True,
        )
    )
    texts = {
        name: "" if value is None else in_lab_units(float(value), NUMBERS[name].places)
        for name, value in values.items()
    }
    return texts | {
        "date": offcut.date,
        "acid_bottle": offcut.acid_bottle,
        "peroxide_bottle": offcut.peroxide_bottle,
        "agitation": tray.agitation,
        "facing": tray.facing,
        "note": offcut.note,
    }


def in_lab_units(value: float, places: int | None) -> str:
    """A value [SI] as its exact decimal text in the unit of its column; it never looks like whole thousands."""
    exact = decimal.Decimal(repr(value + 0.0))
    lab = EXACT.subtract(exact, ZERO_C) if places is None else EXACT.scaleb(exact, places)
    lab = lab.normalize(EXACT)
    text = format(lab, "f") if -30 < lab.adjusted() < 30 else str(lab)
    return text + "0" if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text) else text


def in_si(lab: decimal.Decimal, places: int | None) -> float:
    """A number in the unit of its column as SI [SI], rounded once."""
    return float(EXACT.add(lab, ZERO_C) if places is None else EXACT.scaleb(lab, -places))


def offcut_of(cells: dict[str, str], layout: Layout) -> Offcut:
    """The offcut in a row, or ValueError naming column, value and limits in the unit of the column."""
    exact: dict[str, decimal.Decimal] = {}
    for name, column in NUMBERS.items():
        if cells[name].strip():
            exact[name] = layout.number(name, cells[name])
            check_number(name, float(exact[name]), column.low, column.high, "", above=column.above)
        elif name not in MAY_BE_BLANK:
            raise ValueError(
                f"{name} is blank: it must be {'above ' * column.above}{column.low:g} to {column.high:g}"
            )
    for kind in ("acid", "peroxide"):
        weak, strong = exact[f"{kind}_low_percent"], exact[f"{kind}_high_percent"]
        if weak > strong:
            raise ValueError(
                f"{kind}_low_percent = {weak} is impossible: it must be at most "
                f"{kind}_high_percent = {strong}"
            )
    bath, bare, room = (exact.get(name) for name in ("bath_mL", "bare_cm2", "open_cm2"))
    assert bath is not None and bare is not None
    least, most = (100 * end for end in BATH_PER_AREA)
    if not least <= float(bath) / float(bare) <= most:
        raise ValueError(
            f"bath_mL = {bath} is impossible over bare_cm2 = {bare}: it must be {least:g} to {most:g} mL "
            "per cm²"
        )
    words = {
        name: check_choice(name, cells[name].strip().lower()[:40], choices)
        for name, choices in (("agitation", AGITATIONS), ("facing", FACINGS))
    }
    if room is not None and words["facing"] != "upright" and bare > room:
        raise ValueError(
            f"bare_cm2 = {bare} is impossible facing {words['facing']}: "
            f"it must be above 0 to open_cm2 = {room}"
        )
    if room is None and float(bare) > 1e4 * MOST_AREA / ROOMY:
        check_number(
            "bare_cm2 with open_cm2 blank",
            float(bare),
            0.0,
            1e4 * MOST_AREA / ROOMY,
            "",
            above=True,
        )
    ends = bath_ends(in_si(bare, 4), None if room is None else in_si(room, 4))
    if not ends[0] <= in_si(bath, 6) <= ends[1]:
        over = (
            f"over bare_cm2 = {bare} with open_cm2 blank"
            if room is None
            else f"over open_cm2 = {room}"
        )
        raise ValueError(
            f"bath_mL = {bath} is impossible {over}: "
            f"it must be {1e6 * ends[0]:.4g} to {1e6 * ends[1]:.6g}"
        )
    times = [name for name in ("clear_after_s", "not_clear_after_s") if name in exact]
    if len(times) != 1:
        raise ValueError(
            f"clear_after_s and not_clear_after_s are {'both given' if times else 'both blank'}: "
            "exactly one of them must be given"
        )
    si = {name: in_si(number, NUMBERS[name].places) for name, number in exact.items()}
    acid, peroxide = (
        Bottle(substance, si[f"{kind}_low_percent"], si[f"{kind}_high_percent"])
        for kind, substance in (("acid", "HCl"), ("peroxide", "H2O2"))
    )
    parts = (si["water_parts"], si["acid_parts"], si["peroxide_parts"])
    return Offcut(
        acid,
        peroxide,
        parts,
        si["bath_mL"],
        Board(area=si["bare_cm2"], foil=Foil(si["foil_g_per_m2"])),
        Tray(**words, open_area=si.get("open_cm2"), T_air=si.get("air_C")),
        si["bottles_C"],
        si[times[0]],
        times[0] == "clear_after_s",
        **{name: cells[name] for name in LONGEST_TEXT},
    )
