"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import L, gram, mL
from ...page.answers import Question
from ..review_questions import earlier_reserve
from ..sheet import Sheet, apart, ask_sheet, in_turn
from .why_questions import SETTINGS

FILLED = (40, 45, 55, 60, 70)
"""How full the bottle of the question is [%]: not half, where bath and room are alike."""
LEFT = np.arange(12, 33) / 20
"""Peroxide of the question's used bath [mol/L]."""
MOLE_OF_GAS = 24
"""Volume of a mole of gas at 20 °C, as the question has it [L/mol]."""
CARRIED = np.arange(10, 20) / 10
"""Bath that the question's board carries [mL]."""
COPPER = np.arange(30, 91) / 10
"""Copper in it [g/L]."""
MG_PER_L = gram
"""One milligram in a litre [kg/m³]: a gram in a cubic metre."""
DISHES = (120, 150, 180, 200, 250, 300)
"""Water in the question's dish [mL]."""


@apart
def pressure_question(rng: np.random.Generator) -> Question:
    """Ask what a closed bottle of used bath would have to hold.

    Parameters
    ----------
    rng : Generator
        Draws how full it is [%] and the peroxide of the bath [mol/L].

    Returns
    -------
    Question
        Answer, times the pressure of the air [-], from the numbers it prints.
    """
    filled, peroxide = int(rng.choice(FILLED)), float(rng.choice(LEFT))
    oxygen = peroxide / 2
    volumes = MOLE_OF_GAS * oxygen
    room = (100 - filled) / filled
    answer = volumes / room
    # as a learner writes it down, step by step
    oxygen_printed = round(oxygen, 3)
    volumes_printed = round(MOLE_OF_GAS * oxygen_printed, 1)
    room_printed = round(room, 2)
    return Question(
        "pressure",
        f"Only worked out, for closed bottles have burst: a bottle is filled to {filled} % with "
        f"used bath that still holds {peroxide:.2f} mol/L of peroxide, and closed. All of it falls "
        "apart: 2 H₂O₂ → 2 H₂O + O₂. How many times the pressure of the air comes on top?\n"
        f"At the pressure of the air a mole of gas takes {MOLE_OF_GAS} times the room of a litre.",
        "ratio",
        "",
        answer,
        0.03,
        (
            (2 * answer, "That is double: two peroxide make one oxygen."),
            (
                volumes * filled / 100,
                "You gave the gas the whole bottle. The bath takes up its share of it.",
            ),
            (
                volumes,
                "That is the gas in volumes of the bath. How many such volumes are free above it?",
            ),
            (
                volumes * room,
                "You multiplied by the room above the bath. More room means less pressure: divide.",
            ),
            (
                answer + 1,
                "That counts the air that was in the bottle before. Asked is what comes on top.",
            ),
        ),
        f"Two peroxide make one oxygen: {peroxide:.2f} ÷ 2 = {oxygen_printed:.3f} mol from each "
        "litre of bath.\n"
        f"In volumes of the bath: {oxygen_printed:.3f} × {MOLE_OF_GAS} = {volumes_printed:.1f}.\n"
        f"Free above it, in the same volumes: {100 - filled} ÷ {filled} = {room_printed:.2f}.\n"
        f"{volumes_printed:.1f} ÷ {room_printed:.2f} = {volumes_printed / room_printed:.1f} times "
        "the pressure of the air. Whatever the number: never closed.",
        given=f"{filled} %; {peroxide:.2f} mol/L",
    )


@apart
def rinse_question(rng: np.random.Generator) -> Question:
    """Ask how much copper a board brings into its rinse dish.

    Parameters
    ----------
    rng : Generator
        Draws bath carried and water [mL], and copper of the bath [g/L].

    Returns
    -------
    Question
        Answer [kg/m³] from the numbers it prints.
    """
    carried, water = float(rng.choice(CARRIED)), int(rng.choice(DISHES))
    copper = float(rng.choice(COPPER))
    milligrams = carried * copper
    litres = (carried + water) * mL / L
    answer = milligrams / litres
    # as a learner writes it down, step by step
    milligrams_printed = round(milligrams, 2)
    litres_printed = round(litres, 4)
    return Question(
        "rinse",
        f"A board carries {carried:.1f} mL of used bath with {copper:.1f} g/L of copper into a "
        f"dish of {water} mL of clean water. How much copper does the rinse water then hold, in "
        "mg/L?",
        "mass per volume",
        "mg/L",
        answer * MG_PER_L,
        0.03,
        (
            (
                milligrams * MG_PER_L,
                "Those are the milligrams in the dish. Asked is how many are in a litre.",
            ),
            (
                copper,
                "That is still the bath. How much water is what it brings spread over?",
            ),
            (
                answer / 1000 * MG_PER_L,
                "Those are grams in a litre. A gram is a thousand milligrams.",
            ),
            (
                answer * carried / (carried + water) * MG_PER_L,
                "That is the second dish: you thinned it twice.",
            ),
        ),
        f"1 g/L is 1 mg in each mL. Carried: {carried:.1f} × {copper:.1f} = "
        f"{milligrams_printed:.2f} mg.\n"
        f"Spread over {carried:.1f} + {water} = {carried + water:.1f} mL, or "
        f"{litres_printed:.4f} L.\n"
        f"{milligrams_printed:.2f} ÷ {litres_printed:.4f} = {answer:.1f} mg/L. It is waste, clear "
        "as it looks.",
        given=f"{carried:.1f} mL; {copper:.1f} g/L; {water} mL",
    )


def rest_questions(seed: int) -> Sheet:
    """Ask a bottle that would burst or a rinse dish, why, back to copper; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in rest_questions(1)])
    ['rinse', 'why', 'reserve']
    """
    first = in_turn((pressure_question, rinse_question), seed, len(SETTINGS))
    return ask_sheet(seed, (first,), SETTINGS, earlier_reserve)
