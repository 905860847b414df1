"""The planner's panel: from the form's values to a plan, and to its picture, verdict and words."""

from __future__ import annotations

import functools
import html
from collections.abc import Mapping
from typing import Any

from ...bench.hazards import words as hazards
from ...bench.hazards.caution import BEFORE, GOES_WRONG
from ...bench.hazards.words import (
    NO_AIR,
    RULES,
    bullets,
    layer,
    look_up,
    offcut_cautions,
    safety,
)
from ...bench.plan import files
from ...bench.plan.planning import Plan, for_class
from ...bench.plan.words import asked, course, helps, numbers, sure, why
from ...common.extras import extra
from ...common.limits import IMPOSSIBLE, InputError
from ...common.units import mL_per_cm2
from ...page.picture import Drawing
from ...page.table import Table
from ...page.widget.controls import Field, Group, PanelWords, all_controls
from ...page.widget.panel import Panel
from ..bath import fields
from ..bath.back_to_fields import values_of
from ..bath.choices import NOTATIONS as NOTATIONS
from ..bath.plan_picture import build, show
from ..bath.plan_words import words
from ..pages import PLANNER_PAGE
from ..workshop import USUAL

NAME, SHOP = "This bath", "The workshop's bath"
STARTS = (
    f"{SHOP}, as this page starts: equal parts of acid {fields.STARTS['acid']:g} % and peroxide "
    f"{fields.STARTS['peroxide']:g} %, {fields.STARTS['agitation']}. Not your inputs."
)
"""Stands first as long as nobody has entered anything, as on an exported or reopened page."""
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


def groups(school: bool = False) -> list[Group]:
    """Return the planner's fields, from top to bottom: they start with the workshop's bath.

    A class is asked for no volume, but how many times as much bath for its copper it has.
    """
    listed = []
    for heading, controls in fields.CONTROLS.items():
        if school:
            controls = [TIMES if control is TOTAL else control for control in controls]
        listed.append(Group(heading, controls, folded=heading in fields.FOLDED))
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


def page_words(error: ValueError) -> str:
    """Return what is wrong with an input in the page's words: label, what cannot be, and the rule.

    Examples
    --------
    >>> print(page_words(InputError("total_mL", "it must be above 0 to 1e+06 mL", value=0)))
    Bath in all = 0 cannot be: it must be above 0 to 1e+06 mL
    """
    # what is wrong with no single input has no label here
    if not isinstance(error, InputError):
        return str(error)
    label = LABELS.get(error.field, error.field)
    wrong = " cannot be" if error.wrong == IMPOSSIBLE else f" {error.wrong}".rstrip()
    return f"{label}{error.about}{wrong}: {error.rule}"


def plan_of(values: Mapping[str, Any]) -> Plan:
    """Return the plan of the controls' values, or raise on what cannot be."""
    check_blanks(values)
    return plan_once(tuple(values.items()))  # a dict cannot be a key of what is kept


@functools.lru_cache(maxsize=8)
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


def html_of(markdown: str) -> str:
    """Turn Markdown of the package's own words into HTML."""
    with extra("pages"):
        import mistune  # only here: a plan in Python needs none

    # not escaped: no word of a reader gets here, and ours fold sources away in <details>
    return str(mistune.create_markdown(escape=False)(markdown))


def head(plan: Plan) -> str:
    """Say the verdict, what to see to before anything is poured, reasons, law, what would help."""
    words_of_verdict = hazards.head(plan.verdict, plan.harmful)
    verdict = f'<h3 style="margin:.2rem 0">{html.escape(words_of_verdict)}</h3>'
    # a limit in °C must not be read without its unit, at the end of a line
    first = safety(plan.refused, harm=plan.harmful).replace(" °C", "&nbsp;°C")
    reasons = bullets(why(plan))
    if not reasons:
        reasons = (
            "No limit of ours is exceeded. That is no permission: your local rules come first."
        )
    law = [line.words for line in plan.law]
    body = html_of("\n\n".join([reasons, *law, NO_AIR, *helps(plan)]))
    # a body of some height, so that the picture below does not jump from plan to plan
    return f'{verdict}<p><strong>{first}</strong></p><div style="min-height:4rem">{body}</div>'


def notes(plan: Plan) -> str:
    """Say the rest, as on paper: cautions in layers, each where it is needed, and what to pour."""
    blocks = [
        asked(plan.inputs, plan.school),
        # those of opening a bottle before any amount; first aid is never folded away
        *layer(plan.cautions, BEFORE, plan.refused),
        *course(plan, cautions=True),
        *layer(plan.cautions, GOES_WRONG),
        *sure(plan),
        RULES,
    ]
    body = html_of("\n\n".join(blocks))
    caption = "8 of 10 plausible baths lie between low end and high end"
    table = Table(numbers(plan), caption=caption)._repr_html_()
    offcut = ""
    # nobody etches an offcut in a refused bath, nor a class that is given no amounts
    if not (plan.refused or plan.school):
        heading, *lines = offcut_cautions(True)
        offcut = folded(heading.replace("**", ""), html_of("\n\n".join(lines)))
    last = html_of("\n\n".join(look_up(plan.cautions, True, plan.refused)))
    return f"{body}{folded('The numbers in a table', table)}{offcut}{last}"


def folded(summary: str, body: str) -> str:
    """Fold HTML away under one line."""
    return f"<details><summary>{summary}</summary>{body}</details>"


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
    readout, alt = words(plan, name)
    first = [SCHOOL] if plan.school else []
    if untouched:
        # nobody may take the workshop's bath for their own
        first.append(STARTS)
        readout = f"{SHOP}. {readout}"
    lines = "".join(f"<p>{html.escape(line, quote=False)}</p>" for line in first)
    return PanelWords(readout, alt, f"{lines}{head(plan)}", notes(plan))


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
        return Panel(title, groups(school), build, say)
    return Panel(
        title,
        groups(),
        build,
        say,
        files=(file_of, opened),
        file_name="bath.json",
        receives=PLANNER_PAGE,
    )
