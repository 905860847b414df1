"""What is said of a used bath in its hour after: title, sentence and picture in words."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

from ...common.number_words import degrees
from ...common.units import celsius, minute, to_celsius
from .numbers import FLAT, MILD, STRONG, WEAK, Hour, stop

NAMES = {MILD: "mild bottles", WEAK: "weak bottles", STRONG: "strong bottles, drawn only"}
"""What the pairs of bottles are called."""
ENDS = (20.0, 40.0)
"""Between these temperatures [°C] a curve is said in words."""
WAITS = "Predict first: then the answer appears here."


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: the finding over it, the live sentence, the picture in words."""

    title: str
    readout: str
    alt: str


def degrees_words(temperature: float) -> str:
    """Write a temperature [K in] as people do: "63 °C"."""
    return f"{whole(temperature)} °C"


def whole(temperature: float) -> str:
    """Write a temperature [K in] in whole °C without its unit."""
    return f"{float(to_celsius(temperature)):.0f}"


def per_minute(pace: float) -> str:
    """Write how fast a bath is warmed or cooled [K/s in]: "0.55 °C a minute".

    Examples
    --------
    >>> print(per_minute(0.00917), "|", per_minute(0.001))
    0.55 °C a minute | 0.06 °C a minute
    """
    return f"{pace * minute:.2f} °C a minute"


def vessel_words(depth: float) -> str:
    """Say how deep a bath lies [mm]."""
    return f"{depth:g} mm deep"


def question_words(hour: Hour, depth: float) -> Words:
    """Say the question at a depth [mm], and nothing of the answer."""
    title = f"{vessel_words(depth).capitalize()}: how warm does the used bath get?"
    return Words(
        title,
        WAITS,
        f"{title} Empty axes: how fast it is warmed and cooled, over its temperature; the warmest "
        "of the hour after. Two vessels, side by side and to scale: the flat tray, "
        f"{vessel_words(FLAT)}, and one {vessel_words(depth)}. The answer appears when you have "
        "predicted.",
    )


def answer_words(hour: Hour, depth: float, guess: float | None = None) -> Words:
    """Say how warm a used bath gets at a depth.

    Parameters
    ----------
    hour : Hour
        The bath.
    depth : float
        How deep it lies [mm].
    guess : float, optional
        What the hollow bar stands for, where one is drawn [K].

    Returns
    -------
    Words
        Warmest in the hour after [°C], and how fast it is warmed and cooled [°C a minute].
    """
    here, tray = hour.peak(depth), hour.peak(FLAT)
    out = float(hour.out.middle)
    made, lost = hour.made_at(out), hour.lost_at(out, depth)
    title = title_words(hour, depth)
    readout = (
        f"{vessel_words(depth).capitalize()}: {ends(hour, depth)} in the hour after; "
        f"{hour.too_warm(depth)} of {here.values.size} plausible baths exceed "
        f"{degrees_words(stop())}. "
    )
    if depth != FLAT:
        readout += f"Flat tray: {ends(hour, FLAT)}; {hour.too_warm(FLAT)} of {tray.values.size}. "
    readout += (
        f"At {degrees_words(out)}, board out, it is warmed by {per_minute(made)} and cooled by "
        f"{lost * minute:.2f}."
    )
    parts = hour.parts_at(depth)
    if parts is not None:
        readout += f" From {degrees_words(parts)} on it would warm itself."
    mark = ""
    if guess is not None:
        mark = f" Your prediction, {degrees_words(guess)}, is a hollow bar."
    tray_course = ""
    # a shallower bath is drawn without the tray's curve, which lies too near
    if depth > FLAT:
        tray_course = f"; lost by the flat tray {course_words(lambda T: hour.lost_at(T, FLAT))}"
    cold, warm = ENDS
    alt = (
        f"{title}. {NAMES[hour.bottles].capitalize()}. Curves over the temperature of the bath, in "
        f"°C a minute, {cold:g} to {warm:g} °C: heat made rises {course_words(hour.made_at)}; heat "
        f"lost {vessel_words(depth)} {course_words(lambda T: hour.lost_at(T, depth))}"
        f"{tray_course}. "
        "Bars of the warmest in the hour after, 8 of 10 plausible baths and the middle, with a "
        f"line at {degrees_words(stop())}: too warm. Under them the vessels, to scale.{mark} "
        f"{readout}"
    )
    return Words(title, readout, alt)


def title_words(hour: Hour, depth: float, short: bool = False) -> str:
    """Say the finding at a depth: how warm the middle bath gets there and in its tray.

    Parameters
    ----------
    hour : Hour
        The bath.
    depth : float
        How deep it lies [mm].
    short : bool
        In two lines, for a telephone.
    """
    here, tray = whole(float(hour.peak(depth).middle)), whole(float(hour.peak(FLAT).middle))
    only = "Drawn only. " if hour.bottles == STRONG else ""
    deep = vessel_words(depth).capitalize()
    comma = ",\n" if short else ", "
    if depth == FLAT:
        return f"{only}In its flat tray the used bath gets{comma[-1]}to {tray} °C, in the middle"
    if here == tray:
        return f"{only}{deep} or in the flat tray: {tray} °C"
    gets = "it gets" if short else "the used bath gets"
    return f"{only}{deep} {gets} to {here} °C{comma}in the flat tray {tray}"


def ends(hour: Hour, depth: float) -> str:
    """Say the band of the warmest at a depth [mm]: "27 to 59 °C, middle 42"."""
    peak = hour.peak(depth)
    return f"{degrees(peak)}, middle {whole(float(peak.middle))}"


def course_words(pace: Callable[[float], float]) -> str:
    """Say how a curve [K/s] rises, in °C a minute: "from 0.25 to 1.77"."""
    first, last = (pace(float(celsius(end))) * minute for end in ENDS)
    return f"from {first:.2f} to {last:.2f}"
