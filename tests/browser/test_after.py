"""Law: by keyboard alone one can predict, with a reason, choose a time, and move a slider of pH.

Covers the page 10: the laws of a lesson; label, tables of where the rest goes, its live copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import after_the_last_board as after

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "10_after_the_last_board.ipynb"
PEROXIDE, COPPER = "Peroxide that is left", "Copper in the clear water"
GUESSES = {PEROXIDE: ("morning", "copper"), COPPER: ("less", "neutral")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 3
    answers = (
        "still hold peroxide",
        "a thousandfold wide",
        "Only a strip tells",
        "stay dissolved over aged mud",
        "22 times",
        "8.1 times",
        "Your used bath stands there now",
        "Where it goes",
        "What would prove it wrong",
    )
    hidden = ("plausible baths; ", "aged mud")

    def test_law_where_it_goes_is_a_table_for_every_place(self, page):
        """After both predictions, with whom to ask over it."""
        told = page.locator(".pcbchem-afterwards", has_text="Where it goes")
        expect(told).to_contain_text("Check the current rule; ask your local site.")
        for place in ("Everywhere", "EU", "Great Britain", "United States", "Elsewhere"):
            expect(told.get_by_role("columnheader", name=place, exact=True)).to_be_visible()

    def test_law_the_label_stands_with_what_to_do(self, page):
        """After the first prediction, in words: no picture of a symbol."""
        told = page.locator(".pcbchem-afterwards", has_text="Your used bath stands there now")
        expect(told.get_by_role("cell", name="Danger. Pictograms: corrosion")).to_be_visible()
        expect(told.get_by_role("cell", name="never closed up")).to_be_visible()
        expect(told.get_by_role("img")).to_have_count(0)


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 21  # seven times of three pairs of bottles
    questions = after.rest_questions
