"""Answers of both predictions: one is right and stands alone, each has its reply (laws)."""

import pytest

from pcbchem.lesson.what_is_in_the_bottle import recipe_prediction, water_prediction
from pcbchem.lesson.what_is_in_the_bottle.numbers import content, recipe, time_to_clear
from pcbchem.lesson.what_is_in_the_bottle.predictions import (
    ASKED,
    PAGE,
    SAME,
    answer_times,
    guesses,
)


@pytest.fixture(params=[water_prediction, recipe_prediction])
def prediction(request):
    return request.param()


def test_law_each_answer_and_reason_has_a_reply_of_its_own(prediction):
    for options in (prediction.options, prediction.reasons):
        replies = [option.reply for option in options.values()]
        assert all(replies) and len(set(replies)) == len(replies) == 4


def test_law_one_share_of_water_is_right_and_the_others_are_far_off():
    share = content(ASKED).shares["H2O"]
    off = {key: abs(guess - share) for key, guess in guesses().items()}
    assert off.pop(SAME) < 0.01 and min(off.values()) > 0.09


def test_law_no_other_answer_lies_in_the_band_of_the_right_time():
    """No rival idea is right by chance: same recipe, twice, peroxide alone."""
    band = time_to_clear(recipe(31.45, 3))
    inside = [key for key, time in answer_times().items() if band.low <= time <= band.high]
    assert inside == [PAGE]
    assert list(answer_times().values()) == sorted(answer_times().values())


def test_law_only_the_bottle_of_peroxide_changes():
    question = recipe_prediction().question
    assert "3 : 1 : 1" in question and question.count("acid") == 1
    strong, weak = (content(recipe(31.45, peroxide)).acid for peroxide in (30, 3))
    # less salt-like peroxide, a little more acid by volume: the same to 1 %
    assert strong == pytest.approx(weak, rel=0.02)
