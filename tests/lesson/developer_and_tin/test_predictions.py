"""What page 11 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import re

import numpy as np
import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own, the_right_one_alone_is_told_so

from pcbchem.lesson.developer_and_tin import lye_prediction, tin_prediction
from pcbchem.lesson.developer_and_tin.numbers import TIN, carried, coating, lye_left
from pcbchem.lesson.developer_and_tin.predictions import (
    FOUR,
    LEFT,
    PART,
    QUARTER,
    THREE_QUARTERS,
)

MAKE = (lye_prediction, tin_prediction)


def test_law_the_first_answer_holds_in_eight_of_ten_cases_and_no_other_does():
    left = lye_left()
    within = left.between(QUARTER, THREE_QUARTERS)
    assert within >= 0.8 * left.cases
    assert f"{within} of 200 cases" in lye_prediction().options[PART].reply
    # "none" is under a twentieth, "nine tenths" over four fifths
    assert left.between(0.0, 0.05) + left.between(0.8, 2.0) < 0.1 * left.cases
    assert set(LEFT) | {PART} == set(lye_prediction().options)


def test_law_the_second_answer_holds_in_every_case_and_flips():
    boards = carried().boards.values
    assert np.all((boards > 2) & (boards < 7))
    # rinsed in two dishes the answer of who counts the coating alone is right
    assert np.all(carried(2).boards.values > 70)
    assert TIN / coating()[1] > 70
    # unused and spoilt there, one use and spoilt here: what decides is never the use
    assert carried().times > 10


@pytest.mark.parametrize("make, right", [(lye_prediction, PART), (tin_prediction, FOUR)])
def test_law_only_the_right_answer_is_told_so(make, right):
    the_right_one_alone_is_told_so(make(), right)


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply_of_its_own(make):
    prediction = make()
    each_has_a_reply_of_its_own(prediction, least=21)
    assert len(prediction.options) == len(prediction.reasons) == 4


def test_law_replies_hold_the_numbers():
    left = lye_left().lye
    for option in lye_prediction().options.values():
        found = re.search(r"([\d.]+) of 12\.5 g/L is left, ([\d.]+) to ([\d.]+) in", option.reply)
        wanted = [float(left.middle), float(left.low), float(left.high)]
        assert [float(each) for each in found.groups()] == pytest.approx(wanted, abs=0.051)
    boards = carried().boards
    for option in tin_prediction().options.values():
        found = re.search(r"about (\d+), (\d+) to (\d+) in 8 of 10", option.reply)
        wanted = [float(boards.middle), float(boards.low), float(boards.high)]
        assert [float(each) for each in found.groups()] == pytest.approx(wanted, abs=0.51)


def test_law_no_question_tells_an_answer():
    for make in MAKE:
        assert not re.search(r"\bair\b|carbon|soda|peroxide|kills|only a few", make().question)
    first = lye_prediction()
    replies = [option.reply for option in (*first.options.values(), *first.reasons.values())]
    assert not any(re.search(r"\btin\b|rinse", reply) for reply in replies)
