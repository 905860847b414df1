"""What water does to the baths of the workshop: computed once and kept."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

from ...bench.plan.dilution import (
    Dilution,
    cost_without,
    dilution,
    offcuts,
    over,
    times_weaker,
    times_without,
)
from ...bench.plan.inputs import Inputs
from ...bench.plan.outlook import etched
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import Board
from ..workshop import USUAL, bath

QUESTION = 1.2
"""Parts of water that the predictions are about [-]: both reagents 1.6 times weaker."""
TEST = 2.0
"""Parts of water for the second of two offcuts [-]: enough to tell strength alone from more."""
SMALL, LARGE = 2e-4, 18e-4
"""Bare copper of two offcuts [m²]: the large one is three times as long, and as wide."""


# The warnings collected below are for those who write Python: a page says its doubts in words.


@cache
def course(bottles: str, room: float = USUAL) -> Dilution:
    """Return what water does to a bath of `PAIRS` with so much bath over the copper [m³/m²]."""
    with collecting_warnings():
        return dilution(bath(bottles, room))


@cache
def without(bottles: str, parts: float) -> dict[str, Band]:
    """Return times to clear [s] with water [parts], all on and without each effect."""
    with collecting_warnings():
        return times_without(bath(bottles, USUAL, parts))


@cache
def cost(bottles: str, water: float) -> dict[str, Band]:
    """Return what water [parts] costs [-], all on and without each effect."""
    with collecting_warnings():
        return cost_without(bath(bottles), water)


@cache
def two_offcuts() -> tuple[float, Band]:
    """Return how many times weaker the second offcut's bath is, and the ratio to expect [-]."""
    mild = bath("mild")
    times = times_weaker(mild, TEST)
    with collecting_warnings():
        return times, offcuts(mild, times)


@cache
def gas_shares(factor: float) -> tuple[float, float]:
    """Return how far the mild bath rests on the share of peroxide that turns to gas.

    Parameters
    ----------
    factor : float
        Times the gas share of every plausible bath [-].

    Returns
    -------
    time : float
        Times as long the middle bath then takes [-].
    cost : float
        Times as long it then takes with the question's water as without [-].
    """
    plausible = RateParameters.plausible()
    changed = dataclasses.replace(plausible, gas_share=plausible.gas_share * factor)
    mild = bath("mild")
    usual = times_to_clear(mild, plausible)
    undiluted = times_to_clear(mild, changed)
    diluted = times_to_clear(bath("mild", parts=QUESTION), changed)
    time = float(Band.of(undiluted, mild.draws).middle) / float(Band.of(usual, mild.draws).middle)
    return time, float(Band.of(over(diluted, undiluted), mild.draws).middle)


@cache
def two_sizes(exponent: float) -> Band:
    """Return how long an offcut of `LARGE` takes over one of `SMALL`, both in weak baths [-].

    Weak peroxide hardly bubbles: there the film is what the rocking leaves of it.

    Parameters
    ----------
    exponent : float
        Of the film's size law, the same in every plausible bath [-].
    """
    weak = bath("weak")
    parameters = dataclasses.replace(RateParameters.plausible(), size_exponent=exponent)
    times = []
    for area in (SMALL, LARGE):
        offcut = weak.replace(board=Board(area=area, foil=weak.board.foil))
        times.append(times_to_clear(offcut, parameters))
    small, large = times
    return Band.of(over(large, small), weak.draws)


def times_to_clear(inputs: Inputs, parameters: RateParameters) -> Any:
    """Return the time to clear of every plausible bath [s]."""
    with collecting_warnings():
        return etched(inputs, parameters=parameters).run.time_to_clear
