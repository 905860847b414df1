"""Questions hold the bench's numbers, and replies agree with what the panels then say (laws)."""

import re

import numpy as np
import pytest

from pcbchem.bench.plan.dilution import ALL_ON, TAKEN
from pcbchem.common.number_words import clock
from pcbchem.lesson.how_sure_is_it import (
    order_prediction,
    orders_panel,
    product_prediction,
    ratio_prediction,
)
from pcbchem.lesson.how_sure_is_it.numbers import SHAKEN, STILL, order_of, without
from pcbchem.lesson.how_sure_is_it.one_effect_away import product
from pcbchem.page.widget.quiz import KEPT

ASKED = (ratio_prediction, order_prediction, product_prediction)


@pytest.fixture(autouse=True)
def nothing_kept():
    KEPT.clear()
    yield
    KEPT.clear()


@pytest.mark.parametrize("ask", ASKED)
def test_law_each_choice_has_a_reply_of_its_own(ask):
    prediction = ask()
    for options in (prediction.options, prediction.reasons):
        replies = [option.reply for option in options.values()]
        assert len(options) == 3 and all(replies) and len(set(replies)) == 3


@pytest.mark.parametrize("ask", ASKED)
def test_law_no_question_or_choice_is_long(ask):
    prediction = ask()
    for sentence in re.split(r"(?<=[.?]) (?=[A-Z])", prediction.question):
        assert len(sentence.split()) <= 25, sentence
    for option in (*prediction.options.values(), *prediction.reasons.values()):
        assert len(option.words.split()) <= 12


def test_law_the_first_question_says_both_times_of_the_bench(bench):
    times = bench["still"].times
    question = ratio_prediction().question
    for place in (0, 1):
        assert clock(times.middle[place]) in question
        low, high = times.low[place] / 60, times.high[place] / 60
        printed = f"{low:.1f} to {high:.1f} min" if high < 10 else f"{low:.0f} to {high:.0f} min"
        assert printed in question


def test_law_the_third_question_says_the_bench_s_product(bench_without):
    bands = bench_without["still"]
    factors = [float(bands[f"without {effect}"].middle / bands[ALL_ON].middle) for effect in TAKEN]
    assert f"multiplied they give ×{np.prod(factors):.1f}." in product_prediction().question


def test_law_the_answers_that_replies_call_right_are_right(bench):
    """Less wide, falls, less than that: each by the bench's own numbers."""
    ratio, times = bench["still"].ratio, bench["still"].times
    alone = (times.high[1] / times.low[0]) / (times.low[1] / times.high[0])
    assert 1 < ratio.high[1] / ratio.low[1] < alone
    assert order_of(SHAKEN).middle < order_of(STILL).middle
    both = product(without(STILL))
    assert both.at_once < both.multiplied
    right = {ratio_prediction: "narrower", order_prediction: "falls", product_prediction: "less"}
    for ask, key in right.items():
        assert ask().options[key].reply.startswith("So ")


def test_law_a_panel_waits_for_answer_and_reason():
    prediction = order_prediction()
    panel = orders_panel(prediction)
    prediction.choice = "same"
    assert "Predict first" in panel.readout and not panel.notes
    prediction.reason = "mixture"
    assert "no order of a reaction" in panel.notes
