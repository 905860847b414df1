"""What a plan starts from: the bottles and how sure one is of them, parts, board, tray, place and a bath kept."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws, common_shape
from ...common.band import between
from ...common.limits import check_choice, check_number
from ...matter.properties import MOLAR_MASS, density_inside
from ...matter.solution import Solution
from ...reaction.bath.setup import Board, Tray, check_fits
from ..bottle.bottle import BOTTLES, Bottle
from ..hazards.caution import PLACES

MOST_KEPT = {"copper": 3000.0, "acid": 8000.0, "peroxide": 5000.0}  # mol/m³ in a bath that was kept
BATH_PER_AREA = (1e-4, 10.0)  # least and most bath over bare copper, m³/m²: 0.01 to 1000 mL per cm²
MOST_PART, MOST_HELD_BACK = 1e6, 0.9  # part, and share of the peroxide [-]
WAIT = (5.0, 7200.0)  # s, until the second portion


@dataclasses.dataclass(frozen=True)
class Kept:
    """A bath already used that is topped up: what it holds, and its share of the bath in the tray.

    Parameters
    ----------
    share : float
        Share of the bath in the tray that was kept [-], above 0 to 1; the rest is poured to it, in the plan's parts.
    copper, acid, peroxide : float or tuple of two
        Copper(II), HCl and H2O2 in it [mol/m³]: one number, or the lowest and the highest.

    Raises
    ------
    ValueError
        A value outside its limits, or the lowest above the highest.

    Examples
    --------
    >>> print(Kept(0.8, copper=300, acid=(1200, 1500)).copper)
    (300.0, 300.0)
    """

    share: float
    copper: Any
    acid: Any
    peroxide: Any = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(
            self, "share", check_number("share", self.share, 0.0, 1.0, "", above=True)
        )
        for name, most in MOST_KEPT.items():
            given = getattr(self, name)
            ends = tuple(given) if isinstance(given, tuple | list) else (given, given)
            if len(ends) != 2:
                raise ValueError(
                    f"{name} = {given!r} is impossible: it must be one number or (lowest, highest), "
                    f"0 to {most:g} mol/m³"
                )
            low, high = (check_number(name, end, 0.0, most, "mol/m³") for end in ends)
            if low > high:
                raise ValueError(
                    f"{name} = {given!r} is impossible: the lowest must be at most the highest, mol/m³"
                )
            object.__setattr__(self, name, (low, high))

    def held(self, draws: int, seed: int) -> dict[str, FloatArray]:
        """What it holds [mol/m³] by name, on a draw axis of that length; three seeds from `seed` on."""
        ends = {name: getattr(self, name) for name in MOST_KEPT}
        return {
            name: between(low, high, draws, seed + k)
            for k, (name, (low, high)) in enumerate(ends.items())
        }


def kept_solution(
    volume: ArrayLike, T: ArrayLike, copper: Any, acid: Any, peroxide: Any
) -> Solution:
    """A used bath as a solution, its copper counted as copper(II).

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
    >>> print(f"{kept_solution(1e-4, 293.15, 300.0, 1500.0, 0.0).concentration('HCl'):.0f}")
    1500
    """
    held = {
        s: np.asanyarray(c, dtype=float)
        for s, c in (("CuCl2", copper), ("HCl", acid), ("H2O2", peroxide))
    }
    draws = common_shape(T=T, **held)[1]
    density: Any = 1000.0
    for _ in range(
        100
    ):  # each pass leaves a tenth of the error, in the strongest and coldest baths half of it
        last = density
        density = density_inside(
            np.asarray(T), {s: np.asarray(c * MOLAR_MASS[s] / last) for s, c in held.items()}
        )
        if np.all(np.abs(density - last) <= 1e-12 * density):
            break
    density = density if draws is None else as_draws(density)
    return Solution.of(
        volume=volume, T=T, **{s: c * MOLAR_MASS[s] / density for s, c in held.items()}
    )


@dataclasses.dataclass(frozen=True, eq=False)
class Inputs:
    """All that a plan is computed from, checked; it holds how much bath there is for the copper, and no volume.

    `parts` of water, acid and peroxide by volume [-] (as a ratio: the smaller of acid and peroxide is 1),
    `bath_per_area` [m³ of bath per m² of bare copper], `place` of the rules, `T_bottles` [K], `kept` bath,
    `second`: share of the peroxide held back [-] and when it is poured [s after the board], `draws` and `seed` [-].

    Raises
    ------
    ValueError
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
    kept: Kept | None = None
    second: tuple[float, float] | None = None
    draws: int = 200
    seed: int = 0

    def __post_init__(self) -> None:
        for name, substance in (("acid", "HCl"), ("peroxide", "H2O2")):
            bottle = getattr(self, name)
            if not isinstance(bottle, Bottle) or bottle.substance != substance:
                raise ValueError(
                    f"{name} = {bottle!r} is impossible: it must be a Bottle of {substance}"
                )
        for name, kind in (("board", Board), ("tray", Tray)):
            if not isinstance(getattr(self, name), kind):
                raise ValueError(
                    f"{name} = {getattr(self, name)!r} is impossible: it must be a {kind.__name__}"
                )
        single(self.board, self.tray)
        check_fits(self.board, self.tray)
        object.__setattr__(self, "parts", ratio(self.parts))
        object.__setattr__(
            self,
            "bath_per_area",
            check_number("bath_per_area", self.bath_per_area, *BATH_PER_AREA, "m³/m²"),
        )
        object.__setattr__(
            self, "T_bottles", check_number("T_bottles", self.T_bottles, *BOTTLES, "K")
        )
        check_choice("place", self.place, PLACES)
        if self.kept is not None and not isinstance(self.kept, Kept):
            raise ValueError(
                f"kept = {self.kept!r} is impossible: it must be Kept(share, copper, acid) or None"
            )
        if self.second is not None:
            if not isinstance(self.second, tuple | list) or len(self.second) != 2:
                raise ValueError(
                    f"second = {self.second!r} is impossible: it must be (share of the peroxide, "
                    f"0 to {MOST_HELD_BACK:g}, time, {WAIT[0]:g} to {WAIT[1]:g} s)"
                )
            share, when = (
                check_number(f"second: {name}", value, *ends)
                for name, value, ends in zip(
                    ("share", "time"),
                    self.second,
                    ((0.0, MOST_HELD_BACK, ""), (*WAIT, "s")),
                    strict=True,
                )
            )
            object.__setattr__(
                self, "second", (share, when) if share and self.parts[2] and self.fresh else None
            )
        for name, least, most in (("draws", 1, MOST_DRAWS), ("seed", 0, 2**53)):
            value = getattr(self, name)
            if (
                isinstance(value, bool)
                or not isinstance(value, int | np.integer)
                or not least <= value <= most
            ):
                raise ValueError(
                    f"{name} = {value!r} is impossible: it must be a whole number from {least} to {most}"
                )
            object.__setattr__(self, name, int(value))

    @property
    def fresh(self) -> float:
        """Share of the bath that is poured fresh, in `parts` [-]."""
        return 1.0 if self.kept is None else 1 - self.kept.share

    def replace(self, **changes: Any) -> Inputs:
        """The same inputs with some fields changed, checked again [units of the fields]."""
        return dataclasses.replace(self, **changes)


def ratio(parts: Any) -> tuple[float, float, float]:
    """Parts of water, acid and peroxide [-] as a ratio: the smaller of acid and peroxide that is poured counts 1.

    Raises
    ------
    ValueError
        Not three numbers from 0 to a million, or nothing to pour.

    Examples
    --------
    >>> print(ratio((225, 75, 75)))
    (3.0, 1.0, 1.0)
    """
    if not isinstance(parts, tuple | list | np.ndarray) or len(parts) != 3:
        raise ValueError(
            f"parts = {parts!r} is impossible: it must be three numbers, water, acid and peroxide, "
            f"0 to {MOST_PART:g}"
        )
    given = [
        check_number(f"parts: {name}", part, 0.0, MOST_PART, "")
        for name, part in zip(("water", "acid", "peroxide"), parts, strict=True)
    ]
    poured = [part for part in given[1:] if part] or given[:1]
    if not sum(given):
        raise ValueError(
            f"parts = {parts!r} is nothing to pour: one of them must be above 0 to {MOST_PART:g}"
        )
    water, acid, peroxide = (part / min(poured) for part in given)
    if max(water, acid, peroxide) > MOST_PART:
        raise ValueError(
            f"parts = {parts!r} is impossible: {min(poured):g} is too little beside {max(given):g}, "
            f"its ratio to the others must be 0 to {MOST_PART:g}"
        )
    return water, acid, peroxide


def single(board: Board, tray: Tray | None = None) -> None:
    """Refuse arrays of boards or trays [SI]: a plan is for one."""
    named = {"board: area": board.area, "board: foil": board.foil.areal_mass}
    named |= {} if tray is None else {"tray: open_area": tray.open_area, "tray: T_air": tray.T_air}
    for name, value in named.items():
        if np.ndim(value):  # type: ignore[arg-type]
            raise ValueError(
                f"{name} of shape {np.shape(value)} is impossible: "  # type: ignore[arg-type]
                "a plan takes one board in one tray, 1 number each"
            )
