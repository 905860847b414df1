"""What page 03 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache
from typing import Any

from ...common.number_words import figures
from ...common.units import gram
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import Foil
from ..workshop import PAIRS, USUAL
from .numbers import (
    ASKED,
    BOTTLES,
    EQUAL,
    OFFCUT,
    SODA,
    TOO_HOT,
    VINEGAR,
    WEAKER,
    hot_when_asked,
    tent,
    tray_bath,
    turning_point,
    vinegar_for,
    wanted,
    warmths,
)
from .words import LATER, boards_words, degrees_words, part_words, ratio_words

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
    hot, tried = hot_when_asked()
    return (
        f"**Why.** Each copper takes one peroxide and two acid. At {ratio_words(EQUAL)} the acid "
        f"is enough for {acid} boards, the peroxide for {peroxide}. *What runs out first decides.* "
        f"At {ratio_words(ASKED)} a third of the tray is acid, not a half: enough for "
        f"{boards_words(float(usual.acid[asked]))}. In this count the extra peroxide does nothing "
        "but take room; and spare peroxide heats the bath later. Nobody knows every number of a "
        f"bath, so the planner tries {tried} *plausible baths*. With {ASKED:g} parts of peroxide, "
        f"{hot} of them get above {degrees_words(TOO_HOT)} in the day after. The copper is not "
        "gone: all of it is in the bath, and colours it green. Try half a part: more boards from "
        "less peroxide.\n\n"
        f"{by_hand()}"
    )


def by_hand() -> str:
    """Reckon the boards of equal parts on each cm² of copper, each step from printed numbers."""
    milligrams = round(areal_mass(1.0) * MILLIGRAM_PER_CM2, 1)
    weighs = round(MOLAR_MASS["Cu"] / gram, 1)
    copper = round(milligrams / weighs, 3)
    acid_taken = round(2 * copper, 3)
    tray = tray_bath(EQUAL)
    acid, peroxide = (
        # mol/m² to mmol/cm²
        float(tray.concentration(name)) * USUAL / 10
        for name in ("HCl", "H2O2")
    )
    return (
        "**By hand**, on each cm² of bare copper, in mmol (thousandths of a mole):\n\n"
        f"- A foil of 1 oz has {milligrams:.1f} mg there: {milligrams:.1f} ÷ {weighs:.1f} = "
        f"{copper:.3f} mmol.\n"
        f"- Two acid each: 2 × {copper:.3f} = {acid_taken:.3f} mmol.\n"
        f"- The workshop's bath holds {acid:.2f} mmol of acid there: {acid:.2f} ÷ "
        f"{acid_taken:.3f} = {boards_words(round(acid, 2) / acid_taken)} boards.\n"
        f"- Peroxide, one each: {peroxide:.1f} ÷ {copper:.3f} = "
        f"{boards_words(round(peroxide, 1) / copper)} boards; the smaller counts."
    )


def areal_mass(ounces: float) -> float:
    """Return what the copper of a foil weighs [kg/m²], from its ounces [oz/ft²]."""
    mass: Any = Foil.ounces(ounces).areal_mass
    return float(mass)


def read_warmth() -> str:
    """Say why more bath is taken than the count asks for, and where numbers come from."""
    least, enough, usual = warmths()
    return (
        f"By count {part_words(least.room / usual.room)} of the workshop's bath would do. Of "
        f"{usual.warmest.values.size} plausible baths so thin, {least.never} never clear the "
        "board, most get too warm, and the planner refuses. It wants at least "
        f"{wanted():g} times the copper ({part_words(enough.room / usual.room)} of the "
        "workshop's); even that can get too warm. The workshop's: "
        f"{degrees_words(float(usual.warmest.middle))} while it etches; {LATER}: stay with it. "
        "More bath than the count is there for the heat, and for bottles weaker than their "
        "label.\n\n"
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
        f"**With {weak.bottle:g} % the top lies right of {ratio_words(EQUAL)}.** At "
        f"{ratio_words(EQUAL)} peroxide runs out first, so more of it helps: up to about "
        f"{ratio_words(weak.top_parts)}. With {PAIRS[BOTTLES].acid:g} % acid in equal parts the "
        f"scarce one changes near {figures(turning_point())} % peroxide."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: the teacher alone weighs an offcut.
    """
    return (
        "## What would prove it wrong\n\n"
        f"{'Weighing an offcut: the teacher.' if school else weigh_an_offcut()}\n\n"
        f"{in_the_kitchen()}\n\n"
        "## What you can now say\n\n"
        "- Each copper takes one peroxide and two acid; what would run out first decides.\n"
        "- More of the other carries no more, and spare peroxide heats the bath later. The copper "
        "is all in the bath, green.\n"
        "- Most of a bath is there for the heat. Next: [why water slows it]"
        "(04_why_water_slows_it.ipynb); for your own board [the planner](00_plan_a_bath.ipynb)."
    )


def weigh_an_offcut() -> str:
    """Say what an offcut should lose, its cautions first, in Markdown.

    That foil is sold to a tenth of its weight is from memory, of IPC-4562.
    """
    grams = {name: areal_mass(weight) * OFFCUT / gram for name, weight in FOILS.items()}
    one, half, two = (f"{mass:.2f} g" for mass in grams.values())
    return (
        "This is an etching like any other: first [the cautions](reference/cautions.md) and the "
        "planner; in a class the teacher alone. Weigh an offcut with 20 cm² of bare 1 oz copper, "
        "rinsed and dry, before and after it is clear. It should lose about "
        f"{one}, a tenth more or less (½ oz: {half}; 2 oz: {two}). Far off: your foil is not what "
        "you bought, or this page is wrong. Rinse water is waste."
    )


def in_the_kitchen() -> str:
    """Say how the idea is tried with what is eaten, in Markdown."""
    return (
        "The idea, in a big open kitchen jug, kitchen things only: "
        f"{SODA / gram:g} g of baking soda takes about {vinegar_for(SODA) / gram:.0f} g of "
        f"{100 * VINEGAR:g} % vinegar. More vinegar fizzes no more. (Never soda into a bath: it "
        "foams over.)"
    )
