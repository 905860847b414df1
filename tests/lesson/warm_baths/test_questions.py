"""Numbers by hand from what a question prints; slips are told apart for every table (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.warm_baths import warm_questions
from pcbchem.lesson.warm_baths.questions import ceiling_question
from pcbchem.page.answers import judge

SEEDS = range(0, 160)


@pytest.mark.parametrize("seed", SEEDS[::8])
def test_law_the_ceiling_by_hand_from_what_is_printed(seed):
    question = ceiling_question(np.random.default_rng(seed))
    start, left = re.search(r"at (\d+) °C\. ([\d.]+) mol/L", question.text).groups()
    each, warms = re.search(r"sets ([\d.]+) kJ.*takes ([\d.]+) kJ", question.text).groups()
    by_hand = float(start) + float(left) * float(each) / float(warms)
    assert question.answer - 273.15 == pytest.approx(by_hand, abs=1e-9)
    assert judge(question, f"{by_hand:.1f}").grade == "right"
    assert judge(question, f"{by_hand * 1.8 + 32:.1f} °F").grade == "right"
    assert f"= {by_hand:.1f} °C" in question.explanation


def test_law_three_questions_one_asks_why_one_goes_back():
    for seed in range(12):
        ceiling, why, back = warm_questions(seed)
        assert [ceiling.key, why.key, back.key] == ["ceiling", "why", "reserve"]
        assert back.from_lesson and not ceiling.from_lesson
        assert [question.text for question in warm_questions(seed)] == [
            question.text for question in (ceiling, why, back)
        ]
