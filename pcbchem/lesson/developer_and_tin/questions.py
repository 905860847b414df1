"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import L, mL, mol_per_L
from ...page.answers import Question
from ..review_questions import earlier_reserve
from ..sheet import Sheet, apart, ask_sheet, in_turn
from .why_questions import SETTINGS

LYE_GRAMS = np.arange(8, 25) / 10
"""Lye of the question [g]."""
VOLUMES = (120, 150, 180, 200, 240, 250)
"""Developer of the question [mL]: no stronger than one that is mixed."""
GRAMS_A_MOLE = 40.0
"""Mass of a mole of lye [g/mol], as the question has it."""
TIN = np.arange(60, 121, 5) / 10
"""Tin in the question's bath [mmol]."""
CARRIED = np.arange(10, 20) / 10
"""Etching bath that its board carries [mL]."""
PEROXIDE = np.arange(24, 35) / 20
"""Peroxide in that [mol/L]."""


@apart
def lye_question(rng: np.random.Generator) -> Question:
    """Ask how strong lye is, in mol/L.

    Parameters
    ----------
    rng : Generator
        Draws lye [g] and developer [mL].

    Returns
    -------
    Question
        Answer [mol/m³] from the numbers it prints: so little lye takes no room.
    """
    grams, volume = float(rng.choice(LYE_GRAMS)), int(rng.choice(VOLUMES))
    litres = volume * mL / L
    moles = grams / GRAMS_A_MOLE
    answer = moles / litres
    # as a learner writes it down, step by step
    moles_printed = round(moles, 4)
    return Question(
        "lye",
        f"Only worked out: a developer holds {grams:.1f} g of lye in {volume} mL. How strong is "
        f"it, in mol/L? 1 mol of lye, NaOH, weighs {GRAMS_A_MOLE:.1f} g.",
        "concentration",
        "mol/L",
        answer * mol_per_L,
        0.02,
        (
            (
                moles * mol_per_L,
                "Those are the moles in all of it. Asked is how many are in a litre.",
            ),
            (
                grams / litres * mol_per_L,
                "Those are grams in a litre. How many moles are they?",
            ),
            (
                moles * litres * mol_per_L,
                "You multiplied by the litres. Less water makes it stronger: divide.",
            ),
            (
                1 / answer * mol_per_L,
                "That is turned round: litres for a mole. Asked is moles for a litre.",
            ),
        ),
        f"In moles: {grams:.1f} ÷ {GRAMS_A_MOLE:.1f} = {moles_printed:.4f} mol.\n"
        f"In litres: {volume} ÷ 1000 = {litres:.3f} L.\n"
        f"{moles_printed:.4f} ÷ {litres:.3f} = {answer:.3f} mol/L. So weak a lye blinds: goggles.",
        given=f"{grams:.1f} g; {volume} mL",
    )


@apart
def tin_question(rng: np.random.Generator) -> Question:
    """Ask after how many boards that were not rinsed a tin bath is dead.

    Parameters
    ----------
    rng : Generator
        Draws tin [mmol], bath carried [mL] and its peroxide [mol/L].

    Returns
    -------
    Question
        Answer, boards [-], from the numbers it prints; the coating is left out.
    """
    tin = float(rng.choice(TIN))
    carried, peroxide = float(rng.choice(CARRIED)), float(rng.choice(PEROXIDE))
    killed = carried * peroxide
    answer = tin / killed
    # as a learner writes it down, step by step
    killed_printed = round(killed, 3)
    # a half is rounded up, as a learner does
    boards_printed = round(tin / killed_printed + 1e-9, 1)
    return Question(
        "tin",
        f"Only worked out: a tin bath holds {tin:.1f} mmol of tin. Each board comes not rinsed and "
        f"carries {carried:.1f} mL of etching bath with {peroxide:.2f} mol/L of peroxide into it. "
        "Each peroxide kills one tin. How many times as much tin does the bath hold as one such "
        "board kills? After so many boards it is gone. Leave out what stays on the boards.",
        "ratio",
        "",
        answer,
        0.03,
        (
            (1 / answer, "That is turned round: the share of the tin that one board kills."),
            (
                tin / carried,
                "You took the mL for mmol. How much peroxide is in them?",
            ),
            (
                tin / peroxide,
                "That is what one mL kills. How many does a board carry?",
            ),
            (2 * answer, "That is double: one peroxide kills one tin, not half of one."),
            (tin - killed, "That is the tin left after one board. Asked is how many times."),
        ),
        "1 mol/L is 1 mmol in each mL.\n"
        f"A board carries {carried:.1f} × {peroxide:.2f} = {killed_printed:.3f} mmol of peroxide, "
        "and kills as much tin.\n"
        f"{tin:.1f} ÷ {killed_printed:.3f} = {boards_printed:.1f} boards. Rinsed in two "
        "dishes, a board carries next to nothing.",
        given=f"{tin:.1f} mmol; {carried:.1f} mL; {peroxide:.2f} mol/L",
    )


def bath_questions(seed: int) -> Sheet:
    """Ask how strong lye is or how long tin lasts, why, back to copper; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in bath_questions(1)])
    ['tin', 'why', 'reserve']
    """
    first = in_turn((lye_question, tin_question), seed, len(SETTINGS))
    return ask_sheet(seed, (first,), SETTINGS, earlier_reserve)
