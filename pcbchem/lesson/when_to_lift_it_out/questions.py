"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...common.units import mm, um
from ...page.answers import Question, answer_words
from ..review_questions import strength_question
from ..sheet import Sheet, apart, ask_sheet
from .why_questions import SETTINGS

WIDTHS = np.arange(15, 41) / 100
"""Traces of the question, as drawn [mm]."""
FOILS = (17, 34, 51, 68)
"""Its foils, of ½ to 2 oz [µm]."""
FACTORS = np.arange(11, 26) / 10
"""Its etch factors [-]."""
OVERS = (20, 25, 30, 40, 50, 60)
"""How much longer the board stays in than it needs [%]."""
LEAST_LEFT = 0.3
"""So much of the trace has to be left at least [share of what is drawn]."""


@apart
def width_question(rng: np.random.Generator) -> Question:
    """Ask what is left of a trace that is over-etched.

    Parameters
    ----------
    rng : Generator
        Draws width [mm], foil [µm], factor [-] and over-etch [%].

    Returns
    -------
    Question
        Answer [m] from the numbers it prints.
    """
    drawn, foil, factor, over = drawn_numbers(rng)
    depth = foil * (100 + over) / 100
    each = depth / factor
    answer = 1000 * drawn - 2 * each
    # as a learner writes it down, step by step
    depth_printed = round(depth, 1)
    each_printed = round(depth_printed / factor, 1)
    both = round(2 * each_printed, 1)
    left = round(1000 * drawn - both, 1)
    return Question(
        "width",
        f"A trace is drawn {drawn:.2f} mm wide on foil {foil} µm thick. Downwards the bath etches "
        f"{factor:.1f} times as fast as sideways. The board stays in {over} % longer than it takes "
        "to clear. How wide is the copper just under the resist, in mm? Give three decimals.",
        "length",
        "mm",
        answer * um,
        0.02,
        width_slips(1000 * drawn, foil, factor, over),
        f"So deep the bath would have come: {foil} × {(100 + over) / 100:.2f} = "
        f"{depth_printed:.1f} µm.\n"
        f"Sideways, at each edge: {depth_printed:.1f} ÷ {factor:.1f} = {each_printed:.1f} µm.\n"
        f"At both edges: 2 × {each_printed:.1f} = {both:.1f} µm.\n"
        f"Left: {1000 * drawn:.0f} − {both:.1f} = {left:.1f} µm, or "
        f"{answer_words(left * um, 'length', 'mm')}.",
        given=f"{drawn:.2f} mm; {foil} µm; {factor:.1f}; {over} %",
    )


def drawn_numbers(rng: np.random.Generator) -> tuple[float, int, float, int]:
    """Draw width [mm], foil [µm], factor [-], over-etch [%] until enough of the trace is left."""
    while True:
        drawn, foil = float(rng.choice(WIDTHS)), int(rng.choice(FOILS))
        factor, over = float(rng.choice(FACTORS)), int(rng.choice(OVERS))
        left = 1000 * drawn - 2 * foil * (1 + over / 100) / factor
        if left > LEAST_LEFT * 1000 * drawn:
            return drawn, foil, factor, over


def width_slips(
    drawn: float, foil: float, factor: float, over: float
) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [m], from width and foil [µm], factor [-], over-etch [%]."""
    depth = foil * (1 + over / 100)
    slips = [
        (drawn - depth / factor, "That is one edge. The bath comes from both sides."),
        (
            drawn - 2 * foil / factor,
            "That is the width when it clears. It went on sideways after that.",
        ),
        (2 * depth / factor, "That is what it has lost. How much is left?"),
        (drawn - 2 * depth, "You took it to etch sideways as fast as down. Divide by the factor."),
    ]
    if drawn > 2 * depth * factor:
        slips.append(
            (
                drawn - 2 * depth * factor,
                "You multiplied by the factor. Sideways is slower than down: divide.",
            )
        )
    return tuple((value * mm / 1000, hint) for value, hint in slips if value > 0)


def trace_questions(seed: int) -> Sheet:
    """Ask how wide, why, back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in trace_questions(1)])
    ['width', 'why', 'strength']
    """
    return ask_sheet(seed, (width_question,), SETTINGS, strength_question)
