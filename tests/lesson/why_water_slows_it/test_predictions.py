"""What page 04 asks: one answer is the page's, no rival idea gives it, every choice is answered."""

import re

import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own

from pcbchem.lesson.why_water_slows_it import (
    layers_prediction,
    numbers,
    predictions,
    shaken_prediction,
    still_prediction,
)
from pcbchem.lesson.why_water_slows_it.predictions import AGAIN, PAGE, SQUARE, answer_times

ASKED = {"still": still_prediction, "shaken": shaken_prediction}


@pytest.mark.parametrize("movement", ASKED)
def test_law_no_other_answer_lies_in_the_band(bench, movement):
    """Of the ratio, bath by bath: above all not both strengths multiplied."""
    course = numbers.course(movement)
    place = course.at(numbers.QUESTION)
    low, high = float(course.ratio.low[place]), float(course.ratio.high[place])
    times = answer_times(movement)
    undiluted = float(course.times.middle[0])
    for key, time in times.items():
        assert (low < time / undiluted < high) == (key == PAGE), key


def test_law_the_rival_idea_is_missed_on_both_sides():
    """Both strengths multiplied: too quick for the still tray, too slow for the shaken one."""
    still, shaken = (answer_times(movement) for movement in ASKED)
    assert still[SQUARE] < still[PAGE] and shaken[SQUARE] > shaken[PAGE]
    assert shaken[AGAIN] > shaken[PAGE]


@pytest.mark.parametrize("movement", ASKED)
def test_law_answers_are_minutes_of_the_bench(bench, movement):
    prediction = ASKED[movement]()
    undiluted = float(bench[movement].times.middle[0])
    place = list(predictions_parts()).index(numbers.QUESTION)
    page = float(bench[movement].times.middle[place])
    assert f"{undiluted / 60:.1f} min" in prediction.question
    for key, factor in ((SQUARE, 4.0), ("half", 2.0), ("same", 1.0)):
        words = prediction.options[key].words
        assert float(words.removesuffix(" min")) == pytest.approx(factor * undiluted / 60, rel=0.05)
    assert float(prediction.options[PAGE].words.removesuffix(" min")) == pytest.approx(
        page / 60, rel=0.05
    )


def predictions_parts():
    """The parts of water at which the bench was asked."""
    from helpers.water_baths import PARTS

    return PARTS


@pytest.mark.parametrize("make", [*ASKED.values(), layers_prediction])
def test_law_every_choice_has_a_reply_of_its_own(make):
    each_has_a_reply_of_its_own(make())


@pytest.mark.parametrize("movement", ASKED)
def test_law_the_question_tells_no_answer(movement):
    prediction = ASKED[movement]()
    words = prediction.options[PAGE].words
    assert words not in prediction.question
    for key, option in prediction.options.items():
        if key != PAGE:
            assert words in option.reply or "6.4" not in option.reply, key


def test_as_printed_what_the_layers_are_told_of():
    """3.5-4.0 and 0.35-0.40 µm in a minute: 10 times, and not 9.6 × 8.0."""
    prediction = layers_prediction()
    numbers_told = re.findall(r"\d[\d.]*\d|\d", prediction.told)
    assert numbers_told == ["3.5", "4.0", "0.35", "0.40", "10", "77"]
    assert "9.6 times less" in prediction.question and "8.0 times less" in prediction.question


def test_minutes_are_written_as_people_do():
    assert predictions.minutes(600) == "10 min"
