"""Law: by keyboard alone one can predict, with a reason, and read what waited for it.

Covers the page 04b: the laws of every page; nothing of an answer before its prediction; what each
panel then says is what the package says; what comes after all three predictions.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import how_sure_is_it as sure

from .copy_laws import LiveCopyLaws
from .eyes import no_errors, seen_text, shows
from .hands import choose, panel_of, start_run, wait_for_run
from .page_laws import PageLaws

PAGE = "04b_how_sure_is_it.ipynb"
RATIO, ORDERS, MULTIPLY = (
    "How sure is the ratio?",
    "Apparent order, pair by pair",
    "Do the effects multiply?",
)
GUESSES = {RATIO: ("narrower", "tied"), ORDERS: ("same", "mixture"), MULTIPLY: ("less", "feed")}
"""Key of an answer and of a reason for each panel's question."""


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its end, which brings the reader back up: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page)
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, made while the page is busy."""
    return {
        RATIO: sure.ratio_panel(sure.ratio_prediction()),
        ORDERS: sure.orders_panel(sure.order_prediction()),
        MULTIPLY: sure.taken_away_panel(sure.product_prediction()),
    }


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    def test_law_it_asks_three_times_and_says_the_rest_later(self, page):
        """Three predictions, two texts that wait, the questions and the end."""
        widgets = {"quiz": 3 + 1, "panel": 3, "afterwards": 2, "end": 1}
        for name, number in widgets.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)


def choose_words(page, number, words):
    """Choose the radio button with these words in a question."""
    quiz = page.locator(".pcbchem-predict, .pcbchem-quiz").nth(number)
    quiz.get_by_role("radio", name=words, exact=True).check()


def test_law_nothing_of_an_answer_shows_before(page, package):
    for title in GUESSES:
        panel = panel_of(page, title)
        heard = f"{seen_text(panel)} {panel.locator('img').get_attribute('alt')}"
        assert "redict first" in heard
        answer = package[title].picture_and_words(False, predicted="-")[1]
        assert answer.readout not in heard
        notes = answer.notes.replace("<p>", "").split("<")[0][:40]
        assert not notes or notes not in heard
    assert "strength alone is enough" not in page.locator("body").inner_text()


def test_law_an_answer_with_a_reason_opens_each_panel(page, package):
    for number, (title, (answer, reason)) in enumerate(GUESSES.items()):
        ours = package[title].prediction
        choose_words(page, number, ours.options[answer].words)
        panel = panel_of(page, title)
        expect(panel.locator(".pcbchem-prediction")).to_be_hidden()
        choose_words(page, number, ours.reasons[reason].words)
        ours.choice, ours.reason = answer, reason
        shows(panel, package[title].picture_and_words(False)[1])
        expect(panel.locator(".pcbchem-prediction")).to_contain_text(ours.words)
    expect(page.get_by_text("strength alone is enough")).to_be_visible()
    expect(page.get_by_text("no order of the reaction")).to_be_visible()
    no_errors(page)


@pytest.mark.parametrize("title", [RATIO, MULTIPLY])
def test_law_each_choice_shows_the_package_s_words(page, package, title):
    panel, ours = panel_of(page, title), package[title]
    (control,) = ours.controls
    for key, words in reversed(control.options.items()):
        choose(panel, control, words)
        shows(panel, ours.picture_and_words(False, **{control.name: key})[1])
    no_errors(page)


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    answers = ("strength alone is enough", "no order of the reaction")
    predictions = tuple(GUESSES.values())
    questions = sure.sure_questions
