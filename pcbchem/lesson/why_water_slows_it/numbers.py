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
"""Parts of water in the second of two offcuts' baths [-]: so much that the ratio tells strength alone from more."""


@cache
def course(bottles: str, room: float = USUAL) -> Dilution:
    """What water does to a bath of `PAIRS`, over `WATER`: computed once and kept [bath over copper in m³/m²]."""
    with collecting_warnings():
        return dilution(bath(bottles, room))


@cache
def without(bottles: str, parts: float) -> dict[str, Band]:
    """Times to clear [s] with everything on and without one effect after the other, for a bath with water [parts]."""
    with collecting_warnings():
        return times_without(bath(bottles, USUAL, parts))


@cache
def cost(bottles: str, water: float) -> dict[str, Band]:
    """What so many parts of water cost [-], with everything on and without one effect after the other."""
    with collecting_warnings():
        return cost_without(bath(bottles), water)


@cache
def two_offcuts() -> tuple[float, Band]:
    """How many times weaker the second little bath is [-], and the ratio of times to expect, with its band [-]."""
    mild = bath("mild")
    times = times_weaker(mild, TEST)
    with collecting_warnings():
        return times, offcuts(mild, times)
