"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

from ..review_questions import reserve_question, strength_question
from ..sheet import Sheet, ask_sheet
from .why_questions import SETTINGS


def copper_questions(seed: int) -> Sheet:
    """Ask how many times over, why, back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in copper_questions(1)])
    ['reserve', 'why', 'strength']
    """
    return ask_sheet(seed, (reserve_question,), SETTINGS, strength_question)
