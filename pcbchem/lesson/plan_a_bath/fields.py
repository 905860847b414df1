"""The planner's fields: a page's inputs in lab units and words, checked by name, made into a plan."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from ...bench import plan as plans
from ...bench.plan.inputs import BATH_PER_AREA, MOST_HELD_BACK, MOST_KEPT, Inputs, Kept
from ...bench.plan.planning import Plan
from ...common.limits import RangeWarning, collecting_warnings, naming
from ...common.units import L, minute, mL, mm, percent
from ...common.units import mL_per_cm2 as PER_CM2
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Foil, Tray
from .entries import POINT, bottle, by_name, items, number, sides, warmth, where, word

if TYPE_CHECKING:
    from ...bench.plan.search import SearchResult

GRAM_PER_LITRE = 1 / MOLAR_MASS["Cu"]  # mol/m³ in 1 g/L of copper
LEAST, MOST = (round(end / PER_CM2, 12) for end in BATH_PER_AREA)  # mL/cm²
BOTTLES, AIR, HOTTEST = (0, 40), (-10, 45), (0, 100)  # °C
WAIT = (0.1, 120)  # min until the second portion
WINDOW = (0.02, 240)  # min until the board is clear
SHORTEST_SIDE, LONGEST_SIDE = 10, 2000  # mm of a board: less was measured in centimetres
MOST_FOIL, MOST_BATH = 16, 1e6  # oz/ft², mL
DRAWS, SEED = 200, 0


def laid_out(
    board_mm: Any,
    bare_percent: Any,
    foil_oz: Any,
    agitation: Any,
    facing: Any,
    tray_mm: Any,
    air_C: Any,
) -> tuple[Board, Tray]:
    """Board and tray of their fields [mm, %, oz/ft², °C], or ValueError that names the field."""
    board_sides = sides("board_mm", board_mm, SHORTEST_SIDE, "board")
    bare = percent(number("bare_percent", bare_percent, 0, 100, "%", above=True))
    foil = Foil.ounces(
        number("foil_oz", foil_oz, 0, MOST_FOIL, "oz/ft²", above=True, hint="1 oz is about 35 µm")
    )
    board, way = (
        Board(width=board_sides[0], height=board_sides[1], bare=bare, foil=foil),
        word(facing),
    )
    open_area = None
    if tray_mm is None and way == "upright":
        raise ValueError(
            "tray_mm = None is impossible with facing = 'upright': give the tank's width and length, "
            "such as tray_mm=(80, 40)"
        )
    if tray_mm is not None:
        tray_sides = sides("tray_mm", tray_mm, 0, "tray")
        open_area = float(np.prod(tray_sides))
        if way != "upright" and not (
            min(board_sides) <= min(tray_sides)
            and max(board_sides) <= np.hypot(*tray_sides)
            and np.prod(board_sides) <= open_area
        ):
            room, needs = (
                " × ".join(f"{side / mm:g}" for side in both) for both in (tray_sides, board_sides)
            )
            raise ValueError(
                f"tray_mm: a tray of {room} mm is impossible: a board of {needs} mm does not lie in it"
            )
    return board, Tray(word(agitation), way, open_area, warmth("air_C", air_C, *AIR))


def deep_enough(size: str, room: str, board: Board, tray: Tray, per_area: float) -> None:
    """Refuse a bath [m³/m² of bare copper] that is no bath: by the input that says how much, or the one of the tray."""
    area = float(board.copper_area)
    surface = float(tray.surface(per_area * area, area))
    if per_area * area <= LEAST_VOLUME:
        raise ValueError(
            f"{size}: a bath of {per_area * area / mL:.2g} mL is impossible: it must be above "
            f"{LEAST_VOLUME / mL:g} mL"
        )
    if per_area * area / surface <= LEAST_DEPTH:
        raise ValueError(
            f"{room}: a bath {per_area * area / surface / mm:.2g} mm deep is impossible: it must be above "
            f"{LEAST_DEPTH / mm:g} mm, on {surface * 1e4:.3g} cm² of tray"
        )


def topped_up(given: Any) -> Kept:
    """A kept bath of its field, (percent of the bath, copper g/L, acid mol/L, peroxide mol/L), or ValueError."""
    share, *held = items(
        "kept",
        given,
        (3, 4),
        "percent of the bath, copper in g/L, acid in mol/L and, where some may "
        "be left, peroxide in mol/L",
    )
    said = {}
    for (name, scale, unit), value in zip(
        (("copper", GRAM_PER_LITRE, "g/L"), ("acid", 1 / L, "mol/L"), ("peroxide", 1 / L, "mol/L")),
        held,
        strict=False,
    ):
        ends = items(f"kept: {name}", value, (1, 2), "one number, or lowest and highest")
        low, high = (
            number(f"kept: {name}", end, 0, MOST_KEPT[name] / scale, unit)
            for end in (ends[0], ends[-1])
        )
        if low > high:
            raise ValueError(
                f"kept: {name} = {value!r} {unit} is impossible: the lowest must be at most the highest; "
                f"{POINT}"
            )
        said[name] = (low * scale, high * scale)
    return Kept(
        percent(number("kept: percent of the bath", share, 0, 100, "%", above=True)), **said
    )


@by_name
def planned(
    *,
    acid: tuple[Any, ...],
    peroxide: tuple[Any, ...],
    parts: tuple[float, float, float],
    board_mm: tuple[float, float],
    bare_percent: float,
    place: str,
    total_mL: float | None = None,
    mL_per_cm2: float | None = None,
    foil_oz: float = 1.0,
    agitation: str = "rocked",
    facing: str = "up",
    tray_mm: tuple[float, float] | None = None,
    bottles_C: float = 20.0,
    air_C: float = 20.0,
    kept: tuple[Any, ...] | None = None,
    second: tuple[float, float] | None = None,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Plan:
    """Plan a bath from a page's fields.

    Parameters
    ----------
    acid, peroxide : tuple
        As labelled: strength and notation, such as (10, "%"); or between: lowest, highest and notation, such as
        (9, 11, "% by weight") [unit of the notation].
    parts : tuple
        Water, acid and peroxide, parts by volume [-].
    board_mm : tuple
        Width and height of the board, each at least 10 [mm].
    bare_percent : float
        How much of the board is to be etched [%].
    place : str
        Whose rules on who may hold what: "EU", "GB" or "elsewhere" [-].
    total_mL : float
        The whole bath [mL], or
    mL_per_cm2 : float
        the bath over the bare copper [mL/cm²], 0.01 to 1000: one of the two.
    foil_oz : float
        Weight of the foil [oz/ft²].
    agitation, facing : str
        How the bath moves and which way the copper looks, as in `Tray` [-].
    tray_mm : tuple, optional
        Width and length of the open liquid in the tray [mm]; an upright board needs it.
    bottles_C, air_C : float
        Temperature of bottles and water, 0 to 40, and of the air, -10 to 45 [°C].
    kept : tuple, optional
        A used bath that is topped up: percent of the whole [%], copper [g/L], acid [mol/L] and, if it is not left out
        as gone, peroxide [mol/L] in it; each of these three one number or (lowest, highest).
    second : tuple, optional
        Percent of the peroxide held back, 0 to 90 [%], and when it is poured, 0.1 to 120 [min after the board].
    draws, seed : int
        How many plausible baths, and the seed of the bottles' doubt [-].

    Returns
    -------
    Plan
        With its verdict.

    Raises
    ------
    ValueError
        A value that cannot be: names the input and its limits.

    Examples
    --------
    >>> mild = planned(acid=(10, "%"), peroxide=(12, "%"), parts=(0, 1, 1), total_mL=150, board_mm=(75, 60),
    ...                bare_percent=60, place="EU")
    >>> print(mild.verdict)
    mix it
    """
    if (total_mL is None) == (mL_per_cm2 is None):
        raise ValueError(
            f"total_mL = {total_mL!r} with mL_per_cm2 = {mL_per_cm2!r} is impossible: give one of the two"
        )
    items("parts", parts, (3,), "water, acid, peroxide")
    board, tray = laid_out(board_mm, bare_percent, foil_oz, agitation, facing, tray_mm, air_C)
    T = warmth("bottles_C", bottles_C, *BOTTLES)
    if mL_per_cm2 is None:
        per_area = (
            number("total_mL", total_mL, 0, MOST_BATH, "mL", above=True)
            * mL
            / float(board.copper_area)
        )
        with naming("total_mL"):
            number("mL per cm² of bare copper", per_area / PER_CM2, LEAST, MOST, "mL/cm²")
    else:
        per_area = number("mL_per_cm2", mL_per_cm2, LEAST, MOST, "mL/cm²") * PER_CM2
    size = "total_mL" if mL_per_cm2 is None else "mL_per_cm2"
    deep_enough(size, size, board, tray, per_area)
    if second is not None:
        back, wait = items(
            "second", second, (2,), "percent of the peroxide held back, minutes after the board"
        )
        second = (
            percent(number("second: percent held back", back, 0, 100 * MOST_HELD_BACK, "%")),
            number("second: minutes", wait, *WAIT, "min") * minute,
        )
    outside: list[RangeWarning] = []
    with collecting_warnings(
        outside
    ):  # a page says this in words, not in a red box with file names
        bottles = bottle("acid", acid, "HCl", T), bottle("peroxide", peroxide, "H2O2", T)
    given = Inputs(
        *bottles,
        parts,
        board,
        tray,
        per_area,
        where(place),
        T,
        None if kept is None else topped_up(kept),
        second,
        draws,
        seed,
    )
    if given.second is not None:
        area = float(board.copper_area)
        later = given.second[0] * given.parts[2] / sum(given.parts) * given.fresh
        room = dataclasses.replace(tray, open_area=float(tray.surface(per_area * area, area)))
        with naming("second"):
            deep_enough(size, size, board, room, per_area * (1 - later))
    made = plans.planned(given)
    return dataclasses.replace(
        made,
        outside=tuple({str(warning): warning for warning in (*outside, *made.outside)}.values()),
    )


@by_name
def mildest(
    *,
    acid: tuple[Any, ...],
    peroxide: tuple[Any, ...],
    board_mm: tuple[float, float],
    bare_percent: float,
    place: str,
    minutes: tuple[float, float] = (3, 8),
    hottest_C: float = 40.0,
    portions: int = 1,
    foil_oz: float = 1.0,
    agitation: str = "rocked",
    facing: str = "up",
    tray_mm: tuple[float, float] | None = None,
    bottles_C: float = 20.0,
    air_C: float = 20.0,
    draws: int = 200,
    seed: int = 0,
    progress: Callable[[int, int], Any] | None = None,
) -> SearchResult:
    """Search the mildest parts of two bottles that clear a board in a wanted time and stay cool enough.

    Parameters
    ----------
    acid, peroxide, board_mm, bare_percent, place, foil_oz, agitation, facing, tray_mm, bottles_C, air_C, draws, seed
        As in `planned` [units there].
    minutes : tuple
        Earliest and latest time until the board is clear, 0.02 to 240 [min].
    hottest_C : float
        The most that the bath may reach while etching, 0 to 100 [°C].
    portions : int
        Peroxide in one portion, or in two where that keeps it cooler [-].
    progress : callable, optional
        Told how many of how many baths were tried [-].

    Returns
    -------
    Found
        The plan, and whether it meets what was asked.

    Raises
    ------
    ValueError
        A value that cannot be: names the input and its limits.
    """
    from ...bench.plan import search

    board, tray = laid_out(board_mm, bare_percent, foil_oz, agitation, facing, tray_mm, air_C)
    T = warmth("bottles_C", bottles_C, *BOTTLES)
    early, late = (
        number("minutes", end, *WINDOW, "min") * minute
        for end in items("minutes", minutes, (2,), "earliest, latest")
    )
    if early >= late:
        raise ValueError(
            f"minutes = {minutes!r} is impossible: the earliest must be below the latest"
        )
    hottest = warmth("hottest_C", hottest_C, *HOTTEST)
    deep_enough(
        "board_mm", "tray_mm", board, tray, search.BATHS[-1] / 3
    )  # it has to be one in two portions, too
    with collecting_warnings():
        bottles = bottle("acid", acid, "HCl", T), bottle("peroxide", peroxide, "H2O2", T)
    return search.mildest(
        *bottles,
        board,
        tray,
        place=where(place),
        window=(early, late),
        hottest=hottest,
        T_bottles=T,
        portions=portions,
        draws=draws,
        seed=seed,
        progress=progress,
    )
