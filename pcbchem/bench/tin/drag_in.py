"""What a board that was not rinsed does to a tin bath: its peroxide kills tin, one for one.

H2O2 + Sn(II) + 2 H+ -> Sn(IV) + 2 H2O: tin(IV) gives no coating. It is the most: some of the
peroxide takes thiourea instead, which the bath needs as well. Chloride and copper come with it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import FloatArray, common_shape
from ...common.limits import InputError, check_values
from ..waste.rinsing import MOST_CONCENTRATION, carried, rinse

PER_PEROXIDE = 1.0
"""Tin(II) that one peroxide takes at the most [mol/mol]: tin gives two electrons, peroxide takes
two."""
DISH = 200e-6
"""Water in a rinse dish [m³], unless said otherwise."""
MOST_AMOUNT = 1000.0
"""Most of tin that can be meant [mol]."""


def tin_killed(
    peroxide: ArrayLike,
    film: ArrayLike,
    area: ArrayLike,
    dishes: ArrayLike = 0,
    water: ArrayLike = DISH,
) -> Any:
    """Return how much tin(II) the peroxide on one board takes out of a tin bath, at the most.

    Parameters
    ----------
    peroxide : float or array
        In the etching bath that the board comes from [mol/m³], 0 to 30 000: what is left in it,
        `pcbchem.bench.waste.rest_of(plan).H2O2`, and not what it began with.
    film : float or array
        Thickness of what clings to the board [m], 0 to 2 mm; `pcbchem.bench.waste.films` draws it.
    area : float or array
        Wetted area, both faces [m²], 0 to 4.
    dishes : int or array
        Rinse dishes one after the other [-], 0 (not rinsed) to 20, each for this board alone.
    water : float or array
        Clean water in each dish [m³], above 0 to 1.

    Returns
    -------
    float or array
        Tin(II) [mol].

    Raises
    ------
    InputError
        A value outside its limits, or dishes that are no whole number.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    One peroxide kills one tin(II): stoichiometry, and the most. A dish serves one board here; one
    that has served several rinses less well.

    Examples
    --------
    >>> print([f"{1000 * tin_killed(1573.0, 1.5e-4, 0.009, dishes):.3f}" for dishes in (0, 1, 2)])
    ['2.124', '0.014', '0.000']
    """
    start = check_values("peroxide", peroxide, 0.0, MOST_CONCENTRATION, "mol/m³")
    clean = check_values("water", water, 0.0, 1.0, "m³", above=True)
    common_shape(peroxide=start, film=film, area=area, dishes=dishes, water=clean)
    # with no dish it is the bath itself that clings
    clinging = rinse(start, film, area, clean, dishes)
    return PER_PEROXIDE * clinging * carried(film, area)


def boards_until_spent(tin: ArrayLike, killed: ArrayLike, used: ArrayLike = 0.0) -> FloatArray:
    """Return after how many boards the tin(II) of a bath is gone, if nothing else took any.

    Parameters
    ----------
    tin : float or array
        Tin(II) in the bath [mol], 0 to 1000.
    killed : float or array
        What each board kills [mol], `tin_killed`, 0 to 1000.
    used : float or array
        What each board takes as its coating [mol], `tin_amount`, 0 to 1000.

    Returns
    -------
    float or array
        Boards [-], not rounded: an upper bound, for air, chloride and copper spoil a bath, too, and
        only part of its tin is usable.

    Raises
    ------
    InputError
        A value outside its limits, or boards that take nothing: of them there is no count.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{boards_until_spent(8e-3, 2.1e-3):.1f}")
    3.8
    """
    amount = check_values("tin", tin, 0.0, MOST_AMOUNT, "mol")
    dead = check_values("killed", killed, 0.0, MOST_AMOUNT, "mol")
    coating = check_values("used", used, 0.0, MOST_AMOUNT, "mol")
    common_shape(tin=amount, killed=dead, used=coating)
    taken = np.asanyarray(dead + coating)
    if np.any(taken == 0):
        raise InputError(
            "killed",
            "a board takes some tin, killed or used, above 0: no bath lasts for ever",
            value=0.0,
            low=0.0,
            high=MOST_AMOUNT,
            unit="mol",
        )
    boards: FloatArray = amount / taken
    return boards
