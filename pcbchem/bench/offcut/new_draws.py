"""New plausible draws around those few that a bench's offcuts leave over: weighed in stages, drawn again, moved."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ...common.arrays import FloatArray, as_draws
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.plausible import FACTS, coordinates, log_prior, values_at, walls
from ...reaction.bath.setup import Tray
from ..bottle.strength import Strength
from .likelihood import Names, bottles, expected, fit, sure
from .offcut import Offcut

Score = Callable[[FloatArray], tuple[FloatArray, FloatArray]]
"""From places (D, N) [-] the logarithms of how plausible they are and of how well they fit [-], each (N,)."""

STILL = 0.33
"""Each stage weighs only so sharply that this share of the draws still counts [-]."""
MOVES = 4
"""How often every draw is moved in a stage; in the last twice as often [-]."""
JITTER = 1e-3  # of a coordinate, so that no two draws stay the same
SHARES = (
    0.15,
    0.5,
    1.0,
)  # about so many of the coordinates are moved at once, one of the three at random


def effective(weights: FloatArray) -> float:
    """How many draws of equal weight count as much as these [-]: (sum of the weights)² over the sum of their squares.

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
    >>> print(f"{effective(np.array([1.0, 1.0, 0.0, 0.0])):.0f}")
    2
    """
    return float(weights.sum() ** 2 / (weights**2).sum())


def resampled(weights: FloatArray, count: int, start: float = 0.5) -> FloatArray:
    """Which draws to take so that each comes as often as its weight says: evenly spaced along the sum of weights.

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
    >>> print(resampled(np.array([0.0, 1.0, 3.0]), 4))
    [1 2 2 2]
    """
    along = np.cumsum(weights) / np.sum(weights)
    steps = (start + np.arange(count)) / count
    return np.minimum(np.searchsorted(along, steps, side="right"), weights.size - 1)


def sharpened(fit: FloatArray, done: float) -> float:
    """How far [-], up to 1, the fit can be counted after `done` of it so that `STILL` of the draws still count."""

    def left(to: float) -> float:
        gain = (to - done) * fit
        return effective(np.exp(gain - gain.max()))

    if left(1.0) >= STILL * fit.size:
        return 1.0
    low, high = done, 1.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if left(middle) >= STILL * fit.size else (low, middle)
    return high


def around(
    places: FloatArray,
    score: Score,
    walled: FloatArray,
    generator: np.random.Generator,
    progress: Callable[[float], None],
) -> FloatArray:
    """Draws that are as plausible as the first and fit: the first weighed in stages, drawn again and moved.

    Parameters
    ----------
    places : array
        Draws of equal weight from what is plausible before the fit is asked [-], (D, N).
    score : callable
        What moved draws are judged by, see `Score`; minus infinity is impossible.
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
    Sequential Monte Carlo with tempering (Del Moral, Doucet and Jasra 2006, from memory) and moves along the difference
    of two other draws (ter Braak 2006, from memory): the spread of the draws themselves sets length and direction.
    """
    prior, fit = score(places)
    done = 0.0
    while done < 1.0:
        to = sharpened(fit, done)
        gain = (to - done) * fit
        kept = resampled(
            np.isfinite(prior) * np.exp(gain - gain.max()), fit.size, generator.random()
        )
        places, prior, fit = places[:, kept], prior[kept], fit[kept]
        count = MOVES if to < 1.0 else 2 * MOVES
        for move in range(count):
            tried = _step(places, walled, generator)
            its_prior, its_fit = score(tried)
            gain = its_prior - prior + to * (its_fit - fit)
            took = np.log(generator.random(fit.size)) < gain
            places = np.where(took, tried, places)
            prior, fit = np.where(took, its_prior, prior), np.where(took, its_fit, fit)
            progress(done + (to - done) * (move + 1) / count)
        done = to
    return places


def _step(places: FloatArray, walled: FloatArray, generator: np.random.Generator) -> FloatArray:
    """Every draw moved by a share of the difference of two others, in some of its coordinates [-], (D, N)."""
    size, count = places.shape
    seat = generator.permutation(count)
    who = np.argsort(seat)
    one, other = (
        who[(seat + far) % count] for far in generator.choice(np.arange(1, count), 2, replace=False)
    )
    moved = generator.random((size, count)) < generator.choice(SHARES, count)
    moved[generator.integers(size, size=count), np.arange(count)] = True
    length = 2.38 / np.sqrt(2 * moved.sum(axis=0))
    step = length * (places[:, one] - places[:, other]) + JITTER * generator.standard_normal(
        (size, count)
    )
    tried = places + np.where(moved, step, 0.0)
    mirrored = 1 - np.abs(1 - np.abs(tried) % 2)
    return np.where(walled[:, None], mirrored, tried)


def made_around(
    rows: Sequence[Offcut],
    draws: dict[str, FloatArray],
    strengths: dict[Names, FloatArray],
    spread: float,
    measured: dict[Names, Strength],
    generator: np.random.Generator,
    progress: Callable[[float], None],
) -> tuple[dict[str, FloatArray], dict[Names, FloatArray]]:
    """New draws and strengths [their units] as likely as the shipped ones by ranges, facts and offcuts together."""
    known = bottles(rows)
    there = coordinates(draws)
    places = np.vstack(
        [
            there,
            *(
                (strengths[names] - bottle.low) / (bottle.high - bottle.low or 1.0)
                for names, bottle in known.items()
            ),
        ]
    )
    timed, films = (
        [fact for fact in FACTS if (fact.volume > 0) == boards] for boards in (True, False)
    )
    baths = [(fact.bath, fact.board, Tray()) for fact in timed]

    def values(at: FloatArray) -> tuple[dict[str, FloatArray], dict[Names, FloatArray]]:
        return values_at(at[: len(there)]), {
            names: np.minimum(bottle.low + (bottle.high - bottle.low) * share, bottle.high)
            for (names, bottle), share in zip(known.items(), at[len(there) :], strict=True)
        }

    def score(at: FloatArray) -> tuple[FloatArray, FloatArray]:
        drawn, bottled = values(at)
        times = expected(rows, drawn, bottled, baths)
        parameters = RateParameters(**{name: as_draws(column) for name, column in drawn.items()})
        met = [fact.met(time) for fact, time in zip(timed, times[len(rows) :], strict=True)]
        met += [fact.met(fact.predict(parameters)) for fact in films]
        prior = np.where(np.all(met, axis=0), log_prior(at[: len(there)]), -np.inf)
        return prior, fit(rows, times[: len(rows)], spread)[0] + sure(measured, bottled)

    return values(
        around(places, score, np.append(walls(), np.full(len(known), True)), generator, progress)
    )
