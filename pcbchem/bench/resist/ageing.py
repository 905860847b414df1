"""What does the carbon dioxide of the air leave of lye that nobody uses?

    CO2 + 2 OH- -> CO3 2- + H2O

The gas has to come through the air over the lye, and reacts in its outermost skin: two resistances,
one behind the other. Lye ends as soda, strongly alkaline still (pH 11 to 12), and burns.

Left out: lye that is used up at the surface faster than it moves up there (less than 2 % of
`lye_after` from 0.5 g/L on in a dish that its own evaporation stirs; a dish that nothing stirs
takes up less, which the low end of the doubt `lye uptake` counts), film that has dissolved, and
water that dries away. All is per volume *as mixed*: in 8 h a flat dish dries by about a tenth, and
by so much more would be measured.
"""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import MOST_DRAWS, Draws, FloatArray, as_draws, common_shape
from ...common.limits import check_choice, check_values, check_whole
from ...common.tables import read
from ...reaction.bath.film_properties import PRESSURE, REFERENCE, R
from ..air.doubts import chance, factor
from ..air.surface import through_still_air, transfer
from ..air.workplaces import workplace
from .lye import checked_concentration

GAS = "CO2"
OUTDOORS = 420e-6
"""Carbon dioxide of the open air [mol/mol]: 420 to 430 by now (co2-outdoors)."""
PER_GAS = 2.0
"""Lye that each carbon dioxide takes [mol/mol]."""
DIFFUSIVITY, DIFFUSIVITY_RISE = 1.91e-9, 2350.0
"""Of carbon dioxide in water at 25 °C [m²/s], and how it rises [K] (crc-gas-in-water)."""
HENRY, HENRY_RISE = 3.3e-4, 2400.0
"""Solubility of carbon dioxide in water at 25 °C [mol/m³/Pa], and how it falls [K] (sander2023)."""
RATE_LOG, RATE_RISE = 13.635, 2895.0
"""log10 of the rate of CO2 + OH- [L/mol/s], and how it rises with 1/T [K] (pinsent1956)."""
TEMPERATURES = (273.15, 313.15)
"""Where that rate was measured [K]."""
LONGEST = 60 * 86_400.0
"""So long is looked ahead [s]."""
VESSELS = ("flat dish", "tall beaker", "closed bottle")
"""Where lye may stand, as in resist_vessels.csv."""
VOLUMES = (1e-6, 0.05)
"""How much lye stands there [m³]."""
PLACE = "shut room"
"""Whose air moves over it: indoors, nothing blows."""


class Vessel(NamedTuple):
    """What lye stands in.

    Parameters
    ----------
    area : float
        Open to the air [m²]; 0 where it is closed.
    length : float
        Along the air [m].
    below_rim : float
        How deep below the rim it stands [m]: still air.
    air : float
        Air closed in with it, over its volume [-].
    words : str
        What it is.
    """

    area: float
    length: float
    below_rim: float
    air: float
    words: str


@cache
def vessel(name: str) -> Vessel:
    """Return a vessel of the table by its name.

    Examples
    --------
    >>> print(vessel("flat dish").words)
    a flat dish of 200 cm²
    """
    check_choice("vessel", name, VESSELS)
    (row,) = (row for row in read("resist_vessels") if row["vessel"] == name)
    area, length, below_rim, air = (
        float(row[key]) for key in ("area_m2", "length_m", "below_rim_m", "air_share")
    )
    return Vessel(area, length, below_rim, air, row["words"])


def skin(T: ArrayLike) -> Any:
    """Return what the lye itself holds against the gas, times the root of its strength.

    1/(R T H (k D)^½): the gas dissolves, spreads and reacts at once.

    Parameters
    ----------
    T : float or array
        Temperature of the lye [K], 273.15 to 313.15.

    Returns
    -------
    float or array
        Resistance times root of concentration [s/m (mol/m³)^½].

    Raises
    ------
    InputError
        A temperature outside its limits.

    Examples
    --------
    >>> print(f"{skin(298.15) / 312.8**0.5:.0f} s/m")
    545 s/m
    """
    warmth = check_values("T", T, *TEMPERATURES, "K")
    warmer = 1 / warmth - 1 / REFERENCE
    rate = 1e-3 * 10 ** (RATE_LOG - RATE_RISE / warmth)
    diffusivity = DIFFUSIVITY * np.exp(-DIFFUSIVITY_RISE * warmer)
    henry = HENRY * np.exp(HENRY_RISE * warmer)
    return 1 / (R * warmth * henry * np.sqrt(rate * diffusivity))


def lye_left(
    start: ArrayLike,
    time: ArrayLike,
    area: ArrayLike,
    volume: ArrayLike,
    transfer: ArrayLike,
    carbon_dioxide: ArrayLike = OUTDOORS,
    T: ArrayLike = 298.15,
    uptake: ArrayLike = 1.0,
) -> Any:
    """Return what the air leaves of lye, in closed form.

    dc/dt = −2 (A/V) x p/(R T)/(1/k + b/√c), so that with y = √c

        (y0² − y²)/k + 2 b (y0 − y) = 2 (A/V) x p/(R T) t.

    Parameters
    ----------
    start : float or array
        Lye at first [mol/m³], 0 to 1250.
    time : float or array
        How long it stands [s], 0 to 60 days.
    area : float or array
        Open to the air [m²], 0 to 10.
    volume : float or array
        Of the lye [m³], 1 mL to 50 L.
    transfer : float or array
        How fast the gas comes through the air [m/s], above 0 to 1:
        `pcbchem.bench.air.surface.transfer`.
    carbon_dioxide : float or array
        In the air of the room [mol/mol], 0 to 0.05.
    T : float or array
        Temperature of lye and air [K], 273.15 to 313.15.
    uptake : float or array
        How much faster the lye's own skin takes the gas up than reckoned [-], 0.1 to 10.

    Returns
    -------
    float or array
        Lye left per volume as mixed [mol/m³], 0 once all of it is soda.

    Raises
    ------
    InputError
        A value outside its limits, or lye above 50 g/L.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{lye_left(312.8, 3 * 3600, 0.02, 1.2e-4, 2.2e-3):.0f} mol/m³")
    253 mol/m³
    """
    first = checked_concentration("start", start)
    passed = check_values("time", time, 0.0, LONGEST, "s")
    surface = check_values("area", area, 0.0, 10.0, "m²")
    bath = check_values("volume", volume, *VOLUMES, "m³")
    k = check_values("transfer", transfer, 0.0, 1.0, "m/s", above=True)
    share = check_values("carbon_dioxide", carbon_dioxide, 0.0, 0.05, "mol/mol")
    warmth = check_values("T", T, *TEMPERATURES, "K")
    faster = check_values("uptake", uptake, 0.1, 10.0)
    common_shape(
        start=first, time=passed, area=surface, volume=bath, transfer=k,
        carbon_dioxide=share, T=warmth, uptake=faster,
    )  # fmt: skip
    b = skin(warmth) / faster
    root = np.sqrt(first)
    brought = PER_GAS * surface / bath * share * PRESSURE / (R * warmth) * passed
    # y²/k + 2 b y = what is still to come; nothing is where all has been taken
    to_come = np.maximum(first / k + 2 * b * root - brought, 0.0)
    # of the two ways to write the root of a quadratic the one that loses no figures
    y = to_come / (b + np.sqrt(b * b + to_come / k))
    return y * y


def lye_after(
    start: ArrayLike,
    time: ArrayLike,
    vessel: str = "flat dish",
    volume: float = 120e-6,
    draws: int = 200,
    *,
    T: float = 293.15,
) -> Draws:
    """Draw what the air of a room leaves of lye that nobody uses.

    Parameters
    ----------
    start : float or array
        Lye at first [mol/m³], 0 to 1250; an array needs a last axis of length 1.
    time : float or array
        How long it stands [s], 0 to 60 days; as `start`.
    vessel : str
        "flat dish", "tall beaker" or "closed bottle".
    volume : float
        Of the lye [m³], 1 mL to 50 L.
    draws : int
        How many draws [-], 1 to 400, the same for every vessel and time.
    T : float
        Temperature of lye and room [K], 273.15 to 313.15.

    Returns
    -------
    Draws
        Lye left per volume as mixed [mol/m³], shape (..., draws).

    Raises
    ------
    InputError
        A value outside its limits, another vessel, or lye above 50 g/L.
    ValueError
        Shapes that do not broadcast with the draws.

    Notes
    -----
    Doubts of air_doubts.csv, each with a seed of its own: `film` and `draught` on the side of the
    air, `still air` below a rim, `carbon dioxide` of the room, `lye uptake` of the skin.

    Examples
    --------
    >>> left = lye_after(312.8, 8 * 3600)
    >>> print(left.shape, 0 < float(left.mean()) < 312.8)
    (200,) True
    """
    count = check_whole("draws", draws, 1, MOST_DRAWS)
    first = checked_concentration("start", start)
    passed = check_values("time", time, 0.0, LONGEST, "s")
    bath = check_values("volume", volume, *VOLUMES, "m³")
    warmth = check_values("T", T, *TEMPERATURES, "K")
    stands = _vessel(vessel)
    share = factor("carbon dioxide", count)
    common_shape(start=first, time=passed, draws=share)
    if not stands.area:
        # what is closed in takes the gas of its own air, once
        taken = PER_GAS * stands.air * share * PRESSURE / (R * warmth)
        return as_draws(np.maximum(first - np.where(passed > 0, taken, 0.0), 0.0))
    k = factor("film", count) * transfer(
        workplace(PLACE).speed(count), stands.length, GAS, warmth, warmth
    )
    # a draught reaches below a rim about as far as the vessel is wide
    shallow = max(stands.below_rim - stands.length, 0.0)
    still_air = shallow + (stands.below_rim - shallow) * chance("still air", count)
    k = through_still_air(k, still_air, GAS, warmth)
    uptake = factor("lye uptake", count)
    return as_draws(lye_left(first, passed, stands.area, bath, k, share, warmth, uptake))


def _vessel(name: str) -> Vessel:
    """Return a vessel; what is no text is refused in the same words."""
    return vessel(check_choice("vessel", name, VESSELS))


def carbon_dioxide_taken(start: ArrayLike, left: ArrayLike) -> Any:
    """Return how much carbon dioxide lye has taken up.

    Parameters
    ----------
    start, left : float or array
        Lye at first and now [mol/m³], 0 to 1250.

    Returns
    -------
    float or array
        Carbon dioxide, now carbonate [mol/m³]: half of the lye that is gone.

    Raises
    ------
    InputError
        A value outside its limits, or more left than there was.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{carbon_dioxide_taken(312.5, 162.5):.0f} mol/m³")
    75 mol/m³
    """
    first, now = _start_and_left(start, left)
    return (first - now) / PER_GAS


def vinegar_counts(start: ArrayLike, left: ArrayLike) -> Any:
    """Return what a titration to the end of phenolphthalein's pink counts.

    At its end, near pH 8, all hydroxide is gone and carbonate has become hydrogen carbonate: half
    of the lye that is gone counts still.

    Parameters
    ----------
    start, left : float or array
        Lye at first and now [mol/m³], 0 to 1250.

    Returns
    -------
    float or array
        Acid that it takes [mol/m³].

    Raises
    ------
    InputError
        A value outside its limits, or more left than there was.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    carbonate-titration: textbook chemistry.

    Examples
    --------
    >>> print(f"{vinegar_counts(312.5, 0.0):.0f} of 312")
    156 of 312
    """
    first, now = _start_and_left(start, left)
    return now + (first - now) / 2


def _start_and_left(start: ArrayLike, left: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return lye at first and now [mol/m³], checked."""
    first = checked_concentration("start", start)
    now = checked_concentration("left", left)
    common_shape(start=first, left=now)
    check_values("start - left", first - now, 0.0, np.inf, "mol/m³")
    return first, now


def air_for(carbon_dioxide: ArrayLike, T: ArrayLike = 293.15) -> Any:
    """Return how much open air holds so much carbon dioxide.

    Parameters
    ----------
    carbon_dioxide : float or array
        Amount [mol], 0 to 1000.
    T : float or array
        Temperature of the air [K], 273.15 to 313.15.

    Returns
    -------
    float or array
        Air of 420 ppm, at 1 atm [m³].

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{air_for(9.4e-3):.2f} m³")
    0.54 m³
    """
    amount = check_values("carbon_dioxide", carbon_dioxide, 0.0, 1000.0, "mol")
    warmth = check_values("T", T, *TEMPERATURES, "K")
    common_shape(carbon_dioxide=amount, T=warmth)
    return amount * R * warmth / (OUTDOORS * PRESSURE)
