"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import gram
from ...matter.properties import MOLAR_MASS
from ...page.answers import Question
from ..review_questions import earlier_reserve
from ..sheet import Sheet, apart, ask_sheet, in_turn
from .why_questions import SETTINGS

TIMES = np.arange(105, 251, 5) / 100
"""Peroxide of the question on what is lost, times the copper [-]."""
LOST = np.arange(12, 45)
"""What is lost of it [%]."""
ROOMS = np.arange(20, 46) / 10
"""Bath over bare copper of the question on brown [mL/cm²]: none so thin that it is refused."""
HELD = np.arange(10, 21) / 100
"""Copper(I) that its chloride holds [mol/L]: of acid like the workshop's."""


@apart
def loss_question(rng: np.random.Generator) -> Question:
    """Ask for how many times the copper the peroxide is that goes into copper.

    Parameters
    ----------
    rng : Generator
        Draws the peroxide, times the copper [-], and what is lost of it [%].

    Returns
    -------
    Question
        Answer [-] from the numbers it prints.
    """
    times, lost = float(rng.choice(TIMES)), int(rng.choice(LOST))
    kept = (100 - lost) / 100
    answer = times * kept
    return Question(
        "loss",
        f"A bath starts with peroxide for {times:.2f} times the copper (only worked out). {lost} % "
        "of its peroxide falls apart into oxygen and takes no copper. The rest takes copper: "
        "enough for how many times what is on the board?",
        "ratio",
        "",
        answer,
        0.03,
        (
            (
                times - lost / 100,
                "You took the share off the number of times. It is a share of the peroxide: "
                "multiply.",
            ),
            (times * lost / 100, "That is what was lost. How much is left?"),
            (times / kept, "You divided. Less is left than there was: multiply."),
            (times, "That is before anything is lost."),
        ),
        f"Left of each 100: 100 − {lost} = {100 - lost}, a share of {kept:.2f}.\n"
        f"{times:.2f} × {kept:.2f} = {answer:.3g} times the copper.\n"
        f"{ending(answer)}",
        given=f"{times:.2f} times; {lost} %",
    )


def ending(times: float) -> str:
    """Say what follows where peroxide takes so many times the copper [-]."""
    if times < 1:
        return "Less than once: it is spent before the copper is gone, and the bath turns brown."
    return "Once or more: in this bath peroxide lasts until the copper is gone."


@apart
def brown_question(rng: np.random.Generator) -> Question:
    """Ask how much copper a brown bath takes yet.

    Parameters
    ----------
    rng : Generator
        Draws bath [mL/cm²] and copper(I) that its chloride holds [mol/L].

    Returns
    -------
    Question
        Answer [kg] from the numbers it prints.
    """
    room, held = float(rng.choice(ROOMS)), float(rng.choice(HELD))
    weighs = round(MOLAR_MASS["Cu"] / gram, 1)
    # as a learner writes it down, step by step
    cuprous = round(room * held, 3)
    copper = round(cuprous / 2, 4)
    answer = room * held / 2 * weighs
    milligram = gram / 1000
    return Question(
        "brown",
        "A bath has just turned brown, with hardly any copper(I) in it yet. Over bare "
        f"copper stand {room:.1f} mL per cm² of it (only worked out). Its chloride can hold "
        f"{held:.2f} mol/L of copper(I). How many mg of copper can it dissolve yet from each cm², "
        "at most?\n"
        f"1 mol/L is 1 mmol in each mL. Cu + Cu²⁺ → 2 Cu⁺. 1 mmol of copper weighs {weighs:.1f} "
        "mg.",
        "mass",
        "mg",
        answer * milligram,
        0.03,
        (
            (
                2 * answer * milligram,
                "You did not halve. Of two copper(I) one comes from the board, the other was "
                "dissolved before.",
            ),
            (
                4 * answer * milligram,
                "You doubled. Each copper makes two copper(I): divide by two.",
            ),
            (
                held / 2 * weighs * milligram,
                "That is for one mL. How many stand over each cm²?",
            ),
            (
                room * held / 2 * milligram,
                "Those are mmol. What does a mmol of copper weigh?",
            ),
        ),
        f"Copper(I) held there: {room:.1f} × {held:.2f} = {cuprous:.3f} mmol.\n"
        f"Half of it comes from the board: {cuprous:.3f} ÷ 2 = {copper:.4f} mmol.\n"
        f"{copper:.4f} × {weighs:.1f} = {answer:.1f} mg.\n"
        "A foil of 1 oz has 30.5 mg there.",
        given=f"{room:.1f} mL per cm²; {held:.2f} mol/L",
    )


def weak_questions(seed: int) -> Sheet:
    """Ask what is lost or what brown takes, why, back to copper; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in weak_questions(1)])
    ['brown', 'why', 'reserve']
    """
    first = in_turn((loss_question, brown_question), seed, len(SETTINGS))
    return ask_sheet(seed, (first,), SETTINGS, earlier_reserve)
