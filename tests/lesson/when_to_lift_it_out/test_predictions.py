"""What page 07 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import re

import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own

from pcbchem.common.units import mm
from pcbchem.lesson.when_to_lift_it_out import foil_prediction, trace_prediction
from pcbchem.lesson.when_to_lift_it_out.numbers import course, on_time
from pcbchem.lesson.when_to_lift_it_out.predictions import ANSWERS, RIGHT, THIN

MAKE = (trace_prediction, foil_prediction)


def test_law_no_other_answer_is_near_the_right_one():
    """Nor is one of them within what 8 of 10 plausible baths leave."""
    left = on_time()
    for key, width in ANSWERS.items():
        assert (abs(width - left.middle) < 0.01 * mm) == (key == RIGHT), key
        assert (left.low < width < left.high) == (key == RIGHT), key


def test_law_answers_are_single_numbers():
    words = [option.words for option in trace_prediction().options.values()]
    assert words == ["0.20 mm", "about 0.18 mm", "about 0.15 mm", "about 0.10 mm"]


def test_law_the_second_answer_is_worked_out():
    thin, thick = (float(width.middle) for width in (course("mild", 0.5).late(60.0), on_time()))
    assert thin > 1.05 * thick
    options = foil_prediction().options
    assert options[THIN].words == "½ oz, although late"
    for option in options.values():
        numbers = re.search(r"½ oz (0\.\d+) mm, 1 oz (0\.\d+)\.", option.reply).groups()
        assert [float(number) for number in numbers] == pytest.approx(
            [thin / mm, thick / mm], abs=5e-4
        )


def test_law_a_minute_is_much_of_thin_foil_s_time_and_yet():
    reply = foil_prediction().reasons["much"].reply
    share, times = re.search(r"It is (\d+) % .* needs ([\d.]+) times", reply).groups()
    thin, thick = (float(course("mild", weight).clear.middle) for weight in (0.5, 1.0))
    assert float(share) == pytest.approx(6000 / thin, abs=0.5)
    assert float(times) == pytest.approx(thick / thin, abs=0.05)
    assert thin + 60 < thick


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply_of_its_own(make):
    prediction = make()
    each_has_a_reply_of_its_own(prediction)
    assert len(prediction.reasons) >= 3


def test_law_no_question_tells_an_answer():
    first, second = (make() for make in MAKE)
    for question in (first.question, second.question):
        assert "0.15" not in question and "sideways" not in question and "edge" not in question
    replies = [option.reply for option in (*first.options.values(), *first.reasons.values())]
    assert not any("½ oz" in reply or "thin" in reply for reply in replies)


def test_law_who_is_right_with_another_factor_is_told_so():
    """With a published factor of 3 the second answer would be the right one."""
    assert "factor of 3" in trace_prediction().options["about 0.18"].reply
