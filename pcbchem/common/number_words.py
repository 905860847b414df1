"""Numbers as people say them: times, temperatures, shares and parts, in the lab's units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

import numpy as np

from .units import ZERO_C, minute, mL_per_cm2


class Ends(Protocol):
    """Anything with a low and a high end: a `Band`, or what a doubt would leave [own unit]."""

    @property
    def low(self) -> Any:
        """Low end [own unit]."""

    @property
    def high(self) -> Any:
        """High end [own unit]."""


def figures(value: float, digits: int = 2) -> str:
    """A number [any unit] to so many figures, without an exponent: 75, 0.82, 1250.

    Examples
    --------
    >>> print(figures(1249.6, 3), figures(0.8239))
    1250 0.82
    """
    return f"{float(f'{value:.{digits}g}'):.6f}".rstrip("0").rstrip(".")


def apart(first: float, second: float, digits: int = 2) -> tuple[str, str]:
    """Two numbers [any unit] to as many figures as tell them apart, at least so many.

    Examples
    --------
    >>> print(*apart(3.96, 4.0))
    3.96 4
    """
    pairs = ((figures(first, n), figures(second, n)) for n in range(digits, 12))
    return next(
        ((a, b) for a, b in pairs if a != b), (figures(first, digits), figures(second, digits))
    )


def low_to_high(pair: Sequence[float], scale: float = 1.0, digits: int = 3) -> str:
    """A lowest and a highest value [own unit], scaled: "1 to 1.5", or one figure."""
    low, high = (figures(end * scale, digits) for end in pair)
    return low if low == high else f"{low} to {high}"


def per_cm2(bath_per_area: float) -> float:
    """Bath over bare copper [m³/m²] as pages say it [mL/cm²]."""
    return bath_per_area / mL_per_cm2


def of_draws(which: Any) -> str:
    """How many of some draws [true or false] it is: "all", "none", "23 of 200".

    Examples
    --------
    >>> print(of_draws([True, False]), of_draws([True, True]))
    1 of 2 all
    """
    count, of = int(np.sum(which)), np.size(which)
    return "all" if count == of else f"{count} of {of}" if count else "none"


def clock(seconds: Any) -> str:
    """A time in words people use: seconds, minutes or hours [s in], and "never" for infinity.

    Examples
    --------
    >>> print(clock(3.4), "|", clock(230), "|", clock(9000), "|", clock(float("inf")))
    3.4 s | 3.8 min | 2.5 h | never
    """
    t = float(seconds)
    if not np.isfinite(t):
        return "never"
    value, unit = (
        (t, "s")
        if t < 1.5 * minute
        else (t / minute, "min")
        if t < 100 * minute
        else (t / 60 / minute, "h")
    )
    return f"{value:.1f} {unit}" if value < 10 else f"{value:.0f} {unit}"


def watch(seconds: float) -> str:
    """A time to keep by the watch [s in]: "45 s", "1 min 30 s", "12 min".

    Examples
    --------
    >>> print(watch(90), "|", watch(720))
    1 min 30 s | 12 min
    """
    whole = round(seconds)
    said = f"{whole // 60} min" if whole >= 60 else ""
    return f"{said} {whole % 60} s".strip() if whole % 60 else said


def span(band: Ends) -> str:
    """Low to high end of a band of times [s in]: "3.0 to 5.0 min", "28 min to never", or "never" alone."""
    low, high = clock(band.low), clock(band.high)
    if low == high:
        return low
    return (
        f"{low.split()[0]} to {high}" if low.split()[-1] == high.split()[-1] else f"{low} to {high}"
    )


def degrees(band: Ends) -> str:
    """Low to high end of a band of temperatures [K in]: "27 to 33 °C", or one where they agree."""
    low, high = (f"{float(T) - ZERO_C:.0f}" for T in (band.low, band.high))
    return f"{low} °C" if low == high else f"{low} to {high} °C"


def share(band: Ends) -> str:
    """Low to high end of a band of shares [-], in per cent."""
    low, high = (f"{100 * float(v):.0f}" for v in (band.low, band.high))
    return f"{low} %" if low == high else f"{low} to {high} %"


def ratio_of(parts: tuple[float, float, float]) -> str:
    """Parts of water, acid and peroxide [-]: "3 : 1 : 1"."""
    return " : ".join(figures(part, 3) for part in parts)
