"""Questions that go back to earlier lessons: bottles, copper, reserve and warmth, by a seed."""

from __future__ import annotations

from dataclasses import dataclass, replace

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
from ..matter.labels import MOLAR_GAS, mass_fraction_from
from ..matter.properties import MOLAR_MASS
from ..matter.solution import Solution, mix
from ..page.answers import Question, answer_words
from ..reaction.bath.setup import Foil
from ..reaction.chemistry.heat import heat_of_etching
from ..reaction.chemistry.stoichiometry import capacity
from .sheet import apart
from .workshop import tide_clock

ROOM = celsius(20)
"""All is poured at this temperature [K]."""
ACID = percent(10)
"""The workshop's acid [kg/kg]: the questions hold mild mixtures only."""
COPPER_KG = MOLAR_MASS["Cu"]  # kg/mol
TWO_ACID = "Each copper takes two acid and one peroxide"
REACTION = "Cu + H₂O₂ + 2 H⁺ → Cu²⁺ + 2 H₂O"
FOILS = (0.5, 1.0, 2.0)
"""Foils of the question on the reserve [oz/ft²]."""
ROOMS = np.arange(30, 91) / 10
"""Bath over bare copper in it [mL/cm²]."""
ACIDS = np.arange(60, 151, 2) / 100
"""Strengths of its acid [mol/L]."""


@dataclass(frozen=True)
class MildBath:
    """A mild bath in the workshop.

    Parameters
    ----------
    parts : tuple
        Water, acid and peroxide, parts by volume [-].
    peroxide : float
        Strength of the peroxide [% by weight].
    volume : float
        All of it [m³].
    """

    parts: tuple[float, float, float]
    peroxide: float
    volume: float

    def mixed(self) -> Solution:
        """Return the bath [kg, K], all poured at 20 °C."""
        part = self.volume / sum(self.parts)
        water, acid, peroxide = self.parts
        return mix(
            Solution.of(volume=part * water, T=ROOM),
            Solution.of(volume=part * acid, T=ROOM, HCl=ACID),
            Solution.of(volume=part * peroxide, T=ROOM, H2O2=percent(self.peroxide)),
        )

    def words(self) -> str:
        """Say it: "1 part of water, 1 part of 10 % acid and 1½ parts of 6 % peroxide"."""
        names = ("water", "10 % acid", f"{self.peroxide:g} % peroxide")
        listed = []
        for name, part in zip(names, self.parts, strict=True):
            if not part:
                continue
            noun = "part" if part <= 1 else "parts"
            listed.append(f"{half_words(part)} {noun} of {name}")
        return f"{', '.join(listed[:-1])} and {listed[-1]}"


def half_words(number: float) -> str:
    """Write a whole or half number as people do: "1½" [-]."""
    whole, rest = divmod(number, 1)
    if not rest:
        return f"{whole:g}"
    if not whole:
        return "½"
    return f"{whole:g}½"


@apart
def strength_question(rng: np.random.Generator) -> Question:
    """Ask how strong the acid in a mixture is, in mol/L: back to the lesson on bottles.

    Parameters
    ----------
    rng : Generator
        Draws the parts [-] and the peroxide [% by weight].

    Returns
    -------
    Question
        Answer [mol/m³] from the numbers it prints: volumes of such weak mixtures add.
    """
    # half parts: neighbours in a class seldom get the same strength
    water = float(rng.integers(0, 7)) / 2
    acid = float(rng.integers(2, 5)) / 2
    peroxide = float(rng.integers(2, 7)) / 2
    bath = MildBath((water, acid, peroxide), float(rng.choice((3, 6, 9))), 150 * mL)
    density = round(float(Solution.of(volume=mL, T=ROOM, HCl=ACID).density))
    HCl_grams = round(MOLAR_MASS["HCl"] / gram, 2)
    # as a learner writes it down, step by step
    in_bottle = round(density / 10 / HCl_grams, 3)
    parts = sum(bath.parts)
    answer = in_bottle * acid / parts * mol_per_L
    result = answer_words(answer, "concentration", "mol/L")
    others = "the acid and the water" if water else "the acid"
    spread = "" if acid == 1 else f"{in_bottle:.3f} × {acid:g} = {in_bottle * acid:.3f}, and "
    of_these = f"{half_words(acid)} {'is' if acid == 1 else 'are'}"
    return Question(
        "strength",
        f"A mixture holds {bath.words()}, by volume (only worked out). How strong is its acid, in "
        "mol/L? Give three digits.\n"
        f"10 % is by weight. 1 L of this acid weighs {density} g, and 1 mol of HCl weighs "
        f"{HCl_grams:.2f} g.",
        "concentration",
        "mol/L",
        answer,
        0.02,
        strength_slips(in_bottle * mol_per_L, density, bath.parts),
        f"1 L of 10 % acid weighs {density} g, and a tenth of that is HCl: {density / 10:.1f} g.\n"
        f"In moles: {density / 10:.1f} ÷ {HCl_grams:.2f} = {in_bottle:.3f} mol in a litre.\n"
        f"Of all {half_words(parts)} parts {of_these} acid. The peroxide counts whole, as "
        f"water does; {others} alone would be {half_words(acid + water)}.\n"
        f"{spread}{in_bottle * acid:.3f} ÷ {parts:g} = {result}.",
        "what is in the bottle",
        given=" : ".join(half_words(part) for part in bath.parts if part),
    )


def strength_slips(
    undiluted: float, density: float, parts: tuple[float, float, float]
) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [mol/m³], from a bottle [mol/m³, kg/m³] and parts [-]."""
    water, acid, peroxide = parts
    slips = [
        (
            undiluted * acid / sum(parts) * 1000 / density,
            "You took 10 % by weight for 10 g in 100 mL. By weight means 10 g in 100 g of acid, "
            "and 100 mL of this acid weighs more than 100 g.",
        ),
        (
            undiluted * acid / (acid + water),
            "You left out the peroxide: its parts dilute the acid as water does.",
        ),
    ]
    # without water this is the slip before
    if water:
        slips.append((undiluted, "That is the bottle. Over how many parts is it spread?"))
        slips.append((undiluted * acid / (acid + peroxide), "You forgot the water that is added."))
    if acid != 1:
        slips.append((undiluted / sum(parts), "You counted one part of acid. There is more."))
    return tuple(slips)


@apart
def volumes_question(rng: np.random.Generator) -> Question:
    """Ask how strong peroxide of so many volumes is, in % by weight: back to bottles.

    Parameters
    ----------
    rng : Generator
        Draws the volumes of oxygen [L/L].

    Returns
    -------
    Question
        Answer [kg/kg] from the numbers it prints.
    """
    # below 26 volumes a litre weighs so nearly 1 kg that leaving its weight out is no slip
    volumes = float(rng.integers(52, 81)) / 2
    mass_fraction = mass_fraction_from(volumes, "volume strength", "H2O2", ROOM)
    density = round(float(Solution.of(volume=mL, T=ROOM, H2O2=mass_fraction).density))
    gas, H2O2_grams = round(MOLAR_GAS, 1), round(MOLAR_MASS["H2O2"] / gram, 1)
    # as a learner writes it down, step by step
    oxygen = round(volumes / gas, 3)
    peroxide = round(2 * oxygen, 3)
    grams = round(peroxide * H2O2_grams, 1)
    answer = 2 * volumes / gas * H2O2_grams / density
    result = answer_words(grams / density, "share", "%")
    return Question(
        "volumes",
        f"A bottle says “peroxide, {volumes:g} volumes”: 1 L of it gives off {volumes:g} L of "
        "oxygen. How strong is it, in % by weight?\n"
        f"1 mol of gas is {gas:g} L on such labels. 2 H₂O₂ → 2 H₂O + O₂. 1 mol of H₂O₂ weighs "
        f"{H2O2_grams:.1f} g, and 1 L of this peroxide {density} g.",
        "share",
        "%",
        answer,
        0.01,
        (
            (
                answer / 2,
                "That is half: each oxygen takes two peroxide. See the equation.",
            ),
            (volumes / 100, "Volumes are no %: they count litres of oxygen from a litre."),
            (
                answer * density / 1000,
                "Those are grams in 100 mL. By weight means in 100 g, and 100 mL weigh more.",
            ),
            (
                volumes / gas / 100,
                "Those are moles of oxygen. How much peroxide gives it, and what does it weigh?",
            ),
        ),
        f"Oxygen from a litre: {volumes:g} L ÷ {gas:g} L/mol = {oxygen:.3f} mol.\n"
        f"Each oxygen takes two peroxide: {oxygen:.3f} × 2 = {peroxide:.3f} mol.\n"
        f"Their weight: {peroxide:.3f} mol × {H2O2_grams:.1f} g/mol = {grams:.1f} g.\n"
        f"1 % of {density} g is {density / 100:.2f} g: {grams:.1f} ÷ {density / 100:.2f} = "
        f"{result}.",
        "what is in the bottle",
        given=f"{volumes:g} volumes",
    )


@apart
def copper_question(rng: np.random.Generator) -> Question:
    """Ask how much copper the acid of a bath can carry, in grams.

    Parameters
    ----------
    rng : Generator
        Draws the parts [-] and the volume [m³].

    Returns
    -------
    Question
        Answer [kg] by `capacity`; the acid is what limits these baths.
    """
    # peroxide to spare in each: the acid is what limits
    water = float(rng.choice((0, 0.5, 1, 1.5)))
    peroxide = float(rng.choice((9, 12)))
    bath = MildBath((water, 1.0, 1.0), peroxide, 10 * mL * int(rng.integers(10, 21)))
    mixture = bath.mixed()
    mass = float(capacity(mixture)) * COPPER_KG
    acid = float(mixture.concentration("HCl")) / mol_per_L
    # as a learner writes it down, step by step
    moles = round(round(acid, 2) * bath.volume * 1000, 3)
    half, weighs = round(moles / 2, 4), round(COPPER_KG / gram, 1)
    board = float(tide_clock().copper) * COPPER_KG / gram
    twice = f"Each copper takes two acid, one for each of its two charges: {REACTION}."
    return Question(
        "copper",
        f"A tray holds {bath.volume / mL:.0f} mL of etching bath with {acid:.2f} mol/L of acid and "
        "peroxide to spare. How much copper can its acid carry, in grams?\n"
        f"The reaction is {REACTION}. 1 mol of copper weighs {COPPER_KG / gram:.1f} g.",
        "mass",
        "g",
        mass,
        0.03,
        (
            (2 * mass, f"That is twice too much: you gave each copper one acid. {twice}"),
            (4 * mass, f"You turned the two round: two copper for one acid. {twice}"),
            (mass / 2, f"That is half: you divided by two twice. {twice}"),
        ),
        f"Acid in the tray: {acid:.2f} mol/L × {bath.volume * 1000:.2f} L = {moles:.3f} mol.\n"
        f"Each copper takes two acid: {moles:.3f} ÷ 2 = {half:.4f} mol of copper.\n"
        f"{half:.4f} mol × {weighs:.1f} g/mol = {half * weighs:.1f} g.\n"
        f"The workshop's board has {board:.1f} g of copper to etch away.",
        "what the reaction uses up",
        given=f"{bath.volume / mL:.0f} mL; {acid:.2f} mol/L",
    )


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
    foil = Foil.ounces(float(rng.choice(FOILS)))
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


@apart
def warmth_question(rng: np.random.Generator) -> Question:
    """Ask how warm a bath gets by the etching if no heat is lost, in °C, from a thermometer in °F.

    Parameters
    ----------
    rng : Generator
        Draws the volume [m³] and the temperature at the start [K].

    Returns
    -------
    Question
        Answer [K] by `heat_of_etching` and the heat capacity of the bath.
    """
    # whole °F at which a workshop is
    start = float(fahrenheit(float(rng.choice((59, 63, 66, 68, 72, 75)))))
    bath = MildBath((0.0, 1.0, 1.0), 12.0, 10 * mL * int(rng.integers(10, 16)))
    mixture = bath.mixed()
    copper = float(tide_clock().copper)
    heat = float(heat_of_etching(copper))
    capacity_of_bath = float(mixture.mass * mixture.heat_capacity)
    rise = heat / capacity_of_bath
    start_F, start_C = float(to_fahrenheit(start)), float(to_celsius(start))
    grams, volume = copper * COPPER_KG / gram, bath.volume / mL
    per_gram, per_mL = heat / grams / 1000, capacity_of_bath / volume
    # as a learner writes it down, step by step
    kilojoules = round(round(grams, 2) * round(per_gram, 2), 2)
    per_degree = round(volume * round(per_mL, 2))
    first, warmer = round(start_C, 1), round(1000 * kilojoules / per_degree, 1)
    return Question(
        "warmth",
        f"The workshop's thermometer shows {start_F:.0f} °F. In {volume:.0f} mL of a mild bath the "
        f"workshop's board loses {grams:.2f} g of copper. How warm is the bath at the end from the "
        "copper alone, if no heat is lost, in °C?\n"
        f"Each gram of copper sets {per_gram:.2f} kJ free. To warm 1 mL of this bath by 1 °C takes "
        f"{per_mL:.2f} J.",
        "temperature",
        "°C",
        start + rise,
        1.0,
        warmth_slips(start, rise),
        f"Start: ({start_F:.0f} − 32) ÷ 1.8 = {first:.1f} °C.\n"
        f"Heat set free: {grams:.2f} g × {per_gram:.2f} kJ/g = {kilojoules:.2f} kJ, or "
        f"{1000 * kilojoules:.0f} J.\n"
        f"To warm the whole bath by 1 °C takes {volume:.0f} mL × {per_mL:.2f} J/mL = "
        f"{per_degree} J.\n"
        f"Rise: {1000 * kilojoules:.0f} ÷ {per_degree} = {warmer:.1f} °C. "
        f"End: {first:.1f} + {warmer:.1f} = {first + warmer:.1f} °C.\n"
        "A real tray loses some of that heat, but peroxide that falls apart may add more: a bath "
        "may get warmer than this, most of all after the board is out. Never take it as the "
        "warmest.",
        "how warm a bath gets",
        given=f"{start_F:.0f} °F; {volume:.0f} mL",
    )


def warmth_slips(start: float, rise: float) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [K], from the temperature at the start and the rise [K]."""
    start_F = float(to_fahrenheit(start))
    return (
        (
            float(celsius(start_F + rise)),
            "You took what the thermometer shows for °C. It shows °F: subtract 32, then divide by "
            "1.8.",
        ),
        (
            float(celsius(start_F + 1.8 * rise)),
            "That is right in °F. The question asks for °C: subtract 32, then divide by 1.8; "
            "or write °F after it.",
        ),
        (
            float(celsius(start_F / 1.8 + rise)),
            "You divided the °F by 1.8 and forgot to subtract 32 first.",
        ),
        (
            start + rise / 1.8,
            "You took the rise for °F. It comes out in °C already, because the bath takes so "
            "much heat for each °C.",
        ),
        (
            float(celsius(rise)),
            "That is by how much it gets warmer. Add it to where the bath starts.",
        ),
    )


def earlier_reserve(rng: np.random.Generator) -> Question:
    """Ask `reserve_question` [-] on a later page: it goes back to the lesson on copper."""
    return replace(reserve_question(rng), from_lesson="where the copper goes")


REVIEW_QUESTIONS = (warmth_question, strength_question, volumes_question, copper_question)
"""Those that go back to an earlier lesson, in turn."""
