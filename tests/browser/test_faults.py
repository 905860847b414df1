"""Law: a fault in a panel is shown on the page until the next good value, and so is a kernel that is gone."""

import os
import signal

import pytest
from playwright.sync_api import expect

from .hands import complaints, idle, loaded, no_errors, panel_of, run_all, swapped, swaps, watched
from .opening import planted

PLANTED = """from pcbchem.page.widget.panel import Panel, Said, Slider
from pcbchem.page.picture import Drawing, figure, plain

def build(narrow):
    axes = plain(figure(1.0).subplots())
    axes.set(xlim=(0, 1), ylim=(0, 1))
    return Drawing(axes.figure, axes.plot([0, 1], [0, 0]), line=axes.lines[0])

def show(drawing, water):
    if water == 0.3:
        raise RuntimeError("planted")
    drawing.parts["line"].set_ydata([water, water])
    return Said(f"{water:g} parts", f"a line at {water:g}")"""
PANEL = 'Panel("Planted", [Slider("water", "Water", "parts", 0, 1, 0.1, 0)], build, show)'
PROCESS = "import os\nprint('process', os.getpid())"
LOST = "No answer from Python. Choose Run, then Run All Cells. What you have entered here is kept until then."


@pytest.fixture(scope="module")
def page(server, opened_once):
    """A page with a panel that raises at one value, run, and its own process named on it; the last test ends that."""
    page = opened_once(planted(server, "faulty.ipynb", PLANTED, PANEL, PROCESS))
    run_all(page)
    no_errors(page)
    return page


def test_law_a_fault_is_on_the_page_until_the_next_good_value(page):
    panel = panel_of(page, "Planted")
    slider, said = (
        panel.get_by_role("slider", name="Water (parts)", exact=True),
        panel.locator("output"),
    )
    loaded(panel.locator("img"))
    watched(panel)
    for number in (1, 2):
        slider.press("ArrowRight")
        expect(said).to_have_text(f"{number / 10:g} parts")
        swapped(panel, number)
    slider.press("ArrowRight")
    alert = panel.get_by_role("alert").filter(has_text="RuntimeError: planted")
    expect(alert).to_be_visible()
    assert complaints(page) == ["alert: RuntimeError: planted"]
    with pytest.raises(AssertionError, match="planted"):
        no_errors(page)
    expect(said).to_have_text("")
    expect(panel.locator("img")).to_be_hidden()
    slider.press("ArrowRight")
    expect(said).to_have_text("0.4 parts")
    swapped(panel, 3)
    assert swaps(panel) == 3
    expect(alert).to_be_hidden()
    no_errors(page)


def test_law_a_kernel_that_is_gone_is_noticed_and_running_all_mends_it(page):
    """The kernel's process is ended as by a crash; what was entered stays in its field until the cells run again."""
    panel = panel_of(page, "Planted")
    slider, lost = panel.get_by_role("slider"), panel.get_by_text(LOST)
    expect(lost).to_be_hidden()
    panel.get_by_role("button", name="Reset").press("Enter")
    expect(panel.locator("output")).to_have_text("0 parts")
    slider.press("ArrowRight")
    expect(panel.locator("output")).to_have_text("0.1 parts")
    process = int(page.get_by_text("process ").last.inner_text().split()[-1])
    os.kill(process, signal.SIGKILL)
    page.get_by_role("dialog").get_by_role("button", name="Ok").press("Enter")
    idle(page)
    slider.press("ArrowRight")
    expect(lost).to_be_visible()
    assert panel.get_by_role("textbox").input_value() == "0.2"
    run_all(page)
    no_errors(page)
    expect(lost).to_be_hidden()
    slider.press("ArrowRight")
    expect(panel.locator("output")).to_have_text("0.1 parts")
    no_errors(page)
