"""What nobody has measured of the air over a bath: chlorine and mist, as bounds and in words.

No rate of chlorine stands here: it is published for acid with peroxide and no copper only, and
copper may quicken it. What stands here is the most there can be, and which way it goes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.limits import check_values
from ...common.tables import cited, read
from ...reaction.bath.film_properties import REFERENCE, R
from ...reaction.chemistry.potentials import FARADAY, electrons, potential

MIST = (1e-3, 1e-1)
"""Bath that a volume of gas throws as droplets [kg/m³]: 1 to 100 mg a litre (assumed)."""
MOST_AMOUNT = 1e6
"""Most of acid or peroxide [mol]."""
VOLUMES = (1e-9, 1e3)
"""Of gas that goes through a bath [m³]."""


@dataclass(frozen=True)
class Unknown:
    """Something in the air that no number here counts.

    Parameters
    ----------
    topic : str
        "chlorine", "mist", "opening", "spill of peroxide", "fog" or "your head".
    words : str
        What is known of it.
    source : str
        Where from.
    as_of : str
        When that was written.
    """

    topic: str
    words: str
    source: str
    as_of: str


def unknowns() -> tuple[Unknown, ...]:
    """List what no number of this topic counts: print it beside every number.

    Examples
    --------
    >>> print(sorted({unknown.topic for unknown in unknowns()}))
    ['chlorine', 'fog', 'mist', 'opening', 'spill of peroxide', 'your head']
    """
    return tuple(
        Unknown(row["topic"], row["words"], cited(row), row["as_of"])
        for row in read("air_unknowns")
    )


def chlorine_ceiling(HCl: ArrayLike, H2O2: ArrayLike) -> Any:
    """Return the most chlorine that acid and peroxide can make, 2 HCl + H2O2 → Cl2 + 2 H2O.

    No bath is known to make as much; how much it does make is not known.

    Parameters
    ----------
    HCl, H2O2 : float or array
        Amounts in the bath [mol], 0 to a million.

    Returns
    -------
    float or array
        Chlorine [mol].

    Raises
    ------
    InputError
        An amount outside its limits.

    Examples
    --------
    >>> print(f"{chlorine_ceiling(HCl=0.2155, H2O2=0.2757):.3f}")
    0.108
    """
    acid = check_values("HCl", HCl, 0.0, MOST_AMOUNT, "mol")
    peroxide = check_values("H2O2", H2O2, 0.0, MOST_AMOUNT, "mol")
    return np.minimum(acid / 2, peroxide)


def chlorine_equilibrium() -> float:
    """Return log10 K of 2 H+ + 2 Cl- + H2O2 = Cl2 + 2 H2O at 25 °C [-]: nothing forbids it.

    Examples
    --------
    >>> print(f"{chlorine_equilibrium():.1f}")
    13.7
    """
    volts = potential("peroxide") - potential("chlorine")
    return float(electrons("chlorine") * FARADAY * volts / (R * REFERENCE * np.log(10)))


def mist(gas: ArrayLike) -> tuple[Any, Any]:
    """Return how much bath a volume of gas bubbles may throw: two ends, nobody has measured it.

    Parameters
    ----------
    gas : float or array
        Oxygen from the bath, or air pumped through it [m³], 1e-9 to 1000.

    Returns
    -------
    tuple of float or array
        Least and most bath in droplets [kg], 1 and 100 mg a litre of gas (assumed).

    Raises
    ------
    InputError
        A volume outside its limits.

    Examples
    --------
    >>> low, high = mist(2e-3)
    >>> print(f"{1e6 * low:.0f} to {1e6 * high:.0f} mg")
    2 to 200 mg
    """
    gas = check_values("gas", gas, *VOLUMES, "m³")
    return MIST[0] * gas, MIST[1] * gas
