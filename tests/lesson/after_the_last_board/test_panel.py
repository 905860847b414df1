"""The two panels: nothing of the answer before a prediction, no word over another (laws)."""

import io

import numpy as np
import pytest
from helpers.water_baths import VOLUME, no_overlap, seen_words
from helpers.workshop import POUR
from PIL import Image, ImageColor

from pcbchem.lesson.after_the_last_board import (
    clear_prediction,
    copper_panel,
    numbers,
    peroxide_panel,
    quiet_prediction,
)
from pcbchem.lesson.after_the_last_board.words import RULE
from pcbchem.page.export.kept import step_lists
from pcbchem.page.picture import LINE, SHADE
from pcbchem.page.widget.quiz import KEPT, forget_all

GUESSES = {
    "peroxide": (None, "-", "morning", "days", "wide", "months"),
    "copper": (None, "-", "less", "alike", "more", "all"),
}
PRESENT = {"peroxide": LINE, "copper": SHADE}
"""A colour that only the answer has."""


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
    panel = request.getfixturevalue(which)
    colour = ImageColor.getrgb(PRESENT[which])
    for values in settings(panel, 5):
        drawing, words = panel.picture_and_words(narrow, predicted=None, **values)
        assert "Predict first" in words.readout and not words.guess and not words.notes
        seen = " ".join(text.get_text() for text in seen_words(drawing))
        for told in ("still peroxide", "mud", "later", "times", "week"):
            assert told not in f"{seen} {words.alt}", told
        assert not (pixels(drawing) == colour).all(axis=1).any(), values


@pytest.mark.parametrize("which", GUESSES)
def test_the_same_colour_is_there_afterwards(which, request):
    points = pixels(request.getfixturevalue(which).picture_and_words(False, predicted="-")[0])
    assert (points == ImageColor.getrgb(PRESENT[which])).all(axis=1).any()


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("which", GUESSES)
def test_law_no_words_overlap_or_leave_the_picture(which, narrow, request):
    panel = request.getfixturevalue(which)
    starts = {control.name: control.start for control in panel.controls}
    states = [(values, "-") for values in settings(panel)]
    for values, guess in [*states, *((starts, guess) for guess in GUESSES[which])]:
        drawing, _ = panel.picture_and_words(narrow, predicted=guess, **values)
        no_overlap(drawing, seen_words(drawing))


def test_law_a_prediction_is_judged_where_it_was_asked(peroxide, copper):
    drawing, words = peroxide.picture_and_words(False, predicted="morning", bottles="weak")
    assert words.guess == "Your prediction was for the mild bottles."
    assert not drawing.parts["lines"].guess.get_visible() and "bracket" not in words.alt
    # a time is a time, wherever the line stands
    for when in numbers.TIMES:
        drawing, words = peroxide.picture_and_words(False, predicted="morning", time=when)
        assert not words.guess and drawing.parts["lines"].guess.get_visible()
        assert "“1 hour to 12 hours”, is a bracket" in words.alt
    for values in ({"pH": 9.0}, {"soda": "much"}):
        drawing, words = copper.picture_and_words(False, predicted="alike", **values)
        assert words.guess.startswith("Your prediction was for pH 8")
        assert not drawing.parts["band"].guess.get_visible()
    assert copper.picture_and_words(False, predicted="alike")[1].guess == ""


def test_law_a_move_only_looks_up(peroxide, copper, monkeypatch):
    for panel in (peroxide, copper):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)
    for name in ("used_bath", "peroxide_after", "time_gone", "copper_band"):
        monkeypatch.setattr(numbers, name, None)
    for panel in (peroxide, copper):
        for values in settings(panel):
            panel.picture_and_words(False, predicted="-", **values)


def test_law_few_settings(peroxide, copper):
    assert [len(settings(panel)) for panel in (peroxide, copper)] == [21, 34]


def test_law_what_no_page_mixes_says_so(peroxide):
    choice = peroxide.controls[1]
    for name, words in choice.options.items():
        assert ("drawn only" in words) == (name == numbers.STRONG)
    for when in numbers.TIMES:
        for name in choice.options:
            _, words = peroxide.picture_and_words(False, predicted="-", time=when, bottles=name)
            assert words.alt.startswith("Drawn only. ") == (name == numbers.STRONG)


def test_law_only_a_strip_tells_at_every_setting(peroxide):
    """The rule is the last sentence, whatever the counts say."""
    for values in settings(peroxide):
        _, words = peroxide.picture_and_words(False, predicted="-", **values)
        assert words.readout.endswith(RULE) and "never closed up" in RULE


def test_law_no_setting_shows_a_way_to_a_drain(copper):
    """Over no mud, at no pH of the axis, does the page draw copper under what kills water fleas."""
    for soda in (numbers.LITTLE, numbers.MUCH):
        left = numbers.copper_left(soda)
        assert left.aged.min() > 2 * numbers.DEATHS and (left.fresh >= left.aged).all()
    assert copper.controls[0].high == numbers.PH_AXIS[-1] == numbers.PH_HIGH
    drawing, words = copper.picture_and_words(False, predicted="-")
    axes = drawing.parts["band"].axes
    seen = " ".join(text.get_text() for text in seen_words(drawing))
    assert axes.get_xlabel() == "pH of the water"
    for word in ("lime", "litre", "drain", "lye", "safe"):
        assert word not in f"{seen} {words.readout} {words.alt}".lower()


def test_law_no_amount_is_said_and_nothing_leads_to_the_planner(peroxide, copper):
    for panel in (peroxide, copper):
        assert not panel.links
        for values in settings(panel, 5):
            drawing, words = panel.picture_and_words(False, predicted="-", **values)
            texts = [words.readout, words.alt, words.notes]
            texts += [text.get_text() for text in seen_words(drawing)]
            for text in texts:
                plain = text.replace("mg/L", "").replace("g/L", "").replace("litre", "")
                assert not VOLUME.search(plain) and not POUR.search(text), text


def test_law_the_second_panel_waits_for_the_first_question_too():
    KEPT.clear()
    first, second = quiet_prediction(), clear_prediction()
    panel = copper_panel(second, first)
    second.choice, second.reason = "more", "some"
    assert "Predict first" in panel.readout
    first.choice = "-"
    assert "Predict first" not in panel.readout


def test_law_the_first_panel_tells_nothing_of_the_second_question():
    KEPT.clear()
    panel = peroxide_panel(quiet_prediction())
    for values in settings(panel):
        _, words = panel.picture_and_words(False, predicted="-", **values)
        text = f"{words.readout} {words.alt} {words.notes}"
        for told in ("mud", "flea", "soda", "mg/L of copper", "colourless"):
            assert told not in text


def test_law_new_pupils_find_the_controls_as_they_were():
    KEPT.clear()
    first = quiet_prediction()
    panel = peroxide_panel(first)
    first.choice = "-"
    panel.redraw(time="4w", bottles="weak")
    forget_all()
    assert panel.values == {"time": "12h", "bottles": "mild"} and "Predict first" in panel.readout
