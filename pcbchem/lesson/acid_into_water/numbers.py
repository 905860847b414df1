"""What is in a jug on the way: acid into water and water into acid, computed once and kept."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np

from ...bench.hazards import Rule, rule_named
from ...common.arrays import FloatArray
from ...common.units import celsius, percent
from ...matter.heats import hcl_apparent_enthalpy
from ...matter.properties import MOLAR_MASS
from ...matter.solution import Solution, mix
from ...reaction.chemistry.heat import course_of_pour

ROOM = celsius(20)
"""All bottles of the page stand at this temperature [K]."""
T_TABLE = celsius(25)
"""At this temperature heats of dilution are tabulated [K]."""
ASKED, STRONGEST, MILD = 31.45, 37.0, 10.0
"""Acids to choose from [% by weight]; the predictions are about the first."""
SHOP_PEROXIDE = 3.0
"""Peroxide as shops sell it, of which the second prediction is [% by weight]."""
WATER, PEROXIDE = "water", "peroxide"
"""What the acid is poured into, or what is poured into it."""
PARTS = {WATER: 3.0, PEROXIDE: 2.0}
"""Parts of each to one part of acid, by volume [-]."""
STEP = 5
"""How far the first slider goes at once [% poured]."""
TENTH = 10.0
"""How far the second one does [% poured]: a live copy holds each of its pictures."""
QUARTER = 25
"""How much is poured where the page compares the jugs [%]."""
FINER = 10
"""Points of the curve from one place of the slider to the next [-]."""
FUMES: Rule = rule_named("too much acid")
"""The planner's rule on acid that fumes strongly."""


def acid_bottle(strength: float, T: float = ROOM, parts: float = 1.0) -> Solution:
    """Return parts [m³] of acid of some strength [% by weight], at a temperature [K]."""
    return Solution.of(volume=parts, T=T, HCl=percent(strength))


def other_bottle(other: str, T: float = ROOM, parts: float | None = None) -> Solution:
    """Return parts [m³] of `WATER` or of shop `PEROXIDE`, at a temperature [K]."""
    if parts is None:
        parts = PARTS[other]
    peroxide = SHOP_PEROXIDE if other == PEROXIDE else 0.0
    return Solution.of(volume=parts, T=T, H2O2=percent(peroxide))


@dataclasses.dataclass(frozen=True, eq=False)
class Way:
    """What is in a jug while something is poured into it.

    Parameters
    ----------
    strength : array
        Acid in the jug [mol/m³], from the first drop to the last.
    T : array
        Its temperature [K].
    """

    strength: FloatArray
    T: FloatArray

    @classmethod
    def of(cls, into: Solution, poured: Solution) -> Way:
        """Return the way of a jug, at each place of the slider and `FINER` between [mol/m³, K]."""
        count = 100 // STEP * FINER + 1
        jug = course_of_pour(into, poured, np.linspace(0, 1, count))
        return cls(np.asarray(jug.concentration("HCl")), np.asarray(jug.T))

    def at(self, poured: float) -> tuple[float, float]:
        """Return strength [mol/m³] and temperature [K] with so much poured [%]."""
        place = round(poured / STEP) * FINER
        return float(self.strength[place]), float(self.T[place])


@dataclasses.dataclass(frozen=True, eq=False)
class Hill:
    """One hill, walked from two ends.

    Parameters
    ----------
    acid : float
        Strength of the acid [% by weight].
    other : str
        `WATER` or `PEROXIDE`.
    up, over : Way
        Acid poured into the other, and the other poured into acid.
    """

    acid: float
    other: str
    up: Way
    over: Way

    @property
    def end(self) -> tuple[float, float]:
        """Strength [mol/m³] and temperature [K] at which both ways end."""
        return self.up.at(100)

    @property
    def top(self) -> tuple[float, float]:
        """Strength [mol/m³] and temperature [K] of the warmest mixture of the two."""
        place = int(np.argmax(self.over.T))
        return float(self.over.strength[place]), float(self.over.T[place])

    @property
    def is_low(self) -> bool:
        """Whether it warms by less than a degree anywhere."""
        return bool(self.top[1] < ROOM + 1)

    def stronger(self, poured: float) -> float:
        """Return how many times stronger the jug of acid is with so much poured [%, above 0]."""
        return self.over.at(poured)[0] / self.up.at(poured)[0]


@cache
def hill(acid: float, other: str = WATER) -> Hill:
    """Return the hill of an acid [% by weight] and of water or shop peroxide, from 20 °C."""
    bottles = acid_bottle(acid), other_bottle(other)
    return Hill(acid, other, Way.of(bottles[1], bottles[0]), Way.of(*bottles))


@dataclasses.dataclass(frozen=True)
class ByHand:
    """What a rise of temperature is worked out from, for a litre of a mixture.

    Parameters
    ----------
    bottle, moles : float
        Acid in a litre of the bottle and of the mixture [mol/L].
    heat : float
        Set free for each mole of it when water came to it, at 25 °C [kJ/mol].
    per_degree : float
        Takes a litre of the mixture for 1 °C [kJ/K].
    rise : float
        What the package says [K].
    """

    bottle: float
    moles: float
    heat: float
    per_degree: float
    rise: float


def by_hand(acid: float, parts: float, T: float = T_TABLE) -> ByHand:
    """Work out acid [% by weight] with parts of water [-], both at T [K], for a litre of it."""
    bottle, water = acid_bottle(acid, T), other_bottle(WATER, T, parts)
    mixture = mix(bottle, water)
    heat = hcl_apparent_enthalpy(molality(bottle)) - hcl_apparent_enthalpy(molality(mixture))
    return ByHand(
        float(bottle.concentration("HCl")) / 1000,
        float(mixture.concentration("HCl")) / 1000,
        float(heat) / 1000,
        float(mixture.density * mixture.heat_capacity) / 1e6,
        float(mixture.T - T),
    )


def molality(solution: Solution) -> Any:
    """Return acid per mass of everything else [mol/kg]."""
    fraction = solution.mass_fraction("HCl")
    return fraction / MOLAR_MASS["HCl"] / (1 - fraction)


def half_and_half(acid: float) -> float:
    """Return how much one part of acid [% by weight] and one of water warm [K], from 20 °C."""
    mixture = mix(acid_bottle(acid), other_bottle(WATER, parts=1.0))
    return float(mixture.T - ROOM)
