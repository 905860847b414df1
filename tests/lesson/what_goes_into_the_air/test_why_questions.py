"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import itertools
import re

import numpy as np
import pytest

from pcbchem.lesson.what_goes_into_the_air import why_questions
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    FAN,
    MILD_ACID,
    breathed,
    less_than_at_first,
    over_liquid,
)
from pcbchem.lesson.what_goes_into_the_air.why_questions import (
    BATH_PLACES,
    SETTINGS,
    STRONG_ACIDS,
)
from pcbchem.page.why import ask_in_turn, judge_why

LONGEST_SENTENCE = 25
DRAWS = range(12)


@pytest.fixture(scope="module")
def sheets():
    """The questions of three sheets of 40 tables."""
    return [ask_in_turn(SETTINGS, np.random.default_rng(seed), seed) for seed in range(1, 121)]


def words_of(setting):
    answers = (setting.right, *setting.wrong)
    return [setting.text, setting.explanation, *(part for answer in answers for part in answer)]


def settings(ask):
    return [ask(np.random.default_rng(seed)) for seed in DRAWS]


def number(text):
    return float(text.replace("\u202f", ""))


@pytest.mark.parametrize("ask", SETTINGS, ids=lambda ask: ask.__name__)
def test_law_one_answer_is_right_and_each_has_a_reply(ask):
    for setting in settings(ask):
        answers = (setting.right, *setting.wrong)
        assert len({reply for _, reply in answers}) == len(answers) == 4
        assert all(reply for _, reply in answers)
        for words in words_of(setting):
            for sentence in re.split(r"[.?!:]\s", words):
                assert len(sentence.split()) <= LONGEST_SENTENCE, sentence


def test_law_the_right_answer_stays_the_right_one(sheets):
    assert {question.right for question in sheets} == set("abcd")
    for seed, question in enumerate(sheets, start=1):
        verdicts = {key: judge_why(question, key).grade for key, _, _ in question.options}
        assert sorted(verdicts.values()) == ["right", "slip", "slip", "slip"]
        setting = SETTINGS[seed % len(SETTINGS)](np.random.default_rng(seed))
        words = {key: words for key, words, _ in question.options}
        assert words[question.right] == setting.right[0]


def test_law_neighbours_have_other_settings(sheets):
    for first, second in itertools.pairwise(sheets):
        assert first.text != second.text


def test_law_how_many_times_is_the_package_s():
    for setting in settings(why_questions.wide_bath):
        acid, times = re.search(r"bottle of (\d+) % .* gives ([\d.]+) times", setting.text).groups()
        wanted = float(breathed(float(acid)).bottle_times.middle)
        assert number(times) == pytest.approx(wanted, rel=0.051) and wanted > 2
    for setting in settings(why_questions.fan_and_spill):
        acid, less = re.search(
            r"Acid of (\d+) % .* only ([\d.]+) times less", setting.text
        ).groups()
        wanted = float(less_than_at_first(FAN, float(acid)).middle)
        assert number(less) == pytest.approx(wanted, rel=0.051) and 1 < wanted < 2.5
    for setting in settings(why_questions.in_the_neck):
        place = next(key for key, words in BATH_PLACES.items() if words in setting.text)
        less = re.search(r"gives ([\d.]+) times less", setting.text)[1]
        wanted = 1 / float(breathed(MILD_ACID, place).bottle_times.middle)
        assert number(less) == pytest.approx(wanted, rel=0.051) and wanted > 20
    for setting in settings(why_questions.not_three_times):
        acid, share, times = re.search(
            r"of (\d+) % is ([\d.]+) times as strong .* holds ([\d\u202f]+) times", setting.text
        ).groups()
        assert float(share) == pytest.approx(float(acid) / 10)
        wanted = over_liquid(float(acid)) / over_liquid(10.0)
        assert number(times) == pytest.approx(wanted, rel=0.051)
    for setting in settings(why_questions.smallest_row):
        place = next(
            key for key, words in BATH_PLACES.items() if f"In {words} the mild" in setting.text
        )
        bath = re.search(r"gives ([\d.]+) ppm", setting.text)[1]
        wanted = 1e6 * float(breathed(MILD_ACID, place).bath.middle)
        assert number(bath) == pytest.approx(wanted, rel=0.051)


def test_law_the_bath_is_the_smaller_row_of_each_strong_acid():
    for acid in STRONG_ACIDS:
        assert breathed(acid).bottle_times.low > 4


def test_law_a_fan_changes_the_air_once_or_twice():
    """In a quarter of an hour: 5 to 20 changes an hour, of which 0.3 to 1 mix."""
    middle = (5 * 20) ** 0.5 * (0.3 * 1) ** 0.5 / 4
    assert 1 < middle < 2


def test_law_no_answer_calms():
    for ask in SETTINGS:
        for setting in settings(ask):
            for words in words_of(setting):
                assert not re.search(r"\bsafe|harmless|\bfine\b|below the limit", words), words
    assert "permits nothing" in settings(why_questions.smallest_row)[0].explanation
