"""The planner's form: the plan or the search that its values, or somebody's words, ask for.

A form has one shape: values by the names of its controls. `values_from` makes them of what somebody
writes in Python, `plan_from` reads them, and `back_to_fields` makes them of a plan's inputs. A new
field is a row of `FORM` (in `form`), its help (in `choices`) and a line in each of these.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from ...bench import plan as plans
from ...bench.bottle.bottle import Bottle
from ...bench.plan import search
from ...bench.plan.inputs import Inputs, UsedBath
from ...bench.plan.planning import Plan, for_class
from ...bench.plan.search_result import SearchResult
from ...common.limits import (
    InputError,
    RangeWarning,
    check_choice,
    collecting_warnings,
    naming,
)
from ...common.units import celsius, minute, mL
from ...common.units import mL_per_cm2 as PER_CM2
from ...reaction.bath.setup import Board, Foil, Tray
from . import entries as reading
from .choices import BACKS, SUBSTANCES
from .entries import POINT, SUCH_AS, bottle, items, number, place, word
from .table import CONTROLS as CONTROLS
from .table import FOLDED as FOLDED
from .table import (
    HOTTEST_C,
    LEAST_BATH,
    LEAST_SEARCH,
    MOST_BATH,
    USED,
    WINDOW,
)
from .table import LABELS as LABELS
from .table import ROWS as ROWS
from .table import STARTS as STARTS

DRAWS, SEED = 200, 0  # the same baths for everybody: two readers see one number

# What somebody writes in Python, as values of the controls

PARTS = ("water_parts", "acid_parts", "peroxide_parts")
SEVERAL = {
    "parts": (PARTS, "water, acid, peroxide"),
    "board_mm": (("board_width", "board_height"), "width, height, in millimetres"),
    "tray_mm": (("tray_width", "tray_length"), "width, height, in millimetres"),
    "second": (
        ("held_back", "held_until"),
        "percent of the peroxide held back, minutes after the board",
    ),
}
"""Entries of several numbers: their controls, and what they must be."""
SINGLE = {name: name for name in ("place", "agitation", "facing", "back")} | {
    row.entry: name for name, row in ROWS.items() if row.entry not in (*SEVERAL, "used_bath")
}
"""Entries of one control, and its name."""
ENTRIES = (*SUBSTANCES, *SINGLE, *SEVERAL, "used_bath")
OF_A_BATH = ("parts", "total_mL", "used_bath", "second")
"""What a search looks for itself."""
NEEDED = ("acid", "peroxide", "board_mm", "bare_percent", "place")
"""What has to be given for a search; all else is as the form starts."""


def check_names(entries: Mapping[str, Any], names: Sequence[str], needed: Sequence[str]) -> None:
    """Refuse an entry that is none of these names, and a needed one that is missing."""
    for name in entries:
        if name not in names:
            rule = f"there are {', '.join(names)}"
            raise InputError(name, rule, about="", wrong="is not a field")
    for name in needed:
        if name not in entries:
            rule = f"give {', '.join(needed)}"
            raise InputError(name, rule, about="", wrong="is missing")


def values_from(entries: Mapping[str, Any]) -> dict[str, Any]:
    """Return the controls' values of these entries; what is left out is as the form starts."""
    values = STARTS | {"total": None}  # a script may say how much by area instead
    for name, entry in entries.items():
        if name in SUBSTANCES:
            values |= bottle_values(name, entry)
        elif name in SINGLE:
            values[SINGLE[name]] = entry
        elif entry is None and name in ("tray_mm", "used_bath", "second"):
            continue
        elif name == "used_bath":
            values |= used_values(entry)
        else:
            controls, form = SEVERAL[name]
            values |= zip(controls, items(name, entry, (len(controls),), form), strict=True)
    return values


def bottle_values(name: str, entry: Any) -> dict[str, Any]:
    """Return the values of a bottle's controls; its entry is as in `planned`."""
    form = f"strength and notation, {SUCH_AS[name]}, or lowest, highest and notation"
    *ends, notation = items(name, entry, (2, 3), form)
    if len(ends) == 1:
        return {name: ends[0], f"{name}_in": notation, f"{name}_sure": "label"}
    low, high = ends
    between = {f"{name}_low": low, f"{name}_to": high}
    return between | {f"{name}_in": notation, f"{name}_sure": "between"}


def used_values(entry: Any) -> dict[str, Any]:
    """Return the values of a used bath's controls; its entry is as in `planned`."""
    form = (
        "percent of the bath, copper in g/L, acid in mol/L and, where some may be left, peroxide "
        "in mol/L"
    )
    share, *contents = items("used_bath", entry, (3, 4), form)
    ROWS["used_bath"].read(share)  # in a form 0 % means that there is none; here None means that
    values = {"used_bath": share, "used_peroxide": 0, "used_peroxide_to": 0}  # unless given
    with naming("used_bath"):
        for name, content in zip(USED, contents, strict=False):  # peroxide may be left out
            ends = items(name, content, (1, 2), "one number, or lowest and highest")
            values |= {f"used_{name}": ends[0], f"used_{name}_to": ends[-1]}
    return values


# From values to inputs


def read(values: Mapping[str, Any], name: str) -> float:
    """Return the number of a control [SI]."""
    return ROWS[name].read(values[name])


def read_bench(values: Mapping[str, Any]) -> tuple[Board, Tray, float]:
    """Return board, tray, and the temperature of bottles and water [K]."""
    sides = read(values, "board_width"), read(values, "board_height")
    back = check_choice("back", word(values["back"]), tuple(BACKS))
    # under resist it is as good as plastic: bare, all of it counts
    bare_back = float(back == "bare")
    bare, foil = read(values, "bare"), Foil(read(values, "foil"))
    with naming("board_mm"):  # each side may be as long, and both sides hold too much copper
        board = Board(*sides, bare, foil, back=bare_back)
    facing, open_area, perimeter = word(values["facing"]), None, None
    if values["tray_width"] is not None:
        room = read(values, "tray_width"), read(values, "tray_length")
        open_area, perimeter = float(np.prod(room)), 2 * sum(room)
        if facing != "upright":
            reading.check_room(sides, room)
    elif facing == "upright":
        rule = "give the tank's width and length, such as tray_mm=(80, 40)"
        wrong = "is impossible with facing = 'upright'"
        raise InputError("tray_mm", rule, about=" = None", wrong=wrong)
    tray = Tray(word(values["agitation"]), facing, open_area, read(values, "air"), perimeter)
    return board, tray, read(values, "bottles")


def read_bottle(values: Mapping[str, Any], name: str, T: float) -> Bottle:
    """Return a bottle; its notation may count by volume at a temperature [K]."""
    known, notation, substance = values[f"{name}_sure"], values[f"{name}_in"], SUBSTANCES[name]
    ends = [values[f"{name}_low"], values[f"{name}_to"]]
    if known == "between":
        return bottle(name, substance, ends, notation, T)
    labelled = bottle(name, substance, [values[name]], notation, T)
    if known == "label":
        return labelled
    measured = bottle(name, substance, ends, notation, T)
    return dataclasses.replace(measured, label=labelled.label)


def read_used(values: Mapping[str, Any]) -> UsedBath | None:
    """Return the used bath [-, mol/m³], or None."""
    if not values["used_bath"]:
        return None  # a field of numbers has no "none": 0 % of the bath is that
    used = {}
    for name, unit in USED.items():
        low, high = read(values, f"used_{name}"), read(values, f"used_{name}_to")
        if low > high:
            ends = values[f"used_{name}"], values[f"used_{name}_to"]
            about = f": {name} = {ends!r} {unit.word}"
            rule = "the lowest must be at most the highest"
            raise InputError("used_bath", rule, about=about, hint=POINT)
        used[name] = (low, high)
    return UsedBath(read(values, "used_bath"), **used)


def read_second(values: Mapping[str, Any]) -> tuple[float, float] | None:
    """Return the share of the peroxide that is held back [-] and when it is poured [s], or None."""
    if not values["held_back"]:
        return None
    return read(values, "held_back"), read(values, "held_until")


def plan_from(
    values: Mapping[str, Any],
    mL_per_cm2: float | None = None,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Plan:
    """Plan the bath of the controls' values, or of so much bath over the copper [mL/cm²]."""
    if (values["total"] is None) == (mL_per_cm2 is None):
        about = f" = {values['total']!r} with mL_per_cm2 = {mL_per_cm2!r}"
        raise InputError("total_mL", "give one of the two", about=about)
    # read in this order, so that the first thing wrong is named as a person meets it at the bench
    board, tray, T_bottles = read_bench(values)
    area = float(board.copper_area)
    if mL_per_cm2 is None:
        size, per_area = "total_mL", read(values, "total") / area
        with naming(size):
            number("mL per cm² of bare copper", per_area / PER_CM2, LEAST_BATH, MOST_BATH, "mL/cm²")
    else:
        size = "mL_per_cm2"
        per_area = number(size, mL_per_cm2, LEAST_BATH, MOST_BATH, "mL/cm²") * PER_CM2
    reading.check_depth(size, size, board, tray, per_area)
    second = read_second(values)
    outside: list[RangeWarning] = []
    with collecting_warnings(outside):  # a page says this in words, not in a red box
        acid, peroxide = (read_bottle(values, name, T_bottles) for name in SUBSTANCES)
    inputs = Inputs(
        acid,
        peroxide,
        tuple(values[name] for name in PARTS),
        board,
        tray,
        per_area,
        place(values["place"]),
        T_bottles,
        read_used(values),
        second,
        draws,
        seed,
    )
    if inputs.second is not None:
        # before the second portion the bath is lower, on the same surface
        later = inputs.second[0] * inputs.parts[2] / sum(inputs.parts) * inputs.fresh
        surface = float(tray.surface(per_area * area, area))
        with naming("second"):
            wide = dataclasses.replace(tray, open_area=surface)
            reading.check_depth(size, size, board, wide, per_area * (1 - later))
    plan = plans.planned(inputs)
    warnings = {str(warning): warning for warning in (*outside, *plan.outside)}
    return dataclasses.replace(plan, outside=tuple(warnings.values()))


def planned(
    *,
    mL_per_cm2: float | None = None,
    draws: int = DRAWS,
    seed: int = SEED,
    school: bool = False,
    **entries: Any,
) -> Plan:
    """Plan a bath from the entries of a page.

    Parameters
    ----------
    mL_per_cm2 : float
        The bath over the bare copper [mL/cm²], 0.01 to 1000, in place of `total_mL`.
    draws, seed : int
        How many plausible baths, and the seed of the bottles' doubt [-].
    school : bool
        For a class: no amounts, see `for_class`.
    **entries
        `acid` and `peroxide`: as labelled, strength and notation, such as (10, "%"), or between,
        lowest, highest and notation, such as (9, 11, "% by weight") [unit of the notation];
        `parts` of water, acid and peroxide by volume [-]; `total_mL`, the whole bath [mL];
        `board_mm`, width and height, each at least 10 [mm]; `bare_percent`, how much of the board
        is to be etched [%]; `place`, whose rules on who may hold what: "EU", "GB", "US" or
        "elsewhere".
        And where they are not as the form starts: `foil_oz`, weight of the foil [oz/ft²];
        `back` of the board: "plastic", "covered" with resist, or "bare" copper, which is counted;
        `agitation` and `facing` as in `Tray`; `tray_mm`, width and length of the open liquid [mm],
        which an upright board needs; `bottles_C`, 0 to 40, and `air_C`, -10 to 45 [°C];
        `used_bath`, one topped up: percent of the whole [%], copper [g/L], acid [mol/L] and, if
        not gone, peroxide [mol/L] in it, each of the three one number or (lowest, highest);
        `second`, percent of the peroxide held back, 0 to 90 [%], and when it is poured, 0.1 to
        120 [min after the board].

    Returns
    -------
    Plan
        With its verdict.

    Raises
    ------
    InputError
        An entry that cannot be, is missing or is none: names it, with its limits.

    Examples
    --------
    >>> mild = planned(acid=(10, "%"), peroxide=(12, "%"), parts=(0, 1, 1), total_mL=150,
    ...                board_mm=(75, 60), bare_percent=60, place="EU")
    >>> print(mild.verdict)
    mix it
    """
    check_names(entries, ENTRIES, (*NEEDED, "parts"))
    plan = plan_from(values_from(entries), mL_per_cm2, draws, seed)
    return for_class(plan) if school else plan


def leanest(
    *,
    minutes: tuple[float, float] = (3, 8),
    hottest_C: float = 40.0,
    share: float = search.MOST_SHARE,
    most_mL: float | None = None,
    portions: int = 1,
    draws: int = DRAWS,
    seed: int = SEED,
    school: bool = False,
    progress: Callable[[int, int], Any] | None = None,
    **entries: Any,
) -> SearchResult:
    """Search the leanest parts of two bottles that clear a board in time and stay cool enough.

    Parameters
    ----------
    minutes : tuple
        Earliest and latest time until the board is clear, 0.02 to 240 [min].
    hottest_C : float
        The most that the bath may reach while etching and in the hour after, 0 to 100 [°C].
    share : float
        Share of the plausible baths that has to keep each of these limits, 0.5 to 0.9 [-].
    most_mL : float
        The most bath that there may be [mL]; by default as much as the search tries.
    portions : int
        Peroxide in one portion, or in two where that keeps it cooler [-].
    draws, seed : int
        How many plausible baths, and the seed of the bottles' doubt [-].
    school : bool
        For a class: no amounts, see `for_class`.
    progress : callable, optional
        Is called with how many of how many baths were tried [-].
    **entries
        As in `planned`, without parts, size, used bath and second portion [units there].

    Returns
    -------
    SearchResult
        The plan, and whether it meets the wishes.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    """
    check_names(entries, [name for name in ENTRIES if name not in OF_A_BATH], NEEDED)
    result = search_from(
        values_from(entries),
        minutes=minutes,
        hottest_C=hottest_C,
        share=share,
        most_mL=most_mL,
        portions=portions,
        draws=draws,
        seed=seed,
        progress=progress,
    )
    if school:
        return dataclasses.replace(result, plan=for_class(result.plan))
    return result


def search_from(
    values: Mapping[str, Any],
    *,
    minutes: tuple[float, float],
    hottest_C: float,
    share: float = search.MOST_SHARE,
    most_mL: float | None = None,
    portions: int = 1,
    draws: int = DRAWS,
    seed: int = SEED,
    progress: Callable[[int, int], Any] | None = None,
) -> SearchResult:
    """Search the leanest mixture for the bench of the controls' values.

    Arguments and errors as for `leanest` [units there].
    """
    board, tray, T_bottles = read_bench(values)
    window = items("minutes", minutes, (2,), "earliest, latest")
    early, late = (number("minutes", end, *WINDOW, "min") * minute for end in window)
    if early >= late:
        rule = "the earliest must be below the latest"
        raise InputError("minutes", rule, value=minutes, about=f" = {minutes!r}")
    hottest = float(celsius(number("hottest_C", hottest_C, *HOTTEST_C, "°C")))
    share = number("share", share, search.LEAST_SHARE, search.MOST_SHARE, "")
    largest, size, volume = search.BATHS[-1], "board_mm", None
    if most_mL is not None:
        size, area = "most_mL", float(board.copper_area)
        limits = (LEAST_SEARCH * PER_CM2 * area / mL, MOST_BATH * PER_CM2 * area / mL)
        volume = number("most_mL", most_mL, *limits, "mL") * mL
        largest = min(largest, volume / area)
    # the smallest bath that is tried has to be one in two portions, too
    reading.check_depth(size, "tray_mm", board, tray, largest / 3)
    with collecting_warnings():
        acid, peroxide = (read_bottle(values, name, T_bottles) for name in SUBSTANCES)
    return search.leanest(
        acid,
        peroxide,
        board,
        tray,
        place=place(values["place"]),
        window=(early, late),
        hottest=hottest,
        share=share,
        volume=volume,
        T_bottles=T_bottles,
        portions=portions,
        draws=draws,
        seed=seed,
        progress=progress,
    )
