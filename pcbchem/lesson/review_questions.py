"""Questions that go back to earlier lessons: strength, copper and warmth, with numbers drawn at random."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps

import numpy as np

from ..common.units import (
    celsius,
    fahrenheit,
    gram,
    mL,
    mol_per_L,
    percent,
    to_celsius,
    to_fahrenheit,
)
from ..matter.properties import MOLAR_MASS
from ..matter.solution import Solution, mix
from ..page.answers import Question, written
from ..reaction.chemistry.heat import heat_of_etching
from ..reaction.chemistry.stoichiometry import capacity
from .workshop import tide_clock

ROOM = celsius(20)
ACID = percent(10)
"""The workshop's acid [kg/kg]: the questions hold mild mixtures only."""
TRIES = 50
"""How often numbers are drawn until a question's answer and slips stand apart [-]."""


@dataclass(frozen=True)
class Poured:
    """A mild bath in the workshop: `parts` of water, acid and peroxide [-], peroxide [% by weight], `volume` [m³]."""

    parts: tuple[float, float, float]
    peroxide: float
    volume: float

    def mixed(self) -> Solution:
        """The bath [kg, K], all poured at 20 °C."""
        unit = self.volume / sum(self.parts)
        water, acid, peroxide = self.parts
        return mix(
            Solution.of(volume=unit * water, T=ROOM),
            Solution.of(volume=unit * acid, T=ROOM, HCl=ACID),
            Solution.of(volume=unit * peroxide, T=ROOM, H2O2=percent(self.peroxide)),
        )

    def words(self) -> str:
        """As it is said: "1 part of water, 1 part of 10 % acid and 1½ parts of 6 % peroxide"."""
        named = zip(
            self.parts, ("water", "10 % acid", f"{self.peroxide:g} % peroxide"), strict=True
        )
        said = [
            f"{counted(part)} {'part' if part <= 1 else 'parts'} of {name}"
            for part, name in named
            if part
        ]
        return " and ".join([", ".join(said[:-1]), said[-1]])


def counted(number: float) -> str:
    """A whole or half number as people write it: "1½" [-]."""
    whole, half = divmod(number, 1)
    return f"{whole:g}" * (whole > 0 or not half) + "½" * (half > 0)


def stands_apart(question: Question) -> bool:
    """Whether answer and slips lie so far from one another that what is written can be only one of them."""
    values = [question.answer, *(value for value, _ in question.slips)]
    return all(
        abs(value - other) > question.margin(value) + question.margin(other)
        for place, value in enumerate(values)
        for other in values[:place]
    )


def apart(
    ask: Callable[[np.random.Generator], Question],
) -> Callable[[np.random.Generator], Question]:
    """A function that asks with new numbers until answer and slips stand apart, so that no hint is lost."""

    @wraps(ask)
    def asks(rng: np.random.Generator) -> Question:
        for _ in range(TRIES):
            if stands_apart(question := ask(rng)):
                return question
        raise RuntimeError(f"{ask.__name__}: answer and slips never stood apart in {TRIES} draws")

    return asks


@apart
def strength_question(rng: np.random.Generator) -> Question:
    """How strong is the acid in a mixture, in mol/L? Goes back to the lesson on bottles.

    Parameters
    ----------
    rng : Generator
        Draws the parts [-] and the peroxide [% by weight].

    Returns
    -------
    Question
        Answer [mol/m³] by `mix`.
    """
    water, peroxide = (float(rng.choice(choice)) for choice in ((0, 0.5, 1, 1.5, 2), (1, 1.5, 2)))
    bath = Poured((water, 1.0, peroxide), float(rng.choice((3, 6, 9, 12))), 150 * mL)
    bottle = Solution.of(volume=mL, T=ROOM, HCl=ACID)
    density, answer = float(bottle.density), float(bath.mixed().concentration("HCl"))
    by_volume = answer * 1000 / density
    parts = sum(bath.parts)
    undiluted = float(bottle.concentration("HCl"))
    without = " and ".join(["the acid", *(["the water"] * (water > 0))])
    shown = round(undiluted / mol_per_L, 2)
    return Question(
        "strength",
        f"The workshop mixes {bath.words()}, by volume. How strong is the acid in the mixture, in "
        "mol/L? Give three digits.\n"
        f"10 % is by weight. 1 L of this acid weighs {density:.0f} g, and 1 mol of HCl weighs "
        f"{MOLAR_MASS['HCl'] / gram:.2f} g.",
        "concentration",
        "mol/L",
        answer,
        0.02,
        (
            (
                by_volume,
                "You took 10 % by weight for 10 g in 100 mL. By weight means 10 g in 100 g of acid, and 100 mL of "
                "this acid weighs more than 100 g.",
            ),
            (
                undiluted / (1 + water),
                "You forgot the water that is already in the peroxide: weak peroxide is mostly "
                "water, so its parts dilute the acid too.",
            ),
            *([(undiluted, "That is the bottle. Over how many parts is it spread?")] * (water > 0)),
        ),
        f"1 L of 10 % acid weighs {density:.0f} g, and a tenth of that is HCl: {density / 10:.1f} g.\n"
        f"In moles: {density / 10:.1f} ÷ {MOLAR_MASS['HCl'] / gram:.2f} = {shown:.2f} mol in a litre.\n"
        f"The 1 part of acid ends up in {counted(parts)} parts of mixture. The peroxide counts whole, because it is "
        f"mostly water; {without} alone would be {counted(1 + water)}.\n"
        f"{shown:.2f} ÷ {parts:g} = {written(shown / parts * mol_per_L, 'concentration', 'mol/L')}.",
        "what is in the bottle",
    )


@apart
def copper_question(rng: np.random.Generator) -> Question:
    """How much copper can the acid of a bath carry, in grams?

    Parameters
    ----------
    rng : Generator
        Draws the parts [-] and the volume [m³].

    Returns
    -------
    Question
        Answer [kg] by `capacity`; the acid is what limits these baths.
    """
    bath = Poured(
        (float(rng.choice((0, 0.5, 1, 1.5))), 1.0, 1.0),
        float(rng.choice((9, 12))),
        10 * mL * int(rng.integers(10, 21)),
    )
    mixture = bath.mixed()
    copper, M = float(capacity(mixture)), MOLAR_MASS["Cu"]
    acid, volume = float(mixture.concentration("HCl")) / mol_per_L, bath.volume / mL
    moles = round(round(acid, 2) * bath.volume * 1000, 3)
    half, weighs = round(moles / 2, 4), round(M / gram, 1)
    twice = "Each copper takes two acid, one for each of its two charges: Cu + H₂O₂ + 2 H⁺ → Cu²⁺ + 2 H₂O."
    return Question(
        "copper",
        f"A tray holds {volume:.0f} mL of etching bath with {acid:.2f} mol/L of acid and peroxide to spare. "
        "How much copper can its acid carry, in grams?\nThe reaction is Cu + H₂O₂ + 2 H⁺ → Cu²⁺ + 2 H₂O. 1 mol of "
        f"copper weighs {M / gram:.1f} g.",
        "mass",
        "g",
        copper * M,
        0.03,
        (
            (2 * copper * M, f"That is twice too much: you gave each copper one acid. {twice}"),
            (4 * copper * M, f"You turned the two round: two copper for one acid. {twice}"),
            (copper * M / 2, f"That is half: you divided by two twice. {twice}"),
        ),
        f"Acid in the tray: {acid:.2f} mol/L × {bath.volume * 1000:.2f} L = {moles:.3f} mol.\n"
        f"Each copper takes two acid: {moles:.3f} ÷ 2 = {half:.4f} mol of copper.\n"
        f"{half:.4f} mol × {weighs:.1f} g/mol = {half * weighs:.1f} g.\n"
        f"The workshop's board has {float(tide_clock().copper) * M / gram:.1f} g of copper to etch away.",
        "what the reaction uses up",
    )


@apart
def warmth_question(rng: np.random.Generator) -> Question:
    """How warm does a bath get by the etching if no heat is lost, in °C, from a thermometer in °F?

    Parameters
    ----------
    rng : Generator
        Draws the volume [m³] and the temperature at the start [K].

    Returns
    -------
    Question
        Answer [K] by `heat_of_etching` and the heat capacity of the bath.
    """
    start = float(fahrenheit(float(rng.choice((59, 63, 66, 68, 72, 75)))))
    bath = Poured((0.0, 1.0, 1.0), 12.0, 10 * mL * int(rng.integers(10, 16)))
    mixture = bath.mixed()
    copper, M = float(tide_clock().copper), MOLAR_MASS["Cu"]
    heat, takes = float(heat_of_etching(copper)), float(mixture.mass * mixture.heat_capacity)
    rise = heat / takes
    shown, begun, volume = float(to_fahrenheit(start)), float(to_celsius(start)), bath.volume / mL
    per_gram, per_mL = heat / (copper * M / gram) / 1000, takes / volume
    freed = round(round(copper * M / gram, 2) * round(per_gram, 2), 2)
    whole, begins = round(volume * round(per_mL, 2)), round(begun, 1)
    warmer = round(1000 * freed / whole, 1)
    return Question(
        "warmth",
        f"The workshop's thermometer shows {shown:.0f} °F. In {volume:.0f} mL of a mild bath the workshop's "
        f"board loses {copper * M / gram:.2f} g of copper. How warm is the bath at the end from the copper alone, if "
        "no heat is lost, in °C?\n"
        f"Each gram of copper sets {per_gram:.2f} kJ free. To warm 1 mL of this bath by 1 °C takes {per_mL:.2f} J.",
        "temperature",
        "°C",
        start + rise,
        1.0,
        (
            (
                float(celsius(shown + rise)),
                f"You took the thermometer's {shown:.0f} for °C. It shows °F: subtract 32, "
                "then divide by 1.8.",
            ),
            (
                float(celsius(shown + 1.8 * rise)),
                "That is right in °F. The question asks for °C: subtract 32, then divide by 1.8; or write °F after it.",
            ),
            (
                float(celsius(shown / 1.8 + rise)),
                "You divided the °F by 1.8 and forgot to subtract 32 first.",
            ),
            (
                start + rise / 1.8,
                "You took the rise for °F. It comes out in °C already, because the bath takes so much "
                "heat for each °C.",
            ),
            (
                float(celsius(rise)),
                "That is by how much it gets warmer. Add it to where the bath starts.",
            ),
        ),
        f"Start: ({shown:.0f} − 32) ÷ 1.8 = {begins:.1f} °C.\n"
        f"Heat set free: {copper * M / gram:.2f} g × {per_gram:.2f} kJ/g = {freed:.2f} kJ, or {1000 * freed:.0f} J.\n"
        f"To warm the whole bath by 1 °C takes {volume:.0f} mL × {per_mL:.2f} J/mL = {whole} J.\n"
        f"Rise: {1000 * freed:.0f} ÷ {whole} = {warmer:.1f} °C. "
        f"End: {begins:.1f} + {warmer:.1f} = {begins + warmer:.1f} °C.\n"
        "A real tray loses some of that heat, but the peroxide that falls apart adds more: a bath may get warmer than "
        "this, most of all after the board is out. Never take it as the warmest.",
        "how warm a bath gets",
    )


EARLIER = (warmth_question, strength_question, copper_question)
"""Those that go back to an earlier lesson, in turn."""
