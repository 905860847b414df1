"""What page 10 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from ...bench.hazards.law import PLACES
from ...bench.waste.label import Label
from ...bench.waste.where import ASK, WasteRule, where_it_goes
from ...reaction.chemistry import SALT
from ..bath.card_blocks import tub_lines
from ..pages import DEVELOPER_PAGE
from .numbers import (
    DEATHS,
    MILD,
    by_hand,
    peroxide_left,
    rinsed,
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
        "fast was measured in sulfate at 67 °C (Mlasi 2015). For this acid in a cool room it is "
        f"a guess a thousandfold wide. So the page tries {left.total} *plausible baths*: each may "
        f"be yours. Half are done within {middle}, one in ten within {low}, one in ten "
        f"only after {high}.\n\n"
        f"{closed_by_hand()}"
    )


@cache
def closed_by_hand() -> str:
    """Reckon the pressure in a bottle that was closed, each step from printed numbers."""
    hand = by_hand()
    return (
        "**By hand, why never closed.** A bottle three tenths full, that lets no gas out (never "
        "done):\n\n"
        f"- Each litre of bath still holds {hand.peroxide:.2f} mol of peroxide. Two make one "
        f"oxygen: {hand.peroxide:.2f} ÷ 2 = {hand.oxygen:.3f} mol.\n"
        f"- A mole of gas takes {hand.mole:.1f} times the room of a litre: {hand.oxygen:.3f} × "
        f"{hand.mole:.1f} = {hand.volumes:.1f} times the bath.\n"
        f"- Free above it: 7 ÷ 3 = {hand.room:.2f} times the bath. {hand.volumes:.1f} ÷ "
        f"{hand.room:.2f} = {hand.pressure:.1f} times the pressure of the air comes on top. "
        "Whatever the number: never closed."
    )


def to_do(label: Label, school: bool = False) -> str:
    """Say what to do with a used bath now, in Markdown: its label, and when it leaves its place.

    Parameters
    ----------
    label : Label
        Of what is left in the bath.
    school : bool
        For a class: only the teacher does any of it.
    """
    who = "A class does none of this. What a teacher does follows the school's risk assessment."
    return (
        "## Your used bath stands there now\n\n"
        f"{who if school else ''}\n\n"
        "- **Tub:** acid-proof plastic (HDPE), no metal, out of reach of children and pets. Label "
        "and date on tray and tub.\n"
        "- **Ask the site now:** in what does it take acid with copper, and does it fetch a "
        "bath?\n"
        "- **Also waste:** rinse water, strips and their water, gloves. Paper and cloth stay wet "
        "and uncovered.\n"
        "- **A peroxide strip, on two days:** in one drop of bath to 100 of water. Never in the "
        "bath itself: strong acid and peroxide spoil strips. If it reads nothing, a drop of shop "
        "peroxide goes into that water. A strip that does not turn then has told nothing. "
        "Anything poured into the bath starts the count anew.\n"
        "- **It shows anything:** the bath stays, open, and is not carried. **Nothing on both "
        "days:** to the site as it said, upright, vented plastic container, at most half full, in "
        "a tub.\n\n"
        "Vent and filling: a university's safety alert; spoilt strips: from memory; the rest: "
        "common practice.\n\n"
        "| Label |\n|:---|\n" + "\n".join(f"| {line} |" for line in tub_lines(label))
    )


@cache
def read_copper() -> str:
    """Say why clear water is not clean, and what soda does, in Markdown."""
    return (
        "**Why clear is not clean.** Water and mud come to a balance in which some copper stays "
        "dissolved. Baking soda left over holds more: its carbonate binds copper and turns blue. "
        "Fresh mud lets go of more than aged mud, and nobody sees which it is.\n\n"
        f"**Thinned is not less.** For {milligrams_words(DEATHS)} mg/L the bath would fill "
        f"{thinned() / 1000:.0f} 000 times its room, all its copper still in it.\n\n"
        "**What baking soda does**, as chemistry, never done to a bath: H⁺ + HCO₃⁻ → CO₂ + H₂O. "
        "The gas foams, the acid goes, the copper stays.\n\n"
        f"{sources()}"
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** Solubilities are published, of fresh mud (Hidmi and "
        "Edwards 1999) and aged (CRC Handbook), and so is what binds copper (IUPAC 2007). Salt "
        f"keeps {SALT[0]:g} to {SALT[1]:g} times as much dissolved (computed). What clings to a "
        "board: common practice."
    )


PLACE_WORDS = {
    "EU": "EU",
    "GB": "Great Britain",
    "US": "United States",
    "elsewhere": "Elsewhere",
}
"""What places are called: at the head of a table, and of each rule where it stands alone."""
KNOWN = {"published": "read", "from memory": "memory", "common practice": "practice"}
"""How a rule is known, in a word."""


@cache
def where() -> str:
    """Say where the rest goes, place by place, in Markdown."""
    rules = {place: where_it_goes(place) for place in PLACES}
    # what holds everywhere comes with each place: once is enough
    everywhere = [rule for rule in rules[PLACES[0]] if all(rule in each for each in rules.values())]
    parts = [_table("Everywhere", everywhere, "**")]
    for place, each in rules.items():
        parts.append(_table(PLACE_WORDS[place], [rule for rule in each if rule not in everywhere]))
    dates = sorted({rule.as_of for each in rules.values() for rule in each})
    when = " to ".join(dict.fromkeys((dates[0], dates[-1])))
    return (
        "## Where it goes\n\n"
        f"**To your hazardous-waste site, in every place.** {ASK} What we know, as of "
        f"{when}:\n\n" + "\n\n".join(parts)
    )


def _table(head: str, rules: Iterable[WasteRule], mark: str = "") -> str:
    """Write the rules of a place as a table of Markdown; a mark of `**` makes them bold."""
    rows = [f"| | **{head}** | known |", "|:---|:---|:---|"]
    for rule in rules:
        words = rule_words(rule.words, head)
        rows.append(f"| {rule.topic} | {mark}{words}{mark} | {KNOWN[rule.status]} |")
    return "\n".join(rows)


def rule_words(words: str, head: str) -> str:
    """Write a rule as it stands under its place: without the place, and without whom to ask.

    Examples
    --------
    >>> print(rule_words("EU: kept apart. Check the current rule; ask your local site.", "EU"))
    Kept apart.
    """
    alone = words.removesuffix(ASK).strip().removeprefix(f"{head}: ")
    return alone[0].upper() + alone[1:]


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nobody touches a used bath.
    """
    trial = "A class tries nothing here."
    if not school:
        trial = at_the_tray()
    return (
        f"## What would prove it wrong\n\n{trial}\n\n"
        "## What you can now say\n\n"
        "- What is dangerous in the rest cannot be seen.\n"
        "- Only a strip tells. Whatever it reads, a bath is never closed up.\n"
        "- Its copper does not go away: only the hazardous-waste site accepts it.\n\n"
        f"Next: [developer and tin]({DEVELOPER_PAGE})."
    )


def at_the_tray() -> str:
    """Say what strips in a used bath and in a rinse dish should show, in Markdown."""
    low, high = (milligrams_words(float(end)) for end in (rinsed().low, rinsed().high))
    return (
        "[The cautions](reference/cautions.md) first. A copper strip in the first rinse dish of "
        f"our board (200 mL) reads {low} to {high} mg/L; under 10 or over 100 is wrong. Not tried "
        "by us."
    )
