"""The planner's form: one table of its fields, and the plan or the search that they ask for.

`FORM` is the table. A form has one shape: values by the names of its controls. `values_from` makes
them of what somebody writes in Python, `plan_from` reads them, and `back_to_fields` makes them of a
plan's inputs. A new field is a row of the table and a line in each of these.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from operator import mul
from typing import Any

import numpy as np

from ...bench import plan as plans
from ...bench.bottle.bottle import Bottle
from ...bench.plan import search
from ...bench.plan.inputs import BATH_PER_AREA, MOST_HELD_BACK, MOST_USED, Inputs, UsedBath
from ...bench.plan.planning import Plan, for_class
from ...bench.plan.search_result import SearchResult
from ...common.limits import InputError, RangeWarning, collecting_warnings, naming
from ...common.units import ZERO_C, L, celsius, minute, mL, mm, percent
from ...common.units import mL_per_cm2 as PER_CM2
from ...matter.labels import strength
from ...matter.properties import LIMITS, MOLAR_MASS
from ...page.widget.controls import Choice, Control, Field
from ...reaction.bath.setup import (
    OUNCE_PER_SQUARE_FOOT,
    Board,
    Foil,
    Tray,
)
from . import entries as reading
from .choices import FACES, MOVES, NOTATIONS, PLACES, SUBSTANCES, SURE
from .entries import POINT, SUCH_AS, Row, Unit, bottle, items, number, place, scaled, word

BOTTLES_C, AIR_C, HOTTEST_C = (0, 40), (-10, 45), (0, 100)  # °C
WAIT = (0.1, 120)  # min until the second portion
WINDOW = (0.02, 240)  # min until the board is clear
LEAST_SEARCH = 0.1  # mL/cm², the step of a search
LEAST_BATH, MOST_BATH = (round(end / PER_CM2, 12) for end in BATH_PER_AREA)  # mL/cm²
MOST_TOTAL, MOST_FOIL, MOST_PARTS = 1e6, 16, 100  # mL, oz/ft², parts: far beyond any bench
SHORTEST_SIDE, LONGEST_SIDE = 10, 2000  # mm of a board: less was measured in centimetres
DRAWS, SEED = 200, 0  # the same baths for everybody: two readers see one number
# Units and rows

PERCENT = Unit("%", percent, partial(mul, 100))
CELSIUS = Unit("°C", celsius, lambda temperature: temperature - ZERO_C)
MM, ML, MINUTES = scaled("mm", mm), scaled("mL", mL), scaled("min", minute)
OUNCES = scaled("oz/ft²", OUNCE_PER_SQUARE_FOOT)
GRAM_PER_L, MOL_PER_L = scaled("g/L", 1 / MOLAR_MASS["Cu"]), scaled("mol/L", 1 / L)
USED = {"copper": GRAM_PER_L, "acid": MOL_PER_L, "peroxide": MOL_PER_L}
"""What a used bath holds, and how the form counts it."""


def bottle_controls(name: str, start: float, most: float) -> tuple[Control, ...]:
    """Return the controls of a bottle, which start with these strengths [% by weight]."""
    substance = SUBSTANCES[name]
    # one field for all notations: as wide as the widest of them needs
    with collecting_warnings():
        ends = [strength(LIMITS[substance], notation, substance) for notation in NOTATIONS[name]]
    high = math.ceil(max(ends))
    unsure = (f"{name}_sure", ("between",))
    return (
        Field(name, f"{name}, strength", "", 0, high, 0.5, start),
        Field(f"{name}_to", f"{name}, at most", "", 0, high, 0.5, most, when=unsure),
        Choice(f"{name}_in", f"{name} in", NOTATIONS[name], "% by weight"),
        Choice(f"{name}_sure", f"{name} known", SURE, "label"),
    )


def side_row(entry: str, thing: str, along: str, least: float, start: float | None) -> Row:
    """Return the row of one side of a board or a tray [mm]."""
    step = 1 if thing == "board" else 5
    direction = "wide" if along == "width" else "long"
    label = f"{thing}, {along}"
    control = Field(f"{thing}_{along}", label, "mm", least, LONGEST_SIDE, step, start)
    hint = f"{entry} counts millimetres: is your {thing} {{}} mm {direction}?"
    return Row(entry, control, MM, above=not least, hint=hint)


def used_rows(name: str) -> tuple[Row, Row]:
    """Return the rows of lowest and highest of what a used bath holds: they start blank."""
    unit = USED[name]
    most = round(unit.write(MOST_USED[name]), 6)
    low = Field(f"used_{name}", f"its {name}, at least", unit.word, 0, most, 0.1, None)
    high = Field(f"used_{name}_to", f"its {name}, at most", unit.word, 0, most, 0.1, None)
    return Row("used_bath", low, unit, part=name), Row("used_bath", high, unit, part=name)


USED_SHARE = Field("used_bath", "used, share of the whole", "%", 0, 100, 5, 0)
HELD_BACK = Field("held_back", "peroxide held back", "%", 0, 100 * MOST_HELD_BACK, 5, 0)
# later the workshop's bath is too warm for it
HELD_UNTIL = Field("held_until", "poured after", "min", *WAIT, 0.5, 1.5)
FORM: dict[str, tuple[Row | Control, ...]] = {
    "On the bench: bottles": (
        Choice("place", "whose rules", PLACES, "elsewhere"),
        *bottle_controls("acid", 10, 11),
        *bottle_controls("peroxide", 12, 12),
    ),
    "The bath": (
        Field("water_parts", "water", "parts", 0, MOST_PARTS, 0.5, 0),
        Field("acid_parts", "acid", "parts", 0, MOST_PARTS, 0.5, 1),
        Field("peroxide_parts", "peroxide", "parts", 0, MOST_PARTS, 0.5, 1),
        Row("total_mL", Field("total", "bath in all", "mL", 0, MOST_TOTAL, 5, 150), ML, above=True),
    ),
    "The board": (
        side_row("board_mm", "board", "width", SHORTEST_SIDE, 75),
        side_row("board_mm", "board", "height", SHORTEST_SIDE, 60),
        Row("bare_percent", Field("bare", "bare, to be etched", "%", 0, 100, 5, 60), PERCENT, True),
        Row("foil_oz", Field("foil", "copper foil", "oz", 0, MOST_FOIL, 0.5, 1), OUNCES, True),
    ),
    "Tray and warmth": (
        Row("air_C", Field("air", "air", "°C", *AIR_C, 1, 20), CELSIUS),
        Row("bottles_C", Field("bottles", "bottles and water", "°C", *BOTTLES_C, 1, 20), CELSIUS),
        Choice("agitation", "the bath is", MOVES, "rocked"),
        Choice("facing", "copper looks", FACES, "up"),
        side_row("tray_mm", "tray", "width", 0, None),
        side_row("tray_mm", "tray", "length", 0, None),
    ),
    "A used bath, topped up": (
        Row("used_bath", USED_SHARE, PERCENT, above=True, part="percent of the bath"),
        *used_rows("copper"),
        *used_rows("acid"),
        *used_rows("peroxide"),
    ),
    "Peroxide in two portions": (
        Row("second", HELD_BACK, PERCENT, part="percent held back"),
        Row("second", HELD_UNTIL, MINUTES, part="minutes"),
    ),
}
"""Every field under its heading on the page, from top to bottom."""
FOLDED = ("Tray and warmth", "A used bath, topped up", "Peroxide in two portions")
"""Headings of what is rarely used."""
ROWS = {row.control.name: row for rows in FORM.values() for row in rows if isinstance(row, Row)}
CONTROLS = {
    heading: [row.control if isinstance(row, Row) else row for row in rows]
    for heading, rows in FORM.items()
}
STARTS = {control.name: control.start for controls in CONTROLS.values() for control in controls}
LABELS = {
    "acid": "Acid",
    "peroxide": "Peroxide",
    "parts": "Parts",
    "total_mL": "Bath in all",
    "board_mm": "Board",
    "bare_percent": "Bare copper",
    "foil_oz": "Copper foil",
    "tray_mm": "Tray",
    "bottles_C": "Bottles and water",
    "air_C": "Air",
    "used_bath": "A used bath",
    "second": "Peroxide in two portions",
}
"""What the page calls an entry that is wrong."""

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
SINGLE = {name: name for name in ("place", "agitation", "facing")} | {
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
    values = {name: ends[0], f"{name}_in": notation, f"{name}_sure": "label"}
    if len(ends) == 2:
        values |= {f"{name}_to": ends[1], f"{name}_sure": "between"}
    return values


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
    board = Board(*sides, read(values, "bare"), Foil(read(values, "foil")))
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
    ends = [values[name]]
    if values[f"{name}_sure"] != "label":
        ends.append(values[f"{name}_to"])
    return bottle(name, SUBSTANCES[name], ends, values[f"{name}_in"], T)


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
    values = values_from(entries)
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
    result = search.leanest(
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
    if school:
        return dataclasses.replace(result, plan=for_class(result.plan))
    return result
