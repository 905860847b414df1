"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...page.answers import Question
from ...page.why import WhyQuestion
from ...reaction.bath.setup import Foil
from ..review_questions import apart, generator, strength_question
from .why_questions import why_question

OUNCES = (0.5, 1.0, 2.0)
"""Foils of the question on the reserve [oz/ft²]."""
ROOMS = np.arange(30, 91) / 10
"""Bath over bare copper in it [mL/cm²]."""
ACIDS = np.arange(60, 151, 2) / 100
"""Strengths of its acid [mol/L]."""
TWO_ACID = "Each copper takes two acid and one peroxide"


@apart
def reserve_question(rng: np.random.Generator) -> Question:
    """Ask how many times over a bath could carry the copper under it.

    Parameters
    ----------
    rng : Generator
        Draws foil [oz/ft²], bath [mL/cm²], both strengths [mol/L], and what runs out first.

    Returns
    -------
    Question
        Answer [-] from the numbers it prints.
    """
    foil = Foil.ounces(float(rng.choice(OUNCES)))
    # mol/m² to mmol/cm²
    copper = round(float(foil.amount) / 10, 3)
    room, acid = float(rng.choice(ROOMS)), float(rng.choice(ACIDS))
    # a peroxide more than the acid, or less than half of it: no slip is hidden by another
    acid_first = bool(rng.integers(2))
    low, high = (1.15, 1.85) if acid_first else (0.25, 0.42)
    peroxide = round(acid * float(rng.uniform(low, high)), 2)
    # as a learner writes it down, step by step
    acid_there, peroxide_there = round(room * acid, 2), round(room * peroxide, 2)
    by_acid = round(acid_there / 2, 3)
    scarce = min(by_acid, peroxide_there)
    answer = min(room * acid / 2, room * peroxide) / copper
    name, other = ("acid", "peroxide") if acid_first else ("peroxide", "acid")
    return Question(
        "reserve",
        f"Over bare copper stand {room:.1f} mL per cm² of bath. It holds {acid:.2f} mol/L of acid "
        f"and {peroxide:.2f} mol/L of peroxide. On each cm² lie {copper:.3f} mmol of copper. "
        "How many times over could the bath carry this copper?\n"
        "1 mol/L is 1 mmol in each mL.",
        "ratio",
        "",
        answer,
        0.03,
        reserve_slips(room * acid / copper, room * peroxide / copper),
        f"Acid: {room:.1f} × {acid:.2f} = {acid_there:.2f} mmol on each cm².\n"
        f"Each copper takes two of them: {acid_there:.2f} ÷ 2 = {by_acid:.3f} mmol of copper.\n"
        f"Peroxide: {room:.1f} × {peroxide:.2f} = {peroxide_there:.2f} mmol, one for each copper.\n"
        f"The {name} runs out first; the {other} is left over.\n"
        f"{scarce:g} ÷ {copper:.3f} = {scarce / copper:.2f} times over.",
        given=f"{room:.1f} mL per cm²; {acid:.2f}, {peroxide:.2f} mol/L; {copper:.3f}",
    )


def reserve_slips(acid: float, peroxide: float) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [-], from each reagent over the copper, as it is [-]."""
    right = min(acid / 2, peroxide)
    slips = [
        (
            max(acid / 2, peroxide),
            "That is what the other one could carry. What runs out first decides: take the "
            "smaller.",
        ),
        (
            acid / 2 + peroxide,
            "You added the two. They do not stand in for each other: each copper needs both.",
        ),
        (
            min(acid, peroxide / 2),
            f"You turned the two round. {TWO_ACID}.",
        ),
        (1 / right, "You divided the copper by what the bath can carry. Divide the other way."),
    ]
    if acid / 2 < peroxide:
        # where peroxide runs out first the acid's half changes nothing
        slips.append((min(acid, peroxide), f"You did not halve the acid. {TWO_ACID}."))
    else:
        slips.append(
            (acid, f"That is the acid, and not halved. {TWO_ACID}. Then take the smaller.")
        )
    return tuple(slips)


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
    return [reserve_question(rng), why_question(rng, int(seed)), strength_question(rng)]
