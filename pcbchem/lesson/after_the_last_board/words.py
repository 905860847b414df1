"""What is said of the rest: title, sentence and picture in words, from the same numbers."""

from __future__ import annotations

import dataclasses

from ...common.number_words import figures
from .numbers import (
    DEATHS,
    EVERY,
    LITTLE,
    MILD,
    MUCH,
    PH_HIGH,
    STRONG,
    WEAK,
    CopperLeft,
    Left,
    total_copper,
)

NAMES = {MILD: "mild bottles", WEAK: "weak bottles", STRONG: "strong bottles"}
"""What the pairs of bottles are called."""
TIME_WORDS = {
    "1h": "1 hour",
    "12h": "12 hours",
    "1d": "1 day",
    "3d": "3 days",
    "1w": "1 week",
    "4w": "4 weeks",
    "8w": "8 weeks",
}
"""How the times to choose from are said."""
SODA_WORDS = {LITTLE: "a little baking soda", MUCH: "a good deal of baking soda"}
"""How soda left over is said."""
WAITS = "Predict first: then the answer appears here."
RULE = "It is never closed up, whatever a strip reads."
"""The last sentence under the first picture, whatever the counts."""
STILL_WASTE = "It is waste for the site, whatever limit you read."
"""The last sentence under the second one, whatever the copper."""
BEFORE = "The board is out, the bath stands open:", "when is its peroxide gone?"
BEFORE_COPPER = "Neutral and clear:", "how much copper is left in the water?"
"""Titles before a prediction, in two parts."""


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: the finding over it in two parts, the live sentence, all in words."""

    first: str
    second: str
    readout: str
    picture: str

    @property
    def title(self) -> str:
        """The finding in one line."""
        return f"{self.first} {self.second}"

    @property
    def lines(self) -> str:
        """The finding in two lines, for a telephone."""
        return f"{self.first}\n{self.second}"

    @property
    def alt(self) -> str:
        """The picture in words, with all that is said of it."""
        return f"{self.title}. {self.picture} {self.readout}".replace("?.", "?")


def milligrams_words(amount: float) -> str:
    """Write what a litre holds [kg/m³ in] in mg/L, without the unit, to two figures.

    Examples
    --------
    >>> print(milligrams_words(0.00052), milligrams_words(5.4949))
    0.52 5500
    """
    return figures(1000 * amount)


def times_words(ratio: float) -> str:
    """Write how many times as much [-] in two figures: "22 times"."""
    return f"{figures(ratio)} times"


def peroxide_question() -> Words:
    """Say the first question, and nothing of its answer."""
    return Words(
        *BEFORE,
        WAITS,
        "Empty axes: peroxide left over the time since the board came out, with a grey "
        "stripe under 1 mg/L, where it counts as gone. Beside them 200 empty squares, one for "
        "each plausible bath.",
    )


def peroxide_words(left: Left, time: str, guess: str = "") -> Words:
    """Say what becomes of the peroxide.

    Parameters
    ----------
    left : Left
        Of one pair of bottles.
    time : str
        Key of a time.
    guess : str
        What the bracket stands for, where one is drawn.
    """
    nothing, still = left.nothing(time), left.still(time)
    when = TIME_WORDS[time]
    only = "Drawn only. " if left.bottles == STRONG else ""
    title = f"{only}{when} later:", f"still peroxide in {still} of {left.total} plausible baths"
    readout = (
        f"{when} after the board ({NAMES[left.bottles]}): peroxide gone in {nothing} of "
        f"{left.total} plausible baths; {still} still hold it and go on giving gas. {RULE}"
    )
    mark = f" Your prediction, “{guess}”, is a bracket." if guess else ""
    low, middle, high = (
        span_words(float(getattr(left.gone, end))) for end in ("low", "middle", "high")
    )
    picture = (
        f"Peroxide left, from {milligrams_words(float(left.start.middle))} mg/L down, over the "
        f"time since the board came out, both axes in powers of ten: {left.drawn.size} lines, "
        f"every {EVERY}th bath. They fall into a grey stripe, under 1 mg/L, in which it counts as "
        f"gone: one in ten within {low}, half within {middle}, one in ten only after {high}. An "
        f"upright line at {when}. Beside it {left.total} squares: {nothing} hollow, peroxide "
        f"gone; {still} filled, still peroxide.{mark}"
    )
    return Words(*title, readout, picture)


def span_words(seconds: float) -> str:
    """Write a long time [s in] as people do: "9 hours", "6 days", "11 weeks".

    Examples
    --------
    >>> print(span_words(32000), "|", span_words(5.2e5), "|", span_words(7.1e6))
    9 hours | 6 days | 12 weeks
    """
    hours = seconds / 3600
    if hours < 36:
        return f"{hours:.0f} hours"
    if hours < 24 * 21:
        return f"{hours / 24:.0f} days"
    return f"{hours / 24 / 7:.0f} weeks"


def copper_question() -> Words:
    """Say the second question, and nothing of its answer."""
    return Words(
        *BEFORE_COPPER,
        WAITS,
        "Empty axes: copper still dissolved in the water, in powers of ten, "
        f"over pH. A short line at {milligrams_words(total_copper())} mg/L, as it came out of the "
        f"tray, and a dashed one at {milligrams_words(DEATHS)}, which kills half of the water "
        "fleas.",
    )


def copper_words(left: CopperLeft, pH: float, guess: str = "") -> Words:
    """Say how much copper stays in the clear water.

    Parameters
    ----------
    left : CopperLeft
        With so much soda left over.
    pH : float
        Where the slider stands [-].
    guess : str
        What the hollow mark stands for, where one is drawn.
    """
    aged, fresh = left.at(pH)
    whole, deaths = milligrams_words(left.total), milligrams_words(DEATHS)
    soda = f"{SODA_WORDS[left.soda]} left over"
    least, most = aged / DEATHS, fresh / DEATHS
    if aged >= left.total:
        title = f"pH {pH:g}: nothing has fallen out,", f"all {whole} mg/L are still dissolved"
        held = f"nothing falls out: all {whole} mg/L of copper are still dissolved"
    else:
        title = (
            f"pH {pH:g}: at least {times_words(least)}",
            "the copper that kills half of the water fleas",
        )
        held = (
            f"of {whole} mg/L of copper {milligrams_words(aged)} stay dissolved over aged mud, "
            f"{milligrams_words(fresh)} over fresh mud"
        )
    readout = f"pH {pH:g}, {soda}: {held}. "
    if aged >= left.total:
        readout += (
            f"That is {times_words(least)} the {deaths} that kill half of the water fleas. "
            f"{STILL_WASTE}"
        )
    else:
        readout += (
            f"That is {figures(least)} to {times_words(most)} the {deaths} that kill half of the "
            f"water fleas. {STILL_WASTE}"
        )
    mark = f" Your prediction, “{guess}”, is a hollow mark." if guess else ""
    ends = " to ".join(milligrams_words(end) for end in left.at(PH_HIGH))
    picture = (
        f"Copper still dissolved in the water over pH, in powers of ten: flat at "
        f"{whole} mg/L in acid, then falling from pH {left.onset[0]:.1f} (aged mud) or "
        f"{left.onset[1]:.1f} (fresh mud), a band between the two; at pH {PH_HIGH:g} {ends} mg/L. "
        f"A dashed line at {deaths} mg/L lies under all of it.{mark}"
    )
    return Words(*title, readout, picture)
