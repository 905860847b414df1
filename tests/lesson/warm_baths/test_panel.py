"""Both panels: nothing of the answer before a prediction, the guess a hollow bar (laws)."""

from typing import ClassVar

import pytest
from helpers.lesson_panels import ColouredPanels, seen_text

from pcbchem.lesson.warm_baths import (
    depth_panel,
    jar_prediction,
    numbers,
    weak_panel,
    weak_prediction,
)
from pcbchem.lesson.warm_baths.predictions import guessed
from pcbchem.page.picture import LINE


class TestPanels(ColouredPanels):
    guesses: ClassVar = {
        "deep": (None, "-", "cools", "little", "some", "page"),
        "weak": (None, "-", "less"),
    }
    colours = (LINE,)
    untold = "heat made"
    few, spoken = 9, 7
    # what mol/L counts
    no_amounts = "[Ii]n (a|each) litre"
    copied: ClassVar = {"deep": 56, "weak": 28}
    numbers, slow = numbers, ("stand", "balance", "etched")
    first, second = (jar_prediction, depth_panel), (weak_prediction, weak_panel)
    answered = ("less", "left")
    moved: ClassVar = {"depth": 20.0}
    starts: ClassVar = {"depth": 60, "bottles": "mild"}

    def check_before(self, name, drawing, words):
        """No temperature but the stop's: the others are of three axes."""
        super().check_before(name, drawing, words)
        assert seen_text(drawing).count("°C") == 4


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


def test_law_strong_bottles_are_drawn_only_and_weak_ones_wait_for_their_question(deep):
    _, bottles = deep.controls
    assert list(bottles.options) == ["mild", "strong"]
    assert bottles.options["strong"].endswith("(drawn only)")
    said = deep.picture_and_words(False, predicted="-")[1]
    assert "weak" not in f"{said.readout} {said.alt} {said.notes}"
