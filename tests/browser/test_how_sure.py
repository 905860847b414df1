"""Law: by keyboard alone one can predict, with a reason, and read what waited for it.

Covers the page 04b: the laws of a lesson; its live copy.
"""

import pytest

from pcbchem.lesson import how_sure_is_it as sure

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "04b_how_sure_is_it.ipynb"
GUESSES = {
    "How sure is the ratio?": ("narrower", "tied"),
    "Apparent order, pair by pair": ("same", "mixture"),
    "Do the effects multiply?": ("less", "feed"),
}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 3, 2
    answers = ("strength alone is enough", "no order of the reaction")


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    questions = sure.sure_questions
