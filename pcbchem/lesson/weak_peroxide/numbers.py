"""What becomes of 200 plausible weak baths, and of two offcuts: computed once for all places."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...bench import hazards
from ...bench.bottle.bottle import Bottle
from ...bench.plan.inputs import Inputs
from ...bench.plan.outlook import Etched, etched, judged, outlook
from ...bench.plan.pours import bottle_strengths, side_by_side
from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import cm, hour, minute, mL, percent
from ...matter.solution import Solution, mix
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.run import EtchRun
from ...reaction.bath.setup import Board, Tray
from ...reaction.brown import cuprous_held, stages
from ...reaction.chemistry import carried
from ..review_questions import ROOM
from ..workshop import PAIRS, USUAL, bath

BOTTLES = "weak"
"""The pair of bottles of the page: acid of a shop, peroxide of a shop."""
WEAK_ACID, STRONG_ACID = PAIRS["weak"].acid, PAIRS["strong"].acid
"""Acid of the first question and of the second [% by weight]."""
PEROXIDE = PAIRS[BOTTLES].peroxide
"""Peroxide of both [% by weight]."""
ASKED, TOO_LITTLE = 1.1, 0.8
"""Peroxide of the first question and of the second, times the copper [-]."""
LEAST, MOST, STEP = 0.7, 4.8, 0.1
"""Ends of the slider and its step, times the copper [-]."""
TIMES = np.round(np.arange(LEAST, MOST + STEP / 2, STEP), 6)
"""Every place of that slider, times the copper [-]."""
LASTS, BROWN, NEVER = 0, 1, 2
"""What becomes of a bath: clear while peroxide lasts, brown and then clear, never clear."""
HOURS = LONGEST / hour
"""How long a board is left in: not clear by then is "never" [h]."""
EVERY = 10
"""One bath in so many has its course drawn [-]."""
SMALL, LARGE = 5 * cm**2, 12 * cm**2
"""Bare copper of the two offcuts [m²]."""
DISH, OFFCUT_BATH = 30 * cm**2, 30 * mL
"""Dish of an offcut [m²] and its bath [m³], as the cautions have it: never said on the page."""


def heat_draws() -> RateParameters:
    """Return the plausible baths as the planner reads times and heat of them."""
    return RateParameters.plausible(bath(BOTTLES).draws).for_heat_after()


def weak_bath(acid: float = WEAK_ACID) -> Inputs:
    """Return the workshop's weak bath with acid so strong [% by weight]."""
    return dataclasses.replace(bath(BOTTLES), acid=Bottle.labelled("HCl", percent(acid)))


@cache
def room_for_once() -> float:
    """Return the bath over bare copper whose peroxide is as much as the copper [m³/m²].

    By the middle of the plausible bottles: a shop's peroxide often holds less than its label.
    """
    usual = etched(weak_bath(), parameters=heat_draws())
    times = np.asarray(carried(usual.mixture)["H2O2"]) / float(usual.inputs.board.copper)
    return USUAL / float(np.median(times))


def asked_bath(acid: float = WEAK_ACID) -> Solution:
    """Return the page's mixture, its peroxide as strong as that of the middle bottle.

    Parameters
    ----------
    acid : float
        Strength of the acid [% by weight].

    Returns
    -------
    Solution
        Equal parts mixed at 20 °C [kg, K].

    Examples
    --------
    >>> print(f"{asked_bath().concentration('HCl') / 1000:.2f} mol/L")
    1.44 mol/L
    """
    middle = float(np.median(bottle_strengths(weak_bath())["peroxide"]))
    # for its strengths alone: any volume will do
    half = 0.5 * mL
    return mix(
        Solution.of(volume=half, T=ROOM, HCl=percent(acid)),
        Solution.of(volume=half, T=ROOM, H2O2=middle),
    )


@dataclasses.dataclass(frozen=True, eq=False)
class Fates:
    """What becomes of the plausible baths with so much peroxide for the copper.

    Parameters
    ----------
    times : float
        Peroxide in the middle bath, times the copper [-].
    acid : float
        Strength of the acid [% by weight].
    refused : bool
        Whether the planner refuses this bath.
    fate : array
        Of each bath, in the order of the draws: `LASTS`, `BROWN` or `NEVER` [-].
    order : array
        Places of the draws from the quickest to the one that leaves most copper [-].
    time : Band
        Until clear [s].
    spent, gone : Band or None
        When the peroxide was spent [s], and the share of the copper gone by then [-], of those
        that turn brown; None where none does.
    lost : Band
        Share of the peroxide that went into oxygen instead of copper [-].
    minutes, left, spent_at : tuple
        Of each course that is drawn: its times [min], copper left then [-], and the place in them
        from which on it is brown, or None.
    """

    times: float
    acid: float
    refused: bool
    fate: NDArray[np.int_]
    order: NDArray[np.int_]
    time: Band
    spent: Band | None
    gone: Band | None
    lost: Band
    minutes: tuple[FloatArray, ...]
    left: tuple[FloatArray, ...]
    spent_at: tuple[int | None, ...]

    @property
    def total(self) -> int:
        """How many baths there are [-]."""
        return self.fate.size

    @property
    def counts(self) -> tuple[int, int, int]:
        """How many clear while peroxide lasts, turn brown and clear, and never clear [-]."""
        lasts, brown, never = (int(np.sum(self.fate == fate)) for fate in (LASTS, BROWN, NEVER))
        return lasts, brown, never

    @property
    def clear(self) -> int:
        """How many clear in the end [-]."""
        return self.total - self.counts[NEVER]

    @property
    def drawn(self) -> NDArray[np.int_]:
        """Which draws have their course drawn [-]: every tenth in the order of the squares."""
        return self.order[EVERY // 2 - 1 :: EVERY]


@cache
def all_fates(acid: float = WEAK_ACID) -> tuple[Fates, ...]:
    """Return what becomes of the baths at every place of the slider, acid so strong [%]."""
    inputs = weak_bath(acid)
    rooms = room_for_once() * TIMES
    variants = [dataclasses.replace(inputs, bath_per_area=float(room)) for room in rooms]
    # a page says its doubts in words
    with collecting_warnings():
        baths = etched(inputs, parameters=heat_draws(), history=True, **side_by_side(variants))
        severity = judged(inputs, variants, hazards.REFUSED).severity
    refused = np.asarray(severity) == hazards.REFUSED
    return tuple(
        fates_at(baths, place, float(TIMES[place]), acid, bool(refused[place]))
        for place in range(len(TIMES))
    )


def fates_at(baths: Etched, place: int, times: float, acid: float, refused: bool) -> Fates:
    """Take what becomes of the baths at one place of many [-]; times the copper, acid [%]."""
    run = baths.run
    steps: Any = run.steps
    stage = stages(run)
    time = np.asarray(run.time_to_clear)[place]
    clears, brown = np.asarray(stage.clears)[place], np.asarray(stage.brown)[place]
    fate = np.where(clears, np.where(brown, BROWN, LASTS), NEVER)
    draws = time.size
    rows = slice(place * draws, (place + 1) * draws)
    seconds, foil = steps["time"][rows], steps["thickness"][rows]
    left = foil / foil[:, :1]
    # within a kind by time; of those that never clear by what they leave
    order = np.lexsort((left[:, -1], time, fate))
    peroxide = np.asarray(baths.mixture.amount("H2O2"))[place]
    # two peroxide for each oxygen
    lost = 2 * np.asarray(run.oxygen_amount)[place] / peroxide
    spent, gone = np.asarray(stage.spent_at)[place], np.asarray(stage.gone)[place]
    courses = [
        course(seconds[draw], left[draw], float(spent[draw]))
        for draw in order[EVERY // 2 - 1 :: EVERY]
    ]
    minutes, shares, places = zip(*courses, strict=True)
    is_any = bool(brown.any())
    return Fates(
        times,
        acid,
        refused,
        fate,
        order,
        Band.of(time, draws),
        Band.of(spent[brown], int(brown.sum())) if is_any else None,
        Band.of(gone[brown], int(brown.sum())) if is_any else None,
        Band.of(lost, draws),
        minutes,
        shares,
        places,
    )


def course(
    seconds: FloatArray, left: FloatArray, spent: float
) -> tuple[FloatArray, FloatArray, int | None]:
    """Return one course as it is drawn: times [s in, min out], copper left [-], brown from where.

    Parameters
    ----------
    seconds, left : array
        Steps of a run [s], and the share of the copper left at each [-].
    spent : float
        When its peroxide was spent [s]; infinite: it lasted.
    """
    # a run that ended early stands on its last step
    is_new = np.append(True, np.diff(seconds) > 0)
    times, shares = seconds[is_new], left[is_new]
    place = None
    if np.isfinite(spent):
        place = int(np.searchsorted(times, spent))
    return times / minute, shares, place


def at(times: float, acid: float = WEAK_ACID) -> Fates:
    """Return what becomes of the baths with peroxide for so many times the copper [-].

    Parameters
    ----------
    times : float
        A place of the slider [-].
    acid : float
        Strength of the acid [% by weight].
    """
    return all_fates(acid)[int(np.argmin(np.abs(TIMES - times)))]


def asked_run(rates: RateParameters) -> EtchRun:
    """Etch the bath of the first question by some rates [units in their table]; keep its course."""
    inputs = dataclasses.replace(weak_bath(), bath_per_area=ASKED * room_for_once())
    # a page says its doubts in words
    with collecting_warnings():
        return etched(inputs, parameters=rates, history=True).run


@cache
def never_if_slow() -> int:
    """Count the baths of the first question that never clear if peroxide may also decay slowly."""
    return int(np.isinf(np.asarray(asked_run(RateParameters.plausible()).time_to_clear)).sum())


@cache
def brown_takes() -> float:
    """Return the share of the copper [-] that brown takes in the middle of the baths that stop.

    Of those of the first question that never clear: from when peroxide is spent to the end.
    """
    run = asked_run(heat_draws())
    stage = stages(run)
    end = 1 - np.asarray(run.end["thickness"]) / float(run.board.foil.thickness)
    return float(np.median((end - np.asarray(stage.gone))[~np.asarray(stage.clears)]))


@dataclasses.dataclass(frozen=True)
class ByHand:
    """How far copper(I) carries a bath, step by step, each from what is printed before.

    Parameters
    ----------
    peroxide, held : float
        Peroxide of the mixture, and copper(I) that its chloride holds [mol/L].
    ratio, cuprous, share : float
        Copper(I) for each peroxide; times the copper; copper that dissolves for it [-].
    """

    peroxide: float
    held: float
    ratio: float
    cuprous: float
    share: float


@cache
def by_hand(times: float, acid: float = WEAK_ACID) -> ByHand:
    """Reckon how much copper a brown bath can take yet, as one does on paper.

    Parameters
    ----------
    times : float
        Peroxide for so many times the copper [-].
    acid : float
        Strength of the acid [% by weight].
    """
    solution = asked_bath(acid)
    peroxide = round(float(solution.concentration("H2O2")) / 1000, 2)
    held = round(float(cuprous_held(solution)) / 1000, 2)
    ratio = round(held / peroxide, 2)
    cuprous = round(ratio * times, 2)
    return ByHand(peroxide, held, ratio, cuprous, round(cuprous / 2, 2))


@dataclasses.dataclass(frozen=True, eq=False)
class Offcuts:
    """Two offcuts of other sizes in the same bath: how many times as long the larger takes.

    Parameters
    ----------
    ratio : Band
        Time of the larger over that of the smaller [-].
    least : float
        The smallest of all draws [-].
    refused : bool
        Whether the planner refuses one of them.
    """

    ratio: Band
    least: float
    refused: bool


@cache
def offcuts(bottles: str = BOTTLES) -> Offcuts:
    """Return what two offcuts of 5 and 12 cm² take, in one of the workshop's pairs of bottles."""
    times, refused = [], False
    for area in (SMALL, LARGE):
        inputs = dataclasses.replace(
            bath(bottles, OFFCUT_BATH / area),
            board=Board(area=area),
            tray=Tray(agitation="rocked", open_area=DISH),
        )
        with collecting_warnings():
            bands = outlook(inputs).bands
        times.append(np.asarray(bands["time_to_clear"].values))
        refused |= int(hazards.severity(hazards.exceeded(bands))) == hazards.REFUSED
    small, large = times
    ratio = large / small
    return Offcuts(Band.of(ratio, ratio.size), float(ratio.min()), refused)
