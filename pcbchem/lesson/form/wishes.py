"""What a reader wants of a bath: when the board is to be clear, and how warm it may get."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...common.units import celsius, minute
from ...page.widget.controls import Field
from .table import HOTTEST_C, WINDOW

WISHES = (
    Field("window_from", "9 in 10 clear after", "min", *WINDOW, 1, 3),
    Field("window_to", "9 in 10 clear by", "min", *WINDOW, 1, 8),
    Field("hottest", "no warmer than", "°C", *HOTTEST_C, 1, 40),
)
"""The fields that ask for it."""


def wished(values: Mapping[str, Any]) -> tuple[tuple[float, float] | None, float | None]:
    """Return the window [s] and the warmest [K] that a reader has asked for, or None of either.

    What stands in the fields at first nobody has asked for.

    Examples
    --------
    >>> print(wished({"window_from": 3, "window_to": 25, "hottest": 40}))
    ((180.0, 1500.0), 313.15)
    """
    if all(values[field.name] == field.start for field in WISHES):
        return None, None
    shortest, longest, hottest = (values[field.name] for field in WISHES)
    return (shortest * minute, longest * minute), float(celsius(hottest))
