"""What page 10 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...page.widget.prediction import Option, Prediction
from .numbers import (
    DAY,
    DEATHS,
    LITTLE,
    NEUTRAL,
    TIMES,
    WEEK,
    copper_left,
    peroxide_left,
    total_copper,
)
from .words import milligrams_words, span_words, times_words

MORNING, DAYS, WIDE, MONTHS = "morning", "days", "wide", "months"
"""Keys of the first answers; `WIDE` is right."""
GONE = {
    MORNING: (TIMES["1h"], TIMES["12h"]),
    DAYS: (DAY, 3 * DAY),
    WIDE: (TIMES["12h"], 13 * WEEK),
    MONTHS: (4 * WEEK, 13 * WEEK),
}
"""Between which times the peroxide is gone by each of them [s]."""
LESS, ALIKE, MORE, ALL = "less", "alike", "more", "all"
"""Keys of the second answers; `MORE` is right."""
MUCH_MORE = 10
"""So many times as much the right answer says at least [-]."""


def quiet_prediction() -> Prediction:
    """Ask when a strip reads nothing in a used bath that stands open."""
    mild = peroxide_left()
    low, high = span_words(float(mild.gone.low)), span_words(float(mild.gone.high))
    question = (
        "The last board is out. The mild bath, acid and peroxide with copper in it now, stands "
        "open. Between which times is its peroxide gone, under 1 mg/L?"
    )
    morning, days = mild.still("12h"), mild.still("3d")
    early = mild.nothing("1w")
    answers = {
        MORNING: Option(
            "1 hour to 12 hours",
            f"No: after 12 hours {morning} of {mild.total} plausible baths still hold peroxide.",
        ),
        DAYS: Option(
            "1 day to 3 days",
            f"No: after 3 days {days} of {mild.total} plausible baths still hold peroxide.",
        ),
        WIDE: Option(
            "12 hours to 3 months",
            f"Yes: 8 of 10 plausible baths take {low} to {high}, one in ten longer still.",
        ),
        MONTHS: Option(
            "1 month to 3 months",
            f"In some. But in {early} of {mild.total} plausible baths it is gone within a week.",
        ),
    }
    reasons = {
        "copper": Option(
            "copper breaks peroxide up, and a night is long",
            "Copper breaks peroxide up. How fast in this acid, nobody has measured.",
        ),
        "bubbles": Option(
            "it bubbles for a day or two, then it is quiet",
            "Quiet does not show that it is gone: slow gas is not seen.",
        ),
        "unknown": Option(
            "how fast it goes in acid and copper was not measured",
            "That is it: not knowing makes the time short and long.",
        ),
        "bottle": Option(
            "peroxide keeps for months in its bottle, too",
            "There it is stabilised, and no copper is in it.",
        ),
    }
    return Prediction("when is it quiet", question, answers, reasons)


def clear_prediction() -> Prediction:
    """Ask how much copper clear and neutral water still holds."""
    left = copper_left(LITTLE)
    aged, fresh = left.at(NEUTRAL)
    whole, deaths = milligrams_words(total_copper()), milligrams_words(DEATHS)
    answer = f"{milligrams_words(aged)} to {milligrams_words(fresh)} mg/L"
    times = f"at least {times_words(aged / DEATHS)} what kills half of the water fleas"
    gone = 100 * (1 - aged / left.total)
    question = (
        "Somebody did what no site had asked for: baking soda into a used bath. At pH 8 the "
        f"copper lies as mud under clear water. {deaths} mg/L of copper kill half of the water "
        "fleas in two days. How much does the clear water hold?"
    )
    answers = {
        LESS: Option(f"less than {deaths} mg/L", f"More: {answer}, {times}."),
        ALIKE: Option(f"about {deaths} mg/L", f"More: {answer}, {times}."),
        MORE: Option(f"over {MUCH_MORE} times {deaths} mg/L", f"Yes: {answer}, {times}."),
        ALL: Option(
            f"nearly all, {whole} mg/L", f"No: most has fallen, {answer} is left: {times}."
        ),
    }
    reasons = {
        "neutral": Option(
            "acid was the danger, and it is gone", "Neutral is about acid. Copper is no acid."
        ),
        "clear": Option(
            "copper would colour the water",
            "No eye sees so little: at this strength it has no colour.",
        ),
        "solid": Option(
            "what has fallen out is no longer in the water",
            f"Up to {gone:.2f} % is not. What is left of so much is still too much.",
        ),
        "some": Option(
            "some copper always stays dissolved above its mud",
            "Yes, and baking soda left over keeps more of it dissolved.",
        ),
    }
    return Prediction("clear is clean", question, answers, reasons)


def guessed_copper(key: str | None) -> float | None:
    """Return the copper that a second answer stands for [kg/m³], or None."""
    return {
        LESS: DEATHS / 4,
        ALIKE: DEATHS,
        MORE: MUCH_MORE * DEATHS,
        ALL: total_copper(),
    }.get(str(key))
