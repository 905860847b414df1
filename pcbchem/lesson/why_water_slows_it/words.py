"""What is said of a bath with water: title, sentence and picture in words, from one source."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np

from ...bench.plan.dilution import Dilution
from ...common.band import Band
from ...common.number_words import clock, figures, of_draws, span
from ...common.units import hour, minute, mol_per_L, um
from ...matter.properties import MOLAR_MASS
from ...page.picture import Words
from ...reaction.bath.bath import LONGEST
from ...reaction.bath.plausible import FACTS
from ...reaction.bath.setup import COPPER_DENSITY

BARS, FILM, CURVE = "bars", "film", "curve"
VIEWS = {BARS: "times", FILM: "the film", CURVE: "curve, with what people say"}
"""The pictures of a panel, by key."""


@dataclasses.dataclass(frozen=True)
class Mark:
    """Something seen at a strength [mol/m³]: shortest and longest time [s], infinite: or longer."""

    strength: float
    low: float
    high: float
    words: str

    @property
    def middle(self) -> float:
        """Middle time on an axis of factors [s]; of one that may be longer the shortest."""
        if np.isfinite(self.high):
            return float(np.sqrt(self.low * self.high))
        return self.low


@cache
def trade_marks() -> tuple[Mark, ...]:
    """Return what people say of baths, at their strength [mol/m³, s]."""
    marks = []
    for fact in FACTS:
        if fact.volume:  # a bath with a board in it; the layers are no times
            low, high = fact.seen
            marks.append(Mark(fact.H2O2, low, high, trade_words(low, high)))
    return tuple(marks)


def trade_words(low: float, high: float) -> str:
    """Say a time [s in] as people do.

    Examples
    --------
    >>> print(trade_words(2, 2), "|", trade_words(60, 180), "|", trade_words(1200, np.inf))
    about 2 s | 1 to 3 min | more than 20 min
    """
    if low == high:
        return f"about {figures(low)} s"
    if np.isinf(high):
        return f"more than {figures(low / minute)} min"
    return f"{figures(low / minute)} to {figures(high / minute)} min"


def weaker(times: float) -> str:
    """Say how many times weaker [-].

    Examples
    --------
    >>> print(weaker(2), "|", weaker(1.6))
    half as strong | 1.6 times weaker
    """
    if times == 2:
        return "half as strong"
    return f"{figures(times, 3)} times weaker"


def water_words(parts: float) -> str:
    """Say parts of water [-] as a sentence begins with them.

    Examples
    --------
    >>> print(water_words(0), "|", water_words(1), "|", water_words(1.2))
    No water | 1 part of water | 1.2 parts of water
    """
    if not parts:
        return "No water"
    return f"{figures(parts)} {'part' if parts == 1 else 'parts'} of water"


def folds(low: float, middle: float, high: float) -> tuple[str, ...]:
    """Write ratios of times [-] in as many figures as tell them apart, or "never".

    Examples
    --------
    >>> print(*folds(2.1, 2.48, 3.1), *folds(1.71, 1.74, 1.86), *folds(12, 17, float("inf")))
    2.1 2.5 3.1 1.71 1.74 1.86 12 17 never
    """
    ratios = (low, middle, high)
    short = tuple(fold(ratio, 2) for ratio in ratios)
    # 1.7, 1.7, 1.9 would say that the middle is an end
    if len(set(short)) == 3:
        return short
    return tuple(fold(ratio, 3) for ratio in ratios)


def fold(ratio: float, digits: int) -> str:
    """Write a ratio of times [-] in so many figures, or "never"."""
    return figures(ratio, digits) if np.isfinite(ratio) else "never"


def question_words(dilution: Dilution, place: int) -> Words:
    """Say the question at a place of the slider, and nothing of the answer.

    Parameters
    ----------
    dilution : Dilution
        Over all parts of water.
    place : int
        Which of them [-].

    Returns
    -------
    Words
        Parts and strengths [mol/L], and no time of the bath with water.
    """
    undiluted = clock(dilution.times.middle[0])
    title = f"{water_words(dilution.water[place])}: how long?"
    if not place:
        title = "Add water: how long?"
    return Words(
        title,
        f"Predict first: then the answer appears here. Without water: {undiluted}.",
        f"{title} Without water the board takes {undiluted}. Times, film and curve with water "
        "appear when you have predicted.",
    )


def strength_words(strength: float) -> str:
    """Say a strength [mol/m³ in] in mol/L."""
    return f"{figures(strength / mol_per_L)} mol/L"


def evidence_words() -> str:
    """Say what people say of baths at some strengths [mol/L, min]."""
    trade = "; ".join(f"{mark.words} at {strength_words(mark.strength)}" for mark in trade_marks())
    return f"People say: {trade}."


def answer_words(dilution: Dilution, place: int, view: str, guess: str = "") -> Words:
    """Say what water does to a bath, at a place of the slider.

    Parameters
    ----------
    dilution : Dilution
        Over all parts of water.
    place : int
        Which of them [-].
    view : str
        Which picture is described: one of `VIEWS`.
    guess : str
        The reader's guess in words, where it is drawn.

    Returns
    -------
    Words
        Times [s, min or h], ratios [-] and the film [µm], all from `dilution`.
    """
    title, finding = finding_words(dilution, place)
    alone = f"Strength alone would give {figures(dilution.weaker[place], 3)} times"
    undiluted, film = film_words(dilution, 0), film_words(dilution, place)
    mark = f" Your prediction, {guess}, is a hollow bar." if guess else ""
    described = {
        BARS: f"Bars of minutes: no water, strength alone, and this page with its band.{mark}",
        FILM: f"The film at the copper when the board goes in. Without water: {undiluted}. "
        f"With it: {film}.",
        CURVE: "Time to clear against peroxide in the bath, both by factors, weaker to the right: "
        "a band of 8 in 10 plausible baths with its middle line; a dashed line if only strength "
        f"counted. The slider stands at {strength_words(dilution.peroxide[place])} of peroxide. "
        f"{evidence_words()}",
    }
    return Words(
        title,
        f"{finding}.",
        f"{title}. {described[view]} {finding}. {alone}.",
    )


def finding_words(dilution: Dilution, place: int) -> tuple[str, str]:
    """Say the finding at a place of the slider: title, and sentences without a full stop [s, -]."""
    times, ratio = dilution.times, dilution.ratio
    weak = weaker(dilution.weaker[place])
    water = water_words(dilution.water[place])
    clears = np.isfinite(times.values[place])
    late = f"{of_draws(~clears)} plausible baths do not clear"
    never = f"{late} within {LONGEST / hour:g} hours"
    # a ratio of the middle must not hide those that never clear
    besides = "" if np.all(clears) else f". {late.capitalize()}"
    # a bath that never clears has no ratio: then the count is the finding
    compares = np.isfinite(ratio.middle[place])
    when = f"{clock(times.middle[place])} ({span(at(times, place))})"
    if not place:
        return f"Without water: {clock(times.middle[0])}", f"{water}: {when}{besides}"
    if not compares:
        return f"{weak.capitalize()}: {never}", f"{water}: {never}"
    least, middle, most = folds(ratio.low[place], ratio.middle[place], ratio.high[place])
    title = f"{weak.capitalize()}: {middle} times as long"
    finding = f"{water}: {when}, {middle} times as long as without ({least} to {most})"
    return title, f"{finding}{besides}"


def film_words(dilution: Dilution, place: int) -> str:
    """Say how thick the film is [µm] and what goes through it [µm/min, -]."""
    film = dilution.film
    thickness = film["thickness"][place] / um
    copper = film["copper"][place] * MOLAR_MASS["Cu"] / COPPER_DENSITY / um * minute
    gas = ""
    # without water it would be 1 times itself
    if place:
        times = film["oxygen"][place] / film["oxygen"][0]
        gas = f" and {figures(times)} times the undiluted gas"
    return f"{thickness:.0f} µm thick; {figures(copper)} µm of copper a minute{gas}"


def at(band: Band, place: int) -> Band:
    """Return one scenario of a band [its own unit]."""
    ends = {name: getattr(band, name)[place] for name in ("low", "middle", "high")}
    return dataclasses.replace(band, **ends)


def guess_words(dilution: Dilution, place: int, question: int) -> str:
    """Say the way back to the question's parts of water [-], where the slider stands elsewhere."""
    # a guess about one strength is not judged by the ratio at another
    if place == question:
        return ""
    return f"Your prediction was about {figures(dilution.water[question])} parts of water."
