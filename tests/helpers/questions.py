"""Questions with numbers: those that go back, those of the page on water, and what they print."""

import itertools
import re
from functools import cache

import numpy as np

from pcbchem.lesson.review_questions import REVIEW_QUESTIONS
from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.page.answers import Question, answer_words, judge


@cache
def first_reviews():
    """Every question that goes back to an earlier lesson, of the first 48 seeds."""
    return [ask(np.random.default_rng(seed)) for ask in REVIEW_QUESTIONS for seed in range(48)]


@cache
def first_of_the_page():
    """Every question of the page's first 24 sheets, those without numbers left out."""
    asked = [question for seed in range(24) for question in water_questions(seed)]
    return [question for question in asked if isinstance(question, Question)]


def few(key):
    """Return the questions of one key among those that go back to an earlier lesson.

    Tests ask for them while they are collected, in each process: no bath is etched for it.
    """
    return [question for question in first_reviews() if question.key == key]


def few_of_the_page(key):
    """Return the questions of one key among those that the page itself asks."""
    return [question for question in first_of_the_page() if question.key == key]


def numbers(pattern, text):
    """Return the numbers that a question prints, by a pattern with one group each; ½ counts."""
    match = re.search(pattern, text)
    assert match, (pattern, text)
    return [float(group.replace("½", ".5")) if group else 0.0 for group in match.groups()]


def recognised(question, ideas):
    """Hold that the answer counts as right, and each slip [SI], by its idea, has its hint."""
    assert len(question.slips) == len(ideas)
    written = answer_words(question.answer, question.kind, question.unit)
    assert judge(question, written).grade == "right"
    for idea, value in ideas.items():
        verdict = judge(question, answer_words(value, question.kind, question.unit))
        assert verdict.grade == "slip" and idea in verdict.words, (question, idea)


def two_in_turn(ask, own, settings):
    """Hold that two questions of a page take turns, then it asks why, then one goes back."""
    sheets = [ask(seed) for seed in range(4 * len(settings))]
    keys = [[question.key for question in sheet] for sheet in sheets]
    assert {tuple(key[1:]) for key in keys} == {("why", "reserve")}
    for sheet in sheets:
        assert [bool(question.from_lesson) for question in sheet] == [False, False, True]
    # neighbours differ, and each setting meets both questions
    for first, second in itertools.pairwise(keys[: len(settings)]):
        assert first[0] != second[0]
    met = {(seed % len(settings), key[0]) for seed, key in enumerate(keys)}
    assert met == {(turn, key) for turn in range(len(settings)) for key in own}
