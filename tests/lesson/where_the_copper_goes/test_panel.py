"""The two tents: nothing of the answer before a prediction, the guess hollow in it (laws)."""

from typing import ClassVar

import pytest
from helpers.lesson_panels import ColouredPanels, seen_text

from pcbchem.lesson.where_the_copper_goes import (
    boards_prediction,
    bottle_prediction,
    numbers,
    tray_panel,
    weaker_panel,
)
from pcbchem.lesson.where_the_copper_goes.numbers import tent
from pcbchem.page.picture import LINE, SHADE
from pcbchem.page.widget.quiz import KEPT


class TestPanels(ColouredPanels):
    guesses: ClassVar = {
        "tray": (None, "-", "twice", "third", "same", "page"),
        "weaker": (None, "-", "9", "6", "3", "none"),
    }
    others = ("heat",)
    # of the tent and its edge
    colours = (LINE, SHADE)
    untold = "runs out|could carry|most copper"
    few, spoken = 9, 9
    copied: ClassVar = {"tray": 50, "weaker": 45}
    numbers, slow = numbers, ("mix",)
    first, second = (boards_prediction, tray_panel), (bottle_prediction, weaker_panel)
    answered = ("3", "scarce")
    moved: ClassVar = {"parts": 3.0}
    starts: ClassVar = {"parts": 2.0}

    def check_before(self, name, drawing, words):
        """No count but that of the question."""
        super().check_before(name, drawing, words)
        assert ("about 8" in seen_text(drawing)) == (name == "tray")


@pytest.mark.parametrize("guess, boards", [("twice", 16.6), ("third", 11.1), ("same", 8.3)])
def test_law_the_guess_is_a_hollow_mark(tray, guess, boards):
    drawing, words = tray.picture_and_words(False, parts=2.0, predicted=guess)
    mark = drawing.parts["tent"].guess
    assert mark.get_visible() and mark.get_markerfacecolor() == "none"
    assert mark.get_xydata()[0] == pytest.approx([2 / 3, boards], abs=0.05)
    assert tray.prediction.options[guess].words in words.alt


@pytest.mark.parametrize("guess, bottle", [("9", 9.0), ("6", 6.0), ("3", 3.0), ("none", 12.0)])
def test_law_the_guessed_bottle_is_shown_by_its_top(weaker, guess, bottle):
    drawing, words = weaker.picture_and_words(False, parts=1.0, bottle="3", predicted=guess)
    mark = drawing.parts["tent"].guess
    assert mark.get_xydata()[0] == pytest.approx(tent(bottle).top)
    assert f"{bottle:g} %, its top" in words.alt


def test_law_a_prediction_is_judged_where_it_was_asked(tray, weaker):
    elsewhere = tray.picture_and_words(False, parts=0.5, predicted="twice")
    assert elsewhere[1].guess == "Your prediction was for the mix 1 : 2."
    assert not elsewhere[0].parts["tent"].guess.get_visible()
    assert tray.picture_and_words(False, parts=2.0, predicted="twice")[1].guess == ""
    drawing, _ = weaker.picture_and_words(False, bottle="6", parts=1.0, predicted="9")
    assert not drawing.parts["tent"].guess.get_visible()


def test_law_the_second_slider_reaches_every_top(weaker):
    """From the left of it to the right of it, whichever bottle."""
    slider = weaker.controls[0]
    assert all(slider.low < tent(bottle).top_parts < slider.high for bottle in numbers.WEAKER)


def test_law_the_first_panel_tells_nothing_of_the_second_question():
    """Other bottles on its slider would: it has none."""
    KEPT.clear()
    panel = tray_panel(boards_prediction())
    assert [control.name for control in panel.controls] == ["parts"]
    _, words = panel.picture_and_words(False, predicted="-")
    said = f"{words.readout} {words.alt} {words.notes}"
    assert "3 %" not in said and "6 %" not in said and "9 %" not in said
