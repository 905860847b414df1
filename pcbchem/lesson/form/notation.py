"""A strength in another notation: what the numbers of a bottle become when its unit is changed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from ...bench.bottle.bottle import Bottle
from ...common.limits import InputError, collecting_warnings
from ...common.number_words import figures, low_to_high
from ...common.units import celsius
from ...matter.labels import mass_fraction_from, strength
from ...matter.properties import LIMITS
from .choices import NOTATIONS, SUBSTANCES

FEWEST, MOST = 2, 4
"""Figures of a converted number [-]: the fewest that come close, and never more than these."""
CLOSE = 1e-3
"""So near a rounded number has to be to what it is rounded from [-]."""
ENDS = ("", "_low", "_to")
"""What follows a bottle's name in the names of its numbers: label, at least, at most."""
SHOWN = {"label": ("",), "between": ("_low", "_to"), "measured": ("", "_low", "_to")}
"""Which of them the page shows."""


def settle(
    old: Mapping[str, Any], new: Mapping[str, Any], entered: Sequence[str]
) -> tuple[dict[str, Any], str]:
    """Return what else changes with what was entered, and say so: see `settled`.

    What comes together is meant as it comes, as "31 %", a kept row, or the form's start: nothing is
    converted.

    Parameters
    ----------
    old, new : mapping
        As for `settled` [units of the form].
    entered : sequence of str
        Names of what was entered.
    """
    before = dict(old)
    for name in SUBSTANCES:
        numbers = {f"{name}{end}" for end in ENDS} & set(entered)
        for choice in (f"{name}_in", f"{name}_sure"):
            if numbers and choice in entered:
                before[choice] = new[choice]
    values, remark = settled(before, new)
    return {name: value for name, value in values.items() if value != new[name]}, remark


def settled(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[dict[str, Any], str]:
    """Return a form's values after one change by its reader, and what to say of it.

    Where a bottle's notation was changed, every number of it that was not itself changed is
    converted; where two strengths are asked for instead of a label, they start from its doubt.

    Parameters
    ----------
    old, new : mapping
        Values by the names of the controls, before and after the change [units of the form].

    Returns
    -------
    tuple
        The values to put into the form, and one or more sentences, or "".

    Examples
    --------
    >>> old = {"acid": 10, "acid_low": 9, "acid_to": 11, "acid_in": "% by weight",
    ...        "acid_sure": "label", "bottles": 20, "peroxide_in": "", "peroxide_sure": ""}
    >>> print(settled(old, old | {"acid_in": "mol/L"})[1])
    10 % by weight is 2.87 mol/L: converted.
    """
    values = dict(new)
    remarks = []
    for name in SUBSTANCES:
        if old[f"{name}_in"] != new[f"{name}_in"]:
            remarks.append(_convert(name, old, new, values))
        if old[f"{name}_sure"] == "label" != new[f"{name}_sure"]:
            remarks.append(_doubt(name, values))
    return values, " ".join(remark for remark in remarks if remark)


def converted(value: float, notations: tuple[str, str], substance: str, T: float) -> float:
    """Return a strength in another notation, to at most four figures.

    Parameters
    ----------
    value : float
        Strength [unit of the first notation].
    notations : tuple of str
        From which, and to which.
    substance : str
        "HCl" or "H2O2".
    T : float
        Temperature of a notation that counts by volume [K].

    Returns
    -------
    float
        Strength [unit of the second notation].

    Raises
    ------
    InputError
        No such solution has this strength.

    Examples
    --------
    >>> print(converted(10, ("volume strength", "% by weight"), "H2O2", 293.15))
    3.01
    """
    first, second = notations
    with collecting_warnings():  # a plan says where a density was not checked
        exact = strength(mass_fraction_from(value, first, substance, T), second, substance, T)
        most = strength(LIMITS[substance], second, substance, T)
    for digits in range(FEWEST, MOST):
        short = shortened(exact, digits, most)
        if abs(short - exact) <= CLOSE * exact:
            return short
    return shortened(exact, MOST, most)


def shortened(value: float, digits: int, most: float) -> float:
    """Return a number to so many figures, down where it would be rounded above the most [any unit].

    Examples
    --------
    >>> print(shortened(45.0678, 4, 46), shortened(45.0678, 4, 45.0678))
    45.07 45.06
    """
    short = float(figures(value, digits))
    if short <= most:
        return short
    last = 10.0 ** (math.floor(math.log10(short)) - digits + 1)
    return float(figures(short - last, digits))


def _convert(
    name: str, old: Mapping[str, Any], new: Mapping[str, Any], values: dict[str, Any]
) -> str:
    """Convert a bottle's numbers in `values`; say which, or why they were left."""
    notations = old[f"{name}_in"], new[f"{name}_in"]
    shown = SHOWN[new[f"{name}_sure"]]
    fresh = {}
    for end in ENDS:
        field = f"{name}{end}"
        # a number that was written with its unit is in the new one already
        if new[field] is None or new[field] != old[field]:
            continue
        try:
            T = celsius(new["bottles"])
            fresh[end] = converted(new[field], notations, SUBSTANCES[name], T)
        except InputError as error:
            if end in shown:
                return _left(_words(name, [new[field]], notations[0]), error)
    values |= {f"{name}{end}": number for end, number in fresh.items()}
    # of a measured bottle both strengths are said, and not its label
    visible = [end for end in shown if end in fresh][-2:]
    if not visible:
        return ""
    before = _words(name, [new[f"{name}{end}"] for end in visible], notations[0])
    after = _words(name, [fresh[end] for end in visible], notations[1])
    return f"{before} is {after}: converted."


def _doubt(name: str, values: dict[str, Any]) -> str:
    """Let both strengths in `values` start from the doubt of the label; say so, or why not."""
    label, notation, substance = values[name], values[f"{name}_in"], SUBSTANCES[name]
    if label is None:
        return ""
    try:
        T = celsius(values["bottles"])
        with collecting_warnings():
            bottle = Bottle.labelled(
                substance, float(mass_fraction_from(label, notation, substance, T))
            )
            most = strength(LIMITS[substance], notation, substance, T)
            ends = [
                shortened(strength(end, notation, substance, T), MOST, most)
                for end in (bottle.low, bottle.high)
            ]
    except InputError as error:
        return _left(_words(name, [label], notation), error)
    values[f"{name}_low"], values[f"{name}_to"] = ends
    return (
        f"A label of {_words(name, [label], notation)} may mean {_words(name, ends, notation)}: "
        "both start there. Change them to what you know."
    )


def _words(name: str, numbers: list[float], notation: str) -> str:
    """Write one strength, or two, with the unit that the page shows [unit of the notation]."""
    both = low_to_high((numbers[0], numbers[-1]), digits=MOST)
    return f"{both} {NOTATIONS[name][notation]}"


def _left(words: str, error: InputError) -> str:
    """Say why numbers were left as they are."""
    return f"{words} cannot be converted: {error.rule}. The numbers were left as they are."
