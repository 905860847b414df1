"""The two panels: nothing of the answer before a prediction, the guess hollow in it (laws)."""

import io

import numpy as np
import pytest
from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

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
from pcbchem.page.export.kept import step_lists
from pcbchem.page.widget.quiz import KEPT, forget_all

GUESSES = {"trace": (None, "-", *ANSWERS), "foils": (None, "-", "thick", "alike", "thin", "gone")}


def settings(panel, every=1):
    """The settings of a live copy, or every so many of them."""
    places = [{}]
    for name, values in step_lists(panel.controls, 200).items():
        places = [{**place, name: value} for place in places for value in values]
    return places[::every]


def pixels(drawing):
    return np.asarray(Image.open(io.BytesIO(drawing.png(1.0)))).reshape(-1, 3).astype(int)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """Whatever the controls: the same untouched copper, empty axes, no width but as drawn."""
    panel = request.getfixturevalue(which)
    for values in settings(panel, 7):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        line, cut = drawing.parts["line"], drawing.parts["cut"]
        assert not any(artist.get_visible() for artist in line.moving)
        assert not cut.left.get_visible() and not cut.left_words.get_visible()
        # from edge to edge, as thick as it came
        x, y = cut.copper.get_xy().T
        assert np.ptp(x) == pytest.approx(272) and set(np.round(y, 6)) <= {0, round(y.max(), 6)}
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        assert "straight" not in seen and "clear: 0" not in seen and "foot" not in seen
        assert "0.155" not in f"{seen} {words.alt}" and "0.166" not in f"{seen} {words.alt}"


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


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_moving_a_slider_only_looks_up(trace, foils, monkeypatch):
    for panel in (trace, foils):
        panel.picture_and_words(False, predicted="-")
        for values in settings(panel, 5):
            panel.picture_and_words(False, predicted="-", **values)
    for name in ("outlook", "etched", "etch_factor"):
        monkeypatch.setattr(numbers, name, None)
    for panel in (trace, foils):
        for values in settings(panel, 5):
            panel.picture_and_words(False, predicted="-", **values)


def test_law_all_have_few_settings(trace, foils, inspected):
    assert [len(settings(panel)) for panel in (trace, foils, inspected)] == [52, 33, 40]


def test_law_what_no_page_mixes_says_so(trace):
    choice = trace.controls[1]
    for name, words in choice.options.items():
        assert ("drawn only" in words) == (name == numbers.ONLY_DRAWN)
    assert set(choice.options) == set(BATHS)


def test_law_no_amount_is_said_and_nothing_leads_to_the_planner(trace, foils, inspected):
    for panel in (trace, foils, inspected):
        assert not panel.links
        for values in settings(panel, 25):
            drawing, words = panel.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            for text in texts:
                assert not VOLUME.search(text.replace("1 oz", "")) and not POUR.search(text), text


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = trace_prediction(), foil_prediction()
    panel = foil_panel(second, first)
    second.choice, second.reason = "thin", "time"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_the_first_panels_tell_nothing_of_the_second_question():
    KEPT.clear()
    first = trace_prediction()
    for panel in (trace_panel(first), inspection_panel(first)):
        _, words = panel.picture_and_words(False, predicted="-")
        assert "½ oz" not in f"{words.readout} {words.alt} {words.notes}"
        assert "thin foil" not in words.notes


def test_law_new_pupils_find_the_controls_as_they_were():
    KEPT.clear()
    first = trace_prediction()
    panel = trace_panel(first)
    first.choice = "-"
    panel.redraw(time=8.0, bath="weak")
    forget_all()
    assert panel.values == {"time": 4.0, "bath": "mild"} and "Predict first" in panel.readout
