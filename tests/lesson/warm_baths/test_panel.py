"""Both panels: nothing of the answer before a prediction, the guess a hollow bar (laws)."""

import io

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

from pcbchem.lesson.warm_baths import (
    depth_panel,
    jar_prediction,
    numbers,
    weak_panel,
    weak_prediction,
)
from pcbchem.lesson.warm_baths.predictions import guessed
from pcbchem.page.export.kept import step_lists
from pcbchem.page.picture import LINE
from pcbchem.page.widget.quiz import KEPT, forget_all

GUESSES = {"deep": (None, "-", "cools", "little", "some", "page"), "weak": (None, "-", "less")}


def pixels(drawing):
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


def settings(panel, every=1):
    """The settings of a live copy, or every so many of them."""
    places = [{}]
    for name, values in step_lists(panel.controls, 200).items():
        places = [{**place, name: value} for place in places for value in values]
    return places[::every]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """In the picture not one point in the colour of a curve, and no temperature but the stop's."""
    panel = request.getfixturevalue(which)
    for values in settings(panel, 9):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        assert seen.count("°C") == 4 and "heat made" not in seen  # of three axes, and the stop
        assert np.abs(pixels(drawing) - ImageColor.getrgb(LINE)).sum(axis=1).min() > 30, values


def test_the_same_colour_is_there_afterwards(deep, weak):
    for panel in (deep, weak):
        points = pixels(panel.picture_and_words(False, predicted="-")[0])
        assert (points == ImageColor.getrgb(LINE)).all(axis=1).any()


@pytest.mark.parametrize("guess, celsius", [("cools", 28.4), ("little", 30.0), ("some", 35.0)])
def test_law_the_guess_is_a_hollow_bar_beside_the_jar_s(deep, guess, celsius):
    drawing, words = deep.picture_and_words(False, predicted=guess)
    picture = drawing.parts["warm"]
    assert picture.guess.get_visible() and picture.guess.get_facecolor()[3] == 0
    corners = picture.guess.get_xy()
    assert corners[:, 1].max() == pytest.approx(celsius, abs=0.1)
    assert guessed(guess) - 273.15 == pytest.approx(celsius, abs=0.1)
    assert corners[:, 0].max() < picture.boxes[1].get_xy()[:, 0].min()
    assert f"Your prediction, {celsius:.0f} °C, is a hollow bar" in words.alt


def test_law_who_was_right_has_no_bar_beside_it(deep):
    drawing, _ = deep.picture_and_words(False, predicted="page")
    assert not drawing.parts["warm"].guess.get_visible()


def test_law_the_second_prediction_was_for_the_jar(weak):
    assert "60 mm" in weak.picture_and_words(False, predicted="ten", depth=20.0)[1].guess
    assert not weak.picture_and_words(False, predicted="ten")[1].guess


def test_law_a_prediction_is_judged_where_it_was_asked(deep):
    for values in ({"depth": 20.0}, {"bottles": "strong"}):
        drawing, words = deep.picture_and_words(False, predicted="some", **values)
        assert words.guess == "Your prediction was for the mild bath, 60 mm deep."
        assert not drawing.parts["warm"].guess.get_visible()


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_moving_the_slider_only_looks_up(deep, weak, monkeypatch):
    for panel in (deep, weak):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)
    for name in ("stand", "balance", "etched"):
        monkeypatch.setattr(numbers, name, None)
    for panel in (deep, weak):
        for values in settings(panel, 3):
            panel.picture_and_words(False, predicted="-", **values)


def test_law_both_have_few_settings(deep, weak):
    assert len(settings(deep)) == 56 and len(settings(weak)) == 28


def test_law_strong_bottles_are_drawn_only_and_weak_ones_wait_for_their_question(deep):
    _, bottles = deep.controls
    assert list(bottles.options) == ["mild", "strong"]
    assert bottles.options["strong"].endswith("(drawn only)")
    said = deep.picture_and_words(False, predicted="-")[1]
    assert "weak" not in f"{said.readout} {said.alt} {said.notes}"


def test_law_no_amount_is_said(deep, weak):
    for panel in (deep, weak):
        drawing, words = panel.picture_and_words(False, predicted="-")
        texts = [words.readout, words.alt, words.head, words.notes]
        texts += [text.get_text() for text in seen_words(drawing)]
        for text in texts:
            assert "mL" not in text and not POUR.search(text), text


def test_law_no_panel_leads_to_the_planner(deep, weak):
    assert not deep.links and not weak.links


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = jar_prediction(), weak_prediction()
    panel = weak_panel(second, first)
    second.choice, second.reason = "less", "left"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_new_pupils_find_the_slider_as_it_was():
    KEPT.clear()
    first = jar_prediction()
    panel = depth_panel(first)
    first.choice = "-"
    panel.redraw(depth=20.0)
    forget_all()
    assert panel.values == {"depth": 60, "bottles": "mild"} and "Predict first" in panel.readout
