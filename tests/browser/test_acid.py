"""Law: by keyboard alone one can predict, with a reason, and pour into two jugs.

Covers the page 02: the laws of a lesson; its live copy.
"""

import pytest

from pcbchem.lesson import acid_into_water as pouring

from .lesson_laws import LessonCopyLaws, LessonLaws

PAGE = "02_acid_into_water.ipynb"
GUESSES = {
    "Acid and water": ("theirs", "little"),
    "Acid and shop peroxide": ("either", "end"),
}
"""Key of an answer and of a reason for each panel's question."""


class TestPage(LessonLaws):
    """The laws of a lesson's page."""

    name = PAGE
    guesses = GUESSES
    panels, texts = 2, 3
    answers = ("7.4 times stronger", "6.6 °C warmer", "not the same way", "counts as the water")
    hidden = ("Both end", "times stronger", "not the same way")


@pytest.mark.usefixtures("forgotten")
class TestCopy(LessonCopyLaws):
    """The laws of every live copy."""

    of = TestPage
    settings = 15  # three acids, and every quarter poured
    questions = pouring.pouring_questions
