"""The panel of water and time: nothing before a prediction, no strong bath handed on (laws)."""

import io
import itertools
import re

import numpy as np
import pytest
from helpers.water_baths import PARTS, STRENGTHS, VOLUME, no_overlap, seen_words
from PIL import Image, ImageColor

from pcbchem.lesson.pages import PLANNER_PAGE
from pcbchem.lesson.plan_a_bath.fields import STARTS
from pcbchem.lesson.why_water_slows_it import (
    GUESSES,
    GUESSES_AGAIN,
    numbers,
    roomy_panel,
    water_panel,
)
from pcbchem.lesson.why_water_slows_it.panel import ANSWERS, PLACES, planner_values
from pcbchem.lesson.workshop import PAIRS, ROOMY, USUAL
from pcbchem.page.picture import LINE, SHADE

COLOURS = [ImageColor.getrgb(colour) for colour in (LINE, SHADE)]
"""Of curve, band, marker and film."""
ONLY_DRAWN = [name for name, pair in PAIRS.items() if pair.only_drawn]


def pixels(drawing):
    image = Image.open(io.BytesIO(drawing.png(1.0)))
    return np.asarray(image).reshape(-1, 3).astype(int)


def test_answers_say_their_factors():
    """One number or a range, in the words as in the record."""
    for answer in ANSWERS.values():
        ends = dict.fromkeys(f"{end:g}" for end in (answer.low, answer.high))
        assert answer.words == f"×{'–'.join(ends)}"
    assert set(GUESSES) | set(GUESSES_AGAIN) == set(ANSWERS)


@pytest.mark.parametrize(
    ("offered", "bottles", "room", "right"),
    [(GUESSES, "mild", USUAL, "2-4"), (GUESSES_AGAIN, "weak", ROOMY, "1.6-1.9")],
)
def test_law_one_answer_holds_the_band_and_no_other_touches_it(offered, bottles, room, right):
    """And the second question's right answer is not offered as the first one's."""
    dilution = numbers.course(bottles, room)
    place = dilution.at(numbers.QUESTION)
    low, high = float(dilution.ratio.low[place]), float(dilution.ratio.high[place])
    for key in offered:
        answer = ANSWERS[key]
        if key == right:
            assert answer.low < low and high < answer.high
        else:
            assert answer.high < low or high < answer.low, key
    assert GUESSES_AGAIN.keys() - GUESSES.keys() == {"1.6-1.9"}


@pytest.mark.parametrize("bottles, room", [("strong", USUAL), ("weak", USUAL), ("weak", ROOMY)])
def test_law_multiplying_both_strengths_is_refuted_on_the_page(bottles, room):
    """1.6 × 1.6 lies in the mild bath's band; in none of the others that the page shows."""
    dilution = numbers.course(bottles, room)
    place = dilution.at(numbers.QUESTION)
    squared = float(dilution.weaker[place]) ** 2
    assert not dilution.ratio.low[place] < squared < dilution.ratio.high[place]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("bottles", STRENGTHS)
def test_law_nothing_of_the_answer_shows_before_the_prediction(panel, narrow, bottles):
    """In the picture not one point in the colours of the answer."""
    for parts in (0.0, 1.2, 10.0):
        drawing, said = panel.picture_and_words(
            narrow, bottles=bottles, water=parts, predicted=None
        )
        assert "Predict first" in said.readout and not said.guess
        for part in ("strengths", "film"):
            assert not [artist for artist in drawing.parts[part].answers if artist.get_visible()]
        words = " ".join(text.get_text() for text in seen_words(drawing))
        assert not re.search(r"strength\s+alone|counted|band:|×|\d µm", words), words
        for colour in COLOURS:
            assert np.abs(pixels(drawing) - colour).sum(axis=1).min() > 30, parts


@pytest.mark.parametrize("narrow", [False, True])
def test_the_same_colours_are_there_afterwards(panel, narrow):
    drawing, _ = panel.picture_and_words(narrow, bottles="mild", water=1.2, predicted="-")
    points = pixels(drawing)
    assert all((points == colour).all(axis=1).any() for colour in COLOURS)


@pytest.mark.parametrize("predicted", [None, "-"])
@pytest.mark.parametrize("parts", [0.0, 1.2, 2.0, 10.0])
@pytest.mark.parametrize("bottles", ONLY_DRAWN)
def test_law_strong_bottles_are_a_curve_to_learn_from(panel, bottles, parts, predicted):
    """No amount anywhere, said first of all whatever the water, and no way to the planner."""
    drawing, said = panel.picture_and_words(
        False, bottles=bottles, water=parts, predicted=predicted
    )
    title = drawing.parts["title"].get_text()
    for text in (title, said.readout, said.alt):
        assert text.startswith("Drawn only, never mixed here. ")
    texts = [said.readout, said.alt, said.head, said.notes]
    texts += [text.get_text() for text in seen_words(drawing)]
    assert not [text for text in texts if VOLUME.search(text)]
    assert planner_values(parts, bottles) == {}


def test_law_every_pair_has_a_place_for_its_words():
    rule = "say in PLACES of lesson/why_water_slows_it/panel.py where they stand at its curve"
    assert list(PLACES) == list(PAIRS), rule


@pytest.mark.parametrize("bottles", [name for name in PAIRS if name not in ONLY_DRAWN])
def test_other_bottles_are_not_told_to_be_mixed(panel, bottles):
    said = panel.picture_and_words(False, bottles=bottles, water=1.2, predicted="-")[1]
    assert "mix:" not in said.readout


def test_law_a_prediction_is_judged_where_it_was_asked(panel):
    assert "Slide the water" in panel.picture_and_words(False, water=0.5, predicted="1.6")[1].guess
    assert "The page says" in panel.picture_and_words(False, water=1.2, predicted="1.6")[1].guess
    for other in ({"predicted": None}, {"predicted": "-"}, {"predicted": "1.6", "bottles": "weak"}):
        assert panel.picture_and_words(False, water=1.2, **other)[1].guess == ""


@pytest.mark.parametrize("narrow", [False, True])
def test_law_no_words_overlap_or_leave_the_picture(panel, roomy, narrow):
    """Of both panels, at all bottles and the guesses that the page offers for each."""
    settings = [(panel, {"bottles": bottles}) for bottles in STRENGTHS] + [(roomy, {})]
    for widget, chosen in settings:
        for guess in (None, "-", *widget.prediction.options):
            drawing, _ = widget.picture_and_words(narrow, water=1.2, predicted=guess, **chosen)
            no_overlap(drawing, seen_words(drawing))
            strengths = drawing.parts["strengths"]
            words = strengths.band_words
            if words.get_visible():
                rule = f"words lie over the ticks of the axis: {chosen}"
                assert words.get_window_extent().x0 >= strengths.axes.bbox.x0, rule


def test_law_moving_the_slider_only_looks_up(panel, monkeypatch):
    for bottles in STRENGTHS:
        panel.picture_and_words(False, bottles=bottles, predicted="-")
    monkeypatch.setattr(numbers, "dilution", None)
    for bottles, parts in itertools.product(STRENGTHS, PARTS):
        panel.picture_and_words(False, bottles=bottles, water=parts, predicted="-")


@pytest.mark.parametrize("parts", PARTS)
@pytest.mark.parametrize("bottles", ["mild", "weak"])
def test_law_a_bath_is_handed_over_in_the_planners_fields(bottles, parts):
    values = planner_values(parts, bottles)
    assert (values["acid"] / 100, values["peroxide"] / 100) == STRENGTHS[bottles]
    assert [values[f"{name}_parts"] for name in ("water", "acid", "peroxide")] == [parts, 1, 1]
    assert values["total"] == pytest.approx(150) and set(values) - {"why"} <= set(STARTS)
    acid, peroxide = f"acid of {values['acid']} %", f"peroxide of {values['peroxide']} %"
    for words in ("Why water slows it", acid, peroxide, f"{parts:g} : 1 : 1"):
        assert words in values["why"]


def test_law_the_panel_hands_over_the_bath_on_its_slider():
    """Its bottles and its room; bottles that are only drawn have no way to the planner."""
    widget = water_panel()
    for bottles in STRENGTHS:
        widget.redraw(water=1.2, bottles=bottles)
        assert widget.handed == planner_values(1.2, bottles)
    roomy = roomy_panel()
    roomy.redraw(water=1.2)
    assert roomy.handed == planner_values(1.2, "weak", ROOMY)
    assert roomy.handed["total"] == pytest.approx(20 * 27) and roomy.link[1] == PLANNER_PAGE
