"""Strength of peroxide from the oxygen that a little of it gives, diluted first.

2 H2O2 → 2 H2O + O2 on a catalyst, and the gas stands over water. What is too strong or too much is
refused before it is poured.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ...common.arrays import FloatArray
from ...common.limits import InputError, check_number
from ...matter.labels import mass_fraction_from, strength
from ...matter.vapour import saturation_pressure
from ...reaction.bath.film_properties import R
from .bottle import BOTTLE_TEMPERATURES
from .strength import (
    MOST_APART,
    MOST_PEROXIDE,
    STRONGEST_SAMPLE,
    Reading,
    Strength,
    fraction_of,
    from_readings,
    must_be_weak,
    volume_doubt_of,
)

LEAST_VOLUME = 1e-8
"""Less of sample or gas is not seen [m³]."""
MOST_SAMPLE = 1e-6
"""Most of the diluted peroxide on the catalyst [m³]: 1 mL."""
MOST_GAS = 1e-3
"""More gas comes from no such sample [m³]."""
WEAKEST_LABEL = 0.03
"""No bottle counts as weaker than the shop's [kg/kg]."""
PIPETTING = 1.045
"""A dilution counts as so much less than it says [-]: three doubts of a syringe."""
LEAST_DILUTION = 2.0
"""What is too strong is diluted at least so much [times]: less is measured out badly."""
PRESSURES = (6e4, 1.1e5)
"""Pressures of the air [Pa]: a mountain, and a fine day by the sea."""
PROJECTILE = (
    "The stronger it is the hotter and faster the gas comes, from about 12 % with steam; in "
    "anything closed or narrow it is a projectile"
)
COOL_AND_TIGHT = "wait until the gas is cool, and look for a leak"


def oxygen_to_expect(
    *,
    label: float,
    sample: float,
    dilution: float = 1.0,
    T: float = 293.15,
    T_gas: float = 293.15,
    p: float = 101325.0,
) -> float:
    """Return how much gas a sample can give: ask before pouring.

    V = c v / 2 · R T_gas / (p − p_w), for v of peroxide of concentration c as diluted, and p_w the
    pressure of water vapour. What is too strong or too much is refused.

    Parameters
    ----------
    label : float
        The strongest that the bottle may be [kg/kg], 0.03 to 0.35. No label, another's writing, or
        any doubt: 0.35.
    sample : float
        Diluted peroxide that goes onto the catalyst [m³], 0.01 to 1 mL.
    dilution : float
        How many times its volume it was diluted to first [-]: 1 mL made up to 15 mL is 15; not
        diluted is 1.
    T, T_gas : float
        Temperature of the bottle, and of the gas [K], 273.15 to 313.15.
    p : float
        Air pressure where you are, not that of sea level in the weather report [Pa], 6e4 to 1.1e5.

    Returns
    -------
    float
        Gas over water [m³]: the vessel that takes it must hold at least five times as much, for it
        comes warm and with air.

    Raises
    ------
    InputError
        A sample over 1 mL or over 3 % by weight, as a message that says why and how far to dilute;
        a dilution counts as 4.5 % less than it says, three doubts of a syringe; a label above 35 %;
        other bad values.

    Examples
    --------
    >>> print(f"{1e6 * oxygen_to_expect(label=0.12, sample=1e-6, dilution=5):.1f} mL")
    9.0 mL
    """
    # Label, dilution and sample together say how much gas there will be: each is checked before
    # anybody pours
    label = _check_label(label)
    T = check_number("T", T, *BOTTLE_TEMPERATURES, "K")
    T_gas = check_number("T_gas", T_gas, *BOTTLE_TEMPERATURES, "K")
    p = check_number("p", p, *PRESSURES, "Pa: 1013 hPa is 101300")
    dilution = check_number("dilution", dilution, 1.0, 1000.0, "times")
    sample = _check_sample(sample)
    concentration = _check_diluted(label, dilution, T)
    amount = 0.5 * concentration / dilution * sample  # of oxygen [mol]: one from two peroxide
    return amount * R * T_gas / (p - float(saturation_pressure(T_gas)))


def by_oxygen(
    *,
    gas: float,
    sample: float,
    label: float,
    p: float,
    dilution: float = 1.0,
    T: float = 293.15,
    T_gas: float = 293.15,
    gas_doubt: str | float = 0.04,
    gas_scale: float = 2e-7,
    sample_doubt: str | float = "syringe",
    dilution_doubt: str | float = "syringe",
    p_doubt: float = 500.0,
    T_gas_doubt: float = 2.0,
) -> Strength:
    """Find the strength of peroxide from the oxygen of at most 1 mL of it, diluted to at most 3 %.

    c = 2 (p − p_w) V / (R T v), for V of gas from v of peroxide, and p_w the pressure of water
    vapour.

    Onto yeast, manganese dioxide or iodide. **Never in a closed vessel**: the gas goes through a
    wide open tube into a cylinder over water, or into a syringe whose plunger runs freely. Read
    `hazards.method_cautions("oxygen")` first. Let the gas cool before you read it, with the water
    inside and outside at one height; the sample itself pushes its own volume of air over: take it
    off.

    Parameters
    ----------
    gas : float
        Gas that the peroxide gave, over water [m³].
    sample : float
        Diluted peroxide that went onto the catalyst [m³], 0.01 to 1 mL.
    label : float
        The strongest that the bottle may be [kg/kg], 0.03 to 0.35: it says whether the sample is
        weak enough. No label, another's writing, or any doubt: 0.35.
    p : float
        Air pressure where you are, not that of sea level in the weather report [Pa], 6e4 to 1.1e5.
    dilution : float
        How many times its volume it was diluted to first [-]: 1 mL made up to 15 mL is 15; not
        diluted is 1.
    T, T_gas : float
        Temperature of the bottle when it was measured out, and of the gas [K], 273.15 to 313.15.
    gas_doubt, sample_doubt, dilution_doubt : str or float
        "flask", "syringe" or one standard deviation as a share [-]. Of the gas 3 to 5 % leaks or
        stays dissolved: it only ever makes the reading too low, and is counted as doubt to both
        sides.
    gas_scale : float
        One standard deviation of reading the scale [m³], 0.2 mL: what makes little gas useless.
    p_doubt : float
        One standard deviation of the pressure [Pa].
    T_gas_doubt : float
        One standard deviation of the temperature of the gas [K]: fresh gas is warm.

    Returns
    -------
    Strength
        Mass fraction [kg/kg] of the peroxide in its bottle.

    Raises
    ------
    InputError
        A sample over 1 mL or 3 % by weight, by its label or by the gas it gave (it is a
        projectile); a bottle that is stronger than its label by more than 3 doubts; other bad
        values.
    ValueError
        Doubts that are all 0.

    Examples
    --------
    >>> print(by_oxygen(gas=9.0e-6, sample=1e-6, label=0.12, dilution=5, p=101325).words)
    oxygen over water: 11.9 ± 0.6 % by weight
    """
    # This checks all that was known before the sample was poured
    expected_gas = oxygen_to_expect(
        label=label, sample=sample, dilution=dilution, T=T, T_gas=T_gas, p=p
    )
    gas_share = volume_doubt_of("gas_doubt", gas_doubt)
    sample_share = volume_doubt_of("sample_doubt", sample_doubt)
    dilution_share = volume_doubt_of("dilution_doubt", dilution_doubt)
    if dilution == 1:
        dilution_share = 0.0  # what was not diluted has no doubt of it
    gas = check_number("gas", gas, LEAST_VOLUME, MOST_GAS, "m³")
    gas_scale = check_number("gas_scale", gas_scale, 0.0, 1e-5, "m³")
    readings = {
        # What leaks is a share of the gas; the scale is read as badly when there is little
        "gas": Reading(gas, math.hypot(gas * gas_share, gas_scale)),
        "sample": Reading(float(sample), sample * sample_share),
        "dilution": Reading(dilution, dilution * dilution_share),
        "p": Reading(p, check_number("p_doubt", p_doubt, 0.0, 1e4, "Pa")),
        "T_gas": Reading(T_gas, check_number("T_gas_doubt", T_gas_doubt, 0.0, 20.0, "K")),
        # It only turns mol/L into a mass fraction: a kelvin is 0.05 % at most
        "T": Reading(T, 0.0),
    }
    _check_sample_by_gas(readings, expected_gas)

    def formula(gas: Any, sample: Any, dilution: Any, p: Any, T_gas: Any, T: Any) -> FloatArray:
        # Water vapour takes its share of the pressure, and so of the volume
        oxygen = (p - saturation_pressure(T_gas)) * gas / (R * T_gas)  # mol
        return fraction_of("H2O2", 2 * oxygen / sample * dilution, T)

    strength = from_readings("H2O2", "oxygen over water", formula, readings, COOL_AND_TIGHT)
    _check_bottle_by_gas(strength, gas, label, expected_gas)
    return strength


def _check_sample_by_gas(readings: Mapping[str, Reading], expected_gas: float) -> None:
    """Refuse more gas than 3 % by weight gives: a label may be wrong, and this shows it."""
    gas, sample = readings["gas"], readings["sample"]
    most_gas = oxygen_to_expect(
        label=STRONGEST_SAMPLE,
        sample=sample.value,
        T=readings["T"].value,
        T_gas=readings["T_gas"].value,
        p=readings["p"].value,
    )
    doubt = math.hypot(gas.relative_doubt, sample.relative_doubt)
    if gas.value > most_gas * (1 + MOST_APART * doubt):
        raise InputError(
            "gas",
            f"it must be at most {1e6 * most_gas:.3g} mL, that of 3 % by weight (and the label "
            f"lets one expect {1e6 * expected_gas:.3g} mL). The sample was stronger than its "
            "label: dilute it further before the next one, what is stronger is a projectile",
            value=gas.value,
            about=f" = {1e6 * gas.value:.3g} mL from {1e6 * sample.value:g} mL",
            wrong="is too much",
            high=most_gas,
            unit="m³",
        )


def _check_bottle_by_gas(strength: Strength, gas: float, label: float, expected_gas: float) -> None:
    """Refuse a bottle surely stronger than its label [kg/kg]: its next sample may be too strong."""
    if strength.middle - MOST_APART * strength.doubt > label:
        raise InputError(
            "gas",
            f"it reads {strength.figures}, and it must be at most {1e6 * expected_gas:.3g} mL "
            "beyond its doubt. The bottle is stronger than its label, or the dilution is a "
            "mistake: count the bottle as 35 % until you know",
            value=gas,
            about=f" = {1e6 * gas:.3g} mL",
            wrong=f"is too much for label = {100 * label:g} %",
            high=expected_gas,
            unit="m³",
        )


def _check_label(label: Any) -> float:
    """Return the strongest that a bottle may be [kg/kg], or say what counts."""
    # Up to 1 it is a strength, and one to keep away from; above, a per cent taken for a share
    if isinstance(label, int | float) and MOST_PEROXIDE < label <= 1:
        must_be_weak("label", label)
    return check_number(
        "label",
        label,
        WEAKEST_LABEL,
        MOST_PEROXIDE,
        "kg/kg (3 % is 0.03), the strongest that the bottle may be; with no label or any doubt it "
        "is 0.35",
    )


def _check_sample(sample: Any) -> float:
    """Return a sample [m³] of at most 1 mL, or say why no more."""
    try:
        return check_number("sample", sample, LEAST_VOLUME, MOST_SAMPLE, "m³ of diluted peroxide")
    except InputError as error:
        # A limit without its reason would be taken for a formality
        error.rule += f" (1 mL). {PROJECTILE}"
        raise


def _check_diluted(label: float, dilution: float, T: float) -> float:
    """Return the concentration in a bottle [mol/m³], or refuse a sample over 3 % by weight.

    Label [kg/kg], how many times it was diluted [-], and temperature of the bottle [K].
    """
    in_bottle = float(strength(label, "mol/L", "H2O2", T)) * 1000
    most = float(strength(STRONGEST_SAMPLE, "mol/L", "H2O2", T)) * 1000
    # Not diluted has no doubt; diluted counts as less, so that the sample is surely weak
    if in_bottle <= most * max(1.0, dilution / PIPETTING):
        return in_bottle

    percent = 100 * float(mass_fraction_from(in_bottle / dilution / 1000, "mol/L", "H2O2", T))
    figures = 3
    if abs(percent - 3) < 0.005:
        figures = 4  # or it would say that 3 % is more than 3 %
    # Rounded up to a tenth: what the error asks for must be enough
    least_dilution = max(LEAST_DILUTION, math.ceil(10 * PIPETTING * in_bottle / most) / 10)
    raise InputError(
        "label",
        f"it must be surely at most 3 %, dilute it at least {least_dilution:g} times. {PROJECTILE}",
        value=label,
        about=f" = {100 * label:g} % diluted {dilution:g} times",
        wrong=f"is {percent:.{figures}g} % by weight, too strong for a catalyst",
        unit="kg/kg",
    )
