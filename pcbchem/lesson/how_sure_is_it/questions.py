"""The questions of "check yourself": two with numbers from a seed, and one that asks why."""

from __future__ import annotations

from functools import cache

import numpy as np

from ...bench.plan.dilution import over, with_water
from ...bench.plan.outlook import etched
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.units import minute
from ...page.answers import Question
from ...page.why import WhyQuestion
from ..sheet import apart, generator
from ..workshop import ROOMY, USUAL, bath
from .numbers import order

TENTHS = tuple(range(16, 31))
"""Tenths of a part of water that the questions draw from [-]: with less the bands overlap."""
TRAYS = {
    "a rocked tray": ("rocked", USUAL),
    "a shaken tray": ("shaken", USUAL),
    "a roomy tray that is rocked": ("rocked", ROOMY),
    "a roomy tray that is shaken": ("shaken", ROOMY),
}
"""Trays that the questions are about, with movement and bath over the copper [m³/m²].

The page prints what happens in the still one.
"""


@cache
def times_of(tray: str) -> Band:
    """Return times to clear [s] in the workshop's mild bath: no water first, then each tenth."""
    movement, room = TRAYS[tray]
    water = [0.0, *(tenth / 10 for tenth in TENTHS)]
    mild = bath("mild", room, agitation=movement)
    with collecting_warnings():
        return etched(mild, parts=with_water(mild, water)).run.band("time_to_clear")


def ratio_to(tray: str, place: int) -> float:
    """Return the middle of the ratios with water over without [-], bath by bath as the page has it.

    It is not one middle over the other: that is another number.
    """
    values = times_of(tray).values
    ratios = over(values[place + 1], values[0])
    return float(Band.of(ratios, ratios.size).middle)


def draw_bath(rng: np.random.Generator) -> tuple[str, int]:
    """Draw one of `TRAYS` and a place in `TENTHS` [-]."""
    tray = str(rng.choice(list(TRAYS)))
    return tray, int(rng.integers(len(TENTHS)))


@apart
def bands_question(rng: np.random.Generator) -> Question:
    """Ask which smallest ratio two bands of times alone would allow.

    Parameters
    ----------
    rng : Generator
        Draws the tray and the parts of water [-].

    Returns
    -------
    Question
        Answer [-] from the numbers it prints.
    """
    tray, place = draw_bath(rng)
    band, with_it = times_of(tray), place + 1
    # worked out from what is printed, as a learner does it
    low, high = (round(float(end[0]) / minute, 1) for end in (band.low, band.high))
    low_after, high_after = (
        round(float(end[with_it]) / minute, 1) for end in (band.low, band.high)
    )
    answer = low_after / high
    return Question(
        "bands",
        f"In {tray} 8 in 10 plausible baths take {low} to {high} min without water, "
        f"and {low_after} to {high_after} min with {TENTHS[place] / 10:g} parts of water. By the "
        "two bands alone, how many times as long does the water make it, at least?",
        "ratio",
        "",
        answer,
        0.02,
        (
            (
                low_after / low,
                "You took a bath that is quick both times. At least means: slow without water and "
                "quick with it.",
            ),
            (
                high_after / high,
                "You took a bath that is slow both times. At least means: slow without water and "
                "quick with it.",
            ),
            (high_after / low, "That is the most: quick without water and slow with it."),
            (1 / answer, "You divided the wrong way round: with water comes first."),
            (low_after - high, "You subtracted. How many times as long: divide."),
        ),
        "Slow without water, quick with it: the high end of the first band, the low end of the "
        "second.\n"
        f"{low_after} ÷ {high} = {answer:.2f} times.\n"
        "Few baths do that even by chance, and fewer still where a slow bath tends to stay slow.",
        given=f"{low}, {high}; {low_after}, {high_after} min",
    )


@apart
def order_question(rng: np.random.Generator) -> Question:
    """Ask how long a weaker bath takes if an apparent order held.

    Parameters
    ----------
    rng : Generator
        Draws the tray and the parts of water [-].

    Returns
    -------
    Question
        Answer [-] from the order it prints.
    """
    tray, place = draw_bath(rng)
    weaker = 1 + TENTHS[place] / 10 / 2
    power = round(order(ratio_to(tray, place), weaker), 1)
    other = float(rng.integers(13, 36)) / 10
    answer = other**power
    return Question(
        "order",
        f"In {tray} a mild bath made {weaker:g} times weaker is of apparent order "
        f"{power:.1f}. If this order held, how many times as long would a bath {other:g} times "
        "weaker take than the undiluted one?",
        "ratio",
        "",
        answer,
        0.03,
        (
            (other, "That is order 1, strength alone. Raise it to the power of the order."),
            (other * power, "You multiplied by the order. It is a power: the number above."),
            (power**other, "Turned round: the order is the power, not the base."),
            (other**2, "You squared it. The order here is not 2."),
            (weaker**power, "That is the first bath again. Take the one that is asked for."),
            (1 / answer, "That is how much of the rate is left. How many times as long?"),
        ),
        f"Order {power:.1f} means: strength to the power {power:.1f}.\n"
        f"{other:g} to the power {power:.1f} = {answer:.2f} times as long.\n"
        "It will hold only near the pair that it came from: it is no constant of the mixture.",
        given=f"{power:.1f}; {other:g}",
    )


WHYS = (
    WhyQuestion(
        "why",
        "Why is the ratio of two times surer than the two bands make it look?",
        (
            ("a", "A ratio has no unit.", "That changes no doubt."),
            (
                "b",
                "Both extremes seldom meet, and some of what is unknown about a bath drops out.",
                "Each bath is compared with itself.",
            ),
            (
                "c",
                "Two bands hold more baths than one.",
                "Both bands are of the same 200 baths.",
            ),
            (
                "d",
                "Diluted baths are known better.",
                "The band with water is no narrower than the one without.",
            ),
        ),
        "b",
        "Slow without water and quick with it would be rare even by chance.\n"
        "It is rarer here: it is the same bath, and one that is slow without water tends to be "
        "slow with it.",
    ),
    WhyQuestion(
        "why",
        "The same mixture seems of another order in another tray. What follows?",
        (
            (
                "a",
                "The stopwatch was wrong.",
                "It would have to be wrong in the same way each time.",
            ),
            (
                "b",
                "Shaking changes the chemistry.",
                "The reaction is the same. What reaches the copper is not.",
            ),
            (
                "c",
                "The order is none of the reaction: film and bubbles are in it.",
                "A rate that depends on stirring is a rate of arriving.",
            ),
            (
                "d",
                "Peroxide and acid each have an order of their own.",
                "Then their sum would still be the same in every tray.",
            ),
        ),
        "c",
        "Stirring changes the film, not the reaction.\n"
        "If the order changes with the stirring, it tells how acid and peroxide get to the copper.",
    ),
    WhyQuestion(
        "why",
        "Why does this page leave a fact out before it predicts it?",
        (
            (
                "a",
                "A fact that chose the model's numbers is no test of them.",
                "What has been put in comes out again.",
            ),
            ("b", "The fact may be wrong.", "It may. But that is no reason to leave it out."),
            (
                "c",
                "Fewer facts make the bands narrower.",
                "The other way round: each fact rules baths out.",
            ),
        ),
        "a",
        "Some of the model's numbers were chosen so that it meets the facts.\n"
        "A fact tests it only when it had no part in that choice.",
    ),
)
"""Questions that ask why, in turn."""


def sure_questions(seed: int) -> list[Question | WhyQuestion]:
    """Ask three questions for the page on how sure it is.

    Parameters
    ----------
    seed : int
        Makes the numbers [-], 0 or more; the last question goes by it in turn.

    Returns
    -------
    list of Question and WhyQuestion
        Two bands, an apparent order, and why.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.

    Examples
    --------
    >>> print([question.key for question in sure_questions(1)])
    ['bands', 'order', 'why']
    """
    rng = generator(seed)
    return [bands_question(rng), order_question(rng), WHYS[seed % len(WHYS)]]
