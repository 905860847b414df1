"""What is said of a bath with water: title, live sentence and the picture in words, all from the same numbers."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np

from ...bench.plan.dilution import Dilution
from ...common.number_words import clock, figures, of_draws, span
from ...common.units import hour, minute, mol_per_L, um
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.plausible import FACTS, WEAK_FILM
from ...reaction.bath.setup import COPPER_DENSITY, Foil
from ..trust import seen
from ..workshop import PAIRS


@dataclasses.dataclass(frozen=True)
class Mark:
    """Something seen at a strength [mol/m³]: lowest and highest time [s], infinite: and longer; and its words."""

    strength: float
    low: float
    high: float
    words: str


@cache
def marks() -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """What was measured, and what people say, as times to clear 1 oz of copper at a strength [mol/m³, s]."""
    thick = float(Foil.ounces(1).thickness)
    films = []
    for fact in (next(f for f in FACTS if f.name == "strong film"), WEAK_FILM):
        slow, fast = seen(fact.practice, "µm/min")
        films.append(
            Mark(
                fact.H2O2, thick / (fast * um / minute), thick / (slow * um / minute), fact.practice
            )
        )
    told = []
    for fact in (f for f in FACTS if f.volume):
        low, high = seen(fact.practice, "s")
        said = (
            f"about {figures(low)} s"
            if low == high
            else f"more than {figures(low / minute)} min"
            if np.isinf(high)
            else f"{figures(low / minute)} to {figures(high / minute)} min"
        )
        told.append(Mark(fact.H2O2, low, high, f"people say\n{said}"))
    return tuple(films), tuple(told)


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: the finding over it, over its film, the live sentence, and the picture in words."""

    title: str
    film: str
    readout: str
    alt: str


def weaker(times: float) -> str:
    """How many times weaker [-], in words."""
    return f"{figures(times, 3)} times weaker"


def parted(water: float) -> str:
    """Parts of water [-] as a sentence begins with them.

    Examples
    --------
    >>> print(parted(0), "|", parted(1), "|", parted(1.2))
    No water | 1 part of water | 1.2 parts of water
    """
    return f"{figures(water)} part{'s' if water != 1 else ''} of water" if water else "No water"


def folds(low: float, middle: float, high: float) -> tuple[str, ...]:
    """Ratios of times [-] in as many figures as tell them apart, or "never".

    Examples
    --------
    >>> print(*folds(2.1, 2.48, 3.1), *folds(1.71, 1.74, 1.86), *folds(12, 17, float("inf")))
    2.1 2.5 3.1 1.71 1.74 1.86 12 17 never
    """
    both = [
        tuple(
            figures(value, digits) if np.isfinite(value) else "never"
            for value in (low, middle, high)
        )
        for digits in (2, 3)
    ]
    return both[0] if len(set(both[0])) == 3 else both[1]


def asked(of: Dilution, at: int, only_drawn: str) -> Words:
    """What is said until a prediction is made: the question at the slider's place `at` [-], nothing of the answer."""
    times = of.weaker[at]
    title = (
        f"{weaker(times)}: how many times longer?" if at else "Add water: how many times longer?"
    )
    how = (
        f"{parted(of.water[at])} makes both reagents {weaker(times)}"
        if at
        else "Move the slider to add water"
    )
    return Words(
        f"{only_drawn}{title}",
        "film at the copper",
        f"{only_drawn}Predict first: then the curve appears here. {how}.",
        f"{only_drawn}{title} Time to clear against peroxide in the bath, both by factors. "
        f"The slider stands at {figures(of.peroxide[at] / mol_per_L)} mol/L of peroxide. {noted()} "
        "The curve, its band, what strength alone would give and the film at the copper appear when you have "
        "predicted.",
    )


def noted() -> str:
    """What was measured and said, in words [mol/L, min]."""
    films, told = marks()
    said = "; ".join(
        f"{clock(np.sqrt(f.low * f.high))} at {figures(f.strength / mol_per_L)} mol/L"
        for f in films
    )
    trade = "; ".join(
        f"{t.words.split(chr(10))[1]} at {figures(t.strength / mol_per_L)} mol/L" for t in told
    )
    return f"Measured on two thin layers of copper in other mixtures, worked out for 1 oz: {said}. People say: {trade}."


def answered(of: Dilution, at: int, only_drawn: str, guess: str = "") -> Words:
    """What is said of a bath with water, at the slider's place.

    Parameters
    ----------
    of : Dilution
        Over all parts of water.
    at : int
        Which of them [-].
    only_drawn : str
        Words before the finding, of bottles that are only drawn.
    guess : str
        The reader's guess in words, where it is drawn.

    Returns
    -------
    Words
        Times [s, min or h], ratios [-] and the film [µm], all from `of`.
    """
    times, ratio, film = of.times, of.ratio, of.film
    never = times.values[at][~np.isfinite(times.values[at])].size
    none = of_draws(~np.isfinite(times.values[at]))
    alone = figures(of.weaker[at], 3)
    least, middle, most = folds(ratio.low[at], ratio.middle[at], ratio.high[at])
    when = span(pick(times, at))
    if not at:
        title, told = (
            f"Without water: {when}",
            f"{parted(0)}: {when}; the middle bath takes {clock(times.middle[0])}",
        )
    elif np.isfinite(ratio.middle[at]):
        title = f"{weaker(of.weaker[at])}, {middle} times longer"
        told = (
            f"{parted(of.water[at])}: {when}. {middle} times the undiluted time ({least} to {most}); "
            f"strength alone would give {alone}"
        )
    else:
        title = f"{weaker(of.weaker[at])}: {none} plausible baths never clear"
        told = (
            f"{parted(of.water[at])}: {none} plausible baths never clear; strength alone would give {alone} times "
            "the undiluted time"
        )
    if never and np.isfinite(ratio.middle[at]):
        told += f". {none} plausible baths never clear"
    late = f" Never means not within {LONGEST / hour:g} hours." if never else ""
    thick = f"{film['thickness'][at] / um:.0f} µm"
    eaten = film["copper"][at] * MOLAR_MASS["Cu"] / COPPER_DENSITY / um * minute
    gas = (
        f" and {figures(film['oxygen'][at] / film['oxygen'][0])} times the undiluted gas"
        if at
        else ""
    )
    title = f"{only_drawn}{title}"
    own = f" Your prediction, {guess}, is a hollow mark." if guess else ""
    alt = (
        f"{title}. Time to clear against peroxide in the bath, both by factors, weaker to the right: a band of 8 in "
        f"10 plausible baths with its middle line; a dashed line if only strength counted. The slider stands at "
        f"{figures(of.peroxide[at] / mol_per_L)} mol/L of peroxide: {told}.{late}{own} {noted()} Beside it the "
        f"film at the copper when the board goes in: {thick} thick; {figures(eaten)} µm of copper a minute{gas}."
    )
    return Words(title, f"film at the copper: {thick}", f"{only_drawn}{told}.", alt)


def pick(band: Any, at: int) -> Any:
    """One scenario of a band [its own unit]."""
    return dataclasses.replace(band, low=band.low[at], middle=band.middle[at], high=band.high[at])


def first_words(bottles: str) -> str:
    """What comes before everything said of bottles that are only drawn, whatever the water; "" for others."""
    return "Drawn only, never mixed here. " if PAIRS[bottles].only_drawn else ""


def compared(of: Dilution, at: int, question: int, guess: str) -> str:
    """The reader's guess beside the result: at the question's place what the page says, elsewhere the way to it [-]."""
    if at != question:
        return f"Your prediction: {guess}, with {figures(of.water[question])} parts of water. Slide the water to there."
    least, middle, most = folds(of.ratio.low[at], of.ratio.middle[at], of.ratio.high[at])
    return f"Your prediction: {guess}. The page says ×{middle} (×{least} to ×{most})."
