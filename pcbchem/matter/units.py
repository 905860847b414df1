"""Lab units and strength notations for people: everything inside the package is SI."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from .arrays import MOST_DRAWS, Draws, as_draws, checked, common_shape, plain
from .properties import MOLAR_MASS, T_HIGH, T_LOW
from .strengths import NOTATIONS, mass_fraction_from, strength

__all__ = ["MOLAR_MASS", "NOTATIONS", "L", "between", "celsius", "cm", "fahrenheit", "gram", "hour", "mL", "mL_per_cm2",
           "mass_fraction_from", "minute", "mm", "mol_per_L", "percent", "strength", "to_celsius", "to_fahrenheit",
           "um", "us_fl_oz"]

L = 1e-3
mL = 1e-6
us_fl_oz = 29.5735295625e-6
mm = 1e-3
cm = 1e-2
um = 1e-6
minute = 60.0
hour = 3600.0
gram = 1e-3
mol_per_L = 1000.0
mL_per_cm2 = mL / 1e-4
"""One of each in SI [m³, m³, m³, m, m, m, s, s, kg, mol/m³, m³/m²]; the US fluid ounce is 231/128 cubic inch."""

ZERO_C = 273.15


def percent(x: ArrayLike) -> Any:
    """Turn per cent into a share.

    Parameters
    ----------
    x : float or array
        Per cent [%], 0 to 100.

    Returns
    -------
    float or array
        Share [-].

    Raises
    ------
    ValueError
        x outside 0 to 100.

    Examples
    --------
    >>> print(f"{percent(30):.2f}")
    0.30
    """
    return plain(checked("percent", x, 0, 100, "%") / 100)


def celsius(x: ArrayLike) -> Any:
    """Turn degrees Celsius into kelvin.

    Parameters
    ----------
    x : float or array
        Temperature [°C], −23.15 to 126.85.

    Returns
    -------
    float or array
        Temperature [K].

    Raises
    ------
    ValueError
        x outside its limits: kelvin given as °C is caught here.

    Examples
    --------
    >>> print(f"{celsius(20):.2f}")
    293.15
    """
    return plain(checked("celsius", x, T_LOW - ZERO_C, T_HIGH - ZERO_C, "°C") + ZERO_C)


def fahrenheit(x: ArrayLike) -> Any:
    """Turn degrees Fahrenheit into kelvin.

    Parameters
    ----------
    x : float or array
        Temperature [°F], −9.67 to 260.33.

    Returns
    -------
    float or array
        Temperature [K].

    Raises
    ------
    ValueError
        x outside its limits.

    Examples
    --------
    >>> print(f"{fahrenheit(68):.2f}")
    293.15
    """
    low, high = (9 / 5 * (T - ZERO_C) + 32 for T in (T_LOW, T_HIGH))
    return plain((checked("fahrenheit", x, low, high, "°F") - 32) * (5 / 9) + ZERO_C)


def to_celsius(T: ArrayLike) -> Any:
    """Turn kelvin into degrees Celsius.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400.

    Returns
    -------
    float or array
        Temperature [°C].

    Raises
    ------
    ValueError
        T outside its limits.

    Examples
    --------
    >>> print(f"{to_celsius(300):.2f}")
    26.85
    """
    return plain(checked("T", T, T_LOW, T_HIGH, "K") - ZERO_C)


def to_fahrenheit(T: ArrayLike) -> Any:
    """Turn kelvin into degrees Fahrenheit.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400.

    Returns
    -------
    float or array
        Temperature [°F].

    Raises
    ------
    ValueError
        T outside its limits.

    Examples
    --------
    >>> print(f"{to_fahrenheit(293.15):.1f}")
    68.0
    """
    return plain(to_celsius(T) * 1.8 + 32)


def between(low: ArrayLike, high: ArrayLike, draws: int, seed: int) -> Draws:
    """Say that a value lies somewhere between two others, nobody knows where.

    Parameters
    ----------
    low, high : float or array
        Limits [any unit]; an array needs a last axis of length 1.
    draws : int
        How many draws [-], 1 to 400.
    seed : int
        Number [-] that makes the draws repeatable; two bottles need two seeds, or they are tied together.

    Returns
    -------
    Draws
        Uniform draws [unit of low] along a last axis.

    Raises
    ------
    ValueError
        Limits that are not finite or the wrong way round, draws or seed that cannot be.

    Examples
    --------
    >>> print(between(0.09, 0.12, draws=200, seed=1).shape)
    (200,)
    """
    for name, number, least, most in (("draws", draws, 1, MOST_DRAWS), ("seed", seed, 0, 2**63)):
        if isinstance(number, bool) or not isinstance(number, (int, np.integer)) or not least <= number <= most:
            raise ValueError(f"{name} = {number!r} is impossible: it must be a whole number from {least} to {most}")
    edge = 1e300
    bottom, top = checked("low", low, -edge, edge), checked("high", high, -edge, edge)
    for name, value in (("low", bottom), ("high", top)):
        if isinstance(value, Draws) or (value.ndim and value.shape[-1] != 1):
            raise ValueError(f"{name} = {np.asarray(value).flat[0]:g}, … of shape {value.shape} is impossible: "
                             "it must be one number, or have a last axis of length 1")
    common_shape(low=bottom, high=top)
    wrong = np.asarray(bottom > top)
    if np.any(wrong):
        a, b = (np.broadcast_to(v, wrong.shape)[wrong].flat[0] for v in (bottom, top))
        raise ValueError(f"low = {a:g} is impossible: it must be at most high = {b:g}")
    chance = np.random.default_rng(seed).random(draws)
    return as_draws(np.clip(bottom + (top - bottom) * chance, bottom, top))
