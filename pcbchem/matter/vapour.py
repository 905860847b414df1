"""What stands over a solution in still air: pressures of acid gas, water and peroxide.

A pressure over the pressure of the air is the share that the gas has of the air right at the
liquid. What of it reaches a nose is the matter of `bench.air`.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import FloatArray, as_draws, common_shape
from ..common.limits import InputError, Range, check_values, warn_outside
from ..common.tables import column, read
from ..common.units import T_HIGH, T_LOW
from .properties import LIMITS, MOLAR_MASS

MERCURY = 133.322
"""One millimetre of mercury [Pa]."""
T_REFERENCE = 298.15
"""Temperature at which Henry's constant is stated [K]."""
MOST_PEROXIDE = 30_000.0
"""Most peroxide in a solution [mol/m³]."""
DILUTE = 0.02
"""Weakest acid of the table [kg/kg]: below it the pressure goes with the square of the molality."""
RANGES = {
    "T": Range("T", 273.15, 333.15, "K"),
    "HCl": Range("mass fraction of HCl", 0.0, 0.38),
    "H2O2": Range("concentration of H2O2", 0.0, 3200.0, "mol/m³"),
}
"""Where the pressures were checked. The table of HCl ends at 0.42, straight on from there."""
WELL_KNOWN = 0.10
"""Acid from here on is known within 5 % [kg/kg]."""
LITTLE_KNOWN = 0.08
"""Acid up to here reads up to 27 % above another source [kg/kg]: on the safe side."""
DOUBT_OF_STRONG = (0.95, 1.05)
"""How far pressures over acid of 10 % and more may lie off [times]."""
DOUBT_OF_WEAK = (0.79, 1.05)
"""The same of acid up to 8 % [times]: a second source lies 10 to 21 % below the table."""
MOST_BOUND = 1.6
"""Copper may bind chloride: what stands over a bath is at least the upper value over this [times],
to 1 mol of copper chloride to a kilogram of water (assumed)."""


def saturation_pressure(T: Any) -> Any:
    """Return the vapour pressure of water [Pa] at T [K], by the form of Magnus.

    For inner steps: it checks nothing and never warns.
    """
    return 610.94 * np.exp(17.625 * (T - 273.15) / (T - 30.11))


@cache
def _table(gas: str) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return mass fractions [kg/kg], and A [log10 of Pa] and B [K] of a gas over acid."""
    w = column("hcl_vapour", "mass_fraction", substance=gas)
    A = column("hcl_vapour", "A_log10_mmHg", substance=gas) + np.log10(MERCURY)
    B = column("hcl_vapour", "B_K", substance=gas)
    for numbers in (w, A, B):
        numbers.flags.writeable = False  # every caller gets the same arrays
    return w, A, B


def _straight(x: FloatArray, knots: FloatArray, values: FloatArray) -> FloatArray:
    """Read a line between knots, and straight on beyond the last one [unit of the values]."""
    slope = (values[-1] - values[-2]) / (knots[-1] - knots[-2])
    beyond = np.maximum(x - knots[-1], 0.0)
    return np.asarray(np.interp(x, knots, values) + slope * beyond)


def _log10_pressure(gas: str, T: FloatArray, w: FloatArray) -> FloatArray:
    """Return log10 of the pressure [Pa] of a gas over acid, inside its table and beyond."""
    knots, A, B = _table(gas)
    return np.asarray(_straight(w, knots, A) - _straight(w, knots, B) / T)


def _over_acid(T: FloatArray, w: FloatArray) -> FloatArray:
    """Return the pressure of acid gas [Pa] over acid without copper, of checked values."""
    pressure = 10 ** _log10_pressure("HCl", T, np.maximum(w, DILUTE))
    # log10 p has no end at w = 0: there the gas is two ions, and goes with their product
    dilution = (w / (1 - w)) / (DILUTE / (1 - DILUTE))
    return np.asarray(np.where(w < DILUTE, pressure * dilution**2, pressure))


def _in_shape(values: FloatArray, shape: tuple[int, ...], draws: int | None) -> Any:
    """Return values [own unit] in shape, with their draw mark."""
    result = np.broadcast_to(values, shape)
    if draws is None:
        return result[()]
    return as_draws(result)


def hydrogen_chloride(T: ArrayLike, HCl: ArrayLike, CuCl2: ArrayLike = 0.0) -> Any:
    """Return the pressure of acid gas over hydrochloric acid, or over a bath with copper.

    log10 p = A(w) − B(w)/T, with A and B straight in w between rows, and below 2 % in proportion to
    the square of the molality. Copper chloride brings chloride: with molalities m of both, p is
    that of acid as strong as all the chloride, times m(HCl)/m(chloride). Copper binds some of its
    chloride, so beside copper this is an **upper** value, to 1 mol of it to a kilogram of water;
    the lower one is `MOST_BOUND` times less, and never below that of the acid without the copper.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    HCl : float or array
        Mass fraction in the solution [kg/kg], 0 to 0.45; checked to 0.38.
    CuCl2 : float or array
        Mass fraction in the solution [kg/kg], 0 to 0.40; peroxide counts as water.

    Returns
    -------
    float or array
        Pressure [Pa]; in doubt as `doubt` says. Strong acid makes fog, which is no gas and counts
        nowhere here; what peroxide does to it is not known.

    Raises
    ------
    InputError
        A value outside its limits, or more chloride than in acid of 45 %.
    ValueError
        Shapes that do not broadcast.

    Notes
    -----
    perry_vapour, from memory. It agrees within 3 % with 47 pressures of the International Critical
    Tables up to 36 % and 110 °C, but both may go back to the same measurements: the independent
    check is Pitzer's model, within 5 % from 10 to 24 %. The copper rule is derived, 1 to 22 % above
    that model with other chlorides of two charges.

    Examples
    --------
    >>> print(f"{hydrogen_chloride(293.15, 0.30):.0f} Pa")
    1432 Pa
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    HCl = check_values("HCl", HCl, 0, LIMITS["HCl"], "kg/kg")
    CuCl2 = check_values("CuCl2", CuCl2, 0, LIMITS["CuCl2"], "kg/kg")
    shape, draws = common_shape(T=T, HCl=HCl, CuCl2=CuCl2)
    temperature, w, copper = np.asarray(T), np.asarray(HCl), np.asarray(CuCl2)
    if not copper.any():
        warn_outside("vapour of HCl", (RANGES["T"], temperature), (RANGES["HCl"], w))
        return _in_shape(_over_acid(temperature, w), shape, draws)

    # molalities of acid and of all chloride, times a molar mass: kilograms of HCl to one of water
    solvent = 1 - w - copper
    acid = w / solvent
    chloride = acid + 2 * copper / solvent * MOLAR_MASS["HCl"] / MOLAR_MASS["CuCl2"]
    as_acid = chloride / (1 + chloride)
    if np.max(as_acid, initial=0.0) > LIMITS["HCl"]:
        raise InputError(
            "HCl",
            f"all chloride together must be at most that of acid of {LIMITS['HCl']:g} kg/kg",
            value=float(np.max(w)),
            about=f" = {np.max(w):g} beside CuCl2 = {np.max(copper):g}",
            low=0.0,
            high=LIMITS["HCl"],
            unit="kg/kg",
        )
    warn_outside("vapour of HCl", (RANGES["T"], temperature), (RANGES["HCl"], as_acid))
    # without any chloride the share of the acid is 0/0, and nothing stands over it
    share = acid / np.where(chloride > 0, chloride, 1.0)
    return _in_shape(_over_acid(temperature, as_acid) * share, shape, draws)


def steepness(T: ArrayLike, HCl: ArrayLike) -> Any:
    """Return how steeply the pressure of acid gas falls as acid weakens, d ln p/dw.

    At a row of the table it is that of the weaker side.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400.
    HCl : float or array
        Mass fraction [kg/kg], above 0 to 0.45.

    Returns
    -------
    float or array
        Steepness [1 per kg/kg]: about 40 from 15 to 35 %.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{steepness(293.15, 0.3145):.0f}")
    39
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    HCl = check_values("HCl", HCl, 0, LIMITS["HCl"], "kg/kg", above=True)
    shape, draws = common_shape(T=T, HCl=HCl)
    w = np.asarray(HCl)
    knots, A, B = _table("HCl")
    # the segment below a row, and the last one beyond the table
    segment = np.clip(np.searchsorted(knots, w, side="left") - 1, 0, len(knots) - 2)
    slope_A = (np.diff(A) / np.diff(knots))[segment]
    slope_B = (np.diff(B) / np.diff(knots))[segment]
    inside = np.log(10) * (slope_A - slope_B / np.asarray(T))
    # of m², with m in proportion to w/(1 − w)
    dilute = 2 / (w * (1 - w))
    return _in_shape(np.where(w <= DILUTE, dilute, inside), shape, draws)


def doubt(HCl: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return how far the pressure of acid gas may lie off, to both sides.

    From 10 % on ±5 %; up to 8 % the table lies 11 to 27 % above Pitzer's model; straight between.

    Parameters
    ----------
    HCl : float or array
        Mass fraction [kg/kg], 0 to 0.45.

    Returns
    -------
    tuple of array
        The true pressure over the one of `hydrogen_chloride`, least and most [times].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> low, high = doubt(0.05)
    >>> print(f"{low:.2f} to {high:.2f}")
    0.79 to 1.05
    """
    w = np.asarray(check_values("HCl", HCl, 0, LIMITS["HCl"], "kg/kg"))
    knots = (LITTLE_KNOWN, WELL_KNOWN)
    low = np.interp(w, knots, (DOUBT_OF_WEAK[0], DOUBT_OF_STRONG[0]))
    high = np.interp(w, knots, (DOUBT_OF_WEAK[1], DOUBT_OF_STRONG[1]))
    return low, high


def water(T: ArrayLike, HCl: ArrayLike = 0.0) -> Any:
    """Return the pressure of water over hydrochloric acid.

    log10 p = A(w) − B(w)/T between rows; below 6 % log p goes straight to that of pure water.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    HCl : float or array
        Mass fraction [kg/kg], 0 to 0.45; checked to 0.38.

    Returns
    -------
    float or array
        Pressure [Pa], in doubt by 5 %.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Shapes that do not broadcast.

    Notes
    -----
    perry_vapour, from memory; pure water by the form of Magnus, within 0.5 %.

    Examples
    --------
    >>> print(f"{water(293.15, 0.30):.0f} Pa")
    731 Pa
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    HCl = check_values("HCl", HCl, 0, LIMITS["HCl"], "kg/kg")
    shape, draws = common_shape(T=T, HCl=HCl)
    temperature, w = np.asarray(T), np.asarray(HCl)
    warn_outside("vapour of water", (RANGES["T"], temperature), (RANGES["HCl"], w))
    first = _table("H2O")[0][0]
    pure = np.log10(saturation_pressure(temperature))
    log_pressure = _log10_pressure("H2O", temperature, np.maximum(w, first))
    # 0 from the first row of the table on, 1 in pure water
    purity = np.maximum(1 - w / first, 0.0)
    return _in_shape(10 ** (purity * pure + (1 - purity) * log_pressure), shape, draws)


@cache
def _henry() -> tuple[float, float]:
    """Return Henry's constant of peroxide [mol/(m³ Pa)] at 25 °C, and its slope [K]."""
    values = {row["quantity"]: float(row["value"]) for row in read("peroxide_vapour")}
    return values["henry_at_25_C"], values["henry_slope"]


def peroxide(T: ArrayLike, concentration: ArrayLike) -> Any:
    """Return the pressure of hydrogen peroxide over its solution, by Henry's law.

    p = c/H, with H = 830 exp(7400 (1/T − 1/298.15)) mol/(m³ Pa).

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400; checked 273.15 to 333.15.
    concentration : float or array
        Peroxide [mol/m³], 0 to 30 000; checked to 3200, which is 10 %.

    Returns
    -------
    float or array
        Pressure [Pa], within 1.3 times to both sides up to 10 %; beside acid and copper nobody
        knows. It has no smell.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Shapes that do not broadcast.

    Notes
    -----
    osullivan1996, from memory; cmaq-henry has 819 and 1086.

    Examples
    --------
    >>> print(f"{peroxide(298.15, 890.0):.2f} Pa")
    1.07 Pa
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    concentration = check_values("concentration", concentration, 0, MOST_PEROXIDE, "mol/m³")
    shape, draws = common_shape(T=T, concentration=concentration)
    temperature, c = np.asarray(T), np.asarray(concentration)
    warn_outside("vapour of H2O2", (RANGES["T"], temperature), (RANGES["H2O2"], c))
    at_reference, slope = _henry()
    henry = at_reference * np.exp(slope * (1 / temperature - 1 / T_REFERENCE))
    return _in_shape(c / henry, shape, draws)
