"""What is said of 200 weak baths: title, live sentence and picture in words, in one place."""

from __future__ import annotations

import numpy as np

from ...common.band import Band
from ...common.number_words import clock
from ...page.picture import Words
from .numbers import EVERY, HOURS, WEAK_ACID, Fates

KINDS = ("clear while peroxide lasts", "turn brown, then clear", "brown, not clear in 4 hours")
"""What becomes of a bath, in the order of `LASTS`, `BROWN` and `NEVER`."""


def case_words(times: float, acid: float) -> str:
    """Say which bath it is: peroxide for so many times the copper [-], acid so strong [%].

    Examples
    --------
    >>> print(case_words(1.1, 10.0), "|", case_words(0.8, 31.0))
    Peroxide for 1.1 times the copper | Peroxide for 0.8 times the copper, 31 % acid
    """
    strong = "" if acid == WEAK_ACID else f", {acid:g} % acid"
    return f"Peroxide for {times:g} times the copper{strong}"


def only_drawn(fates: Fates) -> str:
    """Say why a bath is no recipe."""
    if fates.acid != WEAK_ACID:
        return "drawn only, never mixed"
    if fates.refused:
        return "drawn only: the planner refuses it"
    return "only the planner says whether to mix it"


def percents(band: Band) -> str:
    """Write both ends of a band of shares [-]: "53 to 96 %"."""
    return f"{100 * float(band.low):.0f} to {100 * float(band.high):.0f} %"


def minutes(seconds: float) -> str:
    """Write a time [s in] in whole minutes: "20"."""
    return f"{seconds / 60:.0f}"


def half_words(fates: Fates) -> str:
    """Say how long half of the baths take at least."""
    middle = float(fates.time.middle)
    if not np.isfinite(middle):
        return f"Half or more are not clear after {HOURS:g} hours."
    return f"Half take {clock(middle)} or more."


def question_words(times: float, acid: float) -> Words:
    """Say the question at a place of the slider, times the copper [-], and nothing of the answer.

    Parameters
    ----------
    times : float
        Peroxide for so many times the copper [-].
    acid : float
        Strength of the acid [% by weight].
    """
    title = f"{case_words(times, acid)}: what happens?"
    return Words(
        title,
        "Predict first: then the answer appears here.",
        f"{title} An empty picture: copper still on the board over {HOURS:g} hours, beside 200 "
        "empty squares, one for each plausible bath. The answer appears when you have predicted.",
    )


def answer_words(fates: Fates, guess: str = "") -> Words:
    """Say what becomes of the baths.

    Parameters
    ----------
    fates : Fates
        Of all baths at one place of the slider.
    guess : str
        What the reader predicted, where a mark of it is drawn.
    """
    case = case_words(fates.times, fates.acid)
    lasts, brown, never = fates.counts
    clear = f"{fates.clear or 'none'} of {fates.total} clear"
    title = f"{case}: {clear} in {HOURS:g} hours"
    if fates.acid != WEAK_ACID:
        title = f"Drawn only. {case}: {clear}"
    readout = (
        f"{case} ({only_drawn(fates)}). Of {fates.total} plausible baths {lasts} clear while it "
        f"lasts, {brown} turn brown and then clear, {never} never clear in {HOURS:g} hours. "
        f"{half_words(fates)}"
    )
    spent = ""
    if fates.spent is not None and fates.gone is not None:
        spent = (
            f" A dot is where it is spent: after {minutes(float(fates.spent.low))} to "
            f"{minutes(float(fates.spent.high))} min, with {percents(fates.gone)} of the copper "
            "gone; from there the line is dashed and falls slowly."
        )
    mark = f" Your prediction, “{guess}”, is a hollow mark beside the squares." if guess else ""
    alt = (
        f"{title}. Copper still on the board, from 100 % down, over {HOURS:g} hours: "
        f"{fates.drawn.size} lines for the {fates.total} plausible baths, every {EVERY}th in the "
        f"order of the squares. A line is solid while peroxide lasts.{spent} Beside it "
        f"{fates.total} squares, the quickest first: {lasts} filled, {brown} hatched, "
        f"{never} crossed.{mark} {readout}"
    )
    return Words(title, readout, alt)
