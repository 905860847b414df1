"""Strength of a bottle by weighing a known volume of it."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.limits import InputError, check_choice, check_number
from ...matter.labels import mass_fraction_at
from ...matter.properties import LIMITS, density_inside, water_density
from .bottle import BOTTLE_TEMPERATURES, SUBSTANCES
from .strength import Reading, Strength, from_readings, volume_doubt_of

EQUATION_DOUBT = 0.001
"""Doubt of the density equations of both substances [-], as `matter.properties.density` says."""
LEAST_WEIGHED, MOST_WEIGHED = 1e-7, 2.5e-4
"""Least and most that is weighed [m³]: 0.1 mL and 250 mL."""
STRONG_ACID, COOL = 0.25, 298.15
"""Acid as strong as this [kg/kg] is not weighed when it is warmer than this [K]: it fumes."""
AIR, WEIGHTS = 1.2, 8000.0
"""Density of the air, and of the weights that balances are set with, by convention [kg/m³]."""
MANY_DOUBTS = 3
"""A mass so many doubts [-] below that of water may still be water."""
CAUTIONS = {
    "HCl": "use a better vessel, or titrate",
    "H2O2": "use the oxygen it gives",
}
"""What to do if weighing cannot tell."""


def by_weighing(
    substance: str,
    *,
    mass: float,
    volume: float,
    T: float,
    volume_doubt: str | float = "flask",
    mass_doubt: float = 1e-5,
    T_doubt: float = 1.0,
) -> Strength:
    """Find the strength of acid, or of peroxide, from the mass of a known volume.

    ρ = m (1 − ρ_air / ρ_weights) / V + ρ_air is the density of the liquid; the strength is the one
    at which a solution has it.

    Read `hazards.method_cautions("weighing")` first. It needs peroxide of about 5 % and more in a
    good flask: weaker peroxide, or a poorer vessel, cannot tell, and `tells` says so. Only for a
    fresh bottle: copper and whatever else is dissolved in it counts as strength, and bubbles as its
    lack.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    mass : float
        What the balance shows for the liquid alone, full minus empty [kg].
    volume : float
        Its volume [m³] at T, at most 250 mL. Glass grows by 0.01 % and plastic by up to 0.5 % in
        10 K: within the doubt, not counted.
    T : float
        Temperature of the liquid [K], 273.15 to 313.15, acid of 25 % and more at most 298.15:
        measure it, 10 K count as 0.4 % of density.
    volume_doubt : str or float
        "flask" (0.3 %), "syringe" (1.5 %), "cylinder" (1 %) or one standard deviation as a share of
        the volume [-].
    mass_doubt : float
        One standard deviation of the mass [kg].
    T_doubt : float
        One standard deviation of the temperature [K].

    Returns
    -------
    Strength
        Mass fraction [kg/kg] of that density. The air that the liquid pushes aside is put right
        (+0.1 %), and the density equation itself is in doubt by 0.1 %.

    Raises
    ------
    InputError
        A value outside its limits, a mass that no such liquid of that volume has, peroxide above
        35 %, or warm strong acid.

    Examples
    --------
    >>> print(by_weighing("HCl", mass=0.1158, volume=1e-4, T=293.15).words)
    weighing: 32.0 ± 0.7 % by weight
    >>> print(by_weighing("H2O2", mass=0.1008, volume=1e-4, T=293.15).tells)
    False
    """
    check_choice("substance", substance, SUBSTANCES)
    T = check_number("T", T, *BOTTLE_TEMPERATURES, "K")
    volume = check_number("volume", volume, LEAST_WEIGHED, MOST_WEIGHED, "m³ (250 mL)")
    volume_share = volume_doubt_of("volume_doubt", volume_doubt)
    mass_doubt = check_number("mass_doubt", mass_doubt, 0.0, 0.1, "kg")
    T_doubt = check_number("T_doubt", T_doubt, 0.0, 10.0, "K")

    mass = _checked_mass(substance, mass, volume, T, volume_share, mass_doubt)

    def formula(
        mass: FloatArray, volume: FloatArray, T: FloatArray, equation: FloatArray
    ) -> FloatArray:
        density = equation * (mass * (1 - AIR / WEIGHTS) / volume + AIR)
        return _strength_at_density(substance, density, T)

    readings = {
        "mass": Reading(mass, mass_doubt),
        "volume": Reading(volume, volume_share * volume),
        "T": Reading(T, T_doubt),
        # The density equation as a factor of 1 that is in doubt, beside what was read
        "equation": Reading(1.0, EQUATION_DOUBT),
    }
    strength = from_readings(substance, "weighing", formula, readings, CAUTIONS[substance])
    # Only now it is known how strong it is
    if substance == "HCl":
        _check_cool(strength.middle, T)
    return strength


def _checked_mass(
    substance: str, mass: float, volume: float, T: float, volume_share: float, mass_doubt: float
) -> float:
    """Return a mass [kg] that some liquid of this substance, volume [m³] and T [K] can have.

    From a little less than water, within the doubts of volume [-] and mass [kg], to the heaviest
    liquid there is.
    """
    # Water itself may weigh too little by the doubts; at the heavy end no bottle comes near
    water_doubt = MANY_DOUBTS * math.hypot(volume_share, EQUATION_DOUBT)
    lightest = float(water_density(T)) * (1 - water_doubt)
    heaviest = float(density_inside(T, {substance: np.asarray(LIMITS[substance])}))
    return check_number(
        "mass",
        mass,
        _mass_on_balance(lightest, volume) - MANY_DOUBTS * mass_doubt,
        _mass_on_balance(heaviest, volume),
        f"kg for {1e6 * volume:g} mL of {substance}",
    )


def _check_cool(acid: float, T: float) -> None:
    """Refuse to weigh acid [kg/kg] that fumes at its temperature [K]."""
    if acid < STRONG_ACID or T <= COOL:
        return
    raise InputError(
        "T",
        f"it must be at most {COOL - 273.15:g} °C. Warm strong acid fumes more: let it cool in "
        "its bottle, and weigh it outdoors",
        value=T,
        about=f" = {T - 273.15:.4g} °C",
        wrong=f"is too warm for acid of {100 * acid:.0f} %",
        high=COOL,
        unit="K",
    )


def _mass_on_balance(density: float, volume: float) -> float:
    """Return what a balance shows [kg] for a liquid of some density [kg/m³] and volume [m³].

    Air bears part of the liquid, and part of the weights that the balance was set with.
    """
    return volume * (density - AIR) / (1 - AIR / WEIGHTS)


def _strength_at_density(substance: str, density: FloatArray, T: FloatArray) -> FloatArray:
    """Return the mass fractions [kg/kg] at densities [kg/m³] and temperatures [K].

    A liquid lighter than water is below 0, on the straight line through the weakest solutions: so
    a doubt can be worked out at water itself.
    """
    water = density_inside(T, {})
    weak = 1e-4  # so weak a solution [kg/kg] that density still rises in proportion

    def heavier_than_water(mass_fraction: Any) -> Any:
        fractions = {substance: np.broadcast_to(mass_fraction, np.shape(T))}
        return density_inside(T, fractions) - water

    # The search knows no strength below 0: what is lighter than water goes in as water, and gets
    # its place on the straight line afterwards
    difference = density - water
    mass_fraction = mass_fraction_at(
        heavier_than_water, np.maximum(difference, 0.0), LIMITS[substance]
    )
    below_water = difference * weak / heavier_than_water(weak)
    return np.where(difference < 0, below_water, mass_fraction)
