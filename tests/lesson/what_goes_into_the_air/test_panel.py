"""Both panels: nothing of the answer before, the rule and the fourth row always (laws)."""

import io
import time

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words
from PIL import Image, ImageColor

from pcbchem.lesson.what_goes_into_the_air import (
    acid_panel,
    air_panel,
    air_prediction,
    mild_prediction,
    numbers,
)
from pcbchem.lesson.what_goes_into_the_air.numbers import ACIDS, PLACES, breathed
from pcbchem.lesson.what_goes_into_the_air.predictions import ANSWERS, RIGHT
from pcbchem.page.export.kept import step_lists
from pcbchem.page.picture import LINE, SHADE
from pcbchem.page.widget.quiz import KEPT, forget_all

GUESSES = {
    "things": (None, "-", *ANSWERS),
    "acids": (None, "-", "alike", "spill, bath, bottle"),
}
MOVE = 0.1
"""A move takes less of a processor [s]: how busy the others keep it is not counted."""


def settings(panel):
    """The settings of a live copy."""
    places = [{}]
    for name, values in step_lists(panel.controls, 200).items():
        places = [{**place, name: value} for place in places for value in values]
    return places


def pixels(drawing):
    return np.asarray(Image.open(io.BytesIO(drawing.png(1.0)))).reshape(-1, 3).astype(int)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    panel = request.getfixturevalue(which)
    for values in settings(panel):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = [text.get_text() for text in seen_words(drawing)]
        assert "you" not in seen and not any("0.0018" in text for text in seen)
        points = pixels(drawing)
        for colour in (LINE, SHADE):
            assert not (points == ImageColor.getrgb(colour)).all(axis=1).any()


def test_the_same_colours_are_there_afterwards(things, acids):
    for panel in (things, acids):
        points = pixels(panel.picture_and_words(False, predicted="-")[0])
        for colour in (LINE, SHADE):
            assert (points == ImageColor.getrgb(colour)).all(axis=1).any()


@pytest.mark.parametrize("which", GUESSES)
def test_law_the_rule_stands_under_every_picture(which, request):
    panel = request.getfixturevalue(which)
    for values in settings(panel):
        for guess in GUESSES[which]:
            words = panel.picture_and_words(False, predicted=guess, **values)[1]
            assert words.readout.endswith("Work in the open air or in a working fume cupboard.")
            assert "nobody has measured this" in words.alt


@pytest.mark.parametrize("guess", [key for key in ANSWERS if key != RIGHT])
def test_law_the_guess_is_two_hollow_marks(things, guess):
    drawing, words = things.picture_and_words(False, predicted=guess)
    rows = drawing.parts["rows"]
    assert rows.guess.get_visible() and rows.guess.get_markerfacecolor() == "white"
    bath = 1e6 * float(breathed().bath.middle)
    wanted = [bath * times for times in ANSWERS[guess]]
    assert rows.guess.get_xdata() == pytest.approx(wanted)
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


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_a_move_only_looks_up_and_is_quick(things, acids, monkeypatch):
    for panel in (things, acids):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)[0].png(1.0)
    for name in ("breathe", "planned", "water_lost", "spill"):
        monkeypatch.setattr(numbers, name, None)
    for panel in (things, acids):
        taken = []
        for values in settings(panel):
            begin = time.process_time()
            panel.picture_and_words(False, predicted="-", **values)[0].png(1.0)
            taken.append(time.process_time() - begin)
        assert np.median(taken) < MOVE


def test_law_there_are_24_settings(things, acids):
    assert len(settings(things)) == len(PLACES) == 4
    assert len(settings(acids)) == len(PLACES) * len(ACIDS) == 24


def test_law_the_first_panel_tells_nothing_of_the_second_question(things):
    """What weaker acid does is asked later: it has one acid alone."""
    assert [control.name for control in things.controls] == ["place"]
    for values in settings(things):
        words = things.picture_and_words(False, predicted="-", **values)[1]
        said = f"{words.readout} {words.alt} {words.notes}"
        assert "acid of 10" not in said and "bath, bottle" not in said


def test_law_neither_panel_leads_to_the_planner(things, acids):
    assert not things.links and not acids.links


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = air_prediction(), mild_prediction()
    panel = acid_panel(second, first)
    second.choice, second.reason = "alike", "warm"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_new_pupils_find_the_controls_as_they_were():
    KEPT.clear()
    first = air_prediction()
    panel = air_panel(first)
    first.choice = "-"
    panel.redraw(place="open air")
    forget_all()
    assert panel.values == {"place": "shut room"} and "Predict first" in panel.readout
