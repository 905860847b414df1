"""What is said of a trace: title, sentence and picture in words, from the same numbers."""

from __future__ import annotations

from ...common.band import Band
from ...common.units import minute, mm
from ...page.picture import Words
from .numbers import ASKED, DRAWN, LONGEST, MILD, Course, course, on_time

NAMES = {
    "mild": "mild bath",
    "water": "mild bath with 1.2 parts of water",
    "strong": "bath of strong bottles, thinned",
    "weak": "weak bath",
}
"""What each bath is called in a sentence."""
STRONG = "Strong, drawn only. "
"""Stands before the title of a bath that no page mixes."""
OUNCE_WORDS = {0.5: "½ oz", 1.0: "1 oz", 2.0: "2 oz"}
"""How a foil is called, by its ounces [oz/ft²]."""
WAITS = "Predict first: then the answer appears here."
BEFORE = "Out the second it is clear: how wide is it under the resist?"
BEFORE_FOIL = "1 oz to the second, ½ oz a minute too long: which is wider?"
"""Titles before a prediction."""


def width_words(width: float, digits: int = 3) -> str:
    """Write a width [m] in mm, without the unit.

    Examples
    --------
    >>> print(width_words(0.1546e-3), width_words(0.2e-3, 2))
    0.155 0.20
    """
    return f"{width / mm:.{digits}f}"


def band_words(band: Band, digits: int = 2) -> str:
    """Write both ends of a band of widths [m] in mm: "0.14 to 0.17"."""
    return f"{width_words(float(band.low), digits)} to {width_words(float(band.high), digits)}"


def minutes_words(time: float) -> str:
    """Write a time [min] without zeros: "4 min", "3.5 min"."""
    return f"{time:g} min"


def clear_words(course: Course) -> str:
    """Say when the board is clear, 8 of 10 plausible baths [s]: "3.1 to 5.4 min"."""
    low, high = float(course.clear.low) / minute, float(course.clear.high) / minute
    if low < 10:
        return f"{low:.1f} to {high:.1f} min"
    return f"{low:.0f} to {high:.0f} min"


def when_words(course: Course, time: float) -> str:
    """Say whether the board is clear after a time [min], as part of a title."""
    if time * minute < course.clear.low:
        return ", not clear yet"
    if time * minute <= course.clear.high:
        return ", about when it clears"
    return ""


def baths_words(course: Course, time: float) -> str:
    """Say in how many plausible baths the board is not clear, or the trace lost [min]."""
    count = course.clear.values.size
    unclear, lost = course.not_clear(time * minute), course.lost(time * minute)
    parts = []
    if unclear == count:
        parts.append(f"In none of {count} plausible baths is the board clear yet.")
    elif unclear:
        parts.append(f"In {unclear} of {count} plausible baths the board is not clear yet.")
    else:
        parts.append(f"The board is clear in all {count} plausible baths.")
    if lost:
        parts.append(f"In {lost} the trace is lost.")
    return " ".join(parts)


def question_words(is_foil: bool = False) -> Words:
    """Say the question of a panel, and nothing of its answer."""
    title = BEFORE_FOIL if is_foil else BEFORE
    return Words(
        title,
        WAITS,
        f"{title} A cut through copper on a board, nothing etched yet, under resist drawn "
        f"{width_words(DRAWN, 2)} mm wide. Beside it empty axes: narrowest width left, over "
        f"minutes in the bath. {WAITS}",
    )


def answer_words(name: str, time: float, guess: str = "") -> Words:
    """Say what one of the baths leaves of the trace.

    Parameters
    ----------
    name : str
        Key of the bath.
    time : float
        Taken out after it [min].
    guess : str
        What the hollow mark stands for, where one is drawn.
    """
    bath = course(name)
    seconds = time * minute
    left = bath.left(seconds)
    drawn, width = width_words(DRAWN, 2), width_words(float(left.middle))
    is_lost = left.middle <= 0
    strong = STRONG if name == "strong" else ""
    if time == 0:
        title = f"{strong}Not in the bath yet: {drawn} mm, as drawn"
    elif is_lost:
        title = f"{strong}Out after {minutes_words(time)}: the trace is lost"
    else:
        # no room for both
        when = "" if strong else when_words(bath, time)
        title = f"{strong}Out after {minutes_words(time)}{when}: {width} mm is left of {drawn}"
    left_words = f"of {drawn} mm {width} is left under the resist ({band_words(left)})"
    if is_lost:
        left_words = "of the middle trace nothing is left under the resist, and it floats off"
    readout = (
        f"Out of the {NAMES[name]} after {minutes_words(time)}: {left_words}. "
        f"{baths_words(bath, time)}"
    )
    if time == 0:
        readout = f"Not in the {NAMES[name]} yet: the trace is {drawn} mm wide, as drawn."
    mark = f" Your prediction, {guess}, is a hollow mark." if guess else ""
    alt = f"{title}. {cut_words(bath, time)} {line_words(bath)}{mark} {readout}"
    return Words(title, readout, alt)


def cut_words(bath: Course, time: float) -> str:
    """Describe the cut through the trace after a time [min]."""
    width = width_words(float(bath.left(time * minute).middle))
    foot = width_words(bath.foot(time * minute), 2)
    cut = (
        f"A cut through a trace drawn {width_words(DRAWN, 2)} mm wide: {width} mm under the resist"
    )
    if not bath.is_clear(time * minute):
        return f"{cut}; beside it copper still covers the board."
    return f"{cut}, {foot} mm at its foot on the board."


def line_words(bath: Course) -> str:
    """Describe the line of widths over minutes [min], its band and when the board is clear."""
    end = bath.left(LONGEST * minute)
    return (
        "Beside it the narrowest width against minutes in the bath: a straight line from "
        f"{width_words(DRAWN, 2)} mm at 0 to {width_words(float(end.middle), 2)} mm at "
        f"{LONGEST:g} min, 8 of 10 plausible baths from {band_words(end)} there. The board is "
        f"clear after {clear_words(bath)}, and the line does not bend there."
    )


def foil_words(ounces: float, late: float) -> Words:
    """Say what a foil has left of the trace when it stays in too long.

    Parameters
    ----------
    ounces : float
        Foil [oz/ft²].
    late : float
        How long after its own moment of clearing [min].
    """
    foil, usual = course(MILD, ounces), OUNCE_WORDS[1.0]
    name, left = OUNCE_WORDS[ounces], foil.late(late * minute)
    width, to_second = width_words(float(left.middle)), width_words(float(on_time().middle))
    if late == 0:
        said = f"{name} foil, to the second: {width} mm left"
    else:
        said = f"{name} foil, {minutes_words(late)} too long: {width} mm left"
    # nothing is compared with itself
    beside = "" if ounces == 1 and late == 0 else f". {usual} foil, to the second: {to_second}"
    stops = ", ".join(
        f"{words} {width_words(float(on_time(weight).middle))} mm"
        for weight, words in OUNCE_WORDS.items()
    )
    readout = f"{said} ({band_words(left)}). To the second: {stops}."
    alt = (
        f"{said}{beside}. A cut through a trace drawn {width_words(DRAWN, 2)} mm wide on foil of "
        f"{name}. Beside it the straight line of the {NAMES[MILD]}, with three hollow squares on "
        f"it where each foil is clear. A dot: {said}. {readout}"
    )
    return Words(f"{said}{beside}", readout, alt)


def is_asked(name: str, time: float) -> bool:
    """Tell whether the controls stand where the first question asks [min]."""
    return name == MILD and time == ASKED
