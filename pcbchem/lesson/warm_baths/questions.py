"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import celsius
from ...page.answers import Question
from ..review_questions import earlier_reserve
from ..sheet import Sheet, apart, ask_sheet
from .numbers import by_hand
from .why_questions import SETTINGS

LEFT = np.arange(30, 111, 5) / 100
"""Peroxide left in the question on the ceiling [mol/L]: of mild baths."""
STARTS = np.arange(18, 33)
"""How warm its bath is when the board comes out [°C]."""
ETCHING = 316.0
"""Heat that a mole of copper sets free as it dissolves [kJ]: a slip."""


@apart
def ceiling_question(rng: np.random.Generator) -> Question:
    """Ask how warm a used bath could get at the most.

    Parameters
    ----------
    rng : Generator
        Draws the peroxide left [mol/L], and how warm it is [°C].

    Returns
    -------
    Question
        Answer [K] from the numbers it prints.
    """
    left, start = float(rng.choice(LEFT)), float(rng.choice(STARTS))
    each, warms = by_hand().each, by_hand().warms
    heat = left * each
    rise = heat / warms
    return Question(
        "ceiling",
        f"A board comes out of its bath at {start:.0f} °C. {left:.2f} mol/L of peroxide is left. "
        "How warm does the bath get if all of it falls apart and no heat is lost, in °C?\n"
        f"Each mole of peroxide sets {each:.1f} kJ free when it falls apart. To warm a litre of "
        f"this bath by 1 °C takes {warms:.2f} kJ.",
        "temperature",
        "°C",
        float(celsius(start + rise)),
        1.0,
        ceiling_slips(start, left, each, warms),
        f"In each litre: {left:.2f} mol × {each:.1f} kJ/mol = {heat:.1f} kJ.\n"
        f"Rise: {heat:.1f} ÷ {warms:.2f} = {rise:.1f} °C.\n"
        f"End: {start:.0f} + {rise:.1f} = {start + rise:.1f} °C. A real tray loses heat on the "
        "way. It is no temperature to count on: etching goes on top of it while a board is in.",
        "",
        given=f"{left:.2f} mol/L; {start:.0f} °C",
    )


def ceiling_slips(
    start: float, left: float, each: float, warms: float
) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [K].

    Parameters
    ----------
    start : float
        How warm the bath is [°C].
    left : float
        Its peroxide [mol/L].
    each : float
        Heat of a mole of it [kJ].
    warms : float
        Heat that warms a litre by a degree [kJ].
    """
    rise = left * each / warms
    return (
        (
            float(celsius(rise)),
            "That is by how much it gets warmer. Add it to where the bath starts.",
        ),
        (
            float(celsius(start + each / warms)),
            "That is the rise of 1 mol/L. Take it times the peroxide that is left.",
        ),
        (
            float(celsius(start + left * ETCHING / warms)),
            f"You took {ETCHING:.0f} kJ, the heat of a mole of copper. Here peroxide falls apart "
            "by itself.",
        ),
        (
            float(celsius(start + rise / 2)),
            "You halved it, as for the oxygen. The heat is given for each mole of peroxide.",
        ),
    )


def warm_questions(seed: int) -> Sheet:
    """Ask how warm at the most, why, back to copper; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in warm_questions(1)])
    ['ceiling', 'why', 'reserve']
    """
    return ask_sheet(seed, (ceiling_question,), SETTINGS, earlier_reserve)
