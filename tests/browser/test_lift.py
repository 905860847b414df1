"""Law: by keyboard alone one can predict, with a reason, move three sliders and choose a bath.

Covers the page 07: the laws of every page; nothing of an answer before its prediction; what each
panel then says is what the package says; what comes after both predictions.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import when_to_lift_it_out as lift
from pcbchem.page.widget.controls import Choice
from pcbchem.page.widget.quiz import KEPT

from .copy_laws import LiveCopyLaws
from .eyes import named, no_errors, seen_text, shows
from .hands import choose, panel_of, predict, press, reset, start_run, wait_for_run
from .page_laws import PageLaws

PAGE = "07_when_to_lift_it_out.ipynb"
TRACE, BOARD, FOILS = "A trace in the bath", "Find three faults", "Thin foil and thick"
GUESSES = {TRACE: ("about 0.18", "edge"), FOILS: ("thick", "late")}
"""Key of an answer and of a reason for each panel's question."""
SETTINGS = 18
"""Of each panel in the copy: three foils, and six places of their slider with its start."""
ANSWERS = (
    "0.155 mm",
    "The first costs about as much as the last",
    "How to pull it",
    "0.166 mm",
    "155 µm",
)


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its end, which brings the reader back up: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page)
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, made while the page is busy."""
    KEPT.clear()
    first, second = lift.trace_prediction(), lift.foil_prediction()
    return {
        TRACE: lift.trace_panel(first),
        BOARD: lift.inspection_panel(first),
        FOILS: lift.foil_panel(second, first),
    }


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    answers = ANSWERS

    def test_law_it_asks_twice_and_says_the_rest_later(self, page):
        """Two predictions and the questions, three panels, two texts that wait, the end."""
        widgets = {"quiz": 2 + 1, "panel": 3, "afterwards": 2, "end": 1}
        for name, number in widgets.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)


def test_law_nothing_of_an_answer_shows_before(page, package):
    for title, ours in package.items():
        panel = panel_of(page, title)
        heard = f"{seen_text(panel)} {panel.locator('img').get_attribute('alt')}"
        assert "redict first" in heard
        assert ours.picture_and_words(False, predicted="-")[1].readout not in heard
        assert "0.155" not in heard and "sideways" not in heard and "a bridge" not in heard


def test_law_an_answer_with_a_reason_opens_each_panel(page, package):
    """By keyboard, with the reply to answer and reason; the first opens the board too."""
    for number, (title, (answer, reason)) in enumerate(GUESSES.items()):
        ours = package[title].prediction
        words, because = ours.options[answer].words, ours.reasons[reason].words
        predict(page, words, number, because=because)
        ours.choice, ours.reason = answer, reason
        panel = panel_of(page, title)
        shows(panel, package[title].picture_and_words(False)[1])
        expect(panel.locator(".pcbchem-prediction")).to_contain_text(ours.words)
        for option in (ours.options[answer], ours.reasons[reason]):
            expect(panel).to_contain_text(option.reply)
        if title == TRACE:
            expect(page.get_by_text("155 µm", exact=True)).to_be_visible()
            shows(panel_of(page, BOARD), package[BOARD].picture_and_words(False)[1])
            assert "redict first" in seen_text(panel_of(page, FOILS))
    expect(page.get_by_text("What would prove it wrong")).to_be_visible()
    no_errors(page)


def test_law_published_factors_are_seen_beside_ours(page):
    """A table of three rows, under the first picture."""
    table = panel_of(page, TRACE).get_by_role("table")
    expect(table.get_by_role("row")).to_have_count(1 + 3)
    for words in ("1 to 2", "1.5 to 3.5", "2.5 to 3.5", "0.173 to 0.181 mm"):
        expect(table.get_by_role("cell", name=words, exact=True)).to_be_visible()


@pytest.mark.parametrize("title", [TRACE, BOARD, FOILS])
def test_law_each_control_moves_what_it_should(page, package, title):
    panel, ours = panel_of(page, title), package[title]
    reset(panel)
    values = {control.name: control.start for control in ours.controls}
    named(panel, ours.controls)
    for control in ours.controls:
        for value in moves(panel, control):
            values[control.name] = value
            words = ours.picture_and_words(False, **values)[1]
            shows(panel, words, besides=[f"{value:g}"] if isinstance(value, float) else [])
    no_errors(page)


def moves(panel, control):
    """Move a control by keyboard, and give the value that it then has."""
    if isinstance(control, Choice):
        for value in control.options:
            if value != control.start:
                choose(panel, control, control.options[value])
                yield value
        return
    slider = panel.get_by_role("slider")
    slider.focus()
    press(panel.page, "ArrowRight", 3)
    yield float(control.start + 3 * control.step)
    slider.press("End")
    yield float(control.high)


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    answers = ANSWERS
    predictions = tuple(GUESSES.values())
    questions = lift.trace_questions
