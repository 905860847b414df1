"""Law: by keyboard alone one can predict, with a reason, and pour into two jugs.

Covers the page 02: the laws of every page; nothing of an answer before its prediction; what each
panel then says is what the package says; what comes after both predictions.
"""

import re

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import acid_into_water as pouring

from .copy_laws import LiveCopyLaws
from .eyes import no_errors, read_down, seen_text, shows
from .hands import choose, panel_of, predict, press, reset, start_run, wait_for_run, write
from .page_laws import PageLaws

PAGE = "02_acid_into_water.ipynb"
WATER, SHOP = "Acid and water", "Acid and shop peroxide"
GUESSES = {WATER: ("theirs", "little"), SHOP: ("either", "end")}
"""Key of an answer and of a reason for each panel's question."""
SETTINGS = 15
"""Of each panel in the copy: three acids, and every quarter poured."""
ANSWER = re.compile(r"\d °C warmer|Both end|times stronger|not the same way")


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its end, which brings the reader back up: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page)
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, made while the page is busy."""
    first, second = pouring.jug_prediction(), pouring.first_prediction()
    return {
        WATER: pouring.water_panel(first),
        SHOP: pouring.peroxide_panel(second, first),
    }


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    answers = ("7.4 times stronger", "6.6 °C warmer", "not the same way", "counts as the water")

    def test_law_it_asks_twice_and_says_the_rest_later(self, page):
        """Two predictions, three texts that wait, the questions and the end."""
        widgets = {"quiz": 2 + 1, "panel": 2, "afterwards": 3, "end": 1}
        for name, number in widgets.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)


def test_law_nothing_of_an_answer_shows_before(page, package):
    for title in GUESSES:
        panel = panel_of(page, title)
        panel.scroll_into_view_if_needed()
        heard = f"{seen_text(panel)} {panel.locator('img').get_attribute('alt')}"
        assert "Predict first" in heard
        assert not ANSWER.search(heard), ANSWER.search(heard)
        assert ANSWER.search(package[title].picture_and_words(False, predicted="-")[1].readout)


def test_law_an_answer_with_a_reason_opens_each_panel(page, package):
    for number, (title, (answer, reason)) in enumerate(GUESSES.items()):
        ours = package[title].prediction
        panel_of(page, title).scroll_into_view_if_needed()
        predict(page, ours.options[answer].words, number, because=ours.reasons[reason].words)
        ours.choice, ours.reason = answer, reason
        panel = panel_of(page, title)
        shows(panel, package[title].picture_and_words(False)[1])
        expect(panel.locator(".pcbchem-prediction")).to_contain_text(ours.words)
        for option in (ours.options[answer], ours.reasons[reason]):
            expect(panel).to_contain_text(option.reply)
    no_errors(page)


@pytest.mark.parametrize("title", [WATER, SHOP])
def test_law_pouring_is_what_the_package_says(page, package, title):
    """By arrow keys, to the last drop, and by the number."""
    panel, ours = panel_of(page, title), package[title]
    reset(panel)
    slider = panel.get_by_role("slider")
    slider.focus()
    press(page, "ArrowRight", 3)
    pouring = ours.controls[0]
    poured = pouring.start + 3 * pouring.step
    shows(panel, ours.picture_and_words(False, poured=poured)[1])
    slider.press("End")
    shows(panel, ours.picture_and_words(False, poured=100)[1])
    write(panel, pouring, f"{pouring.step:g}")
    shows(panel, ours.picture_and_words(False, poured=pouring.step)[1])
    no_errors(page)


def test_law_each_acid_has_its_hill(page, package):
    panel, ours = panel_of(page, WATER), package[WATER]
    reset(panel)
    for key, words in reversed(ours.controls[1].options.items()):
        choose(panel, ours.controls[1], words)
        said = ours.picture_and_words(False, acid=key)[1]
        shows(panel, said)
        if said.guess:
            expect(panel).to_contain_text(said.guess)
    no_errors(page)


def test_law_everything_is_told_afterwards(page):
    """So the law that nothing is told before looks for what this page says."""
    for title in GUESSES:
        reset(panel_of(page, title))
    text = read_down(page)
    assert [answer for answer in TestPage.answers if answer not in text] == []


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    answers = TestPage.answers
    predictions = tuple(GUESSES.values())
    questions = pouring.pouring_questions
