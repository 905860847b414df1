"""What page 10 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

from ...bench.hazards.law import PLACES
from ...bench.waste.where import ASK, where_it_goes
from ...reaction.chemistry import SALT
from .numbers import (
    DEATHS,
    MILD,
    MUCH,
    NEUTRAL,
    STRIP,
    by_hand,
    copper_left,
    in_mud,
    per_mole,
    peroxide_left,
    rinsed,
    soonest_and_latest,
    thinned,
)
from .words import milligrams_words, span_words


def why(bottles: str = MILD) -> str:
    """Say why nobody can tell when the peroxide is gone, in Markdown.

    Parameters
    ----------
    bottles : str
        The pair of bottles of the panel.
    """
    left = peroxide_left(bottles)
    low, middle, high = (
        span_words(float(getattr(left.gone, end))) for end in ("low", "middle", "high")
    )
    return (
        "**Why nobody can say.** Dissolved copper breaks peroxide up: 2 H₂O₂ → 2 H₂O + O₂. How "
        "fast was measured in sulfate at 67 °C (Mlasi 2015). For this acid and a cool room it is "
        f"a guess a thousandfold wide, so the page tries {left.total} *plausible baths*. Half are "
        f"done within {middle}, one in ten within {low}, one in ten only after {high}. Other "
        "bottles hardly change that.\n\n"
        "**Only a strip tells, quiet does not.** A slow bath gives its gas too slowly to be seen, "
        "and gives as much. In strong peroxide a strip may fail and read nothing (from memory). So "
        "first one drop of bath to 100 of water; only when that reads nothing, the bath itself. "
        f"Under {1000 * STRIP:g} mg/L it tells nothing (common practice).\n\n"
        f"{closed_by_hand()}"
    )


@cache
def closed_by_hand() -> str:
    """Reckon the pressure in a bottle that was closed, each step from printed numbers."""
    hand = by_hand()
    return (
        "**By hand, why never closed.** A bottle three tenths full (only worked out):\n\n"
        f"- Each litre of bath still holds {hand.peroxide:.2f} mol of peroxide. Two make one "
        f"oxygen: {hand.peroxide:.2f} ÷ 2 = {hand.oxygen:.3f} mol.\n"
        f"- A mole of gas takes {hand.mole:.1f} times the room of a litre: {hand.oxygen:.3f} × "
        f"{hand.mole:.1f} = {hand.volumes:.1f} times the bath.\n"
        f"- Free above it: 7 ÷ 3 = {hand.room:.2f} times the bath. {hand.volumes:.1f} ÷ "
        f"{hand.room:.2f} = {hand.pressure:.1f} times the pressure of the air, on top of it."
    )


@cache
def read_copper() -> str:
    """Say why clear water is not clean, and what neutralising is, in Markdown."""
    much = copper_left(MUCH)
    eight, nine = (milligrams_words(much.at(pH)[0]) for pH in (NEUTRAL, 9.0))
    mole, dish = per_mole(), milligrams_words(float(rinsed().middle))
    return (
        "**Why clear is not clean.** Water and mud come to a balance in which some copper stays "
        f"dissolved. Soda left over holds more: with a good deal of it at least {eight} mg/L at pH "
        f"8 and {nine} at pH 9. Fresh mud lets go of more than mud that has aged; how far yours is "
        "nobody knows. And a milligram of mud afloat in a litre, which nobody sees (from memory), "
        f"is {in_mud():.2f} mg/L more.\n\n"
        f"**Thinned is not less.** To come down to {milligrams_words(DEATHS)} mg/L the bath would "
        f"fill {thinned() / 1000:.0f} 000 times its room, with all its copper still in it. What "
        f"clings to the board makes its first rinse dish {dish} mg/L: colourless, and waste.\n\n"
        "**What soda does**, a mole at a time: H⁺ + HCO₃⁻ → CO₂ + H₂O. Each mole of acid takes "
        f"{mole.acid:.0f} of soda, takes up {mole.heat / 1000:.0f} kJ of heat and gives "
        f"{mole.gas:.0f} of gas: it foams. Each mole of copper takes {mole.copper_low:g} to "
        f"{mole.copper_high:g}. With peroxide in it, it foams over (from memory). Only if the site "
        "asks for it, and as the site says.\n\n"
        f"{sources()}"
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** Solubilities are published, of fresh mud (Hidmi and "
        "Edwards 1999) and aged (CRC Handbook), and so is what binds copper (IUPAC 2007). "
        f"Salt makes it {SALT[0]:g} to {SALT[1]:g} times as much (computed). Water fleas: a "
        "published table, soft water. What clings to a board: common practice."
    )


@cache
def where() -> str:
    """Say where the rest goes, place by place, in Markdown."""
    rules = {}
    for place in PLACES:
        for rule in where_it_goes(place):
            # what holds everywhere comes with each place: once is enough
            rules[rule.words] = rule
    rows = "\n".join(
        f"| {words.removesuffix(ASK).strip()} *{rule.status}, {rule.as_of}* |"
        for words, rule in rules.items()
    )
    return (
        "## Where it goes\n\n"
        f"**To your hazardous-waste site, in every place.** {ASK} What we know of the rules, and "
        "when we looked:\n\n"
        f"| rule, how it is known, and when |\n|:---|\n{rows}"
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nobody touches a used bath.
    """
    trial = "A class tries nothing here: only the teacher may, away from the class."
    if not school:
        trial = at_the_tray()
    return (
        f"## What would prove it wrong\n\n{trial}\n\n"
        "## What you can now say\n\n"
        "- What is dangerous in the rest cannot be seen.\n"
        "- Only a strip tells: never closed before it has read nothing twice, a day apart.\n"
        "- Only the waste site can take the copper.\n\n"
        "Next: for your own bath [the planner](00_plan_a_bath.ipynb)."
    )


def at_the_tray() -> str:
    """Say what strips in a used bath and in a rinse dish should show, in Markdown."""
    low, high = (milligrams_words(float(end)) for end in (rinsed().low, rinsed().high))
    (soon, late), total = soonest_and_latest(), peroxide_left().total
    return (
        "Your own used bath stands open anyway; [the cautions](reference/cautions.md) first. A "
        f"peroxide strip now and then: of {total} plausible baths {soon} is done within an hour, "
        f"{late} not in a year. If yours is so too, the page is probably wrong. Sooner: as cool as "
        "the air, peroxide has to fall from 10 to 1 g/L in the same time as from 1 to 0.1. A "
        f"copper strip in the first rinse dish of our board (200 mL) reads {low} to {high} mg/L; "
        "under 10 or over 100 is wrong. Not tried by us."
    )
