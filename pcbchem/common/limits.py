"""What a value may be: checks of arguments, the ranges we checked, and errors and warnings that carry their parts.

An impossible argument raises `InputError`. A possible one outside the range in which a property was
checked gives one `RangeWarning` and a finite result. Both hold name, value, limits and unit as
attributes, so that a page can say them in its own words: nobody has to read a sentence.
"""

from __future__ import annotations

import contextlib
import warnings
from collections.abc import Iterator
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from .arrays import Draws, FloatArray

IMPOSSIBLE = "is impossible"
"""What most errors say is wrong with a value."""
BARELY = 1e-9
"""A value so little outside its range, as a share of the range [-], is rounding and gives no warning."""

_COLLECTED: ContextVar[list[RangeWarning] | None] = ContextVar("collected", default=None)


class InputError(ValueError):
    """A value that cannot be: which argument, what it was, what is wrong, and what it must be.

    Its words are "{field}{about} {wrong}: {rule}; {hint}".

    Parameters
    ----------
    field : str
        Name of the argument, or of the input of a page, that is at fault.
    rule : str
        What it must be: "it must be 0 to 1 m".
    value : Any
        The value that was given [unit]; leave it out where the words do not show it.
    wrong : str
        What is wrong with it: "is impossible", "is not known".
    about : str, optional
        Words between the name and `wrong`; " = value" unless given.
    low, high : float, optional
        Limits [unit], where there are some.
    unit : str
        Unit of value and limits.
    hint : str
        Advice for somebody who writes Python; a page leaves it out.
    """

    def __init__(
        self,
        field: str,
        rule: str,
        *,
        value: Any = None,
        wrong: str = IMPOSSIBLE,
        about: str | None = None,
        low: float | None = None,
        high: float | None = None,
        unit: str = "",
        hint: str = "",
    ) -> None:
        self.field, self.rule, self.value, self.wrong = field, rule, value, wrong
        self.about = f" = {shown(value)}" if about is None else about
        self.low, self.high, self.unit, self.hint = low, high, unit, hint
        super().__init__(field)

    def __str__(self) -> str:
        wrong = f" {self.wrong}" if self.wrong else ""
        hint = f"; {self.hint}" if self.hint else ""
        return f"{self.field}{self.about}{wrong}: {self.rule}{hint}"

    def inside(self, name: str) -> InputError:
        """Return the same error, of a value that stands inside something of this name.

        Examples
        --------
        >>> print(InputError("share", "it must be 0 to 1", value=2).inside("used bath"))
        used bath: share = 2 is impossible: it must be 0 to 1
        """
        return InputError(
            name,
            self.rule,
            value=self.value,
            wrong=self.wrong,
            about=f": {self.field}{self.about}",
            low=self.low,
            high=self.high,
            unit=self.unit,
            hint=self.hint,
        )


class RangeWarning(UserWarning):
    """A property was read outside the range where we checked it.

    Parameters
    ----------
    reader : str
        What read it: "density", "etch", "stand".
    quantity : str
        What is outside: "temperature".
    value : float
        The value farthest outside [unit].
    low, high : float
        The range we checked [unit].
    unit : str
        Unit of value and range.
    """

    def __init__(
        self, reader: str, quantity: str, value: float, low: float, high: float, unit: str
    ) -> None:
        self.reader, self.quantity, self.value = reader, quantity, value
        self.low, self.high, self.unit = low, high, unit
        super().__init__(reader, quantity, value, low, high, unit)

    def __str__(self) -> str:
        return (
            f"{self.reader}: {self.quantity} = {self.value:g} {self.unit} is outside the range "
            f"we checked, {self.low:g} to {self.high:g} {self.unit}"
        )


@dataclass(frozen=True)
class Range:
    """Where a property was checked: outside it the number is finite but a guess."""

    name: str
    low: float
    high: float
    unit: str = ""

    def overshoot(self, value: ArrayLike) -> tuple[float, float]:
        """Find the value farthest outside.

        Parameters
        ----------
        value : float or array
            Values to look at [own unit].

        Returns
        -------
        tuple of float
            Its distance from the range as a share of the width [-], below 0 where all lie inside;
            and the value itself [own unit].
        """
        array = np.asarray(value, dtype=float)
        if not array.size:
            return 0.0, self.low
        distance = np.maximum(self.low - array, array - self.high) / (self.high - self.low)
        farthest = int(np.argmax(distance))
        return float(distance.flat[farthest]), float(array.flat[farthest])


def shown(value: Any) -> str:
    """Write a value for an error, at most 80 characters of it.

    Examples
    --------
    >>> print(shown(0.25), shown("a"))
    0.25 'a'
    """
    if isinstance(value, float | np.floating):
        return f"{value:g}"
    return f"{value!r:.80}"


def limits_in_words(low: float, high: float, unit: str = "", *, above: bool = False) -> str:
    """Write limits [unit] as "0 to 1 m", or "above 0 to 1 m" where the lower one cannot be reached."""
    return f"{'above ' if above else ''}{low:g} to {high:g} {unit}".rstrip()


def check_values(
    name: str, value: ArrayLike, low: float, high: float, unit: str = "", *, above: bool = False
) -> FloatArray:
    """Return a value as floats, or say which argument is impossible.

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
    InputError
        Not a number, NaN, infinite or outside the limits.
    """
    rule = f"it must be {limits_in_words(low, high, unit, above=above)}"
    try:
        array = value.copy() if isinstance(value, Draws) else np.array(value, dtype=float)
    except (TypeError, ValueError):
        raise InputError(
            name, rule, value=value, wrong="is not a number", low=low, high=high, unit=unit
        ) from None
    good = np.isfinite(array) & (array <= high) & ((array > low) if above else (array >= low))
    if not np.all(good):
        worst = float(np.asarray(array)[~np.asarray(good)].flat[0])
        raise InputError(name, rule, value=worst, low=low, high=high, unit=unit)
    return array


def check_number(
    name: str, value: Any, low: float, high: float, unit: str, *, above: bool = False
) -> float:
    """Return one number within its limits; arguments and errors as for `check_values` [unit]."""
    is_number = isinstance(value, int | float | np.number | np.ndarray)
    if is_number and not isinstance(value, bool) and not np.ndim(value):
        with contextlib.suppress(OverflowError):  # a whole number of hundreds of digits
            return float(check_values(name, value, low, high, unit, above=above))
    rule = f"a plan takes one number, {limits_in_words(low, high, unit, above=above)}"
    raise InputError(
        name, rule, value=value, about=f" = {value!r:.80}", low=low, high=high, unit=unit
    )


def check_whole(name: str, value: Any, low: int, high: int) -> int:
    """Return a whole number from `low` to `high` [-], or raise `InputError`."""
    is_whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not is_whole or not low <= value <= high:
        rule = f"it must be a whole number from {low} to {high}"
        raise InputError(name, rule, value=value, about=f" = {value!r}", low=low, high=high)
    return int(value)


def check_choice(name: str, value: object, choices: tuple[str, ...]) -> str:
    """Return a value that is one of the choices, or raise `InputError` that names them."""
    if not isinstance(value, str) or value not in choices:
        raise InputError(
            name, f"choose from {', '.join(choices)}", value=value, wrong="is not known"
        )
    return value


@contextlib.contextmanager
def naming(name: str) -> Iterator[None]:
    """Let every error about a value inside begin with the name of what it is about.

    Raises
    ------
    InputError
        In place of an `InputError`, with its parts.
    ValueError
        In place of any other ValueError or OverflowError.
    """
    try:
        yield
    except InputError as error:
        raise error.inside(name) from None
    except (ValueError, OverflowError) as error:
        raise ValueError(f"{name}: {error}") from None


@contextlib.contextmanager
def collecting_warnings(collected: list[RangeWarning] | None = None) -> Iterator[None]:
    """Keep the RangeWarnings of this thread off the screen: each once in the list, if one is given.

    Never yield inside it.
    """
    token = _COLLECTED.set([] if collected is None else collected)
    try:
        yield
    finally:
        _COLLECTED.reset(token)


def warn_outside(reader: str, *pairs: tuple[Range, ArrayLike], stacklevel: int = 3) -> None:
    """Give at most one RangeWarning for a call: of the value that is farthest outside its range.

    Parameters
    ----------
    reader : str
        What reads the values.
    *pairs : tuple
        A range, and the values that should lie in it [own unit].
    stacklevel : int
        As in `warnings.warn` [-].
    """
    distances = [(where.overshoot(value), where) for where, value in pairs]
    (distance, value), where = max(distances, key=lambda pair: pair[0][0])
    if distance <= BARELY:
        return
    warning = RangeWarning(reader, where.name, value, where.low, where.high, where.unit)
    collected = _COLLECTED.get()
    if collected is None:
        warnings.warn(warning, stacklevel=stacklevel)
    elif str(warning) not in map(str, collected):
        collected.append(warning)
