"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...bench.air import PPM
from ...common.units import gram
from ...page.answers import Question
from ..review_questions import strength_question
from ..sheet import Sheet, apart, ask_sheet
from .numbers import weight_of_ppm
from .why_questions import SETTINGS

OVER_TEN = np.arange(40, 81, 2) / 10
"""Gas over acid of 10 % in the question on steps [ppm]."""
EACH_STEP = np.arange(60, 86) / 10
"""How many times as much each 5 % more gives there [-]."""
GRAMS = np.arange(5, 41) / 10
"""Gas in the room of the other question [g]."""
ROOMS = np.arange(15, 61, 5)
"""Rooms there [m³]."""
MILLIGRAMS = round(weight_of_ppm() / (1e-3 * gram), 2)
"""What a ppm of acid gas weighs in a cubic metre, as it is printed [mg]."""


@apart
def steps_question(rng: np.random.Generator) -> Question:
    """Ask how much gas stands over acid of 25 %, from acids of 10 and 15 %.

    Parameters
    ----------
    rng : Generator
        Draws the gas over 10 % [ppm] and what each step multiplies it by [-].

    Returns
    -------
    Question
        Answer [mol/mol] from the numbers it prints.
    """
    first = float(rng.choice(OVER_TEN))
    second = float(round(first * float(rng.choice(EACH_STEP))))
    step = second / first
    answer = second * step**2
    # as a learner writes it down, step by step
    step_printed = round(step, 2)
    third = round(second * step_printed)
    fourth = round(third * step_printed)
    return Question(
        "steps",
        f"Right over acid of 10 % the air holds {first:.1f} ppm of acid gas, over 15 % "
        f"{second:.0f} ppm (made-up numbers). Each 5 % more multiplies it by the same factor "
        "again. How much is it over acid of 25 %, in ppm?",
        "share of air",
        "ppm",
        answer * PPM,
        0.05,
        (
            (
                (second + 2 * (second - first)) * PPM,
                "You added the same each time. Each 5 % more multiplies.",
            ),
            (second * 25 / 15 * PPM, "That is in proportion. Gas over acid grows faster."),
            (
                second * step * PPM,
                "That is over 20 %. From 15 to 25 % there are two steps.",
            ),
            (
                answer * step * PPM,
                "That is over 30 %. From 15 to 25 % there are two steps, not three.",
            ),
        ),
        f"One step: {second:.0f} ÷ {first:.1f} = {step_printed:.2f} times.\n"
        f"Over 20 %: {second:.0f} × {step_printed:.2f} = {third:.0f} ppm.\n"
        f"Over 25 %: {third:.0f} × {step_printed:.2f} = {fourth:.0f} ppm.",
        given=f"{first:.1f} ppm; {second:.0f} ppm",
    )


@apart
def ppm_question(rng: np.random.Generator) -> Question:
    """Ask how many ppm some grams of acid gas are in a room.

    Parameters
    ----------
    rng : Generator
        Draws the gas [g] and the room [m³].

    Returns
    -------
    Question
        Answer [mol/mol] from the numbers it prints.
    """
    grams, room = float(rng.choice(GRAMS)), float(rng.choice(ROOMS))
    milligrams = 1000 * grams
    answer = milligrams / room / MILLIGRAMS
    # as a learner writes it down, step by step
    in_each = round(milligrams / room, 1)
    return Question(
        "ppm",
        f"From a spill {grams:.1f} g of acid gas have come into a shut room of {room:.0f} m³. In "
        f"each cubic metre {MILLIGRAMS:.2f} mg are 1 ppm. How many ppm does the room hold?",
        "share of air",
        "ppm",
        answer * PPM,
        0.03,
        (
            (milligrams / room * PPM, "Those are mg in a cubic metre. How many ppm is that?"),
            (
                milligrams / MILLIGRAMS * PPM,
                "That would be all of it in one cubic metre. It is spread over the room.",
            ),
            (
                milligrams / room * MILLIGRAMS * PPM,
                f"You multiplied by {MILLIGRAMS:.2f}. Divide by it.",
            ),
            (answer / 1000 * PPM, "You took grams for milligrams: 1 g is 1000 mg."),
        ),
        f"In milligrams: {grams:.1f} × 1000 = {milligrams:.0f} mg.\n"
        f"In each cubic metre: {milligrams:.0f} ÷ {room:.0f} = {in_each:.1f} mg.\n"
        f"In ppm: {in_each:.1f} ÷ {MILLIGRAMS:.2f} = {in_each / MILLIGRAMS:.1f} ppm.",
        given=f"{grams:.1f} g; {room:.0f} m³",
    )


def air_questions(seed: int) -> Sheet:
    """Ask how gas grows with strength, how many ppm, why, back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in air_questions(1)])
    ['steps', 'ppm', 'why', 'strength']
    """
    return ask_sheet(seed, (steps_question, ppm_question), SETTINGS, strength_question)
