"""What page 01 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import minute
from ...page.widget.prediction import Option, Prediction
from .numbers import FIRST, STRONG, STRONGEST, WEAKEST, content, recipe, second, time_to_clear
from .words import in_percent, times_stronger

NONE, TWO_THIRDS, SAME, LABEL = "none", "two thirds", "same", "label"
"""Keys of the first answers: no water, that of the peroxide alone, as much as A, the label."""
RECIPE, DOUBLE, ALONE, PAGE = "recipe", "double", "alone", "page"
"""Keys of the second: the recipe decides, one of two is weaker, peroxide alone, what is said."""
ASKED = second(STRONG, WEAKEST)
"""Mixture B as the question has it."""


def guesses() -> dict[str, float]:
    """Return the share of water in B that each answer stands for [kg/kg]."""
    return {
        NONE: 0.02,
        TWO_THIRDS: 2 / 3,
        SAME: content(FIRST).shares["H2O"],
        LABEL: 1 - WEAKEST / 100,
    }


def water_prediction() -> Prediction:
    """Ask how much of a mixture is water into which none is poured."""
    water, of_acid = in_percent(content(ASKED).shares["H2O"]), in_percent(1 - STRONG / 100)
    of_peroxide = in_percent(1 - WEAKEST / 100)
    question = (
        f"Mixture A: 3 parts water, 1 part {STRONG:g} % hydrochloric acid, 1 part "
        f"{STRONGEST:g} % peroxide, by volume. Mixture B: no water, 1 part of the same acid, 2 "
        f"parts of shop peroxide, {WEAKEST:g} %. A is {in_percent(content(FIRST).shares['H2O'])} "
        "water by weight. How much of B is water?"
    )
    answers = {
        NONE: Option("hardly any", f"It is {water}: what comes out of a bottle is mostly water."),
        TWO_THIRDS: Option(
            "about two thirds",
            f"Good thinking, for the peroxide is 2 of 3 parts. But B is {water} water.",
        ),
        SAME: Option(f"about {water}, as much as A", "So it is."),
        LABEL: Option(
            f"about {of_peroxide}", f"That is the bottle of peroxide alone. B is {water} water."
        ),
    }
    reasons = {
        "poured": Option(
            "no water is poured in",
            f"It comes in with the bottles: this peroxide is {of_peroxide} water, this acid "
            f"{of_acid}.",
        ),
        "peroxide": Option(
            "shop peroxide is nearly all water",
            f"Shop peroxide is {of_peroxide} water, right. The acid is {of_acid} water too.",
        ),
        "both": Option(
            "each bottle is mostly water",
            f"Yes: {of_peroxide} of this peroxide, {of_acid} of this acid.",
        ),
        "strong": Option(
            "without water it must be stronger than A",
            "In acid it is, in peroxide it is weaker. The bottles decide that, not the words.",
        ),
    }
    return Prediction("water in B", question, answers, reasons)


def answer_times() -> dict[str, float]:
    """Return the time that each answer about the recipe stands for [s], shortest first."""
    usual = float(time_to_clear(FIRST).middle)
    return {
        RECIPE: usual,
        DOUBLE: 2 * usual,
        ALONE: times_stronger(STRONG, STRONGEST, WEAKEST) * usual,
        PAGE: float(time_to_clear(recipe(STRONG, WEAKEST)).middle),
    }


def minutes(time: float) -> str:
    """Write a time [s] in minutes, as an answer has it.

    Examples
    --------
    >>> print(minutes(112.6), "|", minutes(2959))
    1.9 min | 49 min
    """
    return f"{figures(time / minute)} min"


def recipe_prediction() -> Prediction:
    """Ask how long the same words take with another bottle of peroxide."""
    times = answer_times()
    page, weaker = minutes(times[PAGE]), figures(times_stronger(STRONG, STRONGEST, WEAKEST))
    question = (
        f"From {STRONG:g} % acid and {STRONGEST:g} % peroxide (drawn only) A clears the workshop's "
        f"board in {minutes(times[RECIPE])}. Somebody reads the same words, 3 : 1 : 1, and takes "
        f"shop peroxide, {WEAKEST:g} %. How long now?"
    )
    replies = {
        RECIPE: f"The same words, another bath: {page}.",
        DOUBLE: f"One bottle of two is weaker, but by {weaker} times: {page}.",
        ALONE: f"A good guess, by strength alone. The model says {page}: strong peroxide also "
        "stirs itself, and heats.",
        PAGE: "So says the model. Even so it holds as much acid as before.",
    }
    reasons = {
        "words": Option(
            "the recipe is the same", "A recipe of parts says nothing of strengths: look at them."
        ),
        "acid": Option(
            "the acid is as strong as before",
            "Each copper takes a peroxide too, and of that there is far less.",
        ),
        "peroxide": Option(
            "the peroxide is ten times weaker",
            f"Yes; in the tray even {weaker} times, for a litre of the strong one weighs more.",
        ),
        "water": Option(
            "in place of peroxide it gets more water",
            "Yes: a part of shop peroxide is nearly a part of water.",
        ),
    }
    options = {key: Option(minutes(time), replies[key]) for key, time in times.items()}
    return Prediction("same words", question, options, reasons)
