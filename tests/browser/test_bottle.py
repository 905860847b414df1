"""Page 01: what is in a mixture waits for its prediction, and then is what the package says.

Covers the laws of every page; nothing of an answer before it is asked; every bottle; the way to the
planner, which strong and refused mixtures have not; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import what_is_in_the_bottle as bottle

from .copy_laws import LiveCopyLaws
from .eyes import no_errors, seen_text, shows
from .hands import choose, panel_of, start_run, wait_for_run
from .page_laws import PageLaws

PAGE = "01_what_is_in_the_bottle.ipynb"
MIXTURES, RECIPES = "Two mixtures", "One recipe, other bottles"
GUESSES = {MIXTURES: ("two thirds", "peroxide"), RECIPES: ("alone", "water")}
"""Key of an answer and of a reason for each panel's question."""
TOLD = ("and nobody poured any into B", "26 times as long", "A ratio is no recipe")


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its end, which brings the reader back up: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page)
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, made while the page is busy."""
    first, second = bottle.water_prediction(), bottle.recipe_prediction()
    return {
        MIXTURES: bottle.mixtures_panel(first),
        RECIPES: bottle.recipes_panel(second, first),
    }


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    answers = TOLD

    def test_law_it_asks_twice_and_says_the_rest_later(self, page):
        widgets = {"quiz": 2 + 1, "panel": 2, "afterwards": 2, "end": 1}
        for name, number in widgets.items():
            expect(page.locator(f".pcbchem-{name}")).to_have_count(number)

    def test_law_the_library_s_answer_stands_on_the_page(self, page):
        expect(page.get_by_text("library thermo", exact=True)).to_be_visible()
        expect(page.get_by_text("fitted to acid of at most 6.5 %")).to_be_visible()


def test_law_an_answer_with_a_reason_opens_each_panel(page, package):
    for number, (title, (answer, reason)) in enumerate(GUESSES.items()):
        ours = package[title].prediction
        panel = panel_of(page, title)
        assert "redict first" in seen_text(panel)
        quiz = page.locator(".pcbchem-quiz").nth(number)
        quiz.get_by_role("radio", name=ours.options[answer].words, exact=True).check()
        quiz.get_by_role("radio", name=ours.reasons[reason].words, exact=True).check()
        ours.choice, ours.reason = answer, reason
        shows(panel, package[title].picture_and_words(False)[1])
        expect(panel.locator(".pcbchem-prediction")).to_contain_text(ours.words)
    for words in TOLD:
        expect(page.get_by_text(words)).to_be_visible()
    no_errors(page)


@pytest.mark.parametrize("title", GUESSES)
def test_law_each_choice_shows_the_package_s_words(page, package, title):
    panel, ours = panel_of(page, title), package[title]
    values = {control.name: control.start for control in ours.controls}
    for control in ours.controls:
        for key, words in reversed(control.options.items()):
            choose(panel, control, words)
            values[control.name] = key
            shows(panel, ours.picture_and_words(False, **values)[1])
    no_errors(page)


def test_law_only_a_mild_mixture_leads_to_the_planner(page, package):
    panel, ours = panel_of(page, MIXTURES), package[MIXTURES]
    peroxide, acid = ours.controls
    link = panel.get_by_role("link", name="Take mixture B to the planner")
    for strength, leads in (("31.45", False), ("10", True)):
        choose(panel, acid, acid.options[strength])
        choose(panel, peroxide, peroxide.options["3"])
        expect(link).to_be_visible() if leads else expect(link).to_be_hidden()
    choose(panel, peroxide, peroxide.options["30"])
    expect(link).to_be_hidden()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    answers = TOLD
    predictions = tuple(GUESSES.values())
    questions = bottle.bottle_questions
