"""Arrays of doubtful quantities: the draw axis, and shapes that go together.

A doubtful quantity is not one number but some hundred *draws* of it, along the last axis of an
array. Draw 17 of the acid, of the peroxide and of the rate belong to one plausible bath. The class
`Draws` marks such an array, so that a list of scenarios that only happens to be as long as the
draws is not taken for them.
"""

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
        # Reckon with plain arrays: asking a ufunc about Draws again would call this without end
        if kwargs.get("out") is not None:
            kwargs["out"] = tuple(_unmarked(target) for target in kwargs["out"])
        result = getattr(ufunc, method)(*(_unmarked(value) for value in inputs), **kwargs)

        # A reduction may have used up the draw axis, and what is true or false is no quantity
        is_elementwise = method == "__call__"
        is_array = isinstance(result, np.ndarray) and result.ndim > 0
        if is_elementwise and is_array and result.dtype == float:
            return result.view(Draws)
        return result

    def __getitem__(self, key: Any) -> Any:
        # An index may take one draw away, and then the last axis would be another
        return np.asarray(self)[key]


def _unmarked(value: Any) -> Any:
    if isinstance(value, Draws):
        return np.asarray(value)
    return value


def as_draws(values: ArrayLike) -> Draws:
    """Mark the last axis of an array as the draw axis.

    Parameters
    ----------
    values : float or array
        Draws [any unit]; a number is one draw.

    Returns
    -------
    Draws
        The same numbers [unit of the values].

    Raises
    ------
    ValueError
        A draw axis of length 0, or longer than 400.

    Examples
    --------
    >>> print(as_draws([[0.1, 0.2, 0.3]]).shape)
    (1, 3)
    """
    array = np.atleast_1d(np.asarray(values, dtype=float))
    count = array.shape[-1]
    if not 1 <= count <= MOST_DRAWS:
        raise ValueError(f"draws = {count} is not between 1 and {MOST_DRAWS}")
    return array.view(Draws)


def number_or_array(values: Any) -> Any:
    """Return draws [any unit] as they are, other values as an array, or as a number without axes.

    Examples
    --------
    >>> print(type(number_or_array(np.array(0.5))).__name__, type(number_or_array([1, 2])).__name__)
    float64 ndarray
    """
    if isinstance(values, Draws):
        return values
    # [()] takes the number out of an array without axes, and leaves every other array as it is
    return np.asarray(values)[()]


def common_shape(**named: Any) -> tuple[tuple[int, ...], int | None]:
    """Find the shape that arrays have together, and how many draws.

    Parameters
    ----------
    **named : float, array or Draws
        Arrays by the names that an error says [any unit].

    Returns
    -------
    tuple
        The broadcast shape, and the length of the draw axis (None: no doubt).

    Raises
    ------
    ValueError
        Draw axes of two lengths, a plain list where the draws stand, or shapes that do not
        broadcast: names them.

    Examples
    --------
    >>> print(common_shape(T=[[280.0], [300.0]], acid=as_draws([0.1, 0.2, 0.3])))
    ((2, 3), 3)
    """
    draws = _one_count(named)
    shape = _broadcast(named)
    if draws is None:
        return shape, None
    for name, value in named.items():
        if not isinstance(value, Draws):
            _check_beside_draws(name, np.shape(value), draws)
    return shape, draws


def _one_count(named: dict[str, Any]) -> int | None:
    """Return the number of draws that all agree on, None where there are none."""
    # One name for each length is enough for the error
    name_by_count: dict[int, str] = {}
    for name, value in named.items():
        if isinstance(value, Draws):
            name_by_count[value.shape[-1]] = name
    if not name_by_count:
        return None
    if len(name_by_count) > 1:
        counts = ", ".join(f"{name} has {count}" for count, name in name_by_count.items())
        raise ValueError(
            f"draws of two lengths: {counts}; give every doubtful thing the same number of draws"
        )
    (count,) = name_by_count
    return count


def _broadcast(named: dict[str, Any]) -> tuple[int, ...]:
    shapes = {name: np.shape(value) for name, value in named.items()}
    try:
        return np.broadcast_shapes(*shapes.values())
    except ValueError:
        # A single number, of shape (), goes with everything: it is not to blame
        listed = ", ".join(f"{name} {shape}" for name, shape in shapes.items() if shape)
        raise ValueError(
            f"shapes do not broadcast: {listed}; a list beside draws needs a last axis of length 1"
        ) from None


def _check_beside_draws(name: str, shape: tuple[int, ...], draws: int) -> None:
    """Refuse scenarios on the draw axis: number by number they would be tied to the draws."""
    if shape and shape[-1] != 1:
        raise ValueError(
            f"draws of two kinds: {name} has a plain last axis of {shape[-1]} beside "
            f"{draws} draws; put scenarios on axes before the draw axis, which must be of length 1"
        )
