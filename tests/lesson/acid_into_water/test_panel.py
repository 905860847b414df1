"""The panels of acid and water: nothing of the answer before a prediction (laws)."""

import io
import re

import numpy as np
import pytest
from helpers.water_baths import no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

from pcbchem.lesson.acid_into_water import (
    first_prediction,
    jug_prediction,
    numbers,
    peroxide_panel,
    water_panel,
)
from pcbchem.lesson.acid_into_water.panel import ACIDS
from pcbchem.page.picture import LINE
from pcbchem.page.widget.quiz import KEPT, forget_all

BLUE = ImageColor.getrgb(LINE)
POURED = range(0, 101, 5)
MOST_SETTINGS = 150


def settings(panel, poured=POURED):
    """Each acid at some places of the slider."""
    if len(panel.controls) == 1:
        return [{"poured": share} for share in poured]
    return [{"poured": share, "acid": acid} for acid in ACIDS for share in poured]


def pixels(drawing):
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", ["panel", "shop"])
def test_law_nothing_of_the_answer_shows_before(which, narrow, request):
    """Not one point in the colour of the curve, and no temperature: not even on the axis."""
    panel = request.getfixturevalue(which)
    # first with the answer: nothing of it may stay in the ground of the picture
    panel.picture_and_words(narrow, predicted="-")[0].png(1.0)
    for values in settings(panel, (0, 25, 100)):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        heard = f"{words.readout} {words.alt} {seen}"
        assert not re.search(r"\d °C|times|top|both", heard), heard
        assert np.abs(pixels(drawing) - BLUE).sum(axis=1).min() > 30, values
        ticks = drawing.parts["hill"].axes.get_yticklabels()
        assert {tick.get_color() for tick in ticks} == {"none"}


@pytest.mark.parametrize("which", ["panel", "shop"])
def test_the_curve_is_there_afterwards(which, request):
    drawing, _ = request.getfixturevalue(which).picture_and_words(False, predicted="-")
    assert (pixels(drawing) == BLUE).all(axis=1).any()
    assert "25 °C" in [text.get_text() for text in seen_words(drawing)]


@pytest.mark.parametrize("guess", ["theirs", "yours", "boiling"])
def test_law_the_guess_is_hollow_where_it_was_asked(panel, guess):
    drawing, words = panel.picture_and_words(False, poured=25, acid="31.45", predicted=guess)
    mark = drawing.parts["hill"].guess
    assert mark.get_markerfacecolor() == "none" and "your prediction" in words.alt
    end = numbers.hill(numbers.ASKED).end
    if guess != "boiling":
        assert mark.get_xydata()[0] == pytest.approx([end[0] / 1000, end[1] - 263.15], abs=1e-6)
    else:
        assert mark.get_marker() == "^", "it is beyond the axis"
    drawing, words = panel.picture_and_words(False, poured=25, acid="10", predicted=guess)
    assert words.guess == "Your prediction was about acid of 31.45 %."
    assert not len(drawing.parts["hill"].guess.get_xdata())


def test_law_who_guessed_right_finds_the_open_square_there(panel):
    drawing, words = panel.picture_and_words(False, poured=25, acid="31.45", predicted="alike")
    picture = drawing.parts["hill"]
    assert not len(picture.guess.get_xdata()) and not words.guess
    assert picture.end.get_markerfacecolor() == "white"


@pytest.mark.parametrize(
    "guess, rings", [("acid", 1), ("peroxide", 1), ("either", 2), ("water", 0)]
)
def test_law_the_guess_of_an_order_is_a_ring_at_its_foot(shop, guess, rings):
    drawing, _ = shop.picture_and_words(False, poured=25, predicted=guess)
    places = drawing.parts["hill"].guess.get_xydata()
    assert len(places) == rings
    later, _ = shop.picture_and_words(False, poured=50, predicted=guess)
    assert not len(later.parts["hill"].guess.get_xydata()), "it is about the start"
    drawing, _ = shop.picture_and_words(False, poured=25, predicted=guess)
    places = drawing.parts["hill"].guess.get_xydata()
    if guess == "acid":
        assert places[0][0] == pytest.approx(9.97, abs=0.02)
    if guess == "peroxide":
        assert places[0][0] == 0


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", ["panel", "shop"])
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    guesses = [None, "-", *panel.prediction.options]
    for values in settings(panel):
        for guess in guesses if values["poured"] == 25 else guesses[1:3]:
            drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
            no_overlap(drawing, seen_words(drawing))


def test_law_moving_the_slider_only_looks_up(panel, shop, monkeypatch):
    for values in settings(panel, (0,)):
        panel.picture_and_words(False, predicted="-", **values)
    shop.picture_and_words(False, predicted="-")
    monkeypatch.setattr(numbers, "course_of_pour", None)
    for widget in (panel, shop):
        for values in settings(widget):
            widget.picture_and_words(False, predicted="-", **values)


def test_law_a_live_copy_holds_every_setting(panel, shop):
    assert len(settings(panel)) + len(settings(shop)) <= MOST_SETTINGS
    assert panel.controls[0].start in POURED


def test_law_no_amount_is_said(panel, shop):
    for widget in (panel, shop):
        for values in settings(widget):
            drawing, words = widget.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.head, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            assert not [text for text in texts if POUR.search(text)]


def test_law_the_second_panel_waits_for_the_first_question_too():
    """It would tell that both end alike, before that is asked."""
    KEPT.clear()
    first, second = jug_prediction(), first_prediction()
    panel = peroxide_panel(second, first)
    second.choice, second.reason = "either", "end"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_new_pupils_find_the_slider_as_it_was():
    KEPT.clear()
    first = jug_prediction()
    panel = water_panel(first)
    first.choice = "-"
    panel.redraw(poured=80, acid="37")
    forget_all()
    assert panel.values == {"poured": 25, "acid": "31.45"} and "Predict first" in panel.readout
