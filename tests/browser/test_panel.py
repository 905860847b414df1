"""Law: no picture or verdict stands beside inputs that it is not for, however late answers come.

Covers, in an empty page where Python answers when the test says so: pictures that are ready in
another order than they came, and an answer to the question before the last.
"""

import re

import pytest
from playwright.sync_api import expect

from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget.controls import PanelWords, Slider
from pcbchem.page.widget.panel import PANELS, Panel

from .alone import MODEL, state_of, stop_clock

STALE = re.compile("pcbchem-stale")
# a picture is ready when the test says so: `ready` holds what waits, in the order of coming
HOLD_PICTURES = """() => {
    window.ready = [];
    HTMLImageElement.prototype.decode = () => new Promise(done => ready.push(done));
}"""
PICTURE = "async img => await (await fetch(img.src)).text()"


@pytest.fixture
def alone(tab):
    """A panel with one slider in an empty page."""
    panel = Panel(
        "Alone",
        [Slider("x", "X", "m", 0, 10, 1, 0)],
        lambda narrow: Drawing(figure(1.0)),
        lambda drawing, x: PanelWords(f"{x:g} m", "White."),
    )
    PANELS.pop(panel.title)
    page = tab
    page.goto("about:blank")
    stop_clock(page)
    page.evaluate(HOLD_PICTURES)
    page.evaluate(MODEL, [panel._esm, state_of(panel)])
    return page


def put(page, **news):
    """Let Python say something."""
    page.evaluate("news => model.put(news)", news)


def test_law_of_two_pictures_the_later_one_stays(alone):
    """Whichever is ready first."""
    put(alone, png="second")
    put(alone, png="third")
    first, second, third = range(3)
    for place in (third, second, first):
        alone.evaluate("place => ready[place]()", place)
    assert alone.locator("img").evaluate(PICTURE) == "third"


def test_law_the_answer_before_the_last_is_no_answer(alone):
    whole = alone.locator(".pcbchem-panel")
    for _ in range(2):
        alone.get_by_role("slider").press("ArrowRight")
    alone.clock.run_for(1000)
    expect(whole).to_have_class(STALE)
    put(alone, done=1, values={"x": 1})
    expect(whole).to_have_class(STALE)
    expect(alone.get_by_role("slider")).to_have_value("2")
    put(alone, done=2, values={"x": 2})
    expect(whole).not_to_have_class(STALE)
