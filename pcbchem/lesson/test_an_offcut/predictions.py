"""What page 08 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

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
    exact, small, large = (
        counted(*key).width for key in ((KNOWN, 0), (SMALL, MOST_OFFCUTS), (CARE, OFFCUTS))
    )
    narrower = counted(CARE, OFFCUTS)
    # the bench that is shown is one of them
    middle = f"on {narrower.benches} made-up benches, the middle one"
    question = (
        "An offcut is a scrap of board, etched first to time it. By the labels of the bottles a "
        f"board called tide clock takes {range_words(by_labels())}: 8 of 10 plausible baths lie "
        f"in there. The high end is {labels:.1f} times the low. What narrows that most?"
    )
    area = AREA / cm**2
    answers = {
        "model": Option(
            "nothing: the model itself is unsure, and that stays",
            f"Some of it can be learnt: two large offcuts make it {large:.2f} times ({middle}).",
        ),
        "bottles": Option(
            "being told exactly what is in both of the bottles",
            f"It helps: {exact:.2f} times instead of {labels:.2f}. Two large offcuts make it "
            f"{large:.2f} ({middle}).",
        ),
        "small": Option(
            f"six offcuts of {area:g} cm², each in a small dish of its own",
            f"Next to nothing: {small:.2f} times instead of {labels:.2f} ({middle}). "
            "A small dish is not the board's tray.",
        ),
        RIGHT: Option(
            "two offcuts, each half the board, in the board's tray",
            f"Yes: {large:.2f} times ({middle}). Exact bottles make it {exact:.2f}. The two "
            f"offcuts were narrower on {narrower.narrower} of {narrower.benches}.",
        ),
    }
    reasons = {
        "labels": Option(
            "the labels are what is doubtful",
            f"Labels are a part of the doubt: with exact bottles the band is still {exact:.2f}.",
        ),
        "many": Option(
            "many tests are surer than two",
            "Many tests of one kind are a little surer. What all of them share stays in doubt.",
        ),
        "model": Option(
            "nobody knows the model's numbers",
            "Nobody does. But an offcut like the board tells what the numbers come to there.",
        ),
        "all": Option(
            "it meets bottles, tray and hand all at once",
            "An offcut that meets all three is like the board: that is what it takes.",
        ),
    }
    return Prediction("what narrows it", question, answers, reasons)


def times_prediction() -> Prediction:
    """Ask what becomes of the band when somebody only looks every two minutes."""
    careful, late = counted(CARE, MOST_OFFCUTS), counted(SEEN_LATE, MOST_OFFCUTS)
    answer = (
        f"high over low {late.width:.2f}, watched {careful.width:.2f} (on {late.benches} made-up "
        f"benches, the middle one). But the band held the truth on {late.held}, watched on "
        f"{careful.held}."
    )
    question = (
        "Six large offcuts again. At a real tray somebody watches bath and thermometer all the "
        "time. Here the copper is looked at only every two minutes. Written down is the "
        "time of the first look that finds it clear. All else is as before. What becomes of the "
        "band?"
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
            "Worse times widen a band only if the page is told how bad they are.",
        ),
        "even": Option(
            "over six it evens out",
            "Chance evens out. But a look comes too late each time, never too soon.",
        ),
        "told": Option(
            "the page knows only what is written down",
            "The page knows no more: it cannot see who looked away.",
        ),
        "useless": Option(
            "such times tell nothing",
            "Such times tell much, but each of them is too late.",
        ),
    }
    return Prediction("who timed them", question, answers, reasons)
