"""Questions of page 09: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers
from helpers.workshop import POUR

from pcbchem.lesson.what_goes_into_the_air import air_questions
from pcbchem.page.answers import judge

SEEDS = range(300)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")
STEPS = r"over? acid of 10 % the air holds ([\d.]+) ppm of acid gas, over 15 % (\d+) ppm"
GRAMS = r"spill ([\d.]+) g of acid gas .* room of (\d+) m³\. In each cubic metre ([\d.]+) mg"


@pytest.fixture(scope="module")
def every():
    return [air_questions(seed)[:2] for seed in SEEDS]


def test_law_three_are_about_the_page_and_one_goes_back():
    for seed in TABLES:
        asked = air_questions(seed)
        assert [question.key for question in asked] == ["steps", "ppm", "why", "strength"]
        lessons = [question.from_lesson for question in asked]
        assert lessons == ["", "", "", "what is in the bottle"]


def recognised(question, by_hand, ideas):
    """The answer counts as right, and each slip has its own hint."""
    assert question.answer == pytest.approx(1e-6 * by_hand)
    assert judge(question, f"{by_hand:.4g} ppm").grade == "right"
    assert judge(question, f"{by_hand:.4g}").grade == "right"
    assert judge(question, f"{by_hand:.4g} mL/m³").grade == "right"
    assert len(question.slips) == len(ideas)
    for idea, value in ideas.items():
        verdict = judge(question, f"{value:.4g} ppm")
        assert verdict.grade == "slip" and idea in verdict.words, (question, idea)


def test_law_steps_by_hand_from_what_is_printed(every):
    for question, _ in every:
        first, second = numbers(STEPS, question.text)
        each = second / first
        ideas = {
            "added the same": second + 2 * (second - first),
            "in proportion": second * 25 / 15,
            "over 20 %": second * each,
            "over 30 %": second * each**3,
        }
        recognised(question, second * each**2, ideas)


def test_law_ppm_by_hand_from_what_is_printed(every):
    for _, question in every:
        grams, room, each = numbers(GRAMS, question.text)
        ideas = {
            "mg in a cubic metre": 1000 * grams / room,
            "all of it in one cubic metre": 1000 * grams / each,
            "You multiplied": 1000 * grams / room * each,
            "grams for milligrams": grams / room / each,
        }
        recognised(question, 1000 * grams / room / each, ideas)
        assert each == 1.52


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in (asked for pair in every for asked in pair):
        steps = STEP.findall(question.explanation)
        assert len(steps) == 3
        right_as_printed(steps)
        assert judge(question, f"{steps[-1][3]} ppm").grade == "right"
        assert steps[2][0] == steps[1][3]


def test_law_tables_differ_and_no_amount_is_said(every):
    for sheet in (0, 40, 80):
        for place in (0, 1):
            answers = {round(air_questions(table + sheet)[place].answer, 9) for table in TABLES}
            assert len(answers) >= 30
        assert len({air_questions(table + sheet)[2].text for table in TABLES}) >= 6
    for question in (asked for pair in every for asked in pair):
        assert not POUR.search(question.text + question.explanation)
