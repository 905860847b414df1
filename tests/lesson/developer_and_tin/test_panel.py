"""Both panels: nothing of the answer before, what burns and what is waste always (laws)."""

from typing import ClassVar

import pytest
from helpers.lesson_panels import ColouredPanels, settings

from pcbchem.lesson.developer_and_tin import (
    lye_panel,
    lye_prediction,
    numbers,
    tin_panel,
    tin_prediction,
)
from pcbchem.lesson.developer_and_tin.predictions import BOARDS, FOUR, LEFT, PART
from pcbchem.lesson.developer_and_tin.words import ALL_WASTE, BURNS
from pcbchem.page.picture import LINE, SHADE


class TestPanels(ColouredPanels):
    guesses: ClassVar = {
        "lye": (None, "-", *LEFT, PART),
        "tin": (None, "-", *BOARDS, FOUR),
    }
    untold = r"6\.3|nothing developed|at the latest|hollow|soda|2\.1"
    no_amounts = r"In 120 mL: 37|are [\d.]+ mL|mmol/mL|g/L|m³ of outdoor air|grams in a litre"
    copied: ClassVar = {"lye": 39, "tin": 3}
    numbers, slow = numbers, ("lye_after", "tin_killed", "used_bath", "boards_until_spent")
    first, second = (lye_prediction, lye_panel), (tin_prediction, tin_panel)
    answered = ("four", "peroxide")
    moved: ClassVar = {"hours": 3, "vessel": "tall beaker"}
    starts: ClassVar = {"hours": 6, "vessel": "flat dish"}
    colours = (LINE, SHADE)


@pytest.mark.parametrize("which, rule", [("lye", BURNS), ("tin", ALL_WASTE)])
def test_law_the_rule_is_the_last_word_at_every_setting(which, rule, request):
    panel = request.getfixturevalue(which)
    for values in settings(panel):
        for guess in TestPanels.guesses[which][1:]:
            words = panel.picture_and_words(False, predicted=guess, **values)[1]
            assert words.readout.endswith(rule)
    assert "goggles" in BURNS and "waste" in ALL_WASTE


@pytest.mark.parametrize("narrow", [False, True])
def test_law_a_prediction_is_a_hollow_mark_where_it_was_asked(lye, tin, narrow):
    cases = (
        (lye, {key: share * numbers.fresh_grams() for key, share in LEFT.items()}),
        (tin, {key: 8 / boards for key, boards in BOARDS.items()}),
    )
    for panel, wanted in cases:
        for key, value in wanted.items():
            drawing, words = panel.picture_and_words(narrow, predicted=key)
            mark = drawing.parts["rows"].guess
            assert mark.get_visible() and mark.get_markerfacecolor() == "white"
            assert mark.get_xdata() == pytest.approx([value])
            said = panel.prediction.options[key].words
            assert f"“{said}”, is a hollow diamond" in words.alt and not words.guess


def test_law_elsewhere_and_who_was_right_has_no_mark(lye, tin):
    places = [(lye, {"hours": 3}), (lye, {"vessel": "tall beaker"}), (tin, {"rinse": "1"})]
    for panel, values in places:
        for key in ("all", "first"):
            if key not in panel.prediction.options:
                continue
            drawing, words = panel.picture_and_words(False, predicted=key, **values)
            assert words.guess.startswith("Your prediction was for")
            assert not drawing.parts["rows"].guess.get_visible() and "hollow" not in words.alt
    for panel, key in ((lye, PART), (tin, FOUR)):
        drawing, words = panel.picture_and_words(False, predicted=key)
        assert not drawing.parts["rows"].guess.get_visible() and not words.guess


def test_law_the_first_panel_tells_nothing_of_the_second_question(lye):
    for values in settings(lye):
        words = lye.picture_and_words(False, predicted="-", **values)[1]
        assert "tin" not in f"{words.readout} {words.alt} {words.notes}".split()


def test_law_no_control_is_a_time_in_a_bath_or_a_thickness(tin):
    assert [control.name for control in tin.controls] == ["rinse"]
