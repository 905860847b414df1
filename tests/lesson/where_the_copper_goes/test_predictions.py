"""What page 03 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own

from pcbchem.lesson.where_the_copper_goes import boards_prediction, bottle_prediction
from pcbchem.lesson.where_the_copper_goes.numbers import ASKED, EQUAL, WEAKER, tray_bath
from pcbchem.lesson.where_the_copper_goes.predictions import (
    NONE,
    PAGE,
    RIGHT_BOTTLE,
    SAME,
    THIRD,
    TWICE,
    about,
    answer_boards,
)
from pcbchem.lesson.workshop import tide_clock
from pcbchem.reaction.chemistry import reserve

MAKE = (boards_prediction, bottle_prediction)


def boards(parts, bottle=12.0):
    return float(reserve(tray_bath(parts, bottle), tide_clock()))


def test_law_each_answer_is_worked_out():
    answers = answer_boards()
    assert answers[PAGE] == pytest.approx(boards(ASKED))
    assert answers[SAME] == pytest.approx(boards(EQUAL))
    assert answers[TWICE] == pytest.approx(2 * boards(EQUAL))
    # peroxide: two thirds of the tray, not a half
    assert answers[THIRD] == pytest.approx(boards(EQUAL) * (2 / 3) / (1 / 2))


def test_law_no_other_answer_is_near_the_right_one():
    right = answer_boards()[PAGE]
    for key, other in answer_boards().items():
        assert (abs(other - right) < 0.3 * right) == (key == PAGE), key


def test_law_one_bottle_alone_carries_more_with_more_peroxide():
    for bottle in (*WEAKER, 12.0):
        helps = any(boards(parts, bottle) > boards(EQUAL, bottle) for parts in (1.1, 1.5, 2, 4))
        assert helps == (bottle == RIGHT_BOTTLE), bottle
    assert f"{RIGHT_BOTTLE:g}" in bottle_prediction().options


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply_of_its_own(make):
    each_has_a_reply_of_its_own(make())


def test_law_no_question_tells_an_answer():
    first, second = boards_prediction(), bottle_prediction()
    assert first.options[PAGE].words not in first.question
    for text in (first.question, second.question):
        assert "runs out" not in text and "5½" not in text
    # nor does the first prediction tell the second: it names no weaker bottle
    words = [first.question, *(option.reply for option in first.options.values())]
    words += [option.reply for option in first.reasons.values()]
    assert not any("3 %" in text or "6 %" in text for text in words)
    # the second question does not count on an answer to the first
    assert NONE in second.options and "boards" not in second.question


def test_halves_are_written_as_people_do():
    assert [about(value) for value in (5.54, 5.1, 8.3, 16.6)] == [
        "about 5½",
        "about 5",
        "about 8",
        "about 17",
    ]
