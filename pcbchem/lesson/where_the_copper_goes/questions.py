"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

from ...page.answers import Question
from ...page.why import WhyQuestion, ask_in_turn
from ..review_questions import generator, reserve_question, strength_question
from .why_questions import SETTINGS


def copper_questions(seed: int) -> list[Question | WhyQuestion]:
    """Ask three questions for the page on where the copper goes.

    Parameters
    ----------
    seed : int
        Makes the numbers [-], 0 or more; the second question goes by it in turn.

    Returns
    -------
    list of Question and WhyQuestion
        How many times over, then why; the third goes back to the lesson on bottles.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.

    Examples
    --------
    >>> print([question.key for question in copper_questions(1)])
    ['reserve', 'why', 'strength']
    """
    rng = generator(seed)
    return [reserve_question(rng), ask_in_turn(SETTINGS, rng, int(seed)), strength_question(rng)]
