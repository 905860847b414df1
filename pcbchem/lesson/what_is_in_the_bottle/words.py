"""What is said of two mixtures: title, live sentence and picture in words, from one source."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import mol_per_L
from ...page.picture import Words
from .numbers import (
    DRAWN_ONLY_PEROXIDE,
    FIRST,
    Content,
    Mixture,
    content,
    plan_of,
    recipe,
)

ALIKE = 0.01
"""Two shares of water that differ by less are said to be alike [kg/kg]."""
DRAWN_ONLY = "drawn only"
NAMES = ("water", "acid", "peroxide")
"""What is poured, in the order of the parts."""
VOLUMES = {3.0: 10, 6.0: 20, 12.0: 40, 30.0: 110}
"""Volumes of oxygen that labels give for a strength [L/L by % by weight] (common practice)."""


def in_percent(share: float) -> str:
    """Write a share [kg/kg] in whole per cent.

    Examples
    --------
    >>> print(in_percent(0.8664))
    87 %
    """
    return f"{100 * share:.0f} %"


def moles(concentration: float) -> str:
    """Write a concentration [mol/m³] in mol/L, to two figures.

    Examples
    --------
    >>> print(moles(1997.5), moles(593.8))
    2.0 mol/L 0.59 mol/L
    """
    return f"{concentration / mol_per_L:#.2g} mol/L"


def parts_words(mixture: Mixture) -> str:
    """Say the parts of a mixture, water first [-].

    Examples
    --------
    >>> print(parts_words(FIRST), "|", parts_words(Mixture((0, 1, 2), 10, 3)))
    3 water : 1 acid : 1 peroxide | no water : 1 acid : 2 peroxide
    """
    named = []
    for part, name in zip(mixture.parts, NAMES, strict=True):
        named.append(f"{figures(part)} {name}" if part else f"no {name}")
    return " : ".join(named)


def bottle_words(mixture: Mixture) -> str:
    """Say which bottles a mixture is made from [% by weight]."""
    words = f"acid {mixture.acid:g} %, peroxide {mixture.peroxide:g} %"
    return f"{words}: {DRAWN_ONLY}" if mixture.only_drawn else words


def compared(share: float) -> str:
    """Say how a share of water [kg/kg] compares with that of mixture A."""
    more = share - content(FIRST).shares["H2O"]
    if abs(more) < ALIKE:
        return "as much as A"
    return "more than A" if more > 0 else "less than A"


def both_words(inside: Content) -> str:
    """Say acid and peroxide in mol/L, once where they are alike."""
    acid, peroxide = moles(inside.acid), moles(inside.peroxide)
    return f"{acid} of each" if acid == peroxide else f"{acid} and {peroxide}"


def content_words(inside: Content) -> str:
    """Say what is in a mixture, by weight and in mol/L."""
    shares = inside.shares
    return (
        f"{in_percent(shares['H2O'])} water, {in_percent(shares['HCl'])} HCl, "
        f"{in_percent(shares['H2O2'])} peroxide by weight, {moles(inside.acid)} of acid and "
        f"{moles(inside.peroxide)} of peroxide"
    )


def question_words(mixture: Mixture) -> Words:
    """Say the two mixtures as they are poured, and nothing of what is in B."""
    readout = "Predict first: then it appears here what is in B."
    alt = (
        f"Two mixtures. A as poured, {parts_words(FIRST)} by volume, and what is in it: "
        f"{content_words(content(FIRST))}. B as poured, {parts_words(mixture)}; what is in it "
        "appears when you have predicted."
    )
    return Words("How much of B is water?", readout, alt)


def answer_words(mixture: Mixture) -> Words:
    """Say what is in mixture B, and beside A."""
    inside, first = content(mixture), content(FIRST)
    water = in_percent(inside.shares["H2O"])
    refused = plan_of(mixture).refused
    title = f"No water is poured into B. It is {water} water: {compared(inside.shares['H2O'])}"
    if refused:
        share = in_percent(inside.shares["H2O2"])
        title = f"Same words, other bottles. B would be {share} peroxide: refused"
    readout = (
        f"B with acid of {mixture.acid:g} % and peroxide of {mixture.peroxide:g} %: {water} water, "
        f"{moles(inside.acid)} of acid, {moles(inside.peroxide)} of peroxide. "
        f"A: {in_percent(first.shares['H2O'])} water, {both_words(first)}."
    )
    poured = "as poured"
    if refused:
        poured = "as poured: nothing, it is refused"
    alt = (
        f"{title}. Two mixtures, each as poured, by volume, and what is in it, by weight, to "
        "scale. A, "
        f"{bottle_words(FIRST)}: {parts_words(FIRST)} by volume; in it {content_words(first)}. B, "
        f"{bottle_words(mixture)}, {poured}: {parts_words(mixture)}; in it "
        f"{content_words(inside)}. {verdict_words(mixture)}"
    )
    readout = f"{readout} {verdict_words(mixture)}"
    return Words(title, readout, alt)


def reason(mixture: Mixture) -> str:
    """Return the planner's first reason against a mixture; what meets what, where that is one."""
    reasons = plan_of(mixture).reasons
    of_pouring = [each for each in reasons if each.rule.startswith("peroxide poured")]
    return (of_pouring or reasons)[0].words


def verdict_words(mixture: Mixture) -> str:
    """Say what the planner says of a mixture; of one that is only drawn, that it is."""
    plan = plan_of(mixture)
    if plan.refused:
        return f"The planner refuses it: {reason(mixture)}."
    if mixture.only_drawn:
        return "Drawn only."
    if plan.reasons:
        return f"The planner says “{plan.verdict}”: {reason(mixture)}."
    return "The planner's rules find nothing; that is no permission."


def times_stronger(acid: float, strong: float, weak: float) -> float:
    """Return how many times more peroxide a recipe holds from one bottle than from another [-].

    Parameters
    ----------
    acid : float
        The acid of both [% by weight].
    strong, weak : float
        The two bottles of peroxide [% by weight].
    """
    return content(recipe(acid, strong)).peroxide / content(recipe(acid, weak)).peroxide


def label_words(peroxide: float) -> str:
    """Say a bottle of peroxide as labels do [% by weight].

    Examples
    --------
    >>> print(label_words(3), "|", label_words(30))
    3 % (10 volumes) | 30 % (110 volumes), drawn only
    """
    words = f"{peroxide:g} % ({VOLUMES[peroxide]} volumes)"
    return f"{words}, {DRAWN_ONLY}" if peroxide > DRAWN_ONLY_PEROXIDE else words
