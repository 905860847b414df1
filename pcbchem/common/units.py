"""Lab units for people: everything inside the package is SI."""

from __future__ import annotations

from typing import Any

from numpy.typing import ArrayLike

from .arrays import plain
from .limits import check_values

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
T_LOW, T_HIGH = 250.0, 400.0
"""Limits of every temperature [K]."""


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
    return plain(check_values("percent", x, 0, 100, "%") / 100)


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
    return plain(check_values("celsius", x, T_LOW - ZERO_C, T_HIGH - ZERO_C, "°C") + ZERO_C)


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
    return plain((check_values("fahrenheit", x, low, high, "°F") - 32) * (5 / 9) + ZERO_C)


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
    return plain(check_values("T", T, T_LOW, T_HIGH, "K") - ZERO_C)


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
