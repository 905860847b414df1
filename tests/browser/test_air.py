"""Law: by keyboard alone one can predict, with a reason, and choose a place and an acid.

Covers the page 09: the laws of a lesson; its rule, which stands under every picture; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import what_goes_into_the_air as air

from .hands import panel_of
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "09_what_goes_into_the_air.ipynb"
GUESSES = {"Into the air": ("tens", "share"), "Another bottle": ("spill, bottle, bath", "things")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 2
    answers = (
        "27\u202f000 times",
        "about 7 times as much",
        "0.000044",
        "makes a spill less bad",
        "1.7 g",
        "What would prove it wrong",
    )
    hidden = ("times the bath, spill", "0.0018")

    def test_law_the_rule_stands_under_both_pictures(self, page):
        """Whatever was chosen before."""
        for title in GUESSES:
            said = panel_of(page, title).locator("output").first
            expect(said).to_contain_text("Work in the open air or in a working fume cupboard.")
            expect(said).to_contain_text("nobody has measured this")


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 24  # every acid in every place
    questions = air.air_questions
