"""The panels of water and time: nothing of the answer before a prediction (laws)."""

import re
from typing import ClassVar

import numpy as np
import pytest
from helpers.lesson_panels import ColouredPanels, has_colour
from helpers.water_baths import PARTS, seen_words

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

WATERS = (0.0, 0.1, 2.0, MOST_WATER)


class TestPanels(ColouredPanels):
    guesses: ClassVar = {"panel": (None, "square", "page"), "shaken": (None, "square", "page")}
    # of bars, curve, band and film
    colours = (LINE, SHADE)
    untold = r"strength\s+alone|counted|band:|×|\d µm|times as long"
    copied: ClassVar = {"panel": 93, "shaken": 62}
    numbers, slow = numbers, ("dilution",)
    leads_on = True
    first, second = (still_prediction, water_panel), (shaken_prediction, shaken_panel)
    answered = ("half", "half")
    moved: ClassVar = {"water": 3.0, "view": CURVE}
    starts: ClassVar = {"water": 2.0, "view": BARS}

    def places(self, panel, every=1, waters=(0.0, 2.0, MOST_WATER)):
        """Each view or movement at some parts of water."""
        *_, choice = panel.controls
        if len(panel.controls) == 1:
            return [{"water": water} for water in waters]
        return [{"water": water, choice.name: key} for water in waters for key in choice.options]

    def places_before(self, panel):
        return self.places(panel, waters=(0.0, 2.0))

    def check_before(self, name, drawing, words):
        """No time but the undiluted one."""
        super().check_before(name, drawing, words)
        movement = "shaken" if name == "shaken" else "still"
        undiluted = f"{float(numbers.course(movement).times.middle[0]) / 60:.1f} min"
        assert set(re.findall(r"\d[\d.]* (?:min|s|h)\b", words.readout)) == {undiluted}

    def states(self, name, panel):
        places = self.places(panel)
        return [(values, guess) for values in places for guess in self.guesses[name]]

    def prepare(self, waiting):
        """The still bath was counted when its panel was made."""
        waiting["shaken"].picture_and_words(False, predicted="-")

    def look_up(self, waiting):
        waters = [parts for parts in PARTS if parts <= MOST_WATER]
        for panel in waiting.values():
            for values in self.places(panel, waters=waters):
                panel.picture_and_words(False, predicted="-", **values)

    def test_the_same_colours_are_there_afterwards(self, panel):
        """A band may lie under words or be narrow; a line is there in every view."""
        for view in VIEWS:
            drawing, _ = panel.picture_and_words(False, view=view, water=2.0, predicted="-")
            assert has_colour(drawing, LINE), view


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
