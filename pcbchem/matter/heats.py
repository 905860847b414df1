"""Heats of mixing: of diluting acid, of peroxide in water, and the temperature they lead to.

Enthalpies are counted from 25 °C, acid diluted without end, and pure liquid peroxide and water.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import Draws, FloatArray, as_draws, number_or_array
from ..common.limits import check_values
from ..common.tables import column
from .properties import MOLAR_MASS, heat_capacity_inside, present

CALORIE = 4.184
"""Joule in a thermochemical calorie [J/cal]."""
MOST_MOLALITY = 55.506
"""Strongest acid of the table of enthalpies [mol/kg]: one HCl to one water."""
T_HEATS = 298.15
"""Temperature [K] of the heats of mixing: enthalpies are counted from here."""
GAUSS = ((0.5 - np.sqrt(0.15), 5 / 18), (0.5, 8 / 18), (0.5 + np.sqrt(0.15), 5 / 18))
"""Points and weights [-] that integrate a polynomial of fifth degree exactly from 0 to 1."""
MOST_STEPS = 20
SMALL_STEP = 1e-5
"""A Newton step of the temperature this small is the last [K]: what is left is a thousandth of
its square."""


@cache
def _enthalpy_curve() -> tuple[FloatArray, FloatArray]:
    """Return knots [(mol/kg)^0.5] and the cubics [J/mol] between them, lowest power first.

    A cubic spline may swing between the points of a table. The slopes of Fritsch and Butland do
    not: inside, each is a harmonic mean of the rises on both sides, so that it is never more than
    three times the smaller. The table rises throughout, and so does the curve. In the root of the
    molality the table is nearly straight where the acid is dilute (Debye and Hückel).
    """
    knots = np.sqrt(column("hcl_apparent_enthalpy", "molality_mol_kg"))
    heats = 1000 * column("hcl_apparent_enthalpy", "relative_apparent_enthalpy_kJ_mol")
    width = np.diff(knots)
    rise = np.diff(heats) / np.diff(knots)

    # Harmonic mean at each inner knot; the shorter interval beside it counts for more
    weight_left = 2 * width[1:] + width[:-1]
    weight_right = width[1:] + 2 * width[:-1]
    weights = weight_left + weight_right
    inner = weights / (weight_left / rise[:-1] + weight_right / rise[1:])
    first = _end_slope(width[0], width[1], rise[0], rise[1])
    last = _end_slope(width[-1], width[-2], rise[-1], rise[-2])
    slope = np.concatenate([[first], inner, [last]])

    # Hermite's cubics from the slopes, in the distance from the left knot
    bend = (slope[:-1] + slope[1:] - 2 * rise) / width
    cubics = np.stack([heats[:-1], slope[:-1], (rise - slope[:-1]) / width - bend, bend / width])
    return knots, cubics


def _end_slope(width: float, next_width: float, rise: float, next_rise: float) -> float:
    """Slope at an end of the table, from the two intervals beside it: of the parabola there."""
    return ((2 * width + next_width) * rise - width * next_rise) / (width + next_width)


def _acid_heat(molality: Any) -> Any:
    """Relative apparent molar enthalpy [J/mol] at a molality [mol/kg]."""
    knots, cubics = _enthalpy_curve()
    root = np.sqrt(molality)
    # The knot at or before the root begins its interval; at the last knot the last one goes on
    interval = np.minimum(np.searchsorted(knots, root, side="right"), len(knots) - 1) - 1
    constant, first, second, third = cubics[:, interval]
    distance = root - knots[interval]
    return constant + distance * (first + distance * (second + distance * third))


@cache
def _peroxide_coefficients() -> tuple[float, float]:
    limit, curvature = CALORIE * column("peroxide_mixing_enthalpy", "coefficient_cal_mol")
    return float(limit), float(curvature)


def _peroxide_heat(x: Any, moles: Any = 1.0) -> Any:
    """Heat of mixing [J, for so many moles] at a mole fraction x [-]."""
    limit, curvature = _peroxide_coefficients()
    # Below 0: mixing sets heat free, and less of it the less water there is to mix with
    return moles * -(limit + curvature * x) * (1 - x)


def hcl_apparent_enthalpy(molality: ArrayLike) -> Any:
    """Return the heat set free when acid of this strength is diluted without end, at 25 °C.

    Parameters
    ----------
    molality : float or array
        Acid per mass of everything but HCl [mol/kg], 0 to 55.5.

    Returns
    -------
    float or array
        Relative apparent molar enthalpy [J/mol HCl], at 25 °C, ±50.

    Raises
    ------
    InputError
        Molality outside the table.

    Notes
    -----
    crc_enthalpy, whose scale has the heat of solution −74.84 kJ/mol; shape-keeping cubics in the
    root of molality.

    Examples
    --------
    >>> print(f"{hcl_apparent_enthalpy(10) - hcl_apparent_enthalpy(1):.0f}")
    8545
    """
    molality = check_values("molality", molality, 0, MOST_MOLALITY, "mol/kg")
    # A plain array to look up among the knots; the draw mark comes back at the end
    heat = _acid_heat(np.asarray(molality))
    if isinstance(molality, Draws):
        return as_draws(heat)
    return number_or_array(heat)


def peroxide_mixing_enthalpy(x: ArrayLike) -> Any:
    """Return the heat of mixing pure liquid peroxide with water, at 25 °C.

    Parameters
    ----------
    x : float or array
        Mole fraction of H2O2 [-] among peroxide and water.

    Returns
    -------
    float or array
        Enthalpy of mixing [J/mol H2O2], negative: −(819 + 250·x)·(1 − x) cal/mol.

    Raises
    ------
    InputError
        x outside 0 to 1.

    Notes
    -----
    giguere1955 for the limit of 819 cal/mol; the curvature of 250 (0 to 400) is an estimate after
    scatchard1952.

    Examples
    --------
    >>> print(f"{peroxide_mixing_enthalpy(0.0):.0f}")
    -3427
    """
    x = check_values("x", x, 0, 1)
    return number_or_array(_peroxide_heat(x))


def heats_inside(mass: Any, fractions: Mapping[str, Any]) -> Any:
    """Reckon the heat of mixing in a solution at 25 °C, from dilute acid and pure peroxide.

    Acid counts at its moles per kg of everything but HCl (assumed for peroxide in it), peroxide
    at its mole fraction among peroxide and water.

    Parameters
    ----------
    mass : float or array
        Mass of the solution [kg].
    fractions : mapping
        Mass fraction [kg/kg] of each solute; those that are left out are 0.

    Returns
    -------
    float or array
        Heat [J], below 0 where mixing set it free.
    """
    total: Any = 0.0
    acid = fractions.get("HCl", 0.0)
    peroxide = fractions.get("H2O2", 0.0)
    if np.any(acid):
        # The heat that this acid would still set free: mixing gives the difference of two of these
        moles = mass * acid / MOLAR_MASS["HCl"]
        total = total + moles * _acid_heat(acid / (1 - acid) / MOLAR_MASS["HCl"])
    if np.any(peroxide):
        moles_per_kg = peroxide / MOLAR_MASS["H2O2"]
        # Rounding may leave a little less than no water
        water_per_kg = np.maximum(1 - sum(fractions.values()), 0.0) / MOLAR_MASS["H2O"]
        # Where there is no peroxide there may be no water either: 0 / 1 and not 0 / 0
        x = moles_per_kg / np.where(moles_per_kg > 0, moles_per_kg + water_per_kg, 1.0)
        total = total + _peroxide_heat(x, mass * moles_per_kg)
    return total


def warmth_inside(T: Any, fractions: Mapping[str, Any]) -> Any:
    """Reckon the heat per mass between 25 °C and T: the integral of the heat capacity.

    Three Gauss points do for it: sum of weight * c(25 °C + point * step) * step.

    Parameters
    ----------
    T : float or array
        Temperature [K].
    fractions : mapping
        Mass fraction [kg/kg] of each solute; those that are left out are 0.

    Returns
    -------
    float or array
        Heat per mass [J/kg].
    """
    step = T - T_HEATS
    # The mean heat capacity on the way; below 25 °C the step, and so the heat, is negative
    mean = sum(
        weight * heat_capacity_inside(T_HEATS + point * step, fractions) for point, weight in GAUSS
    )
    return step * mean


def temperature_inside(target: Any, start: Any, fractions: Mapping[str, Any]) -> Any:
    """Find the temperature at which the warmth is a target, by Newton's steps.

    Parameters
    ----------
    target : float or array
        Heat per mass between 25 °C and the temperature [J/kg].
    start : float or array
        A temperature near it [K].
    fractions : mapping
        Mass fraction [kg/kg] of each solute; those that are left out are 0.

    Returns
    -------
    float or array
        Temperature [K].

    Raises
    ------
    RuntimeError
        None was found, which is a fault of this code.
    """
    # The slope of the warmth is the heat capacity, which hardly changes with the temperature:
    # each step leaves a thousandth of its square [K], and three or four do.
    solutes = present(fractions)
    T = np.asarray(start, dtype=float)
    for _ in range(MOST_STEPS):
        miss = target - warmth_inside(T, solutes)
        step = miss / heat_capacity_inside(T, solutes)
        T = T + step
        if np.all(np.abs(step) < SMALL_STEP):
            return T
    raise RuntimeError(f"the temperature of mixing was not found in {MOST_STEPS} steps")
