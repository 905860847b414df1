"""The page's panel: two bottles, the map of all their mixtures, a cursor, and kept rows."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence
from typing import Any

from ...bench.mixtures import Mixtures
from ...bench.mixtures.triangle import grid
from ...bench.plan.planning import Plan, for_class
from ...page.picture import Drawing
from ...page.widget.controls import Choice, Control, Group, Link, PanelWords, Slider, all_controls
from ...page.widget.panel import Panel
from ...page.widget.works import Beside
from ..bath.kept_rows import PLACE, rows_shown
from ..form import fields
from ..form.notation import settle
from ..form.table import ACID_SHARE, CURSOR_STEP, WATER_SHARE
from ..form.wishes import WISHES, wished
from ..pages import PLANNER_PAGE, WHAT_IF_PAGE
from . import maps
from .picture import build, show
from .triangle import points, shares_at
from .words import (
    CLASS_PERMISSION,
    LAYERS,
    NO_PERMISSION,
    alt_words,
    corner_words,
    notes,
    parts_words,
    quick_words,
    under_cursor,
    verdict_line,
    wrong_words,
)

TITLE = "What if: all mixtures of two bottles"
TO_PLANNER = "Plan this mixture"
WATER = Slider(WATER_SHARE, "water, of all", "%", 0, 100, CURSOR_STEP, 0)
ACID = Slider(ACID_SHARE, "acid, of the rest", "%", 0, 100, CURSOR_STEP, 50)
DRAWN = Choice(
    "drawn",
    "lines show",
    {name: layer.name for name, layer in LAYERS.items()},
    "time",
    look="list",
    help="Where a mixture is refused nothing is drawn of it.",
)
FOLDED = ("The board", "Tray and warmth", "Wanted of the leanest")
WRONG = "No map yet: one of the inputs cannot be."
ROWS_WORDS = "No amounts here: they stand in the planner, which keeps the same rows."
"""Stands over the kept rows."""
SCHOOL = "For a class: how much bath there is for the copper counts in times the workshop's."
"""Stands first on a page that is set for a class."""
ON_PAPER = (
    "What if: no map stands on a printed page, for it would be that of two bottles alone. Run the "
    "page and enter yours."
)
"""What a printed page says in place of the map."""


def groups(school: bool = False) -> list[Group]:
    """Return the map's controls, from top to bottom, with the workshop's bottles."""
    shared = {heading: [*controls] for heading, controls in maps.SHARED.items()}
    first, *rest = shared
    size: Control = maps.TIMES if school else maps.PER_CM2
    listed = [
        Group("On the map", (WATER, ACID, DRAWN)),
        Group(first, (*shared[first], size)),
    ]
    listed += [Group(heading, shared[heading], heading in FOLDED) for heading in rest]
    listed.append(Group("Wanted of the leanest", WISHES, folded=True))
    return listed


def starts(school: bool = False) -> dict[str, Any]:
    """Return the value with which each control starts [units of the controls]."""
    return {control.name: control.start for control in all_controls(groups(school))}


def cursor_of(every: Mixtures, values: Mapping[str, Any]) -> int:
    """Return the mixture of the map that is nearest to the sliders."""
    return every.nearest(*maps.counts_at(values["water"], values["acid_of_rest"]))


def say(drawing: Drawing, **values: Any) -> PanelWords:
    """Draw the map of the controls' values and say its cursor, or what is wrong with an input."""
    try:
        every = maps.map_of(values)
    except ValueError as error:
        # no picture either: the panel hides the last one beside words of what is wrong
        wrong = wrong_words(error)
        return PanelWords(WRONG, f"{WRONG} {wrong}.", wrong=wrong)
    return say_map(drawing, every, values)


def say_map(drawing: Drawing, every: Mixtures, values: Mapping[str, Any]) -> PanelWords:
    """Draw a map and say the mixture under its cursor."""
    place, layer = cursor_of(every, values), LAYERS[values["drawn"]]
    show(drawing, every, layer, place)
    is_class = maps.TIMES.name in values
    quick = quick_words(every)
    return PanelWords(
        f"{under_cursor(every, place)} {quick}".strip(),
        alt_words(every, layer, place),
        head=f"<p>{CLASS_PERMISSION} {SCHOOL}</p>" if is_class else f"<p>{NO_PERMISSION}</p>",
        notes=notes(every),
        headline=verdict_line(every, place),
        coarse=maps.is_quick(every),
        # a class keeps no rows: a browser keeps them with how much bath it is
        row=None if is_class else handed_values(every, place, values),
    )


def say_in_copy(drawing: Drawing) -> PanelWords:
    """Draw and say what stands for the map where there is no Python: the workshop's, whole."""
    values = starts(school=True)
    return say_map(drawing, maps.full_map(values), values)


def pointed(x: float, y: float, narrow: bool) -> dict[str, int]:
    """Return the sliders' values [%] of the mixture nearest to a place on the picture.

    Parameters
    ----------
    x, y : float
        Shares of its width and height, from the top left [-].
    narrow : bool
        On the narrow picture.
    """
    counts = grid(maps.STEPS)
    ((across, up),) = points([shares_at(x, y, narrow)])
    places = points(counts) / maps.STEPS
    distance = (places[:, 0] - across) ** 2 + (places[:, 1] - up) ** 2
    return maps.sliders_at(counts[distance.argmin()].tolist())


def handed_values(every: Mixtures, place: int, values: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return what goes to the planner's fields; None of a refused mixture and at a first look."""
    # 40 plausible baths may miss what refuses a mixture
    if maps.is_quick(every):
        return None
    return maps.planner_values(every, place, values)


def handed(**values: Any) -> dict[str, Any]:
    """Return what the planner's fields are filled with, and why; nothing where it is refused."""
    try:
        every = maps.shown_map(values)
    except ValueError:
        return {}
    place = cursor_of(every, values)
    filled = handed_values(every, place, values)
    if filled is None:
        return {}
    _, acid, peroxide = corner_words(every)
    parts = parts_words(every.parts(place))
    why = f"Filled in from “What if”: {acid}, {peroxide}; {parts}."
    return {**filled, "why": why}


@functools.lru_cache(maxsize=32)
def plan_once(row: tuple[tuple[str, Any], ...]) -> Plan:
    """Return the plan of a kept row; they are worked out anew whenever one comes or goes."""
    # as for a class: it shows no amount, for the page gives none
    return for_class(fields.plan_from(dict(row)))


def plan_of(row: Mapping[str, Any]) -> Plan:
    """Return the plan of a kept row, or raise on what cannot be."""
    return plan_once(tuple(row.items()))


def rows_beside(
    rows: Sequence[Mapping[str, Any]], values: Mapping[str, Any]
) -> tuple[str, str, list[int]]:
    """Return table and picture of kept rows as HTML, their CSV, and the places of lost ones."""
    shown, csv, lost = rows_shown(rows, plan_of, *wished(values))
    if shown:
        shown = f"<p>{ROWS_WORDS}</p>{shown}"
    return shown, csv, lost


def what_if(school: bool = False) -> Panel:
    """Make the map as a page shows it: bottles, cursor, picture, words, and rows kept beside.

    Parameters
    ----------
    school : bool
        For a class: without kept rows and without the way to the planner, which hold millilitres.

    Returns
    -------
    Panel
        It starts with the workshop's bottles, and shows a quick map first.
    """
    if school:
        return Panel(
            TITLE,
            groups(school),
            build,
            say,
            settle=settle,
            points=pointed,
            copied=say_in_copy,
        )
    return Panel(
        TITLE,
        groups(),
        build,
        say,
        receives=WHAT_IF_PAGE,
        links=(Link(TO_PLANNER, PLANNER_PAGE, handed),),
        beside=Beside(PLACE, rows_beside, puts_back=False),
        settle=settle,
        points=pointed,
        on_paper=ON_PAPER,
        copied=say_in_copy,
    )
