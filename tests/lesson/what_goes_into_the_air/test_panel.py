"""Both panels: nothing of the answer before, the rule and the fourth row always (laws)."""

import time
from typing import ClassVar

import numpy as np
import pytest
from helpers.lesson_panels import ColouredPanels, settings

from pcbchem.lesson.what_goes_into_the_air import (
    acid_panel,
    air_panel,
    air_prediction,
    mild_prediction,
    numbers,
)
from pcbchem.lesson.what_goes_into_the_air.numbers import ACIDS, PLACES, breathed
from pcbchem.lesson.what_goes_into_the_air.predictions import ANSWERS, RIGHT
from pcbchem.page.picture import LINE, SHADE

MOVE = 0.1
"""A move takes less of a processor [s]: how busy the others keep it is not counted."""
RULE = "Work in the open air or in a working fume cupboard."


class TestPanels(ColouredPanels):
    guesses: ClassVar = {
        "things": (None, "-", *ANSWERS),
        "acids": (None, "-", "alike", "spill, bath, bottle"),
    }
    untold = r"\b0\.0018\b|times the bath|27\u202f000|hollow"
    no_amounts = (
        r"100\s+mL of it spilt|10 mL spilt|115 g of acid|\b\d+ m³|litres? of (gas|air)|in a million"
    )
    copied: ClassVar = {"things": len(PLACES), "acids": len(PLACES) * len(ACIDS)}
    numbers, slow = numbers, ("breathe", "planned", "water_lost", "spill")
    first, second = (air_prediction, air_panel), (mild_prediction, acid_panel)
    answered = ("alike", "warm")
    moved: ClassVar = {"place": "open air"}
    starts: ClassVar = {"place": "shut room"}
    colours = (LINE, SHADE)

    def check_before(self, name, drawing, words):
        super().check_before(name, drawing, words)
        assert words.readout.endswith(RULE) and "nobody has measured this" in words.alt


@pytest.mark.parametrize("which", TestPanels.guesses)
def test_law_the_rule_stands_under_every_picture(which, request):
    panel = request.getfixturevalue(which)
    for values in settings(panel):
        for guess in TestPanels.guesses[which]:
            words = panel.picture_and_words(False, predicted=guess, **values)[1]
            assert words.readout.endswith(RULE)
            assert "nobody has measured this" in words.alt


@pytest.mark.parametrize("guess", [key for key in ANSWERS if key != RIGHT])
def test_law_the_guess_is_two_hollow_marks(things, guess):
    drawing, words = things.picture_and_words(False, predicted=guess)
    rows = drawing.parts["rows"]
    assert rows.guess.get_visible() and rows.guess.get_markerfacecolor() == "white"
    bath = 1e6 * float(breathed().bath.middle)
    assert rows.guess.get_xdata() == pytest.approx([bath * times for times in ANSWERS[guess]])
    assert list(rows.guess.get_ydata()) == [1, 2]
    assert "two hollow diamonds" in words.alt
    assert things.prediction.options[guess].words in words.alt


def test_law_who_was_right_has_no_mark(things):
    drawing, words = things.picture_and_words(False, predicted=RIGHT)
    assert not drawing.parts["rows"].guess.get_visible() and "hollow" not in words.alt


def test_law_a_prediction_is_judged_where_it_was_asked(things, acids):
    drawing, words = things.picture_and_words(False, predicted="alike", place="open air")
    assert words.guess == "Your prediction was for the shut room."
    assert not drawing.parts["rows"].guess.get_visible()
    for values in ({"acid": "25"}, {"place": "window and fan"}):
        words = acids.picture_and_words(False, predicted="alike", **values)[1]
        assert words.guess == "Your prediction was for acid of 10 % in the shut room."
        assert not acids.picture_and_words(False, predicted="-", **values)[1].guess
    assert not acids.picture_and_words(False, predicted="alike")[1].guess


def test_law_a_move_is_quick(things, acids):
    for panel in (things, acids):
        taken = []
        for _ in range(2):
            for values in settings(panel):
                begin = time.process_time()
                panel.picture_and_words(False, predicted="-", **values)[0].png(1.0)
                taken.append(time.process_time() - begin)
        assert np.median(taken) < MOVE


def test_law_the_first_panel_tells_nothing_of_the_second_question(things):
    """What weaker acid does is asked later: it has one acid alone."""
    assert [control.name for control in things.controls] == ["place"]
    for values in settings(things):
        words = things.picture_and_words(False, predicted="-", **values)[1]
        said = f"{words.readout} {words.alt} {words.notes}"
        assert "acid of 10" not in said and "bath, bottle" not in said
