"""What is left of 200 plausible baths: peroxide over weeks, copper over pH; computed once."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np
from numpy.typing import NDArray

from ...bench.waste import READS_NOTHING, Rest, films, peroxide_after, rinse, time_gone
from ...bench.waste.where import waste_limit
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import gram, hour, mol_per_L
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.film_properties import R
from ...reaction.chemistry import copper_band
from ..bath.used_bath import FACES, RINSE_WATER, used_bath
from ..review_questions import ROOM

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
    "8w": 8 * WEEK,
}
"""Times to choose from, by key [s]."""
ASKED = "12h"
"""That at which the panel starts: next morning."""
SHORTEST, LONGEST = 0.5 * hour, 60 * DAY
"""Ends of the axis of time [s]."""
POINTS = 60
"""Points of a line [-]."""
EVERY = 10
"""One bath in so many has its line drawn [-]."""
KG_H2O2, KG_COPPER = MOLAR_MASS["H2O2"], MOLAR_MASS["Cu"]
"""Mass of a mole of each [kg/mol]."""
LEFT_OVER = READS_NOTHING * KG_H2O2
"""Below so much the peroxide of a bath counts as gone [kg/m³]. A strip in one drop of it to 100
of water reads nothing already below a hundred times as much: it tells less than is counted."""
LITTLE, MUCH = "little", "much"
"""How much soda is left over: a little, or a good deal."""
SODA = {LITTLE: 0.1 * mol_per_L, MUCH: 0.5 * mol_per_L}
"""Carbonate that it leaves in the water [mol/m³]."""
PH_LOW, PH_HIGH, PH_STEP, NEUTRAL = 2.0, 10.0, 0.5, 8.0
"""Ends of the slider of pH, its step, and its start: where soda stops fizzing [-]."""
PH_AXIS = np.linspace(0, PH_HIGH, 101)
"""Where the curves are worked out [-]: higher than soda goes no page draws them."""
DEATHS = waste_limit("water fleas, two days").value * 1e-3 * gram
"""Copper that kills half of the water fleas in two days [kg/m³]; the table has µg/L."""
FILLED = 0.3
"""How full the bottle of the reckoning is [-]."""
ATMOSPHERE = 101_325.0
"""Pressure of the air [Pa]."""


@dataclasses.dataclass(frozen=True, eq=False)
class Left:
    """What becomes of the peroxide in the plausible baths of one pair of bottles.

    Parameters
    ----------
    bottles : str
        Which pair.
    start : Band
        Peroxide when the board comes out [kg/m³].
    gone : Band
        From when on it is gone [s].
    times : array
        Points of the lines [s].
    lines : array
        Peroxide at each of them, of every tenth bath [kg/m³], shape (points, lines).
    at : dict of array
        Peroxide at the times to choose from, in each bath [kg/m³].
    """

    bottles: str
    start: Band
    gone: Band
    times: FloatArray
    lines: FloatArray
    at: dict[str, FloatArray]

    @property
    def total(self) -> int:
        """How many baths there are [-]."""
        return int(self.gone.values.size)

    def nothing(self, time: str) -> int:
        """Count the baths in which it is gone at one of the times [-]."""
        return int(np.sum(self.at[time] < LEFT_OVER))

    def still(self, time: str) -> int:
        """Count those that still hold peroxide at one of the times [-]."""
        return self.total - self.nothing(time)

    @property
    def drawn(self) -> NDArray[np.int_]:
        """Which baths have their line drawn [-]: every tenth, the quickest first."""
        return every_tenth(self.gone.values)


def every_tenth(times: FloatArray) -> NDArray[np.int_]:
    """Return the places of every tenth of some times [s], from the shortest on [-]."""
    return np.argsort(times)[EVERY // 2 - 1 :: EVERY]


@cache
def rest(bottles: str = MILD) -> Rest:
    """Return the used baths of a pair of bottles, over the draws as they are."""
    return used_bath(bottles, WATER[bottles])


@cache
def peroxide_left(bottles: str = MILD) -> Left:
    """Return what becomes of the peroxide in the used baths of a pair of bottles."""
    used = rest(bottles)
    grid = np.geomspace(SHORTEST, LONGEST, POINTS)
    moments = np.unique([*grid, *TIMES.values()])
    with collecting_warnings():
        left = KG_H2O2 * np.asarray(peroxide_after(used, None, moments))
        gone = np.asarray(time_gone(used))
    places = {key: int(np.searchsorted(moments, time)) for key, time in TIMES.items()}
    start = KG_H2O2 * np.asarray(used.H2O2)
    return Left(
        bottles,
        Band.of(start, start.size),
        Band.of(gone, gone.size),
        moments,
        left[:, every_tenth(gone)],
        {key: left[place] for key, place in places.items()},
    )


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
    return KG_COPPER * float(rest().band("copper").middle)


@cache
def copper_left(soda: str = LITTLE) -> CopperLeft:
    """Return what stays dissolved with so much soda left over."""
    whole = total_copper()
    ends = copper_band(PH_AXIS, carbonate=SODA[soda])
    # what would dissolve is no more than what is there
    aged, fresh = (np.minimum(KG_COPPER * np.asarray(end), whole) for end in ends)
    begins = [float(PH_AXIS[np.argmax(end < whole)]) for end in (aged, fresh)]
    return CopperLeft(soda, whole, aged, fresh, (begins[0], begins[1]))


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
    peroxide = round(float(rest().band("H2O2").middle) / mol_per_L, 2)
    oxygen = round(peroxide / 2, 3)
    mole = round(float(R * ROOM / ATMOSPHERE) * mol_per_L, 1)
    volumes = round(oxygen * mole, 1)
    room = round((1 - FILLED) / FILLED, 2)
    return ByHand(peroxide, oxygen, mole, volumes, room, round(volumes / room, 1))


def thinned() -> float:
    """Return how many times its room the bath would fill to come down to `DEATHS` [-]."""
    return total_copper() / DEATHS


@cache
def rinsed() -> Band:
    """Return the copper in the first rinse dish of one board [kg/m³]."""
    copper = rest().copper
    held = KG_COPPER * np.asarray(rinse(copper, films(np.size(copper)), FACES, RINSE_WATER))
    return Band.of(held, held.size)
