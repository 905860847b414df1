"""New plausible draws around those few that a bench's offcuts leave over.

Few of the shipped draws may be left where a bench is unlike most others. New ones are then drawn
around them: in the same ranges, by the same facts, as likely by ranges, facts and offcuts together.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.plausible import FACTS, coordinates, log_prior, values_at, walls
from ...reaction.bath.setup import Tray
from ..bottle.strength import Strength
from .likelihood import (
    Bath,
    BottleName,
    bottles_of,
    expected_times,
    fit_of_draws,
    fit_of_measurements,
    likely_steps,
    steps_to_offcuts,
)
from .offcut import Offcut

Score = Callable[[FloatArray], tuple[FloatArray, FloatArray]]
"""From places (D, N) [-] the logarithms of how plausible they are and of how well they fit [-],
each (N,)."""

SHARE_LEFT = 0.33
"""Each stage weighs only so sharply that this share of the draws still counts [-]."""
MOVES = 4
"""How often every draw is moved in a stage; in the last twice as often [-]."""
JITTER = 1e-3
"""So much of a coordinate is added to every move, so that no two draws stay the same [-]."""
SHARES_MOVED = (0.15, 0.5, 1.0)
"""A move changes about so many of the coordinates at once, one of the three at random [-]."""
STEP_LENGTH = 2.38
"""Length of a move in one coordinate, over the difference of two draws and √2 [-] (ter Braak)."""
# Facts about boards run beside the offcuts, those about the film are read from the rate
BOARD_FACTS = [fact for fact in FACTS if fact.volume > 0]
FILM_FACTS = [fact for fact in FACTS if not fact.volume > 0]
HALVINGS = 30
"""Enough to know a power to 1e-9 [-]."""
FEW = 30.0
"""With fewer effective draws than this new ones are made around those left [-]: only three, a tenth
of them, lie beyond an end of the band."""


@dataclasses.dataclass(frozen=True, eq=False)
class BenchDraws:
    """Draws of a bench, and how much each counts: N of them, for R offcuts.

    Parameters
    ----------
    columns : dict of array
        By parameter [its unit], each (N,).
    strengths : dict of array
        Of every bottle in the log by substance and name [kg/kg], each (N,).
    times : array
        What each offcut takes by them, were it a board [s], (R, N).
    weights : array
        Of the draws [-], (N,); their sum is 1.
    slips : array
        How likely each row is not what it says [-], (R,).
    steps : array
        How much longer offcuts take than `times` says, in their own tray [-], (N,).
    shipped_left : float
        How many of the shipped draws are left, counted in draws of equal weight [-].
    new_draws : int
        How many draws were made around those left; 0 where the shipped ones do.
    """

    columns: dict[str, FloatArray]
    strengths: dict[BottleName, FloatArray]
    times: FloatArray
    weights: FloatArray
    slips: FloatArray
    steps: FloatArray
    shipped_left: float
    new_draws: int


def effective_number(weights: FloatArray) -> float:
    """Compute how many draws of equal weight count as much as these: (Σw)² / Σw².

    Parameters
    ----------
    weights : array
        Weights [-], (N,), not all 0.

    Returns
    -------
    float
        From 1 to N [-] (L. Kish, Survey Sampling, 1965: from memory).

    Examples
    --------
    >>> print(f"{effective_number(np.array([1.0, 1.0, 0.0, 0.0])):.0f}")
    2
    """
    return float(weights.sum() ** 2 / (weights**2).sum())


def picks(weights: FloatArray, count: int, start: float = 0.5) -> FloatArray:
    """Choose draws so that each comes as often as its weight says.

    They are picked in even steps along the running sum of the weights.

    Parameters
    ----------
    weights : array
        Weights [-], (N,), not all 0.
    count : int
        How many to take.
    start : float
        Where between 0 and 1 the first of the even steps lies [-].

    Returns
    -------
    array of int
        Rising indices [-], (count,): a draw comes within one time of its share of `count`.

    Examples
    --------
    >>> print(picks(np.array([0.0, 1.0, 3.0]), 4))
    [1 2 2 2]
    """
    along = np.cumsum(weights) / np.sum(weights)
    # One random number for all steps: less is left to chance than by a number for each
    steps = (start + np.arange(count)) / count
    # By rounding the running sum may end just under 1, and the last step lie above it
    return np.minimum(np.searchsorted(along, steps, side="right"), weights.size - 1)


def draws_left(
    offcuts: Sequence[Offcut],
    draws: Mapping[str, FloatArray],
    strengths: Mapping[BottleName, FloatArray],
    times: FloatArray,
    spread: float,
    measured: Mapping[BottleName, Strength],
    transfer: float,
    seed: int,
    progress: Callable[[float], None] = lambda share: None,
    few: float = FEW,
) -> BenchDraws:
    """Weigh the shipped draws by the offcuts, or make new ones where too few are left.

    Parameters
    ----------
    offcuts, draws, strengths, spread, measured, progress
        As for `draw_anew`.
    times : array
        What the offcuts take by the shipped draws [s], (R, N).
    transfer : float
        How far the board that the draws are for lies from all offcuts together: standard deviation
        of the logarithm of its time [-]; 0: the draws are for the offcuts.
    seed : int
        For new draws [-].
    few : float
        With fewer effective draws than this new ones are made [-].

    Returns
    -------
    BenchDraws
        What is left.
    """
    steps = steps_to_offcuts(transfer, draws["rate_factor"])
    fit, slips = fit_of_draws(offcuts, times, spread, steps)
    weights = _weights_by(fit + fit_of_measurements(measured, strengths, times.shape[1]))
    shipped_left = effective_number(weights)
    columns, strengths = dict(draws), dict(strengths)
    new_draws = 0
    if shipped_left < few:
        generator = np.random.default_rng(seed)
        columns, strengths = draw_anew(
            offcuts, columns, strengths, spread, measured, generator, progress, transfer
        )
        # The new draws fit by where they lie: to weigh them too would count the offcuts twice
        new_draws = weights.size
        weights = np.full(new_draws, 1 / new_draws)
        times = expected_times(offcuts, columns, strengths)
        steps = steps_to_offcuts(transfer, columns["rate_factor"])
        slips = fit_of_draws(offcuts, times, spread, steps)[1]
    return BenchDraws(
        columns=columns,
        strengths=strengths,
        times=times,
        weights=weights,
        slips=np.average(slips, axis=1, weights=weights),
        steps=likely_steps(offcuts, times, spread, steps),
        shipped_left=shipped_left,
        new_draws=new_draws,
    )


def _weights_by(fit: FloatArray) -> FloatArray:
    """Turn logarithms of likelihoods [-] into weights whose sum is 1 [-], (N,).

    By Bayes: before the offcuts the shipped draws are equally likely.
    """
    weights = np.exp(fit - fit.max())  # the best is 1: not all of them can vanish
    return np.asarray(weights / weights.sum())


def draw_anew(
    offcuts: Sequence[Offcut],
    draws: Mapping[str, FloatArray],
    strengths: Mapping[BottleName, FloatArray],
    spread: float,
    measured: Mapping[BottleName, Strength],
    generator: np.random.Generator,
    progress: Callable[[float], None],
    transfer: float = 0.0,
) -> tuple[dict[str, FloatArray], dict[BottleName, FloatArray]]:
    """Draw parameters and strengths as likely by ranges, facts, offcuts and measurements together.

    Parameters
    ----------
    offcuts : sequence of Offcut
        With their times.
    draws : dict of array
        The shipped draws by parameter [its unit], each (N,).
    strengths : dict of array
        Strengths of the offcuts' bottles, uniform between their ends [kg/kg], each (N,).
    spread : float
        Standard deviation of the logarithm of a seen time [-].
    measured : dict of Strength
        What measurements say of some of the bottles.
    generator : Generator
        For all that is left to chance.
    progress : callable
        Called with the share that is done [-].
    transfer : float
        As for `steps_to_offcuts` [-].

    Returns
    -------
    tuple of dict
        New draws by parameter [its unit] and new strengths by bottle [kg/kg], each (N,).
    """
    bottles = bottles_of(offcuts)
    # A place has a coordinate for each parameter, and below them one for each bottle, 0 to 1
    places = list(coordinates(dict(draws)))
    parameter_count = len(places)
    for name, bottle in bottles.items():
        width = bottle.high - bottle.low
        if width == 0.0:  # an exact bottle stays where it is
            width = 1.0
        places.append((strengths[name] - bottle.low) / width)

    fact_baths = [Bath(fact.bath, fact.board, Tray()) for fact in BOARD_FACTS]

    def draws_at(places: FloatArray) -> dict[str, FloatArray]:
        return values_at(places[:parameter_count])

    def strengths_at(places: FloatArray) -> dict[BottleName, FloatArray]:
        by_bottle = {}
        for (name, bottle), share in zip(bottles.items(), places[parameter_count:], strict=True):
            strength = bottle.low + (bottle.high - bottle.low) * share
            by_bottle[name] = np.minimum(strength, bottle.high)  # rounding may lie above it
        return by_bottle

    def score(places: FloatArray) -> tuple[FloatArray, FloatArray]:
        # Strengths are uniform between their ends: they count in the fit, and not in the prior
        new_draws, new_strengths = draws_at(places), strengths_at(places)
        times = expected_times(offcuts, new_draws, new_strengths, fact_baths)
        meets_facts = _meets_facts(new_draws, times[len(offcuts) :])
        plausible = np.where(meets_facts, log_prior(places[:parameter_count]), -np.inf)
        steps = steps_to_offcuts(transfer, new_draws["rate_factor"])
        fit = fit_of_draws(offcuts, times[: len(offcuts)], spread, steps)[0]
        return plausible, fit + fit_of_measurements(measured, new_strengths, places.shape[1])

    with_walls = np.append(walls(), np.full(len(bottles), True))
    places_anew = move_in_stages(np.vstack(places), score, with_walls, generator, progress)
    return draws_at(places_anew), strengths_at(places_anew)


def _meets_facts(draws: Mapping[str, FloatArray], board_times: FloatArray) -> Any:
    """Tell which draws meet all facts, by the times [s] of those about boards; (N,)."""
    meets_facts = np.full(board_times.shape[1], True)
    for fact, time in zip(BOARD_FACTS, board_times, strict=True):
        meets_facts &= fact.met(time)
    parameters = RateParameters(**{name: as_draws(column) for name, column in draws.items()})
    for fact in FILM_FACTS:
        meets_facts &= fact.met(fact.predict(parameters))
    return meets_facts


def move_in_stages(
    places: FloatArray,
    score: Score,
    walled: FloatArray,
    generator: np.random.Generator,
    progress: Callable[[float], None],
) -> FloatArray:
    """Turn draws that are plausible into draws that are as plausible and fit.

    In each stage the fit counts a little more: the draws are weighed by it, drawn again by their
    weights, and moved.

    Parameters
    ----------
    places : array
        Draws of equal weight from what is plausible before the fit is asked [-], (D, N).
    score : callable
        What draws are judged by, see `Score`; minus infinity is impossible.
    walled : array
        Which coordinates end at 0 and 1 and are mirrored there [true or false], (D,).
    generator : Generator
        For all that is left to chance.
    progress : callable
        Called with the share that is done [-].

    Returns
    -------
    array
        As many draws, of equal weight [-], (D, N).

    Notes
    -----
    Sequential Monte Carlo with tempering (Del Moral, Doucet and Jasra 2006, from memory) and moves
    along the difference of two other draws (ter Braak 2006, from memory): the spread of the draws
    themselves sets length and direction. Of a fit f a stage counts the power p: exp(p f).
    """
    # The fit counts as its power p rises from 0 to 1: exp(p fit)
    plausible, fit = score(places)
    power = 0.0
    while power < 1.0:
        new_power = next_power(fit, power)
        gain = (new_power - power) * fit
        weights = np.exp(gain - gain.max())  # the best is 1: nothing overflows
        weights[np.isinf(plausible)] = 0.0  # shipped draws are rounded: one may just miss a fact
        indices = picks(weights, fit.size, generator.random())
        places, plausible, fit = places[:, indices], plausible[indices], fit[indices]

        # Moves take apart the draws that came twice. The last stage is what counts in the end
        moves = MOVES if new_power < 1.0 else 2 * MOVES
        for move in range(moves):
            trial = _trial_places(places, walled, generator)
            trial_plausible, trial_fit = score(trial)
            # The rule of Metropolis: then the moves lead to draws as likely as they should be
            gain = trial_plausible - plausible + new_power * (trial_fit - fit)
            better = np.log(generator.random(fit.size)) < gain  # by chance also a little worse
            places = np.where(better, trial, places)
            plausible = np.where(better, trial_plausible, plausible)
            fit = np.where(better, trial_fit, fit)
            progress(power + (new_power - power) * (move + 1) / moves)
        power = new_power
    return places


def next_power(fit: FloatArray, power: float) -> float:
    """Find how far the fit can be counted in the next stage.

    Parameters
    ----------
    fit : array
        Logarithm of the likelihood of each draw [-], (N,).
    power : float
        Up to which power it was counted already [-].

    Returns
    -------
    float
        Up to 1 [-]: by this power `SHARE_LEFT` of the draws still count.
    """

    def too_few_left(new_power: float) -> bool:
        # The draws have equal weight here: what was counted before is in how often each stands
        gain = (new_power - power) * fit
        return effective_number(np.exp(gain - gain.max())) < SHARE_LEFT * fit.size

    if not too_few_left(1.0):
        return 1.0
    # The more the fit counts the fewer are left: halve the range in which that becomes too few
    low, high = power, 1.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if too_few_left(middle):
            high = middle
        else:
            low = middle
    return high  # above `power` in any case, so that every stage goes on


def _trial_places(
    places: FloatArray, walled: FloatArray, generator: np.random.Generator
) -> FloatArray:
    """Move every draw by a share of the difference of two others, in some coordinates [-], (D, N).

    The steps are as likely forth as back, so that moves by them do not change what is likely.
    """
    size, count = places.shape
    # Around a table in random seats, all look at the draws so many and so many seats farther
    seat = generator.permutation(count)
    draw_in = np.argsort(seat)
    far, farther = generator.choice(np.arange(1, count), 2, replace=False)
    first, second = draw_in[(seat + far) % count], draw_in[(seat + farther) % count]

    in_move = generator.random((size, count)) < generator.choice(SHARES_MOVED, count)
    in_move[generator.integers(size, size=count), np.arange(count)] = True  # at least in one
    # The more coordinates are moved at once, the shorter, or hardly any move would be good
    length = STEP_LENGTH / np.sqrt(2 * in_move.sum(axis=0))
    jitter = JITTER * generator.standard_normal((size, count))
    step = length * (places[:, first] - places[:, second]) + jitter
    trial = places + np.where(in_move, step, 0.0)
    # Folded back as between two mirrors at 0 and 1, however far it went
    mirror_image = 1 - np.abs(1 - np.abs(trial) % 2)
    return np.where(walled[:, None], mirror_image, trial)
