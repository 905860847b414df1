"""What is left of 200 plausible baths: peroxide over weeks, copper over pH; computed once."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np

from ...bench.plan.inputs import Inputs
from ...bench.plan.outlook import Etched, etched
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import gram, hour, mL, mol_per_L
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.parameters import RateParameters
from ..workshop import bath

MILD, WEAK, STRONG = "mild", "weak", "strong"
"""Pairs of bottles: of the questions, of a shop's peroxide, and the one that is only drawn."""
WATER = {MILD: 0.0, WEAK: 0.0, STRONG: 3.0}
"""Parts of water to one of acid and one of peroxide [-]."""
DAY, WEEK = 24 * hour, 7 * 24 * hour
"""A day and a week [s]."""
TIMES = {
    "1h": hour,
    "12h": 12 * hour,
    "1d": DAY,
    "3d": 3 * DAY,
    "1w": WEEK,
    "4w": 4 * WEEK,
    "13w": 13 * WEEK,
}
"""Times to choose from, by key [s]."""
ASKED = "12h"
"""That at which the panel starts: next morning."""
SHORTEST, LONGEST = 0.5 * hour, 39 * WEEK
"""Ends of the axis of time [s]."""
POINTS = 60
"""Points of a line [-]."""
STRIP = gram
"""Below so much a strip in the bath itself reads nothing [kg/m³]: 1 mg/L (our limit)."""
EVERY = 10
"""One bath in so many has its line drawn [-]."""
LITTLE, MUCH = "little", "much"
"""How much soda is left over: a little, or a good deal."""
SODA = {LITTLE: 0.1 * mol_per_L, MUCH: 0.5 * mol_per_L}
"""Carbonate that it leaves in the water [mol/m³]."""
PH_LOW, PH_HIGH, PH_STEP, NEUTRAL = 2.0, 10.0, 0.5, 8.0
"""Ends of the slider of pH, its step, and its start: where soda stops fizzing [-]."""
PH_AXIS = np.linspace(0, PH_HIGH, 101)
"""Where the curves are worked out [-]."""
DEATHS = 0.024 * gram
"""Copper that kills half of the water fleas in two days [kg/m³]: 0.024 mg/L."""
DISH = 200 * mL
"""Water of a rinse dish [m³]."""
FILLED = 0.3
"""How full the bottle of the reckoning is [-]."""
KG_H2O2, KG_COPPER = MOLAR_MASS["H2O2"], MOLAR_MASS["Cu"]
"""Mass of a mole of each [kg/mol]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Rest:
    """What becomes of the peroxide in the plausible baths of one pair of bottles.

    Parameters
    ----------
    bottles : str
        Which pair.
    start : Band
        Peroxide when the board comes out [kg/m³].
    gone : Band
        From when on a strip reads nothing [s].
    times : array
        Points of the lines [s].
    lines : array
        Peroxide at each of them, of every tenth bath [kg/m³], shape (points, lines).
    left : dict of array
        Peroxide at the times to choose from, in each bath [kg/m³].
    """

    bottles: str
    start: Band
    gone: Band
    times: FloatArray
    lines: FloatArray
    left: dict[str, FloatArray]

    @property
    def total(self) -> int:
        """How many baths there are [-]."""
        return int(self.gone.values.size)

    def nothing(self, time: str) -> int:
        """Count the baths in which a strip reads nothing at one of the times [-]."""
        return int(np.sum(self.left[time] < STRIP))

    def still(self, time: str) -> int:
        """Count those that still hold peroxide at one of the times [-]."""
        return self.total - self.nothing(time)

    @property
    def drawn(self) -> FloatArray:
        """Which baths have their line drawn [-]: every tenth, the quickest first."""
        return np.argsort(self.gone.values)[EVERY // 2 - 1 :: EVERY]


def rest_inputs(bottles: str) -> Inputs:
    """Return the workshop's bath from one pair of bottles, the strong ones thinned."""
    return bath(bottles, parts=WATER[bottles])


@cache
def used(bottles: str = MILD) -> Etched:
    """Return the used baths, over the draws as they are: how fast peroxide decays is not known."""
    inputs = rest_inputs(bottles)
    # a page says its doubts in words
    with collecting_warnings():
        return etched(inputs, parameters=RateParameters.plausible(inputs.draws))


@cache
def rest(bottles: str = MILD) -> Rest:
    """Return what becomes of the peroxide in the used baths of one pair of bottles."""
    grid = np.geomspace(SHORTEST, LONGEST, POINTS)
    moments = np.unique([*grid, *TIMES.values()])
    left = KG_H2O2 * peroxide_after_standin(used(bottles), moments)
    start = KG_H2O2 * np.asarray(used(bottles).bath_after.concentration("H2O2"))
    gone = gone_standin(used(bottles))
    places = {key: int(np.searchsorted(moments, time)) for key, time in TIMES.items()}
    found = Rest(
        bottles,
        Band.of(start, start.size),
        Band.of(gone, gone.size),
        moments,
        left,
        {key: left[place] for key, place in places.items()},
    )
    return dataclasses.replace(found, lines=left[:, found.drawn])


@dataclasses.dataclass(frozen=True, eq=False)
class CopperLeft:
    """What stays dissolved over the mud that soda makes, with so much of it left over.

    Parameters
    ----------
    soda : str
        How much: `LITTLE` or `MUCH`.
    total : float
        Copper as it came out of the tray [kg/m³].
    aged, fresh : array
        Copper dissolved over mud that has aged and over fresh mud, at each of `PH_AXIS` [kg/m³].
    onset : tuple of two floats
        The pH from which on mud that has aged falls out, and fresh mud [-].
    """

    soda: str
    total: float
    aged: FloatArray
    fresh: FloatArray
    onset: tuple[float, float]

    def at(self, pH: float) -> tuple[float, float]:
        """Return copper over mud that has aged and over fresh mud at a pH of the axis [kg/m³]."""
        place = int(np.argmin(np.abs(PH_AXIS - pH)))
        return float(self.aged[place]), float(self.fresh[place])


def total_copper() -> float:
    """Return the copper of the middle used bath [kg/m³]."""
    bath_after = used().bath_after
    copper = sum(np.asarray(bath_after.concentration(name)) for name in ("CuCl2", "CuCl"))
    return KG_COPPER * float(np.median(copper))


@cache
def copper(soda: str = LITTLE) -> CopperLeft:
    """Return what stays dissolved with so much soda left over."""
    whole = total_copper()
    aged, fresh = (
        np.minimum(KG_COPPER * copper_standin(PH_AXIS, solid, SODA[soda]), whole)
        for solid in ("aged", "fresh")
    )
    onset = tuple(float(PH_AXIS[np.argmax(each < whole)]) for each in (aged, fresh))
    return CopperLeft(soda, whole, aged, fresh, onset)


@dataclasses.dataclass(frozen=True)
class ByHand:
    """What a closed bottle would have to hold, step by step, each from what is printed before.

    Parameters
    ----------
    peroxide, oxygen : float
        Peroxide of the used bath, and the oxygen that it makes [mol/L].
    mole : float
        Room of a mole of gas [L/mol].
    volumes, room : float
        Oxygen, and what is free above the bath, in volumes of the bath [-].
    pressure : float
        On top of that of the air, in times that of the air [-].
    """

    peroxide: float
    oxygen: float
    mole: float
    volumes: float
    room: float
    pressure: float


@cache
def by_hand() -> ByHand:
    """Reckon the pressure in a bottle of the middle mild bath, as one does on paper."""
    peroxide = round(float(rest().start.middle) / KG_H2O2 / mol_per_L, 2)
    oxygen = round(peroxide / 2, 3)
    mole = round(R * ROOM_T / ATM * mol_per_L, 1)
    volumes = round(oxygen * mole, 1)
    room = round((1 - FILLED) / FILLED, 2)
    return ByHand(peroxide, oxygen, mole, volumes, room, round(volumes / room, 1))


@dataclasses.dataclass(frozen=True)
class PerMole:
    """What neutralising with baking soda is, a mole at a time.

    Parameters
    ----------
    acid : float
        Soda for each mole of acid [mol/mol].
    copper_low, copper_high : float
        Soda for each mole of copper, as basic chloride and as hydroxide [mol/mol].
    gas : float
        Carbon dioxide from each mole of acid [mol/mol].
    heat : float
        Heat that a mole of acid takes from the liquid [J/mol].
    """

    acid: float
    copper_low: float
    copper_high: float
    gas: float
    heat: float


def per_mole() -> PerMole:
    return PerMole(1.0, 1.5, 2.0, 1.0, 31.4)


def in_mud() -> float:
    """Return the copper in each gram of dry fresh mud [g/g]: copper hydroxide."""
    return 63.546 / 97.56


def thinned() -> float:
    """Return how many times its room the bath would fill to come down to `DEATHS` [-]."""
    return total_copper() / DEATHS


def rinsed() -> Band:
    """Return the copper in the first rinse dish of one board [kg/m³]."""
    film = np.linspace(0.1e-3, 0.2e-3, 200)
    v = film * 2 * 75e-3 * 60e-3
    return Band.of(total_copper() * v / (DISH + v), 200)


R, ATM, ROOM_T = 8.314462, 101325.0, 293.15


# stand-in functions, appended for the time being
def _late(e):
    p = RateParameters.plausible(e.inputs.draws).values()
    C = np.asarray(e.bath_after.concentration("CuCl2")) + np.asarray(
        e.bath_after.concentration("CuCl")
    )
    return np.asarray(
        p["decay_rate"]
        * p["decay_factor"]
        * np.exp(p["decay_energy"] / 8.314 * (1 / 340.15 - 1 / 293.15))
        * C
        / (C + p["decay_half"])
    )


def peroxide_after_standin(e, times):
    c0 = np.asarray(e.bath_after.concentration("H2O2"))
    k = _late(e)
    return c0 * np.exp(-k * np.asarray(times)[:, None])


def gone_standin(e):
    c0 = np.asarray(e.bath_after.concentration("H2O2"))
    k = _late(e)
    return np.maximum(np.log(np.maximum(c0 * KG_H2O2, 1e-300) / STRIP), 0) / k


def copper_standin(pH, solid, carbonate):
    H = 10.0**-pH
    K1, K2 = 10**-6.35, 10**-10.33
    C = np.minimum(carbonate / 1000, 0.034 * (1 + K1 / H + K1 * K2 / H**2))
    co3 = C * K1 * K2 / (H**2 + K1 * H + K1 * K2)
    hyd = 1 + 10**-7.95 / H + 10**-16.2 / H**2 + 10**-26.6 / H**3 + 10**-39.74 / H**4
    lig = hyd + 10**6.75 * co3 + 10**10.3 * co3**2
    if solid == "fresh":
        free = 10 ** (9.36 - 2 * pH)
    else:
        free = np.minimum(10 ** (8.34 - 2 * pH), np.sqrt(10**-33.16 / (1e-14 / H) ** 2 / co3))
    return 1000 * free * lig
