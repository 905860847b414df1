"""What is said of the air: title, live sentence and picture in words, from the same numbers."""

from __future__ import annotations

import dataclasses

from ...bench.air import PPM
from ...common.band import Band
from ...common.units import minute, mL
from .numbers import (
    BATH_TIME,
    BOTTLE_TIME,
    DANGER,
    MOMENT,
    OPEN_AIR,
    SMELL,
    SPILL_TIME,
    SPILT,
    Breathed,
    breathed,
    limit,
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
UPWIND = (
    "There too: upwind, head out of it; downwind, near the ground, it is ten times as much and "
    "more."
)
"""Said of the open air."""
UNKNOWN = "chlorine, mist, a bath run hot"
NOBODY = "nobody has measured this"
"""The fourth row, and what stands in it."""
NOT_HERE = f"Not in these numbers: {UNKNOWN}; {NOBODY}. Nor opening a warm bottle, nor pouring."
BEFORE = "Bath, open bottle, spill: which fills the air most?"
BEFORE_MILD = "Acid of 10 % instead: which gives most now, which least?"
"""Titles before a prediction."""
WAITS = "Predict first: then the answer appears here."
ROWS = (
    f"the etching bath,\n{BATH_TIME / minute:g} min open",
    f"acid bottle left open\n{BOTTLE_TIME / minute:g} min, not poured",
    f"{SPILT / mL:g} mL of it spilt,\nfor {SPILL_TIME / minute:g} min",
    "chlorine, mist,\na bath run hot",
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


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: the finding over it, the live sentence, the picture in words."""

    title: str
    readout: str
    alt: str


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
    """Say what bottle and spill give over what the bath gives, as a title begins."""
    of_bath = "of" if float(air.bottle_times.middle) < 1 else "times"
    bottle = times_words(air.bottle_times).removesuffix(" times")
    spill = times_words(air.spill_times)
    return f"Bottle: {bottle} {of_bath} the bath's acid gas, spill: {spill}"


def spill_words(air: Breathed) -> str:
    """Say which line the spill goes over, the highest that the band reaches; else nothing."""
    for kind, name in LINE_WORDS.items():
        line = limit(kind).value
        count = air.spill_over(line)
        if air.spill.high > line:
            return (
                f"The spill is over {ppm_words(line)} ppm, {name}, in {count} of {air.cases} "
                "plausible cases. "
            )
    return ""


def peroxide_words(air: Breathed) -> str:
    """Say how much peroxide the bath gives, beside its acid gas [ppm]."""
    times = two_figures(float(air.peroxide_times.middle))
    ppm = ppm_words(float(air.peroxide.middle))
    return f"The bath gives {ppm} ppm of peroxide too, without smell: {times} times its acid gas."


def lines_words() -> str:
    """Describe the upright lines."""
    smell, moment, danger = (ppm_words(limit(kind).value) for kind in (SMELL, MOMENT, DANGER))
    return (
        f"Upright lines: dotted, you smell it, about {smell}; dashed, the limit for a moment, "
        f"{moment}; full, dangerous at once, {danger}. A fourth row "
        f"is hatched from end to end: {UNKNOWN}; {NOBODY}."
    )


def question_words(is_mild: bool = False) -> Words:
    """Say the question of a panel, and nothing of its answer."""
    title = BEFORE_MILD if is_mild else BEFORE
    names = ", ".join(name.replace("\n", " ") for name in ROWS[:-1])
    alt = (
        f"{title} Three empty rows on an axis of acid gas at most, half a metre away, in ppm: "
        f"{names}. {lines_words()} {WAITS}"
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
    title = f"{times_clause(air)}. Work outdoors"
    bath, bottle, spill = (ppm_words(float(row.middle)) for row in air.rows)
    outdoors = f"{UPWIND} " if place == OPEN_AIR else ""
    readout = (
        f"{PLACE_WORDS[place]}, acid of {acid:g} %: at most bath {bath} ppm, bottle {bottle}, "
        f"spill {spill} ({band_words(air.spill)}). {spill_words(air)}{peroxide_words(air)} "
        f"{NOT_HERE} {outdoors}{RULE}"
    )
    rows = ", ".join(
        f"{name} {ppm_words(float(row.middle))} ({band_words(row)})"
        for name, row in zip(("the bath", "the bottle", "the spill"), air.rows, strict=True)
    )
    marks = f" Your prediction, {guess}, is two hollow diamonds." if guess else ""
    alt = (
        f"{title}. Acid gas at most, half a metre away, in ppm, on an axis where equal steps are "
        f"equal factors; a dot each, in a bar of 8 in 10 plausible cases: {rows}. {lines_words()}"
        f"{marks} {readout}"
    )
    return Words(title, readout, alt)
