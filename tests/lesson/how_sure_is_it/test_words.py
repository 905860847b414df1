"""What is said of the ratio: short sentences, one name for a thing, no amount (laws)."""

import re

import pytest
from helpers.water_baths import VOLUME

from pcbchem.lesson.how_sure_is_it.numbers import ROCKED, SHAKEN, STILL
from pcbchem.lesson.how_sure_is_it.words import ratio_question_words, ratio_words, times

CASES = (STILL, ROCKED, SHAKEN)


@pytest.mark.parametrize("say", [ratio_question_words, ratio_words])
@pytest.mark.parametrize("case", CASES)
def test_law_sentences_are_short_and_hold_no_amount(say, case):
    words = say(case)
    for text in (words.readout, re.sub(r"<[^>]+>", "", words.notes)):
        assert not VOLUME.search(text)
        for sentence in re.split(r"(?<=[.?:]) ", text):
            assert len(sentence.split()) <= 25, sentence


@pytest.mark.parametrize("case", CASES)
def test_law_chance_is_half_of_the_slower_ones(case):
    counts = ratio_words(case).notes.partition("Of the")[2]
    slow, again, chance = (float(number) for number in re.findall(r"\b\d+\b", counts))
    assert chance == slow / 2 < again < slow


@pytest.mark.parametrize("factor, text", [(1.004, "×1.0"), (0.88, "×0.88"), (192.2, "×190")])
def test_a_factor_is_written_to_two_figures(factor, text):
    assert times(factor) == text
