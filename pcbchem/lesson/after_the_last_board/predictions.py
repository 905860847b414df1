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

MORNING, DAYS, MONTHS, NOBODY = "morning", "days", "months", "nobody"
"""Keys of the first answers; the last one is right."""
GONE = {MORNING: TIMES["12h"], DAYS: 3 * DAY, MONTHS: 8 * WEEK}
"""When the peroxide is gone by those that name a time [s]; months: not before the axis ends."""
LESS, ALIKE, MORE, ALL = "less", "alike", "more", "all"
"""Keys of the second answers; `MORE` is right."""
MUCH_MORE = 10
"""So many times as much the right answer says at least [-]."""


def quiet_prediction() -> Prediction:
    """Ask when a strip reads nothing in a used bath that stands open."""
    mild = peroxide_left()
    low, high = span_words(float(mild.gone.low)), span_words(float(mild.gone.high))
    question = (
        "The last board is out of the workshop's mild bath. The bath stands open in its tray. When "
        "does a strip that shows peroxide first read nothing?"
    )
    morning, days = mild.still("12h"), mild.still("3d")
    early = mild.nothing("1w")
    answers = {
        MORNING: Option(
            "by next morning",
            f"No: by then {morning} of {mild.total} plausible baths still hold peroxide.",
        ),
        DAYS: Option(
            "after three days", f"No: {days} of {mild.total} plausible baths still hold peroxide."
        ),
        MONTHS: Option(
            "not for months",
            f"In some. But in {early} of {mild.total} plausible baths it is gone within a week.",
        ),
        NOBODY: Option(
            "nobody can say: half a day or three months",
            f"Yes: 8 of 10 plausible baths take {low} to {high}, one in ten longer still.",
        ),
    }
    reasons = {
        "still": Option(
            "nothing is being etched any more",
            "Etching has ended. Most of the peroxide is left, and goes on falling apart.",
        ),
        "copper": Option(
            "copper breaks peroxide up, and a night is long",
            "It does break it up. How fast in this acid, nobody has measured.",
        ),
        "bottle": Option(
            "it keeps for months in its bottle too",
            "There it is stabilised, and no copper is in it.",
        ),
        "unknown": Option(
            "how fast it goes in acid and copper was never measured",
            "That is it: not knowing makes the time long and short.",
        ),
    }
    return Prediction("when is it quiet", question, answers, reasons)


def clear_prediction() -> Prediction:
    """Ask how much copper clear and neutral water still holds."""
    left = copper_left(LITTLE)
    aged, fresh = left.at(NEUTRAL)
    whole, deaths = milligrams_words(total_copper()), milligrams_words(DEATHS)
    answer = f"{milligrams_words(aged)} to {milligrams_words(fresh)} mg/L"
    times = f"{times_words(aged / DEATHS)} as much at least"
    gone = 100 * (1 - aged / left.total)
    question = (
        "The strip reads nothing. Baking soda has taken the acid: pH 8, nothing fizzes any more. "
        "The copper has fallen out as blue-green mud, the water above it is clear. "
        f"{deaths} mg/L of copper kill half of the water fleas in two days. How much is left in "
        "that clear water?"
    )
    answers = {
        LESS: Option("less than that", f"More: {answer}, {times}."),
        ALIKE: Option("about that much", f"More: {answer}, {times}."),
        MORE: Option(f"over {MUCH_MORE} times that", f"Yes: {answer}, {times}."),
        ALL: Option(
            f"nearly all of it, {whole} mg/L", f"No: most has fallen, {answer} is left: {times}."
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
            "Yes, and soda left over keeps more of it dissolved.",
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
