"""What is said of a bench: title, sentence and picture in words, from the same numbers."""

from __future__ import annotations

from collections.abc import Mapping

from ...common.band import Band
from ...common.units import minute
from ...page.picture import Words
from .numbers import (
    CARE,
    HALF_WAY,
    MOST_OFFCUTS,
    SEEN_LATE,
    SMALL,
    after,
    bottles_known,
    by_labels,
    counted,
    holds,
    seen,
    truth,
    width,
)

LABELS, KNOWN, SIX_SMALL, SIX_WATCHED = (
    "labels alone",
    "both bottles known",
    "6 small offcuts",
    "6, watched",
)
"""Names of rows that are no large offcuts."""
FUNNEL = (LABELS, KNOWN, SIX_SMALL, *(f"{n} large" for n in range(1, MOST_OFFCUTS + 1)))
"""Rows of the first panel, from top to bottom."""
TIMED = (LABELS, SIX_WATCHED, *(f"{n} so timed" for n in range(1, MOST_OFFCUTS + 1)))
"""Rows of the second."""
HOW = {
    CARE: "watched all the time",
    SEEN_LATE: "a look every 2 min, and that time written down",
    HALF_WAY: "a look every 2 min, and half-way to the look before written down",
}
"""How offcuts may be timed, in the words of choice and table: few, or the copy gets too large."""
SHORT = {
    CARE: "Watched",
    SEEN_LATE: "A look every 2 min",
    HALF_WAY: "Half-way to the look before",
}
"""The same at the start of a title."""
MADE_UP = "This bench is made up. Benches differ: some are unlucky."
WAITS = "Predict first: then the answer appears here."
BEFORE = "By the labels the high end is {width} times the low: what narrows it?"
BEFORE_TIMED = "A look at the copper every 2 min: what becomes of the band?"
"""Titles before a prediction."""


def too_late_words() -> str:
    """Say on which side of the truth the bands of late times lie that miss it."""
    late = counted(SEEN_LATE, MOST_OFFCUTS)
    missed = late.benches - late.held
    if late.sooner == missed:
        return f"On all {missed} that it missed, the board was clear before the band began."
    return f"On {late.sooner} of the {missed} missed, the board was clear before the band began."


def width_words(band: Band) -> str:
    """Write how many times the low end the high end is [-]: "1.71"."""
    return f"{width(band):.2f}"


def minutes(time: float) -> str:
    """Write a time [s] in minutes, without the unit.

    Examples
    --------
    >>> print(minutes(228), minutes(240))
    3.8 4.0
    """
    return f"{time / minute:.1f}"


def range_words(band: Band) -> str:
    """Write both ends of a band [s]: "3.1 to 5.4 min"."""
    return f"{minutes(float(band.low))} to {minutes(float(band.high))} min"


def offcuts_words(offcuts: int) -> str:
    """Write how many large offcuts there are [-]."""
    if offcuts == 0:
        return "no offcut"
    return f"{offcuts} large offcut{'s' if offcuts > 1 else ''}"


def funnel_rows(number: int, offcuts: int, is_known: bool) -> dict[str, Band]:
    """Return the rows of the first panel that are there, by name: of a bench, in its order [s].

    Parameters
    ----------
    number, offcuts : int
        Which bench, and how many of its large offcuts are etched [-].
    is_known : bool
        Whether anything but the labels may be shown.
    """
    rows = {LABELS: by_labels()}
    if is_known:
        rows |= {KNOWN: bottles_known(number), SIX_SMALL: after(number, MOST_OFFCUTS, SMALL)}
        for place in range(1, offcuts + 1):
            rows[FUNNEL[2 + place]] = after(number, place)
    return rows


def timed_rows(number: int, way: str, is_known: bool) -> dict[str, Band]:
    """Return the rows of the second panel that are there, by name [s].

    Parameters
    ----------
    number : int
        Which bench [-].
    way : str
        How its offcuts are timed.
    is_known : bool
        Whether anything but the labels may be shown.
    """
    rows = {LABELS: by_labels()}
    if is_known:
        rows[SIX_WATCHED] = after(number, MOST_OFFCUTS)
        for place in range(1, MOST_OFFCUTS + 1):
            rows[TIMED[1 + place]] = after(number, place, way)
    return rows


def truth_words(band: Band, time: float) -> str:
    """Say where the truth lies, beside a band [s]: "3.7, lies in it"."""
    place = "lies in it" if holds(band, time) else "lies outside"
    return f"{minutes(time)} min, {place}"


def rows_words(rows: Mapping[str, Band]) -> str:
    """Say rows one after the other, as part of a sentence."""
    return "; ".join(f"{name} {range_words(band)}" for name, band in rows.items())


def chart_words(rows: Mapping[str, Band]) -> str:
    """Say what a chart of rows shows."""
    return (
        "Rows on one axis of minutes until the tide clock is clear, equal steps for equal factors. "
        "Each is the band of 8 in 10 plausible baths, with a dot at the middle one: "
        f"{rows_words(rows)}."
    )


def funnel_question(number: int) -> Words:
    """Say the first question of a bench [-], and nothing of its answer."""
    rows = funnel_rows(number, 0, is_known=False)
    title = BEFORE.format(width=width_words(by_labels()))
    return Words(title, WAITS, f"{title} {chart_words(rows)} All other rows are empty. {WAITS}")


def funnel_words(number: int, offcuts: int) -> Words:
    """Say what a bench knows of its board after so many large offcuts [-], and what is true."""
    rows = funnel_rows(number, offcuts, is_known=True)
    # the last row is what the bench knows by now
    band = after(number, offcuts) if offcuts else by_labels()
    title = f"Labels alone: the high end is {width_words(by_labels())} times the low"
    marks = ""
    if offcuts:
        title = (
            f"{offcuts_words(offcuts)}: high end {width_words(band)} times the low, by the labels "
            f"{width_words(by_labels())}"
        )
        times = list_of(seen(number)[:offcuts])
        marks = f" A cross on its row is when an offcut was seen clear: {times} min."
    readout = (
        f"Bench {number}, {offcuts_words(offcuts)}: {range_words(band)}. The truth, "
        f"{truth_words(band, truth(number))}. {MADE_UP}"
    )
    alt = f"{title}. {chart_words(rows)}{marks} {line_words(number)} {readout}"
    return Words(title, readout, alt)


def line_words(number: int) -> str:
    """Say that a line is drawn at the truth of a bench [-]."""
    return f"An upright line, the truth, at {minutes(truth(number))} min."


def list_of(times: tuple[float, ...]) -> str:
    """List times [s in, min]: "4.4, 4.6 and 5.2"."""
    words = [minutes(time) for time in times]
    if len(words) == 1:
        return words[0]
    return f"{', '.join(words[:-1])} and {words[-1]}"


def timed_question(number: int) -> Words:
    """Say the second question of a bench [-], and nothing of its answer."""
    rows = timed_rows(number, CARE, is_known=False)
    return Words(
        BEFORE_TIMED,
        WAITS,
        f"{BEFORE_TIMED} {chart_words(rows)} All other rows are empty. {WAITS}",
    )


def timed_words(number: int, way: str) -> Words:
    """Say what a bench knows by six offcuts timed in one way, and what is true."""
    band, true = after(number, MOST_OFFCUTS, way), truth(number)
    place = truth_words(band, true)
    title = f"{SHORT[way]}: {range_words(band)}. The truth, {place}"
    comparison = f"Watched it is {width_words(after(number, MOST_OFFCUTS))}."
    if way == CARE:
        comparison = f"Last row and {SIX_WATCHED!r} are the same."
    readout = (
        f"Bench {number}. {SHORT[way]}: {range_words(band)}, the high end {width_words(band)} "
        f"times the low. {comparison} The truth, {place}. {MADE_UP}"
    )
    rows = timed_rows(number, way, is_known=True)
    alt = (
        f"{title}. {chart_words(rows)} A cross on its row is what was written down of an offcut: "
        f"{list_of(seen(number, way))} min. {line_words(number)} {readout}"
    )
    return Words(title, readout, alt)
