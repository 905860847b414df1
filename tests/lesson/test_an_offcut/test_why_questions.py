"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import itertools
import re

import numpy as np
import pytest

from pcbchem.lesson.test_an_offcut import why_questions
from pcbchem.lesson.test_an_offcut.benches import KNOWN, LABELS
from pcbchem.lesson.test_an_offcut.numbers import (
    CARE,
    HALF_WAY,
    MOST_OFFCUTS,
    SEEN_LATE,
    SMALL,
    counted,
)
from pcbchem.lesson.test_an_offcut.why_questions import SETTINGS
from pcbchem.page.why import ask_in_turn, judge_why

DRAWS = range(12)


@pytest.fixture(scope="module")
def sheets():
    """The questions of three sheets of 40 tables."""
    return [ask_in_turn(SETTINGS, np.random.default_rng(seed), seed) for seed in range(1, 121)]


@pytest.mark.parametrize("ask", SETTINGS, ids=lambda ask: ask.__name__)
def test_law_one_answer_is_right_and_each_has_a_reply(ask):
    for seed in DRAWS:
        setting = ask(np.random.default_rng(seed))
        answers = (setting.right, *setting.wrong)
        assert len({reply for _, reply in answers}) == len(answers) == 4
        texts = [setting.text, setting.explanation, *itertools.chain(*answers)]
        for words in texts:
            for sentence in re.split(r"[.?!:]\s", words):
                assert sentence and len(sentence.split()) <= 25, sentence


def test_law_the_right_answer_stays_the_right_one(sheets):
    assert {question.right for question in sheets} == set("abcd")
    for seed, question in enumerate(sheets, start=1):
        verdicts = {key: judge_why(question, key).grade for key, _, _ in question.options}
        assert sorted(verdicts.values()) == ["right", "slip", "slip", "slip"]
        setting = SETTINGS[seed % len(SETTINGS)](np.random.default_rng(seed))
        words = {key: words for key, words, _ in question.options}
        assert words[question.right] == setting.right[0]


def test_law_neighbours_and_sheets_have_other_settings(sheets):
    for first, second in itertools.pairwise(sheets):
        assert first.text != second.text
    for table in range(40):
        assert len({sheets[table + sheet].text for sheet in (0, 40, 80)}) == 3


def test_law_what_they_say_of_widths_was_counted():
    """Small ones and one more hardly narrow; known bottles leave most; late ones are narrow."""
    logs = {
        key: np.log(counted(*key).width)
        for key in (
            (LABELS, 0),
            (KNOWN, 0),
            (SMALL, 1),
            (SMALL, MOST_OFFCUTS),
            (CARE, 5),
            (CARE, MOST_OFFCUTS),
            (HALF_WAY, MOST_OFFCUTS),
        )
    }
    labels = logs[LABELS, 0]
    assert logs[SMALL, MOST_OFFCUTS] > 0.85 * labels
    assert logs[CARE, MOST_OFFCUTS] > 0.98 * logs[CARE, 5]
    # "most of the doubt is in other things": doubts add as squares
    assert logs[KNOWN, 0] ** 2 > 0.6 * labels**2
    assert logs[HALF_WAY, MOST_OFFCUTS] == pytest.approx(logs[CARE, MOST_OFFCUTS], rel=0.05)
    late, half_way = counted(SEEN_LATE, MOST_OFFCUTS), counted(HALF_WAY, MOST_OFFCUTS)
    assert half_way.held > 1.2 * late.held


def test_law_numbers_differ_from_the_page_s_own():
    assert 2 not in why_questions.EVERY and 4 not in why_questions.AREAS
    assert MOST_OFFCUTS not in why_questions.MANY
