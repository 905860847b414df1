"""What a board carries into its rinse: copper that nobody sees."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray, common_shape
from ...common.band import between
from ...common.limits import InputError, check_values
from ...reaction.bath.setup import MOST_AREA

FILM = (1e-4, 2e-4)
"""How thick the film is that clings to a board [m] (common practice, no source)."""
FILM_SEED = 77
MOST_FILM = 2e-3
"""No thicker film clings [m]."""
MOST_CONCENTRATION = 30_000.0
"""Nothing is stronger [mol/m³]."""
MOST_DISHES = 20
"""Nobody rinses in more dishes one after the other [-]."""


def films(draws: int) -> Draws:
    """Return how thick the film may be, over draws: the same for every bath and every metal.

    Parameters
    ----------
    draws : int
        How many draws [-], 1 to 400.

    Returns
    -------
    Draws
        Between the ends of `FILM` [m].

    Raises
    ------
    InputError
        Draws that cannot be.

    Examples
    --------
    >>> film = 1000 * films(200)
    >>> print(f"{film.min():.2f} to {film.max():.2f} mm")
    0.10 to 0.20 mm
    """
    return between(*FILM, draws, FILM_SEED)


def carried(film: ArrayLike, area: ArrayLike) -> FloatArray:
    """Return how much bath clings to a board.

    Parameters
    ----------
    film : float or array
        Thickness of what clings [m], 0 to 2 mm; `FILM` is usual.
    area : float or array
        Wetted area, both faces [m²], 0 to 4.

    Returns
    -------
    float or array
        Volume [m³].

    Raises
    ------
    InputError
        A value outside its limits.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print(f"{1e6 * carried(1.5e-4, 0.009):.2f} mL")
    1.35 mL
    """
    film = check_values("film", film, 0, MOST_FILM, "m")
    area = check_values("area", area, 0, MOST_AREA, "m²")
    common_shape(film=film, area=area)
    return film * area


def rinse(
    concentration: ArrayLike,
    film: ArrayLike,
    area: ArrayLike,
    volume: ArrayLike,
    dishes: ArrayLike = 1,
) -> FloatArray:
    """Return what a rinse dish holds after one board, the last of some dishes one after the other.

    c (v/(V + v))ⁿ, with v what clings to the board and V the water of each dish.

    Parameters
    ----------
    concentration : float or array
        Of copper, or of anything else in the bath [mol/m³], 0 to 30 000.
    film : float or array
        Thickness of what clings to the board [m], 0 to 2 mm.
    area : float or array
        Wetted area, both faces [m²], 0 to 4.
    volume : float or array
        Clean water in each dish [m³], above 0 to 1.
    dishes : int or array
        Which dish it is [-], 0 to 20; 0 is no dish, and so the bath itself.

    Returns
    -------
    float or array
        Concentration [mol/m³]. Less of it in more water is as much as before: all of it is waste.

    Raises
    ------
    InputError
        A value outside its limits, or a dish that is no whole number.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> print([f"{63.546 * rinse(86.0, 1.5e-4, 0.009, 2e-4, dish):.2f}" for dish in (1, 2)])
    ['36.64', '0.25']
    """
    start = check_values("concentration", concentration, 0, MOST_CONCENTRATION, "mol/m³")
    clinging = carried(film, area)
    water = check_values("volume", volume, 0, 1, "m³", above=True)
    number = check_values("dishes", dishes, 0, MOST_DISHES)
    if np.any(number % 1):
        part = float(number[number % 1 > 0].flat[0])
        raise InputError(
            "dishes",
            f"it must be a whole number from 0 to {MOST_DISHES}",
            value=part,
            low=0,
            high=MOST_DISHES,
        )
    common_shape(concentration=start, carried=clinging, volume=water, dishes=number)
    last: FloatArray = start * (clinging / (water + clinging)) ** number
    return last
