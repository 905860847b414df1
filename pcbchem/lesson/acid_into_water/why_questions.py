"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

from ...bench.plan.pours import STRONG_ACID, WEAK_FOR_STRONG_ACID
from ...common.number_words import figures
from ...common.units import mol_per_L
from ...matter.solution import Solution
from ...page.why import Setting
from ...reaction.chemistry.heat import course_of_pour
from .numbers import ASKED, MILD, ROOM, SHOP_PEROXIDE, WATER, acid_bottle, other_bottle
from .words import degrees

PARTS = (2.0, 2.5, 4.0, 5.0)
"""Parts of water to one of acid [-]; not 3, of which the page tells."""
QUARTER, HALF = 0.25, 0.5
"""Shares that are poured where two jugs are compared [-]."""
STRONG = f"strong acid of {ASKED:g} %"


@cache
def jug(acid_first: bool, acid: float, parts: float, share: float) -> Solution:
    """Return a jug into which a share [-] of the second bottle is poured.

    Parameters
    ----------
    acid_first : bool
        Water is poured into acid, else acid into water.
    acid : float
        Strength of the acid [% by weight].
    parts : float
        Water to one part of acid [-].
    share : float
        How much is in [-].
    """
    bottles = other_bottle(WATER, parts=parts), acid_bottle(acid)
    into, poured = reversed(bottles) if acid_first else bottles
    return course_of_pour(into, poured, share)


def strength(solution: Solution) -> str:
    """Write the strength of the acid in a jug."""
    return f"{figures(float(solution.concentration('HCl')) / mol_per_L, 3)} mol/L"


def hottest(acid: float, parts: float) -> float:
    """Return how warm the jug gets at most where water goes into acid [K]."""
    bottles = acid_bottle(acid), other_bottle(WATER, parts=parts)
    return float(np.max(course_of_pour(*bottles, np.linspace(0, 1, 401)).T))


def both_alike(parts: float) -> Setting:
    """Ask why both orders end equally warm [parts of water: -]."""
    end = degrees(float(jug(False, ASKED, parts, 1.0).T))
    return Setting(
        f"One part of {STRONG} and {figures(parts)} parts of water, all at {degrees(ROOM)}. Poured "
        f"together in either order they end at {end}, if no heat is lost. Why at the same?",
        (
            "In the end both jugs hold the same acid and the same water.",
            "So the same heat was set free, and it warms the same liquid.",
        ),
        (
            (
                "What is poured in last cools whatever was hotter before.",
                "Both were equally warm before, and nothing cools below that. Compare what the "
                "jugs hold.",
            ),
            (
                "The order of pouring never matters with this acid.",
                "It matters all the way to the end: one jug is far stronger. Only the end is the "
                "same.",
            ),
            (
                "Acid and water set no heat free; only the stirring does.",
                f"Stirring hardly warms. Diluting does: from {degrees(ROOM)} to {end}.",
            ),
        ),
        "Heat comes from water that gathers around the particles of the acid.\n"
        "The end holds the same acid and water in both jugs: the same heat, in the same liquid.\n"
        f"So both stand at {end}. What differs is the way there.",
    )


def past_the_top(parts: float) -> Setting:
    """Ask why water into acid gets cooler again after the top [parts of water: -]."""
    top, end = degrees(hottest(ASKED, parts)), degrees(float(jug(True, ASKED, parts, 1.0).T))
    return Setting(
        f"Somebody pours {figures(parts)} parts of water into one part of {STRONG}: wrong. The jug "
        f"goes up from {degrees(ROOM)} to {top} and then, with more water, down to {end}. No heat "
        "is lost. Why does it come down again?",
        (
            "More water brings little heat by then, and has to be warmed itself.",
            "The first water brings most of the heat. The rest shares it out over more liquid.",
        ),
        (
            (
                "After the top, diluting the acid takes heat up.",
                "It still sets some heat free, but less than it takes to warm the new water.",
            ),
            (
                "The acid is used up at the top.",
                "None of it is used up: all of it is still there, in more water.",
            ),
            (
                f"The water that comes later is colder than {degrees(ROOM)}.",
                f"All of it is at {degrees(ROOM)}. That is colder than the jug by then, and it has "
                "to be warmed.",
            ),
        ),
        "Each drop of water sets heat free, and each has to be warmed.\n"
        "At first the heat is more than that takes. Later it is less, for the acid has most of its "
        "water by then.\n"
        f"So there is a top, {top}, and then it goes down to {end}.",
    )


def what_splashes(parts: float) -> Setting:
    """Ask out of which jug a splash is worse, a quarter poured [parts of water: -]."""
    mine, theirs = (jug(first, ASKED, parts, QUARTER) for first in (False, True))
    times = figures(float(theirs.concentration("HCl") / mine.concentration("HCl")))
    return Setting(
        f"Two jugs: acid is poured into {figures(parts)} parts of water, and as much water into "
        f"the same acid, {ASKED:g} %. A quarter of it is in each, when a drop splashes out. "
        "Which drop is worse, and why?",
        (
            f"The one out of water into acid: it is {times} times stronger, and hotter.",
            "That is what the rule is about.",
        ),
        (
            (
                "Neither: both jugs hold the same acid and water.",
                "Not before the end. A quarter poured, one holds all of the acid and a quarter of "
                "the water, the other the reverse.",
            ),
            (
                "The one out of acid into water: there the strong acid goes in last.",
                "It is diluted as it goes in. What splashes is what is in the jug: far weaker "
                "acid.",
            ),
            (
                "Neither: what burns is the heat, and both end equally warm.",
                "The acid burns skin and eyes at any warmth. And before the end the jugs differ in "
                "both.",
            ),
        ),
        f"Acid into water, a quarter poured: {strength(mine)}, {degrees(float(mine.T))}.\n"
        f"Water into acid, a quarter poured: {strength(theirs)}, {degrees(float(theirs.T))}.\n"
        f"That is {times} times as much acid in each drop. Weaker is not harmless: goggles for "
        "both.",
    )


def hardly_warms(parts: float) -> Setting:
    """Ask why mild acid hardly warms when it is diluted [parts of water: -]."""
    jugs = [jug(False, acid, parts, 1.0) for acid in (MILD, ASKED)]
    mild, strong = (float(each.T) - ROOM for each in jugs)
    less = figures(float(jugs[1].concentration("HCl") / jugs[0].concentration("HCl")))
    times = figures(strong / mild)
    return Setting(
        f"One part of acid goes into {figures(parts)} parts of water. Acid of {ASKED:g} % warms it "
        f"by {strong:.1f} °C, acid of {MILD:g} % by only {mild:.1f} °C: {times} times less. Yet "
        f"there is only {less} times less acid in it. Why so little?",
        (
            "Most of its heat came out before, when it was diluted to that strength.",
            "Its particles have most of their water around them already.",
        ),
        (
            (
                "It is another acid, one that sets no heat free.",
                "It is the same acid with more water. Only how much water it has differs.",
            ),
            (
                "There is more water in the jug to be warmed.",
                "The jug is as full in both, with a little more water in it. That is far from "
                f"{times} times.",
            ),
            (
                "Mild acid mixes too slowly to warm.",
                "However slowly it mixes, the same heat comes out. There is only little of it.",
            ),
        ),
        f"Less acid, so less heat: that makes {less} times.\n"
        "Less heat for each particle too: the first water brings most of it, and acid of "
        f"{MILD:g} % has had that water already.\n"
        f"Both together make {times} times.",
    )


def peroxide_last(parts: float) -> Setting:
    """Ask why strong peroxide goes in last [parts of water: -]."""
    diluted, bottle = jug(False, ASKED, parts, 1.0), acid_bottle(ASKED)
    return Setting(
        f"Water, {STRONG} and peroxide of 12 % would go into one jug (never mixed here). The "
        f"planner pours {figures(parts)} parts of water, then one of acid, then the peroxide. Why "
        "the peroxide last?",
        (
            "Then it meets diluted acid, and never the acid of the bottle.",
            f"It meets {strength(diluted)} in place of {strength(bottle)}.",
        ),
        (
            (
                "Because it is the lightest and stays on top.",
                "It is heavier than water. What counts is how strong the acid is that it meets.",
            ),
            (
                "Because the jug then ends cooler.",
                "The end is equally warm in any order. What differs is what meets on the way.",
            ),
            (
                "Because peroxide must not touch water before acid.",
                "A bottle of peroxide is mostly water. It is strong acid that it must not meet.",
            ),
        ),
        "Strong acid and peroxide together can give off chlorine, a choking gas.\n"
        f"With the water first, the acid in the jug is down to {strength(diluted)}.\n"
        "So the peroxide comes last, and what it meets is diluted.",
    )


def peroxide_first(parts: float) -> Setting:
    """Ask why shop peroxide goes in before strong acid [parts of peroxide: -]."""
    bottles = other_bottle("peroxide", parts=parts), acid_bottle(ASKED)
    mine, theirs = (course_of_pour(*pair, HALF) for pair in (bottles, bottles[::-1]))
    return Setting(
        f"No water is poured, only one part of {STRONG} and {figures(parts)} parts of shop "
        f"peroxide, {SHOP_PEROXIDE:g} % (drawn only). The planner pours the peroxide first. Why?",
        (
            "It is nearly all water: so the acid is diluted from its first drop.",
            "Acid into shop peroxide is acid into water.",
        ),
        (
            (
                "Peroxide always goes in first.",
                "Stronger peroxide comes last, into diluted acid. Look at what this bottle is made "
                "of.",
            ),
            (
                "The jug then ends cooler.",
                "It ends equally warm in either order. Look at the way there.",
            ),
            (
                "The acid is too weak to matter.",
                f"It is strong: from {100 * STRONG_ACID:g} % on the planner asks for water, or for "
                f"peroxide of at most {100 * WEAK_FOR_STRONG_ACID:g} %.",
            ),
        ),
        f"The bottle is {100 - SHOP_PEROXIDE:g} % water by weight.\n"
        f"Half of the acid poured into it: {strength(mine)} in the jug. Half of the peroxide "
        f"poured into the acid: {strength(theirs)}.\n"
        "Strong acid with peroxide can give off chlorine: the weaker jug is the safer order.",
    )


SETTINGS: tuple[Callable[[float], Setting], ...] = (
    both_alike,
    past_the_top,
    what_splashes,
    hardly_warms,
    peroxide_last,
    peroxide_first,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
