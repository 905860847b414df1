"""A panel with a piece of each kind that takes words, times, files or rows, in an empty page.

Python answers when the test says so. It stands where a server would, so that it can keep rows.
"""

import contextlib

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import (
    Action,
    Carried,
    Choice,
    Field,
    Group,
    Link,
    PanelWords,
    Slider,
    Table,
    Text,
    TimeText,
    Upload,
)
from pcbchem.page.widget.panel import PANELS, Panel

from .alone import MODEL, state_of, stop_clock

HOSTILE = '<img src=x onerror="window.failures.push(1)">'
WITH_BAD = ("tray", ("bad",))
ITEMS = [
    Group(
        "Offcut",
        (
            Text("note", "Note", "", 12, "a word or two", help="What was odd."),
            TimeText("clear", "Clear after", 10, 3600, help="From board in."),
            Choice("tray", "Tray", {"good": "good", "bad": "bad"}, "good", look="list"),
            Text("why", "Why bad", "", 20, when=WITH_BAD),
            Carried("offcut"),
            Action("add", "Add this row"),
            Action("mend", "Mend the tray", when=WITH_BAD),
            Upload("log", "Open a log", (".csv",), 50_000_000),
        ),
    ),
    Group("More", (Field("width", "width", "mm", 10, 90, 1, 75),), folded=True),
    Group("Cursor", (Slider("at", "At", "min", 0, 9, 1, 0),)),
]
MARKED = Table(
    f"Offcuts {HOSTILE}",
    ["line", *(f"a long name of column {number}" for number in range(8))],
    [[f"{row}", HOSTILE, *["some words that are wide"] * 7] for row in (1, 2)],
    ["", "bad row"],
)
LINKS = [
    Link("On to the planner", "00_plan_a_bath.ipynb", lambda **_: {"water": 1}),
    Link("On to this page", "page.ipynb", lambda **_: {"offcut": {"label": HOSTILE}}),
    Link("Nowhere", "other.ipynb", lambda **_: {}),
]


def build(narrow):
    return Drawing(figure(1.0))


def words(drawing, **values):
    return PanelWords("8 of 10", "white", row={"note": values["note"]}, table=MARKED)


def new_panel(**more):
    panel = Panel(
        "Bench",
        ITEMS,
        build,
        words,
        works=dict.fromkeys(("add", "mend", "log")),
        links=LINKS,
        receives="page.ipynb",
        **more,
    )
    return PANELS.pop(panel.title)


def open_alone(page, panel=None, storage="", **state):
    """Open the panel in a page that stands where a server would; `storage` is done before."""
    panel = panel or new_panel()
    body = '<!DOCTYPE html><html lang="en"><head><title>t</title></head><body></body></html>'
    page.route("http://demo/**", lambda route: route.fulfill(body=body, content_type="text/html"))
    page.goto("http://demo/page.ipynb")
    page.evaluate("() => { window.failures = []; }")
    if storage:
        page.evaluate(storage)
    stop_clock(page)
    page.evaluate(MODEL, [panel._esm, {**state_of(panel), **state}])
    page.add_style_tag(content=panel._css)
    return page


@contextlib.contextmanager
def answered_alone(tab):
    """The panel in an empty page, answered; no script of it may fail."""
    page = open_alone(tab, storage="localStorage.clear()")
    answered(page)
    yield page
    assert page.evaluate("window.failures") == []


def answered(page, **news):
    """Python answers the last question."""
    page.evaluate("news => model.put({ ...news, done: model.get('asked') })", news)


def tell(tab, /, **content):
    """Python sends a message."""
    tab.evaluate("content => model.tell(content)", content)


def value(page, name):
    return page.evaluate("name => model.get('values')[name]", name)


def presses(page):
    """What was pressed, by name, in order."""
    return page.evaluate("sent.filter(message => message.press).map(message => message.press)")


def field(page, name):
    return page.get_by_role("textbox", name=name, exact=True)


def button(page, name):
    return page.get_by_role("button", name=name, exact=True)


def status_of(page, name):
    """Return what is said beside a button."""
    work = page.locator(".pcbchem-work").filter(has=button(page, name))
    return work.get_by_role("status").first


def alert_of(page, name):
    row = page.locator(".pcbchem-text, .pcbchem-field, .pcbchem-list").filter(has_text=name)
    return row.locator(".pcbchem-note").first  # hidden where it says nothing


def reading_of(page):
    """Return what says how the time was read."""
    row = page.locator(".pcbchem-text").filter(has_text="Clear after")
    return row.locator(".pcbchem-meaning[role=status]")


def refuse(page, **beside):
    """Python refuses what stands in fields."""
    answered(page, beside_fields=beside)
