"""The row of an offcut in a log: texts by column, in lab units, exact to the last bit."""

from __future__ import annotations

import decimal
import re
from typing import NamedTuple

import numpy as np

from ...common.limits import InputError, check_choice, check_number, limits_in_words
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import LIMITS
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.setup import (
    AGITATIONS,
    FACINGS,
    MOST_AREA,
    MOST_AREAL_MASS,
    Board,
    Foil,
    Tray,
)
from ..bottle.bottle import BOTTLE_TEMPERATURES, Bottle
from ..plan.inputs import MOST_PART
from .log_layout import Layout
from .offcut import MOST_VOLUME, Offcut

EXACT = decimal.Context(prec=60)
"""Moving a decimal point is exact in decimal numbers: a value comes back to its last bit."""
ZERO_C = decimal.Decimal("273.15")
# As the reader of a log doubts it: one to three digits, a point, exactly three more
LOOKS_LIKE_THOUSANDS = re.compile(r"-?[1-9]\d{0,2}\.\d{3}")


class Column(NamedTuple):
    """A column of numbers.

    `places`: how far the decimal point moves right from SI; None: from kelvin to °C. `low`, `high`:
    limits [unit in the name of the column]; with `above` the lower one cannot be reached.
    """

    places: int | None
    low: float
    high: float
    above: bool = False


# Rounded, or an error would speak of -23.149999999999977 °C
BOTTLES_LOW, BOTTLES_HIGH = (round(T - 273.15, 2) for T in BOTTLE_TEMPERATURES)
AIR_LOW, AIR_HIGH = (round(T - 273.15, 2) for T in (T_LOW, T_HIGH))
MOST_ACID, MOST_PEROXIDE = 100 * LIMITS["HCl"], 100 * LIMITS["H2O2"]
# Limits in the unit of the column, so that an error speaks as the row does
NUMBERS = {
    "acid_low_percent": Column(2, 0.0, MOST_ACID),
    "acid_high_percent": Column(2, 0.0, MOST_ACID),
    "peroxide_low_percent": Column(2, 0.0, MOST_PEROXIDE),
    "peroxide_high_percent": Column(2, 0.0, MOST_PEROXIDE),
    "water_parts": Column(0, 0.0, MOST_PART),
    "acid_parts": Column(0, 0.0, MOST_PART),
    "peroxide_parts": Column(0, 0.0, MOST_PART),
    "bath_mL": Column(6, 0.0, 1e6 * MOST_VOLUME, above=True),
    "bare_cm2": Column(4, 0.0, 1e4 * MOST_AREA, above=True),
    "foil_g_per_m2": Column(3, 0.0, 1e3 * MOST_AREAL_MASS, above=True),
    "open_cm2": Column(4, 0.0, 1e4 * MOST_AREA, above=True),
    "bottles_C": Column(None, BOTTLES_LOW, BOTTLES_HIGH),
    "air_C": Column(None, AIR_LOW, AIR_HIGH),
    "clear_after_s": Column(0, 0.0, LONGEST, above=True),
    "not_clear_after_s": Column(0, 0.0, LONGEST, above=True),
}
"""Every column of numbers."""
MAY_BE_BLANK = ("open_cm2", "air_C", "clear_after_s", "not_clear_after_s")

Numbers = dict[str, decimal.Decimal]
"""The numbers of a row by column [unit in the name of the column], without the blank ones."""


def cells_of(offcut: Offcut) -> dict[str, str]:
    """Write the row of an offcut.

    Parameters
    ----------
    offcut : Offcut
        Etched, with its time.

    Returns
    -------
    dict of str
        The text of each column, with decimal points.

    Raises
    ------
    InputError
        Something else, or an offcut without a time.
    """
    _check_etched(offcut)
    tray = offcut.tray
    water, acid, peroxide = offcut.parts
    # Which of two columns holds the time says whether the copper was gone by then
    clear_after = not_clear_after = None
    if offcut.clear:
        clear_after = offcut.time
    else:
        not_clear_after = offcut.time
    values = {
        "acid_low_percent": offcut.acid.low,
        "acid_high_percent": offcut.acid.high,
        "peroxide_low_percent": offcut.peroxide.low,
        "peroxide_high_percent": offcut.peroxide.high,
        "water_parts": water,
        "acid_parts": acid,
        "peroxide_parts": peroxide,
        "bath_mL": offcut.volume,
        "bare_cm2": offcut.board.area,
        "foil_g_per_m2": offcut.board.foil.areal_mass,
        "open_cm2": tray.open_area,
        "bottles_C": offcut.T_bottles,
        "air_C": tray.T_air,
        "clear_after_s": clear_after,
        "not_clear_after_s": not_clear_after,
    }
    cells = {
        "date": offcut.date,
        "acid_bottle": offcut.acid_bottle,
        "peroxide_bottle": offcut.peroxide_bottle,
        "agitation": tray.agitation,
        "facing": tray.facing,
        "note": offcut.note,
    }
    for name, value in values.items():
        if value is None:
            cells[name] = ""
        else:
            cells[name] = in_lab_units(float(np.asarray(value)), NUMBERS[name].places)
    return cells


def _check_etched(offcut: Offcut) -> None:
    """Refuse what is no offcut, or one without a time."""
    if not isinstance(offcut, Offcut):
        raise InputError("offcut", "it must be an Offcut", about=f" = {offcut!r:.80}")
    if offcut.time is None:
        raise InputError(
            "time",
            "it must be above 0, of an offcut that was etched",
            wrong="is impossible in a log",
            about=" = None",
        )


def in_lab_units(value: float, places: int | None) -> str:
    """Write a value in the unit of its column, exactly; it never looks like whole thousands.

    Parameters
    ----------
    value : float
        A value [SI].
    places : int or None
        How far the decimal point moves right; None: from kelvin to °C.

    Returns
    -------
    str
        Its decimal text.

    Examples
    --------
    >>> print(in_lab_units(52.5e-6, 6), in_lab_units(1.234, 0))
    52.5 1.2340
    """
    # repr gives the fewest digits that come back to the same bits, and not the binary tail.
    # + 0.0: no minus sign before a zero
    exact = decimal.Decimal(repr(value + 0.0))
    if places is None:
        number = EXACT.subtract(exact, ZERO_C)
    else:
        number = EXACT.scaleb(exact, places)
    number = number.normalize(EXACT)  # no zeros at the end
    text = str(number)  # with an exponent, where it needs one
    if -30 < number.adjusted() < 30:
        text = format(number, "f")
    if LOOKS_LIKE_THOUSANDS.fullmatch(text):
        text += "0"  # four decimals are no thousands
    return text


def in_si(number: decimal.Decimal, places: int | None) -> float:
    """Turn a number in the unit of its column into SI [SI]; it is rounded once, at the end."""
    if places is None:
        return float(EXACT.add(number, ZERO_C))
    return float(EXACT.scaleb(number, -places))


def offcut_of(cells: dict[str, str], layout: Layout) -> Offcut:
    """Read the offcut in a row.

    Parameters
    ----------
    cells : dict of str
        The text of each column.
    layout : Layout
        How the file writes numbers.

    Returns
    -------
    Offcut
        With its time.

    Raises
    ------
    ValueError
        What cannot be: names the column, its value, and its limits in the unit of the column.
    """
    numbers = {}
    for name, column in NUMBERS.items():
        if cells[name].strip():
            numbers[name] = layout.number(name, cells[name])
            value = float(numbers[name])
            check_number(name, value, column.low, column.high, "", above=column.above)
        elif name not in MAY_BE_BLANK:
            limits = limits_in_words(column.low, column.high, above=column.above)
            raise InputError(name, f"it must be {limits}", about="", wrong="is blank")
    # What the classes below would refuse too, but in SI and by names that the row does not have
    _check_ends(numbers)
    agitation = check_choice("agitation", _word(cells["agitation"]), AGITATIONS)
    facing = check_choice("facing", _word(cells["facing"]), FACINGS)
    _check_fits(numbers, facing)
    time_column = _time_column(numbers)

    si = {name: in_si(number, NUMBERS[name].places) for name, number in numbers.items()}
    try:
        return Offcut(
            acid=Bottle("HCl", si["acid_low_percent"], si["acid_high_percent"]),
            peroxide=Bottle("H2O2", si["peroxide_low_percent"], si["peroxide_high_percent"]),
            parts=(si["water_parts"], si["acid_parts"], si["peroxide_parts"]),
            volume=si["bath_mL"],
            board=Board(area=si["bare_cm2"], foil=Foil(si["foil_g_per_m2"])),
            tray=Tray(agitation, facing, si.get("open_cm2"), si.get("air_C")),
            T_bottles=si["bottles_C"],
            time=si[time_column],
            clear=time_column == "clear_after_s",
            acid_bottle=cells["acid_bottle"],
            peroxide_bottle=cells["peroxide_bottle"],
            date=cells["date"],
            note=cells["note"],
        )
    except InputError as error:
        raise _in_columns(error, numbers) from None


def _word(cell: str) -> str:
    """Return the word in a cell, in small letters and so short that an error can show it."""
    return cell.strip().lower()[:40]


def _check_ends(numbers: Numbers) -> None:
    """Refuse a bottle whose ends are the wrong way round."""
    for kind in ("acid", "peroxide"):
        low, high = numbers[f"{kind}_low_percent"], numbers[f"{kind}_high_percent"]
        if low > high:
            raise InputError(
                f"{kind}_low_percent",
                f"it must be at most {kind}_high_percent = {high}",
                value=low,
                about=f" = {low}",
            )


def _check_fits(numbers: Numbers, facing: str) -> None:
    """Refuse copper that lies flat and is larger than the open area of its tray."""
    bare, room = numbers["bare_cm2"], numbers.get("open_cm2")
    if room is not None and facing != "upright" and bare > room:
        raise InputError(
            "bare_cm2",
            f"it must be above 0 to open_cm2 = {room}",
            value=bare,
            about=f" = {bare}",
            wrong=f"is impossible facing {facing}",
        )


def _time_column(numbers: Numbers) -> str:
    """Return which of the two columns of times holds the time."""
    times = [name for name in ("clear_after_s", "not_clear_after_s") if name in numbers]
    if len(times) == 1:
        return times[0]
    wrong = "both blank"
    if times:
        wrong = "both given"
    raise ValueError(
        f"clear_after_s and not_clear_after_s are {wrong}: exactly one of them must be given"
    )


def _in_columns(error: InputError, numbers: Numbers) -> InputError:
    """Say an error of the offcut's bath in the columns of the row and their units.

    What holds between bath, copper and tray is checked once, by the offcut itself, in SI.
    """
    bath, bare, room = numbers["bath_mL"], numbers["bare_cm2"], numbers.get("open_cm2")
    if error.low is None or error.high is None:
        return error  # no limits, no unit: its words are good as they are
    # 1 m³ of bath a m² of copper is 100 mL a cm²
    if error.field == "bath_per_area":
        return InputError(
            "bath_mL",
            f"it must be {100 * error.low:g} to {100 * error.high:g} mL per cm²",
            value=bath,
            about=f" = {bath}",
            wrong=f"is impossible over bare_cm2 = {bare}",
        )
    # In a tray that nobody described the copper may be less than in one whose area is given
    if error.field == "board: area":
        return InputError(
            "bare_cm2 with open_cm2 blank",
            f"it must be {limits_in_words(1e4 * error.low, 1e4 * error.high, above=True)}",
            value=bare,
            about=f" = {float(bare):g}",
        )
    if error.field == "volume":
        over = f"open_cm2 = {room}"
        if room is None:
            over = f"bare_cm2 = {bare} with open_cm2 blank"
        return InputError(
            "bath_mL",
            f"it must be {1e6 * error.low:.4g} to {1e6 * error.high:.6g}",
            value=bath,
            about=f" = {bath}",
            wrong=f"is impossible over {over}",
        )
    return error
