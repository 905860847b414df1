"""Questions of page 04b: answers by hand from what is printed, slips apart, whys in turn (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.how_sure_is_it import sure_questions
from pcbchem.lesson.how_sure_is_it.numbers import SHAKEN, order, order_of
from pcbchem.lesson.how_sure_is_it.questions import TENTHS, ratio_to, times_of
from pcbchem.page.why import judge_why

SEEDS = range(200)
NUMBER = re.compile(r"\d+(?:\.\d+)?")


@pytest.fixture(scope="module")
def every():
    return [sure_questions(seed) for seed in SEEDS]


def numbers(text):
    return [float(number) for number in NUMBER.findall(text)]


def test_law_the_smallest_ratio_by_hand(every):
    for question, _, _ in every:
        _, _, _, high, low_after, _, _ = numbers(question.text)
        assert question.answer == pytest.approx(low_after / high)
        assert question.answer > 1, "at least that many times as long"


def test_law_the_power_by_hand(every):
    for _, question, _ in every:
        _, power, other = numbers(question.text)
        assert question.answer == pytest.approx(other**power)
        assert 1 < power < 3


def test_law_the_order_of_a_question_is_that_of_the_panel():
    """The shaken bath, 2 times weaker: the middle of the ratios, not one middle over the other."""
    place = TENTHS.index(20)
    assert order(ratio_to("a shaken tray", place), 2) == pytest.approx(order_of(SHAKEN).middle)
    times = times_of("a shaken tray").middle
    other = order(float(times[place + 1] / times[0]), 2)
    assert f"{other:.1f}" != f"{order_of(SHAKEN).middle:.1f}"


def test_law_numbers_vary_with_the_seed_alone(every):
    for place in (0, 1):
        assert len({sheet[place].text for sheet in every[:40]}) > 20


def test_law_why_is_asked_in_turn_and_judged(every):
    for first in (1, 2, 40):
        texts = {sure_questions(first + more)[2].text for more in range(3)}
        assert len(texts) == 3
    for _, _, why in every[:3]:
        grades = {key: judge_why(why, key).grade for key, _, _ in why.options}
        assert grades.pop(why.right) == "right" and set(grades.values()) == {"slip"}


def test_law_the_page_prints_no_answer(every):
    assert not any("still" in question.text for sheet in every for question in sheet[:2])
    assert np.all([len(sheet) == 3 for sheet in every])
