"""Law: by keyboard alone one can predict, with a reason, move both sliders and choose a bottle.

Covers the page 03: the laws of a lesson; what its lines of Python print; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import where_the_copper_goes as copper

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "03_where_the_copper_goes.ipynb"
GUESSES = {"What the tray can carry": ("same", "scarce"), "Weaker peroxide": ("6", "weaker")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 3, 1
    answers = (
        "5.5 boards",
        "What runs out first decides",
        "116 never clear",
        "5.1 boards",
        "4.8 %",
        "What would prove it wrong",
    )
    hidden = ("runs out first", "Most of the bath")

    def test_law_the_package_s_lines_are_seen_with_what_they_print(self, page):
        expect(page.get_by_text("copper of 8.3 boards", exact=True)).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 15  # three bottles, and four places of the slider with its start
    questions = copper.copper_questions
    tables = (1, 3, 15)
