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
        f"{asked.total} *plausible baths*; ranges hold 8 of 10. In each, part of the peroxide "
        f"falls apart into oxygen and takes no copper: {percents(asked.lost)}. "
        f"In {brown + never} it is spent early, after {minutes(float(asked.spent.low))} to "
        f"{minutes(float(asked.spent.high))} min, with {percents(asked.gone)} of the copper gone. "
        "Then the bath turns brown, and its own dissolved copper goes on: Cu + Cu²⁺ → 2 Cu⁺. "
        "Chloride binds this copper(I), but only so much of it. So brown goes on slowly, and only "
        "so far.\n\n"
        "*Brown is not dead, nor quiet, nor harmless.* It is acid, it is copper waste, it may "
        "still give off gas: never closed.\n\n"
        "How many never clear depends on how fast peroxide falls apart. Nobody has measured that "
        f"in this bath: it is {never_if_slow()} if slow decay is allowed. The page counts as the "
        f"planner does. *Never* here means: not in {HOURS:g} hours, in the model. Air slowly wakes "
        "a brown bath, and the model has no air.\n\n"
        f"{reckoned()}"
    )


def reckoned() -> str:
    """Reckon the copper that a brown bath takes by hand, each step from printed numbers."""
    hand = by_hand(ASKED)
    return (
        "**By hand**, roughly, for the fresh bath at 20 °C, in shares of the copper:\n\n"
        f"- It holds {hand.peroxide:.2f} mol/L (moles in a litre) of peroxide; its chloride can "
        f"hold {hand.held:.2f} mol/L of copper(I). {hand.held:.2f} ÷ {hand.peroxide:.2f} = "
        f"{hand.ratio:.2f}.\n"
        f"- For {ASKED:g} times the copper: {hand.ratio:.2f} × {ASKED:g} = {hand.cuprous:.2f}.\n"
        f"- Each copper dissolved makes two: {hand.cuprous:.2f} ÷ 2 = {hand.share:.2f}.\n"
        f"- The middle bath: {together(float(at(ASKED).lost.middle))}\n"
        f"- One that loses much: {together(float(at(ASKED).lost.high))}"
    )


def together(loss: float) -> str:
    """Add what peroxide takes, with a share of it lost [-], to what brown can take."""
    lost, brown = round(loss, 2), by_hand(ASKED).share
    taken = round(ASKED * (1 - lost), 2)
    end = "just clear" if taken + brown >= 1 else "never"
    return (
        f"{lost:.2f} of the peroxide is lost. {ASKED:g} × {1 - lost:.2f} = {taken:.2f}; "
        f"{taken:.2f} + {brown:.2f} = {taken + brown:.2f}: {end}."
    )


@cache
def read_strong() -> str:
    """Say why strong acid clears with too little peroxide, and where numbers come from."""
    strong, weak = at(TOO_LITTLE, STRONG_ACID), at(TOO_LITTLE, WEAK_ACID)
    hand = by_hand(TOO_LITTLE, STRONG_ACID)
    enough = at(wanted(), WEAK_ACID)
    return (
        f"**{strong.clear} of {strong.total} clear; with {WEAK_ACID:g} % acid "
        f"{weak.clear or 'none'}.** Enough and not finished; too little and finished: *chloride "
        f"decides*. That of {STRONG_ACID:g} % acid holds {hand.held:.2f} mol/L of copper(I). By "
        f"hand: {hand.held:.2f} ÷ {hand.peroxide:.2f} = {hand.ratio:.2f}; {hand.ratio:.2f} × "
        f"{TOO_LITTLE:g} ÷ 2 = {hand.share:.2f}, more than all the copper. Nearly all that never "
        "clear had less than half of the copper gone when peroxide was: each copper more takes one "
        "that is dissolved. This is no reason for strong acid, which fumes. More of the weak bath "
        f"helps: with peroxide for {wanted():g} times the copper, {enough.counts[2]} of "
        f"{enough.total} never clear.\n\n"
        f"{sources()}"
    )


def wanted() -> float:
    """Return how many times over the planner wants a bath to carry the copper [-]."""
    return hazards.rule_named("little reserve").limit


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** How chloride binds copper(I): one constant published "
        "(Sugasaka and Fujii), one from memory (Ahrland and Rawsthorne). A geological survey's "
        "constants agree within a quarter. Decay of peroxide: measured in sulfate (Mlasi and "
        "others), for chloride times an assumed factor. That weak "
        "baths turn brown and slow, and that air wakes them: common practice, no source. "
        f"{HOURS:g} hours and “{wanted():g} times” are our limits. The peroxide is that of the "
        "middle bottle: a shop's often holds less than its label."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: the teacher alone etches offcuts.
    """
    return (
        "## What would prove it wrong\n\n"
        f"{'Two offcuts: the teacher.' if school else two_offcuts()}\n\n"
        "## What you can now say\n\n"
        "- Enough by the equation is not enough: part of the peroxide goes into oxygen.\n"
        "- When peroxide is spent the bath turns brown. Its dissolved copper goes on, slowly, and "
        "only as far as chloride can hold it.\n"
        "- Brown is waste, acid, and never closed. Next: [when to lift it out]"
        "(07_when_to_lift_it_out.ipynb); for your own board [the planner](00_plan_a_bath.ipynb)."
    )


def two_offcuts() -> str:
    """Say how much longer a larger offcut should take, cautions first, in Markdown."""
    weak, mild = offcuts("weak"), offcuts("mild")
    assert not weak.refused and not mild.refused
    small, large = (OFFCUT_BATH / area / mL_per_cm2 for area in (SMALL, LARGE))
    return (
        "This is an etching like any other: first [the cautions](reference/cautions.md) and the "
        "planner, which says *with care*; in a class the teacher alone. Take two offcuts, "
        f"{SMALL / cm**2:g} and {LARGE / cm**2:g} cm² of bare 1 oz copper. {WEAK_ACID:g} % acid "
        f"and {PEROXIDE:g} % peroxide in equal parts, {small:g} and {large:g} mL per cm², same "
        "dish. One after the other, each in a fresh bath. The larger should take "
        f"{float(weak.ratio.middle):.1f} times as long ({float(weak.ratio.low):.1f} to "
        f"{float(weak.ratio.high):.1f}); in no plausible bath less than {floored(weak.least)} "
        "times. Less: this page is wrong. Not clear in half an hour: out, and that counts as "
        f"longer. (With the mild bottles about {float(mild.ratio.middle):.1f}: nothing runs out.) "
    ).strip()


def floored(ratio: float) -> str:
    """Write a least ratio [-], never more than it is.

    Examples
    --------
    >>> print(floored(1.0969))
    1.09
    """
    return f"{int(100 * ratio) / 100:.2f}"
