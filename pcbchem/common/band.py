"""Doubt is an axis: what lies between the draws of a band, and draws between two ends."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import ArrayLike

from .arrays import MOST_DRAWS, Draws, FloatArray, as_draws, common_shape
from .limits import check_values


@dataclasses.dataclass(frozen=True, eq=False)
class Band:
    """What 8 of 10 plausible baths lie between, in the unit of its field.

    `low`, `middle`, `high` are the 10, 50 and 90 % values, `never` the share of draws that are infinite.
    """

    low: FloatArray
    middle: FloatArray
    high: FloatArray
    never: FloatArray
    values: FloatArray = dataclasses.field(repr=False)
    weights: FloatArray | None = dataclasses.field(default=None, repr=False)

    @classmethod
    def of(cls, values: ArrayLike, draws: int | None, weights: ArrayLike | None = None) -> Band:
        """The band of values [own unit] over their last axis, or of each value where there is no draw axis.

        Parameters
        ----------
        values : array
            Values, infinite where it never happens [own unit].
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
        ValueError
            Values that are NaN; weights that are negative, not finite, all 0 or of another length.
        """
        array = np.asarray(values, dtype=float)
        if np.isnan(array).any():
            raise ValueError(
                f"values = nan ({np.isnan(array).sum()} times) is impossible: they must be numbers"
            )
        if draws is None:
            array = array[..., None]
        w = None
        if weights is not None:
            w = np.asarray(check_values("weights", weights, 0.0, 1e12))
            if w.shape != array.shape[-1:] or not w.sum() > 0:
                raise ValueError(
                    f"weights = array of shape {w.shape}, sum {w.sum():g} is impossible: it must be "
                    f"({array.shape[-1]},) with a sum above 0"
                )
        low, middle, high = (
            np.quantile(array, q, axis=-1, method="inverted_cdf", weights=w)
            for q in (0.1, 0.5, 0.9)
        )
        never = (
            np.isinf(array).mean(axis=-1)
            if w is None
            else np.average(np.isinf(array), axis=-1, weights=w)
        )
        return cls(low, middle, high, never, array, w)

    def over(self, limit: ArrayLike) -> FloatArray:
        """Share of draws [-] above a limit [unit of the band]."""
        above = self.values > np.asarray(limit, dtype=float)[..., None]
        return np.asarray(np.average(above, axis=-1, weights=self.weights))


def between(low: ArrayLike, high: ArrayLike, draws: int, seed: int) -> Draws:
    """Say that a value lies somewhere between two others, nobody knows where.

    Parameters
    ----------
    low, high : float or array
        Limits [any unit]; an array needs a last axis of length 1.
    draws : int
        How many draws [-], 1 to 400.
    seed : int
        Number [-] that makes the draws repeatable; two bottles need two seeds, or they are tied together.

    Returns
    -------
    Draws
        Uniform draws [unit of low] along a last axis.

    Raises
    ------
    ValueError
        Limits that are not finite or the wrong way round, draws or seed that cannot be.

    Examples
    --------
    >>> print(between(0.09, 0.12, draws=200, seed=1).shape)
    (200,)
    """
    for name, number, least, most in (("draws", draws, 1, MOST_DRAWS), ("seed", seed, 0, 2**63)):
        if (
            isinstance(number, bool)
            or not isinstance(number, (int, np.integer))
            or not least <= number <= most
        ):
            raise ValueError(
                f"{name} = {number!r} is impossible: it must be a whole number from {least} to {most}"
            )
    edge = 1e300
    bottom, top = check_values("low", low, -edge, edge), check_values("high", high, -edge, edge)
    for name, value in (("low", bottom), ("high", top)):
        if isinstance(value, Draws) or (value.ndim and value.shape[-1] != 1):
            raise ValueError(
                f"{name} = {np.asarray(value).flat[0]:g}, … of shape {value.shape} is impossible: "
                "it must be one number, or have a last axis of length 1"
            )
    common_shape(low=bottom, high=top)
    wrong = np.asarray(bottom > top)
    if np.any(wrong):
        a, b = (np.broadcast_to(v, wrong.shape)[wrong].flat[0] for v in (bottom, top))
        raise ValueError(f"low = {a:g} is impossible: it must be at most high = {b:g}")
    chance = np.random.default_rng(seed).random(draws)
    return as_draws(np.clip(bottom + (top - bottom) * chance, bottom, top))
