"""Write a strength as labels do, and find the mass fraction behind a label.

At T [K], of a mass fraction w [kg/kg], a density [kg/m³] and a molar mass M [kg/mol]:

    % by weight     = 100 w
    % w/v           = w density / 10
    mol/L           = w density / M / 1000
    molality        = w / (1 - w) / M
    degrees Baume   = 145 - 145 (density of water) / density, both at 60 °F
    volume strength = (mol/L) / 2 * 22.414: litres of oxygen from a litre

Each rises with w, and so there is one w behind each label.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import Draws, FloatArray, as_draws, common_shape, number_or_array
from ..common.limits import InputError, check_choice, check_values
from ..common.units import T_HIGH, T_LOW
from .properties import LIMITS, MOLAR_MASS, SOLUTES, density_inside, warn_properties

T_60F = 288.70555555555555
"""60 °F [K], the temperature of the Baumé scale."""
BAUME_MODULUS = 145
"""Constant of the Baumé scale for liquids heavier than water [-]."""
MOLAR_GAS = 22.414
"""Litres of oxygen in a mole at 0 °C and 1 atm [L/mol]: so the classical volume strength."""
NOTATIONS = ("% by weight", "% w/v", "mol/L", "molality", "degrees Baume", "volume strength")
"""The ways to write a strength, in [g/100 g], [g/100 mL], [mol/L], [mol/kg of water], [°Bé] and
[volumes of oxygen]."""
ONLY_FOR = {"degrees Baume": "HCl", "volume strength": "H2O2"}
"""Substances of the notations that have only one."""

# Of the search for a mass fraction
MOST_STEPS = 100
SMALL_STEP = 1e-14
"""A step of the mass fraction this small is the last [kg/kg]."""
SLOPE_STEP = 1e-6
"""Step over which a slope is taken, as a share of the largest mass fraction [-]."""


def strength(mass_fraction: ArrayLike, notation: str, substance: str, T: ArrayLike = 293.15) -> Any:
    """Write a mass fraction as a label would.

    Parameters
    ----------
    mass_fraction : float or array
        Mass fraction [kg/kg], up to the limit of the substance.
    notation : str
        One of "% by weight" [g/100 g], "% w/v" [g/100 mL], "mol/L" [mol/L], "molality" [mol/kg of
        water], "degrees Baume" [°Bé, HCl only: 145 scale at 60 °F], "volume strength" [volumes of
        O2, H2O2 only].
    substance : str
        "HCl", "H2O2", "NaOH", "CuCl2" or "CuCl".
    T : float or array
        Temperature of the volume [K]; the Baumé scale does not use it.

    Returns
    -------
    float or array
        Strength [unit of the notation].

    Raises
    ------
    InputError
        A value outside its limits, an unknown substance or notation, or a notation of another
        substance.

    Examples
    --------
    >>> print(f"{strength(0.3145, 'degrees Baume', 'HCl'):.1f}")
    20.0
    """
    _check_notation(notation, substance)
    w = check_values("mass_fraction", mass_fraction, 0, LIMITS[substance], "kg/kg")
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(value=w, T=T)
    _warn(w, notation, substance, T)
    label = _label_value(np.asarray(w), notation, substance, np.asarray(T))
    return _marked_as(label, w, T)


def mass_fraction_from(
    value: ArrayLike, notation: str, substance: str, T: ArrayLike = 293.15
) -> Any:
    """Find the mass fraction behind a strength on a label.

    Parameters
    ----------
    value : float or array
        Strength [unit of the notation].
    notation : str
        One of "% by weight" [g/100 g], "% w/v" [g/100 mL], "mol/L" [mol/L], "molality" [mol/kg of
        water], "degrees Baume" [°Bé, HCl only: 145 scale at 60 °F], "volume strength" [volumes of
        O2, H2O2 only].
    substance : str
        "HCl", "H2O2", "NaOH", "CuCl2" or "CuCl".
    T : float or array
        Temperature of the volume [K]; the Baumé scale does not use it.

    Returns
    -------
    float or array
        Mass fraction [kg/kg].

    Raises
    ------
    InputError
        A strength that no such solution has, an unknown substance or notation, or a notation of
        another substance.

    Examples
    --------
    >>> print(f"{mass_fraction_from(10, 'volume strength', 'H2O2'):.4f}")
    0.0301
    """
    _check_notation(notation, substance)
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    forward = partial(_label_value, notation=notation, substance=substance, T=np.asarray(T))
    # Of temperatures take the one at which the strongest solution is weakest: every strength up to
    # that has a mass fraction at all of them
    most = float(np.min(forward(np.asarray(LIMITS[substance]))))
    value = check_values("value", value, 0, most, f"in {notation} of {substance}")
    shape, _ = common_shape(value=value, T=T)
    w = mass_fraction_at(forward, np.broadcast_to(np.asarray(value), shape), LIMITS[substance])
    _warn(w, notation, substance, T)
    return _marked_as(w, value, T)


def _check_notation(notation: str, substance: str) -> None:
    check_choice("substance", substance, SOLUTES)
    fitting = []
    for name in NOTATIONS:
        if name not in ONLY_FOR or ONLY_FOR[name] == substance:
            fitting.append(name)
    if notation not in fitting:
        raise InputError(
            "notation",
            f"choose from {', '.join(fitting)}",
            value=notation,
            wrong=f"is not known for {substance}",
        )


def _label_value(w: Any, notation: str, substance: str, T: Any) -> Any:
    """Strength [unit of the notation] of a mass fraction w [kg/kg] at T [K]."""
    M = MOLAR_MASS[substance]
    if notation == "% by weight":
        return 100 * w
    if notation == "molality":
        return w / (1 - w) / M
    if notation == "degrees Baume":
        water = density_inside(T_60F, {})
        solution = density_inside(T_60F, {substance: np.asarray(w)})
        return BAUME_MODULUS - BAUME_MODULUS * water / solution

    mass_per_volume = w * density_inside(T, {substance: np.asarray(w)})
    if notation == "% w/v":
        return mass_per_volume / 10  # 10 kg/m³ are 1 g in 100 mL
    moles_per_litre = mass_per_volume / M / 1000
    if notation == "mol/L":
        return moles_per_litre
    # Two peroxide give one oxygen
    return moles_per_litre / 2 * MOLAR_GAS


def _warn(w: Any, notation: str, substance: str, T: Any) -> None:
    """Warn where a density was read outside the range in which it was checked."""
    if notation in ("% by weight", "molality"):
        return
    T_density = T
    if notation == "degrees Baume":
        T_density = T_60F
    # The warning names the line that called `strength`, two calls above this one
    warn_properties("strength", T_density, {substance: w}, stacklevel=5)


def _marked_as(values: Any, *arguments: Any) -> Any:
    """Mark the draw axis of a result if one of the arguments has one."""
    if any(isinstance(argument, Draws) for argument in arguments):
        return as_draws(values)
    return number_or_array(values)


def mass_fraction_at(forward: Callable[[Any], Any], value: FloatArray, most: float) -> FloatArray:
    """Find the mass fraction that gives a value, by Newton's steps inside a shrinking bracket.

    Parameters
    ----------
    forward : callable
        Value [any unit] of an array of mass fractions [kg/kg]; it must rise.
    value : array
        Values [unit of `forward`].
    most : float
        Largest mass fraction [kg/kg].

    Returns
    -------
    array
        Mass fraction [kg/kg], 0 to `most`, as precise as a float can be.

    Raises
    ------
    RuntimeError
        None was found, which is a fault of this code.

    Examples
    --------
    >>> print(f"{mass_fraction_at(lambda w: 100 * w, np.array(12.0), 0.45):.3f}")
    0.120
    """
    low = np.zeros(value.shape)
    high = np.full(value.shape, most)
    # A straight line through both ends is near enough to begin with
    w = most * value / np.maximum(forward(np.asarray(most)), 1e-300)
    for _ in range(MOST_STEPS):
        miss = forward(w) - value
        low = np.where(miss <= 0, w, low)
        high = np.where(miss >= 0, w, high)

        # The slope is taken to the right, and there must be room for that
        left = np.clip(w, 0.0, most * (1 - SLOPE_STEP))
        slope = (forward(left + most * SLOPE_STEP) - forward(left)) / (most * SLOPE_STEP)
        new = w - miss / slope

        # Newton's step may lead out of the bracket, or astray where the curve bends: halve instead
        is_inside = (new >= low) & (new <= high)
        new = np.where(is_inside, new, (low + high) / 2)
        if np.all(np.abs(new - w) < SMALL_STEP):
            return np.asarray(new)
        w = new
    raise RuntimeError(f"the mass fraction behind a strength was not found in {MOST_STEPS} steps")
