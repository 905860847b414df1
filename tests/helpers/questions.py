"""Questions of the page on water, and the numbers that they print."""

import re
from functools import cache

import numpy as np

from pcbchem.lesson.review_questions import REVIEW_QUESTIONS
from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.page.answers import Question


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
