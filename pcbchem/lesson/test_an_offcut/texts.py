"""What page 08 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

import math
from functools import cache

from ...bench.offcut.calibrating import SPREAD
from ...bench.offcut.calibration_words import ABOUT_TIME
from ...bench.offcut.offcut import OTHER_TRAY, SAME_TRAY
from .benches import KNOWN, LABELS, MANY
from .numbers import (
    BENCHES,
    CARE,
    HALF_WAY,
    MOST_OFFCUTS,
    SEEN_LATE,
    SMALL,
    TOLD,
    counted,
    old_bottle,
    width,
)
from .words import HOW

BY_HAND = {"One offcut": 1, "Six": MOST_OFFCUTS, "A hundred": 100}
"""How many offcuts are reckoned by hand [-]."""
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
    rows = [
        ("labels alone", counted(LABELS, 0).width),
        ("both bottles known", counted(KNOWN, 0).width),
        ("six small offcuts, each in a dish", counted(SMALL, MOST_OFFCUTS).width),
    ]
    for number, words in (
        (1, "one large offcut, half the board"),
        (2, "two"),
        (3, "three"),
        (6, "six"),
    ):
        rows.append((words, counted(CARE, number).width))
    table = "\n".join(f"| {words} | {value:.2f} |" for words, value in rows)
    return (
        "**Why.** The time hangs on bottles, tray and hand, and on numbers that nobody has "
        "measured. Known bottles take one doubt away. An offcut *like the board* meets all at "
        "once: same bottles, tray and hand, at least half as large. Half a board in half the bath "
        "clears when the board would: so its cross stands on the board's axis.\n\n"
        f"| on {MANY} made-up benches | high over low, the middle one |\n|---|---|\n{table}\n\n"
        "**The step.** Even a perfect time on the offcut is not the board's time. The package "
        f"takes this step as good to {100 * SAME_TRAY:.0f} %, from a small offcut in another dish "
        f"to {100 * OTHER_TRAY:.0f} %.\n\n"
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
        f"**By hand: the step stays.** A single time is good to {time:g} %. Over several, chance "
        f"shrinks by the root of their number. The step then adds to it, as squares do:\n\n{listed}"
    )


def sources(school: bool = False) -> str:
    """Say where the numbers come from, in Markdown."""
    told = (
        "**Where the numbers come from.** Nobody has etched these offcuts: bench and truth are "
        "made up, by the same model. "
        f"{100 * SPREAD:.0f} % for a time, {100 * SAME_TRAY:.0f} and {100 * OTHER_TRAY:.0f} % for "
        "the step are *assumed*; so is one row in twenty that is a slip. What the model has wrong "
        "no made-up bench can show."
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
    table = "\n".join(times_row(words, way) for words, way in rows)
    careful, late = counted(CARE, MOST_OFFCUTS), counted(SEEN_LATE, MOST_OFFCUTS)
    exact, doubtful = old_bottle()
    told = (
        "**Late is not chance.** Chance is too soon or too late, and evens out over six offcuts. A "
        "look comes late each time, and six late times agree with each other. *A band is only as "
        "honest as the doubt that you put in.*\n\n"
        f"| six large offcuts | high over low | holds the truth, of {MANY} |\n|---|---|---|\n"
        f"{table}\n\n"
        "So look often, or write down half-way to the look before. Telling the page that times "
        "are less good, as in the last row, costs width.\n\n"
        f"**In a class of {BENCHES}** each has a bench. Hands up whose band holds the truth: on "
        f"average {round(BENCHES * careful.held / MANY)} if watched, "
        f"{round(BENCHES * late.held / MANY)} if not. By chance benches 1 to {BENCHES} make it "
        f"{careful.in_class} and {late.in_class}.\n\n"
        "**With an old bottle** that bottle is the larger doubt. Peroxide of 3 to 12 % makes the "
        f"high end {width(doubtful):.1f} times the low. Read as 6 %, it is {width(exact):.1f}."
    )
    if school:
        return told
    return (
        f"{told}\n\n**On your own bench.** {ABOUT_TIME} Stop at two offcuts: each leaves half a "
        "board's bath as waste."
    )


def times_row(words: str, way: str) -> str:
    """Return what was counted of one way to time, as a row in Markdown."""
    row = counted(way, MOST_OFFCUTS)
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
        test = f"A class tries nothing here: {ONLY_THE_TEACHER}"
    return (
        f"## What would prove it wrong\n\n{test}\n\n"
        "## What you can now say\n\n"
        "- Two offcuts like the board teach more than both bottles, because they meet everything "
        "at once.\n"
        "- No number of offcuts removes the step to the board.\n"
        "- A band is only as honest as the doubt that goes into its times.\n\n"
        "Amounts for a board: [the planner](00_plan_a_bath.ipynb)."
    )


def prove_it() -> str:
    """Say which offcuts would prove the page wrong, its cautions first, in Markdown."""
    return (
        "First [the cautions](reference/cautions.md) and the planner. Before each of "
        f"{TRIALS} offcuts or boards that you etch anyway, write its band down. Etch none for this "
        f"test alone: each leaves waste. About 8 of {TRIALS} times should lie inside. {TOO_FEW} or "
        f"fewer happens by chance on {BY_CHANCE} of 100 such benches: then the page is wrong, or "
        f"your stopwatch. In a class: {ONLY_THE_TEACHER}"
    )
