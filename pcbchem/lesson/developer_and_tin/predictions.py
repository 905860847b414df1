"""What page 11 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.units import cm
from ...page.widget.prediction import Option, Prediction
from .numbers import ASKED, MILLIMOLE, TIN, carried, coating, fresh_grams, lye_left, traces
from .words import left_at_question, millimoles_words

ALL, MOST, PART, NONE = "all", "most", "part", "none"
"""Keys of the first answers; `PART` is right."""
LEFT = {ALL: 1.0, MOST: 0.9, NONE: 0.0}
"""Lye left by each wrong answer [share of the fresh]."""
QUARTER, THREE_QUARTERS = 0.25, 0.75
"""Ends of the right answer [share of the fresh]."""
SEVENTY, TWENTY, FOUR, FIRST = "seventy", "twenty", "four", "first"
"""Keys of the second answers; `FOUR` is right."""
BOARDS = {SEVENTY: 73, TWENTY: 20, FIRST: 1}
"""After how many boards the tin is gone by each wrong answer [-]."""


def lye_prediction() -> Prediction:
    """Ask how much lye is left of a developer that nobody used."""
    left = lye_left()
    middle, span = left_at_question()
    answer = f"{middle} of {fresh_grams():.1f} g/L is left, {span} in 8 of 10 cases"
    within = left.between(QUARTER, THREE_QUARTERS)
    question = (
        "Only worked out: the workshop makes its developer, which takes film off where light was: "
        "1.5 g of lye (NaOH) into 120 mL of water. It stands in a flat dish of 200 cm², indoors. "
        "Nothing is developed, and the water that dries away does not count. How much of its lye "
        f"is left after {ASKED} hours?"
    )
    answers = {
        ALL: Option("all of it", f"No: {answer}."),
        MOST: Option("nine tenths", f"Less: {answer}."),
        PART: Option(
            "a quarter to three quarters",
            f"Yes: {answer}; {within} of {left.cases} cases lie in your answer.",
        ),
        NONE: Option("none", f"Not yet: {answer}."),
    }
    reasons = {
        "unused": Option(
            "no film was developed, so no lye was used",
            "No film used it. Something else did, and it is not seen.",
        ),
        "stays": Option(
            "lye does not dry away", "True: none of it leaves the dish. It turns into something."
        ),
        "air": Option(
            "the air's carbon dioxide turns lye into soda",
            "That is it: soda is no developer for this film.",
        ),
        "dries": Option(
            "water dries away and makes it stronger",
            "Some does, about a tenth. Half of the lye goes.",
        ),
    }
    return Prediction("unused all day", question, answers, reasons)


def tin_prediction() -> Prediction:
    """Ask after how many boards that were not rinsed a tin bath is dead."""
    board = carried()
    least, most = (millimoles_words(end) for end in coating())
    boards, killed = (
        f"{float(board.boards.middle):.0f}",
        millimoles_words(float(board.killed.middle)),
    )
    first, last = (f"{float(end):.0f}" for end in (board.boards.low, board.boards.high))
    answer = f"about {boards}, {first} to {last} in 8 of 10 cases"
    question = (
        f"Only worked out: 100 mL of tin bath hold {TIN / MILLIMOLE:g} mmol of tin. The coating on "
        f"one board's {traces() / cm**2:.0f} cm² of copper takes {least} to {most} mmol. The "
        "boards come dripping from the mild etching bath, not rinsed. After how many boards is "
        "the tin gone, at the latest?"
    )
    answers = {
        SEVENTY: Option("over 70", f"Far fewer: {answer}. “Over 70” counts the coating alone."),
        TWENTY: Option("about 20", f"Fewer: {answer}."),
        FOUR: Option("about 4", f"Yes: {answer}."),
        FIRST: Option("the first one already", f"A few more: {answer}."),
    }
    reasons = {
        "coating": Option(
            "only the coating takes tin out of the bath",
            f"It takes {most} mmol at the most. What clings to a board takes {killed}.",
        ),
        "little": Option(
            "what clings to a board is hardly more than a millilitre",
            f"And it kills {killed} mmol of tin: it is strong in peroxide.",
        ),
        "peroxide": Option(
            "each peroxide that clings to a board kills one tin",
            f"That is it, at the most: {killed} mmol a board, {board.times:.0f} times its coating.",
        ),
        "acid": Option(
            "its acid eats the tin off again",
            "Tin baths are acid themselves. What must not come in is peroxide, nor strong acid.",
        ),
    }
    return Prediction("not rinsed", question, answers, reasons)


def guessed_lye(key: str | None) -> float | None:
    """Return the lye left that a first answer stands for [g/L, as kg/m³], or None."""
    share = LEFT.get(str(key))
    return None if share is None else share * fresh_grams()


def guessed_tin(key: str | None) -> float | None:
    """Return the tin killed by a board that a second answer stands for [mol], or None."""
    boards = BOARDS.get(str(key))
    return None if boards is None else TIN / boards
