"""What is said of two jugs: title, sentence and picture in words, from the same numbers."""

from __future__ import annotations

import dataclasses

from ...common.number_words import capitalised, figures
from ...common.units import mol_per_L, to_celsius
from .numbers import ASKED, FUMES, PEROXIDE, SHOP_PEROXIDE, WATER, Hill

ACID_INTO, INTO_ACID = "acid into {}", "{} into acid"
"""The two ways, by what stands in for the water."""
OVER = f"over {FUMES.shown(FUMES.limit)}: the planner refuses it\n(weaker acid fumes too)"
"""What stands over the strengths that the planner refuses."""


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says.

    Parameters
    ----------
    title, readout, alt : str
        The finding over it, the live sentence, the picture in words.
    up, over, end, top : str
        What stands at the jug of each way, where both end, and at the warmest mixture.
    """

    title: str
    readout: str
    alt: str
    up: str = ""
    over: str = ""
    end: str = ""
    top: str = ""


def rounded(T: float, decimals: int = 0) -> str:
    """Write a temperature [K] in °C, without its unit.

    Examples
    --------
    >>> print(rounded(299.52), rounded(293.51, 1))
    26 20.4
    """
    return f"{float(to_celsius(T)):.{decimals}f}"


def degrees(T: float, decimals: int = 0) -> str:
    """Write a temperature [K] in °C.

    Examples
    --------
    >>> print(degrees(299.52))
    26 °C
    """
    return f"{rounded(T, decimals)} °C"


def strength_words(strength: float) -> str:
    """Write a strength [mol/m³] in mol/L.

    Examples
    --------
    >>> print(strength_words(768))
    0.77 mol/L
    """
    return f"{figures(strength / mol_per_L)} mol/L"


def foot_words(hill: Hill) -> tuple[str, str]:
    """Name both feet of a hill: what stands in for the water, and the acid."""
    names = {WATER: "water", PEROXIDE: f"{SHOP_PEROXIDE:g} % peroxide"}
    return names[hill.other], f"acid of {hill.acid:g} %"


def question_words(hill: Hill) -> Words:
    """Say what is asked of a hill, and nothing of the answer."""
    first, acid = foot_words(hill)
    titles = {WATER: "Which jug is hotter when all is in?", PEROXIDE: "Which goes in first?"}
    title = titles[hill.other]
    fumes = f"Acid over {FUMES.shown(FUMES.limit)} is marked: the planner refuses it"
    return Words(
        title,
        "Predict first: then the answer appears here.",
        f"{title} Empty axes: temperature against strength in the jug. One jug starts with "
        f"{first}, the other with {acid}. {fumes}. The curve appears when you have predicted.",
    )


def answer_words(hill: Hill, poured: float) -> Words:
    """Say what is in the two jugs.

    Parameters
    ----------
    hill : Hill
        Of which acid, and of what stands in for the water.
    poured : float
        How much is poured so far [%].

    Returns
    -------
    Words
        Strengths [mol/L] and temperatures [°C], all from `hill`.
    """
    # a hill of half a degree would be none in whole degrees
    decimals = 1 if hill.is_low else 0

    def jug(strength: float, T: float) -> str:
        return f"{strength_words(strength)}, {degrees(T, decimals)}"

    up, over = (jug(*way.at(poured)) for way in (hill.up, hill.over))
    end, top = jug(*hill.end), degrees(hill.top[1], decimals)
    names = [words.format(hill.other) for words in (ACID_INTO, INTO_ACID)]
    title = f"The same end, {degrees(hill.end[1], decimals)}, and not the same way"
    times = times_words(hill, poured)
    if hill.is_low:
        rise = hill.end[1] - float(hill.up.T[0])
        title = f"{capitalised(foot_words(hill)[1])}: both end {rise:.1f} °C warmer"
    elif times:
        title = f"Both end at {degrees(hill.end[1])}. {capitalised(names[1])}: {times} now"
    drawn = "" if hill.is_low else "Drawn only. "
    readout = (
        f"{drawn}{poured:g} % poured. {capitalised(names[0])}: {up}. {capitalised(names[1])}: "
        f"{over}"
        f"{f', {times}' if times else ''}. Both end at {degrees(hill.end[1], decimals)}."
    )
    first, acid = foot_words(hill)
    start = degrees(float(hill.up.T[0]))
    alt = (
        f"{title}. Temperature against strength in the jug. {capitalised(names[0])}: a solid line "
        f"from {first}, {start}, up to {end}. {capitalised(names[1])}: a dashed line from {acid}, "
        f"{jug(*hill.over.at(0))}, over a top of {top} at {strength_words(hill.top[0])} to the "
        f"same end. Over {FUMES.shown(FUMES.limit)} is marked: the planner refuses it. {readout}"
    )
    return Words(
        title,
        readout,
        alt,
        f"{names[0]}:\n{up}" if poured < 100 else "",
        f"{names[1]}:\n{over}" if poured < 100 else "",
        f"both end here:\n{end}",
        "" if hill.is_low else f"top: {top}",
    )


def times_words(hill: Hill, poured: float) -> str:
    """Say how many times stronger one jug is on the way [poured: %]; at the ends nothing."""
    if not 0 < poured < 100:
        return ""
    return f"{figures(hill.stronger(poured))} times stronger"


def guess_words(acid: float) -> str:
    """Say the way back to the acid [% by weight] that was asked about, where it is another."""
    if acid == ASKED:
        return ""
    return f"Your prediction was about acid of {ASKED:g} %."
