"""Law: what goes wrong is shown to the reader, and seen by the checks of this folder.

Covers, on one planted page and in this order: answers sent while cells still run; an error at one
value of a slider; a kernel that is killed, noticed after a while, and mended by running the cells;
a page that goes wrong in every way; pale words in every kind of widget.
"""

import os
import signal

import pytest
from playwright.sync_api import expect

from .eyes import (
    axe_clean_widgets,
    complaints,
    loaded,
    no_errors,
    not_run,
    nothing_wrong,
    swapped,
    swaps,
    watch_swaps,
)
from .hands import idle, panel_of, reset, run_all, start_run, wait_for_run
from .opening import planted

PANEL = """from pcbchem.page.widget.controls import Choice, Field, Group, PanelWords, Slider
from pcbchem.page.widget.panel import Panel
from pcbchem.page.picture import Drawing, figure, plain

def build(narrow):
    axes = plain(figure(1.0).subplots())
    axes.set(xlim=(0, 1), ylim=(0, 1))
    return Drawing(axes.figure, axes.plot([0, 1], [0, 0]), line=axes.lines[0])

def show(drawing, water, **others):
    if water == 0.3:
        raise RuntimeError("planted")
    drawing.parts["line"].set_ydata([water, water])
    return PanelWords(f"{water:g} parts", f"a line at {water:g}", "<h3>Head</h3>")

Panel("Planted", [
    Slider("water", "Water", "parts", 0, 1, 0.1, 0), Choice("acid", "Acid", {"a": "mild"}, "a"),
    Group("Board", [Field("width", "Width", "mm", 0, 90, 1, 75)])], build, show)"""
PREDICTION = """from pcbchem.page import Prediction
Prediction("more", "How many?", {"a": "one", "b": "two"})"""
QUESTIONS = """from pcbchem.page import Check
from pcbchem.page.answers import Question
Check(lambda seed: [Question(f"half {n}", f"Half of {n} g?", "mass", "g", n / 2000, 0.02, (), "/ 2")
                    for n in (2, 4, 6)])"""
PROCESS = "import os\nprint('process', os.getpid())"
BUSY = "import os, time\nwhile not os.path.exists('enough'):\n    time.sleep(0.05)"
ALERTS = """import IPython
IPython.display.HTML('<p role=alert>red</p><p role=alert hidden>no</p><p role=alert></p>')"""
WARNING = "import sys; print('odd', file=sys.stderr)"
ERROR = "raise ValueError('bad')"
AFTER = "1 + 1"
GOOD = (PANEL, PREDICTION, QUESTIONS, PROCESS, BUSY)
BAD = (ALERTS, WARNING, ERROR, AFTER)
LOST = (
    "No answer from Python. Choose Run, then Run All Cells. "
    "What you have entered here is kept until then."
)
PATIENCE = 8000  # after so long a page says that nobody answers [ms]
PALE = ".pcbchem-widget :is(label, legend, h3, h4, output, li, p) { color: #bbb !important; }"


@pytest.fixture(scope="module")
def busy(server, opened_once):
    """The planted page, running down to a cell that waits until a file is there."""
    page = opened_once(planted(server, "faulty.ipynb", *GOOD, *BAD), with_clock=True)
    start_run(page, last=f"cell-{len(GOOD) - 1}")
    return page


@pytest.fixture(scope="module")
def page(server, busy):
    """The same page when that has run."""
    (server.pages / "enough").touch()
    wait_for_run(busy)
    nothing_wrong(busy)
    return busy


def test_law_answers_sent_while_the_page_runs_are_all_judged(busy, request):
    boxes = busy.get_by_role("textbox", name="Your answer")
    verdicts = busy.locator(".pcbchem-verdict")
    expect(boxes).to_have_count(3)
    for place in range(3):
        boxes.nth(place).fill(f"{place + 1}")
        boxes.nth(place).press("Enter")
    assert busy.evaluate("() => window.ran") == "", "it is still running"
    request.getfixturevalue("page")
    for place in range(3):
        expect(verdicts.nth(place)).to_contain_text(f"read as {place + 1}.")


def test_law_a_fault_is_shown_until_the_next_good_value(page):
    panel = panel_of(page, "Planted")
    slider = panel.get_by_role("slider")
    words = panel.locator("output")
    loaded(panel.locator("img"))
    watch_swaps(panel)
    for number in (1, 2):
        slider.press("ArrowRight")
        expect(words).to_have_text(f"{number / 10:g} parts")
        swapped(panel, number)
    slider.press("ArrowRight")
    alert = panel.get_by_role("alert").filter(has_text="RuntimeError: planted")
    expect(alert).to_be_visible()
    assert complaints(page) == ["alert: RuntimeError: planted"]
    with pytest.raises(AssertionError, match="planted"):
        nothing_wrong(page)
    expect(words).to_have_text("")
    expect(panel.locator("img")).to_be_hidden()
    slider.press("ArrowRight")
    expect(words).to_have_text("0.4 parts")
    swapped(panel, 3)
    assert swaps(panel) == 3
    expect(alert).to_be_hidden()
    nothing_wrong(page)


def test_law_a_kernel_that_is_gone_is_noticed_and_mended(page):
    """It ends as by a crash; what was entered stays in its field until the cells run again."""
    panel = panel_of(page, "Planted")
    slider = panel.get_by_role("slider")
    lost = panel.get_by_text(LOST)
    expect(lost).to_be_hidden()
    reset(panel)
    expect(panel.locator("output")).to_have_text("0 parts")
    slider.press("ArrowRight")
    expect(panel.locator("output")).to_have_text("0.1 parts")
    process = int(page.get_by_text("process ").last.inner_text().split()[-1])
    os.kill(process, signal.SIGKILL)
    page.get_by_role("dialog").get_by_role("button", name="Ok").press("Enter")
    idle(page)
    slider.press("ArrowRight")
    page.clock.fast_forward(PATIENCE - 1000)
    expect(lost).to_be_hidden()
    page.clock.fast_forward(1000)
    expect(lost).to_be_visible()
    assert panel.get_by_role("textbox").first.input_value() == "0.2"
    start_run(page, last=f"cell-{len(GOOD) - 1}")
    wait_for_run(page)
    nothing_wrong(page)
    expect(lost).to_be_hidden()
    slider.press("ArrowRight")
    expect(panel.locator("output")).to_have_text("0.1 parts")
    nothing_wrong(page)


def test_law_what_goes_wrong_is_seen(page):
    """What is hidden or empty is no alert; a cell after an error has not run."""
    run_all(page)
    lines = [line.strip() for line in complaints(page)]
    assert lines == ["alert: red", "error: ValueError: bad", "stderr: odd"]
    assert not_run(page) == [f"cell-{len(GOOD) + len(BAD) - 1}"]
    page.evaluate("() => queueMicrotask(() => { throw Error('broken') })")
    page.wait_for_function("() => window.failures.length")
    assert "broken" in complaints(page)[-1]
    with pytest.raises(AssertionError, match="alert: red"):
        no_errors(page)


def test_law_pale_words_are_seen_in_every_widget(page):
    """Of each kind of control, of a verdict, of a prediction and of questions."""
    pale = page.add_style_tag(content=PALE)
    with pytest.raises(AssertionError, match="serious: color-contrast") as refused:
        axe_clean_widgets(page)
    pale.evaluate("e => e.remove()")
    for words in ("mild", "Width", "Board", "Head", "How many?", "two", "Half of 2"):
        assert words in str(refused.value), words
