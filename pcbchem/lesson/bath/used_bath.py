"""What is left of the workshop's baths when the board comes out, and what wets the board?"""

from __future__ import annotations

from functools import cache

from ...bench.plan.outlook import etched
from ...bench.waste import Rest
from ...common.limits import collecting_warnings
from ...common.units import mL, mm
from ...reaction.bath.parameters import RateParameters
from ..workshop import bath

FACES = 2 * 75 * mm * 60 * mm
"""Both faces of the workshop's board: all of it is wet [m²]."""
RINSE_WATER = 200 * mL
"""Water of a rinse dish [m³]."""


@cache
def used_bath(bottles: str, parts: float) -> Rest:
    """Return the used baths of a pair of bottles, over the draws as they are.

    Parameters
    ----------
    bottles : str
        One of `pcbchem.lesson.workshop.PAIRS`.
    parts : float
        Parts of water to one of acid and one of peroxide [-].

    Returns
    -------
    Rest
        What is in the tray [mol/m³, over the draws] when the board comes out.

    Raises
    ------
    InputError
        Another pair of bottles, or parts outside their limits.

    Examples
    --------
    >>> print(used_bath("mild", 0.0).H2O2.shape)
    (200,)
    """
    inputs = bath(bottles, parts=parts)
    parameters = RateParameters.plausible(inputs.draws)
    # a page says its doubts in words
    with collecting_warnings():
        etching = etched(inputs, parameters=parameters)
    return Rest(etching.bath_after, etching.tray)
