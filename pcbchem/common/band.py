"""Doubt as an axis: what lies between the draws of a band, and draws between two ends."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import ArrayLike

from .arrays import MOST_DRAWS, Draws, FloatArray, as_draws, common_shape
from .limits import InputError, check_values, check_whole

QUANTILES = (0.1, 0.5, 0.9)
"""Shares of the draws [-] below the low end, the middle and the high end of a band."""
MOST_WEIGHT = 1e12
"""Largest weight of a draw [-]: sums of some hundred of them stay exact enough."""
MOST_LIMIT = 1e300
"""Largest end of a doubtful quantity [any unit]: twice that is still a number."""


@dataclasses.dataclass(frozen=True, eq=False)
class Band:
    """What 8 of 10 plausible baths lie between, in the unit of the values.

    Parameters
    ----------
    low, middle, high : array
        The 10, 50 and 90 % values [unit of the values].
    never : array
        Share of the draws [-] that are infinite: of a time, that it never happens.
    values : array
        Every draw, along the last axis [unit of the values].
    weights : array or None
        Weight of each draw [-]; None: all count alike.
    """

    low: FloatArray
    middle: FloatArray
    high: FloatArray
    never: FloatArray
    values: FloatArray = dataclasses.field(repr=False)
    weights: FloatArray | None = dataclasses.field(default=None, repr=False)

    @classmethod
    def of(cls, values: ArrayLike, draws: int | None, weights: ArrayLike | None = None) -> Band:
        """Find the band of values over their last axis, or of each value without a draw axis.

        Parameters
        ----------
        values : array
            Values, infinite where it never happens [any unit].
        draws : int or None
            Length of the draw axis, None where there is none.
        weights : array or None
            Weight of each draw [-], not negative, not all 0.

        Returns
        -------
        Band
            In the unit of the values.

        Raises
        ------
        InputError
            Values that are NaN; weights that are negative, not finite, all 0 or of another length.

        Examples
        --------
        >>> band = Band.of([1.0, 2.0, 3.0, 4.0, np.inf], draws=5)
        >>> print(f"{band.low:.0f} {band.middle:.0f} {band.high:.0f}, never {band.never:.1f}")
        1 3 inf, never 0.2
        """
        array = np.asarray(values, dtype=float)
        # Infinity means never and may be; NaN is a fault of whoever made the values
        nan_count = np.isnan(array).sum()
        if nan_count:
            raise InputError(
                "values", "they must be numbers", value=np.nan, about=f" = nan ({nan_count} times)"
            )
        if draws is None:
            array = array[..., None]  # what is not in doubt is a band of one draw
        weight = None
        if weights is not None:
            weight = _checked_weights(weights, array.shape[-1])

        # "inverted_cdf" gives one of the draws, and so never a value between a number and infinity
        low, middle, high = np.quantile(
            array, QUANTILES, axis=-1, method="inverted_cdf", weights=weight
        )
        never = np.average(np.isinf(array), axis=-1, weights=weight)
        return cls(low, middle, high, never, array, weight)

    def over(self, limit: ArrayLike) -> FloatArray:
        """Return the share of draws [-] above a limit [unit of the band].

        Examples
        --------
        >>> print(f"{Band.of([1.0, 2.0, 3.0, 4.0], draws=4).over(2.5):.2f}")
        0.50
        """
        # A last axis of length 1, so that a limit stands against every draw of its scenario
        is_above = self.values > np.asarray(limit, dtype=float)[..., None]
        return np.asarray(np.average(is_above, axis=-1, weights=self.weights))


def _checked_weights(weights: ArrayLike, draws: int) -> FloatArray:
    """Return weights [-] of so many draws, or raise InputError."""
    array = np.asarray(check_values("weights", weights, 0.0, MOST_WEIGHT))
    if array.shape != (draws,) or not array.sum() > 0:
        raise InputError(
            "weights",
            f"it must be ({draws},) with a sum above 0",
            value=weights,
            about=f" = array of shape {array.shape}, sum {array.sum():g}",
        )
    return array


def between(low: ArrayLike, high: ArrayLike, draws: int, seed: int) -> Draws:
    """Say that a value lies somewhere between two others, nobody knows where.

    Each draw is low + (high - low) * chance, with a chance that is uniform from 0 to 1.

    Parameters
    ----------
    low, high : float or array
        Limits [any unit]; an array needs a last axis of length 1.
    draws : int
        How many draws [-], 1 to 400.
    seed : int
        Number [-] that makes the draws repeatable; two bottles need two seeds, or they are tied
        together.

    Returns
    -------
    Draws
        Uniform draws [unit of low] along a last axis.

    Raises
    ------
    InputError
        Limits that are not finite or the wrong way round, draws or seed that cannot be.

    Examples
    --------
    >>> print(between(0.09, 0.12, draws=200, seed=1).shape)
    (200,)
    """
    check_whole("draws", draws, 1, MOST_DRAWS)
    check_whole("seed", seed, 0, 2**63)
    bottom = check_values("low", low, -MOST_LIMIT, MOST_LIMIT)
    top = check_values("high", high, -MOST_LIMIT, MOST_LIMIT)
    _check_room("low", bottom)
    _check_room("high", top)
    common_shape(low=bottom, high=top)
    is_reversed = np.asarray(bottom > top)
    if np.any(is_reversed):
        # The error shows the first pair; either end may be one number for all scenarios
        lows = np.broadcast_to(bottom, is_reversed.shape)
        highs = np.broadcast_to(top, is_reversed.shape)
        first_low, first_high = float(lows[is_reversed][0]), float(highs[is_reversed][0])
        raise InputError("low", f"it must be at most high = {first_high:g}", value=first_low)

    # Rounding may lead a draw past its limit by the last bit
    chance = np.random.default_rng(seed).random(draws)
    return as_draws(np.clip(bottom + (top - bottom) * chance, bottom, top))


def _check_room(name: str, limit: FloatArray) -> None:
    """Refuse a limit that leaves no room for a draw axis."""
    if isinstance(limit, Draws) or (limit.ndim and limit.shape[-1] != 1):
        first = np.asarray(limit).flat[0]
        raise InputError(
            name,
            "it must be one number, or have a last axis of length 1",
            value=limit,
            about=f" = {first:g}, … of shape {limit.shape}",
        )
