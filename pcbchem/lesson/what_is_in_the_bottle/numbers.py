"""Two mixtures to compare, and one recipe from other bottles: computed once and kept."""

from __future__ import annotations

import dataclasses
from functools import cache

from ...bench.bottle.bottle import Bottle
from ...bench.plan.inputs import Inputs
from ...bench.plan.outlook import etched
from ...bench.plan.planning import Plan, planned
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import L, celsius, percent
from ...matter.solution import Solution, mix
from ...reaction.bath.setup import Tray
from ..workshop import USUAL, tide_clock

ROOM = celsius(20)
"""All is poured at this temperature [K]."""
STRONG, MILD = 31.45, 10.0
"""The two acids of the page [% by weight]."""
WEAKEST, STRONGEST = 3.0, 30.0
"""Peroxide from a shop, and of the strong mixture [% by weight]."""
PEROXIDES = (WEAKEST, 6.0, 12.0, STRONGEST)
"""What bottles of peroxide hold [% by weight]."""
FIRST_PARTS, SECOND_PARTS = (3.0, 1.0, 1.0), (0.0, 1.0, 2.0)
"""Water, acid and peroxide of the two mixtures, by volume [-]."""
DRAWN_ONLY_ACID, DRAWN_ONLY_PEROXIDE = 25.0, 12.0
"""Acid from the first strength on, peroxide above the second is drawn only [% by weight]."""
WHERE = "elsewhere"
"""Whose law: no verdict depends on it."""


@dataclasses.dataclass(frozen=True)
class Mixture:
    """What is poured together, with strengths as the labels say.

    Parameters
    ----------
    parts : tuple of float
        Water, acid and peroxide, by volume [-].
    acid, peroxide : float
        Strengths of the bottles [% by weight].
    """

    parts: tuple[float, float, float]
    acid: float
    peroxide: float

    @property
    def only_drawn(self) -> bool:
        """Whether a bottle is too strong for anything but a drawing."""
        return self.acid >= DRAWN_ONLY_ACID or self.peroxide > DRAWN_ONLY_PEROXIDE


FIRST = Mixture(FIRST_PARTS, STRONG, STRONGEST)
"""Mixture A, which never changes."""


def second(acid: float, peroxide: float) -> Mixture:
    """Return mixture B from two bottles [% by weight]."""
    return Mixture(SECOND_PARTS, acid, peroxide)


def recipe(acid: float, peroxide: float) -> Mixture:
    """Return the words of mixture A mixed from two other bottles [% by weight]."""
    return Mixture(FIRST_PARTS, acid, peroxide)


def bottles(mixture: Mixture) -> tuple[Solution, ...]:
    """Return what is poured, a litre for each part: water where there is any, acid, peroxide."""
    water, acid, peroxide = mixture.parts
    poured = [
        Solution.of(volume=acid * L, T=ROOM, HCl=percent(mixture.acid)),
        Solution.of(volume=peroxide * L, T=ROOM, H2O2=percent(mixture.peroxide)),
    ]
    if water:
        poured.insert(0, Solution.of(volume=water * L, T=ROOM))
    return tuple(poured)


@dataclasses.dataclass(frozen=True)
class Content:
    """What is in a mixture.

    Parameters
    ----------
    shares : dict of float
        By weight of "H2O", "HCl" and "H2O2" [kg/kg].
    acid, peroxide : float
        Concentrations [mol/m³].
    """

    shares: dict[str, float]
    acid: float
    peroxide: float


@cache
def content(mixture: Mixture) -> Content:
    """Return what is in a mixture when all is poured."""
    solution = mix(*bottles(mixture))
    shares = {name: float(solution.mass_fraction(name)) for name in ("H2O", "HCl", "H2O2")}
    return Content(
        shares, float(solution.concentration("HCl")), float(solution.concentration("H2O2"))
    )


@cache
def plan_of(mixture: Mixture) -> Plan:
    """Return the planner's plan of a mixture for the workshop's board, as full as it is there."""
    return planned(_inputs(mixture))


def _inputs(mixture: Mixture) -> Inputs:
    """Return the workshop's board in a rocked tray of a mixture, its bottles in their doubt."""
    acid = Bottle.labelled("HCl", percent(mixture.acid))
    peroxide = Bottle.labelled("H2O2", percent(mixture.peroxide))
    return Inputs(acid, peroxide, mixture.parts, tide_clock(), Tray(), USUAL, WHERE)


@cache
def time_to_clear(mixture: Mixture) -> Band:
    """Return how long the workshop's board takes in a mixture [s]: 200 plausible baths."""
    # a page says its doubts in words: warnings are for those who write Python
    with collecting_warnings():
        return etched(_inputs(mixture)).run.band("time_to_clear")
