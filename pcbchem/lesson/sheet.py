"""How a page asks a table: numbers from a seed, one question that asks why, one that goes back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import wraps
from typing import Any

import numpy as np

from ..common.limits import InputError
from ..page.answers import Question
from ..page.why import Setting, WhyQuestion, ask_in_turn

TRIES = 50
"""How often numbers are drawn until a question's answer and slips stand apart [-]."""

Ask = Callable[[np.random.Generator], Question]
"""A function that asks a question, with numbers from a generator."""
Sheet = list[Question | WhyQuestion]
"""What a page asks one table."""


def whole(seed: int) -> int:
    """Return a seed [-] that can be one.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.
    """
    is_whole = isinstance(seed, int | np.integer) and not isinstance(seed, bool)
    if not is_whole or seed < 0:
        rule = "it must be a whole number from 0"
        raise InputError("seed", rule, value=seed, about=f" = {seed!r}")
    return int(seed)


def generator(seed: int) -> np.random.Generator:
    """Return the one generator of a sheet [-]: the same seed asks the same sheet again.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.
    """
    return np.random.default_rng(whole(seed))


def stands_apart(question: Question) -> bool:
    """Tell whether answer and slips are so far apart that an answer can mean only one of them."""
    values = [question.answer, *(value for value, _ in question.slips)]
    for place, value in enumerate(values):
        for other in values[:place]:
            # both margins: no answer may lie within the one and within the other
            if abs(value - other) <= question.margin(value) + question.margin(other):
                return False
    return True


def apart(ask: Ask) -> Ask:
    """Make a function ask with new numbers until answer and slips stand apart: no hint is lost."""

    @wraps(ask)
    def ask_apart(rng: np.random.Generator) -> Question:
        # a draw that collides is thrown away; the next goes on in the same generator
        for _ in range(TRIES):
            question = ask(rng)
            if stands_apart(question):
                return question
        raise RuntimeError(f"{ask.__name__}: answer and slips never stood apart in {TRIES} draws")

    return ask_apart


def in_turn(asks: Sequence[Ask], seed: int, round_of: int | None = None) -> Ask:
    """Return the one of some questions that a seed has its turn with.

    Parameters
    ----------
    asks : sequence of Ask
        Questions that take turns.
    seed : int
        The seed of the sheet [-].
    round_of : int, optional
        After so many seeds [-] they change places once more: as many as there are settings, so that
        each setting meets each of them. Left out: never.

    Returns
    -------
    Ask
        One of them.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.

    Examples
    --------
    >>> print([in_turn("ab", seed, round_of=4) for seed in range(8)])
    ['a', 'b', 'a', 'b', 'b', 'a', 'b', 'a']
    """
    turn = whole(seed)
    if round_of is not None:
        turn += turn // round_of
    return asks[turn % len(asks)]


def ask_sheet(
    seed: int,
    own: Sequence[Ask],
    settings: Sequence[Setting | Callable[[Any], Setting]],
    back: Ask | None = None,
    values: Sequence[float] = (),
) -> Sheet:
    """Ask what a page asks a table: its own questions, then why, then one of an earlier lesson.

    Parameters
    ----------
    seed : int
        Makes all numbers [-]: a table's number, or that of a later sheet of it.
    own : sequence of Ask
        The page's questions with numbers.
    settings : sequence of Setting, or of functions that return one
        What the question why may be about; the seed goes through them in turn.
    back : Ask, optional
        The question that goes back; none: no lesson comes before.
    values : sequence of float, optional
        What the settings are functions of, see `ask_in_turn` [in the unit that they ask for].

    Returns
    -------
    list of Question and WhyQuestion
        In this order, all by one generator.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.

    Examples
    --------
    >>> from pcbchem.lesson.review_questions import copper_question, volumes_question
    >>> ice = Setting("Why?", ("Salt.", ""), (("Waves.", ""), ("Whales.", "")), "Salt does it.")
    >>> sheet = ask_sheet(1, (copper_question,), (ice,), volumes_question)
    >>> print([question.key for question in sheet])
    ['copper', 'why', 'volumes']
    """
    rng = generator(seed)
    sheet: Sheet = [ask(rng) for ask in own]
    sheet.append(ask_in_turn(settings, rng, whole(seed), values))
    if back is not None:
        sheet.append(back(rng))
    return sheet
