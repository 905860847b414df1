"""What to take care of with these bottles, whatever the verdict, and who may hold what."""

from __future__ import annotations

from collections.abc import Mapping

from ...common import tables
from ...common.limits import check_choice
from ..bottle.bottle import Bottle
from .law import PLACES, law_of
from .line import Caution

__all__ = ["PLACES", "Caution", "cautions", "method_cautions", "strongest"]

EVERY_METHOD, DILUTION = "any", "dilution"
"""Rows of method_cautions.csv that hold for every method, and for those that dilute."""
DILUTING_METHODS = ("oxygen", "washing soda", "lye", "permanganate")
"""Ways to measure a bottle in which diluting it may be a step."""
ANY_BOTTLE = "any"
"""Rows of cautions.csv that hold whatever the bottles."""


def method_cautions(method: str) -> tuple[Caution, ...]:
    """List what to take care of in measuring a bottle or etching an offcut.

    They stand beside the cautions of the bottles themselves.

    Parameters
    ----------
    method : str
        "weighing", "oxygen", "washing soda", "lye", "permanganate" or "offcut".

    Returns
    -------
    tuple of Caution
        What holds for every method first, then what holds for diluting where it does, then the
        method's own.

    Raises
    ------
    InputError
        Another method: names those there are.

    Examples
    --------
    >>> print(method_cautions("lye")[-1].words)
    A spill of lye: plenty of water and wet cloth, and no acid.
    """
    rows = tables.read("method_cautions")
    shared = (EVERY_METHOD, DILUTION)
    # a dict holds each method once, in the order of the table
    methods = dict.fromkeys(row["method"] for row in rows if row["method"] not in shared)
    check_choice("method", method, tuple(methods))
    groups = [EVERY_METHOD]
    if method in DILUTING_METHODS:
        groups.append(DILUTION)
    groups.append(method)
    every = []
    for group in groups:
        for row in rows:
            if row["method"] == group:
                source = tables.cited(row)
                # there is no verdict before a measurement: all of it is read first
                caution = Caution(row["topic"], row["words"], source, row["as_of"])
                every.append(caution)
    return tuple(every)


def strongest(bottle: Bottle) -> float:
    """Return what cautions and the order of pouring go by [kg/kg]: `high` or the label, if more."""
    # a reading below the label takes no caution away: it may be wrong
    return max(bottle.high, bottle.label or 0.0)


def cautions(acid: Bottle, peroxide: Bottle, place: str) -> tuple[Caution, ...]:
    """List every caution that holds for two bottles in a place.

    A stronger bottle never loses a caution, and a label never takes one away.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `high` and `label` as mass fractions [kg/kg].
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of Caution
        A bottle above the public limit first; then in the order in which people need them; the
        law of the place last.

    Raises
    ------
    InputError
        An unknown place: names it.
    """
    check_choice("place", place, PLACES)
    bottles = {bottle.substance: bottle for bottle in (acid, peroxide)}
    general = [
        Caution(
            row["topic"],
            row["words"],
            tables.cited(row),
            row["as_of"],
            1 if row["first"] == "yes" else 2,
        )
        for row in tables.read("cautions")
        if _holds(row, bottles)
    ]
    return (*general, *law_of(place))


def _holds(row: Mapping[str, str], bottles: Mapping[str, Bottle]) -> bool:
    """Return whether a row of cautions.csv holds for these bottles, by substance."""
    if row["substance"] == ANY_BOTTLE:
        return True
    if row["substance"] not in bottles:
        return False
    # rounded: 0.35 - 0.10 is a bit less than 25 %, and the caution from there on would be lost
    percent = round(100 * strongest(bottles[row["substance"]]), 9)
    return percent >= float(row["from_percent_by_weight"])
