"""Where the rest goes: what the rules of a place say, as far as we know them, and what never.

The end is always the same: labelled tubs, to the hazardous-waste site. The rules differ, change,
and are only pointed at: each line ends with whom to ask.
"""

from __future__ import annotations

from typing import NamedTuple

from ...common import tables
from ...common.limits import check_choice
from ..hazards.law import PLACES

ANYWHERE = "any"
"""Rows of waste_law.csv that hold in every place."""
ASK = "Check the current rule; ask your local site."
"""The end of each line."""


class WasteRule(NamedTuple):
    """One line on where the rest goes.

    Parameters
    ----------
    topic : str
        What it is about.
    words : str
        What it says, with whom to ask at its end.
    source : str
        A citation, "from memory: ...", or common practice.
    status : str
        "published" (read), "from memory" or "common practice".
    as_of : str
        When it was read.
    """

    topic: str
    words: str
    source: str
    status: str
    as_of: str


class WasteLimit(NamedTuple):
    """A figure of the law, to measure a waste by; never a permission to pour.

    Parameters
    ----------
    value : float
        As printed [`unit`].
    unit : str
        "mg/L", "mg/kg", "µg/L", or "-" of a pH.
    words : str
        Whose figure it is, and for what.
    source : str
        A citation.
    as_of : str
        When it was read.
    """

    value: float
    unit: str
    words: str
    source: str
    as_of: str


def where_it_goes(place: str) -> tuple[WasteRule, ...]:
    """List where the rest of a bath goes: first what holds everywhere, then the place's own rules.

    Parameters
    ----------
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of WasteRule
        At least what holds everywhere, and one line of the place.

    Raises
    ------
    InputError
        An unknown place: names those there are.

    Examples
    --------
    >>> print(where_it_goes("US")[2].words.split(" (")[0])
    United States: waste in water of pH 2 or less, or of 12.5 or more, is corrosive hazardous waste
    """
    check_choice("place", place, PLACES)
    lines = []
    for wanted in (ANYWHERE, place):
        for row in tables.read("waste_law"):
            if row["place"] == wanted:
                source, status = tables.cited(row), row["status"]
                line = WasteRule(row["topic"], row["words"], source, status, row["as_of"])
                lines.append(line)
    return tuple(lines)


def waste_limit(name: str) -> WasteLimit:
    """Find a figure of the law by its name in waste_limits.csv.

    Parameters
    ----------
    name : str
        As "plant, month" or "river, an hour".

    Raises
    ------
    InputError
        No figure of that name: names those there are.

    Examples
    --------
    >>> limit = waste_limit("plant, month")
    >>> print(f"{limit.value} {limit.unit}")
    2.07 mg/L
    """
    rows = {row["name"]: row for row in tables.read("waste_limits")}
    row = rows[check_choice("name", name, tuple(rows))]
    source = tables.cited(row)
    return WasteLimit(float(row["value"]), row["unit"], row["words"], source, row["as_of"])
