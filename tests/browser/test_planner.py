"""Law: the planner does what the package says, by keyboard alone; inputs go into a file and back.

Covers the page 00: the laws of every page; each field named and moved; values that cannot be; a
file saved, opened, and a foreign one; a refused bath that names no volume.
"""

import html
import json
import re
from pathlib import Path

import pytest
from helpers.amounts import amounts
from helpers.workshop import POUR
from playwright.sync_api import expect

from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.why_water_slows_it.panel import planner_values
from pcbchem.page.widget.controls import Choice

from .copy_laws import CopyLaws
from .eyes import (
    complaints,
    named,
    no_errors,
    not_drawn,
    nothing_wrong,
    shows,
    swaps,
    watch_swaps,
)
from .hands import choose, number_field, panel_of, reset, start_run, wait_for_run, write
from .page_laws import PageLawsInFull

PAGE = "00_plan_a_bath.ipynb"
# every control once: text for a field, words for a choice; after each line page and package are
# compared. A tray's width alone cannot be, nor a used bath before all of it is said: INCOMPLETE.
MOVES = (
    {
        "place": "Great Britain",
        "acid": "10,5",
        "acid_sure": "between two strengths",
        "acid_low": "9,5",
        "acid_to": "14",
        "acid_in": "% w/v",
        "peroxide": "11",
        "peroxide_sure": "between two strengths",
        "peroxide_low": "10.5",
        "peroxide_to": "11.5",
        "peroxide_in": "% w/v",
    },
    {"water_parts": "0.5", "acid_parts": "1.2", "peroxide_parts": "1.1", "total": "180"},
    {"board_width": "70", "board_height": "65", "bare": "55", "foil": "1.5", "back": "bare copper"},
    {"air": "25", "bottles": "18", "agitation": "left alone", "tray_width": "120"},
    {"tray_length": "100", "facing": "down", "held_back": "50", "held_until": "2"},
    {"used_bath": "40", "used_copper": "5", "used_copper_to": "6", "used_acid": "1"},
    {"used_acid_to": "1.5", "used_peroxide": "0.1", "used_peroxide_to": "0.3"},
)
SEARCHED = {"window_from": "4", "window_to": "9", "hottest": "42", "most": "200"}
"""Fields of a search: they change no plan."""
INCOMPLETE = ("tray_width", "used_bath")
STRENGTHS = {
    "acid",
    "acid_low",
    "acid_to",
    "peroxide",
    "peroxide_low",
    "peroxide_to",
}  # their unit is the choice beside them
OUTPUTS = """() => [...jupyterapp.shell.currentWidget.content.model.cells]
    .filter(cell => cell.type === 'code')
    .flatMap(cell => cell.outputs.toJSON()).map(output => JSON.stringify(output.data ?? output))"""
KINDS = "() => [...jupyterapp.shell.currentWidget.content.model.cells].map(cell => cell.type)"
OPACITY = "e => getComputedStyle(e).opacity"
# as a page does that leads here
HAND_OVER = """values => localStorage.setItem(
    'pcbchem 00_plan_a_bath.ipynb', JSON.stringify({ ...values, at: Date.now() }))"""
STRONG = {"acid": 31.0, "peroxide": 30.0}


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its panel: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page, last="planner")
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panel in this process, made while the page is busy."""
    return planner.planner()


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


@pytest.mark.usefixtures("copying")  # the copy is written meanwhile
class TestPage(PageLawsInFull):
    """The laws of every page, in full."""


@pytest.fixture
def panel(page, package):
    """The panel after Reset, everything unfolded by keyboard, and its swaps counted."""
    panel = panel_of(page, "Planner")
    reset(panel)
    folded = panel.locator("details.pcbchem-group:not([open]) > summary")
    while folded.count():
        folded.first.press("Enter")
    shows(panel, words_of(package))
    watch_swaps(panel)
    return panel


def words_of(package, **changes):
    return package.picture_and_words(False, **changes)[1]


def control(package, name):
    return next(control for control in package.controls if control.name == name)


def heard(panel):
    """All that the panel says, unfolded or not, and its picture in words; not what was entered."""
    parts = panel.locator(".pcbchem-words, .pcbchem-notes").all()
    said = " ".join(part.inner_html() for part in parts)
    text = html.unescape(re.sub(r"<[^>]+>", " ", said))
    return text + panel.locator(".pcbchem-picture").get_attribute("alt")


def test_law_every_field_is_named_with_its_unit(panel, package):
    present = [control for control in package.controls if getattr(control, "when", None) is None]
    named(panel, present)
    numbers = [control for control in package.controls if not isinstance(control, Choice)]
    assert {control.name for control in numbers if not control.unit} == STRENGTHS
    for name in ("acid", "peroxide"):
        box = panel.get_by_role("combobox", name=f"{name} in", exact=True)
        assert box.get_by_role("option").count() == len(control(package, f"{name}_in").options)


def test_law_every_field_moves_what_it_should(page, panel, package):
    """From the workshop's bath to another one, each by one move; the file holds every value."""
    names = [name for moves in MOVES for name in moves]
    every = [control.name for control in package.controls]
    assert sorted([*names, *SEARCHED]) == sorted(every)
    values = {control.name: control.start for control in package.controls}
    before = words_of(package)
    for moves in MOVES:
        for name, text in moves.items():
            old = dict(values)
            values[name] = move(panel, control(package, name), text)
            # another unit converts the numbers, and a doubt begins with that of the label
            values |= package.settle(old, values, [name])[0]
        words = words_of(package, **values)
        is_incomplete = any(name in INCOMPLETE for name in moves)
        assert bool(words.wrong) == is_incomplete, words.wrong
        shows(panel, words, not_drawn(words))
        assert words.alt != before.alt
        assert panel.locator("img").is_visible() != is_incomplete
        before = words
    assert swaps(panel) >= len(MOVES) - len(INCOMPLETE)
    assert json.loads(saved(panel)) == json.loads(package.files[0](**values))
    nothing_wrong(page)


def move(panel, control, text):
    """Choose these words or write this number, and return the value that it is."""
    if isinstance(control, Choice):
        choose(panel, control, text)
        return next(value for value, words in control.options.items() if words == text)
    write(panel, control, text)
    return float(text.replace(",", "."))


def test_law_an_impossible_bath_is_said_and_not_planned(page, panel, package):
    """Within the limits of its field, but no bath: no picture and no file for as long."""
    total = control(package, "total")
    write(panel, total, "0,0 mL")
    words = words_of(package, total=0)
    shows(panel, words)
    assert words.wrong.startswith("Bath in all = 0 cannot be")
    expect(panel.locator("img")).to_be_hidden()
    expect(panel.get_by_role("button", name="Save these inputs as a file")).to_be_disabled()
    assert complaints(page)
    write(panel, total, f"{total.start:g}")
    shows(panel, words_of(package))
    no_errors(page)


@pytest.mark.parametrize("name, text", [("air", "99"), ("acid", "strong")])
def test_law_a_value_beyond_a_field_is_said_beside_it(page, panel, package, name, text):
    """The old verdict is dimmed under a line that says so, and none is asked for."""
    field = control(package, name)
    write(panel, field, text)
    alert = panel.locator(".pcbchem-note:not(:empty)")
    # where a unit is chosen beside it Python knows the limits
    limits = f"{field.label}: a number, please"
    if field.unit:
        limits = f"{field.label}: a number from {field.low:g} to {field.high:g}"
    expect(alert).to_contain_text(limits)
    expect(alert).to_have_attribute("role", "alert")
    expect(panel.locator(".pcbchem-state")).to_contain_text("correct the field")
    for part in ("img.pcbchem-picture", "output", ".pcbchem-head", ".pcbchem-notes"):
        assert float(panel.locator(part).first.evaluate(OPACITY)) < 0.5, part
    assert swaps(panel) == 0
    assert complaints(page)
    write(panel, field, f"{field.start:g}")
    shows(panel, words_of(package))
    no_errors(page)


def saved(panel):
    """Press Save, and return what is downloaded."""
    with panel.page.expect_download() as download:
        panel.get_by_role("button", name="Save these inputs as a file").press("Enter")
    assert download.value.suggested_filename == "bath.json"
    return Path(download.value.path()).read_text(encoding="utf-8")


def opens(panel, file):
    """Press Open, and choose a file."""
    with panel.page.expect_file_chooser() as chooser:
        panel.get_by_role("button", name="Open a saved file").press("Enter")
    chooser.value.set_files(file)


def holds(panel, package, values):
    """These values stand in their fields."""
    for name, value in values.items():
        expect(number_field(panel, control(package, name))).to_have_value(f"{value:g}")


def test_law_inputs_go_into_a_file_and_come_back(page, panel, package, tmp_path):
    """Saved, changed, opened again: every field and every word is back."""
    changes = {"acid": 11.0, "water_parts": 0.5, "bare": 45.0, "air": 24.0}
    for name, value in changes.items():
        write(panel, control(package, name), f"{value:g}")
    shows(panel, words_of(package, **changes))
    file = tmp_path / "bath.json"
    file.write_text(saved(panel), encoding="utf-8")
    text = package.files[0](**{**package.values, **changes})
    assert json.loads(file.read_text(encoding="utf-8")) == json.loads(text)
    reset(panel)
    shows(panel, words_of(package))
    opens(panel, file)
    shows(panel, words_of(package, **changes))
    holds(panel, package, changes)
    no_errors(page)


def test_law_a_foreign_file_changes_nothing(page, panel, package, tmp_path):
    """It is said why it is none of ours, and the next value is planned as ever."""
    air = control(package, "air")
    write(panel, air, "24")
    shows(panel, words_of(package, air=24.0))
    count = swaps(panel)
    foreign = tmp_path / "foreign.json"
    foreign.write_text('{"soup": 1}', encoding="utf-8")
    with pytest.raises(ValueError) as reason:
        package.files[1](foreign.read_text(encoding="utf-8"))
    opens(panel, foreign)
    expect(panel.locator("pre.pcbchem-error")).to_have_text(str(reason.value))
    assert complaints(page) == [f"alert: {reason.value}"]
    shows(panel, words_of(package, air=24.0))
    assert swaps(panel) == count
    holds(panel, package, {"air": 24.0})
    write(panel, air, "20")
    shows(panel, words_of(package))
    # the words of a plan come in a message of their own, a moment before the error goes
    expect(panel.locator("pre.pcbchem-error")).to_be_hidden()
    no_errors(page)


def test_law_a_refused_bath_names_no_volume(page, panel, package):
    """Not in its words, table, picture's words, cautions or file; one that is not refused does."""
    assert POUR.search(heard(panel)), "the pattern sees the volumes of a mild bath"
    for name, value in STRONG.items():
        write(panel, control(package, name), f"{value:g}")
    words = words_of(package, **STRONG)
    shows(panel, words, not_drawn(words))
    assert panel.locator(".pcbchem-headline").inner_text() == "Do not mix this."
    for text in (heard(panel), saved(panel)):
        assert not POUR.search(text), POUR.search(text)
    no_errors(page)


def test_law_on_paper_stands_no_amount_of_a_changed_planner(page, panel, package):
    """Only where the card is; on the screen the amounts are back."""
    write(panel, control(package, "total"), "160")
    shows(panel, words_of(package, total=160.0))
    page.emulate_media(media="print")
    assert panel.inner_text().strip() == planner.ON_PAPER
    assert amounts(panel.inner_text()) == []
    page.emulate_media(media="screen")
    assert POUR.search(panel.inner_text())


def test_law_jupyterlab_saves_no_amount_of_a_changed_planner(page, panel, package):
    """Its outputs hold what stands for the panel on paper; and the widgets' state no words."""
    write(panel, control(package, "total"), "160")
    shows(panel, words_of(package, total=160.0))
    outputs = page.evaluate(OUTPUTS)
    assert any(planner.ON_PAPER in output for output in outputs)
    assert [output for output in outputs if amounts(output)] == []


def test_law_a_letter_beside_a_field_is_no_command(page, panel):
    """JupyterLab would make the cell one of text, and the panel would be gone."""
    kinds = page.evaluate(KINDS)
    panel.locator(".pcbchem-head p").first.click()
    page.keyboard.type("35 um")
    expect(panel).to_be_visible()
    assert page.evaluate(KINDS) == kinds


def test_law_kept_rows_are_there_when_the_page_is_loaded_and_run_again(page, panel, package):
    """And what another page hands over meanwhile is filled in: here a bath of page 04."""
    panel.get_by_role("button", name="Keep this one beside").press("Enter")
    rows = panel.locator(".pcbchem-beside-table tbody tr")
    expect(rows).to_have_count(1)
    write(panel, control(package, "total"), "160")
    shows(panel, words_of(package, total=160.0))
    panel.get_by_role("button", name="Keep this one beside").press("Enter")
    expect(rows).to_have_count(2)
    handed = planner_values(water=1.2, view="bars")
    page.evaluate(HAND_OVER, handed)
    page.reload()
    start_run(page, last="planner")  # the page to its end is run again above
    wait_for_run(page)
    expect(panel.locator(".pcbchem-filled")).to_have_text(handed.pop("why"))
    words = words_of(package, **handed)
    shows(panel, words, not_drawn(words))
    for name, value in handed.items():
        if not isinstance(control(package, name), Choice):
            expect(number_field(panel, control(package, name))).to_have_value(f"{value:g}")
    expect(rows).to_have_count(2)
    panel.get_by_role("button", name="Put row 2 into the fields").press("Enter")
    shows(panel, words_of(package, total=160.0))
    panel.get_by_role("button", name="Take all away").press("Enter")
    expect(rows).to_have_count(0)


class TestCopy(CopyLaws):
    """The laws of every live copy, on one that the command wrote, in a kernel."""

    @pytest.fixture(scope="class")
    @classmethod
    def file(cls, written):
        return written

    def test_law_its_fields_stand_still_and_say_so_without_an_amount(self, file):
        expect(file.locator(".pcbchem-copy-note")).to_contain_text("nothing can be entered here")
        assert file.get_by_role("textbox").count() == 0
        assert amounts(file.locator("body").inner_text()) == []
