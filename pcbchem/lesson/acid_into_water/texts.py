"""What page 02 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from ...bench.bottle.bottle import Bottle
from ...bench.hazards import rule_named
from ...bench.plan.pours import STRONG_ACID, WEAK_FOR_STRONG_ACID
from ...common.number_words import figures
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


def read_it() -> str:
    """Say how to read the first panel, in Markdown."""
    pair = hill(ASKED)
    over = degrees(pair.over.at(QUARTER)[1])
    return (
        "**Both jugs end alike. What is in them on the way is not alike.** Every mixture of the "
        "two lies on this one curve: none is hotter than its top. Acid into water starts at the "
        "left foot and stops at the square. Water into acid starts at the right foot, with strong "
        "acid that fumes, and goes over the top. A quarter poured, it is "
        f"{figures(pair.stronger(QUARTER))} times stronger "
        f"and at {over}: that is what splashes. (*mol/L* counts acid particles in a litre.)"
    )


def read_peroxide() -> str:
    """Say how to read the panel of acid and peroxide, in Markdown."""
    pair = hill(ASKED, PEROXIDE)
    strength, T = pair.end
    return (
        f"**Peroxide of {SHOP_PEROXIDE:g} % is the water here.** Peroxide first: the jug climbs "
        f"from the left foot to {strength_words(strength)} and {degrees(T)}, and was never "
        "stronger. Acid first is water into acid once more: it starts undiluted and goes over a "
        f"top of {degrees(pair.top[1])}, and acid that strong with peroxide can give off chlorine. "
        f"In the planner, acid of {100 * STRONG_ACID:g} % and more goes into water, or into "
        f"peroxide of at most {100 * WEAK_FOR_STRONG_ACID:g} %. With stronger peroxide and no "
        "water it refuses (our limits)."
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
        "strong acid stays on top, gets hot there, and can splash strong acid.\n\n"
        "## By hand\n\n"
        f"From {degrees(T_TABLE)}, where such heats are listed, and for a litre of the mixture:\n\n"
        f"- Heat: {moles:.2f} mol of acid × {heat:.2f} kJ for each = {freed:.1f} kJ.\n"
        f"- For 1 °C a litre takes {per_degree:.2f} kJ: {freed:.1f} ÷ {per_degree:.2f} = "
        f"**{freed / per_degree:.1f} °C warmer**. The package, by `mix(acid, water)`, says "
        f"{package:.1f}. (From {degrees(ROOM)} it is {pair.end[1] - ROOM:.1f}.)\n\n"
        "**Where the numbers come from**\n\n"
        "- **Published:** heat of diluting this acid, heat of mixing peroxide, heat for each °C. "
        "The older heats of solution in Himmelblau's textbook give end and top within 0.5 °C.\n"
        "- **From memory:** a small part of the peroxide's heat; sulfuric acid.\n"
        f"- **Our limits:** {FUMES.shown(FUMES.limit)}, and bottles of at most "
        f"{BOTTLES_TOO_WARM.shown(BOTTLES_TOO_WARM.limit)}.\n"
        "- **Not computed:** how fast one pours and what splashes; jug and air take no heat. For "
        f"two strong bottles ±{DOUBT:g} °C."
    )


def prove_it_wrong() -> str:
    """Say what would prove the page wrong, in Markdown."""
    mild, stronger, strong = (half_and_half(acid) for acid in (MILD, STRONGER_ACID, ASKED))
    # a bottle may hold so much more or less than its label says
    bottle = Bottle.labelled("HCl", percent(MILD))
    least, most = (half_and_half(100 * end) for end in (bottle.low, bottle.high))
    heavy = float(acid_bottle(ASKED).density) / 1000
    return (
        "## What would prove this page wrong\n\n"
        f"- **An adult, outdoors, goggles and gloves on:** one part of {MILD:g} % acid into one "
        f"part of water, equally warm. It warms by {mild:.1f} °C ({least:.1f} to {most:.1f}). "
        f"{stronger:.1f} °C means acid of {STRONGER_ACID:g} %, {strong:.0f} °C of {ASKED:.0f} %: "
        "stop, lock the bottle away.\n"
        f"- **Kitchen:** {SUGAR} g of sugar in {SUGAR_WATER} g of water is as heavy as "
        f"{ASKED:.0f} % acid ({heavy:.2f} kg/L; sugar from memory). Colour it. Poured into water, "
        "it must sink and mix; water poured gently onto it must float."
    )


def say_now() -> str:
    """Say what a learner can say at the end, in Markdown."""
    strong, mild = (f"{hill(acid).end[1] - ROOM:.1f}" for acid in (ASKED, MILD))
    return (
        "## What you can now say\n\n"
        f"- Diluting acid warms it: {ASKED:g} % acid with {words_of(PARTS[WATER])} parts of water "
        f"by {strong} °C, {MILD:g} % acid by {mild}.\n"
        "- Both orders end equally warm. The rule is about what is in the jug on the way: that is "
        "what splashes and fumes.\n"
        f"- Shop peroxide of {SHOP_PEROXIDE:g} % counts as the water; stronger peroxide comes "
        "last.\n\n"
        "Next: [where the copper goes](03_where_the_copper_goes.ipynb). Your own bath: "
        "[the planner](00_plan_a_bath.ipynb)."
    )
