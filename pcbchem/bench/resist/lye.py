"""How strong is lye as it is dissolved, how warm does it get, and how alkaline is it?

Lye into cold water, always, and never water onto lye. What is stronger than 50 g/L is not told of:
nobody needs it for a film. Nothing here is a recipe.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import InputError, check_values
from ...common.tables import read
from ...common.units import gram
from ...matter.properties import MOLAR_MASS, density, heat_capacity

HANDLING = "Lye into cold water, a little at a time, and never water onto lye: it spits and blinds."
"""Stands wherever strength or warmth is told."""
MOST_STRENGTH = 50 * gram / 1e-3
"""No lye is stronger here [kg/m³]: 50 g/L (our limit)."""
MOST_CONCENTRATION = MOST_STRENGTH / MOLAR_MASS["NaOH"]
"""The same in [mol/m³]."""
TOO_STRONG = (
    "lye above 50 g/L (1250 mol/m³) is refused: no film needs it, it gets hot, spits and blinds"
)
"""What is said of more."""
MOST_MASS = 10.0
"""So much is dissolved at the most [kg]."""
PURITIES = (0.5, 1.0)
"""Share of lye in what is weighed [-]: pellets 0.9 to 1 (assumed), less once they stood open."""
TEMPERATURES = (273.15, 323.15)
"""How warm the water is [K]: above 50 °C lye is refused."""
LEAST_WATER = 3.0
"""Less water on each lye is a paste [mol/mol]."""
DAVIES_TO = 500.0
"""So far the pH is reckoned [mol/m³]: Davies' equation."""
DEBYE_HUECKEL = 0.509
"""Slope of Debye and Hückel's law in water of 25 °C [-]."""
WATER_PRODUCT = 13.995
"""pH and pOH of water at 25 °C together [-] (from memory)."""


def checked_concentration(name: str, value: ArrayLike) -> FloatArray:
    """Return a concentration of lye [mol/m³], or say that so much is refused.

    Examples
    --------
    >>> print(checked_concentration("start", 312.5))
    312.5
    """
    try:
        return check_values(name, value, 0.0, MOST_CONCENTRATION, "mol/m³")
    except InputError as error:
        if isinstance(error.value, float) and MOST_CONCENTRATION < error.value < np.inf:
            raise _too_strong(name, error.value, "mol/m³", MOST_CONCENTRATION) from None
        raise


def checked_strength(name: str, value: ArrayLike) -> FloatArray:
    """Return a strength of lye [kg/m³, as g/L], or say that so much is refused.

    Examples
    --------
    >>> print(checked_strength("strength", 12.5))
    12.5
    """
    try:
        return check_values(name, value, 0.0, MOST_STRENGTH, "kg/m³")
    except InputError as error:
        if isinstance(error.value, float) and MOST_STRENGTH < error.value < np.inf:
            raise _too_strong(name, error.value, "kg/m³", MOST_STRENGTH) from None
        raise


def _too_strong(name: str, value: float, unit: str, most: float) -> InputError:
    return InputError(name, TOO_STRONG, value=value, low=0.0, high=most, unit=unit)


def lye_mass(concentration: ArrayLike) -> Any:
    """Return the mass of lye in each volume.

    Parameters
    ----------
    concentration : float or array
        Of lye [mol/m³], 0 to 1250.

    Returns
    -------
    float or array
        Strength [kg/m³], the g/L of a label.

    Raises
    ------
    InputError
        Below 0, or above 50 g/L.

    Examples
    --------
    >>> print(f"{lye_mass(312.5):.1f} g/L")
    12.5 g/L
    """
    return checked_concentration("concentration", concentration) * MOLAR_MASS["NaOH"]


def _dissolved(
    lye: ArrayLike, water: ArrayLike, T: ArrayLike, purity: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Return lye and all else [kg], temperature [K] and share of lye in what is weighed [-]."""
    weighed = check_values("lye", lye, 0.0, MOST_MASS, "kg")
    poured = check_values("water", water, 0.0, MOST_MASS, "kg", above=True)
    warmth = check_values("T", T, *TEMPERATURES, "K")
    share = check_values("purity", purity, *PURITIES)
    common_shape(lye=weighed, water=poured, T=warmth, purity=share)
    pure = share * weighed
    # what is no lye in the pellets is water and soda: it counts as water
    return pure, poured + (weighed - pure), warmth, share


def lye_strength(
    lye: ArrayLike, water: ArrayLike, T: ArrayLike = 293.15, purity: ArrayLike = 1.0
) -> Any:
    """Return how strong lye is that was put into water.

    Lye into cold water, a little at a time, never water onto lye.

    Parameters
    ----------
    lye : float or array
        Solid lye as weighed [kg], 0 to 10.
    water : float or array
        Water that it goes into [kg], above 0 to 10.
    T : float or array
        Temperature of the solution, cold again [K], 273.15 to 323.15.
    purity : float or array
        Share of lye in what was weighed [-], 0.5 to 1: pellets 0.9 to 1 (assumed).

    Returns
    -------
    float or array
        Concentration [mol/m³].

    Raises
    ------
    InputError
        A value outside its limits, or lye above 50 g/L.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    Density as in `pcbchem.matter.density`.

    Examples
    --------
    >>> print(f"{lye_strength(1.5e-3, 0.1198):.0f} mol/m³")
    313 mol/m³
    """
    pure, rest, warmth, _ = _dissolved(lye, water, T, purity)
    fraction = pure / (pure + rest)
    # so that what is refused is refused before a property is asked of a paste
    about = 1000 * fraction / (1 - fraction) / MOLAR_MASS["NaOH"]
    _refuse_more("lye", about)
    concentration = fraction * density(warmth, NaOH=fraction) / MOLAR_MASS["NaOH"]
    _refuse_more("lye", concentration)
    return concentration


def _refuse_more(name: str, concentration: FloatArray) -> None:
    """Refuse lye above 50 g/L [mol/m³]; a litre of water to 51 g is just above it."""
    most = float(np.max(concentration))
    if most > MOST_CONCENTRATION * 1.03:
        raise _too_strong(name, most, "mol/m³", MOST_CONCENTRATION)


@cache
def _heats() -> tuple[FloatArray, FloatArray]:
    """Return lye over water [mol/mol], from the most water on, and the heat [J/mol]."""
    rows = read("lye_solution_heat")
    water = np.array([float(row["water_mol_per_mol"]) for row in rows])
    heat = np.array([1000 * float(row["heat_kJ_per_mol"]) for row in rows])
    order = np.argsort(1 / water)
    return (1 / water)[order], heat[order]


def heat_of_solution(water: ArrayLike) -> Any:
    """Return the heat of dissolving solid lye in so much water.

    Parameters
    ----------
    water : float or array
        Water on each lye [mol/mol], 3 to 1e12.

    Returns
    -------
    float or array
        Enthalpy of solution at 25 °C [J/mol]: below 0, it gives heat.

    Raises
    ------
    InputError
        Less water than 3 on each lye, or a value that cannot be.

    Notes
    -----
    Table `lye_solution_heat`, all on the scale of −44.51 kJ/mol at infinite dilution (crc
    handbook, after Parker 1965); between its rows straight in lye over water.

    Examples
    --------
    >>> print(f"{heat_of_solution(200.0) / 1000:.1f} kJ/mol")
    -43.9 kJ/mol
    """
    amount = check_values("water", water, LEAST_WATER, 1e12, "mol/mol")
    lye_over_water, heat = _heats()
    found = np.interp(1 / np.asarray(amount), lye_over_water, heat)
    return found.view(type(amount)) if np.ndim(found) else float(found)


def warming(
    lye: ArrayLike, water: ArrayLike, T: ArrayLike = 293.15, purity: ArrayLike = 1.0
) -> Any:
    """Return how much warmer water gets by the lye that goes into it, if no heat is lost.

    It is told beyond 50 g/L too, for there it shows why that is refused: 50 g in 100 mL boil and
    spit. A number here is never a way to do it.

    Parameters
    ----------
    lye, water : float or array
        As in `lye_strength` [kg].
    T : float or array
        Temperature of the water [K], 273.15 to 323.15.
    purity : float or array
        As in `lye_strength` [-].

    Returns
    -------
    float or array
        Rise [K]; what would boil is not held at its boiling point.

    Raises
    ------
    InputError
        A value outside its limits, or too little water for the lye to dissolve.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{warming(1.5e-3, 0.1198):.1f} K, {warming(0.05, 0.1):.0f} K")
    3.3 K, 87 K
    """
    pure, rest, warmth, _ = _dissolved(lye, water, T, purity)
    moles = pure / MOLAR_MASS["NaOH"]
    water_moles = rest / MOLAR_MASS["H2O"]
    crowded = moles * LEAST_WATER > water_moles
    if np.any(crowded):
        most = float(np.max(pure / rest))
        rule = f"it must have {LEAST_WATER:g} mol of water on each mol or more"
        raise InputError("lye", rule, value=most, about=f" = {most:g} kg on each kg of water")
    # where there is no lye there is no heat, and any amount of water will do
    on_each = water_moles / np.maximum(moles, 1e-9 * water_moles)
    fraction = pure / (pure + rest)
    capacity = (pure + rest) * heat_capacity(warmth, NaOH=fraction)
    return -moles * heat_of_solution(on_each) / capacity


def pH_of_lye(concentration: ArrayLike) -> Any:
    """Return the pH of lye that holds no carbonate.

    Parameters
    ----------
    concentration : float or array
        Of lye [mol/m³], 0.01 to 500.

    Returns
    -------
    float or array
        pH at 25 °C [-].

    Raises
    ------
    InputError
        A value outside its limits.

    Notes
    -----
    Activity coefficient by Davies' equation, which holds to half a mole in a litre.

    Examples
    --------
    >>> print(f"{pH_of_lye(312.5):.2f}")
    13.35
    """
    molar = check_values("concentration", concentration, 0.01, DAVIES_TO, "mol/m³") / 1000
    root = np.sqrt(molar)
    log_activity = -DEBYE_HUECKEL * (root / (1 + root) - 0.3 * molar)
    return WATER_PRODUCT + np.log10(molar) + log_activity
