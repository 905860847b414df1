"""Law: by keyboard alone one can predict, with a reason, move three sliders and choose a bath.

Covers the page 07: the laws of a lesson; its table of published factors; its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import when_to_lift_it_out as lift

from .hands import panel_of
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "07_when_to_lift_it_out.ipynb"
TRACE = "A trace in the bath"
GUESSES = {TRACE: ("about 0.18", "edge"), "Thin foil and thick": ("thick", "late")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 3, 2
    answers = (
        "0.155 mm",
        "The first costs about as much as the last",
        "How to pull it",
        "0.166 mm",
        "155 µm",
        "What would prove it wrong",
    )
    hidden = ("0.155", "sideways", "a bridge")

    def test_law_published_factors_are_seen_beside_ours(self, page):
        """A table of three rows, under the first picture."""
        table = panel_of(page, TRACE).get_by_role("table")
        expect(table.get_by_role("row")).to_have_count(1 + 3)
        for words in ("1 to 2", "1.5 to 3.5", "2.5 to 3.5", "0.173 to 0.181 mm"):
            expect(table.get_by_role("cell", name=words, exact=True)).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 18  # three foils, and six places of their slider with its start
    questions = lift.trace_questions
