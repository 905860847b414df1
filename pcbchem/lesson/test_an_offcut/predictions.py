"""What page 08 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...bench.offcut.calibrating import SPREAD
from ...bench.offcut.next_offcut import AREA
from ...common.units import cm
from ...page.widget.prediction import Option, Prediction
from .benches import KNOWN, LABELS
from .numbers import CARE, MOST_OFFCUTS, OFFCUTS, SEEN_LATE, SMALL, by_labels, counted
from .words import range_words

RIGHT, AS_NARROW = "large", "as narrow"
"""Keys of the two right answers."""


def width_prediction() -> Prediction:
    """Ask what makes the band of the board narrowest."""
    labels = counted(LABELS, 0).width
    known, small, large = (
        counted(*key).width for key in ((KNOWN, 0), (SMALL, MOST_OFFCUTS), (CARE, OFFCUTS))
    )
    narrower = counted(CARE, OFFCUTS)
    question = (
        "An offcut is a scrap of board, etched first to time it. By the labels the workshop's "
        f"tide clock takes {range_words(by_labels())} in its mild bath (8 of 10 plausible baths). "
        f"The high end is {labels:.1f} times the low. What narrows that most?"
    )
    area = AREA / cm**2
    answers = {
        "model": Option(
            "nothing: the model itself is unsure",
            f"Some of it can be learnt: two large offcuts make it {large:.2f} times.",
        ),
        "bottles": Option(
            "somebody tells you exactly what is in both bottles",
            f"It helps: {known:.2f} times instead of {labels:.2f}. Two large offcuts make it "
            f"{large:.2f}.",
        ),
        "small": Option(
            f"six offcuts of {area:g} cm², each timed in a small dish of its own",
            f"Next to nothing: {small:.2f} times instead of {labels:.2f}. A small dish is not your "
            "tray.",
        ),
        RIGHT: Option(
            "two offcuts half as large as the board, in its own tray, by the same hand",
            f"Yes: {large:.2f} times. Exact bottles make it {known:.2f}. The two were narrower on "
            f"{narrower.narrower} of {narrower.benches} made-up benches.",
        ),
    }
    reasons = {
        "labels": Option(
            "the labels are what is doubtful",
            f"They are a part of it. Without that doubt it is still {known:.2f}.",
        ),
        "many": Option(
            "many tests are surer than two",
            "Of the same kind, a little. The step to the board stays.",
        ),
        "model": Option(
            "nobody knows the model's numbers",
            "An offcut that is like the board tells what they come to there.",
        ),
        "all": Option(
            "it meets bottles, tray and hand all at once",
            "That is what makes it like the board.",
        ),
    }
    return Prediction("what narrows it", question, answers, reasons)


def times_prediction() -> Prediction:
    """Ask what becomes of the band when somebody only looks every two minutes."""
    watched, late = counted(CARE, MOST_OFFCUTS), counted(SEEN_LATE, MOST_OFFCUTS)
    answer = (
        f"high over low {late.width:.2f}, as if watched ({watched.width:.2f}). But it held the "
        f"truth on {late.held} of {late.benches} made-up benches, watched on {watched.held}."
    )
    question = (
        "Six large offcuts again. Now whoever times them only looks every two minutes, and writes "
        f"down when that was. The page still takes each time as good to {100 * SPREAD:.0f} %. What "
        "becomes of the band?"
    )
    answers = {
        "wide": Option("it gets much wider", f"No: {answer}"),
        "wider": Option("it gets a little wider", f"No: {answer}"),
        AS_NARROW: Option("just as narrow, and wrong more often", f"Yes: {answer}"),
        "labels": Option("it stays as wide as by the labels", f"No: {answer}"),
    }
    reasons = {
        "worse": Option(
            "worse times make a wider band",
            "Only if the page is told how bad they are.",
        ),
        "even": Option(
            "over six it evens out",
            "Chance does. But a look comes too late each time, never too soon.",
        ),
        "told": Option(
            "the page knows only what is written down",
            "Yes: it cannot see who looked away.",
        ),
        "useless": Option(
            "such times tell nothing",
            "They tell much, and each of them too late a time.",
        ),
    }
    return Prediction("who timed them", question, answers, reasons)
