"""What page 03 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...page.widget.prediction import Option, Prediction
from ..workshop import PAIRS
from .numbers import ASKED, BOTTLES, EQUAL, WEAKER, Tent, tent
from .words import boards_words

TWICE, THIRD, SAME, PAGE = "twice", "third", "same", "page"
"""Keys of the first answers: twice as many, as the peroxide in the tray grows, no change, right."""
NONE = "none"
"""Key of the answer that no bottle would; the others are called by their strength."""
RIGHT_BOTTLE = WEAKER[-1]
"""Peroxide of the second question that runs out first in equal parts [% by weight]."""


def answer_boards() -> dict[str, float]:
    """Return the boards that each answer to the first question stands for [-], most first."""
    usual = tent()
    equal, asked = usual.at(EQUAL), usual.at(ASKED)
    before = float(usual.carried[equal])
    return {
        TWICE: before * ASKED / EQUAL,
        THIRD: before * float(usual.share[asked] / usual.share[equal]),
        SAME: before,
        PAGE: float(usual.carried[asked]),
    }


def about(boards: float) -> str:
    """Write boards as an answer has them [-], to a half.

    Examples
    --------
    >>> print(about(5.54), "|", about(16.6), "|", about(8.31))
    about 5½ | about 17 | about 8
    """
    if boards < 6:
        whole, rest = divmod(round(2 * boards), 2)
        return f"about {whole}½" if rest else f"about {whole}"
    return f"about {boards:.0f}"


def boards_prediction() -> Prediction:
    """Ask how many boards the tray carries with twice the peroxide to the acid."""
    pair, boards = PAIRS[BOTTLES], answer_boards()
    page = about(boards[PAGE])
    question = (
        f"Harbour Street Makers mix 1 part of {pair.acid:g} % hydrochloric acid and 1 part of "
        f"{pair.peroxide:g} % peroxide. Their tray could carry the copper of {about(boards[SAME])} "
        "tide-clock boards (by count alone: a bath is for one board). "
        f"Next time they pour {ASKED:g} parts of peroxide "
        "to 1 of acid, the tray just as full. How many boards?"
    )
    replies = {
        TWICE: f"It is {page}. More peroxide would carry more only if it ran out first.",
        THIRD: f"A third more peroxide is in the tray. Yet it is {page}: it was not short.",
        SAME: f"Nearly: the acid does decide. But how much acid is in the tray now? It is {page}.",
        PAGE: "So it is, by count.",
    }
    reasons = {
        "more": Option(
            "more peroxide carries more copper",
            "Look at the dotted line: there was peroxide to spare before.",
        ),
        "scarce": Option(
            "nothing about the acid has changed",
            "It is the same acid, but less of it: the peroxide took its room in the tray.",
        ),
        "room": Option(
            "a tray holds only so much",
            "So it does: a third of it is acid now, not a half.",
        ),
        "even": Option(
            "both are used up in equal parts",
            "The equation says two acid to one peroxide.",
        ),
    }
    options = {key: Option(about(boards[key]), replies[key]) for key in boards}
    return Prediction("twice the peroxide", question, options, reasons)


def times_enough(tray: Tent) -> float:
    """Return how many times the acid's share of peroxide equal parts hold [-]."""
    equal = tray.at(EQUAL)
    return float(tray.peroxide[equal] / tray.acid[equal])


def bottle_prediction() -> Prediction:
    """Ask with which weaker peroxide more of it would carry more copper."""
    acid = PAIRS[BOTTLES].acid
    question = (
        f"Weaker peroxide now, again in equal parts with the same {acid:g} % acid. With which "
        "bottle would pouring more parts of it carry more copper, the tray just as full?"
    )
    strong, middle, weak = WEAKER
    scarce = tent(weak)
    equal = scarce.at(EQUAL)
    by_peroxide, by_acid = (boards_words(float(by[equal])) for by in (scarce.peroxide, scarce.acid))
    answers = {
        f"{strong:g}": Option(
            f"{strong:g} %",
            f"It holds {times_enough(tent(strong)):.1f} times what the acid can use. More of it "
            "only takes room, and can heat it.",
        ),
        f"{middle:g}": Option(
            f"{middle:g} %",
            f"Half the strength, and still {times_enough(tent(middle)):.2f} times what the acid "
            "can use. The acid runs out first.",
        ),
        f"{weak:g}": Option(
            f"{weak:g} %",
            f"Yes: it has peroxide for {by_peroxide} boards, and acid for {by_acid}.",
        ),
        NONE: Option(
            "with none of them",
            f"So it is where the acid runs out first. With {weak:g} % the peroxide does.",
        ),
    }
    reasons = {
        "scarce": Option(
            "its peroxide runs out before its acid",
            "That is the rule: more helps of what runs out first, up to the tent's top.",
        ),
        "room": Option(
            "more peroxide always takes the acid's room",
            "It does. That costs no copper while acid is left over; heat is another matter.",
        ),
        "weaker": Option(
            "it is weaker than the workshop's",
            "Weaker is not yet scarce: compare it with what the acid can use.",
        ),
        "strength": Option(
            "the stronger peroxide does more",
            "Only where peroxide runs out first. Where acid does, strength is left over.",
        ),
    }
    return Prediction("which bottle", question, answers, reasons)
