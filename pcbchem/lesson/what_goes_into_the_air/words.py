"""What is said of the air: title, live sentence and picture in words, from the same numbers."""

from __future__ import annotations

from ...bench.air import PPM
from ...common.band import Band
from ...common.units import minute, mL
from ...page.picture import Words, in_one_line
from .numbers import (
    BATH_PERCENT,
    BATH_TIME,
    BOTTLE_TIME,
    DANGER,
    FAN,
    MOMENT,
    OPEN_AIR,
    SMELL,
    SPILL_TIME,
    SPILT,
    Breathed,
    breathed,
    chlorine_at_most,
    limit,
    over_liquid,
    room_volume,
)

PLACE_WORDS = {
    "shut room": "Shut room of 30 m³",
    "shut garage": "Shut garage of 60 m³",
    "window and fan": "Window and fan, 30 m³",
    "open air": "Open air",
}
"""How a sentence begins, by place."""
RULE = "Work in the open air or in a working fume cupboard."
"""The last sentence under every picture, whatever its numbers are."""
LEAVE = "Leave such a spill, upwind, and keep others out."
"""Said wherever the spill is over a line."""
UPWIND = (
    "There too: upwind, never lean over it; downwind, near the ground, it is ten times as much and "
    "more."
)
"""Said of the open air."""
UNKNOWN = "chlorine, mist"
NOBODY = "nobody has measured this"
"""The fourth row, and what stands in it."""
NOT_HERE = f"Not in these numbers: mist, opening, pouring, chlorine; {NOBODY}."
BEFORE = "Bath, open bottle, spill: which fills the air most?"
BEFORE_MILD = "Acid of 10 % instead: which gives most now, which least?"
"""Titles before a prediction."""
WAITS = "Predict first: then the answer appears here."
ROWS = (
    f"the workshop's bath,\n{BATH_PERCENT} % acid, {BATH_TIME / minute:g} min open",
    f"acid bottle left open\n{BOTTLE_TIME / minute:g} min, not poured",
    f"{SPILT / mL:g} mL of it spilt,\nfor {SPILL_TIME / minute:g} min",
    "chlorine, mist\nof any bath",
)
"""Names of the rows, from top to bottom."""
LINE_WORDS = {
    DANGER: "dangerous at once",
    MOMENT: "the limit for a moment",
    SMELL: "where some smell it",
}
"""What a sentence calls each upright line, the highest first."""
THOUSANDS = "\u202f"
"""Stands between thousands: a narrow space, where no line ends."""


def two_figures(value: float) -> str:
    """Write a number [any unit] to two figures, a narrow space between thousands from 10 000 on.

    Examples
    --------
    >>> print(two_figures(0.2213), two_figures(1.8e-6), two_figures(1960))
    0.22 0.0000018 2000
    """
    rounded = float(f"{value:.2g}")
    if rounded >= 10_000:
        return f"{rounded:,.0f}".replace(",", THOUSANDS)
    if rounded >= 10:
        return f"{rounded:.0f}"
    # "g" alone would write 1.8e-06
    return f"{rounded:.8f}".rstrip("0").rstrip(".")


def ppm_words(share: float) -> str:
    """Write a share of the air [mol/mol] in ppm, without the unit."""
    return two_figures(share / PPM)


def band_words(band: Band) -> str:
    """Write both ends of a band of shares [mol/mol] in ppm: "42 to 110"."""
    return f"{ppm_words(float(band.low))} to {ppm_words(float(band.high))}"


def times_words(band: Band) -> str:
    """Write how many times as much it is as the bath, in the middle [-].

    Examples
    --------
    >>> print(times_words(Band.of([112.0], 1)), times_words(Band.of([0.024], 1)))
    110 times 1/42
    """
    times = float(band.middle)
    if times >= 1:
        return f"{two_figures(times)} times"
    return f"1/{two_figures(1 / times)}"


def times_clause(air: Breathed) -> str:
    """Say what bottle and spill of an acid give over what the bath gives, as a title begins."""
    of_bath = "of" if float(air.bottle_times.middle) < 1 else "times"
    bottle = times_words(air.bottle_times).removesuffix(" times")
    spill = times_words(air.spill_times)
    return f"{air.acid:g} %: bottle about {bottle} {of_bath} the bath, spill {spill}"


def spill_words(air: Breathed) -> str:
    """Say which line the spill goes over, the highest that any case reaches; else nothing."""
    for kind, name in LINE_WORDS.items():
        line = limit(kind).value
        count = air.spill_over(line)
        if count:
            # fewer cases than in the shut room must not read as less danger
            fan = "; window and fan do not end that" if air.place == FAN else ""
            over = f"the spill is over {ppm_words(line)}, {name}{fan}"
            return f"In {count} of {air.cases} cases {over}. {LEAVE} "
    return ""


def chlorine_words(place: str) -> str:
    """Say how much chlorine there would be if all acid of the bath became it [ppm]."""
    room = "a shut room of " if place == OPEN_AIR else ""
    return (
        f"All the bath's acid as chlorine: {ppm_words(chlorine_at_most(place))} ppm in "
        f"{room}{room_volume(place):g} m³; dangerous at once from "
        f"{ppm_words(limit(DANGER, 'Cl2').value)}."
    )


def ceiling_words(place: str) -> str:
    """Name the mark of that much chlorine in the picture [ppm]."""
    return (
        f"all its acid as chlorine: {ppm_words(chlorine_at_most(place))} in "
        f"{room_volume(place):g} m³,\ndangerous at once from "
        f"{ppm_words(limit(DANGER, 'Cl2').value)}"
    )


def lines_words() -> str:
    """Describe the upright lines."""
    smell, moment, danger = (ppm_words(limit(kind).value) for kind in (SMELL, MOMENT, DANGER))
    return (
        f"Upright lines: dotted, some smell it, about {smell}; dashed, the limit for a moment, "
        f"{moment}; full, dangerous at once, {danger}. A fourth row "
        f"is hatched from end to end: {UNKNOWN}; {NOBODY}."
    )


def question_words(is_mild: bool = False) -> Words:
    """Say the question of a panel, and nothing of its answer."""
    title = BEFORE_MILD if is_mild else BEFORE
    names = ", ".join(in_one_line(name) for name in ROWS[:-1])
    alt = (
        f"{title} Three empty rows on an axis of acid gas half a metre away, at its highest "
        f"moment, in ppm: {names}. {lines_words()} {WAITS}"
    )
    return Words(title, f"{WAITS} {RULE}", alt)


def answer_words(acid: float, place: str, guess: str = "") -> Words:
    """Say what is in the air near somebody.

    Parameters
    ----------
    acid : float
        In the bottle, and spilt [% by weight].
    place : str
        Where: one of `PLACES`.
    guess : str
        What the hollow marks stand for, where some are drawn.
    """
    air = breathed(acid, place)
    rule = "Stay upwind" if place == OPEN_AIR else "Work outdoors"
    title = f"{times_clause(air)}. {rule}"
    bath, bottle, spill = (ppm_words(float(row.middle)) for row in air.rows)
    outdoors = f"{UPWIND} " if place == OPEN_AIR else ""
    readout = (
        f"{PLACE_WORDS[place]}, highest moment: bath {bath} ppm (and "
        f"{ppm_words(float(air.peroxide.middle))} of peroxide), bottle of "
        f"{acid:g}\u00a0% {bottle} "
        f"(right over it {ppm_words(over_liquid(acid))}), spill about {spill} "
        f"({band_words(air.spill)} in 8 of 10 cases). {spill_words(air)}{NOT_HERE} "
        f"{chlorine_words(place)} {outdoors}{RULE}"
    )
    rows = ", ".join(
        f"{name} {ppm_words(float(row.middle))} ({band_words(row)})"
        for name, row in zip(("the bath", "the bottle", "the spill"), air.rows, strict=True)
    )
    marks = f" Your prediction, {guess}, is two hollow diamonds." if guess else ""
    alt = (
        f"{title}. Acid gas half a metre away, at its highest moment, in ppm, on an axis where "
        f"equal steps are equal factors; a dot each, in a bar of 8 in 10 cases: {rows}. "
        f"{lines_words()} An open triangle in it: {in_one_line(ceiling_words(place))}. It "
        f"points to where there is less.{marks} {readout}"
    )
    return Words(title, readout, alt)
