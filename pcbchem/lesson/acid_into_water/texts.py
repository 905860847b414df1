"""What page 02 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from ...bench.bottle.bottle import Bottle
from ...bench.hazards import rule_named
from ...bench.plan.pours import STRONG_ACID, WEAK_FOR_STRONG_ACID
from ...common.units import percent
from .numbers import (
    ASKED,
    FUMES,
    MILD,
    PARTS,
    PEROXIDE,
    QUARTER,
    ROOM,
    SHOP_PEROXIDE,
    T_TABLE,
    WATER,
    acid_bottle,
    by_hand,
    half_and_half,
    hill,
)
from .predictions import words_of
from .words import degrees, strength_words

BOTTLES_TOO_WARM = rule_named("warm bottles")
"""The planner's rule on bottles that are too warm to pour."""
DOUBT = 1.5
"""How far off the warmth of two strong bottles may be [K], as `mix` says."""
SUGAR, SUGAR_WATER = 150, 250
"""Sugar and water of the syrup [g]."""
STRONGER_ACID = 20.0
"""An acid between the mild one and the strong one [% by weight]."""


def read_it(acid: float = ASKED) -> str:
    """Say how to read the first panel with this acid [% by weight], in Markdown."""
    pair = hill(acid)
    mine, theirs = (way.at(QUARTER) for way in (pair.up, pair.over))
    # a hill of half a degree would be none in whole degrees
    top = degrees(pair.top[1], 1 if pair.is_low else 0)
    sulfuric = "" if acid != ASKED else " (Sulfuric acid boils on that way, from memory.)"
    return (
        "**The same end, and not the same way.** Every mixture of the two lies on this one curve, "
        f"so none is hotter than {top}. With hydrochloric acid the heat is the smaller danger."
        f"{sulfuric} What differs is the jug. A quarter poured, a drop out of the wrong jug is "
        f"acid of {strength_words(theirs[0])}, out of yours of {strength_words(mine[0])}. And the "
        f"wrong jug starts with the bottle's own acid, {start_words(acid)}, open to the air. "
        "(*mol/L* counts acid particles in a litre.)"
    )


def start_words(acid: float) -> str:
    """Say how strong a bottle of acid is [% by weight]."""
    return strength_words(float(acid_bottle(acid).concentration("HCl")))


def read_peroxide() -> str:
    """Say how to read the panel of acid and peroxide, in Markdown."""
    pair = hill(ASKED, PEROXIDE)
    strength, T = pair.end
    return (
        f"**Peroxide of {SHOP_PEROXIDE:g} % is the water here.** Peroxide first: the jug climbs "
        f"from the left foot to {strength_words(strength)} and {degrees(T)}, and was never "
        "stronger. Acid first is water into acid once more. It starts undiluted and goes over a "
        f"top of {degrees(pair.top[1])}. Acid that strong with peroxide can give off chlorine. "
        f"The planner lets acid of {100 * STRONG_ACID:g} % and more into water, or into peroxide "
        f"of at most {100 * WEAK_FOR_STRONG_ACID:g} %. Stronger, without water, it refuses (our "
        "limits)."
    )


def why(package: float) -> str:
    """Say why it warms and why in that order, then the rise by hand, in Markdown.

    Parameters
    ----------
    package : float
        What the cell computes for the same rise [K].
    """
    pair, hand = hill(ASKED), by_hand(ASKED, PARTS[WATER])
    moles, heat = round(hand.moles, 2), round(hand.heat, 2)
    per_degree = round(hand.per_degree, 2)
    freed = round(moles * heat, 1)
    return (
        "## Why\n\n"
        "- **Why it warms:** water gathers around the particles of the acid, and that sets heat "
        "free.\n"
        "- **Why a hill:** the first water brings most of that heat. After the top, more water "
        "brings little and has to be warmed too.\n"
        "- **Why both end alike:** the same acid with the same water sets the same heat free.\n"
        "- **Why that order:** acid is heavier. It sinks into water and mixes. Water poured onto "
        "strong acid stays on top: what splashes there is strong acid, which fumes.\n\n"
        "## By hand\n\n"
        f"From {degrees(T_TABLE)}, where such heats are listed, for a litre of mixture:\n\n"
        f"- Heat: {moles:.2f} mol of acid × {heat:.2f} kJ for each = {freed:.1f} kJ.\n"
        f"- For 1 °C a litre takes {per_degree:.2f} kJ: {freed:.1f} ÷ {per_degree:.2f} = "
        f"**{freed / per_degree:.1f} °C warmer**. The package, by `mix(acid, water)`, says "
        f"{package:.1f}. (From {degrees(ROOM)} it is {pair.end[1] - ROOM:.1f}.)\n\n"
        "**Where the numbers come from**\n\n"
        "- **Published:** heat of diluting this acid, heat of mixing peroxide, heat for each °C.\n"
        "- **From memory:** that sulfuric acid boils; a small part of the peroxide's heat; most of "
        "Himmelblau's older heats of solution. These give end and top within 0.5 °C.\n"
        f"- **Our limits:** {FUMES.shown(FUMES.limit)}, and bottles of at most "
        f"{BOTTLES_TOO_WARM.shown(BOTTLES_TOO_WARM.limit)}.\n"
        "- **Not computed:** how fast one pours and what splashes; jug and air take no heat. For "
        f"two strong bottles ±{DOUBT:g} °C."
    )


def prove_it_wrong(school: bool = False) -> str:
    """Say what would prove the page wrong, in Markdown; of a class the teacher alone tries acid."""
    mild = half_and_half(MILD)
    # a bottle may hold so much more or less than its label says
    bottle = Bottle.labelled("HCl", percent(MILD))
    least, most = (half_and_half(100 * end) for end in (bottle.low, bottle.high))
    heavy = float(acid_bottle(ASKED).density) / 1000
    warmer = f"{mild:.1f} °C ({least:.1f} to {most:.1f})"
    acid = (
        "- **Only with a bottle labelled hydrochloric acid, "
        f"{MILD:g} %,** never to test a doubtful one. An adult, outdoors or in a working fume "
        "cupboard, pours a little acid into as much water, equally warm. Goggles, gloves, apron, a "
        f"plastic cup. A thermometer with tenths shows {warmer} more. By far more: stop, "
        "lock the bottle away. What is left is acid waste, never back, never down the drain."
    )
    if school:
        acid = f"- **For the teacher:** acid of {MILD:g} % into as much water warms by {warmer}."
    return (
        "## What would prove this page wrong\n\n"
        f"- **The idea in the kitchen,** syrup only, never acid. {SUGAR} g of sugar in "
        f"{SUGAR_WATER} g of water is as heavy as {ASKED:.0f} % acid ({heavy:.2f} kg/L; sugar from "
        "memory). Colour it. Poured into water it sinks and mixes; water poured gently onto it "
        "floats.\n"
        f"{acid}"
    )


def say_now() -> str:
    """Say what a learner can say at the end, in Markdown."""
    strong, mild = (f"{hill(acid).end[1] - ROOM:.1f}" for acid in (ASKED, MILD))
    return (
        "## What you can now say\n\n"
        f"- Diluting acid warms it: {ASKED:g} % acid with {words_of(PARTS[WATER])} parts of water "
        f"by {strong} °C, {MILD:g} % acid by {mild}.\n"
        "- Both orders end equally warm. The rule is about what is in the jug on the way: that is "
        "what splashes and fumes. Never water into strong acid.\n"
        f"- Shop peroxide of {SHOP_PEROXIDE:g} % counts as the water; stronger peroxide comes "
        "last, into diluted acid.\n\n"
        "Next: [where the copper goes](03_where_the_copper_goes.ipynb). Your own bath: "
        "[the planner](00_plan_a_bath.ipynb)."
    )
