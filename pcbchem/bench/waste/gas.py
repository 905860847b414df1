"""What room a gas takes: how the gas of a base and an acid compares with the space over them.

It says why such a thing foams over, and is no way to do it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import check_values
from ...common.units import T_HIGH, T_LOW
from ...reaction.bath.film_properties import PRESSURE, R

MOST_AMOUNT = 1e4
"""Most gas that is asked for [mol]."""
FILLED = 0.5
"""Share of the free space that the gas of one portion fills at most [-] (assumed)."""


def gas_volume(amount: ArrayLike, T: ArrayLike = 293.15) -> FloatArray:
    """Return the room that a gas takes at the pressure of the air.

    Parameters
    ----------
    amount : float or array
        Gas [mol], 0 to 10 000.
    T : float or array
        How warm it is [K], 250 to 400.

    Returns
    -------
    float or array
        Volume at 1 atm [m³]: n R T / p.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{1000 * gas_volume(1.0):.2f} L")
    24.06 L
    """
    amount = check_values("amount", amount, 0, MOST_AMOUNT, "mol")
    warmth = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(amount=amount, T=warmth)
    return amount * R * warmth / PRESSURE


def portions(carbon_dioxide: ArrayLike, headspace: ArrayLike, T: ArrayLike = 293.15) -> FloatArray:
    """Return over how many portions a gas has to be spread so that none fills half the free space.

    Parameters
    ----------
    carbon_dioxide : float or array
        Gas in all [mol], 0 to 10 000.
    headspace : float or array
        Free space over the liquid [m³], above 0 to 1000.
    T : float or array
        How warm it is [K], 250 to 400.

    Returns
    -------
    float or array
        The least number [-], whole; 0 without gas. Foam outlives its gas and takes more room: no
        number of portions makes it calm.

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{portions(0.211, 0.85e-3):.0f}")
    12
    """
    space = check_values("headspace", headspace, 0, 1000, "m³", above=True)
    gas = gas_volume(carbon_dioxide, T)
    common_shape(gas=gas, headspace=space)
    # rounding must not make one portion more of what fits exactly
    count: FloatArray = np.ceil(np.round(gas / (FILLED * space), 9))
    return count
