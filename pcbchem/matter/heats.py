"""Heats of mixing: of diluting acid, of mixing peroxide with water, and the temperature that they lead to."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import Draws, FloatArray, as_draws
from ..common.limits import check_values
from ..common.tables import column
from .properties import MOLAR_MASS, heat_capacity_inside

CALORIE = 4.184
"""Joule in a thermochemical calorie [J/cal]."""
T_HEATS = 298.15
"""Temperature [K] of the heats of mixing: enthalpies are counted from here."""
GAUSS = ((0.5 - np.sqrt(0.15), 5 / 18), (0.5, 8 / 18), (0.5 + np.sqrt(0.15), 5 / 18))
"""Points and weights [-] that integrate a polynomial of fifth degree exactly."""


@cache
def _enthalpy_curve() -> tuple[FloatArray, FloatArray]:
    """Knots [(mol/kg)^0.5] and cubics [J/mol] between them that keep the shape of the table (Fritsch and Butland)."""
    x = np.sqrt(column("hcl_apparent_enthalpy", "molality_mol_kg"))
    y = 1000 * column("hcl_apparent_enthalpy", "relative_apparent_enthalpy_kJ_mol")
    h, rise = np.diff(x), np.diff(y) / np.diff(x)
    left, right = 2 * h[1:] + h[:-1], h[1:] + 2 * h[:-1]
    inner = (left + right) / (left / rise[:-1] + right / rise[1:])  # the table rises throughout
    first, last = (
        ((2 * a + b) * s - a * t) / (a + b)
        for a, b, s, t in ((h[0], h[1], rise[0], rise[1]), (h[-1], h[-2], rise[-1], rise[-2]))
    )
    slope = np.concatenate([[first], inner, [last]])
    bend = (slope[:-1] + slope[1:] - 2 * rise) / h
    return x, np.stack([y[:-1], slope[:-1], (rise - slope[:-1]) / h - bend, bend / h])


def _hcl_curve(molality: Any) -> Any:
    knots, cubics = _enthalpy_curve()
    root = np.sqrt(molality)
    at = np.minimum(np.searchsorted(knots, root, side="right"), len(knots) - 1) - 1
    d = root - knots[at]
    return cubics[0, at] + d * (cubics[1, at] + d * (cubics[2, at] + d * cubics[3, at]))


@cache
def _peroxide_curve() -> tuple[float, float]:
    limit, curvature = CALORIE * column("peroxide_mixing_enthalpy", "coefficient_cal_mol")
    return float(limit), float(curvature)


def hcl_apparent_enthalpy(molality: ArrayLike) -> Any:
    """Heat set free when acid of this strength is diluted without end, at 25 °C.

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
    ValueError
        Molality outside the table.

    Notes
    -----
    crc_enthalpy, whose scale has the heat of solution −74.84 kJ/mol; shape-keeping cubics in the root of molality.

    Examples
    --------
    >>> print(f"{hcl_apparent_enthalpy(10) - hcl_apparent_enthalpy(1):.0f}")
    8545
    """
    m = check_values("molality", molality, 0, 55.506, "mol/kg")
    result = _hcl_curve(np.asarray(m))
    return as_draws(result) if isinstance(m, Draws) else np.asarray(result)[()]


def peroxide_mixing_enthalpy(x: ArrayLike) -> Any:
    """Heat of mixing pure liquid peroxide with water, at 25 °C.

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
    ValueError
        x outside 0 to 1.

    Notes
    -----
    giguere1955 for the limit of 819 cal/mol; the curvature of 250 (0 to 400) is an estimate after scatchard1952.

    Examples
    --------
    >>> print(f"{peroxide_mixing_enthalpy(0.0):.0f}")
    -3427
    """
    x = check_values("x", x, 0, 1)
    limit, curvature = _peroxide_curve()
    result = -(limit + curvature * x) * (1 - x)
    return result if isinstance(result, Draws) else np.asarray(result)[()]


def heats_inside(mass: Any, fractions: Mapping[str, Any]) -> Any:
    """Heat of mixing [J] in a mass [kg] of these mass fractions [kg/kg] at 25 °C, from dilute acid and pure H2O2."""
    total: Any = 0.0
    acid, peroxide = fractions["HCl"], fractions["H2O2"]
    if np.any(acid):
        moles = mass * acid / MOLAR_MASS["HCl"]
        total = total + moles * _hcl_curve(acid / (1 - acid) / MOLAR_MASS["HCl"])
    if np.any(peroxide):
        limit, curvature = _peroxide_curve()
        moles = peroxide / MOLAR_MASS["H2O2"]
        water = np.maximum(1 - sum(fractions.values()), 0.0) / MOLAR_MASS["H2O"]
        x = moles / np.where(moles > 0, moles + water, 1.0)
        total = total + mass * moles * -(limit + curvature * x) * (1 - x)
    return total


def warmth_inside(T: Any, fractions: Mapping[str, Any]) -> Any:
    """Heat per mass [J/kg] between 25 °C and T [K]: the integral of the heat capacity, by three Gauss points."""
    step = T - T_HEATS
    return step * sum(
        weight * heat_capacity_inside(T_HEATS + at * step, fractions) for at, weight in GAUSS
    )


def temperature_inside(target: Any, start: Any, fractions: Mapping[str, Any]) -> Any:
    """Temperature [K] at which the warmth is the target [J/kg], by Newton steps from a start [K]."""
    T = np.asarray(start, dtype=float)
    for _ in range(20):
        step = (target - warmth_inside(T, fractions)) / heat_capacity_inside(T, fractions)
        T = T + step
        if np.all(np.abs(step) < 1e-5):  # Newton: what is left is a thousandth of its square
            return T
    raise RuntimeError("the temperature of mixing was not found in 20 steps")
