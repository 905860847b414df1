"""Both panels: nothing of the answer before a prediction, no word over another (laws)."""

import io

import numpy as np
import pytest
from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

from pcbchem.lesson.weak_peroxide import (
    enough_prediction,
    numbers,
    strong_panel,
    strong_prediction,
    weak_panel,
)
from pcbchem.lesson.weak_peroxide.picture import BROWN_INK
from pcbchem.page.export.kept import step_lists
from pcbchem.page.picture import LINE
from pcbchem.page.widget.quiz import KEPT, forget_all

COLOURS = [ImageColor.getrgb(colour) for colour in (LINE, BROWN_INK)]
"""Of the courses and the squares."""
GUESSES = {
    "weak": (None, "-", "left", "slow", "half", "stop"),
    "strong": (None, "-", "none", "two", "five", "seven"),
}


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
    panel = request.getfixturevalue(which)
    for values in settings(panel, 11):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        assert "brown" not in f"{seen} {words.alt}" and "never" not in f"{seen} {words.alt}"
        for colour in COLOURS:
            assert np.abs(pixels(drawing) - colour).sum(axis=1).min() > 30, values


def test_the_same_colours_are_there_afterwards(weak, strong):
    for panel in (weak, strong):
        points = pixels(panel.picture_and_words(False, predicted="-")[0])
        for colour in COLOURS:
            assert (points == colour).all(axis=1).any()


def test_law_a_prediction_is_judged_where_it_was_asked(weak, strong):
    for panel, guess, values in (
        (weak, "left", {"times": 2.0}),
        (strong, "two", {"times": 1.0}),
        (strong, "two", {"acid": "10"}),
    ):
        drawing, words = panel.picture_and_words(False, predicted=guess, **values)
        assert words.guess == "Your prediction was for the bath that was asked about."
        assert not drawing.parts["squares"].guess.get_visible() and "hollow" not in words.alt
        assert panel.picture_and_words(False, predicted=guess)[1].guess == ""


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_moving_the_slider_only_looks_up(weak, strong, monkeypatch):
    for panel in (weak, strong):
        panel.picture_and_words(False, predicted="-")
    for acid in strong.controls[1].options:
        strong.picture_and_words(False, acid=acid, predicted="-")
    monkeypatch.setattr(numbers, "etched", None)
    monkeypatch.setattr(numbers, "judged", None)
    for panel in (weak, strong):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)


def test_law_both_have_few_settings_and_the_asked_one_among_them(weak, strong):
    assert len(settings(weak)) == 42 and len(settings(strong)) == 24
    assert {"times": numbers.ASKED} in settings(weak)
    assert {"times": numbers.TOO_LITTLE, "acid": "31"} in settings(strong)
    for panel in (weak, strong):
        for values in settings(panel):
            assert np.abs(numbers.TIMES - values["times"]).min() < 1e-9


def test_law_no_amount_is_said_of_any_bath(weak, strong):
    """Most of them are refused: not even mL per cm²."""
    for panel in (weak, strong):
        for values in settings(panel, 5):
            drawing, words = panel.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.head, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            for text in texts:
                of_baths = text.replace("mol/L (moles in a litre)", "")
                assert not VOLUME.search(of_baths) and not POUR.search(text), text


def test_law_strong_acid_is_drawn_only(strong):
    assert "drawn only" in strong.controls[1].options["31"]
    for values in settings(strong):
        if values["acid"] == "31":
            words = strong.picture_and_words(False, predicted="-", **values)[1]
            assert "drawn only" in words.readout and "31 % acid" in words.alt
    assert not strong.links


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = enough_prediction(), strong_prediction()
    panel = strong_panel(second, first)
    second.choice, second.reason = "seven", "holds"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_the_first_panel_tells_nothing_of_strong_acid():
    """Other acid on its controls would: it has one slider."""
    KEPT.clear()
    panel = weak_panel(enough_prediction())
    assert [control.name for control in panel.controls] == ["times"]
    _, words = panel.picture_and_words(False, predicted="-")
    said = f"{words.readout} {words.alt} {words.notes}"
    assert "31" not in said and "strong acid" not in said


def test_law_new_pupils_find_the_slider_as_it_was():
    KEPT.clear()
    first = enough_prediction()
    panel = weak_panel(first)
    first.choice = "-"
    panel.redraw(times=3.0)
    forget_all()
    assert panel.values == {"times": 1.1} and "Predict first" in panel.readout
