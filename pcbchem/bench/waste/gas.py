"""What room a gas takes: how the gas of a base and an acid compares with the space over them.

It says why such a thing foams over, and is no way to do it.
"""

from __future__ import annotations

from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import check_values
from ...common.units import T_HIGH, T_LOW
from ...reaction.bath.film_properties import PRESSURE, R

MOST_AMOUNT = 1e4
"""Most gas that is asked for [mol]."""


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

    The free space over a liquid, and how many times over a gas fills it:

    >>> print(f"{gas_volume(1.0) / 1e-3:.0f} times a litre")
    24 times a litre
    """
    amount = check_values("amount", amount, 0, MOST_AMOUNT, "mol")
    warmth = check_values("T", T, T_LOW, T_HIGH, "K")
    common_shape(amount=amount, T=warmth)
    return amount * R * warmth / PRESSURE
