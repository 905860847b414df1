"""What page 07 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.units import mm, um
from ...page.widget.prediction import Option, Prediction
from .numbers import DRAWN, FACTOR, LATE, MILD, SUM_FACTOR, course, on_time, thickness
from .words import width_words

RIGHT, THIN = "about 0.15", "thin"
"""Keys of the two right answers."""
ANSWERS = {
    "as drawn": DRAWN,
    "about 0.18": 0.18 * mm,
    RIGHT: 0.15 * mm,
    "about 0.10": 0.10 * mm,
}
"""Widths of the first answers, by key [m]."""


def words_of(width: float) -> str:
    """Write a width as an answer has it [m]: "about 0.18 mm", "0.20 mm"."""
    words = f"{width_words(width, 2)} mm"
    return words if width == DRAWN else f"about {words}"


def trace_prediction() -> Prediction:
    """Ask how wide the trace is when the board comes out to the second."""
    drawn, foil = width_words(DRAWN, 2), thickness() / um
    question = (
        "Resist is a cover that the bath does not eat. Over one trace it is drawn "
        f"{drawn} mm wide, on foil of 1 oz ({foil:.0f} µm thick). The board comes out of the "
        "workshop's mild bath the very second the copper beside the trace is gone. How wide is "
        "the copper just under the resist?"
    )
    page = width_words(float(on_time().middle))
    each = thickness() / FACTOR / um
    published = width_words(DRAWN - 2 * thickness() / SUM_FACTOR, 2)
    replies = {
        "as drawn": f"No: {page}. The resist covers the top, and the bath comes from the side.",
        "about 0.18": (
            f"Less: {page}. It is {each:.0f} µm from each edge, and there are two. With a factor "
            "of "
            f"{SUM_FACTOR:g}, as industry's sprayed boards, it would be {published}: see below."
        ),
        RIGHT: f"Yes: {page}.",
        "about 0.10": (
            f"More: {page}. {drawn} to 0.10 would be 50 µm from each edge: faster sideways than "
            "down."
        ),
    }
    reasons = {
        "covered": Option(
            "the resist keeps what is under it", "It keeps the bath off the top only."
        ),
        "punctual": Option(
            "nothing was in the bath too long", "Sideways it ate from the first second."
        ),
        "edge": Option("a little creeps in under the edge", "It does creep in: from both edges."),
        "sides": Option(
            "the bath eats from both sides while it eats down",
            "Yes: not as fast as down, but from two sides.",
        ),
    }
    options = {key: Option(words_of(width), replies[key]) for key, width in ANSWERS.items()}
    return Prediction("to the second", question, options, reasons)


def foil_prediction() -> Prediction:
    """Ask which of two traces is wider: thick foil to the second, or thin foil a minute late."""
    thin, thick = course(MILD, 0.5), course()
    late = width_words(float(thin.late(60 * LATE).middle))
    to_second = width_words(float(on_time().middle))
    answer = f"½ oz {late} mm, 1 oz {to_second}."
    # what the minute costs, and what the foil twice as thick costs more by its etch
    minute_costs = float(thin.pace.middle) * 60 * LATE / um
    foil_costs = float(on_time(0.5).middle - on_time().middle) / um
    question = (
        "Same trace, same mild bath. One board has foil of 1 oz and comes out to the second. One "
        "has foil of ½ oz and stays in a whole minute too long. Which trace is wider?"
    )
    # how much of its own time the thin foil is late
    share = 60 * LATE / float(thin.clear.middle)
    times = float(thick.clear.middle / thin.clear.middle)
    answers = {
        "thick": Option(
            "1 oz",
            f"No: {answer} Its thick foil took {times:.1f} times as long to clear.",
        ),
        "alike": Option(
            "both alike",
            f"No: {answer} The minute costs {minute_costs:.0f} µm, the thicker foil "
            f"{foil_costs:.0f}.",
        ),
        THIN: Option("½ oz, although late", f"Yes: {answer}"),
        "gone": Option(
            "the ½ oz trace is gone", f"No: {answer} It is thinner copper, not a narrower trace."
        ),
    }
    reasons = {
        "late": Option(
            "only lateness costs width", "The etch itself costs width too, the same each minute."
        ),
        "much": Option(
            "a minute is much for thin foil",
            f"It is {100 * share:.0f} % more for the thin foil. The thick foil needs "
            f"{times:.1f} times as long.",
        ),
        "time": Option(
            "it is in the bath for less time in all",
            "That is what counts: minutes in the bath, not minutes too long.",
        ),
        "through": Option(
            "thin copper is soon eaten through",
            "Downwards. Sideways it goes as slowly as in thick foil.",
        ),
    }
    return Prediction("thin foil late", question, answers, reasons)
