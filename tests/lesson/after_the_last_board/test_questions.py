"""Questions of page 10: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers, recognised, two_in_turn

from pcbchem.lesson.after_the_last_board import rest_questions
from pcbchem.lesson.after_the_last_board.questions import pressure_question, rinse_question
from pcbchem.lesson.after_the_last_board.why_questions import SETTINGS
from pcbchem.page.answers import judge

SEEDS = range(300)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×÷+]) ([\d.]+) = ([\d.]*\d)")


@pytest.fixture(scope="module", params=[pressure_question, rinse_question], ids=["bar", "rinse"])
def every(request):
    return [request.param(np.random.default_rng(seed)) for seed in SEEDS]


def test_law_one_with_numbers_one_why_one_goes_back():
    two_in_turn(rest_questions, ("pressure", "rinse"), SETTINGS)


def test_law_pressure_by_hand_from_what_is_printed():
    """Half as much oxygen as peroxide, 24 L a mole, in what is free above the bath."""
    for seed in SEEDS:
        question = pressure_question(np.random.default_rng(seed))
        filled, peroxide, mole = numbers(
            r"filled to (\d+) % .* holds ([\d.]+) mol/L.*takes (\d+) times",
            question.text.replace("\n", " "),
        )
        oxygen = peroxide / 2 * mole
        by_hand = oxygen * filled / (100 - filled)
        assert question.answer == pytest.approx(by_hand)
        recognised(
            question,
            {
                "That is double": 2 * by_hand,
                "the whole bottle": oxygen * filled / 100,
                "in volumes of the bath": oxygen,
                "You multiplied": oxygen * (100 - filled) / filled,
                "air that was in the bottle": by_hand + 1,
            },
        )


def test_second_source_a_mole_of_gas():
    """By the gas constant (CODATA): 24.06 L at 20 °C and 1 atm."""
    question = pressure_question(np.random.default_rng(1))
    mole = numbers(r"a mole of gas takes (\d+) times", question.text)[0]
    assert mole == pytest.approx(8.314462618 * 293.15 / 101_325 * 1000, rel=0.005)


def test_law_rinse_by_hand_from_what_is_printed():
    for seed in SEEDS:
        question = rinse_question(np.random.default_rng(seed))
        carried, copper, water = numbers(
            r"carries ([\d.]+) mL .* with ([\d.]+) g/L .* dish of (\d+) mL", question.text
        )
        by_hand = 1000 * copper * carried / (carried + water)
        # a milligram in a litre is a gram in a cubic metre
        assert question.answer == pytest.approx(by_hand / 1000)
        assert judge(question, f"{by_hand:.1f} mg/L").grade == "right"
        # who leaves out what is carried is near enough
        assert judge(question, f"{1000 * copper * carried / water:.1f} mg/L").grade == "right"
        ideas = {
            "milligrams in the dish": copper * carried,
            "still the bath": 1000 * copper,
            "grams in a litre": by_hand / 1000,
            "second dish": by_hand * carried / (carried + water),
        }
        recognised(question, {idea: value / 1000 for idea, value in ideas.items()})


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in every:
        steps = STEP.findall(question.explanation)
        assert len(steps) == (4 if question.key == "pressure" else 3)
        right_as_printed(steps)
        printed = {result for *_, result in steps[:-1]}
        if question.key == "pressure":
            assert {steps[-1][0], steps[-1][2]} <= printed
        else:
            assert steps[-1][0] in printed
            litres = float(steps[-1][2])
            assert litres == pytest.approx(float(steps[1][3]) / 1000, abs=5e-5)
        assert judge(question, f"{steps[-1][3]} {question.unit}".strip()).grade == "right"


def test_law_tables_differ(every):
    assert len({question.given for question in every[:40]}) >= 30
    for sheet in (0, 40, 80):
        texts = {rest_questions(table + sheet)[1].text for table in TABLES}
        assert len(texts) >= 6


def test_law_a_closed_bottle_is_only_worked_out():
    question = pressure_question(np.random.default_rng(3))
    assert question.text.startswith("Only worked out, for closed bottles have burst")
    rinsed = rinse_question(np.random.default_rng(3))
    assert rinsed.explanation.endswith("It is waste, clear as it looks.")
