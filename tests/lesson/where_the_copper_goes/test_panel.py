"""The two tents: nothing of the answer before a prediction, the guess hollow in it (laws)."""

import io

import numpy as np
import pytest
from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

from pcbchem.lesson.where_the_copper_goes import (
    boards_prediction,
    bottle_prediction,
    numbers,
    tray_panel,
    weaker_panel,
)
from pcbchem.lesson.where_the_copper_goes.numbers import tent
from pcbchem.page.export.kept import step_lists
from pcbchem.page.picture import LINE, SHADE
from pcbchem.page.widget.quiz import KEPT, forget_all

COLOURS = [ImageColor.getrgb(colour) for colour in (LINE, SHADE)]
"""Of the tent and its edge."""
GUESSES = {"tray": (None, "-", "twice", "third", "same", "page")}
GUESSES["weaker"] = (None, "-", "9", "6", "3", "none")


def pixels(drawing):
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


def settings(panel, every=1):
    """The settings of a live copy, or every so many of them."""
    steps = step_lists(panel.controls, 200)
    places = [{}]
    for name, values in steps.items():
        places = [{**place, name: value} for place in places for value in values]
    return places[::every]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """In the picture not one point in the colours of a tent; no count but that of the question."""
    panel = request.getfixturevalue(which)
    for values in settings(panel, 9):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        assert "runs out" not in seen and "could carry" not in seen and "most copper" not in seen
        assert ("about 8" in seen) == (which == "tray")
        for colour in COLOURS:
            assert np.abs(pixels(drawing) - colour).sum(axis=1).min() > 30, values


def test_the_same_colours_are_there_afterwards(tray, weaker):
    for panel in (tray, weaker):
        points = pixels(panel.picture_and_words(False, predicted="-")[0])
        for colour in COLOURS:
            assert (points == colour).all(axis=1).any()


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


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_moving_the_slider_only_looks_up(tray, weaker, monkeypatch):
    for panel in (tray, weaker):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)
    monkeypatch.setattr(numbers, "mix", None)
    for panel in (tray, weaker):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)


def test_law_both_have_few_settings(tray, weaker):
    assert len(settings(tray)) == 50 and len(settings(weaker)) == 45


def test_law_the_second_slider_reaches_every_top(weaker):
    """From the left of it to the right of it, whichever bottle."""
    slider = weaker.controls[0]
    assert all(slider.low < tent(bottle).top_parts < slider.high for bottle in numbers.WEAKER)


def test_law_no_amount_is_said(tray, weaker, heat):
    for panel in (tray, weaker, heat):
        drawing, words = panel.picture_and_words(False, predicted="-")
        texts = [words.readout, words.alt, words.head, words.notes]
        texts += [text.get_text() for text in seen_words(drawing)]
        for text in texts:
            assert not VOLUME.search(text.replace("1 oz", "")) and not POUR.search(text), text


def test_law_no_panel_leads_to_the_planner(tray, weaker, heat):
    assert not any(panel.links for panel in (tray, weaker, heat))


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = boards_prediction(), bottle_prediction()
    panel = weaker_panel(second, first)
    second.choice, second.reason = "3", "scarce"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_the_first_panel_tells_nothing_of_the_second_question():
    """Other bottles on its slider would: it has none."""
    KEPT.clear()
    panel = tray_panel(boards_prediction())
    assert [control.name for control in panel.controls] == ["parts"]
    _, words = panel.picture_and_words(False, predicted="-")
    said = f"{words.readout} {words.alt} {words.notes}"
    assert "3 %" not in said and "6 %" not in said and "9 %" not in said


def test_law_new_pupils_find_the_sliders_as_they_were():
    KEPT.clear()
    first = boards_prediction()
    panel = tray_panel(first)
    first.choice = "-"
    panel.redraw(parts=3.0)
    forget_all()
    assert panel.values == {"parts": 2.0} and "Predict first" in panel.readout
