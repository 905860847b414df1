"""What a plan starts from: bottles, parts, board, tray, place, and a used bath."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws, common_shape
from ...common.band import between
from ...common.limits import InputError, check_choice, check_kind, check_number, check_whole
from ...matter.properties import MOLAR_MASS, density_inside
from ...matter.solution import Solution
from ...reaction.bath.setup import Board, Tray, check_fits
from ..bottle.bottle import BOTTLE_TEMPERATURES, Bottle
from ..hazards.caution import PLACES

MOST_USED = {"copper": 3000.0, "acid": 8000.0, "peroxide": 5000.0}
"""The most that a used bath may hold [mol/m³]."""
BATH_PER_AREA = (1e-4, 10.0)
"""Least and most bath over bare copper [m³/m²]: 0.01 to 1000 mL per cm²."""
MOST_PART = 1e6
"""Most parts of one liquid to one of another [-]."""
MOST_HELD_BACK = 0.9
"""Largest share of the peroxide that may be held back [-]."""
WAIT = (5.0, 7200.0)
"""When a second portion may be poured, from the board going in [s]."""
EDITION = 2
"""Edition of this package: each has its own rules for a verdict. Formats of a file: `files`."""
MOST_SEED = 2**53
"""Largest seed: larger whole numbers do not survive a JSON file."""
DENSITY_PASSES = 100
"""Passes for the density of a used bath: each leaves a tenth of the error, in the strongest and
coldest baths half of it."""


@dataclasses.dataclass(frozen=True)
class UsedBath:
    """A bath already used that is topped up: what it holds, and its share of the bath in the tray.

    Parameters
    ----------
    share : float
        Share of the bath in the tray that is the used one [-], above 0 to 1; the rest is poured
        to it, in the plan's parts.
    copper, acid, peroxide : float or tuple of two
        Copper(II), HCl and H2O2 in it [mol/m³]: one number, or the lowest and the highest.

    Raises
    ------
    InputError
        A value outside its limits, or the lowest above the highest.

    Examples
    --------
    >>> print(UsedBath(0.8, copper=300, acid=(1200, 1500)).copper)
    (300.0, 300.0)
    """

    share: float
    copper: Any
    acid: Any
    peroxide: Any = 0.0

    def __post_init__(self) -> None:
        share = check_number("share", self.share, 0.0, 1.0, "", above=True)
        object.__setattr__(self, "share", share)
        for name, most in MOST_USED.items():
            object.__setattr__(self, name, _lowest_and_highest(name, getattr(self, name), most))

    def contents(self, draws: int, seed: int) -> dict[str, FloatArray]:
        """Draw what it holds [mol/m³], by name, on a draw axis; three seeds from `seed` on."""
        concentrations: dict[str, FloatArray] = {}
        for k, name in enumerate(MOST_USED):
            low, high = getattr(self, name)
            # a seed for each: with one seed a bath of much copper would always hold much acid
            concentrations[name] = between(low, high, draws, seed + k)
        return concentrations


def _lowest_and_highest(name: str, value: Any, most: float) -> tuple[float, float]:
    """Return a concentration as its lowest and its highest value [mol/m³]."""
    ends = (value, value)
    if isinstance(value, tuple | list):
        ends = tuple(value)
    limits: dict[str, Any] = {"value": value, "low": 0.0, "high": most, "unit": "mol/m³"}
    if len(ends) != 2:
        rule = f"it must be one number or (lowest, highest), 0 to {most:g} mol/m³"
        raise InputError(name, rule, about=f" = {value!r}", **limits)
    low, high = (check_number(name, end, 0.0, most, "mol/m³") for end in ends)
    if low > high:
        rule = "the lowest must be at most the highest, mol/m³"
        raise InputError(name, rule, about=f" = {value!r}", **limits)
    return low, high


def used_bath_solution(
    volume: ArrayLike, T: ArrayLike, copper: Any, acid: Any, peroxide: Any
) -> Solution:
    """Make a solution of a used bath, its copper counted as copper(II).

    Parameters
    ----------
    volume : float or array
        How much of it [m³].
    T : float or array
        Temperature [K].
    copper, acid, peroxide : float or array
        Concentrations at T [mol/m³].

    Returns
    -------
    Solution
        With these concentrations; its density is found by iteration.

    Examples
    --------
    >>> print(f"{used_bath_solution(1e-4, 293.15, 300.0, 1500.0, 0.0).concentration('HCl'):.0f}")
    1500
    """
    # asanyarray, unlike asarray, leaves the mark of a draw axis on
    concentrations = {
        "CuCl2": np.asanyarray(copper, dtype=float),
        "HCl": np.asanyarray(acid, dtype=float),
        "H2O2": np.asanyarray(peroxide, dtype=float),
    }
    _, draws = common_shape(T=T, **concentrations)
    # mass fraction = concentration * molar mass / density, and the density depends on the fractions
    density: Any = 1000.0  # of water, to begin with
    for _ in range(DENSITY_PASSES):
        last = density
        fractions = {
            substance: np.asarray(concentration * MOLAR_MASS[substance] / last)
            for substance, concentration in concentrations.items()
        }
        density = density_inside(np.asarray(T), fractions)
        if np.all(np.abs(density - last) <= 1e-12 * density):
            break
    if draws is not None:  # the loop works on plain arrays
        density = as_draws(density)
    fractions = {
        substance: concentration * MOLAR_MASS[substance] / density
        for substance, concentration in concentrations.items()
    }
    return Solution.of(volume=volume, T=T, **fractions)


@dataclasses.dataclass(frozen=True, eq=False)
class Inputs:
    """All that a plan is computed from, checked.

    It holds how much bath there is for the copper, and no volume.

    Parameters
    ----------
    acid, peroxide : Bottle
        What the bottles hold, and how sure that is.
    parts : tuple of float
        Water, acid and peroxide by volume [-], kept as a ratio: see `ratio`.
    board : Board
        One board.
    tray : Tray
        How the bath moves, which way the board faces, open area and air.
    bath_per_area : float
        Bath over bare copper [m³/m²].
    place : str
        Whose rules on who may hold what, one of `PLACES`.
    T_bottles : float
        Temperature of bottles, water and a used bath [K].
    used_bath : UsedBath, optional
        A bath already used, that is topped up.
    second : tuple of float, optional
        Share of the peroxide held back [-], and when it is poured [s after the board].
    draws, seed : int
        How many plausible baths [-], and what makes the doubt of the bottles repeatable.
    edition : int
        Edition of the package that wrote the file they were read from [-]; by default this one.

    Raises
    ------
    InputError
        A value that cannot be: names it and its limits.
    """

    acid: Bottle
    peroxide: Bottle
    parts: tuple[float, float, float]
    board: Board
    tray: Tray
    bath_per_area: float
    place: str
    T_bottles: float = 293.15
    used_bath: UsedBath | None = None
    second: tuple[float, float] | None = None
    draws: int = 200
    seed: int = 0
    edition: int = EDITION

    def __post_init__(self) -> None:
        _check_bottle("acid", self.acid, "HCl")
        _check_bottle("peroxide", self.peroxide, "H2O2")
        check_kind("board", self.board, Board)
        check_kind("tray", self.tray, Tray)
        # a board and a tray may be arrays elsewhere: here they must be one of each, and go together
        single(self.board, self.tray)
        check_fits(self.board, self.tray)
        # the class is frozen: only here are fields replaced, by what the checks make of them
        checked = {
            "parts": ratio(self.parts),
            "bath_per_area": check_number(
                "bath_per_area", self.bath_per_area, *BATH_PER_AREA, "m³/m²"
            ),
            "T_bottles": check_number("T_bottles", self.T_bottles, *BOTTLE_TEMPERATURES, "K"),
            "place": check_choice("place", self.place, PLACES),
        }
        for name, value in checked.items():
            object.__setattr__(self, name, value)
        if self.used_bath is not None and not isinstance(self.used_bath, UsedBath):
            rule = "it must be UsedBath(share, copper, acid) or None"
            raise InputError(
                "used_bath", rule, value=self.used_bath, about=f" = {self.used_bath!r}"
            )
        # after the parts and the used bath: whether it is poured at all hangs on both
        object.__setattr__(self, "second", self._second_portion())
        object.__setattr__(self, "draws", check_whole("draws", self.draws, 1, MOST_DRAWS))
        object.__setattr__(self, "seed", check_whole("seed", self.seed, 0, MOST_SEED))
        object.__setattr__(self, "edition", check_whole("edition", self.edition, 1, EDITION))

    def _second_portion(self) -> tuple[float, float] | None:
        """Return the second portion, checked; None where nothing is held back or poured fresh."""
        if self.second is None:
            return None
        if not isinstance(self.second, tuple | list) or len(self.second) != 2:
            rule = (
                f"it must be (share of the peroxide, 0 to {MOST_HELD_BACK:g}, "
                f"time, {WAIT[0]:g} to {WAIT[1]:g} s)"
            )
            raise InputError("second", rule, value=self.second, about=f" = {self.second!r}")
        # both are checked even where nothing is held back: a wrong entry is never passed over
        share = check_number("second: share", self.second[0], 0.0, MOST_HELD_BACK, "")
        time = check_number("second: time", self.second[1], *WAIT, "s")
        is_poured = share > 0 and self.parts[2] > 0 and self.fresh > 0
        if not is_poured:
            return None
        return share, time

    @property
    def fresh(self) -> float:
        """Share of the bath that is poured fresh, in `parts` [-]."""
        if self.used_bath is None:
            return 1.0
        return 1 - self.used_bath.share

    def replace(self, **changes: Any) -> Inputs:
        """Return the same inputs with some fields changed, checked again [units of the fields]."""
        # what is changed here is no longer what stands in an older file
        return dataclasses.replace(self, **{"edition": EDITION, **changes})


def _check_bottle(name: str, bottle: Any, substance: str) -> None:
    """Refuse what is no bottle of this substance."""
    if not isinstance(bottle, Bottle) or bottle.substance != substance:
        rule = f"it must be a Bottle of {substance}"
        raise InputError(name, rule, value=bottle, about=f" = {bottle!r}")


def ratio(parts: Any) -> tuple[float, float, float]:
    """Return parts of water, acid and peroxide [-] as a ratio.

    The smaller of acid and peroxide that is poured counts 1; where neither is, the water.

    Raises
    ------
    InputError
        Not three numbers from 0 to a million, or nothing to pour.

    Examples
    --------
    >>> print(ratio((225, 75, 75)))
    (3.0, 1.0, 1.0)
    """
    limits: dict[str, Any] = {"value": parts, "low": 0.0, "high": MOST_PART}
    if not isinstance(parts, tuple | list | np.ndarray) or len(parts) != 3:
        rule = f"it must be three numbers, water, acid and peroxide, 0 to {MOST_PART:g}"
        raise InputError("parts", rule, about=f" = {parts!r}", **limits)
    names = ("parts: water", "parts: acid", "parts: peroxide")
    water, acid, peroxide = (
        check_number(name, part, 0.0, MOST_PART, "")
        for name, part in zip(names, parts, strict=True)
    )
    if water + acid + peroxide == 0:
        raise InputError(
            "parts",
            f"one of them must be above 0 to {MOST_PART:g}",
            about=f" = {parts!r}",
            wrong="is nothing to pour",
            **limits,
        )
    # so 225 : 75 : 75 mL and 3 : 1 : 1 are the same plan, and no volume is kept
    reagents = [part for part in (acid, peroxide) if part > 0]
    one_part = min(reagents) if reagents else water
    most = max(water, acid, peroxide)
    # each may lie within its limits, and one still be next to nothing beside another
    if most / one_part > MOST_PART:
        rule = (
            f"{one_part:g} is too little beside {most:g}, "
            f"its ratio to the others must be 0 to {MOST_PART:g}"
        )
        raise InputError("parts", rule, about=f" = {parts!r}", **limits)
    return water / one_part, acid / one_part, peroxide / one_part


def single(board: Board, tray: Tray | None = None) -> None:
    """Refuse arrays of boards or trays [SI]: a plan is for one."""
    values: dict[str, Any] = {"board: area": board.area, "board: foil": board.foil.areal_mass}
    if tray is not None:
        values |= {
            "tray: open_area": tray.open_area,
            "tray: T_air": tray.T_air,
            "tray: perimeter": tray.perimeter,
        }
    for name, value in values.items():
        if np.ndim(value):  # 0 for a number, and for None: nobody said how large the tray is
            rule = "a plan takes one board in one tray, 1 number each"
            raise InputError(name, rule, value=value, about=f" of shape {np.shape(value)}")
