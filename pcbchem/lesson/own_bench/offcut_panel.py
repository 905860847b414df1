"""Offcuts: a log that is opened, started and added to, and what it says of the board."""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Mapping
from typing import Any

import numpy as np

from ...bench.offcut.log_file import MOST_BYTES
from ...bench.plan.planning import Plan
from ...common.units import mL
from ...page.picture import Drawing
from ...page.widget.controls import (
    Action,
    Carried,
    Choice,
    Done,
    Group,
    Item,
    Link,
    PanelWords,
    Progress,
    Text,
    Upload,
)
from ...page.widget.panel import Panel
from ..pages import OFFCUT_PAGE, PLANNER_PAGE
from .bench import (
    Bench,
    Terms,
    offcut_like,
    plan_of,
    readings_disagree,
    unfit_words,
    workshop_plan,
)
from .cautions import method_cautions_html
from .log_book import FIRST_NAME, MOST_LETTERS, NOT_SAVED, LogBook
from .offcut_form import CLEAR, HOT, REST, ROW, SEEN, offcut_from
from .offcut_words import (
    MAKING,
    NO_MORE,
    doubt_of_time,
    finding_words,
    log_table,
    no_time_words,
    rows_of,
)
from .rows_picture import build, draw

HEADING = "Your offcuts"
AXIS = "minutes until your board is clear"
"""What the picture counts."""
ON_PAPER = (
    "Your own bench: offcuts and their amounts are not printed. Your log is a file: open it there."
)
NAME = Text(
    "log",
    "file here",
    FIRST_NAME,
    MOST_LETTERS,
    hint="a CSV file in the folder of this page",
    stays=True,
)
OPEN = Action(
    "open_log",
    "Open it, or start it",
    (
        "Reads the file, again if it was open, or makes an empty one where there is none. The page "
        "only adds rows to its end."
    ),
)
START = Action("open_log", "Start a new log", "It is kept here until you close the page.")
BRING = Upload(
    "bring_log",
    "Open from your computer",
    (".csv",),
    MOST_BYTES,
    help="A log that you took with you. Rows are added here: take it with you again.",
)
TAKE = Action("take_log", "Take it with you (CSV)", "Saves the log as a file on your computer.")
ADD = Action("add_row", "Add this row", "To the end of the log, once.")
TO_PLAN = "Plan an offcut like the board"
OFFCUT_HANDED = (
    "An offcut of your board, planned as a board of its own: half the bare copper, half the bath."
)
SPREADS = {"care": 0.15, "rough": 0.25}
"""How good times are taken to be [-], by how they were timed (assumed)."""
TRUST = Group(
    "Your board beside them",
    (
        Text("board_acid", "its acid is the log's", "acid", 60),
        Text("board_peroxide", "its peroxide is the log's", "peroxide", 60),
        Choice(
            "hand",
            "who etches the board",
            {
                "no": "another hand, or another tray",
                "yes": "the hand and the tray of these offcuts",
            },
            "no",
            help=(
                "Same hand, same tray, half the board or more: the step to the board is taken to "
                "be good to 15 %, otherwise to 30 % (assumed)."
            ),
        ),
        Choice(
            "timed",
            "timed",
            {"care": "with care: 15 %", "rough": "roughly: 25 %"},
            "care",
            help=(
                "How far a time seen may be off (assumed). Write when it was clear, not when you "
                "looked."
            ),
        ),
    ),
)


def panel_of_offcuts(bench: Bench) -> Panel:
    """Make the panel of offcuts: a log, one more row, and the board's band before and after.

    Parameters
    ----------
    bench : Bench
        Whose kept readings count too; its folder is where the log lies.

    Returns
    -------
    Panel
        It is drawn again when a reading is kept or taken away. The planner may hand it a board.
    """
    book = LogBook(bench.folder)

    def show(drawing: Drawing, progress: Progress, **values: Any) -> PanelWords:
        return say(drawing, bench, book, values, progress)

    def open_log(values: Mapping[str, Any], came_with: Mapping[str, Any], _: Progress) -> Done:
        return Done(remark=book.open_or_start(values["log"].strip()), redraws=True)

    def bring_log(values: Mapping[str, Any], came_with: Mapping[str, Any], _: Progress) -> Done:
        if came_with.get("removed"):
            # also when the page is loaded again: its rows must not be lost with the file's name
            return Done(remark=f"The rows stay here. {NOT_SAVED}" if book.is_open else "")
        remark = book.take_in(came_with["name"], came_with["data"])
        return Done(remark=remark, values={"log": came_with["name"]})

    def take_log(_: Mapping[str, Any], came_with: Mapping[str, Any], __: Progress) -> Done:
        if not book.is_open:
            raise ValueError("There is no log yet: open one, or start it.")
        return Done(remark=f"{book.name} is saved.", file=(book.name, book.data))

    def add_row(values: Mapping[str, Any], came_with: Mapping[str, Any], _: Progress) -> Done:
        plan = plan_of(values["board"])
        unfit = unfit_words(plan)
        if unfit:
            raise ValueError(unfit)
        if not values["seen"].strip() and book.added:
            return Done(remark=f"{book.added} For one more, say after how long it was seen.")
        today = datetime.date.today().isoformat()
        remark = book.add(offcut_from(values, plan, today))
        if values["outcome"] == HOT:
            book.was_hot = True
            remark += f" {NO_MORE}"
        return Done(remark=remark, values={"seen": "", "note": "", "outcome": CLEAR})

    def handed(**values: Any) -> dict[str, Any]:
        return to_planner(bench, values)

    works = {"open_log": open_log, "take_log": take_log, "add_row": add_row}
    if bench.folder is None:
        works["bring_log"] = bring_log
    return Panel(
        "Your own bench: offcuts",
        controls_of(bench),
        build,
        show,
        works=works,
        receives=OFFCUT_PAGE,
        links=(Link(TO_PLAN, PLANNER_PAGE, handed),),
        progress=True,
        follows=(bench,),
        on_paper=ON_PAPER,
        copied=in_copy,
    )


def controls_of(bench: Bench) -> tuple[Item | Group, ...]:
    """Return what stands on the panel from top to bottom: files by where the page runs."""
    files: tuple[Item, ...] = (NAME, OPEN, TAKE)
    if bench.folder is None:
        files = (NAME, START, BRING, TAKE)
    return Carried("board"), Group("The log", files), TRUST, ROW, REST, ADD


def say(
    drawing: Drawing,
    bench: Bench,
    book: LogBook,
    values: Mapping[str, Any],
    progress: Progress,
) -> PanelWords:
    """Say what the log tells of the board."""
    top = method_cautions_html(HEADING, "offcut")
    bench.offers_like = False
    try:
        plan = plan_of(values["board"])
    except ValueError as error:
        wrong = f"The board that was handed over cannot be planned: {error}"
        return PanelWords("No time.", f"No time. {wrong}", wrong=wrong, top=top)
    is_workshops = values["board"] is None
    trouble = ""
    try:
        book.look()
    except ValueError as error:
        trouble = str(error)  # what was read last is still shown, under these words
    unfit = unfit_words(plan)
    if unfit:
        wrong = " ".join(words for words in (trouble, unfit) if words)
        table = log_table(book, None, has_amounts=False)
        return PanelWords(
            "No offcut of this bath.",
            f"No offcut of this bath. {wrong}",
            wrong=wrong,
            table=table,
            top=method_cautions_html(HEADING, "offcut", is_etched=False),
        )
    terms = Terms(
        values["board_acid"].strip() or "acid",
        values["board_peroxide"].strip() or "peroxide",
        values["hand"] == "yes",
        SPREADS[values["timed"]],
    )

    def tell(share: float) -> None:
        progress(share, MAKING)

    try:
        finding = bench.finding(plan, book.digest, book.log, terms, tell)
    except ValueError as error:
        # its words stand in place of picture and time
        wrong = " ".join(words for words in (trouble, no_time_words(error)) if words)
        table = log_table(book, None, has_amounts=False)
        return PanelWords(
            "No time from this log.",
            f"No time from this log. {wrong}",
            wrong=wrong,
            table=table,
            under_fields=under_time(values, plan),
            top=top,
        )
    if book.was_hot or readings_disagree(bench, plan):
        finding = dataclasses.replace(finding, tests=(), has_like=False)
    bench.offers_like = finding.has_like and not is_workshops
    rows = rows_of(plan, finding)
    words = finding_words(bench, plan, finding, book, is_workshops, trouble)
    draw(drawing, rows, AXIS, is_log=True)
    return PanelWords(
        words.readout,
        words.alt,
        head=words.head,
        notes=words.notes,
        headline=words.headline,
        table=log_table(book, finding),
        under_fields=under_time(values, plan),
        top=top,
    )


def to_planner(bench: Bench, values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the planner's values of an offcut like the board; nothing where none is offered.

    It is planned as a board of its own: half the bare copper, in half the bath, in the same tray.
    """
    if not bench.offers_like:
        return {}
    plan = plan_of(values["board"])
    offcut = offcut_like(plan)
    side = round(1000 * float(np.asarray(offcut.tray.open_area)) ** 0.5, 1)
    copper = float(offcut.board.copper_area) / float(plan.inputs.board.copper_area)
    return {
        **values["board"],
        "bare": round(copper * values["board"]["bare"], 4),
        "total": round(offcut.volume / mL, 3),
        "tray_width": values["board"]["tray_width"] or side,
        "tray_length": values["board"]["tray_length"] or side,
        "why": OFFCUT_HANDED,
    }


def under_time(values: Mapping[str, Any], plan: Plan) -> dict[str, str]:
    """Doubt a time that is typed, under its field, before it is added; nothing where it is good."""
    try:
        offcut = offcut_from(values, plan, "")
        words = doubt_of_time(offcut)
    except ValueError:
        return {}  # blank, or refused when it is added
    return {SEEN.name: words} if words else {}


def in_copy(drawing: Drawing) -> PanelWords:
    """Draw and say what stands for the panel in a copy without Python: labels alone."""
    plan = workshop_plan()
    rows = rows_of(plan, None)
    title = f"The workshop's board, by the labels alone: {rows[0].words}"
    draw(drawing, rows, AXIS, is_log=True)
    return PanelWords(f"In this copy no log can be opened: run the page. {NOT_SAVED}", title)
