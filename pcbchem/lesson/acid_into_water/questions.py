"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import celsius, to_celsius
from ...page.answers import Question
from ..review_questions import volumes_question
from ..sheet import Sheet, apart, ask_sheet
from .numbers import ByHand, by_hand
from .why_questions import PARTS, SETTINGS

STRONG = (31.45, 33.0, 35.0, 37.0)
"""Acids of the question on warmth [% by weight]: of a mild one too little warms to tell slips."""
WATER = np.arange(3, 13) / 2
"""Parts of water to one of such acid [-]."""
PRINTED = (31.45, 3.0)
"""The acid and the water of which the page prints the rise: never asked for."""
STARTS = (20, 21, 22, 23, 24)
"""How warm both may be at first [°C]: near the temperature for which the heats are listed."""
HOTTEST = 120.0
"""A slip that leads beyond this leads to no temperature of a jug [°C]."""


@apart
def rise_question(rng: np.random.Generator) -> Question:
    """Ask how warm a mixture of acid and water is, from the heat that each mole sets free.

    Parameters
    ----------
    rng : Generator
        Draws the acid [% by weight], the water [parts] and the temperature at the start [°C].

    Returns
    -------
    Question
        Answer [K] from the numbers it prints, for a litre of the mixture: nothing is poured.
    """
    acid = float(rng.choice(STRONG))
    choices = WATER[WATER != PRINTED[1]] if acid == PRINTED[0] else WATER
    parts = float(rng.choice(choices))
    start = int(rng.choice(STARTS))
    exact = by_hand(acid, parts, celsius(start))
    # a learner works with what is printed
    hand = ByHand(
        round(exact.bottle, 1),
        round(exact.moles, 2),
        round(exact.heat, 2),
        round(exact.per_degree, 2),
        exact.rise,
    )
    freed = hand.moles * hand.heat
    rise = freed / hand.per_degree
    # as a learner writes it down, step by step
    first, second = round(freed, 1), round(round(freed, 1) / hand.per_degree, 1)
    model = float(to_celsius(celsius(start) + exact.rise))
    return Question(
        "rise",
        f"Strong acid of {hand.bottle:g} mol/L goes into water, both at {start} °C (only worked "
        f"out, never mixed here). The mixture holds {hand.moles:.2f} mol in a litre, and each mole "
        f"has set {hand.heat:.2f} kJ free. A litre of it takes {hand.per_degree:.2f} kJ for each "
        "°C. How warm does it get, if no heat is lost?",
        "temperature",
        "°C",
        celsius(start + rise),
        0.6,
        rise_slips(start, hand),
        f"Heat from a litre of mixture: {hand.moles:.2f} mol × {hand.heat:.2f} kJ = {first:.1f} "
        "kJ.\n"
        f"Rise: {first:.1f} kJ ÷ {hand.per_degree:.2f} kJ = {second:.1f} °C.\n"
        f"End: {start} °C + {second:.1f} °C = {start + second:.1f} °C.\n"
        f"Water into the acid, wrong, would end as warm, after strong acid all the way. The "
        "package "
        f"says {model:.1f} °C: it also counts "
        "that these heats are listed for another temperature.",
        given=f"{hand.moles:.2f} mol; {start} °C",
    )


def rise_slips(start: float, hand: ByHand) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [K], from the start [°C] and the numbers by hand."""
    rise = hand.moles * hand.heat / hand.per_degree
    slips = (
        (rise, "That is by how much it gets warmer. Add it to where both start."),
        (
            start + hand.bottle * hand.heat / hand.per_degree,
            "You took the bottle's mol/L. It is the mixture that gets warm: how much acid does a "
            "litre of that hold?",
        ),
        (
            start + hand.heat / hand.per_degree,
            "You counted one mole. A litre of the mixture holds more of them, and each sets that "
            "much free.",
        ),
        (
            start + hand.moles * hand.heat,
            "Those are kJ, not °C. How many °C do they warm a litre? Divide by the kJ for each.",
        ),
        (
            start - rise,
            "You took the rise away. Diluting this acid sets heat free: it gets warmer.",
        ),
    )
    return tuple((float(celsius(value)), hint) for value, hint in slips if value < HOTTEST)


def pouring_questions(seed: int) -> Sheet:
    """Ask how warm, why, and a question that goes back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in pouring_questions(1)])
    ['rise', 'why', 'volumes']
    """
    return ask_sheet(seed, (rise_question,), SETTINGS, volumes_question, PARTS)
