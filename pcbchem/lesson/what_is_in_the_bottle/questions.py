"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import dataclasses

import numpy as np

from ...common.units import percent
from ...matter.solution import Solution
from ...page.answers import Question, answer_words
from ..review_questions import ACID, ROOM, half_words, strength_question
from ..sheet import Sheet, apart, ask_sheet
from .why_questions import SETTINGS

PEROXIDES = np.arange(6, 25) / 2
"""Strengths of the peroxide that is asked about [% by weight]."""


@apart
def dry_question(rng: np.random.Generator) -> Question:
    """Ask how much of a mixture of two bottles is not water, in % by weight.

    Parameters
    ----------
    rng : Generator
        Draws the parts [-] and the peroxide [% by weight].

    Returns
    -------
    Question
        Answer [kg/kg] from the weights of a litre that it prints.
    """
    acid, peroxide = (float(part) / 2 for part in rng.integers(2, 7, size=2))
    strength = float(rng.choice(PEROXIDES))
    # a litre each, as a learner weighs it
    heavy = round(float(Solution.of(volume=1.0, T=ROOM, HCl=ACID).density))
    light = round(float(Solution.of(volume=1.0, T=ROOM, H2O2=percent(strength)).density))
    whole = acid * heavy + peroxide * light
    HCl, H2O2 = acid * heavy * ACID, peroxide * light * percent(strength)
    # as a learner writes it down, step by step
    of_acid, of_peroxide = acid * heavy, peroxide * light
    in_acid, in_peroxide = round(of_acid * 0.1, 1), round(of_peroxide * strength / 100, 1)
    dry = round(in_acid + in_peroxide, 1)
    result = answer_words(dry / whole, "share", "%")
    return Question(
        "dry",
        f"A mixture: {half_words(acid)} {parts(acid)} of 10 % acid and {half_words(peroxide)} "
        f"{parts(peroxide)} of {strength:g} % peroxide, by volume, no water poured in (only "
        "worked out). How much of it is not water, but HCl and H₂O₂ together, in % by weight?\n"
        f"A litre of this acid weighs {heavy} g, a litre of this peroxide {light} g.",
        "share",
        "%",
        (HCl + H2O2) / whole,
        0.015,
        (
            (HCl / whole, "That is the HCl alone. The peroxide's H₂O₂ is not water either."),
            (H2O2 / whole, "That is the H₂O₂ alone. The acid's HCl is not water either."),
            (
                ACID + percent(strength),
                "You added both strengths. Each is a share of its own bottle, not of the whole.",
            ),
            (1 - (HCl + H2O2) / whole, "That is the water. The rest is asked for."),
        ),
        f"Weigh the parts. Acid: {acid:g} × {heavy} = {of_acid:g} g. Peroxide: {peroxide:g} × "
        f"{light} = {of_peroxide:g} g. Together {whole:g} g.\n"
        f"HCl: {of_acid:g} × 0.1 = {in_acid:g} g.\n"
        f"H₂O₂: {of_peroxide:g} × {strength / 100:g} = {in_peroxide:g} g.\n"
        f"Both: {in_acid:g} + {in_peroxide:g} = {dry:g} g of {whole:g} g, that is {result}. "
        "(A litre of either weighs nearly the same, so the mean of the labels, by parts, comes "
        "near.)",
        given=f"{half_words(acid)} : {half_words(peroxide)}; {strength:g} %",
    )


def parts(number: float) -> str:
    """Return "part" or "parts", by how many there are [-]."""
    return "part" if number <= 1 else "parts"


def own_strength(rng: np.random.Generator) -> Question:
    """Ask `strength_question` [mol/m³] where it is this lesson's own: it goes back to none."""
    return dataclasses.replace(strength_question(rng), from_lesson="")


def bottle_questions(seed: int) -> Sheet:
    """Ask how strong, how much is not water, why; no lesson comes before; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in bottle_questions(1)])
    ['strength', 'dry', 'why']
    """
    return ask_sheet(seed, (own_strength, dry_question), SETTINGS)
