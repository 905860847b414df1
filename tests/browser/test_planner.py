"""Law: each field of the planner, moved by keyboard, does what the package says; inputs go into a file and back."""

import html
import json
import re
from pathlib import Path

import pytest
from helpers.workshop import POUR
from playwright.sync_api import expect

from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.page.widget.controls import Choice

from .hands import (
    choose,
    complaints,
    named,
    no_errors,
    panel_of,
    parts_of,
    run_alone,
    shows,
    swapped,
    swaps,
    watched,
    write,
)
from .opening import planner_alone

MOVES = [  # every control once, in an order in which each has something to change; a choice goes through all its words
    ("place", None),
    ("acid", "10,5"),
    ("acid_sure", "between"),
    ("acid_to", "14"),
    ("acid_in", None),
    ("peroxide", "11"),
    ("peroxide_sure", "between"),
    ("peroxide_to", "11.5"),
    ("peroxide_in", None),
    ("water_parts", "0.5"),
    ("acid_parts", "1.2"),
    ("peroxide_parts", "1.1"),
    ("total", "180"),
    ("board_width", "70"),
    ("board_height", "65"),
    ("bare", "55"),
    ("foil", "1.5"),
    ("air", "25"),
    ("bottles", "18"),
    ("agitation", None),
    ("tray_width", "120"),
    ("tray_length", "100"),
    ("facing", None),
    ("kept", "40"),
    ("kept_copper", "5"),
    ("kept_copper_to", "6"),
    ("kept_acid", "1"),
    ("kept_acid_to", "1.5"),
    ("kept_peroxide", "0.1"),
    ("kept_peroxide_to", "0.3"),
    ("held_back", "50"),
    ("held_until", "2"),
]
WRONG = {
    "tray_width",  # alone it cannot be: its length comes next
    "kept",
    "kept_copper",
    "kept_copper_to",
    "kept_acid",
    "kept_acid_to",
    "kept_peroxide",
}  # until all are said
STRENGTHS = {"acid", "acid_to", "peroxide", "peroxide_to"}  # their unit is the choice beside them
STRONG = {"acid": "31", "peroxide": "30"}


@pytest.fixture(scope="module")
def package():
    return planner.planner()


@pytest.fixture(scope="module")
def page(server, opened_once):
    return run_alone(server, opened_once, "planner_alone.ipynb", planner_alone())


@pytest.fixture
def panel(page, package):
    """The panel after Reset, everything unfolded by keyboard, and its swaps counted."""
    found = panel_of(page, "Planner")
    found.get_by_role("button", name="Reset").press("Enter")
    folded = found.locator("details.group:not([open]) > summary")
    while folded.count():
        folded.first.press("Enter")
    shows(found, said(package))
    watched(found)
    return found


def said(package, **changed):
    return package.said(False, **changed)[1]


def control(package, name):
    return next(one for one in package.controls if one.name == name)


def heard(panel):
    """All that stands in the panel, unfolded or not, and its picture in words."""
    return html.unescape(re.sub(r"<[^>]+>", " ", panel.inner_html())) + panel.locator(
        "img"
    ).get_attribute("alt")


def test_law_every_field_is_named_with_its_unit(page, panel, package):
    seen = [one for one in package.controls if getattr(one, "when", None) is None]
    named(panel, seen)
    assert {
        one.name for one in package.controls if not isinstance(one, Choice) and not one.unit
    } == STRENGTHS
    for name in STRENGTHS & {one.name for one in seen}:
        box = panel.get_by_role("group", name=f"{name} in", exact=True)
        assert box.get_by_role("radio").count() == len(planner.NOTATIONS[name])


def test_law_every_field_moves_what_it_should(page, panel, package):
    """By keyboard, from the workshop's bath to another one; after each the page says what the package says."""
    assert sorted(name for name, _ in MOVES) == sorted(one.name for one in package.controls)
    values, words, count = {one.name: one.start for one in package.controls}, said(package), 0
    for name, text in MOVES:
        one = control(package, name)
        for value in steps(one, text):
            if isinstance(one, Choice):
                choose(panel, one, one.options[value])
            else:
                write(panel, one, value)
                value = float(value.replace(",", "."))
            values[name] = value
            before, words = words, said(package, **values)
            assert bool(words.wrong) == (name in WRONG), (name, words.wrong)
            shows(panel, words)
            assert words.alt != before.alt or name == "place", (
                name
            )  # only the words know whose rules hold
            if words.alt != before.alt and not words.wrong:
                swapped(panel, count + 1)
            count = swaps(panel)
            expect(panel.locator("img")).to_be_visible(visible=not words.wrong)
    assert complaints(page) == []


def steps(one, text):
    """The values that a control takes, one after the other: all others of a choice, or one that is written."""
    if not isinstance(one, Choice):
        return [text]
    if text:
        return [text]
    at = list(one.options).index(one.start)
    return [*list(one.options)[at + 1 :], *list(one.options)[:at]]


@pytest.mark.parametrize("name, text", [("total", "0,0"), ("air", "99"), ("acid", "strong")])
def test_law_a_value_that_cannot_be_is_said_and_is_not_planned(page, panel, package, name, text):
    """Out of a field's limits: said beside it. Within them but impossible: no file. No old verdict beside either."""
    one = control(package, name)
    write(panel, one, text)
    if name == "total":
        words = said(package, total=0)
        shows(panel, words)
        assert words.wrong.startswith("Bath in all = 0 cannot be")
        expect(panel.locator("img")).to_be_hidden()
        expect(panel.get_by_role("button", name="Save these inputs as a file")).to_be_disabled()
    else:
        alert = panel.locator(".note:not(:empty)")
        expect(alert).to_contain_text(f"{one.label}: a number from {one.low:g} to {one.high:g}")
        expect(alert).to_have_attribute("role", "alert")
        for part in ("img", "output", ".head", ".notes"):
            expect(panel.locator(part)).to_be_hidden()
        assert swaps(panel) == 0
    assert complaints(page)
    write(panel, one, f"{one.start:g}")
    shows(panel, said(package))
    no_errors(page)


def saved(panel):
    """Press Save, and read what is downloaded."""
    with panel.page.expect_download() as download:
        panel.get_by_role("button", name="Save these inputs as a file").press("Enter")
    assert download.value.suggested_filename == "bath.json"
    return Path(download.value.path()).read_text(encoding="utf-8")


def opens(panel, file):
    """Press Open, and choose a file."""
    with panel.page.expect_file_chooser() as chooser:
        panel.get_by_role("button", name="Open a saved file").press("Enter")
    chooser.value.set_files(file)


def test_law_inputs_go_into_a_file_and_come_back(page, panel, package, tmp_path):
    """Saved, changed, opened again: every field and every word is back; a foreign file says why it is none of ours."""
    changes = {"acid": 11.0, "water_parts": 0.5, "bare": 45.0, "air": 24.0}
    for name, value in changes.items():
        write(panel, control(package, name), f"{value:g}")
    shows(panel, said(package, **changes))
    file = tmp_path / "bath.json"
    file.write_text(saved(panel), encoding="utf-8")
    assert json.loads(file.read_text(encoding="utf-8")) == json.loads(
        package.files[0](**{**package.values, **changes})
    )
    panel.get_by_role("button", name="Reset").press("Enter")
    shows(panel, said(package))
    opens(panel, file)
    shows(panel, said(package, **changes))
    for name, value in changes.items():
        expect(field(panel, package, name)).to_have_value(f"{value:g}")

    foreign, count = tmp_path / "foreign.json", swaps(panel)
    foreign.write_text('{"soup": 1}', encoding="utf-8")
    with pytest.raises(ValueError) as reason:
        package.files[1](foreign.read_text(encoding="utf-8"))
    opens(panel, foreign)
    expect(panel.locator("pre.error")).to_have_text(str(reason.value))
    assert complaints(page) == [f"alert: {reason.value}"]
    shows(panel, said(package, **changes))
    assert swaps(panel) == count
    for name, value in changes.items():
        expect(field(panel, package, name)).to_have_value(f"{value:g}")
    write(panel, control(package, "air"), "20")
    shows(panel, said(package, **{**changes, "air": 20.0}))
    no_errors(page)


def field(panel, package, name):
    role, words = parts_of(control(package, name))[0]
    return panel.get_by_role(role, name=words, exact=True)


def test_law_a_refused_bath_names_no_volume(page, panel, package):
    """Not in its words, its table, its picture's words, its cautions or its file; one that is not refused does."""
    assert POUR.search(heard(panel)), "the pattern sees the volumes of a mild bath"
    for name, text in STRONG.items():
        write(panel, control(package, name), text)
    words = said(package, acid=31.0, peroxide=30.0)
    shows(panel, words)
    assert panel.locator(".head h3").inner_text() == "Do not mix." and "Do not mix" in words.readout
    for text in (heard(panel), saved(panel)):
        assert not POUR.search(text), POUR.search(text)
    no_errors(page)
