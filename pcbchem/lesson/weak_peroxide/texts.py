"""What page 06 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

from ...bench import hazards
from ...common.units import cm, mL_per_cm2
from .numbers import (
    ASKED,
    HOURS,
    LARGE,
    OFFCUT_BATH,
    PEROXIDE,
    SMALL,
    STRONG_ACID,
    TOO_LITTLE,
    WEAK_ACID,
    at,
    brown_takes,
    by_hand,
    never_if_slow,
    offcuts,
)
from .words import minutes, percents


@cache
def why() -> str:
    """Say what brown is and why it ends, and reckon how far it goes, in Markdown."""
    asked = at(ASKED)
    assert asked.spent is not None and asked.gone is not None
    _, brown, never = asked.counts
    return (
        f"**Why, at {ASKED:g} times.** Nobody knows every number of a bath, so the planner tries "
        f"{asked.total} *plausible baths* (ranges: 8 of 10). Part of the peroxide falls apart into "
        f"oxygen and takes no copper: {percents(asked.lost)}. In {brown + never} it is spent "
        "early, "
        f"after {minutes(float(asked.spent.low))} to {minutes(float(asked.spent.high))} min, with "
        f"{percents(asked.gone)} of the copper gone. Then the bath turns brown, and its own "
        "dissolved copper goes on: Cu + Cu²⁺ → 2 Cu⁺. Two limits: the acid's chloride holds only "
        "so much of "
        "this copper(I), and each copper more takes one that is dissolved.\n\n"
        "**Brown and not clear: board out, pour nothing in, blow no air.** It is acid and copper "
        "waste, and may still give off gas: never closed.\n\n"
        "Nobody has measured how fast peroxide falls apart in this bath: "
        f"{never_if_slow()} instead of {never} never clear if slow decay is counted too. "
        f"*Never* is: not in {HOURS:g} hours, in the model, which has "
        "no air.\n\n"
        f"{reckoned()}"
    )


def reckoned() -> str:
    """Reckon the copper that a brown bath takes by hand, each step from printed numbers."""
    hand = by_hand(ASKED)
    return (
        "**By hand**, in shares of the copper (1 is all of it), for the fresh bath at 20 °C:\n\n"
        f"- It holds {hand.peroxide:.2f} mol/L (moles in a litre) of peroxide; its chloride can "
        f"hold {hand.held:.2f} of copper(I): {hand.held:.2f} ÷ {hand.peroxide:.2f} = "
        f"{hand.ratio:.2f}.\n"
        f"- For {ASKED:g} times: {hand.ratio:.2f} × {ASKED:g} = {hand.cuprous:.2f}. Each copper "
        f"dissolved makes two: {hand.cuprous:.2f} ÷ 2 = {hand.share:.2f} at most. Dissolved copper "
        f"takes chloride too: the package says {brown_takes():.2f}.\n"
        f"- The middle bath: {together(float(at(ASKED).lost.middle))}\n"
        f"- One that loses much: {together(float(at(ASKED).lost.high))}"
    )


def together(loss: float) -> str:
    """Add what peroxide takes, with a share of it lost [-], to the most that brown can take."""
    lost, brown = round(loss, 2), by_hand(ASKED).share
    taken = round(ASKED * (1 - lost), 2)
    end = "perhaps" if taken + brown >= 1 else "never"
    return (
        f"{lost:.2f} is lost. {ASKED:g} × {1 - lost:.2f} = {taken:.2f}; {taken:.2f} + {brown:.2f} "
        f"= {taken + brown:.2f}: {end}."
    )


@cache
def read_strong() -> str:
    """Say why strong acid clears with too little peroxide, and where numbers come from."""
    strong, weak = at(TOO_LITTLE, STRONG_ACID), at(TOO_LITTLE, WEAK_ACID)
    hand = by_hand(TOO_LITTLE, STRONG_ACID)
    enough = at(wanted(), WEAK_ACID)
    return (
        f"Acid of {STRONG_ACID:g} % fumes; one breath can burn, and with peroxide it gives more "
        "chlorine: never mix it.\n\n"
        f"**{TOO_LITTLE:g} times, {STRONG_ACID:g} %: {strong.clear} of {strong.total} clear; with "
        f"{WEAK_ACID:g} % acid {weak.clear or 'none'}.** Between the two *chloride decides*: that "
        f"of {STRONG_ACID:g} % acid holds {hand.held:.2f} mol/L of copper(I). By hand: "
        f"{hand.held:.2f} ÷ {hand.peroxide:.2f} = {hand.ratio:.2f}; {hand.ratio:.2f} × "
        f"{TOO_LITTLE:g} ÷ 2 = {hand.share:.2f}, more than all the copper. Nearly all that never "
        "clear had less than half of the copper gone when peroxide was: the second limit. More "
        f"weak bath helps, planned before it is mixed: with peroxide for {wanted():g} times the "
        f"copper, {enough.counts[2]} of {enough.total} never clear.\n\n"
        f"{sources()}"
    )


def wanted() -> float:
    """Return how many times over the planner wants a bath to carry the copper [-]."""
    return hazards.rule_named("little reserve").limit


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** How chloride holds copper(I): one constant published "
        "(Sugasaka and Fujii), one from memory (Ahrland and Rawsthorne); a geological survey's "
        "agree within a quarter. Decay: measured in sulfate (Mlasi and others), times an assumed "
        "factor. That weak baths turn brown: common practice, no source. "
        f"{HOURS:g} hours and “{wanted():g} times” are our limits. A shop's peroxide often holds "
        "less than its label."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: the teacher alone etches offcuts.
    """
    offcuts_or_not = two_offcuts()
    if school:
        offcuts_or_not = "A class tries nothing here: only the teacher may, away from the class."
    return (
        f"## What would prove it wrong\n\n{offcuts_or_not}\n\n"
        "## What you can now say\n\n"
        "- Enough by the equation is not enough: part of the peroxide goes into oxygen.\n"
        "- When peroxide is spent the bath turns brown. Its dissolved copper goes on, slowly, and "
        "only as far as chloride can hold it.\n"
        "- Brown is waste, acid, and never closed. Next: [when to lift it out]"
        "(07_when_to_lift_it_out.ipynb); for your own board [the planner](00_plan_a_bath.ipynb)."
    )


def two_offcuts() -> str:
    """Say how much longer a larger offcut should take, cautions first, in Markdown."""
    weak = offcuts()
    assert not weak.refused
    small, large = (OFFCUT_BATH / area / mL_per_cm2 for area in (SMALL, LARGE))
    return (
        "This is an etching like any other: first [the cautions](reference/cautions.md) and the "
        "planner, for your own bottles; refused: no offcut. In a class the teacher alone, away "
        f"from it. Take two offcuts of 1 oz, {SMALL / cm**2:g} and {LARGE / cm**2:g} cm² bare. "
        "Each "
        f"gets a fresh bath: {WEAK_ACID:g} % acid and {PEROXIDE:g} % peroxide, equal parts. "
        f"{small:g} and {large:g} mL per cm², same flat dish in an empty tub. The larger offcut "
        f"should take {float(weak.ratio.middle):.1f} times as long ({float(weak.ratio.low):.1f} to "
        f"{float(weak.ratio.high):.1f}), in no plausible bath under {floored(weak.least)} times. "
        "Clearly under 1 in three pairs: this page is wrong. It shows that a bath thins as it is "
        "used, not why. Either not clear in half an hour: it tells nothing."
    )


def floored(ratio: float) -> str:
    """Write a least ratio [-], never more than it is.

    Examples
    --------
    >>> print(floored(1.0969))
    1.09
    """
    return f"{int(100 * ratio) / 100:.2f}"
