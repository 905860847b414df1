"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

import numpy as np

from ...bench.bottle.titration import ACID_PER_SODA, SODA
from ...common.units import gram, mol_per_L
from ...page.answers import Question, answer_words
from ..review_questions import strength_question
from ..sheet import Sheet, apart, ask_sheet, in_turn
from .why_questions import SETTINGS

GAS = 24.0
"""One mole of any gas at 20 °C, as the question says it [L/mol]."""
PEROXIDE_PER_GAS = 2
"""Peroxide that gives one oxygen [mol/mol]."""
LOWS = np.arange(20, 60) / 10
"""Low ends of the question about bands, before any offcut [min]."""
WIDTHS = np.arange(17, 31) / 10
"""High over low before any offcut [-]."""
SHARES = np.arange(30, 66) / 100
"""How much of that is left as a logarithm [-], and where in the old band the new one begins."""
SODAS = np.arange(150, 260, 10) / 1000
"""Washing soda of the question [g]."""
ACIDS = np.arange(80, 161) / 10
"""Diluted acid that it takes [mL]."""
ACID_DILUTIONS, PEROXIDE_DILUTIONS = (4, 5, 6), (3, 4, 5)
"""How many times its volume a bottle's sample was diluted to [-]: from mild bottles."""
OXYGENS = np.arange(40, 101) / 10
"""Gas of the question [mL]: of at most 1 mL of 3 %, as the method wants it."""


@apart
def band_question(rng: np.random.Generator) -> Question:
    """Ask how many times narrower a band has become, as high end over low end.

    Parameters
    ----------
    rng : Generator
        Draws both bands [min].

    Returns
    -------
    Question
        Answer [-] from the numbers it prints.
    """
    low = float(rng.choice(LOWS))
    old_width = float(rng.choice(WIDTHS))
    high = round(low * old_width, 1)
    left = float(rng.choice(SHARES))
    new_low = round(low * old_width ** (0.5 * (1 - left)), 1)
    new_high = round(new_low * old_width**left, 1)
    before, after = round(high / low, 2), round(new_high / new_low, 2)
    answer = (high / low) / (new_high / new_low)
    return Question(
        "band",
        f"By the labels a board takes {low:.1f} to {high:.1f} min, by some offcuts {new_low:.1f} "
        f"to {new_high:.1f} min. For each band divide the high end by the low end: that has no "
        "unit. How many times as large is the first of the two as the second?",
        "ratio",
        "",
        answer,
        0.03,
        (
            (
                (high - low) / (new_high - new_low),
                "You compared differences. Divide the high end by the low end, for each band.",
            ),
            (new_high / new_low, "That is the new band alone. How does it compare with the old?"),
            (high / low, "That is the old band alone. How does it compare with the new?"),
            (1 / answer, "You divided the wrong way round: the old band is the wider one."),
        ),
        f"Before: {high:.1f} ÷ {low:.1f} = {before:.2f}.\n"
        f"After: {new_high:.1f} ÷ {new_low:.1f} = {after:.2f}.\n"
        f"{before:.2f} ÷ {after:.2f} = {before / after:.2f} times narrower.",
        given=f"{low:.1f}, {high:.1f}; {new_low:.1f}, {new_high:.1f} min",
    )


@apart
def soda_question(rng: np.random.Generator) -> Question:
    """Ask how strong acid is by the washing soda that it takes.

    Parameters
    ----------
    rng : Generator
        Draws soda [g], acid [mL] and dilution [-].

    Returns
    -------
    Question
        Answer [mol/m³] from the numbers it prints.
    """
    soda, acid = float(rng.choice(SODAS)), float(rng.choice(ACIDS))
    dilution = int(rng.choice(ACID_DILUTIONS))
    molar = round(SODA / gram)
    # as a learner writes it down, step by step
    moles = round(1000 * soda / molar, 3)
    in_flask = ACID_PER_SODA * 1000 * soda / molar / acid
    answer = in_flask * dilution * mol_per_L
    flask_words = answer_words(in_flask * mol_per_L, "concentration", "mol/L")
    return Question(
        "soda",
        "A bottle is measured by what it reacts with, counted in moles. "
        f"Acid was diluted to {dilution} times its volume. Dry washing soda, {soda:.3f} g of it, "
        f"took {acid:.1f} mL of that. 1 mol of soda weighs {molar} g and takes "
        f"{ACID_PER_SODA:g} mol of acid. How strong is the acid in its bottle, in mol/L? Give "
        "three digits.",
        "concentration",
        "mol/L",
        answer,
        0.02,
        (
            (answer / ACID_PER_SODA, "One soda takes two of acid."),
            (answer / dilution, "That is the diluted acid. How strong is the bottle?"),
            (
                answer / dilution / ACID_PER_SODA,
                "One soda takes two of acid, and the bottle is stronger than what was diluted.",
            ),
            (answer / dilution**2, "Diluted means weaker: the bottle is stronger, so multiply."),
        ),
        f"Soda: {1000 * soda:.0f} mg ÷ {molar} g/mol = {moles:.3f} mmol.\n"
        f"It took {ACID_PER_SODA:g} × {moles:.3f} = {ACID_PER_SODA * moles:.3f} mmol of acid.\n"
        f"In {acid:.1f} mL: {ACID_PER_SODA * moles:.3f} ÷ {acid:.1f} = {flask_words}.\n"
        f"In the bottle {dilution} times that: {answer_words(answer, 'concentration', 'mol/L')}.",
        given=f"{soda:.3f} g; {acid:.1f} mL; {dilution}",
    )


@apart
def gas_question(rng: np.random.Generator) -> Question:
    """Ask how strong peroxide is by the oxygen that it gives off.

    Parameters
    ----------
    rng : Generator
        Draws gas [mL] and dilution [-].

    Returns
    -------
    Question
        Answer [mol/m³] from the numbers it prints.
    """
    gas, dilution = float(rng.choice(OXYGENS)), int(rng.choice(PEROXIDE_DILUTIONS))
    moles = round(gas / GAS, 3)
    in_sample = PEROXIDE_PER_GAS * gas / GAS
    answer = in_sample * dilution * mol_per_L
    return Question(
        "gas",
        "A bottle is measured by what comes out of it, counted in moles. "
        f"Peroxide was diluted to {dilution} times its volume. From 1 mL of that came {gas:.1f} mL "
        f"of oxygen. 1 mol of gas is {GAS:g} L here, and {PEROXIDE_PER_GAS} H2O2 give one O2. How "
        "strong is the peroxide in its bottle, in mol/L? Give three digits.",
        "concentration",
        "mol/L",
        answer,
        0.02,
        (
            (answer / PEROXIDE_PER_GAS, "That is oxygen. Two of peroxide give one of it."),
            (answer / PEROXIDE_PER_GAS**2, "Two of peroxide give one oxygen: multiply by two."),
            (answer / dilution, "That is the diluted peroxide. How strong is the bottle?"),
            (answer / dilution**2, "Diluted means weaker: the bottle is stronger, so multiply."),
        ),
        f"Oxygen: {gas:.1f} mL ÷ {GAS:g} L/mol = {moles:.3f} mmol.\n"
        f"Peroxide: {PEROXIDE_PER_GAS} × {moles:.3f} = {PEROXIDE_PER_GAS * moles:.3f} mmol in 1 "
        f"mL, so {PEROXIDE_PER_GAS * moles:.3f} mol/L.\n"
        f"In the bottle {dilution} times that: {answer_words(answer, 'concentration', 'mol/L')}.",
        given=f"{gas:.1f} mL; {dilution}",
    )


def offcut_questions(seed: int) -> Sheet:
    """Ask how much narrower, how strong by soda or by gas, why, back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in offcut_questions(1)])
    ['band', 'gas', 'why', 'strength']
    """
    reading = in_turn((soda_question, gas_question), seed)
    return ask_sheet(seed, (band_question, reading), SETTINGS, strength_question)
