"""Who may hold what: a line beside the verdict, and never a part of it."""

from __future__ import annotations

import numpy as np

from ...common import tables
from ...common.limits import check_choice
from ...common.number_words import apart
from ..bottle.bottle import LABEL_DOUBT, Bottle
from .line import Caution

PLACES = ("EU", "GB", "US", "elsewhere")
"""Whose rules on who may hold what: the European Union, Great Britain, the United States, or ask
locally."""
LAW, LAW_ON_BOTTLE = "law", "law: your bottle"
"""Topics of the law of a place, and of the law on a bottle that is above its limit."""
LOOK_UP, LAW_LINE = 5, 2
"""Layer in which the law of a place is looked up, and its line there [-]."""
NEAR_LABEL = LABEL_DOUBT + 1e-9
"""A label counts by law while the bottle may be at most so much stronger [kg/kg]: its usual doubt,
and a little for the rounding of label + doubt."""


def above_limit(acid: Bottle, peroxide: Bottle, place: str) -> tuple[Caution, ...]:
    """Say which bottles are above what members of the public may hold, each with its own number.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `low`, `high` and `label` as mass fractions [kg/kg]. The label counts
        where the bottle may be hardly stronger than it says.
    place : str
        One of `PLACES`; elsewhere the strictest rule we know counts.

    Returns
    -------
    tuple of Caution
        A line for each bottle above a limit; empty where there is none.

    Raises
    ------
    InputError
        An unknown place: names it.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> acid, peroxide = Bottle.labelled("HCl", 0.31), Bottle.labelled("H2O2", 0.12)
    >>> print(above_limit(acid, peroxide, "GB")[0].words.split(" without")[0])
    Your acid of 31 % is above the 10 % that members of the public may hold in Great Britain
    """
    check_choice("place", place, PLACES)
    lines = []
    for bottle in (acid, peroxide):
        for row in tables.read("public_limits"):
            # where we know no limit it is infinite, and for any substance
            if row["place"] != place or row["substance"] != bottle.substance:
                continue
            # rounded: a bottle just at its limit is not above it by the last bit
            percent = float(np.round(100 * strength_by_law(bottle), 9))
            limit = float(row["limit_percent_by_weight"])
            if percent > limit:
                # a label of 31.45 % is read as 31.45, and more figures where the limit is so near
                strength, most = apart(percent, limit, 4)
                words = row["words_above"].format(strength=strength, limit=most)
                lines.append(Caution(LAW_ON_BOTTLE, words, tables.cited(row), row["as_of"]))
    return tuple(lines)


def strength_by_law(bottle: Bottle) -> float:
    """Return the strength that counts by law [kg/kg].

    That is the label, if the bottle may be hardly stronger than it says; or else `high`.
    """
    if bottle.label is None:
        return bottle.high
    # a label that the bottle may well exceed says nothing of what somebody holds
    is_near = bottle.low <= bottle.label and bottle.high <= bottle.label + NEAR_LABEL
    if is_near:
        return bottle.label
    return bottle.high


def law_of(place: str) -> tuple[Caution, ...]:
    """List the law of a place on who may hold what, whatever the bottles.

    Parameters
    ----------
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of Caution
        A line for each substance of which a rule is known, or one that none is.

    Raises
    ------
    InputError
        An unknown place: names it.

    Examples
    --------
    >>> print(law_of("US")[0].words.split(".")[0])
    United States: no federal limit on what members of the public may hold is known to us
    """
    check_choice("place", place, PLACES)
    lines = []
    for row in tables.read("public_limits"):
        if row["place"] == place:
            source = tables.cited(row)
            words, as_of = row["words"], row["as_of"]
            lines.append(Caution(LAW, words, source, as_of, LOOK_UP, LAW_LINE, (source,)))
    return tuple(lines)
