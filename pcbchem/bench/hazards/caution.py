"""What to take care of with these bottles, whatever the verdict: five layers, each for its time.

A row of cautions.csv is one thing to take care of. Rows of one line stand in one breath: most hold
for every bottle, some only from a strength on. No layer has more than seven lines.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...common import tables
from ...common.limits import check_choice
from ..bottle.bottle import Bottle
from .law import LOOK_UP, PLACES, law_of
from .line import Caution

__all__ = ["LAYERS", "PLACES", "Caution", "cautions", "method_cautions", "strongest"]

BEFORE, AT_THE_TRAY, AFTERWARDS, GOES_WRONG = 1, 2, 3, 4
"""Layers of cautions [-], by when somebody needs them; `LOOK_UP` is the last."""
LAYERS = {
    BEFORE: "Before you open a bottle",
    AT_THE_TRAY: "At the tray",
    AFTERWARDS: "Afterwards",
    GOES_WRONG: "If it goes wrong",
    LOOK_UP: "Look up",
}
"""Heading of each layer. What is for when it goes wrong is never folded away."""
STRENGTHS_LINE = 1
"""Line of the last layer [-]: a table of what each strength means by the law of labels."""

EVERY_METHOD, DILUTION = "any", "dilution"
"""Rows of method_cautions.csv that hold for every method, and for those that dilute."""
DILUTING_METHODS = ("oxygen", "washing soda", "lye", "permanganate")
"""Ways to measure a bottle in which diluting it may be a step."""
EVERY_BATH, DEVELOPER, STRIPPER = "any", "developer", "stripper"
"""Rows of bath_cautions.csv that hold for every bath beside the etch; a stripper is lye, as the
developer is."""
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
    groups = [EVERY_METHOD]
    if method in DILUTING_METHODS:
        groups.append(DILUTION)
    shared = (EVERY_METHOD, DILUTION)
    return _grouped(tables.read("method_cautions"), "method", method, groups, shared)


def bath_cautions(bath: str) -> tuple[Caution, ...]:
    """List what to take care of with the baths before and after the etch.

    Parameters
    ----------
    bath : str
        "developer", "stripper" or "tin bath".

    Returns
    -------
    tuple of Caution
        What holds for all of them first, then the bath's own; a stripper is lye too, so that all of
        the developer's hold for it.

    Raises
    ------
    InputError
        Another bath: names those there are.

    Examples
    --------
    >>> print([each.topic for each in bath_cautions("developer")][:2])
    ['who and where', 'first aid, eye']
    """
    groups = [EVERY_BATH]
    if bath == STRIPPER:
        groups.append(DEVELOPER)
    return _grouped(tables.read("bath_cautions"), "bath", bath, groups, (EVERY_BATH,))


def _grouped(
    rows: Sequence[Mapping[str, str]],
    column: str,
    choice: str,
    groups: Sequence[str],
    shared: Sequence[str],
) -> tuple[Caution, ...]:
    """List the rows of some groups of a table and of one choice, in the order of the groups."""
    # a dict holds each choice once, in the order of the table
    choices = dict.fromkeys(row[column] for row in rows if row[column] not in shared)
    check_choice(column, choice, tuple(choices))
    every = []
    for group in (*groups, choice):
        for row in rows:
            if row[column] == group:
                # there is no verdict here: all of it is read first
                every.append(_line(0, 0, [row]))
    return tuple(every)


def strongest(bottle: Bottle) -> float:
    """Return what cautions and the order of pouring go by [kg/kg]: `high` or the label, if more."""
    # a reading below the label takes no caution away: it may be wrong
    return max(bottle.high, bottle.label or 0.0)


def cautions(acid: Bottle, peroxide: Bottle, place: str) -> tuple[Caution, ...]:
    """List every caution that holds for two bottles in a place, by layer and line.

    A stronger bottle never loses a caution, and a label never takes one away. The law on a bottle
    of its own is none of them: see `law.above_limit`.

    Parameters
    ----------
    acid, peroxide : Bottle
        With `substance`, and `high` and `label` as mass fractions [kg/kg].
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of Caution
        One a line, but one a row in the table of strengths of the last layer.

    Raises
    ------
    InputError
        An unknown place: names it.

    Examples
    --------
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> first, *_ = cautions(acid, peroxide, "EU")
    >>> print(first.layer, first.number, first.words.split(",")[0])
    1 1 Only hydrochloric acid and hydrogen peroxide
    """
    bottles = {bottle.substance: bottle for bottle in (acid, peroxide)}
    # a dict keeps the lines in the order of the table
    rows_of: dict[tuple[int, int], list[Mapping[str, str]]] = {}
    for row in tables.read("cautions"):
        if _holds(row, bottles):
            line = int(row["layer"]), int(row["no"])
            rows_of.setdefault(line, []).append(row)
    every = list(law_of(place))
    for (layer, number), rows in rows_of.items():
        if layer == LOOK_UP:
            every += [_line(layer, number, [row]) for row in rows]
        else:
            every.append(_line(layer, number, rows))
    # sorting is stable: rows of the table of strengths stay in their order
    return tuple(sorted(every, key=lambda caution: (caution.layer, caution.number)))


def _line(layer: int, number: int, rows: Sequence[Mapping[str, str]]) -> Caution:
    """Join rows to one line: their words one after the other, each source once."""
    words = " ".join(row["words"] for row in rows)
    # a dict holds each source once, in the order of the rows
    works = tuple(dict.fromkeys(source for row in rows for source in tables.works_cited(row)))
    as_of = max(row["as_of"] for row in rows)
    return Caution(rows[0]["topic"], words, "; ".join(works), as_of, layer, number, works)


def _holds(row: Mapping[str, str], bottles: Mapping[str, Bottle]) -> bool:
    """Return whether a row of cautions.csv holds for these bottles, by substance."""
    if row["substance"] == ANY_BOTTLE:
        return True
    if row["substance"] not in bottles:
        return False
    # rounded: 0.35 - 0.10 is a bit less than 25 %, and the caution from there on would be lost
    percent = round(100 * strongest(bottles[row["substance"]]), 9)
    return percent >= float(row["from_percent_by_weight"])
