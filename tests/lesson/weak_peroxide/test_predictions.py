"""What page 06 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import pytest

from pcbchem.lesson.weak_peroxide import enough_prediction, strong_prediction
from pcbchem.lesson.weak_peroxide.numbers import (
    ASKED,
    NEVER,
    STRONG_ACID,
    TOO_LITTLE,
    at,
    never_if_slow,
)
from pcbchem.lesson.weak_peroxide.predictions import CLEAR, CLEAR_OF_STRONG, HALF

MAKE = (enough_prediction, strong_prediction)


def test_law_nearly_half_never_clear():
    share = at(ASKED).counts[NEVER] / 200
    assert 0.4 < share < 0.5
    # no other answer is near it; and slow decay does not make "all clear" right
    for key, clear in CLEAR.items():
        assert (abs(clear - (1 - share)) < 0.1) == (key == HALF)
    assert never_if_slow() > 20


def test_law_about_seven_of_ten_clear():
    clear = at(TOO_LITTLE, STRONG_ACID).clear / 20
    nearest = min(CLEAR_OF_STRONG, key=lambda key: abs(10 * CLEAR_OF_STRONG[key] - clear))
    assert nearest == "seven" and abs(clear - 7) < 0.5
    assert at(TOO_LITTLE).clear == 0, "with weak acid another answer is right"


def test_law_the_equation_says_another_thing_each_time():
    """Enough and not finished; too little and finished."""
    assert ASKED > 1 > TOO_LITTLE
    assert at(ASKED).clear < at(TOO_LITTLE, STRONG_ACID).clear


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply(make):
    prediction = make()
    options = [*prediction.options.values(), *prediction.reasons.values()]
    assert all(option.reply for option in options)
    assert len({option.words for option in options}) == len(options)


def test_law_no_question_tells_an_answer():
    first, second = (make() for make in MAKE)
    for text in (first.question, second.question):
        assert "brown" not in text and "oxygen" not in text and "chloride" not in text
    # nor does the first prediction tell the second
    words = [first.question, *(option.reply for option in first.options.values())]
    words += [option.reply for option in first.reasons.values()]
    assert not any("31" in text or "chloride" in text for text in words)
