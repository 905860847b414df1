"""Questions of page 07: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers
from helpers.workshop import POUR

from pcbchem.lesson.when_to_lift_it_out import trace_questions
from pcbchem.page.answers import judge
from pcbchem.reaction.trace import widths

SEEDS = range(300)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×÷−]) ([\d.]+) = ([\d.]*\d)")
PRINTED = (
    r"drawn ([\d.]+) mm wide on foil (\d+) µm thick\. Downwards the bath etches ([\d.]+) times as "
    r"fast as sideways\. The board stays in (\d+) % longer"
)


@pytest.fixture(scope="module")
def every():
    return [trace_questions(seed)[0] for seed in SEEDS]


def test_law_two_are_about_the_page_and_one_goes_back():
    for seed in TABLES:
        asked = trace_questions(seed)
        assert [question.key for question in asked] == ["width", "why", "strength"]
        assert [question.from_lesson for question in asked] == ["", "", "what is in the bottle"]


def test_law_width_by_hand_from_what_is_printed(every):
    """And what each slip comes to, a second time."""
    seen = set()
    for question in every:
        drawn, foil, factor, over = numbers(PRINTED, question.text)
        drawn, times = 1000 * drawn, 1 + over / 100
        by_hand = drawn - 2 * foil * times / factor
        package = widths(drawn * 1e-6, foil * 1e-6, factor, over / 100).top
        assert question.answer == pytest.approx(by_hand * 1e-6) == pytest.approx(float(package))
        assert judge(question, f"{by_hand / 1000:.3f} mm").grade == "right"
        assert judge(question, f"{by_hand:.0f} µm").grade == "right"
        ideas = {
            "one edge": drawn - foil * times / factor,
            "when it clears": drawn - 2 * foil / factor,
            "what it has lost": 2 * foil * times / factor,
            "as fast as down": drawn - 2 * foil * times,
            "multiplied by the factor": drawn - 2 * foil * times * factor,
        }
        possible = {idea: value for idea, value in ideas.items() if value > 1e-9}
        assert len(question.slips) == len(possible)
        seen |= set(possible)
        for idea, value in possible.items():
            verdict = judge(question, f"{value:.4g} µm")
            assert verdict.grade == "slip" and idea in verdict.words, (question, idea)
    assert seen == set(ideas)


def test_law_each_step_is_right_as_printed_and_comes_to_the_answer(every):
    for question in every:
        steps = STEP.findall(question.explanation)
        assert len(steps) == 4
        right_as_printed(steps)
        assert steps[1][0] == steps[0][3] and steps[2][2] == steps[1][3]
        assert steps[3][2] == steps[2][3]
        last = re.search(r"or (0\.\d+) mm\.$", question.explanation)[1]
        assert judge(question, f"{last} mm").grade == "right"


def test_law_tables_differ_and_no_amount_is_said(every):
    for sheet in (0, 40, 80):
        answers = {round(trace_questions(table + sheet)[0].answer, 7) for table in TABLES}
        assert len(answers) >= 30
        texts = {trace_questions(table + sheet)[1].text for table in TABLES}
        assert len(texts) >= 6
    for question in every:
        assert not POUR.search(question.text + question.explanation)


def test_law_a_table_gets_other_settings_on_each_sheet():
    for table in TABLES:
        texts = [trace_questions(table + sheet)[1].text for sheet in (0, 40, 80)]
        assert len(set(texts)) == 3
