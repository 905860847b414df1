"""What every argument goes through: limits, ranges of validity, shapes, and the draw axis of doubt."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
MOST_DRAWS = 400
"""How many plausible parameter sets ship with the package: no draw axis may be longer."""


_LISTENER: ContextVar[list[str] | None] = ContextVar("listener", default=None)


@contextmanager
def hushed(heard: list[str] | None = None) -> Iterator[None]:
    """Keep RangeWarnings of this thread off the screen: each once in the list, if given. Never yield inside."""
    token = _LISTENER.set([] if heard is None else heard)
    try:
        yield
    finally:
        _LISTENER.reset(token)


@contextmanager
def named(name: str) -> Iterator[None]:
    """Let every ValueError inside begin with the name of what it is about."""
    try:
        yield
    except (ValueError, OverflowError) as error:
        raise ValueError(f"{name}: {error}") from None


class RangeWarning(UserWarning):
    """A property was read outside the range where we checked it."""


class Draws(np.ndarray[Any, np.dtype[np.float64]]):
    """An array whose last axis is the draw axis: draw i of every doubtful thing belongs together.

    Made by `pcbchem.matter.units.between` and `RateParameters.plausible`. Elementwise arithmetic
    keeps the mark; comparisons, indexing and reductions give a plain array. Methods that move axes
    (`reshape`, `T`, `ravel`) do not know better and keep it: take `np.asarray` first.
    """

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **kwargs: Any) -> Any:
        if kwargs.get("out") is not None:
            kwargs["out"] = tuple(np.asarray(o) if isinstance(o, Draws) else o for o in kwargs["out"])
        result = getattr(ufunc, method)(*(np.asarray(i) if isinstance(i, Draws) else i for i in inputs), **kwargs)
        kept = method == "__call__" and isinstance(result, np.ndarray) and result.ndim and result.dtype == float
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


def checked(name: str, value: ArrayLike, low: float, high: float, unit: str = "", *, above: bool = False) -> FloatArray:
    """Return value [unit as named] as floats, or say which argument is impossible.

    Parameters
    ----------
    name : str
        What the user called the argument.
    value : float or array
        The argument [unit as named].
    low, high : float
        Limits [unit as named]; both may be reached, `low` not when `above` is true.
    unit : str
        Unit of the limits, for the message.
    above : bool
        True where `low` itself is impossible.

    Returns
    -------
    array
        A copy of the values [unit as named], with their draw mark.

    Raises
    ------
    ValueError
        Not a number, NaN, infinite or outside the limits: names the argument, the value, the limits.
    """
    said = f"{'above ' if above else ''}{low:g} to {high:g}{' ' + unit if unit else ''}"
    try:
        array = value.copy() if isinstance(value, Draws) else np.array(value, dtype=float)
    except (TypeError, ValueError):
        raise ValueError(f"{name} = {value!r} is not a number: it must be {said}") from None
    good = np.isfinite(array) & (array <= high) & ((array > low) if above else (array >= low))
    if not np.all(good):
        worst = np.asarray(array)[~np.asarray(good)].flat[0]
        raise ValueError(f"{name} = {worst:g} is impossible: it must be {said}")
    return array


def chosen(name: str, value: object, choices: tuple[str, ...]) -> str:
    """Return value if it is one of choices, or raise ValueError naming the argument, the value and the choices."""
    if not isinstance(value, str) or value not in choices:
        raise ValueError(f"{name} = {value!r} is not known: choose from {', '.join(choices)}")
    return value


def common_shape(**named: Any) -> tuple[tuple[int, ...], int | None]:
    """Broadcast shape of the named arrays [any unit] and the length of their draw axis (None: no doubt).

    Raises
    ------
    ValueError
        Draw axes of two lengths, a plain list where the draws stand, or shapes that do not broadcast: names them.
    """
    lengths = {name: value.shape[-1] for name, value in named.items() if isinstance(value, Draws)}
    if len(set(lengths.values())) > 1:
        said = ", ".join(f"{name} has {count}" for name, count in {c: (n, c) for n, c in lengths.items()}.values())
        raise ValueError(f"draws of two lengths: {said}; give every doubtful thing the same number of draws")
    try:
        shape = np.broadcast_shapes(*(np.shape(value) for value in named.values()))
    except ValueError:
        said = ", ".join(f"{name} {np.shape(value)}" for name, value in named.items() if np.shape(value))
        raise ValueError(f"shapes do not broadcast: {said}; "
                         "a list beside draws needs a last axis of length 1") from None
    draws = next(iter(lengths.values()), None)
    for name, value in named.items() if draws is not None else ():
        if not isinstance(value, Draws) and np.ndim(value) and np.shape(value)[-1] != 1:
            raise ValueError(f"draws of two kinds: {name} has a plain last axis of {np.shape(value)[-1]} beside "
                             f"{draws} draws; put scenarios on axes before the draw axis, which must be of length 1")
    return shape, draws


@dataclass(frozen=True)
class Range:
    """Where a property was checked: outside it the number is finite but a guess."""

    name: str
    low: float
    high: float
    unit: str = ""

    def overshoot(self, value: ArrayLike) -> tuple[float, float]:
        """Largest distance outside the range as a share of its width [-], and the value [own unit] there."""
        array = np.asarray(value, dtype=float)
        out = np.maximum(self.low - array, array - self.high) / (self.high - self.low)
        if not out.size:
            return 0.0, self.low
        at = int(np.argmax(out))
        return float(out.flat[at]), float(array.flat[at])


def warn_outside(what: str, *pairs: tuple[Range, ArrayLike], stacklevel: int = 3) -> None:
    """Give at most one RangeWarning for a call, naming the value farthest outside [own unit] and the limits."""
    (share, worst), where = max(((r.overshoot(v), r) for r, v in pairs), key=lambda found: found[0][0])
    if share <= 1e-9:
        return
    said = (f"{what}: {where.name} = {worst:g} {where.unit} is outside the range we checked, "
            f"{where.low:g} to {where.high:g} {where.unit}")
    heard = _LISTENER.get()
    if heard is None:
        warnings.warn(said, RangeWarning, stacklevel=stacklevel)
    elif said not in heard:
        heard.append(said)
