"""How a bath is used again: what its copper tends to, how it grows, and what the air alone does.

Each copper takes two acid and one peroxide, and both come with water: so a bath that is kept alive
grows, and its copper tends to what the bottles can carry. A reviving pour is a bath like any other:
plan it, with `used_bath`, verdict and all.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import check_values
from ...common.units import T_HIGH, T_LOW
from ...reaction.bath.film_properties import MOST, PRESSURE, REFERENCE
from ...reaction.bath.setup import MOST_AREA
from ...reaction.chemistry.stoichiometry import MOST_COPPER, needed

WEAKEST = 1.0
"""No bottle is weaker [mol/m³]."""
TRANSFER = (1e-5, 4e-5)
"""How fast oxygen gets into a still or rocked bath [m/s] (assumed)."""
OXYGEN_IN_WATER, OXYGEN_TREND = 1.3e-5, 1500.0
"""Oxygen that water takes up at 25 °C [mol/(m³ Pa)], and its trend with temperature [K] (Sander's
compilation); a salt bath takes up less."""
OXYGEN_SHARE = 0.2095
"""Share of oxygen in the air [-]."""
CUPROUS_PER_OXYGEN = 4.0
"""Cu(I) that one oxygen turns to Cu(II) [mol/mol]: 4 Cu(I) + O2 + 4 H+ -> 4 Cu(II) + 2 H2O."""


def copper_in_the_end(acid: ArrayLike, peroxide: ArrayLike | None = None) -> FloatArray:
    """Return what the copper of a bath tends to when it is fed on and on.

    c = 1/(2/c_acid + 1/c_peroxide): nothing wasted, nothing carried out, no water lost.

    Parameters
    ----------
    acid : float or array
        Acid in its bottle [mol/m³], 1 to 20 000.
    peroxide : float or array, optional
        Peroxide in its bottle [mol/m³], 1 to 30 000; None: the air does its work.

    Returns
    -------
    float or array
        Copper [mol/m³].

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{63.546e-3 * copper_in_the_end(2874.0, 3680.0):.0f} g/L")
    66 g/L
    """
    return 1 / _room_for_each(acid, peroxide)


def bath_made(copper: ArrayLike, acid: ArrayLike, peroxide: ArrayLike | None = None) -> FloatArray:
    """Return by how much a bath grows when it is fed for some copper.

    Parameters
    ----------
    copper : float or array
        Copper that was dissolved [mol], 0 to 1e9.
    acid : float or array
        Acid in its bottle [mol/m³], 1 to 20 000.
    peroxide : float or array, optional
        Peroxide in its bottle [mol/m³], 1 to 30 000; None: the air does its work.

    Returns
    -------
    float or array
        Volume of both reagents together [m³], the least of it.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{1e6 * bath_made(0.013, 2874.0, 3680.0):.1f} mL")
    12.6 mL
    """
    copper = check_values("copper", copper, 0, MOST_COPPER, "mol")
    room = _room_for_each(acid, peroxide)
    common_shape(copper=copper, room=room)
    return copper * room


def air_time(
    cuprous: ArrayLike, area: ArrayLike, T: ArrayLike = 293.15
) -> tuple[FloatArray, FloatArray]:
    """Return how long the air takes, at the least, to make Cu(I) into Cu(II) in an open tray.

    At most 4 k_L A c*(O2) of it a second, with c* the oxygen that water holds under air. A board's
    copper that went by Cu(II) is twice as much Cu(I). An air pump is quicker and makes mist.

    Parameters
    ----------
    cuprous : float or array
        Cu(I) [mol], 0 to 1000.
    area : float or array
        Liquid open to the air [m²], above 0 to 4.
    T : float or array
        How warm it is [K], 250 to 400.

    Returns
    -------
    tuple of float or array
        The shortest and the longest time [s], by both ends of `TRANSFER`.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> quick, slow = air_time(0.026, 0.015)
    >>> print(f"{quick / 3600:.0f} to {slow / 3600:.0f} h")
    10 to 40 h
    """
    cuprous = check_values("cuprous", cuprous, 0, 1000, "mol")
    area = check_values("area", area, 0, MOST_AREA, "m²", above=True)
    warmth = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(cuprous=cuprous, area=area, T=warmth)
    trend = np.exp(OXYGEN_TREND * (1 / warmth - 1 / REFERENCE))
    saturated = OXYGEN_IN_WATER * trend * OXYGEN_SHARE * PRESSURE
    slow, quick = (CUPROUS_PER_OXYGEN * k * area * saturated for k in TRANSFER)
    return cuprous / quick, cuprous / slow


def _room_for_each(acid: ArrayLike, peroxide: ArrayLike | None) -> FloatArray:
    """Return the volume of both reagents that a mole of copper takes [m³/mol]."""
    acid = check_values("acid", acid, WEAKEST, MOST["HCl"], "mol/m³")
    each = needed(1.0)
    if peroxide is None:
        return each["HCl"] / acid
    strength = check_values("peroxide", peroxide, WEAKEST, MOST["H2O2"], "mol/m³")
    common_shape(acid=acid, peroxide=strength)
    return each["HCl"] / acid + each["H2O2"] / strength
