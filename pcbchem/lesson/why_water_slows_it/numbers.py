"""What water does to the workshop's mild bath: computed once and kept."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

from ...bench.plan.dilution import Dilution, dilution, over, ratio
from ...bench.plan.outlook import etched
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.plausible import FACTS, WEAK_LAYER, Fact
from ..workshop import USUAL, bath

QUESTION = 2.0
"""Parts of water that the predictions are about [-]: both reagents are half as strong."""
BOTTLES = "mild"
"""The pair of bottles of this page."""
STILL, SHAKEN = "still", "shaken"
"""How the tray moves: at first, and in the second prediction."""
TAKEN_AWAY: dict[str, tuple[str, ...]] = {
    "bubbles": ("gas stirring",),
    "warmth": ("surface heating", "bath heating", "heat of mixing"),
    "running down": ("depletion",),
}
"""What is taken away in each row of the third picture, by the row's name."""


# The warnings collected below are for those who write Python: a page says its doubts in words.


@cache
def course(movement: str) -> Dilution:
    """Return what water does to the mild bath in a tray that moves so."""
    with collecting_warnings():
        return dilution(bath(BOTTLES, USUAL, agitation=movement))


@cache
def cost(without: str = "") -> Band:
    """Return how many times as long the question's water makes it in the still tray [-].

    Parameters
    ----------
    without : str
        What is taken away, one of `TAKEN_AWAY`; "": nothing.
    """
    effects = TAKEN_AWAY[without] if without else ()
    with collecting_warnings():
        return ratio(bath(BOTTLES, agitation=STILL), QUESTION, effects)


@cache
def cost_with_gas(factor: float) -> Band:
    """Return the same where every plausible bath makes so many times the gas at the copper [-]."""
    plausible = RateParameters.plausible()
    changed = dataclasses.replace(plausible, gas_share=plausible.gas_share * factor)
    undiluted, diluted = (_times(parts, changed) for parts in (0.0, QUESTION))
    return Band.of(over(diluted, undiluted), bath(BOTTLES).draws)


def _times(parts: float, parameters: RateParameters) -> Any:
    """Return the time to clear of every plausible bath in the still tray [s]."""
    with collecting_warnings():
        inputs = bath(BOTTLES, parts=parts, agitation=STILL)
        return etched(inputs, parameters=parameters).run.time_to_clear


@dataclasses.dataclass(frozen=True)
class Layers:
    """The two layers of copper that were measured, the weaker bath after the stronger.

    Parameters
    ----------
    peroxide, acid : float
        How many times less of each the second bath held [-].
    fast, slow : tuple of float
        Rates seen in the first and in the second, lowest and highest [µm/min].
    """

    peroxide: float
    acid: float
    fast: tuple[float, float]
    slow: tuple[float, float]

    @property
    def multiplied(self) -> float:
        """Both factors multiplied [-]: what a product of strengths would give."""
        return self.peroxide * self.acid

    @property
    def slower(self) -> float:
        """How many times slower the copper went [-], by the middles of what was seen."""
        return sum(self.fast) / sum(self.slow)


def layers() -> Layers:
    """Return what the published notes say of the two layers."""
    strong: Fact = next(fact for fact in FACTS if fact.name == "strong layer")
    return Layers(
        strong.H2O2 / WEAK_LAYER.H2O2, strong.HCl / WEAK_LAYER.HCl, strong.seen, WEAK_LAYER.seen
    )
