"""Both panels: nothing of the answer before a prediction, no word over another (laws)."""

from typing import ClassVar

import numpy as np
from helpers.lesson_panels import (
    ColouredPanels,
    settings,
)

from pcbchem.lesson.weak_peroxide import (
    enough_prediction,
    numbers,
    strong_panel,
    strong_prediction,
    weak_panel,
)
from pcbchem.lesson.weak_peroxide.picture import BROWN_INK
from pcbchem.page.picture import LINE
from pcbchem.page.widget.quiz import KEPT


class TestPanels(ColouredPanels):
    guesses: ClassVar = {
        "weak": (None, "-", "left", "slow", "half", "stop"),
        "strong": (None, "-", "none", "two", "five", "seven"),
    }
    # of the courses and the squares
    colours = (LINE, BROWN_INK)
    untold = "brown|never"
    few, spoken = 11, 5
    # most baths are refused: not even mL per cm²
    no_amounts = r"mol/L \(moles in a litre\)"
    copied: ClassVar = {"weak": 42, "strong": 24}
    numbers, slow = numbers, ("etched", "judged")
    first, second = (enough_prediction, weak_panel), (strong_prediction, strong_panel)
    answered = ("seven", "holds")
    moved: ClassVar = {"times": 3.0}
    starts: ClassVar = {"times": 1.1}

    def prepare(self, waiting):
        """Each acid once: all places of the slider are counted together."""
        waiting["weak"].picture_and_words(False, predicted="-")
        for acid in waiting["strong"].controls[1].options:
            waiting["strong"].picture_and_words(False, acid=acid, predicted="-")


def test_law_the_asked_bath_is_among_the_settings(weak, strong):
    assert {"times": numbers.ASKED} in settings(weak)
    assert {"times": numbers.TOO_LITTLE, "acid": "31"} in settings(strong)
    for panel in (weak, strong):
        for values in settings(panel):
            assert np.abs(numbers.TIMES - values["times"]).min() < 1e-9


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


def test_law_strong_acid_is_drawn_only(strong):
    assert "drawn only" in strong.controls[1].options["31"]
    for values in settings(strong):
        if values["acid"] == "31":
            words = strong.picture_and_words(False, predicted="-", **values)[1]
            assert "drawn only" in words.readout and "31 % acid" in words.alt
    assert not strong.links


def test_law_the_first_panel_tells_nothing_of_strong_acid():
    """Other acid on its controls would: it has one slider."""
    KEPT.clear()
    panel = weak_panel(enough_prediction())
    assert [control.name for control in panel.controls] == ["times"]
    _, words = panel.picture_and_words(False, predicted="-")
    said = f"{words.readout} {words.alt} {words.notes}"
    assert "31" not in said and "strong acid" not in said
