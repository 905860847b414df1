"""Law: by keyboard alone one can predict, with a reason, move the slider and choose bottles.

Covers the page 05: the laws of a lesson; what its lines of Python print; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import warm_baths as warm

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "05_warm_baths.ipynb"
GUESSES = {
    "How warm a used bath gets": ("some", "surface"),
    "The same with weak peroxide": ("three", "left"),
}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 1
    answers = (
        "to 42 °C",
        "Made all through the liquid",
        "65 °C",
        "What is left decides first",
        "What would prove it wrong",
    )
    hidden = ("the middle bath gets", "heat made")

    def test_law_the_package_s_lines_are_seen_with_what_they_print(self, page):
        expect(page.get_by_text("24 °C for each mol/L", exact=True)).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 8  # four places of the slider with its start, two pairs of bottles
    questions = warm.warm_questions
