"""Law: by keyboard alone one can predict, with a reason, etch made-up offcuts and choose a bench.

Covers the page 08: the laws of a lesson; the truth, which waits for both predictions; its live
copy.
"""

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import test_an_offcut as offcut

from .eyes import no_errors
from .hands import panel_of, reset, write
from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "08_test_an_offcut.ipynb"
FUNNEL, TIMED = "A made-up bench", "Who timed them"
GUESSES = {FUNNEL: ("bottles", "labels"), TIMED: ("wider", "worse")}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 5, 2
    answers = (
        "1.67",
        "By hand.",
        "Late is not chance",
        "The truth",
        "3.3 to 5.0 min",
        "What would prove it wrong",
    )
    hidden = ("1.67", "truth", "4.6 to 6.9", "1 large offcut")

    @pytest.fixture(scope="class")
    @classmethod
    def package(cls, page):
        """The panels of the lesson: those of the own bench wait for nothing (`test_own_bench`)."""
        panels = page.ran.panels
        return {title: panel for title, panel in panels.items() if title in cls.guesses}

    def test_law_the_truth_stands_in_both_panels(self, page, package):
        for title in (FUNNEL, TIMED):
            expect(panel_of(page, title).locator("output")).to_contain_text("The truth, 4.4 min")

    def test_law_a_bench_that_there_is_not_is_told_the_limits(self, page, package):
        """A slider without a unit: beside it stands from where to where it goes."""
        panel = panel_of(page, FUNNEL)
        number = next(each for each in package[FUNNEL].controls if each.name == "number")
        write(panel, number, "31")
        beside = panel.locator(".pcbchem-note:not(:empty)")
        expect(beside).to_contain_text("Number of your bench: a number from 1 to 30, please.")
        reset(panel)
        no_errors(page)

    def test_law_what_was_counted_is_seen_in_tables(self, page):
        """Of two hundred benches: eight widths, and six ways to time with what they hold."""
        for title, rows in ((FUNNEL, 8), (TIMED, 6)):
            table = panel_of(page, title).get_by_role("table")
            expect(table.get_by_role("row")).to_have_count(1 + rows)
            expect(table.get_by_role("cell", name="1.45", exact=True).first).to_be_visible()


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 18  # three numbers of offcuts, six benches
    questions = offcut.offcut_questions
