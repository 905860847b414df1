"""A solution in a bottle or tray, and what mixing several of them gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import FloatArray, as_draws, common_shape
from ..common.limits import InputError, check_choice, check_values
from ..common.units import T_HIGH, T_LOW
from .heats import heats_inside, temperature_inside, warmth_inside
from .properties import (
    MOLAR_MASS,
    SOLUTES,
    check_fractions,
    density_inside,
    heat_capacity_inside,
    present,
    warn_properties,
)

MOST_VOLUME = 1e3
"""Largest volume of a solution [m³]."""
MOST_MASS = 2e3 * MOST_VOLUME
"""Largest mass [kg]: no solution here is twice as heavy as water."""
MOST_AMOUNT = 1e9
"""Largest amount of a solute [mol]."""
ROUNDING, SMALLEST_MASS = 1e-9, 1e-15
"""What a balance may miss by rounding: a share of the mass [-], and a mass [kg]."""
TINY = 1e-300
"""In place of 0 as a divisor [any unit]."""
SPECIES = (*SOLUTES, "H2O")


@dataclass(frozen=True, eq=False, repr=False)
class Solution:
    """A solution, or an array of them.

    Make it by `Solution.of`, `Solution.from_amounts` or `mix`: they check what they are given.

    Parameters
    ----------
    plain_mass : array
        Mass [kg], broadcast to the shape of the solution, without the mark of its draw axis.
    plain_T : array
        Temperature [K], likewise.
    fractions : dict
        Mass fraction [kg/kg] of every solute, likewise.
    draws : int or None
        Length of the draw axis [-], the last one; None: no doubt.
    """

    plain_mass: FloatArray
    plain_T: FloatArray
    fractions: Mapping[str, FloatArray]
    draws: int | None = None

    @classmethod
    def of(
        cls,
        *,
        volume: ArrayLike,
        T: ArrayLike,
        HCl: ArrayLike = 0.0,
        H2O2: ArrayLike = 0.0,
        NaOH: ArrayLike = 0.0,
        CuCl2: ArrayLike = 0.0,
        CuCl: ArrayLike = 0.0,
        **unknown: ArrayLike,
    ) -> Solution:
        """Say what is in a bottle or tray; what is not named is water.

        The mass is volume times density at T.

        Parameters
        ----------
        volume : float or array
            Volume at T [m³], 0 (nothing poured) to 1000.
        T : float or array
            Temperature [K], 250 to 400.
        HCl, H2O2, NaOH, CuCl2, CuCl : float or array
            Mass fractions [kg/kg], at most 0.45, 0.70, 0.50, 0.40, 0.20.
        **unknown : float or array
            Any other substance [kg/kg] is refused.

        Returns
        -------
        Solution
            Of the shape to which the arguments broadcast.

        Raises
        ------
        InputError
            A value outside its limits, or an unknown substance.
        ValueError
            No water left, lye beside acid or peroxide, or shapes that do not broadcast.

        Examples
        --------
        >>> print(f"{Solution.of(volume=1e-3, T=293.15, HCl=0.32).concentration('HCl'):.0f}")
        10171
        """
        _check_substances(unknown)
        volume = check_values("volume", volume, 0, MOST_VOLUME, "m³")
        T = check_values("T", T, T_LOW, T_HIGH, "K")
        checked = check_fractions(
            {"HCl": HCl, "H2O2": H2O2, "NaOH": NaOH, "CuCl2": CuCl2, "CuCl": CuCl}
        )
        shape, draws = common_shape(volume=volume, T=T, **checked)

        # Reckon with plain arrays, which are quicker than marked ones
        fractions = {solute: np.asarray(w) for solute, w in checked.items()}
        mass = np.asarray(volume) * density_inside(np.asarray(T), fractions)
        return cls._spread(shape, draws, mass, T, fractions)

    @classmethod
    def from_amounts(cls, *, mass: ArrayLike, T: ArrayLike, **amounts: ArrayLike) -> Solution:
        """Make a solution from what a balance leaves: its mass and the amounts of its solutes.

        Parameters
        ----------
        mass : float or array
            Mass of the whole solution [kg], 0 allowed.
        T : float or array
            Temperature [K], 250 to 400.
        **amounts : float or array
            Amounts [mol] of HCl, H2O2, NaOH, CuCl2, CuCl; the rest of the mass is water. Below zero
            by rounding is 0.

        Returns
        -------
        Solution
            With these amounts.

        Raises
        ------
        InputError
            A value that cannot be, an unknown substance, or more acid, peroxide or lye than `of`
            takes.
        ValueError
            Solutes heavier than the whole, lye beside acid or peroxide, or shapes that do not
            broadcast.

        Examples
        --------
        >>> bath = Solution.from_amounts(mass=0.1, T=293.15, CuCl2=0.05)
        >>> print(f"{bath.mass_fraction('CuCl2'):.4f}")
        0.0672
        """
        _check_substances(amounts)
        mass = check_values("mass", mass, 0, MOST_MASS, "kg")
        T = check_values("T", T, T_LOW, T_HIGH, "K")
        # What is used up may come out of a balance a little below zero (`initial`: of no solutions
        # at all the largest is 0)
        below_zero = ROUNDING * float(np.max(mass, initial=0.0)) + SMALLEST_MASS
        checked = {}
        for solute, moles in amounts.items():
            least = -below_zero / MOLAR_MASS[solute]
            checked[solute] = check_values(solute, moles, least, MOST_AMOUNT, "mol")
        shape, draws = common_shape(mass=mass, T=T, **checked)
        whole = np.asarray(mass)
        masses = {}
        for solute in SOLUTES:
            moles = np.asarray(checked.get(solute, 0.0))
            masses[solute] = np.maximum(moles, 0.0) * MOLAR_MASS[solute]
        _check_lighter_than(whole, masses, " + ".join(amounts))

        # Where there is no mass there are no fractions: 0 / 1 and not 0 / 0
        is_empty = whole <= 0
        divisor = np.where(is_empty, 1.0, whole)
        fractions = {}
        for solute, part in masses.items():
            fractions[solute] = np.where(is_empty, 0.0, part / divisor)
        # Of copper a bath holds what it dissolved, which may be more than anybody would mix
        check_fractions({name: fractions[name] for name in ("HCl", "H2O2", "NaOH")})
        return cls._spread(shape, draws, mass, T, fractions)

    @classmethod
    def _spread(
        cls,
        shape: tuple[int, ...],
        draws: int | None,
        mass: Any,
        T: Any,
        fractions: Mapping[str, Any],
    ) -> Solution:
        """Make a solution of checked values, each broadcast to the shape."""
        return cls(
            _broadcast(mass, shape),
            _broadcast(T, shape),
            {solute: _broadcast(w, shape) for solute, w in fractions.items()},
            draws,
        )

    @property
    def shape(self) -> tuple[int, ...]:
        """Return the shape of the array of solutions [-]; () is a single one."""
        return self.plain_mass.shape

    def _marked(self, values: Any) -> Any:
        """Values for the caller: of the shape of the solution, with its draw mark."""
        array = _broadcast(values, self.shape)
        if self.draws is None:
            return array[()]  # of a single solution a number, not an array without axes
        return as_draws(array)

    def _warn(self, reader: str) -> None:
        # The warning names the line that reads the property. Counted from where it is given: two
        # functions, this one, the property, that line
        warn_properties(reader, self.plain_T, self.fractions, stacklevel=5)

    @property
    def mass(self) -> Any:
        """Return the mass [kg]."""
        return self._marked(self.plain_mass)

    @property
    def T(self) -> Any:
        """Return the temperature [K]."""
        return self._marked(self.plain_T)

    @property
    def density(self) -> Any:
        """Return the density [kg/m³] at T; one RangeWarning outside the checked range."""
        self._warn("density")
        return self._marked(density_inside(self.plain_T, self.fractions))

    @property
    def volume(self) -> Any:
        """Return the volume [m³] at T; one RangeWarning outside the checked range."""
        self._warn("volume")
        return self._marked(self.plain_mass / density_inside(self.plain_T, self.fractions))

    @property
    def heat_capacity(self) -> Any:
        """Return the heat capacity [J/kg/K] at T; one RangeWarning outside the checked range."""
        self._warn("heat capacity")
        return self._marked(heat_capacity_inside(self.plain_T, self.fractions))

    def mass_fraction(self, substance: str) -> Any:
        """Return the mass fraction [kg/kg] of a substance, named as in "HCl" or "H2O".

        Raises
        ------
        InputError
            An unknown substance; so do `concentration` and `amount`.
        """
        return self._marked(self._fraction(substance))

    def concentration(self, substance: str) -> Any:
        """Return the concentration [mol/m³] of a substance at T.

        It gives one RangeWarning outside the checked range.
        """
        fraction = self._fraction(substance)
        self._warn("concentration")
        density = density_inside(self.plain_T, self.fractions)
        return self._marked(fraction * density / MOLAR_MASS[substance])

    def amount(self, substance: str) -> Any:
        """Return the amount [mol] of a substance."""
        return self._marked(self.plain_mass * self._fraction(substance) / MOLAR_MASS[substance])

    def _fraction(self, substance: str) -> Any:
        check_choice("substance", substance, SPECIES)
        if substance == "H2O":
            return 1 - sum(self.fractions.values())
        return self.fractions[substance]

    def __repr__(self) -> str:
        if not self.plain_mass.size:  # nothing has no lowest and no highest value
            return f"Solution(shape {self.shape})"
        parts = [f"{_low_to_high(self.plain_mass, '.4g')} kg"]
        parts.append(f"{_low_to_high(self.plain_T, '.2f')} K")
        for solute, w in present(self.fractions).items():
            parts.append(f"{solute} {_low_to_high(100 * w, '.3g')} %")
        return f"Solution({', '.join(parts)})"


def _low_to_high(values: FloatArray, form: str) -> str:
    low = format(float(np.min(values)), form)
    high = format(float(np.max(values)), form)
    if low == high:
        return low
    return f"{low} to {high}"


def _broadcast(values: Any, shape: tuple[int, ...]) -> FloatArray:
    """Return a view that nobody can write to: many solutions may share one array."""
    array = np.asarray(values, dtype=float)
    if array.shape != shape:
        return np.broadcast_to(array, shape)  # it is read-only by itself
    view = array.view()
    view.flags.writeable = False
    return view


def _check_substances(quantities: Mapping[str, Any]) -> None:
    """Refuse the first quantity whose name is no solute of ours."""
    for name, value in quantities.items():
        if name not in SOLUTES:
            raise InputError(
                f"substance {name}",
                f"choose from {', '.join(SOLUTES)}",
                value=value,
                wrong="is not known",
                about=f" = {value!r}",
            )


def _check_lighter_than(whole: FloatArray, masses: Mapping[str, Any], names: str) -> None:
    """Refuse solutes [kg] that are heavier together than the whole solution [kg]."""
    total = np.asarray(sum(masses.values()))
    # In a bath that is all salt both are one number, worked out in two ways
    if np.any(total > whole * (1 + ROUNDING) + SMALLEST_MASS):
        times = float(np.max(total / np.maximum(whole, TINY)))
        raise ValueError(
            f"{names} = {times:g} times the mass of the solution: it must be at most 1, "
            f"of mass = {float(np.min(whole)):g} kg"
        )


def enthalpy(solution: Solution) -> Any:
    """Return the enthalpy of a solution.

    It is counted from 25 °C, acid diluted without end, pure liquid peroxide and water: the warmth
    since then, and the heat of mixing.

    Parameters
    ----------
    solution : Solution
        The solution, or array of them (its mass in [kg]).

    Returns
    -------
    float or array
        Enthalpy [J]; only differences mean anything.

    Notes
    -----
    crc_enthalpy and giguere1955; salts of copper and lye without heat of dilution (assumed).

    Examples
    --------
    >>> print(f"{enthalpy(Solution.of(volume=1e-3, T=298.15)):.0f}")
    0
    """
    return solution._marked(_enthalpy(solution))


def _enthalpy(solution: Solution) -> Any:
    """Enthalpy of a solution [J], without its draw mark."""
    solutes = present(solution.fractions)
    warmth = solution.plain_mass * warmth_inside(solution.plain_T, solutes)
    return warmth + heats_inside(solution.plain_mass, solutes)


def mix(*solutions: Solution, heat: bool = True) -> Solution:
    """Pour solutions together: mass and enthalpy are conserved and nothing reacts.

    The temperature is the one at which the mixture has the enthalpy of its parts.

    Parameters
    ----------
    *solutions : Solution
        What is poured, in any order; their shapes broadcast [-].
    heat : bool
        False leaves the heat of mixing out: the temperature weighted by heat capacity.

    Returns
    -------
    Solution
        The mixture; its T [K] is the adiabatic temperature of mixing, ±1.5 K for two strong
        bottles.

    Raises
    ------
    InputError
        Nothing to mix, what is no solution, or a mixture past 400 K.
    ValueError
        Lye with acid or peroxide, or shapes that do not broadcast.

    Notes
    -----
    crc_enthalpy: heat of dilution of HCl, at its moles per kg of everything but HCl (assumed for
    peroxide in it); giguere1955: heat of mixing of peroxide with the water; copper salts and lye
    without (assumed).

    Examples
    --------
    >>> acid = Solution.of(volume=1e-4, T=298.15, HCl=0.3145)
    >>> print(f"{mix(acid, Solution.of(volume=3e-4, T=298.15)).T - 298.15:.1f}")
    6.6
    """
    _check_solutions(solutions)
    shape, draws = _common_shape(solutions)
    mass = np.asarray(sum(solution.plain_mass for solution in solutions))
    # One part may be nothing (no water), but all of them together may not: 0 kg has no temperature
    if np.any(mass <= 0):
        raise InputError(
            "mass",
            "the sum must be above 0 kg everywhere",
            value=float(np.min(mass)),
            wrong="is nothing to mix",
            about=f" = {np.min(mass):g} kg",
            low=0.0,
            unit="kg",
        )
    fractions = {}
    for solute in SOLUTES:
        parts = sum(solution.plain_mass * solution.fractions[solute] for solution in solutions)
        fractions[solute] = np.asarray(parts / mass)
    _check_lye(fractions)

    # Also the point from which the search for the true temperature starts, some kelvin away
    T = _mean_temperature(solutions)
    if heat and len(solutions) > 1:
        enthalpy = sum(_enthalpy(solution) for solution in solutions)
        # What the heat of mixing leaves of the enthalpy warms the mixture
        warmth = (enthalpy - heats_inside(mass, fractions)) / mass
        T = temperature_inside(warmth, T, fractions)
        T = check_values("temperature of mixing", T, T_LOW, T_HIGH, "K")
    return Solution._spread(shape, draws, mass, T, fractions)


def _check_solutions(solutions: tuple[Solution, ...]) -> None:
    if not solutions:
        raise InputError(
            "solutions",
            "give at least 1 with a mass above 0 kg",
            value=solutions,
            wrong="is nothing to mix",
        )
    for solution in solutions:
        if not isinstance(solution, Solution):
            raise InputError(
                "solutions",
                "make it by Solution.of",
                value=solution,
                wrong="is not a Solution",
                about=f" = {solution!r}",
            )


def _common_shape(solutions: tuple[Solution, ...]) -> tuple[tuple[int, ...], int | None]:
    masses = {}
    for number, solution in enumerate(solutions, start=1):
        # The mass stands for the whole solution: it has its shape and its draw mark
        masses[f"solution {number}"] = solution.mass
    return common_shape(**masses)


def _check_lye(fractions: Mapping[str, Any]) -> None:
    """Refuse to mix lye with acid or peroxide: they react, and that is not reckoned here."""
    lye = fractions["NaOH"]
    for name in ("HCl", "H2O2"):
        # The lesser of two is above 0 where both are there: lye alone in one scenario and acid
        # alone in another is no mixture of them
        if np.any(np.minimum(lye, fractions[name]) > 0):
            raise ValueError(
                f"NaOH = {np.max(lye):g} with {name} = {np.max(fractions[name]):g} "
                "kg/kg is not mixed here: one of them must be 0 (together they get hot and spit)"
            )


def _mean_temperature(solutions: tuple[Solution, ...]) -> Any:
    """Temperature [K] weighted by heat capacity: that of the mixture without heat of mixing."""
    total: Any = 0
    weights: Any = 0
    for solution in solutions:
        heat_capacity = heat_capacity_inside(solution.plain_T, solution.fractions)
        weight = solution.plain_mass * heat_capacity
        total = total + weight * solution.plain_T
        weights = weights + weight
    return np.asarray(total / weights)
