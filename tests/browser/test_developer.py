"""Law: by keyboard alone one can predict, with a reason, move the hours and choose a rinse.

Covers the page 11: the laws of a lesson; what burns is said under its pictures, its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import developer_and_tin as baths

from .hands import panel_of
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "11_developer_and_tin.ipynb"
LYE, TIN = "Developer, unused", "Tin bath"
GUESSES = {LYE: ("all", "unused"), TIN: ("seventy", "coating")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 2
    answers = (
        "6.3 g/L left of 12.5",
        "turns it into soda",
        "0.312 mol/L",
        "kills 2.1 mmol of tin",
        "after 4 boards at the latest",
        "half a volt above tin",
        "What would prove it wrong",
    )
    hidden = ("g/L left of", "clings to a board kills")

    def test_law_what_burns_and_what_is_waste_is_the_last_word(self, page):
        """Under each picture, whatever was chosen."""
        for title, rule in (
            (LYE, "However old, it burns eyes: goggles."),
            (TIN, "waste as the bath"),
        ):
            expect(panel_of(page, title)).to_contain_text(rule)


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 39  # thirteen hours in three vessels
    questions = baths.bath_questions
