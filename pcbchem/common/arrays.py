"""Arrays of doubtful quantities: the draw axis, and shapes that go together."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
MOST_DRAWS = 400
"""How many plausible parameter sets ship with the package: no draw axis may be longer."""


class Draws(np.ndarray[Any, np.dtype[np.float64]]):
    """An array whose last axis is the draw axis: draw i of every doubtful thing belongs together.

    Made by `pcbchem.common.band.between` and `RateParameters.plausible`. Elementwise arithmetic
    keeps the mark; comparisons, indexing and reductions give a plain array. Methods that move axes
    (`reshape`, `T`, `ravel`) do not know better and keep it: take `np.asarray` first.
    """

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **kwargs: Any) -> Any:
        if kwargs.get("out") is not None:
            kwargs["out"] = tuple(
                np.asarray(o) if isinstance(o, Draws) else o for o in kwargs["out"]
            )
        result = getattr(ufunc, method)(
            *(np.asarray(i) if isinstance(i, Draws) else i for i in inputs), **kwargs
        )
        kept = (
            method == "__call__"
            and isinstance(result, np.ndarray)
            and result.ndim
            and result.dtype == float
        )
        return result.view(Draws) if kept else result

    def __getitem__(self, key: Any) -> Any:
        return np.asarray(self)[key]


def as_draws(values: ArrayLike) -> Draws:
    """Mark the last axis of an array [any unit] as the draw axis."""
    array = np.atleast_1d(np.asarray(values, dtype=float))
    if not 1 <= array.shape[-1] <= MOST_DRAWS:
        raise ValueError(f"draws = {array.shape[-1]} is not between 1 and {MOST_DRAWS}")
    return array.view(Draws)


def plain(values: Any) -> Any:
    """Draws [any unit] as they are; anything else as an array, or as a number where it has no axes."""
    return values if isinstance(values, Draws) else np.asarray(values)[()]


def common_shape(**named: Any) -> tuple[tuple[int, ...], int | None]:
    """Broadcast shape of the named arrays [any unit] and the length of their draw axis (None: no doubt).

    Raises
    ------
    ValueError
        Draw axes of two lengths, a plain list where the draws stand, or shapes that do not broadcast: names them.
    """
    lengths = {name: value.shape[-1] for name, value in named.items() if isinstance(value, Draws)}
    if len(set(lengths.values())) > 1:
        said = ", ".join(
            f"{name} has {count}"
            for name, count in {c: (n, c) for n, c in lengths.items()}.values()
        )
        raise ValueError(
            f"draws of two lengths: {said}; give every doubtful thing the same number of draws"
        )
    try:
        shape = np.broadcast_shapes(*(np.shape(value) for value in named.values()))
    except ValueError:
        said = ", ".join(
            f"{name} {np.shape(value)}" for name, value in named.items() if np.shape(value)
        )
        raise ValueError(
            f"shapes do not broadcast: {said}; a list beside draws needs a last axis of length 1"
        ) from None
    draws = next(iter(lengths.values()), None)
    for name, value in named.items() if draws is not None else ():
        if not isinstance(value, Draws) and np.ndim(value) and np.shape(value)[-1] != 1:
            raise ValueError(
                f"draws of two kinds: {name} has a plain last axis of {np.shape(value)[-1]} beside "
                f"{draws} draws; put scenarios on axes before the draw axis, which must be of length 1"
            )
    return shape, draws
