"""What the page asks before it shows: three predictions, each with answers, reasons and replies."""

from __future__ import annotations

from ...bench.plan.dilution import ALL_ON
from ...common.number_words import clock, figures
from ...page import Option, Prediction
from ..workshop import PAIRS
from .numbers import (
    STILL,
    WATER,
    bands_alone,
    by_chance,
    course,
    measured_order,
    order_of,
    ratio_of,
    without,
)
from .one_effect_away import product
from .words import at, ends, times


def ratio_prediction() -> Prediction:
    """Ask how sure the ratio of two times is, of which the bands are known."""
    middle = ratio_of(STILL)[1]
    alone = ends(bands_alone(STILL))
    acid, peroxide = figures(PAIRS["mild"].acid), figures(PAIRS["mild"].peroxide)
    before, after = (clock(time) for time in course(STILL).times.middle)
    question = (
        f"The mild bath ({acid} % acid, {peroxide} % peroxide, equal parts), tray still: {before} "
        f"without water, {after} with {figures(WATER)} parts, "
        f"{times(middle)}. Of 200 plausible baths 8 in 10 take {at(STILL, 0)} without water, and "
        f"{at(STILL, 1)} with it. How sure is the ratio?"
    )
    answers = {
        "wide": Option(
            f"{alone}, as the two bands allow",
            "Slow without water and quick with it: rare even by chance, and rarer here.",
        ),
        "narrower": Option("less wide than that", "So it is."),
        "exact": Option(
            f"exactly {times(middle)}",
            "Then the film and the bubbles would change alike in each bath. They do not.",
        ),
    }
    reasons = {
        "apart": Option(
            "the two times have nothing to do with each other",
            f"Then it would be {ends(by_chance(STILL))}: less wide too. But slow baths tend to "
            "stay slow.",
        ),
        "tied": Option(
            "a bath slow without water tends to be slow with it",
            "The dots show it best where the tray is shaken, less where it stands still, least "
            "where it is rocked.",
        ),
        "same": Option(
            "all that is unknown cancels in a ratio",
            "Some of it does. What bubbles and film do changes with the strength.",
        ),
    }
    return Prediction("how sure is the ratio", question, answers, reasons)


def order_prediction() -> Prediction:
    """Ask what becomes of the apparent order when the same bath is moved."""
    still, measured = order_of(STILL).middle, measured_order().middle
    question = (
        f"Half as strong and twice as long is called order 1, four times as long order 2. In the "
        f"still tray the mild bath is of order {still:.1f}, the two measured layers are "
        f"of order {measured:.1f}. Now shake the mild bath. Its order…"
    )
    answers = {
        "same": Option(
            f"stays {still:.1f}", "A constant of the mixture would stay. This one does not."
        ),
        "rises": Option("rises", "It falls: shaken, water costs less."),
        "falls": Option("falls", "So it does."),
    }
    reasons = {
        "mixture": Option(
            "the order belongs to the mixture",
            "It is the same mixture in all three trays.",
        ),
        "film": Option(
            "shaking keeps the film thin, with bubbles or without",
            "Where shaking does the stirring, there is less for water to take.",
        ),
        "bubbles": Option(
            "shaking makes more bubbles",
            "A thinner film lets more peroxide through, so it may. But now bubbles matter less.",
        ),
    }
    return Prediction("order when shaken", question, answers, reasons)


def product_prediction() -> Prediction:
    """Ask whether five factors multiply to what all five effects do together."""
    bands = without(STILL)
    both = product(bands)
    multiplied = times(both.multiplied)
    usual = clock(bands[ALL_ON].middle)
    question = (
        "Switch off one effect of the model at a time, in the still tray without water "
        f"({usual}). Each gives a factor; multiplied they give {multiplied}. Switch off all five "
        "at once, and the bath takes…"
    )
    answers = {
        "product": Option(
            f"{multiplied} as long", "Factors multiply where each works on its own. Here not."
        ),
        "less": Option("less than that", "So it is."),
        "more": Option("more than that", "It is less."),
    }
    reasons = {
        "own": Option("each effect works on its own", "A warmer film makes more bubbles, for one."),
        "feed": Option(
            "the effects feed each other", "Each factor counts a part of its neighbours."
        ),
        "nothing": Option(
            "then nothing helps any more", "Strength alone still drives it, through a thick film."
        ),
    }
    return Prediction("do they multiply", question, answers, reasons)
