"""The planner's fields: a page's inputs in lab units and words, checked by name, made into a plan."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np

from ..bench import plan as plans
from ..bench.inputs import BATH_PER_AREA, MOST_KEPT, PLACES, Bottle, Inputs, Kept
from ..bench.plan import Plan
from ..matter.arrays import checked, hushed
from ..matter.properties import MOLAR_MASS
from ..matter.strengths import NOTATIONS, mass_fraction_from
from ..matter.units import L, celsius, minute, mL, mm, percent
from ..reaction.setup import Board, Foil, Tray, check_fits

if TYPE_CHECKING:
    from ..bench.search import Found

WRITTEN = {name.lower(): name for name in NOTATIONS} | {
    "%": "% by weight", "% w/w": "% by weight", "volume": "volume strength", "volumes": "volume strength",
    "vol": "volume strength", "degrees baumé": "degrees Baume", "°bé": "degrees Baume", "°be": "degrees Baume"}
"""How people write a notation, in small letters, and the package's word for it."""
WHERE = {place.lower(): place for place in PLACES} | {"great britain": "GB", "european union": "EU"}
"""How people write a place, in small letters, and the package's word for it."""
PER_CM2 = mL / 1e-4  # m³/m² in 1 mL/cm²
GRAM_PER_LITRE = 1 / MOLAR_MASS["Cu"]  # mol/m³ in 1 g/L of copper
LEAST, MOST = BATH_PER_AREA[0] / PER_CM2, BATH_PER_AREA[1] / PER_CM2  # mL/cm²
POINT = "use a point for decimals: 10.2"


@contextmanager
def told(name: str) -> Iterator[None]:
    """Let every ValueError inside begin with the input it came from."""
    try:
        yield
    except ValueError as error:
        raise ValueError(f"{name}: {error}") from None


def items(name: str, given: Any, counts: tuple[int, ...], what: str) -> tuple[Any, ...]:
    """An input of several items, or ValueError that counts them: a decimal comma makes one too many."""
    found = tuple(given) if isinstance(given, tuple | list) else (given,)
    if len(found) not in counts:
        raise ValueError(f"{name} = {given!r} has {len(found)} item{'s' * (len(found) != 1)}: it must be {what}; "
                         f"{POINT}")
    return found


def number(name: str, value: Any, low: float, high: float, unit: str, *, above: bool = False) -> float:
    """One number of an input [unit], within its limits, or ValueError that names the input."""
    if isinstance(value, tuple | list) or np.ndim(value):
        raise ValueError(f"{name} = {value!r} is impossible: it must be one number; {POINT}")
    return float(checked(name, value, low, high, unit, above=above))


def word(value: Any, known: dict[str, str] | None = None) -> Any:
    """A word of an input as the package writes it; anything else as it is, for the package to refuse by name."""
    small = value.strip().lower() if isinstance(value, str) else value
    return small if known is None else known.get(small, value) if isinstance(small, str) else value


def sides(name: str, given: Any) -> list[float]:
    """Width and height of an input [mm in, m out], above 0 to 2 m, or ValueError that names it."""
    return [number(name, side, 0, 2000, "mm", above=True) * mm for side in items(name, given, (2,), "width, height")]


def bottle(name: str, given: Any, substance: str, T: float) -> Bottle:
    """A bottle known by its label, or between two strengths.

    Parameters
    ----------
    name : str
        The input it comes from.
    given : tuple
        Strength and notation, or lowest, highest and notation [unit of the notation].
    substance : str
        "HCl" or "H2O2".
    T : float
        Temperature of a notation that counts by volume [K].

    Returns
    -------
    Bottle
        With the doubt of its label, or with the two strengths and no label [kg/kg].

    Raises
    ------
    ValueError
        A value that cannot be: names the input.

    Examples
    --------
    >>> shop = bottle("peroxide", (12, "%"), "H2O2", 293.15)
    >>> print(f"{shop.low:.3f} to {shop.high:.3f}, label {shop.label:.2f}")
    0.102 to 0.120, label 0.12
    """
    *ends, notation = items(name, given, (2, 3), "strength, notation, or lowest, highest, notation")
    notation = word(notation, WRITTEN)
    names = ("strength",) if len(ends) == 1 else ("lowest", "highest")
    with told(name):
        values = [number(end, value, 0, 1e6, f"in {notation}") for end, value in zip(names, ends, strict=True)]
        if values[0] > values[-1]:
            raise ValueError(f"lowest = {values[0]:g} is impossible: it must be at most highest = {values[-1]:g}; "
                             f"{POINT}")
        held = [float(mass_fraction_from(value, notation, substance, T)) for value in values]
        return Bottle.labelled(substance, held[0]) if len(held) == 1 else Bottle(substance, *held)


def laid_out(board_mm: Any, bare_percent: Any, foil_oz: Any, agitation: Any, facing: Any, tray_mm: Any,
             air_C: Any) -> tuple[Board, Tray]:
    """Board and tray of their fields [mm, %, oz/ft², °C], or ValueError that names the field."""
    width, height = sides("board_mm", board_mm)
    bare = percent(number("bare_percent", bare_percent, 0, 100, "%", above=True))
    foil = Foil.ounces(number("foil_oz", foil_oz, 0, 16, "oz/ft²", above=True))
    board = Board(width=width, height=height, bare=bare, foil=foil)
    open_area = None if tray_mm is None else float(np.prod(sides("tray_mm", tray_mm)))
    tray = Tray(word(agitation), word(facing), open_area, float(celsius(number("air_C", air_C, -20, 100, "°C"))))
    with told("tray_mm"):
        check_fits(board, tray)
    return board, tray


def topped_up(given: Any) -> Kept:
    """A kept bath of its field, (percent of the bath, copper g/L, acid mol/L), or ValueError that names it."""
    share, *held = items("kept", given, (3,), "percent of the bath, copper in g/L, acid in mol/L")
    said = {}
    for name, value, scale, unit in zip(("copper", "acid"), held, (GRAM_PER_LITRE, 1 / L), ("g/L", "mol/L"),
                                        strict=True):
        ends = items(f"kept: {name}", value, (1, 2), "one number, or lowest and highest")
        said[name] = tuple(number(f"kept: {name}", end, 0, MOST_KEPT[name] / scale, unit) * scale
                           for end in (ends[0], ends[-1]))
    part = percent(number("kept: percent of the bath", share, 0, 100, "%", above=True))
    with told("kept"):
        return Kept(part, **said)


def planned(*, acid: tuple[Any, ...], peroxide: tuple[Any, ...], parts: tuple[float, float, float],
            board_mm: tuple[float, float], bare_percent: float, place: str, total_mL: float | None = None,
            mL_per_cm2: float | None = None, foil_oz: float = 1.0, agitation: str = "rocked", facing: str = "up",
            tray_mm: tuple[float, float] | None = None, bottles_C: float = 20.0, air_C: float = 20.0,
            kept: tuple[Any, ...] | None = None, second: tuple[float, float] | None = None, draws: int = 200,
            seed: int = 0) -> Plan:
    """Plan a bath from a page's fields.

    Parameters
    ----------
    acid, peroxide : tuple
        As labelled: strength and notation, such as (10, "%"); or between: lowest, highest and notation, such as
        (9, 11, "% by weight") [unit of the notation].
    parts : tuple
        Water, acid and peroxide, parts by volume [-].
    board_mm : tuple
        Width and height of the board [mm].
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
        Width and length of the open liquid in the tray [mm].
    bottles_C, air_C : float
        Temperature of bottles and water, and of the air [°C].
    kept : tuple, optional
        A used bath that is topped up: percent of the whole [%], copper [g/L] and acid [mol/L] in it, each of these
        two one number or (lowest, highest).
    second : tuple, optional
        Percent of the peroxide held back [%], and when it is poured [min after the board goes in].
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
        raise ValueError(f"total_mL = {total_mL!r} with mL_per_cm2 = {mL_per_cm2!r} is impossible: give one of the two")
    items("parts", parts, (3,), "water, acid, peroxide")
    board, tray = laid_out(board_mm, bare_percent, foil_oz, agitation, facing, tray_mm, air_C)
    T = float(celsius(number("bottles_C", bottles_C, -20, 100, "°C")))
    size = "total_mL" if mL_per_cm2 is None else "mL_per_cm2"
    if mL_per_cm2 is None:
        per_area = number(size, total_mL, 0, 1e6, "mL", above=True) * mL / float(board.area)  # type: ignore[arg-type]
        with told(size):
            number("mL per cm² of bare copper", per_area / PER_CM2, LEAST, MOST, "mL/cm²")
    else:
        per_area = number(size, mL_per_cm2, LEAST, MOST, "mL/cm²") * PER_CM2
    if second is not None:
        back, wait = items("second", second, (2,), "percent of the peroxide held back, minutes after the board")
        second = (percent(number("second: percent held back", back, 0, 100, "%")),
                  number("second: minutes", wait, 0, 240, "min", above=True) * minute)
    outside: list[str] = []
    with hushed(outside):  # a page says this in words, not in a red box with file names
        bottles = bottle("acid", acid, "HCl", T), bottle("peroxide", peroxide, "H2O2", T)
    given = Inputs(*bottles, parts, board, tray, per_area, word(place, WHERE), T,
                   None if kept is None else topped_up(kept), second, draws, seed)
    with told(size):
        made = plans.planned(given)
    return dataclasses.replace(made, outside=tuple(dict.fromkeys((*outside, *made.outside))))


def mildest(*, acid: tuple[Any, ...], peroxide: tuple[Any, ...], board_mm: tuple[float, float], bare_percent: float,
            place: str, minutes: tuple[float, float] = (3, 8), hottest_C: float = 40.0, portions: int = 1,
            foil_oz: float = 1.0, agitation: str = "rocked", facing: str = "up",
            tray_mm: tuple[float, float] | None = None, bottles_C: float = 20.0, air_C: float = 20.0,
            draws: int = 200, seed: int = 0, progress: Callable[[int, int], Any] | None = None) -> Found:
    """Search the mildest parts of two bottles that clear a board in a wanted time and stay cool enough.

    Parameters
    ----------
    acid, peroxide, board_mm, bare_percent, place, foil_oz, agitation, facing, tray_mm, bottles_C, air_C, draws, seed
        As in `planned` [units there].
    minutes : tuple
        Earliest and latest time until the board is clear [min].
    hottest_C : float
        The warmest that the bath may get [°C].
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
    from ..bench import search

    board, tray = laid_out(board_mm, bare_percent, foil_oz, agitation, facing, tray_mm, air_C)
    T = float(celsius(number("bottles_C", bottles_C, -20, 100, "°C")))
    early, late = (number("minutes", end, 0, 240, "min", above=True) * minute
                   for end in items("minutes", minutes, (2,), "earliest, latest"))
    if early > late:
        raise ValueError(f"minutes = {minutes!r} is impossible: the earliest must be at most the latest; {POINT}")
    hottest = float(celsius(number("hottest_C", hottest_C, -20, 100, "°C")))
    with hushed():
        bottles = bottle("acid", acid, "HCl", T), bottle("peroxide", peroxide, "H2O2", T)
    return search.mildest(*bottles, board, tray, place=word(place, WHERE), window=(early, late), hottest=hottest,
                          T_bottles=T, portions=portions, draws=draws, seed=seed, progress=progress)
