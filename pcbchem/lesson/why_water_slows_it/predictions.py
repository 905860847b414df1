"""What page 04 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import minute
from ...page.widget.prediction import Option, Prediction
from ..workshop import PAIRS
from .numbers import BOTTLES, QUESTION, SHAKEN, STILL, course, layers

SAME, HALF_RATE, SQUARE, PAGE, AGAIN = "same", "half", "square", "page", "again"
"""Keys of the answers: nothing changes, half the rate, both halves multiplied, what the page says,
and the factor of the still tray once more."""


def answer_times(movement: str) -> dict[str, float]:
    """Return the time that each answer stands for in a tray that moves so [s].

    Parameters
    ----------
    movement : str
        One of `STILL`, `SHAKEN`.

    Returns
    -------
    dict of float
        Time of each answer by its key [s], shortest first.
    """
    dilution = course(movement)
    place = dilution.at(QUESTION)
    undiluted, weaker = float(dilution.times.middle[0]), float(dilution.weaker[place])
    times = {
        SAME: undiluted,
        HALF_RATE: weaker * undiluted,
        SQUARE: weaker**2 * undiluted,
        PAGE: float(dilution.times.middle[place]),
    }
    if movement == SHAKEN:
        still = course(STILL)
        times[AGAIN] = undiluted * float(still.ratio.middle[still.at(QUESTION)])
    return dict(sorted(times.items(), key=lambda answer: answer[1]))


def minutes(time: float) -> str:
    """Write a time [s] in minutes, as an answer has it.

    Examples
    --------
    >>> print(minutes(266), "|", minutes(1688))
    4.4 min | 28 min
    """
    return f"{figures(time / minute)} min"


def options(movement: str, replies: dict[str, str]) -> dict[str, Option]:
    """Return the answers about a tray that moves so, each with its reply."""
    return {
        key: Option(minutes(time), replies[key]) for key, time in answer_times(movement).items()
    }


def still_prediction() -> Prediction:
    """Ask how long the board takes with water, in a tray that stands still."""
    pair, times = PAIRS[BOTTLES], answer_times(STILL)
    page = minutes(times[PAGE])
    question = (
        f"One part of {pair.acid:g} % hydrochloric acid and one of {pair.peroxide:g} % peroxide "
        f"clear our board in {minutes(times[SAME])}, in a tray that stands still. With "
        f"{figures(QUESTION)} parts of water (the tray no fuller than before) both are half as "
        "strong. How long now?"
    )
    replies = {
        SAME: f"Enough of both, yet the page says {page}: the amount is not the main thing.",
        HALF_RATE: f"A good first guess. Here the page says {page}: water does more.",
        SQUARE: f"Nearer, but the page says {page}. Should one multiply?",
        PAGE: "The page says so too. But why?",
    }
    reasons = {
        "enough": Option(
            "there is still enough of both",
            "What counts is how much reaches the copper each second, not how much there is.",
        ),
        "half": Option(
            "half as strong is half as fast",
            "Half as fast holds only while the liquid at the copper moves as before. Does it?",
        ),
        "multiply": Option(
            "two things are halved, and 2 × 2 is 4",
            "Try that rule on the two measured layers below.",
        ),
        "more": Option(
            "water takes away something else too", "Choose “the film” in the panel: it shows what."
        ),
    }
    return Prediction("half as strong, still tray", question, options(STILL, replies), reasons)


def layers_prediction() -> Prediction:
    """Ask how many times slower the second of the two measured layers went."""
    pair = layers()
    peroxide, acid = figures(pair.peroxide), f"{pair.acid:.1f}"
    multiplied, added = figures(pair.multiplied), figures(pair.peroxide + pair.acid)
    cubed = figures(round(pair.peroxide, 1) * round(pair.acid, 1) ** 2, 3)
    seen = figures(pair.slower)
    fast, slow = (f"{ends[0]:#.2g}–{ends[1]:#.2g}" for ends in (pair.fast, pair.slow))
    question = (
        f"A laboratory etched two thin layers of copper. The second bath had {peroxide} times less "
        f"peroxide and {acid} times less acid. How many times slower did the copper go?"
    )
    answers = {
        "seen": Option(f"about {seen}: {peroxide} alone", "So it was seen."),
        "added": Option(f"about {added}: {peroxide} + {acid}", "Adding has no reason behind it."),
        "multiplied": Option(
            f"about {multiplied}: {peroxide} × {acid}", "So it would be if strengths multiplied."
        ),
        "cubed": Option(
            f"about {cubed}: {peroxide} × {acid} × {acid}",
            "So it would be if all that the equation names multiplied: one peroxide, two acid.",
        ),
    }
    told = (
        f"Seen: {fast} µm (thousandths of a millimetre) of copper a minute, then {slow}: about "
        f"{seen} times slower, not {multiplied}.\n"
        "Acid and peroxide come side by side, and each copper needs one peroxide and two acid. In "
        "the model the one that falls short, here peroxide, sets the pace: strength counts once.\n"
        "Their peroxide is weaker than ours: in the model bubbles hardly stir there. Ours they do. "
        "(One pair, from open notes: temperature and stirring are not stated; we take them as "
        "rocked.)"
    )
    return Prediction("two measured layers", question, answers, alone=True, told=told)


def shaken_prediction() -> Prediction:
    """Ask the first question again for a tray that is shaken: nothing else changes."""
    times = answer_times(SHAKEN)
    page = minutes(times[PAGE])
    question = (
        "The same bath, the same water, but somebody shakes the tray briskly. Without water the "
        f"board then takes {minutes(times[SAME])}. How long with the {figures(QUESTION)} parts of "
        "water?"
    )
    replies = {
        SAME: f"Even shaken, less reaches the copper. The page says {page}.",
        HALF_RATE: f"Near: the page says {page}. Some bubbles and some warmth are lost too.",
        PAGE: "The page says so too: the same water costs less than in the still tray.",
        SQUARE: f"The page says {page}. If strengths multiplied, no shaking would change that.",
        AGAIN: f"So it was in the still tray. Here the page says {page}.",
    }
    reasons = {
        "film": Option(
            "shaking keeps the film thin",
            "Yes: choose “the film”. Shaking does what the bubbles did, water or not.",
        ),
        "same": Option(
            "how the tray moves changes nothing", "It changes what keeps the film thin."
        ),
        "multiply": Option(
            "two things are halved, and 2 × 2 is 4", "The measured layers spoke against that."
        ),
        "half": Option(
            "only the strength is left", "Nearly: shaking does most of what the bubbles did."
        ),
    }
    return Prediction("half as strong, shaken tray", question, options(SHAKEN, replies), reasons)
