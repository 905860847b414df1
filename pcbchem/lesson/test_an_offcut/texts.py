"""What page 08 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

import math
from functools import cache

from ...bench.offcut.board_time import WIDER
from ...bench.offcut.calibrating import SPREAD
from ...bench.offcut.calibration import ABOUT_TIME
from ...bench.offcut.offcut import OTHER_TRAY, SAME_TRAY
from .benches import KNOWN, LABELS, MANY
from .numbers import (
    BENCHES,
    CARE,
    HALF_WAY,
    MOST_OFFCUTS,
    OTHER_HAND,
    SEEN_LATE,
    SMALL,
    TOLD,
    counted,
    old_bottle,
    width,
)
from .words import HOW, too_late_words

BY_HAND = {"One offcut": 1, "Six": MOST_OFFCUTS, "A hundred": 100}
"""How many offcuts are reckoned by hand [-]."""
GIVE_OR_TAKE = round(math.sqrt(MANY * 0.8 * 0.2))
"""One standard deviation of how many of the benches hold the truth by chance [-]."""
TRIALS, TOO_FEW, BY_CHANCE = 10, 5, 3
"""Offcuts of a test of the page, too few of them inside, and how often that is chance [-, -, %]."""
ONLY_THE_TEACHER = (
    "only the teacher, with a second adult beside, never in front of the class, after the school's "
    "own risk assessment."
)


@cache
def why(school: bool = False) -> str:
    """Say why an offcut like the board narrows the band, and reckon it by hand, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nothing leads to an etching of one's own.
    """
    rows = (
        ("labels alone", LABELS, 0),
        ("both bottles known", KNOWN, 0),
        ("six small offcuts, each in a dish", SMALL, MOST_OFFCUTS),
        ("one large offcut, half the board", CARE, 1),
        ("two", CARE, 2),
        ("three", CARE, 3),
        ("six", CARE, 6),
        ("six, by another hand or in another tray", OTHER_HAND, MOST_OFFCUTS),
    )
    table = "\n".join(counted_row(words, way, number) for words, way, number in rows)
    return (
        "**Why.** The time hangs on bottles, tray and hand, and on numbers that nobody has "
        "measured in your tray. An offcut *like the board* meets all at once: same bottles, tray "
        "and hand, at least half as large. In half the bath it clears when the board would.\n\n"
        f"| on {MANY} made-up benches, each band {100 * (WIDER - 1):.0f} % wider than its draws | "
        f"high over low, the middle one | holds the truth |\n|---|---|---|\n{table}\n\n"
        "**The step.** Even a perfect time on the offcut is not the board's time. The package "
        f"takes this step as good to {100 * SAME_TRAY:.0f} %, from a small offcut in another dish "
        f"to {100 * OTHER_TRAY:.0f} %. Nobody has measured either: with {100 * OTHER_TRAY:.0f} % "
        "six large offcuts teach no more than both bottles.\n\n"
        f"{by_hand()}\n\n"
        f"{sources(school)}"
    )


@cache
def by_hand() -> str:
    """Reckon what time and step leave in doubt, each line from printed numbers, in Markdown."""
    time, step = 100 * SPREAD, 100 * SAME_TRAY
    lines = []
    for words, offcuts in BY_HAND.items():
        chance = round(time / math.sqrt(offcuts), 1)
        both = round(math.hypot(chance, step), 1)
        lines.append(
            f"- {words}: {time:g} ÷ √{offcuts} = {chance:g}, with the step √({chance:g}² + "
            f"{step:g}²) = {both:g} %."
        )
    listed = "\n".join(lines)
    return (
        f"**By hand.** One time is good to {time:g} %. Chance evens out as the root of how many "
        f"there are. The step joins it, square to square:\n\n{listed}"
    )


def sources(school: bool = False) -> str:
    """Say where the numbers come from, in Markdown."""
    told = (
        "**Where the numbers come from.** Nobody has etched these offcuts: bench and truth are "
        "made up, by the same model. "
        f"{100 * SPREAD:.0f} % for a time, {100 * SAME_TRAY:.0f} and {100 * OTHER_TRAY:.0f} % for "
        "the step are *assumed*. What the model has wrong no made-up bench can show."
    )
    if school:
        return told
    return f"{told} Your own offcut can."


@cache
def read_times(school: bool = False) -> str:
    """Say what late times do, and what helps, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nothing leads to an etching of one's own.
    """
    rows = (
        (HOW[CARE], CARE),
        ("watched, but a quarter or so too soon or too late", "a quarter off"),
        (HOW[SEEN_LATE], SEEN_LATE),
        (HOW[HALF_WAY], HALF_WAY),
        ("a look every half minute, and that time written down", "often"),
        (f"{HOW[SEEN_LATE]}, as good to {100 * TOLD:.0f} % only", "told"),
    )
    table = "\n".join(counted_row(words, way, MOST_OFFCUTS) for words, way in rows)
    careful, late = counted(CARE, MOST_OFFCUTS), counted(SEEN_LATE, MOST_OFFCUTS)
    exact, doubtful = old_bottle()
    told = (
        "**Late is not chance.** Chance is too soon or too late, and evens out. A look comes late "
        "each time, and six late times agree. *A band is only as honest as the doubt that you put "
        "in.*\n\n"
        f"| six large offcuts | high over low | holds the truth, of {MANY} |\n|---|---|---|\n"
        f"{table}\n\n"
        f"8 in 10 would be {8 * MANY // 10}, give or take {GIVE_OR_TAKE}: only {late.held} is "
        f"beyond chance. {too_late_words()} Late times etch too long. So look often, or write down "
        "half-way to the look before. A larger spread, as in the last row, only hides it: mend the "
        "time, not the doubt.\n\n"
        f"**In a class of {BENCHES}**, hands up whose band holds the truth: on average "
        f"{round(BENCHES * careful.held / MANY)} if watched, "
        f"{round(BENCHES * late.held / MANY)} if not. Benches 1 to {BENCHES} make it "
        f"{careful.in_class} and {late.in_class}.\n\n"
        f"**An old bottle** comes first: peroxide of 3 to 12 % makes it {width(doubtful):.1f} "
        f"times, of exactly 6 % {width(exact):.1f}."
    )
    if school:
        return told
    return f"{told}\n\n**On your own bench.** {ABOUT_TIME}"


def counted_row(words: str, way: str, offcuts: int) -> str:
    """Return what was counted of so many offcuts [-], as a row in Markdown."""
    row = counted(way, offcuts)
    return f"| {words} | {row.width:.2f} | {row.held} |"


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: the teacher alone etches an offcut.
    """
    test = prove_it()
    if school:
        test = f"A class tries nothing here. Who may: {ONLY_THE_TEACHER}"
    return (
        f"## What would prove it wrong\n\n{test}\n\n"
        "## What you can now say\n\n"
        "- One offcut like the board teaches more than both bottles: it meets everything at "
        "once.\n"
        "- No number of offcuts removes the step to the board.\n"
        "- A band is only as honest as the doubt that goes into its times.\n\n"
        "Next: [what goes into the air](09_what_goes_into_the_air.ipynb). Amounts for a board: "
        "[the planner](00_plan_a_bath.ipynb)."
    )


def prove_it() -> str:
    """Say which offcuts would prove the page wrong, its cautions first, in Markdown."""
    return (
        "First [the cautions](reference/cautions.md) and the planner. Of "
        f"{TRIALS} offcuts that you etch anyway, write down when you *should see it clear*. About "
        f"8 should lie inside. {TOO_FEW} or fewer is chance on {BY_CHANCE} of 100 benches: else a "
        f"bottle, the foil, the stopwatch or the model is wrong. In a class: {ONLY_THE_TEACHER}"
    )
