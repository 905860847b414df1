"""What to take care of with these bottles, whatever the verdict, and who may hold what."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

import numpy as np

from ...common import tables
from ...common.limits import check_choice
from ...common.tables import cited
from ..bottle.bottle import LABEL_DOUBT, Bottle

SHARED, DILUTED = ("any", "dilution"), ("oxygen", "washing soda", "lye", "permanganate")
"""Rows of `method_cautions` that hold for several methods, and the methods for which diluting is one of them."""


def method_cautions(method: str) -> tuple[Caution, ...]:
    """What to take care of in measuring a bottle or etching an offcut, beside the cautions of the bottles themselves.

    Parameters
    ----------
    method : str
        "weighing", "oxygen", "washing soda", "lye", "permanganate" or "offcut".

    Returns
    -------
    tuple of Caution
        What holds for every method first, then what holds for diluting where it does, then the method's own.

    Raises
    ------
    ValueError
        Another method: names those there are.

    Examples
    --------
    >>> print(method_cautions("lye")[-1].words)
    A spill of lye: plenty of water and wet cloth, and no acid.
    """
    rows = tables.read("method_cautions")
    own = dict.fromkeys(row["method"] for row in rows if row["method"] not in SHARED)
    check_choice("method", method, tuple(own))
    held = ("any", "dilution", method) if method in DILUTED else ("any", method)
    return tuple(
        Caution(row["topic"], row["words"], cited(row), row["as_of"], True)
        for name in held
        for row in rows
        if row["method"] == name
    )


PLACES = ("EU", "GB", "elsewhere")
"""Whose rules on who may hold what: the European Union, Great Britain, or ask locally."""


@dataclasses.dataclass(frozen=True)
class Caution:
    """One thing to take care of, in plain sentences, its source and date; `first`: to be read before pouring."""

    topic: str
    words: str
    source: str
    as_of: str
    first: bool = False


def strongest(bottle: Bottle) -> float:
    """What cautions and the order of pouring go by [kg/kg]: `high` or the label, whichever is more."""
    return max(bottle.high, bottle.label or 0.0)


def _excess(bottle: Bottle, row: Mapping[str, str]) -> float:
    """Strength that counts by law over the limit of a row [-]: the label, if the doubt is no wider; or else `high`."""
    label = bottle.label if bottle.label is not None else bottle.high
    counts = (
        label if bottle.low <= label and bottle.high <= label + LABEL_DOUBT + 1e-9 else bottle.high
    )
    return float(np.round(100 * counts / float(row["limit_percent_by_weight"]), 9))


def over_public(acid: Bottle, peroxide: Bottle, place: str) -> float:
    """How strong the worse bottle is, over what members of the public may hold without a licence.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `high` and `label` as mass fractions [kg/kg]; the label counts where there is one.
    place : str
        One of `PLACES`; elsewhere the strictest limit of all counts.

    Returns
    -------
    float
        Strength over limit [-], 0 where no limit is known.

    Raises
    ------
    ValueError
        An unknown place: names it.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> print(f"{over_public(Bottle('HCl', 0.30, 0.32, 0.31), Bottle('H2O2', 0.10, 0.12, 0.12), 'GB'):.1f}")
    3.1
    """
    check_choice("place", place, PLACES)
    return max(
        (
            _excess(bottle, row)
            for bottle in (acid, peroxide)
            for row in tables.read("public_limits")
            if place in (row["place"], "elsewhere") and row["substance"] == bottle.substance
        ),
        default=0.0,
    )


def cautions(acid: Bottle, peroxide: Bottle, place: str) -> tuple[Caution, ...]:
    """Every caution that holds for two bottles in a place: a stronger bottle never loses one, nor a label one.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `high` and `label` as mass fractions [kg/kg].
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of Caution
        A bottle above the public limit first; then in the order in which people need them; the law of the place last.

    Raises
    ------
    ValueError
        An unknown place: names it.
    """
    check_choice("place", place, PLACES)
    bottles = {bottle.substance: bottle for bottle in (acid, peroxide)}
    laws = [row for row in tables.read("public_limits") if row["place"] == place]
    held = [
        row
        for row in tables.read("cautions")
        if row["substance"] == "any"
        or (
            row["substance"] in bottles
            and round(100 * strongest(bottles[row["substance"]]), 9)
            >= float(row["from_percent_by_weight"])
        )
    ]
    above = [
        Caution("law: your bottle", row["words_above"], cited(row), row["as_of"], True)
        for row in laws
        if row["substance"] in bottles and _excess(bottles[row["substance"]], row) > 1
    ]
    general = [
        Caution(row["topic"], row["words"], cited(row), row["as_of"], row["first"] == "yes")
        for row in held
    ]
    return (
        *above,
        *general,
        *(Caution("law", row["words"], cited(row), row["as_of"]) for row in laws),
    )
