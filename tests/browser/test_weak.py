"""Law: by keyboard alone one can predict, with a reason, move both sliders and choose an acid.

Covers the page 06: the laws of every page; nothing of an answer before its prediction; what each
panel then says is what the package says; what comes after both predictions.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import weak_peroxide as weak
from pcbchem.page.widget.controls import Choice
from pcbchem.page.widget.quiz import KEPT

from .copy_laws import LiveCopyLaws
from .eyes import named, no_errors, seen_text, shows
from .hands import choose, panel_of, predict, press, reset, start_run, wait_for_run
from .page_laws import PageLaws

PAGE = "06_weak_peroxide.ipynb"
WEAK, STRONG = "Peroxide for the copper", "Strong acid"
GUESSES = {WEAK: ("slow", "enough"), STRONG: ("two", "short")}
"""Key of an answer and of a reason for each panel's question."""
SETTINGS = 11
"""Of each panel in the copy: places of the slider with its start, and two acids."""
ANSWERS = ("103 of 200", "Brown and not clear", "chloride decides", "145 of 200", "perhaps")


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
    first, second = weak.enough_prediction(), weak.strong_prediction()
    return {WEAK: weak.weak_panel(first), STRONG: weak.strong_panel(second, first)}


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    answers = ANSWERS

    def test_law_it_asks_twice_and_says_the_rest_later(self, page):
        """Two predictions and the questions, two panels, one text that waits, the end."""
        widgets = {"quiz": 2 + 1, "panel": 2, "afterwards": 1, "end": 1}
        for name, number in widgets.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)

    def test_law_the_package_s_lines_are_seen_with_what_they_print(self, page):
        expect(page.get_by_text("0.18 mol/L of copper(I)", exact=True)).to_be_visible()


def test_law_nothing_of_an_answer_shows_before(page, package):
    for title, ours in package.items():
        panel = panel_of(page, title)
        heard = f"{seen_text(panel)} {panel.locator('img').get_attribute('alt')}"
        assert "redict first" in heard
        assert ours.picture_and_words(False, predicted="-")[1].readout not in heard
        assert "brown" not in heard and "never" not in heard


def test_law_an_answer_with_a_reason_opens_each_panel(page, package):
    """By keyboard, with the reply to answer and reason; the second waits for its own."""
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
        if title == WEAK:
            assert "redict first" in seen_text(panel_of(page, STRONG))
    expect(page.get_by_text("What would prove it wrong")).to_be_visible()
    no_errors(page)


@pytest.mark.parametrize("title", GUESSES)
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
    yield round(control.start + 3 * control.step, 6)
    slider.press("End")
    yield control.high


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    answers = ANSWERS
    predictions = tuple(GUESSES.values())
    questions = weak.weak_questions
