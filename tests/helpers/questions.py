"""Questions of the page on water, and the numbers that they print."""

import re
from functools import cache

import numpy as np

from pcbchem.lesson.review_questions import REVIEW_QUESTIONS
from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.page.answers import Question


@cache
def first_24():
    """Every question of the first 24 seeds, those without numbers left out."""
    asked = [question for seed in range(24) for question in water_questions(seed)]
    asked += [ask(np.random.default_rng(seed)) for ask in REVIEW_QUESTIONS for seed in range(24)]
    return [question for question in asked if isinstance(question, Question)]


def few(key):
    """Return the questions of one key among those."""
    return [question for question in first_24() if question.key == key]


def numbers(pattern, text):
    """Return the numbers that a question prints, by a pattern with one group each; ½ counts."""
    match = re.search(pattern, text)
    assert match, (pattern, text)
    return [float(group.replace("½", ".5")) if group else 0.0 for group in match.groups()]
