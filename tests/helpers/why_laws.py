"""Laws of the questions that ask why: one answer is right, each has a reply, tables take turns.

A file of tests takes `WhyLaws` over, says which settings its page has, and adds what only they
state.
"""

import itertools
import re

import numpy as np
import pytest

from helpers.sentences import MOST_WORDS
from pcbchem.page.why import Setting, ask_in_turn, judge_why

SEEDS = range(12)
"""What settings are drawn by, where a test looks at several of one."""
TABLES, SHEETS = range(40), (0, 40, 80)


def drawn(setting, values=(), seeds=SEEDS):
    """List what a setting may be: as it is, of each value, or drawn by each seed."""
    if isinstance(setting, Setting):
        return [setting]
    if len(values):
        return [setting(value) for value in values]
    return [setting(np.random.default_rng(seed)) for seed in seeds]


def words_of(setting):
    """List all that a setting says: question, way, and each answer with its reply."""
    answers = (setting.right, *setting.wrong)
    return [setting.text, setting.explanation, *itertools.chain(*answers)]


class WhyLaws:
    """What holds for the settings of a lesson's question why."""

    settings: tuple
    """The lesson's settings."""
    values: tuple = ()
    """What they are functions of; none: they draw."""
    never: str = r"(?!)"
    """Pattern of what none of them says."""
    most_words: int = MOST_WORDS
    """Words in a sentence."""

    @pytest.fixture
    def sheets(self):
        """The questions of three sheets of 40 tables."""
        return [self.asked(seed) for seed in range(1, 121)]

    def asked(self, seed):
        return ask_in_turn(self.settings, np.random.default_rng(seed), seed, self.values)

    def test_law_one_answer_is_right_and_each_has_a_reply(self):
        for setting in self.settings:
            for each in drawn(setting, self.values):
                replies = {reply for _, reply in (each.right, *each.wrong)}
                assert len(replies) == len(each.wrong) + 1 == 4, each
                # the way to the answer, a step a line
                assert len(each.explanation.splitlines()) >= 2, each

    def test_law_texts_are_short_sentences(self):
        for setting in self.settings:
            for words in itertools.chain(*map(words_of, drawn(setting, self.values))):
                assert words and not re.search(rf"\bnan\b|\binf\b|{self.never}", words), words
                for sentence in re.split(r"[.?!:]\s", words):
                    assert sentence and len(sentence.split()) <= self.most_words, sentence

    def test_law_the_right_answer_stays_the_right_one(self, sheets):
        assert {question.right for question in sheets} == set("abcd")
        for seed, question in enumerate(sheets, start=1):
            verdicts = [judge_why(question, key).grade for key, _, _ in question.options]
            assert sorted(verdicts) == ["right", "slip", "slip", "slip"]
            setting = self.settings[seed % len(self.settings)]
            rights = {each.right[0] for each in drawn(setting, self.values, [seed])}
            assert {key: words for key, words, _ in question.options}[question.right] in rights

    def test_law_the_order_goes_by_the_seed_alone(self, sheets):
        assert sheets[4] == self.asked(5)

    def test_law_neighbours_and_later_sheets_have_other_settings(self, sheets):
        assert len(self.settings) >= 6
        for first, second in itertools.pairwise(sheets):
            assert first.text != second.text and first.explanation != second.explanation
        for table in TABLES:
            assert len({sheets[table + sheet].explanation for sheet in SHEETS}) == len(SHEETS)
