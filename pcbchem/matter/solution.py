"""A solution in a bottle or tray, and what mixing several of them gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import FloatArray, as_draws, common_shape
from ..common.limits import check_choice, check_values
from ..common.units import T_HIGH, T_LOW
from .heats import heats_inside, temperature_inside, warmth_inside
from .properties import (
    LIMITS,
    MOLAR_MASS,
    SOLUTES,
    check_fractions,
    density_inside,
    heat_capacity_inside,
    warn_properties,
)

MOST_VOLUME = 1e3  # [m³]
SPECIES = (*SOLUTES, "H2O")


@dataclass(frozen=True, eq=False, repr=False)
class Solution:
    """A solution, or an array of them: made by `Solution.of`, `Solution.from_amounts` or `mix`.

    Parameters
    ----------
    plain_mass : array
        Mass [kg], broadcast to the shape of the solution.
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
            Its mass is volume times density at T.

        Raises
        ------
        ValueError
            A value outside its limits, an unknown substance, no water left, lye beside acid or peroxide.

        Examples
        --------
        >>> print(f"{Solution.of(volume=1e-3, T=293.15, HCl=0.32).concentration('HCl'):.0f}")
        10171
        """
        for name, value in unknown.items():
            raise ValueError(
                f"substance {name} = {value!r} is not known: choose from {', '.join(SOLUTES)}"
            )
        volume = check_values("volume", volume, 0, MOST_VOLUME, "m³")
        T = check_values("T", T, T_LOW, T_HIGH, "K")
        found = check_fractions(
            {"HCl": HCl, "H2O2": H2O2, "NaOH": NaOH, "CuCl2": CuCl2, "CuCl": CuCl}
        )
        shape, draws = common_shape(volume=volume, T=T, **found)
        plain = {s: np.asarray(w) for s, w in found.items()}
        mass = np.asarray(volume) * density_inside(np.asarray(T), plain)
        return cls(
            _spread(mass, shape),
            _spread(T, shape),
            {s: _spread(w, shape) for s, w in plain.items()},
            draws,
        )

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
            Amounts [mol] of HCl, H2O2, NaOH, CuCl2, CuCl; the rest of the mass is water. Below zero by rounding is 0.

        Returns
        -------
        Solution
            With these amounts.

        Raises
        ------
        ValueError
            A value that cannot be, an unknown substance, solutes heavier than the whole, or stronger than `of` takes
            (copper salts may be).

        Examples
        --------
        >>> print(f"{Solution.from_amounts(mass=0.1, T=293.15, CuCl2=0.05).mass_fraction('CuCl2'):.4f}")
        0.0672
        """
        for name in amounts:
            if name not in SOLUTES:
                raise ValueError(
                    f"substance {name} = {amounts[name]!r} is not known: "
                    f"choose from {', '.join(SOLUTES)}"
                )
        mass = check_values("mass", mass, 0, 2e3 * MOST_VOLUME, "kg")
        T = check_values("T", T, T_LOW, T_HIGH, "K")
        slack = 1e-9 * float(np.max(mass, initial=0.0)) + 1e-15
        given = {
            s: check_values(s, n, -slack / MOLAR_MASS[s], 1e9, "mol") for s, n in amounts.items()
        }
        shape, draws = common_shape(mass=mass, T=T, **given)
        whole = np.asarray(mass)
        empty = whole <= 0
        found = {s: np.maximum(np.asarray(given.get(s, 0.0)), 0.0) * MOLAR_MASS[s] for s in SOLUTES}
        if np.any(np.asarray(sum(found.values())) > whole * (1 + 1e-9) + 1e-15):
            worst = float(np.max(np.asarray(sum(found.values())) / np.maximum(whole, 1e-300)))
            raise ValueError(
                f"{' + '.join(amounts)} = {worst:g} times the mass of the solution: it must be at most 1, "
                f"of mass = {float(np.min(whole)):g} kg"
            )
        shares = {
            s: np.where(empty, 0.0, w / np.where(empty, 1.0, whole)) for s, w in found.items()
        }
        check_fractions(
            {s: shares[s] for s in ("HCl", "H2O2", "NaOH")}
        )  # of copper a bath holds what it dissolved
        return cls(
            _spread(mass, shape),
            _spread(T, shape),
            {s: _spread(w, shape) for s, w in shares.items()},
            draws,
        )

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of solutions [-]; () is a single one."""
        return self.plain_mass.shape

    def _said(self, values: Any) -> Any:
        spread = _spread(values, self.shape)
        return spread[()] if self.draws is None else as_draws(spread)

    def _warn(self, what: str) -> None:
        warn_properties(what, self.plain_T, self.fractions, stacklevel=5)

    @property
    def mass(self) -> Any:
        """Mass [kg]."""
        return self._said(self.plain_mass)

    @property
    def T(self) -> Any:
        """Temperature [K]."""
        return self._said(self.plain_T)

    @property
    def density(self) -> Any:
        """Density [kg/m³] at T; one RangeWarning outside the range we checked."""
        self._warn("density")
        return self._said(density_inside(self.plain_T, self.fractions))

    @property
    def volume(self) -> Any:
        """Volume [m³] at T; one RangeWarning outside the range we checked."""
        self._warn("volume")
        return self._said(self.plain_mass / density_inside(self.plain_T, self.fractions))

    @property
    def heat_capacity(self) -> Any:
        """Specific heat capacity [J/kg/K] at T; one RangeWarning outside the range we checked."""
        self._warn("heat capacity")
        return self._said(heat_capacity_inside(self.plain_T, self.fractions))

    def mass_fraction(self, substance: str) -> Any:
        """Mass fraction [kg/kg] of a substance named as in "HCl" or "H2O"; ValueError if unknown."""
        return self._said(self._share(substance))

    def concentration(self, substance: str) -> Any:
        """Concentration [mol/m³] of a substance at T; one RangeWarning outside the range we checked."""
        share = self._share(substance)
        self._warn("concentration")
        return self._said(
            share * density_inside(self.plain_T, self.fractions) / MOLAR_MASS[substance]
        )

    def amount(self, substance: str) -> Any:
        """Amount [mol] of a substance named as in "HCl" or "H2O"; ValueError if unknown."""
        return self._said(self.plain_mass * self._share(substance) / MOLAR_MASS[substance])

    def _share(self, substance: str) -> Any:
        check_choice("substance", substance, SPECIES)
        return 1 - sum(self.fractions.values()) if substance == "H2O" else self.fractions[substance]

    def __repr__(self) -> str:
        def span(values: Any, form: str) -> str:
            low, high = (format(float(f(values)), form) for f in (np.min, np.max))
            return low if low == high else f"{low} to {high}"

        if not self.plain_mass.size:
            return f"Solution(shape {self.shape})"
        parts = [f"{span(self.plain_mass, '.4g')} kg", f"{span(self.plain_T, '.2f')} K"]
        parts += [f"{s} {span(100 * w, '.3g')} %" for s, w in self.fractions.items() if np.any(w)]
        return f"Solution({', '.join(parts)})"


def _spread(values: Any, shape: tuple[int, ...]) -> FloatArray:
    return np.broadcast_to(np.asarray(values, dtype=float), shape)


def enthalpy(solution: Solution) -> Any:
    """Enthalpy of a solution, counted from 25 °C, endlessly dilute acid, pure liquid peroxide and water.

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
    return solution._said(
        solution.plain_mass * warmth_inside(solution.plain_T, solution.fractions)
        + heats_inside(solution.plain_mass, solution.fractions)
    )


def mix(*solutions: Solution, heat: bool = True) -> Solution:
    """Pour solutions together: mass and enthalpy are conserved and nothing reacts.

    Parameters
    ----------
    *solutions : Solution
        What is poured, in any order; their shapes broadcast [-].
    heat : bool
        False leaves the heat of mixing out: the temperature weighted by heat capacity.

    Returns
    -------
    Solution
        The mixture; its T [K] is the adiabatic temperature of mixing, ±1.5 K for two strong bottles.

    Raises
    ------
    ValueError
        Nothing to mix, lye with acid or peroxide, a mixture past 400 K, or shapes that do not broadcast.

    Notes
    -----
    crc_enthalpy: heat of dilution of HCl, at its moles per kg of everything but HCl (assumed for peroxide in it);
    giguere1955: heat of mixing of peroxide with the water; copper salts and lye without (assumed).

    Examples
    --------
    >>> acid = Solution.of(volume=1e-4, T=298.15, HCl=0.3145)
    >>> print(f"{mix(acid, Solution.of(volume=3e-4, T=298.15)).T - 298.15:.1f}")
    6.6
    """
    if not solutions:
        raise ValueError("solutions = () is nothing to mix: give at least 1 with a mass above 0 kg")
    for solution in solutions:
        if not isinstance(solution, Solution):
            raise ValueError(f"solutions = {solution!r} is not a Solution: make it by Solution.of")
    shape, draws = common_shape(
        **{
            f"solution {k + 1}": s.mass if s.draws else s.plain_mass
            for k, s in enumerate(solutions)
        }
    )
    mass = np.asarray(sum(s.plain_mass for s in solutions))
    if np.any(mass <= 0):
        raise ValueError(
            f"mass = {np.min(mass):g} kg is nothing to mix: the sum must be above 0 kg everywhere"
        )
    fractions = {
        name: np.asarray(sum(s.plain_mass * s.fractions[name] for s in solutions) / mass)
        for name in LIMITS
    }
    for name in ("HCl", "H2O2"):
        if np.any(np.minimum(fractions["NaOH"], fractions[name]) > 0):
            raise ValueError(
                f"NaOH = {np.max(fractions['NaOH']):g} with {name} = {np.max(fractions[name]):g} "
                "kg/kg is not mixed here: one of them must be 0 (neutralise waste by its own rules)"
            )
    weights = [s.plain_mass * heat_capacity_inside(s.plain_T, s.fractions) for s in solutions]
    T = np.asarray(
        sum(w * s.plain_T for w, s in zip(weights, solutions, strict=True)) / sum(weights)
    )
    if heat and len(solutions) > 1:
        total = sum(
            s.plain_mass * warmth_inside(s.plain_T, s.fractions)
            + heats_inside(s.plain_mass, s.fractions)
            for s in solutions
        )
        target = (total - heats_inside(mass, fractions)) / mass
        T = check_values(
            "temperature of mixing", temperature_inside(target, T, fractions), T_LOW, T_HIGH, "K"
        )
    return Solution(
        _spread(mass, shape),
        _spread(T, shape),
        {s: _spread(w, shape) for s, w in fractions.items()},
        draws,
    )
