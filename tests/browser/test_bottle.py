"""Page 01: what is in a mixture waits for its prediction, and then is what the package says.

Covers the laws of a lesson; what a library says; the way to the planner, which strong and refused
mixtures have not; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import what_is_in_the_bottle as bottle

from .hands import choose, panel_of
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "01_what_is_in_the_bottle.ipynb"
MIXTURES = "Two mixtures"
GUESSES = {
    MIXTURES: ("two thirds", "peroxide"),
    "One recipe, other bottles": ("alone", "water"),
}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 2
    answers = ("and nobody poured any into B", "26 times as long", "A ratio is no recipe")

    def test_law_the_library_s_answer_stands_on_the_page(self, page):
        expect(page.get_by_text("library thermo", exact=True)).to_be_visible()
        expect(page.get_by_text("fitted to acid of at most 6.5 %")).to_be_visible()

    def test_law_only_a_mild_mixture_leads_to_the_planner(self, page, package):
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
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    questions = bottle.bottle_questions
