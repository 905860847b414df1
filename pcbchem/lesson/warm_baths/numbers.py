"""How warm a used bath gets in the hour after, deep or shallow: computed once for each bath."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np

from ...bench.hazards import rule_named
from ...bench.plan.outlook import LEFT_STANDING, etched
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import celsius, cm, minute, mm, to_celsius
from ...matter.solution import Solution
from ...reaction.bath import RateParameters, Start, Tray, stand
from ...reaction.bath.film_properties import DECAY_HEAT, Composition
from ...reaction.chemistry.heat import heat_of_etching
from ...reaction.warmth import balance, ceiling
from ..workshop import bath, tide_clock

MILD, WEAK, STRONG = "mild", "weak", "strong"
"""Pairs of bottles: of the first question, of the second, and the one that is only drawn."""
WATER = {MILD: 0.0, WEAK: 0.0, STRONG: 3.0}
"""Parts of water to one of acid and one of peroxide [-]: without it the strong bath boils."""
FLAT, JAR = 10, 60
"""How deep the bath lies in its flat tray, and in the jar of the question [mm]."""
SHALLOWEST, STEP = 6, 2
"""Beginning and step of the slider of depths; it ends at the jar's [mm]."""
DEPTHS = np.arange(SHALLOWEST, JAR + 1, STEP)
"""Every place of that slider [mm]."""
COLDEST, HOTTEST = 20.0, 60.0
"""Ends of the axis of temperatures [°C]."""
TEMPERATURES = celsius(np.arange(COLDEST, HOTTEST + 0.25, 0.5))
"""Where heat made and lost are worked out [K]."""
KITCHEN = {"dish": (12, FLAT), "glass": (5, JAR)}
"""Vessels of the kitchen's trial: width [cm], and how deep the water stands [mm]."""
HOT_WATER, KITCHEN_AIR, KITCHEN_TIME = celsius(50), celsius(20), 20 * minute
"""Its water [K], its air [K], and how long it stands [s]."""


def heat_parameters() -> RateParameters:
    """Return the plausible rates as the planner reads them for heat [units in their table].

    Not knowing how slowly peroxide falls apart must not make a bath look cooler.
    """
    return RateParameters.plausible().for_heat_after()


@dataclasses.dataclass(frozen=True, eq=False)
class Hour:
    """A used bath when its board comes out, and its hour after at every depth.

    Parameters
    ----------
    bottles : str
        The pair of bottles it was mixed from.
    out : Band
        How warm it is when the board comes out [K].
    left : Band
        Peroxide it then holds [mol/m³].
    highest : float
        Its ceiling [K]: the middle of what all its peroxide could warm it to.
    made : array
        How fast its peroxide warms it at `TEMPERATURES` [K/s], the middle of the baths.
    lost : array
        How fast it would cool at `DEPTHS` and `TEMPERATURES` [K/s], the middle of the baths.
    warmest : array
        Warmest in the hour after, at `DEPTHS` and for each plausible bath [K].
    """

    bottles: str
    out: Band
    left: Band
    highest: float
    made: FloatArray
    lost: FloatArray
    warmest: FloatArray

    def peak(self, depth: float) -> Band:
        """Return the warmest of the hour after at a depth [mm], over the plausible baths [K]."""
        return Band.of(self.warmest[place_of(depth)], self.warmest.shape[-1])

    def too_warm(self, depth: float) -> int:
        """Count the plausible baths that exceed the stop at a depth [mm]."""
        return int(np.sum(self.warmest[place_of(depth)] > stop()))

    def made_at(self, temperature: float) -> float:
        """Return how fast it is warmed at a temperature [K], in K/s."""
        return float(np.interp(temperature, TEMPERATURES, self.made))

    def lost_at(self, temperature: float, depth: float) -> float:
        """Return how fast it would cool at a temperature [K] and a depth [mm], in K/s."""
        return float(np.interp(temperature, TEMPERATURES, self.lost[place_of(depth)]))

    def over_at(self, depth: float) -> float:
        """Return the share of the peroxide [-] whose loss makes lost the larger, at a depth [mm].

        As warm as it is when the board comes out; 0 where lost is the larger from the first.
        """
        out = float(self.out.middle)
        return max(0.0, 1 - self.lost_at(out, depth) / self.made_at(out))

    def parts_at(self, depth: float) -> float | None:
        """Return where made gets over lost as it warms [K], at a depth [mm]; None: nowhere.

        Below that point the bath cools back, above it it warms itself. Over its ceiling it never
        gets, and nothing is said of that.
        """
        over = self.made - self.lost[place_of(depth)]
        rises = np.flatnonzero((over[:-1] <= 0) & (over[1:] > 0))
        if rises.size == 0:
            return None
        place = int(rises[-1])
        share = over[place] / (over[place] - over[place + 1])
        point = float(TEMPERATURES[place] + share * (TEMPERATURES[place + 1] - TEMPERATURES[place]))
        return point if point < self.highest else None


def place_of(depth: float) -> int:
    """Return the place of a depth [mm] among `DEPTHS` [-]."""
    return int(np.argmin(np.abs(DEPTHS - depth)))


def stop() -> float:
    """Return where the board is lifted out while it etches [K]: too warm."""
    return rule_named("warm while etching").limit


@cache
def used_bath(bottles: str) -> Start:
    """Return the workshop's bath when its board comes out [mol/m³, K], from a pair of bottles."""
    inputs = bath(bottles, parts=WATER[bottles])
    # a page says its doubts in words
    with collecting_warnings():
        return Start.of(etched(inputs, parameters=heat_parameters()).bath_after)


def open_areas(used: Start) -> FloatArray:
    """Return the open liquid of a bath at every depth [m²], a column: the draws come after it."""
    volume = float(np.mean(used.volume))
    return np.asarray(volume / (DEPTHS * mm))[:, None]


@cache
def hour_after(bottles: str) -> Hour:
    """Return the used bath from a pair of bottles, and its hour after at every depth."""
    used, rates = used_bath(bottles), heat_parameters()
    areas = open_areas(used)
    temperatures = TEMPERATURES[:, None]
    with collecting_warnings():
        standing = stand(used, Tray(open_area=areas), LEFT_STANDING, rates)
        made = balance(used, Tray(), temperatures, rates).made
        lost = balance(used, Tray(open_area=areas[:, None]), temperatures[None], rates).lost
    draws = np.shape(made)[-1]
    return Hour(
        bottles=bottles,
        out=Band.of(np.asarray(used.T), draws),
        left=Band.of(np.asarray(used.H2O2), draws),
        highest=float(np.median(np.asarray(ceiling(used)))),
        made=np.median(np.asarray(made), axis=-1),
        lost=np.median(np.asarray(lost), axis=-1),
        warmest=np.asarray(standing.peak_temperature),
    )


@dataclasses.dataclass(frozen=True)
class ByHand:
    """The ceiling of a bath in numbers as they are printed.

    Parameters
    ----------
    left : float
        Peroxide [mol/L].
    each : float
        Heat that a mole of it sets free [kJ/mol].
    heat : float
        Heat in a litre [kJ].
    warms : float
        Heat that warms a litre by a degree [kJ/K].
    rise, start, end : float
        By how much, from where and to where it gets warm [°C].
    """

    left: float
    each: float
    heat: float
    warms: float
    rise: float
    start: float
    end: float


@cache
def by_hand(bottles: str = MILD) -> ByHand:
    """Reckon the ceiling of the middle bath, each step from printed numbers."""
    hour, used = hour_after(bottles), used_bath(bottles)
    held = Composition(
        np.asarray(used.HCl), np.asarray(used.H2O2), np.asarray(used.CuCl2), np.asarray(used.CuCl)
    )
    left, each = round(float(hour.left.middle) / 1000, 2), round(DECAY_HEAT / 1000, 1)
    # J/m³/K to kJ/L/K
    warms = round(float(np.median(held.heat_capacity)) / 1e6, 2)
    heat = round(left * each)
    start = round(float(to_celsius(hour.out.middle)))
    rise = round(heat / warms)
    return ByHand(left, each, heat, warms, rise, start, start + rise)


def degrees_each(bottles: str = MILD) -> float:
    """Return by how much a mol/L of peroxide warms a bath [K]."""
    return by_hand(bottles).each / by_hand(bottles).warms


def times_the_etching(bottles: str = MILD) -> float:
    """Return how much heat the peroxide left can make, over that of etching the board [-]."""
    used = used_bath(bottles)
    left = float(hour_after(bottles).left.middle) * float(np.mean(used.volume)) * DECAY_HEAT
    return left / float(heat_of_etching(float(tide_clock().copper)))


@cache
def slow_decay(bottles: str = MILD, depth: int = JAR) -> Band:
    """Return the warmest of a bath's hour [K] at a depth [mm] by all rates as they are.

    Those at which peroxide may fall apart far more slowly are among them.
    """
    inputs, rates = bath(bottles, parts=WATER[bottles]), RateParameters.plausible()
    with collecting_warnings():
        used = Start.of(etched(inputs, parameters=rates).bath_after)
        area = float(np.mean(used.volume)) / (depth * mm)
        standing = stand(used, Tray(open_area=area), LEFT_STANDING, rates)
    return standing.band("peak_temperature")


@cache
def kitchen(vessel: str) -> Band:
    """Return where hot water ends in a vessel of the kitchen [K], over the plausible losses."""
    width, depth = KITCHEN[vessel]
    area = (width * cm) ** 2
    water: Any = Solution.of(volume=area * depth * mm, T=HOT_WATER)
    tray = Tray(open_area=area, T_air=KITCHEN_AIR)
    cooled = stand(water, tray, KITCHEN_TIME, RateParameters.plausible())
    return cooled.band("temperature")
