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
    # as a learner writes it down: a tenth of a mL times hundredths of a mole, nothing is rounded
    acid_there, peroxide_there = room * acid, room * peroxide
    by_acid, by_peroxide = acid_there / (2 * copper), peroxide_there / copper
    answer = min(by_acid, by_peroxide)
    name, other = ("acid", "peroxide") if acid_first else ("peroxide", "acid")
    return Question(
        "reserve",
        f"Over bare copper stand {room:.1f} mL per cm² of bath (only worked out). It holds "
        f"{acid:.2f} mol/L of acid "
        f"and {peroxide:.2f} mol/L of peroxide. On each cm² lie {copper:.3f} mmol of copper. "
        "How many times over could the bath carry this copper?\n"
        "1 mol/L is 1 mmol in each mL.",
        "ratio",
        "",
        answer,
        0.03,
        reserve_slips(room * acid / copper, room * peroxide / copper),
        f"Two acid for each copper: 2 × {copper:.3f} = {2 * copper:.3f} mmol on each cm².\n"
        f"Acid there: {room:.1f} × {acid:.2f} = {acid_there:.3f} mmol. "
        f"{acid_there:.3f} ÷ {2 * copper:.3f} = {by_acid:.2f} times.\n"
        f"Peroxide there: {room:.1f} × {peroxide:.2f} = {peroxide_there:.3f} mmol, one for each "
        f"copper. {peroxide_there:.3f} ÷ {copper:.3f} = {by_peroxide:.2f} times.\n"
        f"The {name} runs out first, the {other} is left over: {answer:.2f} times over.",
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
        # where peroxide runs out first one acid or two changes nothing
        slips.append((min(acid, peroxide), f"You gave each copper one acid. {TWO_ACID}."))
    else:
        slips.append(
            (acid, f"That is the acid, one for each copper. {TWO_ACID}. Then take the smaller.")
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
