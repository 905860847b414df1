"""What page 09 asks: one answer is right, each choice has a reply, no question tells it (laws)."""

import itertools
import re
from collections import Counter

import numpy as np
import pytest
from helpers.prediction_laws import each_has_a_reply_of_its_own, the_right_one_alone_is_told_so

from pcbchem.bench.air import bath_source
from pcbchem.lesson.what_goes_into_the_air import air_prediction, mild_prediction, read_acids
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    BATH_PERCENT,
    MILD_ACID,
    USUAL_TRAY,
    bath_acid,
    breathed,
    in_this_order,
    mild_plan,
    over_liquid,
)
from pcbchem.lesson.what_goes_into_the_air.predictions import ANSWERS, FLIPPED, RIGHT

MAKE = (air_prediction, mild_prediction)


def test_law_no_other_answer_is_near_the_right_one():
    """Nor is one within what 8 of 10 plausible cases say, nor within ten times of it."""
    air = breathed()
    for key, (bottle, spill) in ANSWERS.items():
        is_there = (
            air.bottle_times.low < bottle < air.bottle_times.high
            and air.spill_times.low < spill < air.spill_times.high
        )
        assert is_there == (key == RIGHT), key
    for key in set(ANSWERS) - {RIGHT}:
        assert ANSWERS[key][1] < 0.01 * float(air.spill_times.low), key
    assert list(air_prediction().options) == list(ANSWERS)


def test_law_the_second_answer_is_the_order_of_nearly_every_case():
    air = breathed(MILD_ACID)
    rows = {"bath": air.bath, "bottle": air.bottle, "spill": air.spill}
    cases = zip(*(band.values for band in rows.values()), strict=True)
    counted = Counter(
        ", ".join(sorted(rows, key=dict(zip(rows, case, strict=True)).get, reverse=True))
        for case in cases
    )
    assert counted[FLIPPED] == in_this_order() >= 0.98 * air.cases
    assert f"in {in_this_order()} of {air.cases} cases" in read_acids()
    orders = {", ".join(order) for order in itertools.permutations(rows)}
    assert set(mild_prediction().options) - {"alike"} <= orders
    # and the first one was another
    strong = breathed()
    assert np.all(strong.bottle.values > strong.bath.values)


def test_law_replies_hold_the_numbers():
    air, mild = breathed(), breathed(MILD_ACID)
    for option in air_prediction().options.values():
        found = re.search(r"B ([\d.]+) times, C ([\d\u202f]+) times A", option.reply)
        told = [float(number.replace("\u202f", "")) for number in found.groups()]
        wanted = [float(air.bottle_times.middle), float(air.spill_times.middle)]
        assert told == pytest.approx(wanted, rel=0.051)
    for option in mild_prediction().options.values():
        found = re.search(r"spill ([\d.]+) ppm, bath ([\d.]+), bottle ([\d.]+)\.", option.reply)
        wanted = [float(1e6 * band.middle) for band in (mild.spill, mild.bath, mild.bottle)]
        assert [float(number) for number in found.groups()] == pytest.approx(wanted, rel=0.051)


@pytest.mark.parametrize("make, right", [(air_prediction, RIGHT), (mild_prediction, FLIPPED)])
def test_law_only_the_right_answer_is_told_so(make, right):
    the_right_one_alone_is_told_so(make(), right)


@pytest.mark.parametrize("make", MAKE)
def test_law_every_choice_has_a_reply_of_its_own(make):
    prediction = make()
    each_has_a_reply_of_its_own(prediction, least=21)
    assert len(prediction.options) == len(prediction.reasons) == 4


def test_law_the_division_is_right_as_printed():
    reply = mild_prediction().reasons["thousands"].reply
    over = re.search(r"([\d\u202f]+) ÷ ([\d.]+) is about (\d+), and (\d+) ÷ (\d+)", reply)
    strong, weak, share, was, again = (float(each.replace("\u202f", "")) for each in over.groups())
    assert [strong, weak] == pytest.approx([1e6 * over_liquid(a) for a in (31, 10)], rel=0.051)
    assert share == again == pytest.approx(strong / weak, rel=0.051)
    assert was == pytest.approx(float(breathed().bottle_times.middle), rel=0.051)
    part = float(re.search(r"about 1/([\d.]+)\.", reply)[1])
    assert part == pytest.approx(share / was, rel=0.051)
    # and the bench says nearly the same, draw by draw
    assert 1 / float(breathed(MILD_ACID).bottle_times.middle) == pytest.approx(part, rel=0.1)


def test_law_the_question_says_the_workshop_s_bath():
    """Its width and its acid are the plan's."""
    asked = air_prediction().question
    area = float(bath_source(mild_plan()).area)
    assert area == pytest.approx(USUAL_TRAY) and "150 cm² wide" in asked
    assert round(100 * bath_acid()) == BATH_PERCENT and "5 % acid" in asked


def test_law_no_question_tells_an_answer():
    first, second = (make() for make in MAKE)
    for question in (first.question, second.question):
        assert not re.search(r"\bmore|less|times|dangerous", question.lower())
    replies = [option.reply for option in (*first.options.values(), *first.reasons.values())]
    assert not any("10 %" in reply or "neck" in reply for reply in replies)


@pytest.mark.parametrize("make", MAKE)
def test_law_no_reply_calms(make):
    prediction = make()
    for option in (*prediction.options.values(), *prediction.reasons.values()):
        assert not re.search(r"\bsafe|harmless|\bfine\b|enough|below the limit", option.reply)
