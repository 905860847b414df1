"""Step many small baths side by side in time, each with a step of its own.

The method is the adaptive Runge-Kutta pair of third and second order of Bogacki and Shampine
(1989). The clock of a bath is the foil while copper goes, and time once it hardly does. Baths are
stepped in one pool that fits the cache: a bath that has cleared its board, or has run out of time,
leaves it, and the next one that waits takes its place.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...common.arrays import FloatArray

STATES = ("time", "share", "oxidant", "temperature")
"""Rows of a state: time [s], share of the foil gone [-], oxidant [mol/m³ of electrons],
temperature [K]."""
TIME, SHARE, OXIDANT, TEMPERATURE = range(4)

POOL = 8000
"""Baths that are stepped together [-]: more no longer fit the cache."""
READY_TO_LEAVE = 1 / 12
"""Baths leave the pool once this share of it is done [-]: to sort them out has its cost too."""
WORTH_SORTING_OUT = 20
"""Fewer baths than these stay [-], until all are done: a small pool is quick whatever it holds."""
MOST_STEPS = 20_000
"""Steps after which a bath is given up [-]; most take five."""
HOTTEST_BATH = 376.0
"""The bath boils here [K]: no state is warmer."""
POINTS = 8
"""Points at which the cubic of a step is read for a history [-]."""

# Tableau of Bogacki and Shampine
SECOND_STAGE, THIRD_STAGE = 1 / 2, 3 / 4
SOLUTION = (2 / 9, 1 / 3, 4 / 9)
ERROR = (5 / 72, -1 / 12, -1 / 9, 1 / 8)

FIRST_STEP = 0.05
"""First step of the clock, as a share of the foil that can go [-]."""
SAFETY = 0.6
"""The next step aims at this share of the step that the error would allow [-]: the slopes have
kinks, and 0.9 needs more steps."""
LEAST_CHANGE, MOST_CHANGE = 0.2, 4.0
"""A step is at most so much longer or shorter than the one before [-]."""
ALMOST = 1e-9
"""How close to its end a bath has arrived [share of it]."""
TINY = 1e-30
"""Keeps a slope of 0 from dividing [share of the foil per unit of clock]."""

Rates = Callable[[dict[str, Any], FloatArray, FloatArray], tuple[FloatArray, FloatArray]]
Mask = NDArray[np.bool_]
Which = NDArray[np.intp]


class Course(NamedTuple):
    """How the baths went.

    `ends`: rows `STATES` at the end, shape (4, N) [s, share, mol/m³, K]. `peaks`: highest
    temperatures [K], shape (N,). `steps`: every step in the order in which it was taken, for
    `curves`, or None.
    """

    ends: FloatArray
    peaks: FloatArray
    steps: list[Step] | None


class Step(NamedTuple):
    """A step of some baths, M of them, as a cubic.

    `scenario`: which scenarios they are, shape (M,). `share`: how much of the step counts [-],
    shape (M,). `start` and `end`: states there [s, share, mol/m³, K], shape (4, M). `start_rise`
    and `end_rise`: slopes there times the step [same units].
    """

    scenario: Which
    share: FloatArray
    start: FloatArray
    end: FloatArray
    start_rise: FloatArray
    end_rise: FloatArray

    @property
    def cubic_parts(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """What `cubic` takes: start, end, and both rises [s, share, mol/m³, K]."""
        return self.start, self.end, self.start_rise, self.end_rise

    def of_some(self, which: Any) -> Step:
        """Return the step of some of the baths."""
        parts = (part[:, which] for part in self.cubic_parts)
        return Step(self.scenario[which], self.share[which], *parts)


class Trial(NamedTuple):
    """A step that was tried, of every bath in the pool, M of them.

    `step` of the clock, shape (M,); states at its `end` [s, share, mol/m³, K] and slopes there,
    shape (4, M); `warmth` of the film there [K m³/mol], shape (M,); `slip`: how far the solutions
    of second and third order are apart [s, share, mol/m³, K], shape (4, M).
    """

    step: FloatArray
    end: FloatArray
    end_slope: FloatArray
    warmth: FloatArray
    slip: FloatArray


@dataclass
class Pool:
    """Baths that are stepped together, M of them.

    Parameters
    ----------
    constants : dict
        Constants of the run [SI]: numbers, or arrays with one value a bath. "most" is the share of
        the foil [-] that the chloride of the bath can hold.
    scenario : array of int
        Which scenario each bath is [-], shape (M,).
    state : array
        Rows `STATES` at the start of the step [s, share, mol/m³, K], shape (4, M).
    slope : array
        Their slopes there [s, share, mol/m³, K per unit of the clock], shape (4, M).
    warmth : array
        Warmth of the film there [K m³/mol], shape (M,).
    step : array
        Step of the clock to try next [share of the foil], shape (M,).
    peak : array
        Their highest temperatures so far [K], shape (M,).
    done : array of bool
        Which baths have arrived [-], shape (M,).
    """

    constants: dict[str, Any]
    scenario: Which
    state: FloatArray
    slope: FloatArray
    warmth: FloatArray
    step: FloatArray
    peak: FloatArray
    done: Mask

    @property
    def most(self) -> Any:
        """Largest share of the foil that can go [-], shape (M,)."""
        return self.constants["most"]

    def is_ready_to_let_go(self) -> bool:
        """Whether so many baths are done that it is worth sorting them out."""
        number, size = int(np.count_nonzero(self.done)), self.done.size
        if number == size:
            return True
        return number >= WORTH_SORTING_OUT and number >= READY_TO_LEAVE * size

    def let_go(self) -> None:
        """Let the baths that are done leave."""
        stay = np.flatnonzero(~self.done)
        self.constants = of_some(self.constants, stay)
        self.scenario, self.done = self.scenario[stay], self.done[stay]
        self.state, self.slope = self.state[:, stay], self.slope[:, stay]
        self.warmth, self.step = self.warmth[stay], self.step[stay]
        self.peak = self.peak[stay]

    def join(self, new: Pool) -> None:
        """Take in the baths of another pool of the same run."""
        for name, value in self.constants.items():
            if np.ndim(value):
                self.constants[name] = np.concatenate([value, new.constants[name]])
        self.scenario = np.concatenate([self.scenario, new.scenario])
        self.state = np.concatenate([self.state, new.state], axis=1)
        self.slope = np.concatenate([self.slope, new.slope], axis=1)
        self.warmth = np.concatenate([self.warmth, new.warmth])
        self.step = np.concatenate([self.step, new.step])
        self.peak = np.concatenate([self.peak, new.peak])
        self.done = np.concatenate([self.done, new.done])


def of_some(constants: dict[str, Any], which: Any) -> dict[str, Any]:
    """Return the constants of some scenarios [SI]: arrays are cut down, numbers stay."""
    return {name: value[which] if np.ndim(value) else value for name, value in constants.items()}


def cubic(share: Any, start: Any, end: Any, start_rise: Any, end_rise: Any) -> Any:
    """Return Hermite's cubic at a share of a step.

    Parameters
    ----------
    share : float or array
        Where between the ends of the step [-], 0 to 1.
    start, end : array
        Values at both ends [own unit].
    start_rise, end_rise : array
        Slopes at both ends times the step [own unit].

    Returns
    -------
    array
        Values there [own unit].
    """
    gap = end - start
    bend = 3 * gap - 2 * start_rise - end_rise
    twist = start_rise + end_rise - 2 * gap
    return start + share * (start_rise + share * (bend + share * twist))


def solve(
    constants: dict[str, Any],
    start: FloatArray,
    warmth: FloatArray,
    rates: Rates,
    longest: float,
    tolerance: float,
    history: bool = False,
) -> Course:
    """Step every bath to the end of its foil or to the longest time, whichever comes first.

    Parameters
    ----------
    constants : dict
        Constants of the run [SI]: numbers, or arrays with one value a scenario. "most" is the
        share of the foil [-] that the chloride of the bath can hold.
    start : array
        Rows `STATES` by scenario [s, share, mol/m³, K], shape (4, N).
    warmth : array
        Warmth of the film at the start [K m³/mol], shape (N,).
    rates : callable
        Takes constants, states and warmth; gives the slopes of the states per unit of the clock,
        and the new warmth.
    longest : float
        Time at which a bath that goes on is ended [s].
    tolerance : float
        Error allowed a step, as a share of the scale of each state [-].
    history : bool
        Keep every step.

    Returns
    -------
    Course
        Ends, peaks, and the steps where they are kept.

    Raises
    ------
    RuntimeError
        A fault of the solver: a bath that became NaN, or went on without an end.
    """
    count = start.shape[1]
    course = Course(np.empty_like(start), np.empty(count), [] if history else None)
    # one number for all baths becomes one for each: the pool cuts it down with them
    constants = constants | {"most": np.broadcast_to(constants["most"], (count,))}

    waiting = min(POOL, count)
    pool = _new_pool(constants, start, warmth, rates, range(waiting))
    steps = 0
    while pool.done.size:
        _make_step(pool, rates, longest, tolerance, course)
        steps += 1
        if steps > MOST_STEPS:
            raise RuntimeError(f"{np.sum(~pool.done)} baths did not finish in {MOST_STEPS} steps")
        if pool.is_ready_to_let_go():
            pool.let_go()
            if waiting < count:
                last = min(waiting + POOL - pool.done.size, count)
                pool.join(_new_pool(constants, start, warmth, rates, range(waiting, last)))
                waiting, steps = last, 0  # the new ones have all their steps before them
    return course


def _new_pool(
    constants: dict[str, Any], start: FloatArray, warmth: FloatArray, rates: Rates, which: range
) -> Pool:
    """Return a pool of scenarios that are about to make their first step."""
    part = slice(which.start, which.stop)
    constants, state = of_some(constants, part), start[:, part]
    slope, film = rates(constants, state, warmth[part])
    step = FIRST_STEP * np.minimum(1.0, constants["most"] + 1e-6)
    peak, done = state[TEMPERATURE].copy(), np.zeros(len(which), bool)
    return Pool(constants, np.array(which), state, slope, film, step, peak, done)


def _make_step(pool: Pool, rates: Rates, longest: float, tolerance: float, course: Course) -> None:
    """Try one step of every bath in the pool, and go on where it is good enough."""
    trial = _trial(pool, rates, longest)
    error = _largest_error(pool, trial, longest) / tolerance
    if np.isnan(error).any():
        raise RuntimeError(
            f"{np.isnan(error).sum()} baths became NaN: a fault of the solver, please report it"
        )
    good = error <= 1
    going = good & ~pool.done
    ends = (trial.end[SHARE] >= 1 - ALMOST) | (trial.end[TIME] >= longest * (1 - ALMOST))
    at_end = going & ends
    if at_end.any():
        last = _piece(pool, trial, at_end)
        _write_ends(last, pool.peak[at_end], pool.most[at_end], longest, course)
        going = going & ~at_end

    # a bath that warms at the start of its step and cools at its end peaks inside it
    hill = going & (pool.slope[TEMPERATURE] > 0) & (trial.end_slope[TEMPERATURE] < 0)
    if hill.any():
        pool.peak[hill] = np.maximum(pool.peak[hill], _tops_inside(pool, trial, hill))
    if course.steps is not None and going.any():
        course.steps.append(_piece(pool, trial, going))

    pool.done |= at_end
    # the error goes with the third power of the step
    change = SAFETY * np.maximum(error, 1e-6) ** (-1 / 3)
    pool.step = trial.step * change.clip(LEAST_CHANGE, MOST_CHANGE)

    # where the step failed a bath stays where it is: most often that is nowhere, or few
    failed = ~good
    np.copyto(trial.end, pool.state, where=failed)
    np.copyto(trial.end_slope, pool.slope, where=failed)
    pool.state, pool.slope = trial.end, trial.end_slope
    pool.warmth = np.where(good, trial.warmth, pool.warmth)
    pool.state[TEMPERATURE] = np.minimum(pool.state[TEMPERATURE], HOTTEST_BATH)
    pool.state[SHARE] = np.minimum(pool.state[SHARE], np.minimum(pool.most, 1.0))
    pool.peak = np.maximum(pool.peak, pool.state[TEMPERATURE])


def _trial(pool: Pool, rates: Rates, longest: float) -> Trial:
    """Return a step of every bath in the pool, not yet accepted."""
    y, k1 = pool.state, pool.slope
    step = _limited_step(pool, longest)
    # each stage begins with the warmth of the one before: the film hardly changes between them
    k2, warmth = rates(pool.constants, _further(y, SECOND_STAGE * step, k1), pool.warmth)
    k3, warmth = rates(pool.constants, _further(y, THIRD_STAGE * step, k2), warmth)
    end = _further(y, step, _weighted_sum(SOLUTION, (k1, k2, k3)))
    k4, warmth = rates(pool.constants, end, warmth)
    slip = _weighted_sum(ERROR, (k1, k2, k3, k4))
    slip *= step
    np.abs(slip, out=slip)
    return Trial(step, end, k4, warmth, slip)


def _piece(pool: Pool, trial: Trial, which: Mask) -> Step:
    """Return the steps of some baths of the pool."""
    at = np.flatnonzero(which)
    step = trial.step[at]
    return Step(
        scenario=pool.scenario[at],
        share=np.ones(at.size),
        start=pool.state[:, at],
        end=trial.end[:, at],
        start_rise=step * pool.slope[:, at],
        end_rise=step * trial.end_slope[:, at],
    )


# The states of a full pool fill much of the cache: these two make as few new arrays as they can


def _further(y: FloatArray, step: FloatArray, slope: FloatArray) -> FloatArray:
    """Return the states after a step along the slope."""
    states = step * slope
    states += y
    return states


def _weighted_sum(weights: tuple[float, ...], slopes: tuple[FloatArray, ...]) -> FloatArray:
    """Return the slopes of the stages by their weights."""
    total = weights[0] * slopes[0]
    part = np.empty_like(total)
    for weight, slope in zip(weights[1:], slopes[1:], strict=True):
        np.multiply(weight, slope, out=part)
        total += part
    return total


def _limited_step(pool: Pool, longest: float) -> FloatArray:
    """Return the step to try: shorter where something happens before its end.

    A bath that clears lands on the end of its foil, one whose clock is time on the longest time.
    Where the peroxide is spent the slopes have a kink: the step ends just past it.
    """
    y, slope = pool.state, pool.slope
    to_clear = (1 - y[SHARE]) / np.maximum(slope[SHARE], TINY)
    to_longest = (longest - y[TIME]) / slope[TIME]
    step: FloatArray = np.minimum(pool.step, np.minimum(to_clear, to_longest))
    passes_kink = (y[OXIDANT] > 0) & (y[OXIDANT] + slope[OXIDANT] * step < 0)
    if passes_kink.any():
        fall = np.where(passes_kink, slope[OXIDANT], -1.0)
        past_kink = -1.02 * y[OXIDANT] / fall + 1e-7
        step = np.where(passes_kink, np.minimum(step, past_kink), step)
    return step


def _largest_error(pool: Pool, trial: Trial, longest: float) -> FloatArray:
    """Return the largest of the errors of a bath's states, each over its scale [-], shape (M,)."""
    y, slope, end, slip = pool.state, pool.slope, trial.end, trial.slip
    to_clear = (1 - y[SHARE]) * slope[TIME] / np.maximum(slope[SHARE], TINY)
    time = slip[TIME] / (np.minimum(y[TIME] + to_clear, longest) + 1e-12)
    share = slip[SHARE] / (np.minimum(pool.most, 1.0) + 1e-6)
    largest_oxidant = np.maximum(np.abs(y[OXIDANT]), np.abs(end[OXIDANT]))
    oxidant = slip[OXIDANT] / (largest_oxidant + 100.0)
    temperature = slip[TEMPERATURE] / 30.0
    error: FloatArray = np.maximum(np.maximum(time, share), np.maximum(oxidant, temperature))
    return error


def _write_ends(
    last: Step, peak: FloatArray, most: FloatArray, longest: float, course: Course
) -> None:
    """Write down the ends of baths that arrive: their last step counts only up to there."""
    last.share[:] = _share_to_end(last, longest)
    final = cubic(last.share, *last.cubic_parts)
    # without what rounding adds: no more foil gone than there is, no hotter than boiling
    clear = final[SHARE] >= 1 - ALMOST
    final[SHARE] = np.minimum(np.where(clear, 1.0, final[SHARE]), most)
    final[TEMPERATURE] = np.minimum(final[TEMPERATURE], HOTTEST_BATH)
    course.ends[:, last.scenario] = final
    course.peaks[last.scenario] = np.maximum(peak, final[TEMPERATURE])
    if course.steps is not None:
        course.steps.append(last)


def _share_to_end(last: Step, longest: float) -> FloatArray:
    """Return the share of a last step [-] at which the longest time or the end of the foil is.

    That is all of it, or is found by bisection on the cubic where the step went past.
    """
    share = np.ones(last.scenario.size)
    late = last.end[TIME] > longest * (1 + ALMOST)
    past = np.flatnonzero(late | (last.end[SHARE] > 1 + ALMOST))
    if past.size == 0:
        return share
    parts = [part[: SHARE + 1, past] for part in last.cubic_parts]
    low, high = np.zeros(past.size), np.ones(past.size)
    for _ in range(30):  # to a billionth of the step
        middle = 0.5 * (low + high)
        time, foil_gone = cubic(middle, *parts)
        over = (time >= longest) | (foil_gone >= 1)
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    share[past] = high
    return share


def _tops_inside(pool: Pool, trial: Trial, hill: Mask) -> FloatArray:
    """Return the highest temperatures [K] of baths that first warm and then cool within a step."""
    step = trial.step[hill]
    start, end = pool.state[TEMPERATURE, hill], trial.end[TEMPERATURE, hill]
    start_rise = step * pool.slope[TEMPERATURE, hill]
    end_rise = step * trial.end_slope[TEMPERATURE, hill]
    inside = cubic(np.linspace(0.1, 0.9, 9)[:, None], start, end, start_rise, end_rise)
    tops: FloatArray = np.minimum(inside.max(axis=0), HOTTEST_BATH)
    return tops


def curves(steps: list[Step], count: int) -> FloatArray:
    """Lay the steps of every scenario out as curves of its states.

    Parameters
    ----------
    steps : list of Step
        As `solve` gives them.
    count : int
        Number of scenarios, N.

    Returns
    -------
    array
        Rows `STATES` [s, share, mol/m³, K], shape (4, N, points): the start, then `POINTS` a step.
        A scenario with fewer steps than others holds its last state.
    """
    scenario = np.concatenate([step.scenario for step in steps])
    share = np.concatenate([step.share for step in steps])
    parts = [
        np.concatenate(same_part, axis=1)
        for same_part in zip(*(step.cubic_parts for step in steps), strict=True)
    ]
    # the steps of one scenario after the other, in the order in which they were taken
    order = np.argsort(scenario, kind="stable")
    whole = Step(scenario, share, *parts).of_some(order)

    place = np.arange(scenario.size) - np.searchsorted(whole.scenario, whole.scenario)
    most_steps = int(np.bincount(scenario, minlength=count).max())
    inside = whole.share[:, None] * np.arange(1, POINTS + 1) / POINTS
    points = np.full((4, count, most_steps, POINTS), np.nan)
    points[:, whole.scenario, place] = cubic(inside, *(p[:, :, None] for p in whole.cubic_parts))
    first = np.searchsorted(whole.scenario, np.arange(count))
    table = np.concatenate([whole.start[:, first, None], points.reshape(4, count, -1)], axis=2)

    # hold the last state to the right end of the table
    missing = np.isnan(table)
    last = np.where(missing[TIME], 0, np.arange(table.shape[2])).max(axis=1)
    last_state = np.take_along_axis(
        table, np.broadcast_to(last[None, :, None], (4, count, 1)), axis=2
    )
    return np.where(missing, last_state, table)
