"""Strength of peroxide from the oxygen that a little of it gives, diluted first: what is too much is refused."""

from __future__ import annotations

import math
from typing import Any

from ...common.arrays import FloatArray
from ...common.limits import check_number, collecting_warnings
from ...matter.labels import mass_fraction_from, strength
from ...reaction.bath.film_properties import R, saturation_pressure
from .bottle import BOTTLES
from .strength import (
    APART,
    MOST_PEROXIDE,
    MOST_STRENGTH,
    Strength,
    fraction_of,
    measured,
    must_be_weak,
    volume_doubt_of,
)

MOST_SAMPLE = 1e-6
"""Most of the diluted peroxide on the catalyst [m³]: 1 mL."""
LEAST_VOLUME, MOST_GAS = 1e-8, 1e-3  # m³: less is not seen, more comes from no such sample
WEAKEST_LABEL = 0.03  # kg/kg: no bottle counts as weaker than the shop's
PIPETTING = 1.045
"""A dilution counts as so much less than it says [-]: three doubts of a syringe."""
PROJECTILE = (
    "The stronger it is the hotter and faster the gas comes, from about 12 % with steam; in anything closed "
    "or narrow it is a projectile"
)
PRESSURES = (6e4, 1.1e5)  # Pa: a mountain, and a fine day by the sea
METHOD = "oxygen over water"


def oxygen_to_expect(
    *,
    label: float,
    sample: float,
    dilution: float = 1.0,
    T: float = 293.15,
    T_gas: float = 293.15,
    p: float = 101325.0,
) -> float:
    """How much gas a sample can give: ask before pouring, what is too strong or too much is refused.

    Parameters
    ----------
    label : float
        The strongest that the bottle may be [kg/kg], 0.03 to 0.35. No label, another's writing, or any doubt: 0.35.
    sample : float
        Diluted peroxide that goes onto the catalyst [m³], 0.01 to 1 mL.
    dilution : float
        How many times its volume it was diluted to first [-]: 1 mL made up to 15 mL is 15; not diluted is 1.
    T, T_gas : float
        Temperature of the bottle, and of the gas [K], 273.15 to 313.15.
    p : float
        Air pressure where you are, not that of sea level in the weather report [Pa], 6e4 to 1.1e5.

    Returns
    -------
    float
        Gas over water [m³]: the vessel that takes it must hold at least five times as much, for it comes warm and with
        air.

    Raises
    ------
    ValueError
        A sample over 1 mL or over 3 % by weight, as a message that says why and how far to dilute; a dilution counts as
        4.5 % less than it says, three doubts of a syringe; a label above 35 %; other bad values.

    Examples
    --------
    >>> print(f"{1e6 * oxygen_to_expect(label=0.12, sample=1e-6, dilution=5):.1f} mL")
    9.0 mL
    """
    label = _label(label)
    T, T_gas = check_number("T", T, *BOTTLES, "K"), check_number("T_gas", T_gas, *BOTTLES, "K")
    p = check_number("p", p, *PRESSURES, "Pa: 1013 hPa is 101300")
    dilution = check_number("dilution", dilution, 1.0, 1000.0, "times")
    sample = _small(sample)
    with collecting_warnings():
        whole, most = (
            float(strength(w, "mol/L", "H2O2", T)) * 1000 for w in (label, MOST_STRENGTH)
        )
        if whole > most * max(1.0, dilution / PIPETTING):
            diluted = 100 * float(mass_fraction_from(whole / dilution / 1000, "mol/L", "H2O2", T))
            written = f"{diluted:.3g}" if abs(diluted - 3) >= 0.005 else f"{diluted:.4g}"
            least = max(2.0, math.ceil(10 * PIPETTING * whole / most) / 10)
            raise ValueError(
                f"label = {label:g} kg/kg diluted {dilution:g} times is {written} % by weight, too strong "
                "for a catalyst: it must be surely at most 3 %, dilute it at least "
                f"{least:g} times. {PROJECTILE}"
            )
    return 0.5 * whole / dilution * sample * R * T_gas / (p - float(saturation_pressure(T_gas)))


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
    """Strength of peroxide from the oxygen of at most 1 mL of it, diluted to at most 3 %: c = 2 (p − p_w) V / (R T v).

    Onto yeast, manganese dioxide or iodide. **Never in a closed vessel**: the gas goes through a wide open tube into a
    cylinder over water, or into a syringe whose plunger runs freely. Read `cautions("oxygen")` first. Let the gas cool
    before you read it, with the water inside and outside at one height; the sample itself pushes its own volume of air
    over: take it off.

    Parameters
    ----------
    gas : float
        Gas that the peroxide gave, over water [m³].
    sample : float
        Diluted peroxide that went onto the catalyst [m³], 0.01 to 1 mL.
    label : float
        The strongest that the bottle may be [kg/kg], 0.03 to 0.35: it says whether the sample is weak enough. No label,
        another's writing, or any doubt: 0.35.
    p : float
        Air pressure where you are, not that of sea level in the weather report [Pa], 6e4 to 1.1e5.
    dilution : float
        How many times its volume it was diluted to first [-]: 1 mL made up to 15 mL is 15; not diluted is 1.
    T, T_gas : float
        Temperature of the bottle when it was measured out, and of the gas [K], 273.15 to 313.15.
    gas_doubt, sample_doubt, dilution_doubt : str or float
        "flask", "syringe" or one standard deviation as a share [-]. Of the gas 3 to 5 % leaks or stays
        dissolved: it only ever makes the reading too low, and is counted as doubt to both sides.
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
    ValueError
        A sample over 1 mL or 3 % by weight, by its label or by the gas it gave (it is a projectile); a bottle that is
        stronger than its label by more than 3 doubts; other bad values.

    Examples
    --------
    >>> print(by_oxygen(gas=9.0e-6, sample=1e-6, label=0.12, dilution=5, p=101325).words)
    oxygen over water: 11.9 ± 0.6 % by weight
    """
    expected = oxygen_to_expect(
        label=label, sample=sample, dilution=dilution, T=T, T_gas=T_gas, p=p
    )
    sample = _small(sample)
    shares = {
        name: volume_doubt_of(f"{name}_doubt", doubt)
        for name, doubt in (
            ("gas", gas_doubt),
            ("sample", sample_doubt),
            ("dilution", dilution_doubt),
        )
    }
    gas = check_number("gas", gas, LEAST_VOLUME, MOST_GAS, "m³")
    gas_seen = math.hypot(
        gas * shares["gas"], check_number("gas_scale", gas_scale, 0.0, 1e-5, "m³")
    )
    readings = {
        "gas": (gas, gas_seen),
        "sample": (sample, sample * shares["sample"]),
        "dilution": (dilution, dilution * shares["dilution"] if dilution > 1 else 0.0),
        "p": (p, check_number("p_doubt", p_doubt, 0.0, 1e4, "Pa")),
        "T_gas": (T_gas, check_number("T_gas_doubt", T_gas_doubt, 0.0, 20.0, "K")),
        "T": (T, 0.0),
    }

    def formula(gas: Any, sample: Any, dilution: Any, p: Any, T_gas: Any, T: Any) -> FloatArray:
        oxygen = (p - saturation_pressure(T_gas)) * gas / (R * T_gas)  # mol
        return fraction_of("H2O2", 2 * oxygen / sample * dilution, T)

    most = oxygen_to_expect(label=MOST_STRENGTH, sample=sample, T=T, T_gas=T_gas, p=p)
    slack = 1 + APART * math.hypot(gas_seen / gas, shares["sample"])
    if gas > most * slack:
        raise ValueError(
            f"gas = {1e6 * gas:.3g} mL from {1e6 * sample:g} mL is too much: it must be at most "
            f"{1e6 * most:.3g} mL, that of 3 % by weight (and the label lets one expect "
            f"{1e6 * expected:.3g} mL). The sample was stronger than its label: dilute it further before "
            "the next one, what is stronger is a projectile"
        )
    found = measured(
        "H2O2", METHOD, formula, readings, "wait until the gas is cool, and look for a leak"
    )
    if found.middle - APART * found.doubt > label:
        raise ValueError(
            f"gas = {1e6 * gas:.3g} mL is too much for label = {label:g} kg/kg: it reads {found.figures}, "
            f"and it must be at most {1e6 * expected:.3g} mL beyond its doubt. The bottle is stronger "
            "than its label, or the dilution is a mistake: count the bottle as 35 % until you know"
        )
    return found


def _label(label: Any) -> float:
    """The strongest that a bottle may be [kg/kg], or ValueError that says what counts."""
    if isinstance(label, int | float) and MOST_PEROXIDE < label <= 1:
        must_be_weak("label", label)
    return check_number(
        "label",
        label,
        WEAKEST_LABEL,
        MOST_PEROXIDE,
        "kg/kg (3 % is 0.03), the strongest that the bottle may "
        "be; with no label or any doubt it is 0.35",
    )


def _small(sample: Any) -> float:
    """A sample [m³] of at most 1 mL, or ValueError that says why."""
    try:
        return check_number("sample", sample, LEAST_VOLUME, MOST_SAMPLE, "m³ of diluted peroxide")
    except ValueError as error:
        raise ValueError(f"{error} (1 mL). {PROJECTILE}") from None
