"""How fast does a gas leave a liquid: by the air that sweeps over it, or by rising of itself?

A transfer coefficient k [m/s] times the open area is a stream of air [m³/s] that leaves the liquid
saturated. What five published ways to reckon k span is the doubt `film` of `doubts`.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.limits import check_choice, check_values
from ...common.tables import read
from ...matter.properties import MOLAR_MASS
from ...matter.vapour import saturation_pressure
from ...reaction.bath.balances import HUMIDITY, evaporation_heat
from ...reaction.bath.film_properties import REFERENCE, R

TEMPERATURES = (273.15, 333.15)
"""What is reckoned with here, of liquids and of air [K]."""
AIR_SPEEDS = (0.01, 3.0)
"""Speed of the air over a liquid [m/s]: above, spray and ripples would count."""
LENGTHS = (1e-3, 3.0)
"""Length of a liquid along the air [m]: 5 L, spilt as thinly as may be."""
VISCOSITY_OF_AIR = 1.56e-5
"""Kinematic viscosity of air at 25 °C [m²/s]."""
WARMTH_EXPONENT = 1.75
"""Diffusivities and viscosity of air go with this power of the temperature [-] (Fuller)."""
EVAPORATION_HEAT = 2.45e6
"""Heat that evaporates water near 20 °C [J/kg]."""


@cache
def _diffusivities() -> dict[str, float]:
    """Return the diffusivity of each gas in air at 25 °C [m²/s]."""
    return {row["gas"]: float(row["diffusivity_m2_s_at_25_C"]) for row in read("gas_diffusivity")}


def diffusivity(gas: str, T: ArrayLike = 293.15) -> Any:
    """Return how fast a gas spreads in still air.

    Parameters
    ----------
    gas : str
        "HCl", "Cl2", "H2O2", "H2O" or "CO2".
    T : float or array
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    float or array
        Diffusivity at 1 atm [m²/s].

    Raises
    ------
    InputError
        Another gas, or a temperature outside its limits.

    Examples
    --------
    >>> print(f"{1e5 * diffusivity('H2O', 298.15):.2f}")
    2.50
    """
    diffusivities = _diffusivities()
    check_choice("gas", gas, tuple(diffusivities))
    T = check_values("T", T, *TEMPERATURES, "K")
    return diffusivities[gas] * (T / REFERENCE) ** WARMTH_EXPONENT


def forced(air_speed: ArrayLike, length: ArrayLike, gas: str, T: ArrayLike = 293.15) -> Any:
    """Return how fast a gas leaves a surface that air sweeps, as over a flat plate.

    k = 0.664 Re^½ Sc^⅓ D/L, for laminar flow.

    Parameters
    ----------
    air_speed : float or array
        Speed of the air [m/s], 0.01 to 3.
    length : float or array
        Length of the liquid along the air [m], 1 mm to 3 m.
    gas : str
        As in `diffusivity`.
    T : float or array
        Temperature of the air at the liquid [K].

    Returns
    -------
    float or array
        Transfer coefficient [m/s].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * forced(0.1, 0.12, 'HCl'):.1f} mm/s")
    2.5 mm/s
    """
    U = check_values("air_speed", air_speed, *AIR_SPEEDS, "m/s")
    L = check_values("length", length, *LENGTHS, "m")
    D = diffusivity(gas, T)
    viscosity = VISCOSITY_OF_AIR * (np.asanyarray(T) / REFERENCE) ** WARMTH_EXPONENT
    reynolds, schmidt = U * L / viscosity, viscosity / D
    return 0.664 * np.sqrt(reynolds) * np.cbrt(schmidt) * D / L


def free(
    gas: str,
    T: ArrayLike = 293.15,
    T_air: ArrayLike = 293.15,
    water_activity: ArrayLike = 1.0,
) -> Any:
    """Return how fast a gas leaves a surface into quiet air, carried up by moist warm air.

    It goes by the evaporation of water that the heat loss of a bath is reckoned with, times
    (D/D_water)^⅔; where the liquid is no moister than the room it is 0.

    Parameters
    ----------
    gas : str
        As in `diffusivity`.
    T, T_air : float or array
        Temperature of the liquid and of the air [K], 273.15 to 333.15.
    water_activity : float or array
        Pressure of water over the liquid, over that of pure water [-], 0 to 1.

    Returns
    -------
    float or array
        Transfer coefficient [m/s].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * free('HCl', 313.15):.1f} mm/s")
    3.6 mm/s
    """
    T = check_values("T", T, *TEMPERATURES, "K")
    T_air = check_values("T_air", T_air, *TEMPERATURES, "K")
    water_activity = check_values("water_activity", water_activity, 0.0, 1.0)
    film = (T + T_air) / 2
    drive = water_activity * saturation_pressure(T) - HUMIDITY * saturation_pressure(T_air)
    evaporation = evaporation_heat(drive) / EVAPORATION_HEAT / MOLAR_MASS["H2O"]
    # mol/(m² s) over the difference in mol/m³; where nothing drives it both are 0
    difference = np.where(drive > 0, drive, 1.0) / (R * film)
    of_water = evaporation / difference
    return (diffusivity(gas, film) / diffusivity("H2O", film)) ** (2 / 3) * of_water


def swept(air_speed: ArrayLike, length: ArrayLike, gas: str, T: ArrayLike = 293.15) -> Any:
    """Return how fast a gas leaves a pool that wind sweeps, as measured over pools outdoors.

    k = 0.0048 U^(7/9) L^(−1/9) Sc^(−⅔), U in m/s and L in m: wind is turbulent, and so this is more
    than `forced` where a pool is large and the wind fresh.

    Parameters
    ----------
    air_speed : float or array
        Speed of the air [m/s], 0.01 to 3.
    length : float or array
        Length of the liquid along the air [m], 1 mm to 3 m.
    gas : str
        As in `diffusivity`.
    T : float or array
        Temperature of the air at the liquid [K].

    Returns
    -------
    float or array
        Transfer coefficient [m/s].

    Raises
    ------
    InputError
        A value outside its limits.

    Notes
    -----
    Mackay and Matsugu, Can. J. Chem. Eng. 51 (1973) 434.

    Examples
    --------
    >>> print(f"{1000 * swept(1.0, 1.0, 'HCl'):.1f} mm/s")
    5.2 mm/s
    """
    U = check_values("air_speed", air_speed, *AIR_SPEEDS, "m/s")
    L = check_values("length", length, *LENGTHS, "m")
    viscosity = VISCOSITY_OF_AIR * (np.asanyarray(T) / REFERENCE) ** WARMTH_EXPONENT
    schmidt = viscosity / diffusivity(gas, T)
    return 0.0048 * U ** (7 / 9) * L ** (-1 / 9) * schmidt ** (-2 / 3)


def transfer(
    air_speed: ArrayLike,
    length: ArrayLike,
    gas: str,
    T: ArrayLike = 293.15,
    T_air: ArrayLike = 293.15,
    water_activity: ArrayLike = 1.0,
) -> Any:
    """Return how fast a gas leaves a surface: the quickest of `forced`, `swept` and `free`.

    Parameters
    ----------
    air_speed, length : float or array
        As in `forced` [m/s, m].
    gas : str
        As in `diffusivity`.
    T, T_air, water_activity : float or array
        As in `free` [K, K, -].

    Returns
    -------
    float or array
        Transfer coefficient [m/s]; the true one lies 0.33 to 1.5 times this.

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * transfer(0.1, 0.12, 'HCl', 313.15):.1f} mm/s")
    3.6 mm/s
    """
    T = check_values("T", T, *TEMPERATURES, "K")
    T_air = check_values("T_air", T_air, *TEMPERATURES, "K")
    film = (T + T_air) / 2
    blown = np.maximum(forced(air_speed, length, gas, film), swept(air_speed, length, gas, film))
    return np.maximum(blown, free(gas, T, T_air, water_activity))


def through_still_air(transfer: ArrayLike, still_air: ArrayLike, gas: str, T: ArrayLike) -> Any:
    """Return the coefficient of a surface that lies under still air, as in a bottle's neck.

    1/(h/D + 1/k): the gas has to spread through the height h before a draught takes it.

    Parameters
    ----------
    transfer : float or array
        Coefficient k at the top of the still air [m/s].
    still_air : float or array
        Height h of the still air [m], 0 to 1.
    gas : str
        As in `diffusivity`.
    T : float or array
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    float or array
        Transfer coefficient [m/s].

    Raises
    ------
    InputError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * through_still_air(0.0056, 0.025, 'HCl', 293.15):.2f} mm/s")
    0.60 mm/s
    """
    k = check_values("transfer", transfer, 0.0, 1.0, "m/s", above=True)
    height = check_values("still_air", still_air, 0.0, 1.0, "m")
    return 1 / (height / diffusivity(gas, T) + 1 / k)
