"""The two panels: nothing of the answer before a prediction, the guess hollow in it (laws)."""

from typing import ClassVar

import numpy as np
import pytest
from helpers.lesson_panels import LessonPanels, pixels
from PIL import ImageColor

from pcbchem.lesson.when_to_lift_it_out import (
    foil_panel,
    foil_prediction,
    inspection_panel,
    numbers,
    trace_panel,
    trace_prediction,
)
from pcbchem.lesson.when_to_lift_it_out.numbers import BATHS
from pcbchem.lesson.when_to_lift_it_out.predictions import ANSWERS
from pcbchem.page.widget.quiz import KEPT


class TestPanels(LessonPanels):
    guesses: ClassVar = {
        "trace": (None, "-", *ANSWERS),
        "foils": (None, "-", "thick", "alike", "thin", "gone"),
    }
    others = ("inspected",)
    untold = r"straight|clear: 0|foot|0\.155|0\.166"
    few, spoken, looked_up = 7, 25, 5
    copied: ClassVar = {"trace": 52, "foils": 33, "inspected": 40}
    numbers, slow = numbers, ("outlook", "etched", "etch_factor")
    first, second = (trace_prediction, trace_panel), (foil_prediction, foil_panel)
    answered = ("thin", "time")
    moved: ClassVar = {"time": 8.0, "bath": "weak"}
    starts: ClassVar = {"time": 4.0, "bath": "mild"}

    def check_before(self, name, drawing, words):
        """Whatever the controls: the same untouched copper and empty axes."""
        line, cut = drawing.parts["line"], drawing.parts["cut"]
        assert not any(artist.get_visible() for artist in line.moving)
        assert not cut.left.get_visible() and not cut.left_words.get_visible()
        # from edge to edge, as thick as it came
        x, y = cut.copper.get_xy().T
        assert np.ptp(x) == pytest.approx(272) and set(np.round(y, 6)) <= {0, round(y.max(), 6)}


def test_the_dark_line_is_there_afterwards(trace):
    colour = ImageColor.getrgb("#004b87")
    before = pixels(trace.picture_and_words(False, predicted=None)[0])
    after = pixels(trace.picture_and_words(False, predicted="-")[0])
    assert (after == colour).all(axis=1).sum() > 3 * (before == colour).all(axis=1).sum()


@pytest.mark.parametrize("guess, width", [(key, 1000 * width) for key, width in ANSWERS.items()])
def test_law_the_guess_is_a_hollow_mark(trace, guess, width):
    drawing, words = trace.picture_and_words(False, predicted=guess)
    line = drawing.parts["line"]
    assert line.guess.get_visible() and line.guess.get_markerfacecolor() == "none"
    assert line.guess.get_xydata()[0] == pytest.approx([4, width])
    assert line.guess_words.get_text() == f"you: {width:.2f}"
    assert trace.prediction.options[guess].words in words.alt


def test_law_a_prediction_is_judged_where_it_was_asked(trace, foils):
    for values in ({"time": 6.0}, {"bath": "strong"}):
        drawing, words = trace.picture_and_words(False, predicted="about 0.18", **values)
        assert words.guess.startswith("Your prediction was for the mild bath")
        assert not drawing.parts["line"].guess.get_visible()
    assert trace.picture_and_words(False, predicted="about 0.18")[1].guess == ""
    assert foils.picture_and_words(False, predicted="thin")[1].guess == ""
    assert "½ oz" in foils.picture_and_words(False, predicted="thin", late=3.0)[1].guess
    assert foils.picture_and_words(False, predicted="-", late=3.0)[1].guess == ""


def test_law_what_no_page_mixes_says_so(trace):
    choice = trace.controls[1]
    for name, words in choice.options.items():
        assert ("drawn only" in words) == (name == numbers.ONLY_DRAWN)
    assert set(choice.options) == set(BATHS)


def test_law_the_first_panels_tell_nothing_of_the_second_question():
    KEPT.clear()
    first = trace_prediction()
    for panel in (trace_panel(first), inspection_panel(first)):
        _, words = panel.picture_and_words(False, predicted="-")
        assert "½ oz" not in f"{words.readout} {words.alt} {words.notes}"
        assert "thin foil" not in words.notes
