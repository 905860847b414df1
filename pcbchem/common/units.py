"""Turn the units of a lab into SI, and back: everything inside the package is SI.

Names of units follow their symbols (`mL`, `um`), so that a line reads as people write it:
`Solution.of(volume=75 * mL, T=celsius(20), HCl=percent(10))`.
"""

from __future__ import annotations

from typing import Any

from numpy.typing import ArrayLike

from .arrays import number_or_array
from .limits import check_values

# One of each in SI: `75 * mL` is a volume in m³, `bath / mL_per_cm2` a depth in mL/cm²
L = 1e-3
"""Litre [m³]."""
mL = 1e-6
"""Millilitre [m³]."""
us_fl_oz = 29.5735295625e-6
"""US fluid ounce [m³]: 231/128 cubic inch."""
mm = 1e-3
"""Millimetre [m]."""
cm = 1e-2
"""Centimetre [m]."""
um = 1e-6
"""Micrometre [m]."""
minute = 60.0
"""Minute [s]."""
hour = 3600.0
"""Hour [s]."""
gram = 1e-3
"""Gram [kg]."""
mol_per_L = 1000.0
"""Mole per litre [mol/m³]."""
mL_per_cm2 = mL / 1e-4
"""Millilitre of bath per square centimetre of bare copper [m³/m²]."""

ZERO_C = 273.15
"""Freezing point of water, 0 °C [K]."""
ZERO_F = 32.0
"""The same on the scale of Fahrenheit [°F]."""
T_LOW, T_HIGH = 250.0, 400.0
"""Limits of every temperature [K]: a temperature in °C or °F, taken for kelvin, is outside."""


def percent(x: ArrayLike) -> Any:
    """Turn per cent into a share: x / 100.

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
    InputError
        x outside 0 to 100.

    Examples
    --------
    >>> print(f"{percent(30):.2f}")
    0.30
    """
    return number_or_array(check_values("percent", x, 0, 100, "%") / 100)


def celsius(x: ArrayLike) -> Any:
    """Turn degrees Celsius into kelvin: x + 273.15.

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
    InputError
        x outside its limits: kelvin given as °C is caught here.

    Examples
    --------
    >>> print(f"{celsius(20):.2f}")
    293.15
    """
    # Checked before it is turned, so that an error names the value and the limits in °C
    return number_or_array(
        check_values("celsius", x, T_LOW - ZERO_C, T_HIGH - ZERO_C, "°C") + ZERO_C
    )


def fahrenheit(x: ArrayLike) -> Any:
    """Turn degrees Fahrenheit into kelvin: (x - 32) * 5/9 + 273.15.

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
    InputError
        x outside its limits.

    Examples
    --------
    >>> print(f"{fahrenheit(68):.2f}")
    293.15
    """
    # The limits of every temperature, on this scale
    low = 9 / 5 * (T_LOW - ZERO_C) + ZERO_F
    high = 9 / 5 * (T_HIGH - ZERO_C) + ZERO_F
    degrees = check_values("fahrenheit", x, low, high, "°F")
    return number_or_array((degrees - ZERO_F) * (5 / 9) + ZERO_C)


def to_celsius(T: ArrayLike) -> Any:
    """Turn kelvin into degrees Celsius: T - 273.15.

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
    InputError
        T outside its limits.

    Examples
    --------
    >>> print(f"{to_celsius(300):.2f}")
    26.85
    """
    return number_or_array(check_values("T", T, T_LOW, T_HIGH, "K") - ZERO_C)


def to_fahrenheit(T: ArrayLike) -> Any:
    """Turn kelvin into degrees Fahrenheit: (T - 273.15) * 1.8 + 32.

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
    InputError
        T outside its limits.

    Examples
    --------
    >>> print(f"{to_fahrenheit(293.15):.1f}")
    68.0
    """
    return number_or_array(to_celsius(T) * 1.8 + ZERO_F)
