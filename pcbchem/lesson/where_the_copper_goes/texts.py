"""What page 03 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache
from typing import Any

from ...common.number_words import figures, per_cm2
from ...common.units import gram, mol_per_L
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import Foil
from ..workshop import PAIRS, USUAL
from .numbers import (
    ASKED,
    BOTTLES,
    EQUAL,
    OFFCUT,
    SODA,
    VINEGAR,
    WEAKER,
    tent,
    tray_bath,
    turning_point,
    vinegar_for,
    wanted,
    warmths,
)
from .words import boards_words, ratio_words, room_words

MILLIGRAM_PER_CM2 = 100.0
"""Of a foil of one kg/m² [mg/cm²]."""
FOILS = {"1 oz": 1.0, "½ oz": 0.5, "2 oz": 2.0}
"""Foils that are sold, and their weight [oz/ft²]."""


@cache
def why() -> str:
    """Say why the tray carries less, and reckon it by hand, in Markdown."""
    usual = tent()
    equal, asked = usual.at(EQUAL), usual.at(ASKED)
    acid, peroxide = (boards_words(float(by[equal])) for by in (usual.acid, usual.peroxide))
    return (
        f"**Why.** Each copper takes one peroxide and two acid. At {ratio_words(EQUAL)} the acid "
        f"is enough for {acid} boards, the peroxide for {peroxide}. *What runs out first decides.* "
        f"At {ratio_words(ASKED)} a third of the tray is acid, not a half: enough for "
        f"{boards_words(float(usual.acid[asked]))}. The extra peroxide does nothing but water it "
        "down. The copper is not gone: all of it is in the bath, and colours it green.\n\n"
        f"{by_hand()}"
    )


def by_hand() -> str:
    """Reckon the boards of equal parts on each cm² of copper, each step from printed numbers."""
    milligrams = round(areal_mass(1.0) * MILLIGRAM_PER_CM2, 1)
    weighs = round(MOLAR_MASS["Cu"] / gram, 1)
    copper = round(milligrams / weighs, 3)
    acid_taken = round(2 * copper, 3)
    room = round(per_cm2(USUAL), 2)
    strength = round(float(tray_bath(EQUAL).concentration("HCl")) / mol_per_L, 2)
    acid = round(room * strength, 2)
    return (
        f"**By hand**, on each cm² of bare copper. A foil of 1 oz has {milligrams:.1f} mg there: "
        f"{milligrams:.1f} ÷ {weighs:.1f} = {copper:.3f} mmol (thousandths of a mole). Two acid "
        f"each: 2 × {copper:.3f} = {acid_taken:.3f} mmol. Over it stand {room:.2f} mL per cm² of "
        f"bath with {strength:.2f} mol/L of acid (moles in each litre): {room:.2f} × "
        f"{strength:.2f} = {acid:.2f} mmol. So {acid:.2f} ÷ {acid_taken:.3f} = "
        f"{acid / acid_taken:.1f} boards."
    )


def areal_mass(ounces: float) -> float:
    """Return what the copper of a foil weighs [kg/m²], from its ounces [oz/ft²]."""
    mass: Any = Foil.ounces(ounces).areal_mass
    return float(mass)


def read_warmth() -> str:
    """Say why more bath is taken than the count asks for, and where numbers come from."""
    least, enough, usual = warmths()
    return (
        f"By count {room_words(least.room)} would do. Nobody knows every number of a bath, so the "
        f"planner tries {usual.warmest.values.size} *plausible baths*. Of so little bath "
        f"{least.never} never clear the board, most get too warm, and it refuses. It wants "
        f"{wanted():g} times the copper ({room_words(enough.room)}); even that can get too "
        "warm.\n\n"
        f"{sources()}"
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** The counts: an equation balanced by element and charge. "
        "1 oz on a square foot is 305 g/m² by definition; atomic weights are those of IUPAC. The "
        "same counting gives a textbook's answer, one to two as here: Averill and Eldredge, "
        "*General Chemistry*, 3.4 (read in a copy). Only the bottles "
        "are believed, exactly as labelled; faded peroxide lowers the tent's left side. "
        f"“{wanted():g} times” is our limit. The warmth is the model's."
    )


@cache
def read_weaker() -> str:
    """Say how to read the panel of weaker peroxide, in Markdown."""
    weak = tent(WEAKER[-1])
    return (
        f"**With {weak.bottle:g} % the top lies right of {ratio_words(EQUAL)}.** There peroxide "
        f"runs out first, so more of it helps: up to about "
        f"{ratio_words(weak.top_parts)}. With {PAIRS[BOTTLES].acid:g} % acid in equal parts the "
        f"scarce one changes near {figures(turning_point())} % peroxide."
    )


def say_now() -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown."""
    grams = {name: areal_mass(weight) * OFFCUT / gram for name, weight in FOILS.items()}
    one, half, two = (f"{mass:.2f} g" for mass in grams.values())
    return (
        "## What would prove it wrong\n\n"
        f"Weigh an offcut with 20 cm² of bare 1 oz copper, dry, before and after it is clear. It "
        f"must lose {one} (½ oz: {half}; 2 oz: {two}). Else your foil is not what you bought, or "
        "this page is wrong. (Ask the planner first. In a class: the teacher.)\n\n"
        f"The idea in the kitchen, in an open jug: {SODA / gram:g} g of baking soda takes about "
        f"{vinegar_for(SODA) / gram:.0f} g of {100 * VINEGAR:g} % vinegar. More vinegar fizzes no "
        "more.\n\n"
        "## What you can now say\n\n"
        "- Each copper takes one peroxide and two acid; what would run out first decides.\n"
        "- More of the other only waters it down. The copper is all in the bath, green.\n"
        "- Most of a bath is there for the heat. Next: [why water slows it]"
        "(04_why_water_slows_it.ipynb); for your own board [the planner](00_plan_a_bath.ipynb)."
    )
