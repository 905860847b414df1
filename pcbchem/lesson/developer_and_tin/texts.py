"""What page 11 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

from ...bench.resist import NO_MINUTES, practice
from ...bench.tin import STOPS, copper_lost
from ...common.units import mL
from .numbers import (
    ASKED,
    MILLIMOLE,
    TIN,
    by_hand,
    counted_by_vinegar,
    fresh,
    tin_by_hand,
    vinegar_of,
)

MICRON = 1e-6
"""One micrometre [m]."""


@cache
def why() -> str:
    """Say why lye goes that nobody uses, and what it does to both films, in Markdown."""
    hand = by_hand()
    develops = next(band for band in practice("positive") if band.word == "develops")
    return (
        "**Why unused lye goes.** The air's carbon dioxide turns it into soda, sodium carbonate: "
        "CO₂ + 2 OH⁻ → CO₃²⁻ + H₂O. Soda does not develop this film, and burns, too: pH 11 to 12, "
        "and more before.\n\n"
        f"**By hand.** 1500 mg ÷ 40.0 mg/mmol = {hand.lye:.1f} mmol of lye. In 120 mL: "
        f"{hand.lye:.1f} ÷ 120 = {hand.strength:.4f} mmol/mL, or mol/L. Half of it is gone when "
        f"{hand.lye:.1f} ÷ 4 = {hand.gas:.1f} mmol of carbon dioxide have come in, two lye each. "
        f"{hand.air:.1f} m³ of outdoor air hold so much.\n\n"
        f"**Two films.** {develops.low:g} to {develops.high:g} g/L develop film that light makes "
        "soluble. Film that light hardens is developed in soda: the same lye wears its picture "
        "off. A lid is for unused lye alone: etching baths burst bottles. "
        f"Read your film's sheet. {NO_MINUTES}\n\n"
        f"{sources()}"
    )


def sources() -> str:
    """Say where the numbers on lye come from, in Markdown."""
    return (
        "**Where the numbers come from.** How fast lye takes the gas is published (Pinsent 1956). "
        "How fast air brings it, and how much of it a room holds, 420 to 1400 ppm, are drawn 200 "
        "times. What lye does to film is common practice."
    )


@cache
def read_tin() -> str:
    """Say what kills tin, how its coating comes and ends, and what thiourea is, in Markdown."""
    hand = tin_by_hand()
    least, most = (end / MICRON for end in STOPS)
    lost = float(copper_lost(STOPS[1])) / MICRON
    return (
        "**What kills it.** H₂O₂ + Sn²⁺ + 2 H⁺ → Sn⁴⁺ + 2 H₂O: such tin gives no coating. "
        f"0.15 mm on both faces are {hand.clings:.2f} mL. {hand.clings:.2f} × {hand.peroxide:.2f} "
        f"mmol/mL = {hand.killed:.1f} mmol. {TIN / MILLIMOLE:g} ÷ {hand.killed:.1f} = "
        f"{hand.boards:.1f} boards. At the latest: copper and air spoil it, too, a board carries "
        "some out, and peroxide takes thiourea as well. "
        "Nor must thiourea meet peroxide: no dripping board goes in, not even one.\n\n"
        "**How the coating comes.** Copper is nobler than tin, by half a volt. Thiourea turns that "
        "round, by 0.2 to 0.4 volts: copper goes, tin comes. It stops by itself at "
        f"{least:g} to {most:g} µm, once the copper is covered (common practice). 1 µm of it "
        f"costs {lost:.2f} µm of copper.\n\n"
        "**Thiourea** is suspected of causing cancer and of harming the unborn child: nobody who "
        "is or could be pregnant near it. No recipe stands here: your bath's label counts."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nobody touches lye.
    """
    trial = "A class tries nothing here." if school else by_vinegar()
    return (
        f"## What would prove it wrong\n\n{trial}\n\n"
        "## What you can now say\n\n"
        "- What gets into a bath spoils it, used or not: air the developer, a dripping board the "
        "tin.\n"
        "- The lye that develops one film spoils the other.\n"
        "- Old developer burns eyes, too.\n\n"
        "Next: [the planner](00_plan_a_bath.ipynb)."
    )


@cache
def by_vinegar() -> str:
    """Say what a titration of developer with vinegar should show, in Markdown."""
    band = counted_by_vinegar()
    whole = float(vinegar_of(fresh())) / mL
    low, high, most = (float(end) / mL for end in (band.low, band.high, band.values.max()))
    return (
        "For an adult who titrates; [the cautions](reference/cautions.md) first, sealed goggles. "
        "10 mL of developer in 90 mL of water, then phenolphthalein: it pales by itself in "
        f"strong lye. Fresh developer takes {whole:.1f} mL of 5 % vinegar, drop by drop. After "
        f"{ASKED} hours in the flat dish, filled up with water to its mark: {low:.1f} to "
        f"{high:.1f} mL, for soda counts half. Over {most:.1f} or under {whole / 2:.1f}: the page "
        "is wrong. All of it is lye waste. Not tried by us."
    )
