"""Two pairs of offcuts that together tell three ideas apart: an experiment that can fail."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from ...common.number_words import figures
from .numbers import SHAKEN, STILL, Case, two_offcuts, two_without_bubbles

PAIRS = {"still": STILL, "shaken": SHAKEN}
"""How the tray of each pair of offcuts is moved."""
ALONE, MULTIPLIED, PAGE = "strength alone", "both strengths multiply", "this page"


@dataclasses.dataclass(frozen=True)
class Expected:
    """What three ideas expect of one pair: ratio of times [-], the page's with its band."""

    alone: float
    multiplied: float
    low: float
    middle: float
    high: float

    @property
    def side(self) -> str:
        """On which side of "both multiply" the page's band lies, or that it covers it."""
        if self.low > self.multiplied:
            return "above"
        if self.high < self.multiplied:
            return "below"
        return "on both sides of"


def expected(case: Case) -> Expected:
    """Return what three ideas expect of an offcut in the weaker bath [times as long]."""
    weaker, ratio = two_offcuts(case)
    low, middle, high = float(ratio.low), float(ratio.middle), float(ratio.high)
    # two reagents, each so many times weaker
    return Expected(weaker, weaker**2, low, middle, high)


def failing() -> tuple[int, int]:
    """Return how many of the page's own baths would fail its test with one pair, and of how many.

    They lie on the other side of "both multiply" than the page's band does.
    """
    fails = []
    for case in PAIRS.values():
        pair = expected(case)
        values = two_offcuts(case)[1].values
        is_above = values > pair.multiplied
        fails.append(is_above if pair.high < pair.multiplied else ~is_above)
    either = np.any(fails, axis=0)
    return int(either.sum()), either.size


def offcut_words() -> str:
    """Say what three ideas expect of two pairs of offcuts, and what each outcome would mean.

    Returns
    -------
    str
        Markdown: ratios to expect [-], the page's with its band, and the reading.
    """
    # no number of this text is written by hand: the page cannot promise another than it computes
    lines = [
        f"| tray | {ALONE} | {MULTIPLIED} | {PAGE} |",
        "|---|---|---|---|",
    ]
    sides = []
    for name, case in PAIRS.items():
        pair = expected(case)
        lines.append(
            f"| {name} | {figures(pair.alone)} | {figures(pair.multiplied)} | "
            f"**{pair.middle:.1f}** ({pair.low:.1f} to {pair.high:.1f}) |"
        )
        sides.append(f"{pair.side} {figures(pair.multiplied)} when {name}")
    pair = expected(STILL)
    alone, multiplied = figures(pair.alone), figures(pair.multiplied)
    no_bubbles = two_without_bubbles(STILL)
    few_bubbles = math.ceil(float(no_bubbles.high))
    fail, every = failing()
    outcomes = (
        f"- **{few_bubbles} or less when still:** bubbles hardly matter, and this page is wrong "
        f"about them. Without bubbles the model gives {float(no_bubbles.middle):.1f}; about "
        f"{alone}: strength alone is enough.",
        f"- **About {multiplied} in both:** second order, as if both strengths multiplied. Wrong.",
        f"- **{' and '.join(sides).capitalize()}:** no power of the strength gives both. The page "
        "has passed a test that it could have failed. "
        f"Of its own {every} baths {fail} would not pass.",
        "- **Anything else**, or a ratio at the edge of a band: undecided. Do it again.",
    )
    heading = "How many times as long the weaker bath should take:"
    return "\n".join([heading, "", *lines, "", *outcomes])
