"""What is said of a used bath in its hour after: title, sentence and picture in words."""

from __future__ import annotations

from functools import partial

from ...common.number_words import degrees
from ...common.units import celsius, minute, to_celsius
from ...page.picture import Words
from .numbers import COLDEST, FLAT, MILD, STRONG, WEAK, Hour, stop

NAMES = {MILD: "mild bottles", WEAK: "weak bottles", STRONG: "strong bottles, drawn only"}
"""What the pairs of bottles are called."""
WARM = 40.0
"""Up to this temperature [°C] a curve is said in words."""
WAITS = "Predict first: then the answer appears here."


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
        Warmest in the hour after [°C], and the curves [°C a minute].
    """
    here, tray = hour.peak(depth), hour.peak(FLAT)
    title = title_words(hour, depth)
    readout = (
        f"{vessel_words(depth).capitalize()}: the middle bath gets to {ends(hour, depth)}; "
        f"{hour.too_warm(depth)} of {here.values.size} exceed {degrees_words(stop())}."
    )
    if depth != FLAT:
        readout += f" Flat tray: {ends(hour, FLAT)}; {hour.too_warm(FLAT)} of {tray.values.size}."
    if hour.bottles == WEAK:
        readout += " Open and flat all the same: it gives off gas."
    parts = hour.parts_at(depth)
    if parts is not None:
        readout += f" From {degrees_words(parts)} on it would warm itself."
    mark = ""
    if guess is not None:
        mark = f" Your prediction, {degrees_words(guess)}, is a hollow bar."
    # the curve of heat made ends where the bath can get no warmer
    cold, warm = COLDEST, min(WARM, float(to_celsius(hour.highest)))
    rises = [
        f"{pace(float(celsius(cold))) * minute:.2f} to {pace(float(celsius(warm))) * minute:.2f}"
        for pace in (
            hour.made_at,
            partial(hour.lost_at, depth=depth),
            partial(hour.lost_at, depth=FLAT),
        )
    ]
    curves = f"heat made {rises[0]}; heat lost {vessel_words(depth)} {rises[1]}"
    # a shallower bath is drawn without the tray's curve, which lies too near
    if depth > FLAT:
        curves += f"; lost by the flat tray {rises[2]}"
    other = "half of heat made, with half of the peroxide gone"
    if hour.bottles == WEAK:
        other = "heat made by the mild bottles, of 12 % peroxide"
    alt = (
        f"{title}. {NAMES[hour.bottles].capitalize()}. Curves that rise with the temperature of "
        f"the bath, from {cold:.0f} to {warm:.0f} °C, in °C a minute: {curves}. A dotted one: "
        f"{other}. Bars of the warmest in the hour after, 8 of 10 plausible baths and the middle, "
        f"with a line at {degrees_words(stop())}: too warm. Under them the vessels, to "
        f"scale.{mark} {readout}"
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
    if hour.bottles == WEAK:
        return f"Weak bottles: it only cools from {tray} °C{comma}deep or flat, and gives off gas"
    if depth == FLAT:
        count, stop_words = hour.too_warm(FLAT), whole(stop())
        total = hour.warmest.shape[-1]
        return (
            f"{only}Flat tray: {tray} °C in the middle{comma}{count} of {total} exceed {stop_words}"
        )
    if here == tray:
        return f"{only}{deep} or in the flat tray: {tray} °C"
    gets = "it gets" if short else "the used bath gets"
    return f"{only}{deep} {gets} to {here} °C{comma}in the flat tray {tray}"


def ends(hour: Hour, depth: float) -> str:
    """Say the warmest at a depth [mm] with its band: "42 °C (8 of 10: 27 to 59 °C)"."""
    peak = hour.peak(depth)
    return f"{degrees_words(float(peak.middle))} (8 of 10: {degrees(peak)})"
