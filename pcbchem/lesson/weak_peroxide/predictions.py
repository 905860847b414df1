"""What page 06 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...page.widget.prediction import Option, Prediction
from .numbers import ASKED, PEROXIDE, STRONG_ACID, TOO_LITTLE, WEAK_ACID, at
from .words import percents

LEFT, SLOW, HALF, STOP = "left", "slow", "half", "stop"
"""Keys of the first answers: all clear, all clear slowly, nearly half never (right), all stop."""
CLEAR = {LEFT: 1.0, SLOW: 1.0, HALF: 0.5, STOP: 0.0}
"""Share of the baths that clear by each of them [-]."""
CLEAR_OF_STRONG = {"none": 0.0, "two": 0.2, "five": 0.5, "seven": 0.7}
"""Answers to the second question, and the share of the baths that clear by each [-]."""


def enough_prediction() -> Prediction:
    """Ask what becomes of baths that have enough peroxide by the equation."""
    question = (
        f"{WEAK_ACID:g} % hydrochloric acid and {PEROXIDE:g} % peroxide in equal parts. There is "
        f"peroxide for {ASKED:g} times the copper on the board (drawn only: the planner refuses "
        "this bath). What happens in 200 such baths, bottles and all else as different as they "
        "plausibly are?"
    )
    asked = at(ASKED)
    lasts, brown, never = asked.counts
    assert asked.gone is not None
    end = f"Of {asked.total} baths {never} never clear."
    answers = {
        LEFT: Option(
            "all clear, and a little peroxide is left over",
            f"No: so says the equation alone. Only {lasts} clear while peroxide lasts: part of it "
            "is lost.",
        ),
        SLOW: Option(
            "all clear, the last bit slowly",
            f"Not all: {brown} do, brown and slow. But {never} never come to the last bit.",
        ),
        HALF: Option("nearly half never clear", f"Yes: {never} of {asked.total}."),
        STOP: Option(
            "all stop half way",
            f"That is too gloomy: {percents(asked.gone)} of the copper is gone when peroxide is. "
            f"{end}",
        ),
    }
    reasons = {
        "enough": Option(
            "there is enough peroxide, and some to spare",
            "The equation counts only what goes into copper.",
        ),
        "lost": Option(
            "part of the peroxide is lost on the way",
            "It is: into oxygen, in some baths little, in others half.",
        ),
        "weak": Option(
            f"{PEROXIDE:g} % is too weak to etch copper",
            "It does etch, steeply at first. Weak is slow; “never” has another cause.",
        ),
        "used": Option(
            "a bath gets weaker as it is used",
            "It does get weaker. But slow baths clear in the end, if nothing runs out.",
        ),
    }
    return Prediction("enough", question, answers, reasons)


def strong_prediction() -> Prediction:
    """Ask how many baths clear with too little peroxide, but strong acid."""
    question = (
        f"Now peroxide for only {TOO_LITTLE:g} times the copper, but strong acid: "
        f"{STRONG_ACID:g} % (drawn only). How many of 10 plausible baths clear?"
    )
    strong, weak = at(TOO_LITTLE, STRONG_ACID), at(TOO_LITTLE, WEAK_ACID)
    end = f"{strong.clear} of {strong.total} clear"
    answers = {
        "none": Option(
            "none",
            f"No: {end}. None is right for {WEAK_ACID:g} % acid ({weak.clear} clear).",
        ),
        "two": Option("about 2", f"More: {end}."),
        "five": Option("about 5", f"More: {end}."),
        "seven": Option("about 7", f"Yes: {end}."),
    }
    reasons = {
        "short": Option(
            "there is not peroxide enough",
            "All the peroxide is spent, and all turn brown. Then dissolved copper goes on.",
        ),
        "holds": Option(
            "more chloride holds more copper(I)",
            "That is it: the brown bath can go on farther.",
        ),
        "faster": Option(
            "strong acid etches faster, so less is lost",
            "It is faster. But even with nothing lost, peroxide ends before the copper does.",
        ),
        "instead": Option(
            "acid alone dissolves the rest",
            "Acid alone hardly touches copper. It is the chloride that comes with it.",
        ),
    }
    return Prediction("too little", question, answers, reasons)
