"""How far off may be what nobody measured: draws, a seed for each doubt, the same for every place.

Because every source and every workplace takes the same draws, a ratio of two of them may be taken
draw by draw.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws
from ...common.band import between
from ...common.limits import check_choice
from ...common.tables import read


@cache
def _doubts() -> dict[str, tuple[float, float, int]]:
    """Return the ends [unit in the table] and the seed [-] of each doubt."""
    return {
        row["doubt"]: (float(row["low"]), float(row["high"]), int(row["seed"]))
        for row in read("air_doubts")
    }


def _doubt(name: str) -> tuple[float, float, int]:
    doubts = _doubts()
    return doubts[check_choice("name", name, tuple(doubts))]


def chance(name: str, draws: int) -> Draws:
    """Return where between its two ends each draw of a doubt lies.

    Parameters
    ----------
    name : str
        A doubt of air_doubts.csv: "draught", "air changes", "vapour" and so on.
    draws : int
        How many draws [-], 1 to 400.

    Returns
    -------
    Draws
        0 to 1 [-]; two doubts know nothing of each other.

    Raises
    ------
    InputError
        Another name, or draws that cannot be.

    Examples
    --------
    >>> print(chance("draught", 200).shape)
    (200,)
    """
    return between(0.0, 1.0, draws, _doubt(name)[2])


def spread(low: ArrayLike, high: ArrayLike, chance: ArrayLike) -> Any:
    """Return values between two ends, as likely in each doubling.

    Parameters
    ----------
    low, high : float or array
        Ends above 0 [any unit].
    chance : float or array
        Where between them, 0 to 1 [-].

    Returns
    -------
    float or array
        low (high/low)^chance [unit of the ends].

    Examples
    --------
    >>> print(spread(0.1, 10.0, 0.5))
    1.0
    """
    ratio = np.asanyarray(high, dtype=float) / low
    return low * ratio ** np.asanyarray(chance, dtype=float)


def factor(name: str, draws: int) -> Any:
    """Return draws of a doubt that is a factor, as likely in each doubling.

    Parameters
    ----------
    name : str
        One whose ends lie above 0: "film", "mixing", "spill depth" and so on.
    draws : int
        How many draws [-], 1 to 400.

    Returns
    -------
    Draws
        Between the ends of its row [unit in the table].

    Raises
    ------
    InputError
        Another name, or draws that cannot be.

    Examples
    --------
    >>> film = factor("film", 200)
    >>> print(f"{film.min():.1f} to {film.max():.1f}")
    0.3 to 1.5
    """
    low, high, _ = _doubt(name)
    return spread(low, high, chance(name, draws))
