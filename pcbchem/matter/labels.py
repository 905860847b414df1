"""How labels write a strength, and the mass fraction behind it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ..common.arrays import Draws, FloatArray, as_draws, common_shape, plain
from ..common.limits import check_choice, check_values
from ..common.units import T_HIGH, T_LOW
from .properties import LIMITS, MOLAR_MASS, SOLUTES, density_inside, warn_properties

T_60F = 288.70555555555555
"""60 °F [K], the temperature of the Baumé scale."""
MOLAR_GAS = 22.414
"""Litres of oxygen in a mole at 0 °C and 1 atm [L/mol], as the classical volume strength takes it."""
NOTATIONS = ("% by weight", "% w/v", "mol/L", "molality", "degrees Baume", "volume strength")
"""The ways to write a strength: [g/100 g], [g/100 mL], [mol/L], [mol/kg water], [°Bé], [volumes of oxygen]."""
ONLY_FOR = {"degrees Baume": "HCl", "volume strength": "H2O2"}


def strength(mass_fraction: ArrayLike, notation: str, substance: str, T: ArrayLike = 293.15) -> Any:
    """Write a mass fraction as a label would.

    Parameters
    ----------
    mass_fraction : float or array
        Mass fraction [kg/kg], up to the limit of the substance.
    notation : str
        One of "% by weight" [g/100 g], "% w/v" [g/100 mL], "mol/L" [mol/L], "molality" [mol/kg of water],
        "degrees Baume" [°Bé, HCl only: 145 scale at 60 °F], "volume strength" [volumes of O2, H2O2 only].
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
    ValueError
        A value outside its limits, an unknown substance or notation, or a notation of another substance.

    Examples
    --------
    >>> print(f"{strength(0.3145, 'degrees Baume', 'HCl'):.1f}")
    20.0
    """
    _notation(notation, substance)
    w = check_values("mass_fraction", mass_fraction, 0, LIMITS[substance], "kg/kg")
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(value=w, T=T)
    _warn(w, notation, substance, T)
    return plain(_marked(_forward(notation, substance, T)(np.asarray(w)), w, T))


def mass_fraction_from(
    value: ArrayLike, notation: str, substance: str, T: ArrayLike = 293.15
) -> Any:
    """Read a label: the mass fraction behind a strength.

    Parameters
    ----------
    value : float or array
        Strength [unit of the notation].
    notation : str
        One of "% by weight" [g/100 g], "% w/v" [g/100 mL], "mol/L" [mol/L], "molality" [mol/kg of water],
        "degrees Baume" [°Bé, HCl only: 145 scale at 60 °F], "volume strength" [volumes of O2, H2O2 only].
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
    ValueError
        A strength that no such solution has, an unknown substance or notation, or a notation of another substance.

    Examples
    --------
    >>> print(f"{mass_fraction_from(10, 'volume strength', 'H2O2'):.4f}")
    0.0301
    """
    _notation(notation, substance)
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    forward = _forward(notation, substance, T)
    most = float(np.min(forward(np.asarray(LIMITS[substance]))))
    value = check_values("value", value, 0, most, f"in {notation} of {substance}")
    shape, _ = common_shape(value=value, T=T)
    w = inverted(forward, np.broadcast_to(np.asarray(value), shape), LIMITS[substance])
    _warn(w, notation, substance, T)
    return plain(_marked(w, value, T))


def _marked(values: Any, *given: Any) -> Any:
    return as_draws(values) if any(isinstance(v, Draws) for v in given) else values


def _notation(notation: str, substance: str) -> None:
    check_choice("substance", substance, SOLUTES)
    fitting = tuple(n for n in NOTATIONS if ONLY_FOR.get(n, substance) == substance)
    if notation not in fitting:
        raise ValueError(
            f"notation = {notation!r} is not known for {substance}: choose from {', '.join(fitting)}"
        )


def _warn(w: Any, notation: str, substance: str, T: Any) -> None:
    if notation not in ("% by weight", "molality"):
        warn_properties(
            "strength", T_60F if notation == "degrees Baume" else T, {substance: w}, stacklevel=5
        )


def _forward(notation: str, substance: str, T: ArrayLike) -> Callable[[Any], Any]:
    """The function from mass fraction [kg/kg] to strength [unit of the notation] at T [K]."""
    M = MOLAR_MASS[substance]
    at = np.asarray(T)

    def density(w: Any) -> Any:
        return density_inside(at, {substance: np.asarray(w)})

    def baume(w: Any) -> Any:
        return 145 - 145 * density_inside(T_60F, {}) / density_inside(
            T_60F, {substance: np.asarray(w)}
        )

    return {
        "% by weight": lambda w: 100 * w,
        "% w/v": lambda w: w * density(w) / 10,
        "mol/L": lambda w: w * density(w) / M / 1000,
        "molality": lambda w: w / (1 - w) / M,
        "degrees Baume": baume,
        "volume strength": lambda w: w * density(w) / M / 1000 / 2 * MOLAR_GAS,
    }[notation]


def inverted(forward: Callable[[Any], Any], value: FloatArray, most: float) -> FloatArray:
    """Mass fraction [kg/kg] from 0 to most that gives the value, by Newton steps kept inside a shrinking bracket."""
    low, high = np.zeros(value.shape), np.full(value.shape, most)
    w = most * value / np.maximum(forward(np.asarray(most)), 1e-300)
    for _ in range(100):
        miss = forward(w) - value
        low, high = np.where(miss <= 0, w, low), np.where(miss >= 0, w, high)
        inside = np.clip(w, 0.0, most * (1 - 1e-6))
        slope = (forward(inside + most * 1e-6) - forward(inside)) / (most * 1e-6)
        new = w - miss / slope
        new = np.where((new >= low) & (new <= high), new, (low + high) / 2)
        if np.all(np.abs(new - w) < 1e-14):
            return np.asarray(new)
        w = new
    raise RuntimeError("the mass fraction behind a strength was not found in 100 steps")
