"""The planner's panel: from the form's values to a plan, and to its picture, verdict and words."""

from __future__ import annotations

import functools
import html
from collections.abc import Mapping, Sequence
from typing import Any

from ...bench.hazards.words import head as verdict_words
from ...bench.plan import files
from ...bench.plan.planning import Plan, for_class
from ...common.limits import IMPOSSIBLE, InputError
from ...common.number_words import figures
from ...common.units import mL_per_cm2
from ...page.picture import Drawing
from ...page.widget.controls import Field, Group, Item, Link, PanelWords, all_controls
from ...page.widget.panel import Panel
from ...page.widget.works import Beside, refusal_in_words
from ..bath.kept_rows import PLACE, rows_shown
from ..bath.plan_picture import build, show
from ..bath.plan_words import words
from ..form import fields
from ..form.back_to_fields import values_of
from ..form.choices import NOTATIONS as NOTATIONS
from ..form.notation import settle
from ..form.table import ACID_SHARE, BATH_FOR_COPPER, CURSOR_STEP, WATER_SHARE
from ..form.wishes import wished
from ..pages import OFFCUT_PAGE, PLANNER_PAGE, WHAT_IF_PAGE
from ..workshop import USUAL
from . import buttons
from .answer import head, live_words, notes

NAME, SHOP = "This bath", "The workshop's bath"
STARTS = (
    f"{SHOP}, as this page starts: equal parts of acid {fields.STARTS['acid']:g} % and peroxide "
    f"{fields.STARTS['peroxide']:g} %, {fields.STARTS['agitation']}. Not your inputs."
)
"""Stands first as long as nobody has entered anything, as on an exported or reopened page."""
TO_MAP = "All mixtures of these bottles, on a map"
TO_BENCH = "Offcuts of this board, on your own bench"
BOARD_HANDED = "Your board, bottles and bath are those of the planner."
FROM_PLANNER = (
    "Filled in from the planner: your bottles, board and tray, as much bath for the copper."
)
ON_PAPER = (
    "Planner: no amounts stand on a printed page, for they would be those of one bath alone. "
    "For the bench print its card: the button stands under the verdict."
)
"""What a printed page says in place of the planner."""
WRONG = "No plan yet: one of the inputs cannot be."
SCHOOL = (
    "For a class: verdicts, bands and cautions, and no amounts. How much bath there is for the "
    "copper counts in times the workshop's."
)
"""Stands first on a page that is set for a class."""
NO_BATH = "that is too little to be a bath, or too shallow in its tray"
"""What is wrong with a bath of a class, whose limits are volumes."""
TOTAL = next(field for field in fields.CONTROLS["The bath"] if field.name == "total")
TIMES = Field("bath_times", "bath for copper", "× usual", 0.1, 20, 0.1, 1)
"""What a class is asked instead of a volume."""
LABELS = fields.LABELS | {TIMES.name: TIMES.label.capitalize()}


untitled = functools.partial(build, titled=False)
"""Makes the empty picture: when the board is clear stands beside it, and is said once."""


def groups(school: bool = False) -> list[Group]:
    """Return the planner's fields and buttons, from top to bottom, with the workshop's bath.

    A class is asked for no volume, but how many times as much bath for its copper it has, and no
    button tells it one.
    """
    listed = []
    for heading, controls in fields.CONTROLS.items():
        items: list[Item] = [*controls]
        if school:
            items = [TIMES if control is TOTAL else control for control in controls]
        else:
            items += buttons.UNDER.get(heading, ())
        listed.append(Group(heading, items, folded=heading in fields.FOLDED))
    if not school:
        listed.append(Group(buttons.SEARCH, buttons.SEARCHED, folded=True))
    return listed


def starts(school: bool = False) -> dict[str, Any]:
    """Return the value with which each control starts [units of the controls]."""
    return {control.name: control.start for control in all_controls(groups(school))}


def check_blanks(values: Mapping[str, Any]) -> None:
    """Refuse a field that is left blank beside others that need it, as nobody can in Python."""
    # in Python these belong to one entry and come together; on the page each has a field
    blank = {name for name, value in values.items() if value is None}
    sides = {"tray_width", "tray_length"}
    rule = ""
    if len(blank & sides) == 1:
        rule = "give both its width and its length, or leave both blank"
    elif sides <= blank and values["facing"] == "upright":
        rule = "an upright board stands in a tank: give the tank's width and length"
    if rule:
        raise InputError("tray_mm", rule, about="", wrong="")
    used = [row.control for name, row in fields.ROWS.items() if row.entry == "used_bath"]
    missing = [control.label for control in used if control.name in blank]
    if values["used_bath"] and missing:
        rule = f"fill in what yours holds: {'; '.join(missing)}"
        raise InputError("used_bath", rule, about="", wrong="")


def page_words(error: ValueError | OSError) -> str:
    """Return what is wrong with an input in the page's words: label, what cannot be, and the rule.

    Examples
    --------
    >>> print(page_words(InputError("total_mL", "it must be above 0 to 1e+06 mL", value=0)))
    Bath in all = 0 cannot be: it must be above 0 to 1e+06 mL
    """
    # what is wrong with no single input has no label here
    if not isinstance(error, InputError):
        return refusal_in_words(error)
    label = LABELS.get(error.field, error.field)
    wrong = " cannot be" if error.wrong == IMPOSSIBLE else f" {error.wrong}".rstrip()
    return f"{label}{error.about}{wrong}: {error.rule}"


def bath_values(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values that a plan starts from: not those of a search."""
    wanted = [control.name for control in buttons.SEARCHED if isinstance(control, Field)]
    return {name: value for name, value in values.items() if name not in wanted}


def plan_of(values: Mapping[str, Any]) -> Plan:
    """Return the plan of the controls' values, or raise on what cannot be."""
    check_blanks(values)
    return plan_once(tuple(bath_values(values).items()))  # a dict is no key of what is kept


@functools.lru_cache(maxsize=16)
def plan_once(values: tuple[tuple[str, Any], ...]) -> Plan:
    """Return the plan of values; the last few are kept: picture, words and file ask once.

    Without amounts where the form is that of a class.
    """
    form = dict(values)
    if TIMES.name not in form:
        return fields.plan_from(form)
    depth = form.pop(TIMES.name) * USUAL / mL_per_cm2
    try:
        plan = fields.plan_from(form | {TOTAL.name: None}, depth)
    except InputError as error:
        # what is wrong with the size of a bath is said in mL, and no class is given any
        is_its_size = error.field in ("mL_per_cm2", "second") and error.unit in ("mL", "mm")
        if not is_its_size:
            raise
        raise InputError(TIMES.name, NO_BATH, about="", wrong="") from error
    return for_class(plan)


def say(drawing: Drawing, **values: Any) -> PanelWords:
    """Draw the plan of the controls' values and say it, or say what is wrong with an input."""
    try:
        plan = plan_of(values)
    except ValueError as error:
        # no picture either: the panel hides the last one beside words of what is wrong
        wrong = page_words(error)
        return PanelWords(WRONG, f"{WRONG} {wrong}.", wrong=wrong)
    # entered again number by number it is the workshop's too
    untouched = values == starts(plan.school)
    name = SHOP if untouched else NAME
    show(drawing, plan, name)
    _, alt = words(plan, name)
    first = [SCHOOL] if plan.school else []
    if untouched:
        # nobody may take the workshop's bath for their own
        first.append(STARTS)
    lines = "".join(f"<p>{html.escape(line, quote=False)}</p>" for line in first)
    looks = None
    if plan.first_look is not None and plan.look_every is not None:
        looks = (plan.first_look, plan.look_every)
    return PanelWords(
        live_words(plan),
        alt,
        f"{lines}{head(plan)}",
        notes(plan),
        headline=verdict_words(plan.verdict, plan.harmful),
        looks=looks,
        offers=buttons.changes_offered(plan),
        row=bath_values(values),
    )


def say_in_copy(drawing: Drawing) -> PanelWords:
    """Draw and say what stands for the planner where there is no Python: a class's first plan."""
    return say(drawing, **starts(school=True))


def file_of(**values: Any) -> str:
    """Return the text of the file in which the inputs are kept."""
    return files.text_of(plan_of(values).inputs)


def opened(text: str) -> tuple[dict[str, Any], str]:
    """Return the controls' values of a file's text, and what to say of an old file.

    Raises
    ------
    ValueError
        The file is none of ours: says why.
    """
    inputs = files.inputs_from_text(text)
    remark = ""
    if inputs.edition == 1:
        remark = files.FROM_FIRST_EDITION
    return values_of(inputs), remark


def handed_to_map(**values: Any) -> dict[str, Any]:
    """Return what the map's fields are filled with, and why: these bottles, this board, this tray.

    Nothing where there is no plan. Its cursor stands on this mixture, or next to it.
    """
    try:
        inputs = plan_of(values).inputs
    except ValueError:
        return {}
    water, acid, peroxide = inputs.parts
    reagents = acid + peroxide
    shares = {
        WATER_SHARE: water / (water + reagents),
        ACID_SHARE: acid / reagents if reagents else 0,
    }
    return {
        **bath_values(values),
        BATH_FOR_COPPER: float(f"{inputs.bath_per_area / mL_per_cm2:.4g}"),
        **{name: CURSOR_STEP * round(100 * share / CURSOR_STEP) for name, share in shares.items()},
        "why": FROM_PLANNER,
    }


def handed_to_bench(**values: Any) -> dict[str, Any]:
    """Return the planner's values as one, and why; nothing where there is no plan."""
    try:
        plan_of(values)
    except ValueError:
        return {}
    return {"board": bath_values(values), "why": BOARD_HANDED}


def rows_beside(
    rows: Sequence[Mapping[str, Any]], values: Mapping[str, Any]
) -> tuple[str, str, list[int]]:
    """Return table and picture of kept rows as HTML, their CSV, and the places of lost ones."""
    return rows_shown(rows, plan_of, *wished(values))


def rows_of_class(
    rows: Sequence[Mapping[str, Any]], _: Mapping[str, Any]
) -> tuple[str, str, list[int]]:
    """Return the same for a class: without amounts, also of rows that were kept with them."""
    return rows_shown(rows, lambda row: for_class(plan_of(row)), None, None, times_usual)


def times_usual(plan: Plan) -> str:
    """Say how much bath there is for the copper, as a class is asked for it."""
    return f"{figures(plan.inputs.bath_per_area / USUAL)} × usual"


def planner(school: bool = False) -> Panel:
    """Make the planner as a page shows it: fields, verdict, picture, words, and inputs in a file.

    Parameters
    ----------
    school : bool
        For a class: verdicts, bands and cautions without any amount; without a file, and without
        baths that another page hands over, for both are in millilitres.

    Returns
    -------
    Panel
        It starts with the workshop's mild bath; a page that links to it may fill it in.
    """
    title = "Planner: what this mixture does to my board"
    if school:
        return Panel(
            title,
            groups(school),
            untitled,
            say,
            settle=settle,
            beside=Beside(PLACE, rows_of_class),
        )
    return Panel(
        title,
        groups(),
        untitled,
        say,
        files=(file_of, opened),
        file_name="bath.json",
        receives=PLANNER_PAGE,
        links=(
            Link(TO_MAP, WHAT_IF_PAGE, handed_to_map),
            Link(TO_BENCH, OFFCUT_PAGE, handed_to_bench),
        ),
        settle=settle,
        works=buttons.works(plan_of),
        refusal_words=page_words,
        beside=Beside(PLACE, rows_beside),
        after_words=(buttons.CARD,),
        has_clock=True,
        on_paper=ON_PAPER,
        copied=say_in_copy,
    )
