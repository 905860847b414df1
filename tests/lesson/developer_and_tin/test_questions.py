"""Questions of page 11: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers, recognised, two_in_turn

from pcbchem.lesson.developer_and_tin import bath_questions
from pcbchem.lesson.developer_and_tin.questions import lye_question, tin_question
from pcbchem.lesson.developer_and_tin.why_questions import SETTINGS
from pcbchem.page.answers import judge

SEEDS = range(300)
STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")


@pytest.fixture(scope="module", params=[lye_question, tin_question], ids=["lye", "tin"])
def every(request):
    return [request.param(np.random.default_rng(seed)) for seed in SEEDS]


def test_law_one_with_numbers_one_why_one_goes_back():
    two_in_turn(bath_questions, ("lye", "tin"), SETTINGS)


def test_law_lye_by_hand_from_what_is_printed():
    for seed in SEEDS:
        question = lye_question(np.random.default_rng(seed))
        grams, volume, mole = numbers(
            r"holds ([\d.]+) g of lye in (\d+) mL.*weighs ([\d.]+) g", question.text
        )
        # a mole of NaOH: 22.990 + 15.999 + 1.008 (IUPAC)
        assert mole == pytest.approx(22.990 + 15.999 + 1.008, abs=0.01)
        by_hand = grams / mole / (volume / 1000)
        assert question.answer == pytest.approx(1000 * by_hand)
        # none is stronger than what is mixed by practice
        assert grams / volume * 1000 <= 20
        ideas = {
            "moles in all of it": grams / mole,
            "grams in a litre": grams / volume * 1000,
            "You multiplied": grams / mole * volume / 1000,
            "turned round": 1 / by_hand,
        }
        recognised(question, {idea: 1000 * value for idea, value in ideas.items()})


def test_law_tin_by_hand_from_what_is_printed():
    for seed in SEEDS:
        question = tin_question(np.random.default_rng(seed))
        tin, carried, peroxide = numbers(
            r"holds ([\d.]+) mmol .* carries ([\d.]+) mL .* with ([\d.]+) mol/L", question.text
        )
        by_hand = tin / (carried * peroxide)
        assert question.answer == pytest.approx(by_hand)
        recognised(
            question,
            {
                "turned round": 1 / by_hand,
                "mL for mmol": tin / carried,
                "what one mL kills": tin / peroxide,
                "That is double": 2 * by_hand,
                "left after one board": tin - carried * peroxide,
            },
        )


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in every:
        steps = STEP.findall(question.explanation)
        assert len(steps) == (3 if question.key == "lye" else 2)
        right_as_printed(steps)
        printed = {result for *_, result in steps[:-1]}
        assert {steps[-1][0], steps[-1][2]} & printed
        assert judge(question, f"{steps[-1][3]} {question.unit}".strip()).grade == "right"


def test_law_tables_differ(every):
    assert len({question.given for question in every[:40]}) >= 30


def test_law_all_is_only_worked_out_and_goggles_are_named():
    lye, tin = (ask(np.random.default_rng(3)) for ask in (lye_question, tin_question))
    assert lye.text.startswith("Only worked out: ") and tin.text.startswith("Only worked out: ")
    assert lye.explanation.endswith("goggles.")
