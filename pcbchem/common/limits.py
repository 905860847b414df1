"""Say what a value may be: checks of arguments, ranges, and errors and warnings with their parts.

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
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from .arrays import Draws, FloatArray

IMPOSSIBLE = "is impossible"
"""What most errors say is wrong with a value."""
BARELY = 1e-9
"""A value so little outside its range, as a share of the range [-], is rounding: no warning."""

# A context variable, so that one thread that collects does not take the warnings of another
_COLLECTION: ContextVar[list[RangeWarning] | None] = ContextVar("collection", default=None)


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
        if about is None:
            about = f" = {value_in_words(value)}"
        self.field = field
        self.rule = rule
        self.value = value
        self.wrong = wrong
        self.about = about
        self.low = low
        self.high = high
        self.unit = unit
        self.hint = hint
        super().__init__(field)

    def __str__(self) -> str:
        # Put together here and not at the start: who passes an error on may add to a part of it
        words = f"{self.field}{self.about}"
        if self.wrong:
            words += f" {self.wrong}"
        words += f": {self.rule}"
        if self.hint:
            words += f"; {self.hint}"
        return words

    def inside(self, name: str) -> InputError:
        """Return the same error, of a value that stands inside something of this name.

        Examples
        --------
        >>> print(InputError("share", "it must be 0 to 1", value=2).inside("used bath"))
        used bath: share = 2 is impossible: it must be 0 to 1
        """
        return InputError(name, self.rule, **self._parts(f": {self.field}{self.about}"))

    def __reduce__(self) -> tuple[Any, ...]:
        # An error crosses to another process as a pickle; the default forgets the named parts.
        # What is called there has them all already: it takes no arguments more
        return partial(InputError, self.field, self.rule, **self._parts(self.about)), ()

    def _parts(self, about: str) -> dict[str, Any]:
        return {
            "value": self.value,
            "wrong": self.wrong,
            "about": about,
            "low": self.low,
            "high": self.high,
            "unit": self.unit,
            "hint": self.hint,
        }


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
        self.reader = reader
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        # All parts go up, so that a warning too comes whole from another process
        super().__init__(reader, quantity, value, low, high, unit)

    def __str__(self) -> str:
        return (
            f"{self.reader}: {self.quantity} = {self.value:g} {self.unit} is outside the range "
            f"we checked, {self.low:g} to {self.high:g} {self.unit}"
        )


@dataclass(frozen=True)
class Range:
    """Where a property was checked: outside it the number is finite but a guess.

    Parameters
    ----------
    name : str
        What lies in it: "mass fraction of HCl".
    low, high : float
        Its ends [unit].
    unit : str
        Unit of the ends.
    """

    name: str
    low: float
    high: float
    unit: str = ""

    def overshoot(self, value: ArrayLike) -> tuple[float, float]:
        """Find the value farthest outside.

        Parameters
        ----------
        value : float or array
            Values to look at [unit of the range].

        Returns
        -------
        tuple of float
            Its distance from the range as a share of the width [-], below 0 where all lie inside;
            and the value itself [unit of the range].
        """
        array = np.asarray(value, dtype=float)
        if not array.size:
            return 0.0, self.low  # no value, and so none outside

        # Only the side that was passed counts above 0. As a share of the width, kelvin and mass
        # fractions can be compared
        distance = np.maximum(self.low - array, array - self.high) / (self.high - self.low)
        farthest = int(np.argmax(distance))
        return float(distance.flat[farthest]), float(array.flat[farthest])


def value_in_words(value: Any) -> str:
    """Write a value for an error, at most 80 characters of it.

    Examples
    --------
    >>> print(value_in_words(0.25), value_in_words("a"))
    0.25 'a'
    """
    if isinstance(value, float | np.floating):
        return f"{value:g}"
    # Anything may have been passed, a whole file among it: the error must stay readable
    return f"{value!r:.80}"


def limits_in_words(low: float, high: float, unit: str = "", *, above: bool = False) -> str:
    """Write limits [unit] as "0 to 1 m", or "above 0 to 1 m" where the lower one is impossible.

    Examples
    --------
    >>> print(limits_in_words(0, 0.5, "m", above=True))
    above 0 to 0.5 m
    """
    words = f"{low:g} to {high:g} {unit}".rstrip()
    if above:
        return f"above {words}"
    return words


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

    Examples
    --------
    >>> print(f"{check_values('depth', 0.02, 0, 1, 'm'):.2f}")
    0.02
    """
    # A plan calls this some hundreds of times. So the check runs on plain arrays, which are quicker
    # than marked ones, and the words are put together only where something is wrong.
    # It keeps a copy: what the caller does to an array later changes nothing here.
    try:
        if isinstance(value, Draws):
            array = np.asarray(value.copy())
        else:
            array = np.array(value, float)
    except (TypeError, ValueError):
        rule = _rule(low, high, unit, above)
        raise InputError(
            name, rule, value=value, wrong="is not a number", low=low, high=high, unit=unit
        ) from None

    if above:
        is_over_low = array > low
    else:
        is_over_low = array >= low
    # Infinity is refused even where `high` is infinite; NaN fails every comparison
    good = np.isfinite(array) & is_over_low & (array <= high)
    if not good.all():
        rule = _rule(low, high, unit, above)
        first_bad = float(array[~good].flat[0])
        raise InputError(name, rule, value=first_bad, low=low, high=high, unit=unit)
    if isinstance(value, Draws):
        return array.view(Draws)
    return array


def _rule(low: float, high: float, unit: str, above: bool) -> str:
    return f"it must be {limits_in_words(low, high, unit, above=above)}"


def check_number(
    name: str, value: Any, low: float, high: float, unit: str, *, above: bool = False
) -> float:
    """Return one number within its limits; arguments and errors as for `check_values` [unit]."""
    # To Python true is a number; and an array without axes is one number
    is_number = isinstance(value, int | float | np.number | np.ndarray)
    if is_number and not isinstance(value, bool) and not np.ndim(value):
        # A whole number of hundreds of digits overflows: it is refused below, with the same words
        with contextlib.suppress(OverflowError):
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
    # Only a text is looked up: an array would be compared element by element
    if not isinstance(value, str) or value not in choices:
        raise InputError(
            name, f"choose from {', '.join(choices)}", value=value, wrong="is not known"
        )
    return value


def check_kind(name: str, value: object, kind: type) -> None:
    """Refuse a value that is not of a kind, a class of this package, by its name."""
    if not isinstance(value, kind):
        rule = f"it must be a {kind.__name__}"
        # whole, where `value_in_words` would cut it off
        raise InputError(name, rule, value=value, about=f" = {value!r}")


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
    # "from None": the new error says all that the first one did, so one is enough to read
    try:
        yield
    except InputError as error:
        raise error.inside(name) from None
    except (ValueError, OverflowError) as error:
        raise ValueError(f"{name}: {error}") from None


@contextlib.contextmanager
def collecting_warnings(collected: list[RangeWarning] | None = None) -> Iterator[None]:
    """Keep the RangeWarnings of this thread off the screen.

    Never yield inside it: whoever takes the value would collect too.

    Parameters
    ----------
    collected : list of RangeWarning, optional
        Where they go, each once.
    """
    if collected is None:
        collected = []  # nobody looks into this one
    token = _COLLECTION.set(collected)
    try:
        yield
    finally:
        # A block may stand inside another one, which then collects on
        _COLLECTION.reset(token)


def warn_outside(reader: str, *pairs: tuple[Range, ArrayLike], stacklevel: int = 3) -> None:
    """Give at most one RangeWarning for a call: of the value that is farthest outside its range.

    Parameters
    ----------
    reader : str
        What reads the values.
    *pairs : tuple
        A range, and the values that should lie in it [unit of the range].
    stacklevel : int
        As in `warnings.warn` [-].
    """
    warning = None
    farthest = BARELY
    for where, values in pairs:
        distance, value = where.overshoot(values)
        if distance > farthest:
            farthest = distance
            warning = RangeWarning(reader, where.name, value, where.low, where.high, where.unit)
    if warning is None:
        return
    collection = _COLLECTION.get()
    if collection is None:
        warnings.warn(warning, stacklevel=stacklevel)
    elif str(warning) not in map(str, collection):
        # A plan reads one bath hundreds of times; each warning is said once
        collection.append(warning)


def warn_again(outside: list[RangeWarning], stacklevel: int = 3) -> None:
    """Give the warnings that were collected, each once, where the caller of a caller stands.

    Parameters
    ----------
    outside : list of RangeWarning
        From `collecting_warnings`.
    stacklevel : int
        As in `warnings.warn` [-].
    """
    for warning in outside:
        checked = Range(warning.quantity, warning.low, warning.high, warning.unit)
        warn_outside(warning.reader, (checked, warning.value), stacklevel=stacklevel + 1)
