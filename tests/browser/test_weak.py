"""Law: by keyboard alone one can predict, with a reason, move both sliders and choose an acid.

Covers the page 06: the laws of a lesson; what its lines of Python print; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import weak_peroxide as weak

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "06_weak_peroxide.ipynb"
GUESSES = {"Peroxide for the copper": ("slow", "enough"), "Strong acid": ("two", "short")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 1
    answers = (
        "103 of 200",
        "Brown and not clear",
        "chloride decides",
        "145 of 200",
        "perhaps",
        "What would prove it wrong",
    )
    hidden = ("brown", "never")

    def test_law_the_package_s_lines_are_seen_with_what_they_print(self, page):
        expect(page.get_by_text("0.18 mol/L of copper(I)", exact=True)).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 11  # places of the slider with its start, and two acids
    questions = weak.weak_questions
