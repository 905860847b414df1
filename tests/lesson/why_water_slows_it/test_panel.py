"""The panels of water and time: nothing of the answer before a prediction (laws)."""

import io
import re

import numpy as np
import pytest
from helpers.water_baths import PARTS, VOLUME, no_overlap, seen_words
from PIL import Image, ImageColor

from pcbchem.lesson.form.fields import STARTS
from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.why_water_slows_it import (
    numbers,
    shaken_panel,
    shaken_prediction,
    still_prediction,
    water_panel,
)
from pcbchem.lesson.why_water_slows_it.panel import MOST_WATER, planner_values
from pcbchem.lesson.why_water_slows_it.words import BARS, CURVE, FILM, VIEWS
from pcbchem.page.picture import LINE, SHADE
from pcbchem.page.widget.quiz import KEPT, forget_all

COLOURS = [ImageColor.getrgb(colour) for colour in (LINE, SHADE)]
"""Of bars, curve, band and film."""
WATERS = (0.0, 0.1, 2.0, MOST_WATER)


def pixels(drawing):
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


def settings(panel, waters=(0.0, 2.0, MOST_WATER)):
    """Each view or movement at some parts of water."""
    if len(panel.controls) == 1:
        return [{"water": water} for water in waters]
    choice = panel.controls[1]
    return [{"water": water, choice.name: value} for water in waters for value in choice.options]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", ["panel", "shaken"])
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """In the picture not one point in the colours of the answer; no time but the undiluted one."""
    panel = request.getfixturevalue(which)
    for values in settings(panel, (0.0, 2.0)):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        heard = f"{words.readout} {words.alt} {seen}"
        assert not re.search(r"strength\s+alone|counted|band:|×|\d µm|times as long", heard), heard
        movement = "shaken" if panel is not request.getfixturevalue("panel") else "still"
        undiluted = f"{float(numbers.course(movement).times.middle[0]) / 60:.1f} min"
        assert set(re.findall(r"\d[\d.]* (?:min|s|h)\b", words.readout)) == {undiluted}
        for colour in COLOURS:
            assert np.abs(pixels(drawing) - colour).sum(axis=1).min() > 30, values


@pytest.mark.parametrize("view", VIEWS)
def test_the_same_colours_are_there_afterwards(panel, view):
    drawing, _ = panel.picture_and_words(False, view=view, water=2.0, predicted="-")
    points = pixels(drawing)
    # a band may lie under words or be narrow; a line is there in every view
    assert (points == COLOURS[0]).all(axis=1).any()


def test_law_a_prediction_is_judged_where_it_was_asked(panel, shaken):
    elsewhere = panel.picture_and_words(False, water=0.5, predicted="half")[1]
    assert elsewhere.guess == "Your prediction was about 2 parts of water."
    assert panel.picture_and_words(False, water=2.0, predicted="half")[1].guess == ""
    drawing, _ = shaken.picture_and_words(False, water=1.0, predicted="half")
    assert "your prediction" not in [text.get_text() for text in seen_words(drawing)]


@pytest.mark.parametrize("guess, minutes", [("half", 8.9), ("square", 17.8)])
def test_law_the_guess_is_a_hollow_bar(panel, guess, minutes):
    drawing, words = panel.picture_and_words(False, water=2.0, view=BARS, predicted=guess)
    bar = drawing.parts["bars"].bars[3]
    assert np.ptp(bar.get_xy()[:, 0]) == pytest.approx(minutes, rel=0.01)
    assert bar.get_facecolor()[3] == 0 and panel.prediction.options[guess].words in words.alt


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", ["panel", "shaken"])
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    for values in settings(panel):
        for guess in (None, "square", "page"):
            drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
            no_overlap(drawing, seen_words(drawing))


def test_law_moving_the_slider_only_looks_up(panel, shaken, monkeypatch):
    shaken.picture_and_words(False, predicted="-")
    monkeypatch.setattr(numbers, "dilution", None)
    for parts in (parts for parts in PARTS if parts <= MOST_WATER):
        for view in VIEWS:
            panel.picture_and_words(False, water=parts, view=view, predicted="-")
        shaken.picture_and_words(False, water=parts, predicted="-")


def test_law_no_amount_is_said(panel, shaken):
    for widget in (panel, shaken):
        for values in settings(widget):
            drawing, words = widget.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.head, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            assert not [text for text in texts if VOLUME.search(text)]


@pytest.mark.parametrize("parts", WATERS)
def test_law_a_bath_is_handed_over_in_the_planners_fields(parts):
    values = planner_values(parts, FILM)
    assert (values["acid"], values["peroxide"]) == (10, 12)
    assert [values[f"{name}_parts"] for name in ("water", "acid", "peroxide")] == [parts, 1, 1]
    assert values["total"] == pytest.approx(150) and set(values) - {"why"} <= set(STARTS)
    assert values["agitation"] == "still" and "still tray" in values["why"]
    assert values == planner_values(parts, CURVE)


def test_law_a_class_has_no_way_to_the_planner():
    usual, school = water_panel(), water_panel(school=True)
    usual.redraw(water=2.0)
    assert usual.links[0][1] == PLANNER_PAGE
    assert usual.handed == [planner_values(2.0, BARS)]
    assert not school.links and not school.handed


def test_law_the_second_panel_waits_for_the_first_question_too():
    """It would tell how much water costs in a tray, before that is asked."""
    KEPT.clear()
    first, third = still_prediction(), shaken_prediction()
    panel = shaken_panel(third, first)
    third.choice, third.reason = "half", "half"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_new_pupils_find_the_sliders_as_they_were():
    KEPT.clear()
    first = still_prediction()
    panel = water_panel(first)
    first.choice = "-"
    panel.redraw(water=3.0, view=CURVE)
    forget_all()
    assert panel.values == {"water": 2.0, "view": BARS} and "Predict first" in panel.readout
