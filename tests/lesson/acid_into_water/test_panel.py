"""The panels of acid and water: nothing of the answer before a prediction (laws)."""

from typing import ClassVar

import pytest
from helpers.lesson_panels import ColouredPanels, settings
from helpers.water_baths import seen_words

from pcbchem.lesson.acid_into_water import (
    first_prediction,
    jug_prediction,
    numbers,
    peroxide_panel,
    water_panel,
)
from pcbchem.lesson.acid_into_water.panel import ACIDS
from pcbchem.page.picture import LINE

POURED = range(0, 101, 5)


class TestPanels(ColouredPanels):
    guesses: ClassVar = {"panel": (None, "-"), "shop": (None, "-")}
    # of the curve
    colours = (LINE,)
    untold = r"\d °C|times|top|both"
    # what mol/L counts
    no_amounts = "in a litre"
    copied: ClassVar = {"panel": 63, "shop": 11}
    numbers, slow = numbers, ("course_of_pour",)
    first, second = (jug_prediction, water_panel), (first_prediction, peroxide_panel)
    answered = ("either", "end")
    moved: ClassVar = {"poured": 80, "acid": "37"}
    starts: ClassVar = {"poured": 25, "acid": "31.45"}

    def places(self, panel, every=1, poured=POURED):
        """Each acid at some places of the slider."""
        if len(panel.controls) == 1:
            return [{"poured": share} for share in poured]
        return [{"poured": share, "acid": acid} for acid in ACIDS for share in poured]

    def places_before(self, panel):
        return self.places(panel, poured=(0, 25, 100))

    def check_before(self, name, drawing, words):
        """No temperature: not even on the axis."""
        super().check_before(name, drawing, words)
        ticks = drawing.parts["hill"].axes.get_yticklabels()
        assert {tick.get_color() for tick in ticks} == {"none"}

    def states(self, name, panel):
        """Where the question is about, every prediction."""
        guesses = [None, "-", *panel.prediction.options]
        states = []
        for values in self.places(panel):
            asked = guesses if values["poured"] == 25 else guesses[1:3]
            states += [(values, guess) for guess in asked]
        return states

    def prepare(self, waiting):
        """Each course is counted once, whole."""
        for values in self.places(waiting["panel"], poured=(0,)):
            waiting["panel"].picture_and_words(False, predicted="-", **values)
        waiting["shop"].picture_and_words(False, predicted="-")


def test_law_what_is_looked_at_is_where_a_copy_stands(panel, shop):
    for widget in (panel, shop):
        assert widget.controls[0].start in POURED
        assert {values["poured"] for values in settings(widget)} <= set(POURED)


@pytest.mark.parametrize("which", ["panel", "shop"])
def test_law_the_temperatures_are_there_afterwards(which, request):
    drawing, _ = request.getfixturevalue(which).picture_and_words(False, predicted="-")
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
