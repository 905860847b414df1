"""What to take care of with these bottles, whatever the verdict, and who may hold what."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

import numpy as np

from ...common import tables
from ...common.limits import check_choice
from ..bottle.bottle import LABEL_DOUBT, Bottle

PLACES = ("EU", "GB", "elsewhere")
"""Whose rules on who may hold what: the European Union, Great Britain, or ask locally."""
LAW, LAW_ON_BOTTLE = "law", "law: your bottle"
"""Topics of the cautions on the law of a place, and on a bottle that is above its limit."""
EVERY_METHOD, DILUTION = "any", "dilution"
"""Rows of method_cautions.csv that hold for every method, and for those that dilute."""
DILUTING_METHODS = ("oxygen", "washing soda", "lye", "permanganate")
"""Ways to measure a bottle in which diluting it may be a step."""
ANY_BOTTLE = "any"
"""Rows of cautions.csv that hold whatever the bottles."""
NEAR_LABEL = LABEL_DOUBT + 1e-9
"""A label counts by law while the bottle may be at most so much stronger [kg/kg]: its usual doubt,
and a little for the rounding of label + doubt."""


@dataclasses.dataclass(frozen=True)
class Caution:
    """One thing to take care of, in plain sentences.

    Parameters
    ----------
    topic : str
        What it is about.
    words : str
        What to do, and why.
    source : str
        A citation or "common practice, no source".
    as_of : str
        When it was read.
    first : bool
        True where it is to be read before anything is poured.
    """

    topic: str
    words: str
    source: str
    as_of: str
    first: bool = False


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
                caution = Caution(row["topic"], row["words"], source, row["as_of"], first=True)
                every.append(caution)
    return tuple(every)


def strongest(bottle: Bottle) -> float:
    """Return what cautions and the order of pouring go by [kg/kg]: `high` or the label, if more."""
    # a reading below the label takes no caution away: it may be wrong
    return max(bottle.high, bottle.label or 0.0)


def over_public(acid: Bottle, peroxide: Bottle, place: str) -> float:
    """Return how strong the worse bottle is, over what the public may hold without a licence.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `high` and `label` as mass fractions [kg/kg]; the label counts where
        there is one.
    place : str
        One of `PLACES`; elsewhere the strictest limit of all counts.

    Returns
    -------
    float
        Strength over limit [-], 0 where no limit is known.

    Raises
    ------
    InputError
        An unknown place: names it.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> acid, peroxide = Bottle("HCl", 0.30, 0.32, 0.31), Bottle("H2O2", 0.10, 0.12, 0.12)
    >>> print(f"{over_public(acid, peroxide, 'GB'):.1f}")
    3.1
    """
    check_choice("place", place, PLACES)
    worst = 0.0
    for row in tables.read("public_limits"):
        # elsewhere nobody knows the limit: every limit counts, and so the strictest
        if place != "elsewhere" and row["place"] != place:
            continue
        for bottle in (acid, peroxide):
            if bottle.substance == row["substance"]:
                worst = max(worst, _over_limit(bottle, row))
    return worst


def _over_limit(bottle: Bottle, row: Mapping[str, str]) -> float:
    """Return the strength that counts by law over the limit of a row [-].

    That is the label, if the bottle may be hardly stronger than it says; or else `high`.
    """
    strength = bottle.high
    if bottle.label is not None:
        # a label that the bottle may well exceed says nothing of what somebody holds
        is_near = bottle.low <= bottle.label and bottle.high <= bottle.label + NEAR_LABEL
        if is_near:
            strength = bottle.label
    # rounded: a bottle just at its limit is not above it by the last bit
    return float(np.round(100 * strength / float(row["limit_percent_by_weight"]), 9))


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
    # who may not hold a bottle has to know it first; the law of the place is shown to all
    above, law = [], []
    for row in tables.read("public_limits"):
        if row["place"] != place:
            continue
        source, as_of = tables.cited(row), row["as_of"]
        law.append(Caution(LAW, row["words"], source, as_of))
        bottle = bottles.get(row["substance"])
        if bottle is not None and _over_limit(bottle, row) > 1:
            words = row["words_above"]
            above.append(Caution(LAW_ON_BOTTLE, words, source, as_of, first=True))
    general = [
        Caution(row["topic"], row["words"], tables.cited(row), row["as_of"], row["first"] == "yes")
        for row in tables.read("cautions")
        if _holds(row, bottles)
    ]
    return (*above, *general, *law)


def _holds(row: Mapping[str, str], bottles: Mapping[str, Bottle]) -> bool:
    """Return whether a row of cautions.csv holds for these bottles, by substance."""
    if row["substance"] == ANY_BOTTLE:
        return True
    if row["substance"] not in bottles:
        return False
    # rounded: 0.35 - 0.10 is a bit less than 25 %, and the caution from there on would be lost
    percent = round(100 * strongest(bottles[row["substance"]]), 9)
    return percent >= float(row["from_percent_by_weight"])
