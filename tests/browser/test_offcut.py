"""Law: by keyboard alone one can predict, with a reason, etch made-up offcuts and choose a bench.

Covers the page 08: the laws of a lesson; the truth, which waits for both predictions; its live
copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import test_an_offcut as offcut

from .eyes import seen_text
from .hands import panel_of
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "08_test_an_offcut.ipynb"
FUNNEL, TIMED = "A made-up bench", "Who timed them"
GUESSES = {FUNNEL: ("bottles", "labels"), TIMED: ("wider", "worse")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 2
    answers = (
        "1.57",
        "surenesses add",
        "Late is not chance",
        "The truth",
        "3.6 to 5.4 min",
        "What would prove it wrong",
    )
    hidden = ("1.57", "truth", "3.9 to 5.7", "2 large")

    def test_law_the_truth_stands_in_the_second_panel_alone(self, page):
        assert "truth" not in seen_text(panel_of(page, FUNNEL)).split("Why.")[0]
        expect(panel_of(page, TIMED).locator("output")).to_contain_text("The truth")

    def test_law_what_was_counted_is_seen_in_tables(self, page):
        """Of two hundred benches: seven widths, and six ways to time with what they hold."""
        for title, rows in ((FUNNEL, 7), (TIMED, 6)):
            table = panel_of(page, title).get_by_role("table")
            expect(table.get_by_role("row")).to_have_count(1 + rows)
            expect(table.get_by_role("cell", name="1.45", exact=True).first).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 60  # every second offcut of every second bench
    questions = offcut.offcut_questions
