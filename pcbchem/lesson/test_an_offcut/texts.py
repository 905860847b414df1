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
    SEEN_LATE,
    SMALL,
    TOLD,
    by_labels,
    counted,
    old_bottle,
    width,
)

END = 1.28
"""One in ten lies farther from the middle than so many standard deviations [-]."""
TRIALS, TOO_FEW, BY_CHANCE = 10, 5, 3
"""Offcuts of a test of the page, too few of them inside, and how often that is chance [-, -, %]."""


@cache
def why() -> str:
    """Say why an offcut like the board narrows the band, and reckon it by hand, in Markdown."""
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
    single = counted(CARE, 1)
    return (
        "**Why.** The time hangs on bottles, tray and hand, and on numbers that nobody has "
        "measured. Knowing the bottles takes one doubt away. An offcut *like the board* meets all "
        "at once: same bottles, tray and hand, at least half as large. The step from it to the "
        f"board is taken as good to {100 * SAME_TRAY:.0f} %, from a small one in another dish to "
        f"{100 * OTHER_TRAY:.0f} %. *The step, not the stopwatch, sets the end:* the sixth hardly "
        "pays. In half the bath half a board clears when the board would: so its cross stands on "
        "the board's axis.\n\n"
        f"| on {MANY} made-up benches | high over low, the middle one |\n|---|---|\n{table}\n\n"
        f"One large offcut does about as much as knowing both bottles: it was narrower on "
        f"{single.narrower} of {single.benches}.\n\n"
        f"{by_hand()}\n\n"
        f"{sources()}"
    )


@cache
def by_hand() -> str:
    """Reckon the band after six offcuts, each step from printed numbers, in Markdown."""
    labels = round(math.log(width(by_labels())) / (2 * END), 2)
    of_labels = round(1 / labels**2)
    timing = round(SPREAD / math.sqrt(MOST_OFFCUTS), 2)
    with_step = round(math.hypot(timing, SAME_TRAY), 2)
    of_six = round(1 / with_step**2)
    total = of_labels + of_six
    doubt = round(1 / math.sqrt(total), 3)
    wider = round(WIDER * doubt, 3)
    return (
        "**By hand: surenesses add.** Sureness is 1 ÷ doubt².\n\n"
        f"- Labels: 1 ÷ {labels}² = {of_labels}.\n"
        f"- Six times: {SPREAD} ÷ √{MOST_OFFCUTS} = {timing}. With the step: √({timing}² + "
        f"{SAME_TRAY}²) = {with_step}, and 1 ÷ {with_step}² = {of_six}.\n"
        f"- Together {of_labels} + {of_six} = {total}, so the doubt is 1 ÷ √{total} = {doubt}.\n"
        f"- The package takes it {100 * (WIDER - 1):.0f} % wider, for its draws are few: {wider}.\n"
        f"- High over low: e^(2 × {END} × {wider}) = {math.exp(2 * END * wider):.2f}. Package: "
        f"{counted(CARE, MOST_OFFCUTS).width:.2f}."
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** Nobody has etched these offcuts: bench and truth are "
        "made up, by the same model. "
        f"{100 * SPREAD:.0f} % for a time, {100 * SAME_TRAY:.0f} and {100 * OTHER_TRAY:.0f} % for "
        "the step are *assumed*; so is one row in twenty that is a slip. What the model has wrong "
        "no made-up bench can show. Your own offcut can."
    )


@cache
def read_times() -> str:
    """Say what late times do, and what helps, in Markdown."""
    rows = (
        ("watched", CARE),
        ("watched, but a quarter off by chance", "a quarter off"),
        ("a look every 2 min, written down", SEEN_LATE),
        ("half-way to the look before, written down", HALF_WAY),
        (f"a look every 2 min, and the page told {100 * TOLD:.0f} %", "told"),
        ("a look every half minute", "often"),
    )
    table = "\n".join(times_row(words, way) for words, way in rows)
    careful, late = counted(CARE, MOST_OFFCUTS), counted(SEEN_LATE, MOST_OFFCUTS)
    exact, doubtful = old_bottle()
    return (
        "**Late is not chance.** Chance evens out over six offcuts. A look comes late each time, "
        "and six late times agree with each other. *A band is only as honest as the doubt that "
        "you put in.*\n\n"
        f"| six large offcuts | high over low | holds the truth, of {MANY} |\n|---|---|---|\n"
        f"{table}\n\n"
        "So look often, or write down half-way between the last look that was not clear and the "
        "first that was. To own up to a larger spread helps too, and costs width.\n\n"
        f"**In a class of {BENCHES}** each has a bench. Hands up whose band holds the truth: about "
        f"{round(BENCHES * careful.held / MANY)} if watched, {round(BENCHES * late.held / MANY)} "
        f"if not. Benches 1 to {BENCHES} make it {careful.in_class} and {late.in_class}.\n\n"
        f"**On your own bench.** {ABOUT_TIME} Etch next what is like the board: more water tells "
        "less. But an old bottle comes first. Peroxide of 3 to 12 % makes the high end "
        f"{width(doubtful):.1f} times the low. Read as 6 %, it is {width(exact):.1f}: there the "
        "bottle *is* the doubt."
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
        test = "A class tries nothing here: only the teacher may, away from the class."
    return (
        f"## What would prove it wrong\n\n{test}\n\n"
        "## What you can now say\n\n"
        "- Two offcuts like the board teach more than both bottles, because they meet everything "
        "at once.\n"
        "- No number of them beats the step to the board.\n"
        "- A band is only as honest as the doubt I put into my own times. For your own board "
        "[the planner](00_plan_a_bath.ipynb)."
    )


def prove_it() -> str:
    """Say which offcuts would prove the page wrong, its cautions first, in Markdown."""
    return (
        "An offcut is an etching like any other: first [the cautions](reference/cautions.md) and "
        "the planner; in a class the teacher alone, away from it. Before each of "
        f"{TRIALS} offcuts write its band down. About 8 of {TRIALS} times should lie inside. "
        f"{TOO_FEW} or fewer happens by chance on {BY_CHANCE} of 100 such benches: then the page "
        "is wrong, or your stopwatch."
    )
