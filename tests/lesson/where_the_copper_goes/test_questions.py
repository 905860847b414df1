"""Questions of page 03: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers
from helpers.workshop import POUR

from pcbchem.lesson.where_the_copper_goes import copper_questions
from pcbchem.page import Check
from pcbchem.page.answers import Question, judge

SEEDS = range(500)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")
PRINTED = (
    r"stand ([\d.]+) mL per cm² of bath.* ([\d.]+) mol/L of acid and ([\d.]+) mol/L of peroxide\."
    r".* ([\d.]+) mmol of copper"
)


@pytest.fixture(scope="module")
def every():
    return [copper_questions(seed)[0] for seed in SEEDS]


def test_law_two_are_about_the_page_and_one_goes_back():
    for seed in TABLES:
        asked = copper_questions(seed)
        assert [question.key for question in asked] == ["reserve", "why", "strength"]
        assert [question.from_lesson for question in asked] == ["", "", "what is in the bottle"]


def test_law_reserve_by_hand_from_what_is_printed(every):
    """And what each slip comes to, a second time."""
    for question in every:
        room, acid, peroxide, copper = numbers(PRINTED, question.text)
        by_acid, by_peroxide = room * acid / 2 / copper, room * peroxide / copper
        by_hand = min(by_acid, by_peroxide)
        assert question.answer == pytest.approx(by_hand, rel=1e-9)
        assert judge(question, f"{by_hand:.3g} times").grade == "right"
        ideas = {
            "the other one": max(by_acid, by_peroxide),
            "You added": by_acid + by_peroxide,
            "the two round": min(2 * by_acid, by_peroxide / 2),
            "the other way": 1 / by_hand,
        }
        if by_acid < by_peroxide:
            ideas["gave each copper one"] = 2 * by_acid
        else:
            ideas["the acid, one for each"] = 2 * by_acid
        assert len(question.slips) == len(ideas)
        for idea, value in ideas.items():
            verdict = judge(question, f"{value:.4g}")
            assert verdict.grade == "slip" and idea in verdict.words, (question, idea)


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in every:
        steps = STEP.findall(question.explanation)
        assert len(steps) == 5
        right_as_printed(steps)
        # each goes on with what the one before came to
        assert (steps[2][0], steps[2][2]) == (steps[1][3], steps[0][3])
        assert steps[4][0] == steps[3][3]
        # by acid and by peroxide; the smaller is what is said at the end
        by_acid, by_peroxide = steps[2][3], steps[4][3]
        assert question.explanation.endswith(
            f": {min(by_acid, by_peroxide, key=float)} times over."
        )
        assert judge(question, min(by_acid, by_peroxide, key=float)).grade == "right"


def test_law_both_run_out_first_and_tables_differ(every):
    first = [re.search(r"The (\w+) runs out first", each.explanation)[1] for each in every]
    assert 0.35 < first.count("acid") / len(first) < 0.65
    for sheet in (0, 40, 80):
        answers = {round(copper_questions(table + sheet)[0].answer, 2) for table in TABLES}
        assert len(answers) >= 30


def test_law_only_mild_baths_and_no_amount_to_pour(every):
    for question in every:
        _, acid, peroxide, _ = numbers(PRINTED, question.text)
        # 12 % of peroxide is 3.7 mol/L: more is refused; acid of 3 mol/L fumes
        assert acid <= 1.5 and peroxide <= 2.8
        assert not POUR.search(question.text + question.explanation)


def test_law_a_table_gets_other_settings_on_each_sheet():
    for table in TABLES:
        texts = [copper_questions(table + sheet)[1].text for sheet in (0, 40, 80)]
        assert len(set(texts)) == 3


def test_the_fields_say_what_is_asked_for():
    def with_numbers(seed):
        return [each for each in copper_questions(seed) if isinstance(each, Question)]

    asks = Check(with_numbers, seed=4).asks
    assert asks[0]["label"] == "Your answer: how many times"
