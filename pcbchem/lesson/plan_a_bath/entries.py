"""One input of a page at a time: numbers, words and bottles as people write them, or ValueError naming the input."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar

import numpy as np

from ...bench.bottle.bottle import Bottle
from ...bench.hazards.caution import PLACES
from ...common.limits import check_values, naming
from ...common.units import celsius, mm
from ...matter.labels import NOTATIONS, mass_fraction_from

P = ParamSpec("P")
R = TypeVar("R")

WRITTEN = {name.lower(): name for name in NOTATIONS} | {
    "%": "% by weight",
    "% w/w": "% by weight",
    "volume": "volume strength",
    "volumes": "volume strength",
    "vol": "volume strength",
    "degrees baumé": "degrees Baume",
    "°bé": "degrees Baume",
    "°be": "degrees Baume",
}
"""How people write a notation, in small letters, and the package's word for it."""
WHERE = {place.lower(): place for place in PLACES} | {"great britain": "GB", "european union": "EU"}
"""How people write a place, in small letters, and the package's word for it."""
SUCH_AS = {"acid": 10, "peroxide": 12}  # % by weight, in the right form of a bottle
POINT = "use a point for decimals: 10.2"
CELSIUS = "degrees Celsius: 68 °F is 20 °C"


def by_name(function: Callable[P, R]) -> Callable[P, R]:
    """A function of fields that answers an unknown or a missing one with ValueError, naming the fields there are.

    Examples
    --------
    >>> @by_name
    ... def area(*, width, height): return width * height
    >>> try: area(width=2, hight=3)
    ... except ValueError as error: print(error)
    hight is not a field: area has width, height
    """
    fields = inspect.signature(function).parameters
    needed = [name for name, field in fields.items() if field.default is field.empty]

    @functools.wraps(function)
    def known(*args: P.args, **given: P.kwargs) -> R:
        for name in given:
            if name not in fields:
                raise ValueError(
                    f"{name} is not a field: {function.__name__} has {', '.join(fields)}"
                )
        for name in needed:
            if name not in given and not args:
                raise ValueError(
                    f"{name} is missing: {function.__name__} needs {', '.join(needed)}"
                )
        return function(*args, **given)

    return known


def items(name: str, given: Any, counts: tuple[int, ...], what: str) -> tuple[Any, ...]:
    """An input of several items, or ValueError that counts them: a decimal comma makes one too many."""
    found = tuple(given) if isinstance(given, tuple | list) else (given,)
    if len(found) not in counts:
        hint = f"; {POINT}" if len(found) > max(counts) else ""
        raise ValueError(
            f"{name} = {given!r} has {len(found)} item{'s' * (len(found) != 1)}: it must be {what}{hint}"
        )
    return found


def number(
    name: str,
    value: Any,
    low: float,
    high: float,
    unit: str,
    *,
    above: bool = False,
    hint: str = "",
) -> float:
    """One number of an input [unit], within its limits, or ValueError that names the input, with a hint."""
    if isinstance(value, tuple | list) or np.ndim(value):
        raise ValueError(f"{name} = {value!r} is impossible: it must be one number; {POINT}")
    try:
        return float(check_values(name, value, low, high, unit, above=above))
    except ValueError as error:
        comma = POINT if isinstance(value, str) and "," in value else ""
        raise ValueError("; ".join(words for words in (str(error), hint, comma) if words)) from None


def warmth(name: str, value: Any, low: float, high: float) -> float:
    """A temperature of an input [°C in, K out] within its limits; above them a hint tells °C from °F.

    Examples
    --------
    >>> print(f"{warmth('air_C', 20, -10, 45):.2f}")
    293.15
    """
    hot = isinstance(value, int | float | np.number) and value > high
    return float(celsius(number(name, value, low, high, "°C", hint=CELSIUS if hot else "")))


def word(value: Any, known: dict[str, str] | None = None) -> Any:
    """A word of an input as the package writes it; anything else as it is, for the package to refuse by name."""
    small = value.strip().lower() if isinstance(value, str) else value
    return small if known is None else known.get(small, value) if isinstance(small, str) else value


def where(given: Any) -> str:
    """Whose rules on who may hold what, as the package writes it, or ValueError that says what to write.

    Examples
    --------
    >>> print(where("great Britain"))
    GB
    """
    place = word(given, WHERE)
    if not isinstance(place, str) or place not in PLACES:
        raise ValueError(
            f'place = {given!r} is not known: write "EU", "GB" (England, Wales and Scotland; in Northern '
            'Ireland ask locally) or "elsewhere" (everywhere else: ask locally)'
        )
    return place


def sides(name: str, given: Any, least: float, what: str) -> tuple[float, float]:
    """Two sides of an input [mm in, m out], at least so long and at most 2 m, or ValueError that names it and asks."""
    found = []
    for side, kind in zip(
        items(name, given, (2,), "width, height, in millimetres"), ("wide", "long"), strict=True
    ):
        hint = f"{name} counts millimetres: is your {what} {side} mm {kind}?"
        found.append(number(name, side, least, 2000, "mm", above=not least, hint=hint) * mm)
    return found[0], found[1]


def bottle(name: str, given: Any, substance: str, T: float) -> Bottle:
    """A bottle known by its label, or between two strengths.

    Parameters
    ----------
    name : str
        The input it comes from: "acid" or "peroxide".
    given : tuple
        Strength and notation, or lowest, highest and notation [unit of the notation].
    substance : str
        "HCl" or "H2O2".
    T : float
        Temperature of a notation that counts by volume [K].

    Returns
    -------
    Bottle
        With the doubt of its label, or with the two strengths and no label [kg/kg].

    Raises
    ------
    ValueError
        A value that cannot be: names the input.

    Examples
    --------
    >>> shop = bottle("peroxide", (12, "%"), "H2O2", 293.15)
    >>> print(f"{shop.low:.3f} to {shop.high:.3f}, label {shop.label:.2f}")
    0.102 to 0.120, label 0.12
    """
    form = f'{name}=({SUCH_AS[name]}, "% by weight")'
    *ends, notation = items(
        name,
        given,
        (2, 3),
        f"strength and notation, such as {form}, or lowest, highest and notation",
    )
    notation = word(notation, WRITTEN)
    if notation not in NOTATIONS:
        raise ValueError(
            f"{name}: notation = {notation!r} is not known: choose from {', '.join(NOTATIONS)}, such as "
            f"{form}"
        )
    names = ("strength",) if len(ends) == 1 else ("lowest", "highest")
    with naming(name):
        values = [
            number(end, value, 0, 1e6, f"in {notation}")
            for end, value in zip(names, ends, strict=True)
        ]
        if values[0] > values[-1]:
            raise ValueError(
                f"lowest = {values[0]:g} is impossible: it must be at most highest = {values[-1]:g}; "
                f"{POINT}"
            )
        held = [float(mass_fraction_from(value, notation, substance, T)) for value in values]
        return Bottle.labelled(substance, held[0]) if len(held) == 1 else Bottle(substance, *held)
