"""Questions of page 06: each answer and slip recognised, steps right as printed, by hand (law)."""

import itertools
import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers, recognised, two_in_turn
from helpers.workshop import POUR

from pcbchem.lesson.weak_peroxide import weak_questions
from pcbchem.lesson.weak_peroxide.questions import brown_question, loss_question
from pcbchem.lesson.weak_peroxide.why_questions import SETTINGS
from pcbchem.page.answers import judge

SEEDS = range(300)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")


@pytest.fixture(scope="module", params=[loss_question, brown_question], ids=["loss", "brown"])
def every(request):
    return [request.param(np.random.default_rng(seed)) for seed in SEEDS]


def test_law_one_with_numbers_one_why_one_goes_back():
    two_in_turn(weak_questions, ("loss", "brown"), SETTINGS)


def test_law_loss_by_hand_from_what_is_printed():
    for seed in SEEDS:
        question = loss_question(np.random.default_rng(seed))
        times, lost = numbers(r"for ([\d.]+) times.* (\d+) % of", question.text.replace("\n", " "))
        by_hand = times - times * lost / 100
        assert question.answer == pytest.approx(by_hand)
        assert ("turns brown" in question.explanation) == (by_hand < 1)
        ideas = {
            "off the number": times - lost / 100,
            "what was lost": times * lost / 100,
            "You divided": times / (1 - lost / 100),
            "before anything": times,
        }
        recognised(question, ideas)


def test_law_brown_by_hand_from_what_is_printed():
    """63.546 g/mol; each copper that leaves the board makes two copper(I)."""
    for seed in SEEDS:
        question = brown_question(np.random.default_rng(seed))
        room, held, weighs = numbers(
            r"stand ([\d.]+) mL.* ([\d.]+) mol/L of copper\(I\)\..*weighs ([\d.]+) mg",
            question.text.replace("\n", " "),
        )
        assert weighs == pytest.approx(63.546, abs=0.05)
        by_hand = room * held * weighs / 2
        assert question.answer == pytest.approx(by_hand * 1e-6, rel=1e-9)
        # a foil of 1 oz has 30.5 mg: more than it cannot be dissolved
        assert by_hand < 30.5
        ideas = {
            "not halve": 2 * by_hand,
            "You doubled": 4 * by_hand,
            "for one mL": by_hand / room,
            "Those are mmol": by_hand / weighs,
        }
        recognised(question, {idea: value * 1e-6 for idea, value in ideas.items()})


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in every:
        steps = STEP.findall(question.explanation)
        assert len(steps) == (1 if question.key == "loss" else 3)
        right_as_printed(steps)
        for before, after in itertools.pairwise(steps):
            assert after[0].rstrip("0") == before[3].rstrip("0")
        assert judge(question, f"{steps[-1][3]} {question.unit}".strip()).grade == "right"


def test_law_tables_differ_and_nothing_is_poured(every):
    assert len({question.given for question in every[:40]}) >= 30
    for question in every:
        assert not POUR.search(question.text + question.explanation)
