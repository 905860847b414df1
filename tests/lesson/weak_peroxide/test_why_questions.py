"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import re

import numpy as np
import pytest
from helpers.workshop import POUR

from pcbchem.lesson.weak_peroxide.numbers import NEVER, STRONG_ACID, WEAK_ACID, at
from pcbchem.lesson.weak_peroxide.why_questions import (
    ENOUGH,
    PLENTY,
    SCARCE,
    SETTINGS,
)
from pcbchem.page.why import ask_in_turn, judge_why

LONGEST_SENTENCE = 25


@pytest.mark.parametrize("ask", SETTINGS, ids=lambda ask: ask.__name__)
def test_law_one_answer_is_right_and_each_has_a_reply(ask):
    for seed in range(12):
        setting = ask(np.random.default_rng(seed))
        answers = (setting.right, *setting.wrong)
        assert len({reply for _, reply in answers}) == len(answers) == 4
        texts = [setting.text, setting.explanation, *(part for each in answers for part in each)]
        for words in texts:
            assert words and not POUR.search(words)
            for sentence in re.split(r"[.?!:]\s", words):
                assert len(sentence.split()) <= LONGEST_SENTENCE, sentence
            # what is worse than refused is named so
            assert "31 %" not in setting.text or "drawn only" in setting.text


def test_law_the_right_answer_stays_the_right_one():
    assert len(SETTINGS) >= 6
    rights = set()
    for seed in range(1, 61):
        question = ask_in_turn(SETTINGS, np.random.default_rng(seed), seed)
        grades = [judge_why(question, key).grade for key, _, _ in question.options]
        assert sorted(grades) == ["right", "slip", "slip", "slip"]
        setting = SETTINGS[seed % len(SETTINGS)](np.random.default_rng(seed))
        words = {key: words for key, words, _ in question.options}
        assert words[question.right] == setting.right[0]
        rights.add(question.right)
    assert rights == set("abcd")


def test_law_what_settings_count_is_so():
    for times in ENOUGH:
        assert times > 1 and at(times).counts[NEVER] > 20 and at(times).refused
        for many in PLENTY:
            assert at(many).counts[NEVER] < at(times).counts[NEVER] / 5
    for times in SCARCE:
        assert at(times, WEAK_ACID).clear < 10
        assert at(times, STRONG_ACID).clear > 10 * at(times, WEAK_ACID).clear
        # "both drawn only"
        assert at(times, WEAK_ACID).refused
