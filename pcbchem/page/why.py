"""A question that asks why: one of several reasons is right, and each has a reply of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..common.limits import InputError, check_choice
from .answers import Verdict

FEWEST, MOST = 3, 5
"""How many answers there are to choose from [-]."""
LETTERS = "abcde"
"""Keys of answers in a drawn order, as they are shown."""


@dataclass(frozen=True)
class WhyQuestion:
    """One question whose answer is a reason.

    Parameters
    ----------
    key : str
        Its name among the questions of a page.
    text : str
        The question, in plain words; each line a paragraph.
    options : tuple
        Key, words and reply of each answer, in the order in which they are shown.
    right : str
        Key of the right answer.
    explanation : str
        The way to the answer, a step a line.
    from_lesson : str
        What the earlier lesson was about that the question goes back to, or "".

    Raises
    ------
    InputError
        Fewer than 3 or more than 5 answers, a key that is empty or stands twice, or a right
        answer that is not among them.
    """

    key: str
    text: str
    options: tuple[tuple[str, str, str], ...]
    right: str
    explanation: str
    from_lesson: str = ""

    def __post_init__(self) -> None:
        keys = [key for key, _, _ in self.options]
        if not FEWEST <= len(keys) <= MOST:
            rule = f"give {FEWEST} to {MOST}"
            raise InputError(
                "options", rule, value=keys, low=FEWEST, high=MOST, about=f" = {keys!r}"
            )
        # "" is what the page sends when nothing is chosen
        if "" in keys or len(set(keys)) < len(keys):
            rule = "each needs a key of its own, and none may be ''"
            raise InputError("options", rule, value=keys, about=f" = {keys!r}")
        check_choice("right", self.right, tuple(keys))


@dataclass(frozen=True)
class Setting:
    """A question that asks why, before its answers are put in an order.

    Parameters
    ----------
    text : str
        The question, in plain words; each line a paragraph.
    right : tuple of str
        Words and reply of the right answer.
    wrong : tuple
        Words and reply of each other answer.
    explanation : str
        The way to the answer, a step a line.
    """

    text: str
    right: tuple[str, str]
    wrong: tuple[tuple[str, str], ...]
    explanation: str


def shuffled(setting: Setting, rng: np.random.Generator, key: str = "why") -> WhyQuestion:
    """Return a question whose answers stand in a drawn order: no place among them is the right one.

    Parameters
    ----------
    setting : Setting
        What is asked.
    rng : Generator
        Draws the order.
    key : str
        Name of the question among those of its page.

    Returns
    -------
    WhyQuestion
        Its answers are called a, b, c …, from top to bottom.

    Raises
    ------
    InputError
        Fewer than 3 or more than 5 answers.

    Examples
    --------
    >>> ice = Setting("Why?", ("Salt.", ""), (("Waves.", ""), ("Whales.", "")), "Salt does it.")
    >>> question = shuffled(ice, np.random.default_rng(1))
    >>> print({key: words for key, words, _ in question.options}[question.right])
    Salt.
    """
    answers = (setting.right, *setting.wrong)
    options = []
    right = ""
    for letter, place in zip(LETTERS, rng.permutation(len(answers)), strict=False):
        words, reply = answers[place]
        options.append((letter, words, reply))
        if place == 0:
            right = letter
    return WhyQuestion(key, setting.text, tuple(options), right, setting.explanation)


def ask_in_turn(
    settings: Sequence[Setting | Callable[[Any], Setting]],
    rng: np.random.Generator,
    turn: int,
    values: Sequence[float] = (),
) -> WhyQuestion:
    """Ask why, in one of the settings of a lesson, its answers in a drawn order.

    Parameters
    ----------
    settings : sequence of Setting, or of functions that return one
        What the question may be about; six, so that each sheet of a table has another one.
    rng : Generator
        Draws the numbers of the setting, and then the order of the answers.
    turn : int
        Which setting [-]: they come in turn. A table's number, as its seed.
    values : sequence of float, optional
        What the settings are functions of, one of them drawn [in the unit that they ask for]. Left
        out: they draw by `rng`.

    Returns
    -------
    WhyQuestion
        Its key is "why".

    Raises
    ------
    InputError
        No setting, or one of fewer than 3 or more than 5 answers.

    Examples
    --------
    >>> from dataclasses import replace
    >>> ice = Setting("Why?", ("Salt.", ""), (("Waves.", ""), ("Whales.", "")), "Salt does it.")
    >>> fresh = replace(ice, text="Why does a lake freeze sooner?")
    >>> print(ask_in_turn((ice, fresh), np.random.default_rng(1), turn=3).text)
    Why does a lake freeze sooner?
    """
    if not settings:
        raise InputError("settings", "give at least one", value=0, low=1, about=" = none")
    setting = settings[turn % len(settings)]
    if not isinstance(setting, Setting):
        setting = setting(float(rng.choice(values)) if len(values) else rng)
    return shuffled(setting, rng)


def judge_why(question: WhyQuestion, key: str) -> Verdict:
    """Judge the reason that was chosen.

    Parameters
    ----------
    question : WhyQuestion
        What was asked.
    key : str
        Key of the answer that was chosen, or "" if none was.

    Returns
    -------
    Verdict
        Right, slip (each wrong reason is a known one) or unread, with the reply of that answer.

    Raises
    ------
    InputError
        A key that is not among the answers.

    Examples
    --------
    >>> options = (("a", "It weighs less.", "It weighs more."), ("b", "It is colder.", "Is it?"))
    >>> options += (("c", "It is salty.", "Salt lowers it."),)
    >>> ice = WhyQuestion("sea", "Why does the sea freeze late?", options, "c", "Salt does it.")
    >>> print(judge_why(ice, "a").words)
    Not yet. It weighs more.
    """
    if not key:
        return Verdict("unread", "Choose one of the answers first.")
    replies = {name: reply for name, _, reply in question.options}
    reply = replies[check_choice("answer", key, tuple(replies))]
    if key == question.right:
        return Verdict("right", f"Right. {reply}".strip())
    return Verdict("slip", f"Not yet. {reply}".strip())
