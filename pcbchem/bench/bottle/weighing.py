"""Strength of a bottle by weighing a known volume of it."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ...common.arrays import FloatArray
from ...common.limits import check_choice, check_number
from ...matter.labels import inverted
from ...matter.properties import LIMITS, density_inside, water_density
from .bottle import BOTTLES
from .strength import Strength, measured, volume_doubt_of

EQUATION_DOUBT = 0.001
"""Doubt of the density equations of acid and of peroxide [-], as `matter.properties.density` says."""


MOST_WEIGHED = 2.5e-4
"""Most that is weighed [m³]: 250 mL."""


STRONG_ACID, COOL = (
    0.25,
    298.15,
)  # kg/kg and K: warmer than this, acid as strong as this is not weighed


AIR, WEIGHTS = 1.2, 8000.0
"""Density of air in a room, and of the weights a balance is set with, by convention [kg/m³]."""


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
    """Strength from the mass of a known volume: for acid, and for peroxide of about 5 % and more in a good flask.

    Read `cautions("weighing")` first. Weaker peroxide, or a poorer vessel, cannot tell, and `tells` says so. Only for
    a fresh bottle: copper and whatever else is dissolved in it counts as strength, and bubbles as its lack.

    Parameters
    ----------
    substance : str
        "HCl" or "H2O2".
    mass : float
        What the balance shows for the liquid alone, full minus empty [kg].
    volume : float
        Its volume [m³] at T, at most 250 mL. Glass grows by 0.01 % and plastic by up to 0.5 % in 10 K: within the
        doubt, not counted.
    T : float
        Temperature of the liquid [K], 273.15 to 313.15, acid of 25 % and more at most 298.15: measure it, 10 K count
        as 0.4 % of density.
    volume_doubt : str or float
        "flask" (0.3 %), "syringe" (1.5 %), "cylinder" (1 %) or one standard deviation as a share of the volume [-].
    mass_doubt : float
        One standard deviation of the mass [kg].
    T_doubt : float
        One standard deviation of the temperature [K].

    Returns
    -------
    Strength
        Mass fraction [kg/kg] whose density is found. The air that the liquid pushes aside is put right (+0.1 %), and
        the density equation itself is in doubt by 0.1 %.

    Raises
    ------
    ValueError
        A value outside its limits, a mass that no such liquid of that volume has, peroxide above 35 %, or warm strong
        acid.

    Examples
    --------
    >>> print(by_weighing("HCl", mass=0.1158, volume=1e-4, T=293.15).words)
    weighing: 32.0 ± 0.7 % by weight
    >>> print(by_weighing("H2O2", mass=0.1008, volume=1e-4, T=293.15).tells)
    False
    """
    most = LIMITS[check_choice("substance", substance, ("HCl", "H2O2"))]
    T = check_number("T", T, *BOTTLES, "K")
    volume = check_number("volume", volume, 1e-7, MOST_WEIGHED, "m³ (250 mL)")
    share = volume_doubt_of("volume_doubt", volume_doubt)
    doubts = {
        "mass": check_number("mass_doubt", mass_doubt, 0.0, 0.1, "kg"),
        "volume": share * volume,
        "T": check_number("T_doubt", T_doubt, 0.0, 10.0, "K"),
        "equation": EQUATION_DOUBT,
    }
    slack = 1 - 3 * math.hypot(share, EQUATION_DOUBT)
    ends = float(water_density(T)) * slack, float(density_inside(T, {substance: np.asarray(most)}))
    shown = [volume * (end - AIR) / (1 - AIR / WEIGHTS) for end in ends]
    mass = check_number(
        "mass",
        mass,
        shown[0] - 3 * mass_doubt,
        shown[1],
        f"kg for {1e6 * volume:g} mL of {substance}",
    )

    def formula(
        mass: FloatArray, volume: FloatArray, T: FloatArray, equation: FloatArray
    ) -> FloatArray:
        return _of_density(substance, equation * (mass * (1 - AIR / WEIGHTS) / volume + AIR), T)

    found = measured(
        substance,
        "weighing",
        formula,
        {
            "mass": (mass, doubts["mass"]),
            "volume": (volume, doubts["volume"]),
            "T": (T, doubts["T"]),
            "equation": (1.0, doubts["equation"]),
        },
        "use a better vessel, or titrate" if substance == "HCl" else "use the oxygen it gives",
    )
    if substance == "HCl" and found.middle >= STRONG_ACID and T > COOL:
        raise ValueError(
            f"T = {T:g} K is too warm for acid of {100 * found.middle:.0f} %: it must be at most {COOL:g} "
            "K (25 °C). Warm strong acid fumes more: let it cool in its bottle, and weigh it outdoors"
        )
    return found


def _of_density(substance: str, density: FloatArray, T: FloatArray) -> FloatArray:
    """Mass fractions [kg/kg] at a density [kg/m³] and T [K]; lighter than water goes on below 0 in a straight line."""
    water, small = density_inside(T, {}), 1e-4

    def heavier(w: Any) -> Any:
        return density_inside(T, {substance: np.broadcast_to(w, np.shape(T))}) - water

    more = density - water
    found = inverted(heavier, np.maximum(more, 0.0), LIMITS[substance])
    return np.where(more < 0, more * small / heavier(small), found)
