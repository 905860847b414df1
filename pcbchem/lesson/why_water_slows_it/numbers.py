"""What water does to the baths of the workshop: computed once and kept."""

from __future__ import annotations

from functools import cache

from ...bench.plan.dilution import (
    Dilution,
    cost_without,
    dilution,
    offcuts,
    times_weaker,
    times_without,
)
from ...common.band import Band
from ...common.limits import collecting_warnings
from ..workshop import USUAL, bath

QUESTION = 1.2
"""Parts of water that the predictions are about [-]: both reagents 1.6 times weaker."""
TEST = 2.0
"""Parts of water for the second of two offcuts [-]: enough to tell strength alone from more."""


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
