"""Write numbers as people say them: times, temperatures, shares and parts, in the units of a lab.

`figures` writes any number to a few figures. A time is written in three ways: `clock` for what a
bath may take ("3.8 min": no better known than that), `watch` for what somebody keeps by a watch
("3 min 45 s"), and `span` for a band of times ("3.0 to 5.0 min"). What stays in words alone is
never read back: numbers are handed on as numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from .band import Band
from .units import ZERO_C, hour, minute, mL_per_cm2

MOST_FIGURES = 11
"""Figures to which two numbers are compared [-]: rounding lies far behind that."""
SHORT_TIME, MIDDLE_TIME = 1.5 * minute, 100 * minute
"""Below the one a time is said in seconds, below the other in minutes [s]."""


def figures(value: float, digits: int = 2) -> str:
    """Write a number [any unit] to so many figures, without an exponent: 75, 0.82, 1250.

    Examples
    --------
    >>> print(figures(1249.6, 3), figures(0.8239))
    1250 0.82
    """
    # "g" rounds to figures but may write 1.2e+03; "f" then writes the rounded number in full
    rounded = float(f"{value:.{digits}g}")
    return f"{rounded:.6f}".rstrip("0").rstrip(".")


def apart(first: float, second: float, digits: int = 2) -> tuple[str, str]:
    """Write two numbers [any unit] to as many figures as tell them apart, at least so many.

    Examples
    --------
    >>> print(*apart(3.96, 4.0))
    3.96 4
    """
    for count in range(digits, MOST_FIGURES + 1):
        pair = figures(first, count), figures(second, count)
        if pair[0] != pair[1]:
            return pair
    # No figure tells them apart: they are one number, and more figures would say nothing
    return figures(first, digits), figures(second, digits)


def low_to_high(pair: Sequence[float], scale: float = 1.0, digits: int = 3) -> str:
    """Write a lowest and a highest value [any unit], scaled: "1 to 1.5", or one figure.

    Examples
    --------
    >>> print(low_to_high((0.10, 0.12), scale=100))
    10 to 12
    """
    low, high = (figures(end * scale, digits) for end in pair)
    # Compared as words, here and below: 10.01 and 10.02 are one figure to whoever reads them
    if low == high:
        return low
    return f"{low} to {high}"


def per_cm2(bath_per_area: float) -> float:
    """Turn bath over bare copper [m³/m²] into what pages say [mL/cm²].

    Examples
    --------
    >>> print(f"{per_cm2(0.05):.1f}")
    5.0
    """
    return bath_per_area / mL_per_cm2


def of_draws(which: Any) -> str:
    """Write how many of some draws [true or false] it is: "all", "none", "23 of 200".

    Examples
    --------
    >>> print(of_draws([True, False]), of_draws([True, True]))
    1 of 2 all
    """
    count = int(np.sum(which))
    total = np.size(which)
    if count == total:
        return "all"
    if count == 0:
        return "none"
    return f"{count} of {total}"


def clock(seconds: Any) -> str:
    """Write a time in words people use: seconds, minutes or hours [s in], "never" for infinity.

    Examples
    --------
    >>> print(clock(3.4), "|", clock(230), "|", clock(9000), "|", clock(float("inf")))
    3.4 s | 3.8 min | 2.5 h | never
    """
    return " ".join(_clock_parts(seconds))


def _clock_parts(seconds: Any) -> tuple[str, ...]:
    """Number and unit of a time [s], or "never" alone."""
    time = float(seconds)
    # An infinite time is how a run says that the board never clears
    if not np.isfinite(time):
        return ("never",)
    if time < SHORT_TIME:
        number, unit = time, "s"
    elif time < MIDDLE_TIME:
        number, unit = time / minute, "min"
    else:
        number, unit = time / hour, "h"
    # About two figures: no time of a bath is better known
    if number < 10:
        return f"{number:.1f}", unit
    return f"{number:.0f}", unit


def watch(seconds: float) -> str:
    """Write a time to keep by the watch [s in]: "45 s", "1 min 30 s", "12 min".

    Examples
    --------
    >>> print(watch(90), "|", watch(720))
    1 min 30 s | 12 min
    """
    # Rounded first, or 59.7 s would be "0 min 60 s"
    minutes, rest = divmod(round(seconds), 60)
    if minutes < 1:
        return f"{rest} s"
    if rest == 0:
        return f"{minutes} min"
    return f"{minutes} min {rest} s"


def span(band: Band) -> str:
    """Write both ends of a band of times [s in]: the unit once where it is one, or "never" alone.

    Examples
    --------
    >>> print(span(Band.of([180.0, 300.0], 2)), "|", span(Band.of([1680.0, np.inf], 2)))
    3.0 to 5.0 min | 28 min to never
    """
    low, high = _clock_parts(band.low), _clock_parts(band.high)
    if low == high:
        return " ".join(low)
    # The last part is the unit, or "never", which stands for number and unit
    if low[-1] == high[-1]:
        return f"{low[0]} to {' '.join(high)}"
    return f"{' '.join(low)} to {' '.join(high)}"


def degrees(band: Band) -> str:
    """Write both ends of a band of temperatures [K in]: "27 to 33 °C", or one where they agree.

    Examples
    --------
    >>> print(degrees(Band.of([300.15, 306.15], 2)))
    27 to 33 °C
    """
    return _ends(float(band.low) - ZERO_C, float(band.high) - ZERO_C, "°C")


def share(band: Band) -> str:
    """Write both ends of a band of shares [-] in per cent, or one where they agree.

    Examples
    --------
    >>> print(share(Band.of([0.2, 0.25], 2)))
    20 to 25 %
    """
    return _ends(100 * float(band.low), 100 * float(band.high), "%")


def _ends(low: float, high: float, unit: str) -> str:
    low_words, high_words = f"{low:.0f}", f"{high:.0f}"
    if low_words == high_words:
        return f"{low_words} {unit}"
    return f"{low_words} to {high_words} {unit}"


def ratio_of(parts: tuple[float, float, float]) -> str:
    """Write parts of water, acid and peroxide [-]: "3 : 1 : 1".

    Examples
    --------
    >>> print(ratio_of((3, 1, 1.5)))
    3 : 1 : 1.5
    """
    return " : ".join(figures(part, 3) for part in parts)


def capitalised(words: str) -> str:
    """Begin with a capital, and leave the rest as it is.

    Examples
    --------
    >>> print(capitalised("of HCl"))
    Of HCl
    """
    return f"{words[0].upper()}{words[1:]}"
