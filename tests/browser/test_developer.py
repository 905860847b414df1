"""Law: by keyboard alone one can predict, with a reason, choose hours and a vessel, and rinse.

Covers the page 11: the laws of a lesson; the last sentence under each picture, both films, and a
tin bath that stands there without a recipe; its live copy.
"""

import re

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import developer_and_tin as baths

from .eyes import read_down
from .hands import choose, panel_of, reset
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "11_developer_and_tin.ipynb"
DEVELOPER, TIN = "Developer, unused", "Tin bath"
GUESSES = {DEVELOPER: ("part", "air"), TIN: ("four", "peroxide")}
"""Key of an answer and of a reason for each panel's question."""
ALWAYS = {
    DEVELOPER: "However old, it burns eyes: goggles. Weak lye is never topped up.",
    TIN: "Each bath has dishes of its own; their water is waste as the bath is.",
}
"""Last sentence under each picture."""
AMOUNT = re.compile(r"\d\s*(?:%|(?:[mk]?g|m?mol|m?L)\b)")
"""A number with a unit of how much there is."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 2
    answers = (
        "6.3 g/L left of 12.5",
        "However old, it burns",
        "Why unused lye goes",
        "wears its picture off",
        "2.1 mmol",
        "19 times its coating",
        "their water is waste",
        "What kills it",
        "What would prove it wrong",
    )
    hidden = ("g/L left of", "clings to a board kills", "is suspected of")

    def test_law_the_last_sentence_stands_whatever_is_chosen(self, page, package):
        """Neither an old developer nor a rinse is called harmless."""
        for title, last in ALWAYS.items():
            panel, choice = panel_of(page, title), package[title].controls[-1]
            said = panel.locator("output").first
            for words in reversed(choice.options.values()):
                before = said.text_content()
                choose(panel, choice, words)
                expect(said).not_to_have_text(before)
                expect(said).to_have_text(re.compile(rf"{re.escape(last)}$"))
            reset(panel)

    def test_law_both_films_are_told_apart(self, page):
        """What develops one spoils the other: the reader's own sheet is named beside it."""
        told = panel_of(page, DEVELOPER)
        expect(told).to_contain_text("Film that light hardens is developed in soda")
        expect(told).to_contain_text("Read your film's sheet.")

    def test_law_a_tin_bath_has_no_recipe(self, page):
        """No sentence on thiourea has an amount, and the label of the reader's bath counts."""
        expect(panel_of(page, TIN)).to_contain_text("No recipe stands here: your bath's label")
        told = [each for each in re.split(r"[.:]\s", read_down(page)) if "hiourea" in each]
        assert len(told) >= 3, "the caution, how the coating comes, what thiourea is"
        assert [each for each in told if AMOUNT.search(each)] == []


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 21  # seven times in each of three vessels
    questions = baths.bath_questions
