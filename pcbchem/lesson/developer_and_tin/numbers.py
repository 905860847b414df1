"""How much lye and tin is left of what was not used, over 200 cases; counted once."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np

from ...bench.resist import (
    air_for,
    carbon_dioxide_taken,
    lye_after,
    lye_mass,
    lye_strength,
    practice,
    vinegar_counts,
)
from ...bench.tin import STOPS, boards_until_spent, tin_amount, tin_killed
from ...bench.waste import films
from ...bench.waste.rinsing import FILM
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.units import L, gram, hour, mL, mol_per_L
from ..bath.used_bath import FACES, RINSE_WATER, used_bath
from ..workshop import tide_clock

LYE, WATER = 1.5 * gram, 0.12
"""What the workshop dissolves, and in how much water [kg]."""
VOLUME = 120 * mL
"""Of the developer [m³]: so little lye takes no room."""
LYE_KG = 0.040
"""Mass of a mole of lye, as a learner has it [kg/mol]."""
DISH, BEAKER, BOTTLE = "flat dish", "tall beaker", "bottle with a lid"
"""Where the developer stands, the widest first."""
MOST_HOURS, ASKED = 12, 6
"""The longest, and what is asked [h]."""
ENDS = (0.0, 26.0)
"""Both ends of the axis of lye [g/L]."""
MILLIMOLE = 1e-3
"""One thousandth of a mole [mol]."""
TIN = 8 * MILLIMOLE
"""Tin in the workshop's bath [mol]: made up, for the reader's label counts."""
RINSES = (0, 1, 2)
"""Dishes between etch and tin bath [-]."""
SAMPLE = 10 * mL
"""Developer that is titrated [m³]."""
VINEGAR = 50 * gram / L / 0.06005
"""Acid of vinegar that says 5 % [mol/m³]: 50 g in a litre, at 60.05 g/mol."""


@cache
def fresh() -> float:
    """Return the lye of the developer as it is mixed [mol/m³]."""
    return float(lye_strength(LYE, WATER))


def fresh_grams() -> float:
    """Return the same by weight [g/L, as kg/m³]."""
    return float(lye_mass(fresh()))


@cache
def weakest() -> float:
    """Return the strength under which lye is too weak for film that light makes soluble [g/L]."""
    return practice("positive")[0].high


@dataclasses.dataclass(frozen=True, eq=False)
class Left:
    """What the air has left of the developer, unused.

    Parameters
    ----------
    vessel : str
        Where it stands.
    hours : int
        How long.
    lye : Band
        What is left [g/L, as kg/m³], over 200 cases.
    """

    vessel: str
    hours: int
    lye: Band

    @property
    def cases(self) -> int:
        """How many there are [-]."""
        return int(self.lye.values.size)

    @property
    def weak(self) -> int:
        """In how many of them it is too weak for film that light makes soluble [-]."""
        return int(np.sum(self.lye.values < weakest()))

    def between(self, low: float, high: float) -> int:
        """Count the cases with from so much to so much of the lye left [share of the fresh]."""
        share = self.lye.values / fresh_grams()
        return int(np.sum((share >= low) & (share <= high)))


@cache
def _left(vessel: str) -> FloatArray:
    """Return lye left after each hour in a vessel [g/L], shape (hours, cases)."""
    hours = hour * np.arange(MOST_HOURS + 1)
    return np.asarray(lye_mass(np.asarray(lye_after(fresh(), hours[:, None], vessel, VOLUME))))


@cache
def lye_left(vessel: str = DISH, hours: int = ASKED) -> Left:
    """Return what is left after so many whole hours in a vessel."""
    values = _left(vessel)[hours]
    return Left(vessel, hours, Band.of(values, values.size))


def vinegar_of(lye: FloatArray | float) -> FloatArray:
    """Return the vinegar that a sample of lye takes [m³], from its strength [mol/m³]."""
    return np.asarray(lye) * SAMPLE / VINEGAR


@cache
def counted_by_vinegar() -> Band:
    """Return the vinegar that a sample of the dish takes after the hours asked [m³]."""
    left = lye_left().lye.values * (fresh() / fresh_grams())
    vinegar = vinegar_of(vinegar_counts(fresh(), left))
    return Band.of(vinegar, vinegar.size)


@dataclasses.dataclass(frozen=True)
class ByHand:
    """What the developer holds and what half of it takes, step by step, as one does on paper.

    Parameters
    ----------
    lye : float
        Dissolved [mmol].
    strength : float
        In each litre [mol/L].
    gas : float
        Carbon dioxide that half of it takes [mmol].
    air : float
        Open air that holds so much [m³].
    """

    lye: float
    strength: float
    gas: float
    air: float


@cache
def by_hand() -> ByHand:
    """Reckon the developer, each step from what is printed before."""
    lye = round(LYE / LYE_KG / MILLIMOLE, 1)
    litres = VOLUME / L
    strength = lye * MILLIMOLE / litres
    gas = round(float(carbon_dioxide_taken(lye, lye / 2)), 1)
    return ByHand(lye, round(strength, 4), gas, float(air_for(gas * MILLIMOLE)))


@cache
def clinging() -> FloatArray:
    """Return how thick the liquid on a board is that was lifted out [m], over 200 cases."""
    return np.asarray(films(200))


def peroxide() -> FloatArray:
    """Return the peroxide of the used mild bath [mol/m³], over 200 cases."""
    return np.asarray(used_bath("mild", 0.0).H2O2)


def traces() -> float:
    """Return the copper that is left on the board, and that tin would cover [m²]."""
    board = tide_clock()
    bare, whole = np.asarray(board.bare), np.asarray(board.width) * np.asarray(board.height)
    return float(whole * (1 - bare))


def coating() -> tuple[float, float]:
    """Return the tin that stays on a board, least and most [mol]: where it stops by itself."""
    least, most = (float(tin_amount(end, traces())) for end in STOPS)
    return least, most


@dataclasses.dataclass(frozen=True, eq=False)
class Carried:
    """What a board brings into the tin bath.

    Parameters
    ----------
    dishes : int
        In how many it was rinsed.
    killed : Band
        Tin that its peroxide takes [mol], over 200 cases.
    boards : Band
        After how many such boards no tin is left at the latest [-]: with the thinnest coating.
    """

    dishes: int
    killed: Band
    boards: Band

    @property
    def times(self) -> float:
        """How many times what stays on the board at the most [-]."""
        return float(self.killed.middle) / coating()[1]


@cache
def carried(dishes: int = 0) -> Carried:
    """Return what a board brings in that was rinsed in so many dishes."""
    killed = np.asarray(tin_killed(peroxide(), clinging(), FACES, dishes, RINSE_WATER))
    boards = np.asarray(boards_until_spent(TIN, killed, coating()[0]))
    return Carried(dishes, Band.of(killed, killed.size), Band.of(boards, boards.size))


@dataclasses.dataclass(frozen=True)
class TinByHand:
    """How many boards the bath lasts, step by step.

    Parameters
    ----------
    clings : float
        Bath on a board [mL].
    peroxide : float
        In each mL of it [mmol].
    killed : float
        Tin that goes with it [mmol].
    boards : float
        Until none is left [-].
    """

    clings: float
    peroxide: float
    killed: float
    boards: float


@cache
def tin_by_hand() -> TinByHand:
    """Reckon the boards of the middle case, each step from what is printed before."""
    clings = round(float(np.mean(FILM)) * FACES / mL, 2)
    strength = round(float(np.median(peroxide())) / mol_per_L, 2)
    killed = round(clings * strength, 1)
    return TinByHand(clings, strength, killed, round(TIN / MILLIMOLE / killed, 1))
