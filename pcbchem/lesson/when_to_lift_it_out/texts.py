"""What page 07 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

import numpy as np

from ...common.units import minute, mL_per_cm2, mm, um
from ..workshop import USUAL
from .numbers import (
    DRAWN,
    FACTOR,
    FIRST_LOOK,
    LEFT_IN,
    LONG,
    LOOKS_EVERY,
    MILD,
    ONLY_DRAWN,
    OUNCES,
    TOO_LONG,
    UNEVEN_BOARD,
    course,
    found_later,
    looked_at,
    lost_lines,
    on_time,
    over_resist,
    reported,
    thickness,
    to_draw,
)
from .words import NAMES, OUNCE_WORDS, band_words, width_words

QUARTER = 0.25
"""Over-etch of the example of a factor that is measured afterwards [-]."""
WHOSE = {
    "rocked": ("ours, a rocked tray", "a guess, at first clearing"),
    "photo_etching": ("photo-etching trade", "published, on the finished part"),
    "general_boards": ("board trade", "published, on the finished board"),
}
"""Rows of the table of factors, by their key in `etch_factor`: whose, and how it is known."""


@cache
def why(name: str = MILD) -> str:
    """Say why the perfect moment costs so much, for one of the baths, and reckon it by hand."""
    bath, pace = course(name), course(name).pace
    # m/s to µm/min
    digits = 0 if pace.middle * minute > 5 * um else 1
    low, middle, high = (
        f"{float(end) * minute / um:.{digits}f}" for end in (pace.low, pace.middle, pace.high)
    )
    evenly = "The first costs about as much as the last."
    if name == "weak":
        evenly = "That is a mean."
    drawn, left = width_words(DRAWN, 2), width_words(float(on_time().middle))
    cost = (DRAWN - float(on_time().middle)) / um
    return (
        "**Why.** A bath eats sideways too, from both edges, from the first second. "
        f"Each minute in the {NAMES[name]} costs {middle} µm of width ({low} to {high}). {evenly} "
        f"To the second it is {left} mm: *the perfect moment costs {cost:.0f} µm, a minute "
        f"too long {middle} more.* In this model the foot is still {drawn} mm wide then, and the "
        "foot is what "
        "you see from above. Nobody knows every number of a bath: the page tries "
        f"{bath.clear.values.size} *plausible baths*, and 8 of 10 lie in the "
        f"band.{of_bath(name)}\n\n"
        f"{by_hand()}\n\n"
        f"{sources()}"
    )


def of_bath(name: str) -> str:
    """Say what is special of a bath that is not the mild one."""
    if name == MILD:
        return ""
    if name == "weak":
        count = course(name).clear.values.size
        return (
            " This bath slows down as it is used up: here the line is a mean, and a minute too "
            "long costs less. "
            f"{over_resist(LONG)} of {count} need more than {LONG / minute:g} min, "
            f"{over_resist(TOO_LONG)} more than {TOO_LONG / minute:g}. Resist stands a cool bath "
            f"{LONG / minute:g} to {TOO_LONG / minute:g} min (common practice): it sets the time."
        )
    if name == ONLY_DRAWN:
        return " Faster down is faster sideways: only a minute too long costs more here."
    return " Slower down is slower sideways: only a minute too long costs less here."


def by_hand() -> str:
    """Reckon the width to the second from the middle factor, each step from printed numbers."""
    foil, drawn = round(thickness() / um), round(DRAWN / um)
    each = round(foil / FACTOR, 1)
    both = round(2 * each, 1)
    return (
        f"**By hand**, {FACTOR:g} times as fast down as sideways: {foil} ÷ {FACTOR:g} = {each:.1f} "
        f"µm at each edge. Two edges: 2 × {each:.1f} = {both:.1f} µm. Left: {drawn} − {both:.1f} = "
        f"{drawn - both:.1f} µm."
    )


def sources() -> str:
    """Say where the numbers come from, published factors beside ours, in Markdown."""
    rows = "\n".join(factor_row(case) for case in WHOSE)
    return (
        "**Where the numbers come from.** Depth over sideways is the *etch factor*.\n\n"
        "| whose | factor | left of 0.20 mm | how it is known |\n"
        "|---|---|---|---|\n"
        f"{rows}\n\n"
        "What differs: industry mostly sprays (from memory); that reaches down better. A factor "
        "measured on the "
        f"finished part comes out lower: with {100 * QUARTER:.0f} % of over-etch our {FACTOR:g} "
        f"reads {found_later(QUARTER):g}. So theirs at first clearing are higher still. "
        "For a trace ours is the careful side.\n\n"
        "The minutes are the model's, its pace taken as even. The wall is a quarter ellipse."
    )


def factor_row(case: str) -> str:
    """Return one row of the table of factors, in Markdown."""
    row, (whose, known) = reported(case), WHOSE[case]
    return (
        f"| {whose} | {row.low:g} to {row.high:g} | {width_words(row.left_low)} to "
        f"{width_words(row.left_high)} mm | {known} |"
    )


@cache
def read_inspection() -> str:
    """Say how to pull a board and what to look for, in Markdown."""
    even, uneven = looked_at(), looked_at(UNEVEN_BOARD)
    first, last = (float(end) / minute for end in (uneven.time.low, uneven.time.high))
    return (
        "**How to pull it.** The quick end of *board clear* is "
        f"{float(course().clear.low) / minute:.1f} min: look first at half of it, after "
        f"{half_minutes(FIRST_LOOK / minute)} min, then every {LOOKS_EVERY:.0f} s or so. Looked at "
        "so, "
        f"the board comes out {float(even.seconds.low):.0f} to {float(even.seconds.high):.0f} s "
        f"late, with {width_words(float(even.left.middle))} mm. Boards clear unevenly, the last "
        "place 10 to 30 % later than the first (common practice). With "
        f"{100 * UNEVEN_BOARD:.0f} % it comes out after {first:.1f} to {last:.1f} min, and "
        f"{width_words(float(uneven.left.middle))} mm is left where it cleared first.\n\n"
        "Each time rinse it in a dish beside the tray. Look with the resist on, against the sky or "
        "a battery lamp, goggles on. Copper between traces: back in, "
        f"if below 45 °C and within {TOO_LONG / minute:g} min; resist stands {LONG / minute:g} to "
        f"{TOO_LONG / minute:g} min (common practice). Resist off only when rinsed and dry, far "
        "from the bath: acetone with bath in it can form an explosive.\n\n"
        "| fault | what you see | what to do |\n"
        "|---|---|---|\n"
        "| haze: thin copper left | a stain between traces; light shows it | back in, as above |\n"
        "| bridge | a hair that joins two traces | resist off, dry: a knife |\n"
        "| cut | a gap across a trace | resist off, dry: solder |"
    )


def half_minutes(minutes: float) -> str:
    """Write minutes with a half as people do: "1½" [min]."""
    whole, rest = divmod(minutes, 1)
    return f"{whole:g}½" if rest == 0.5 else f"{minutes:g}"


@cache
def read_foils() -> str:
    """Say why thin foil leaves more, and what to draw, in Markdown."""
    thin, thick = course(MILD, 0.5), course()
    loss = {weight: (DRAWN - float(on_time(weight).middle)) / um for weight in OUNCES}
    losses = ", ".join(f"{loss[weight]:.0f} µm on {OUNCE_WORDS[weight]}" for weight in OUNCES)
    late = np.asarray(thin.loss.values + thin.pace.values * minute)
    wider = int(np.sum(late < thick.loss.values))
    count = f"all {late.size}" if wider == late.size else f"{wider} of {late.size}"
    return (
        "**A minute costs about the same on any foil**: it is the bath's. The etch itself costs "
        f"{losses}. In {count} plausible baths ½ oz is the wider one, whatever the factor is: both "
        "have the same. So fine traces want thin foil, or to be drawn wider. "
        f"To get {width_words(DRAWN, 2)} mm on 1 oz, half a minute late, draw "
        f"{width_words(float(to_draw().middle), 2)} mm ({band_words(to_draw())})."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: the teacher alone etches an offcut.
    """
    offcut = etch_an_offcut()
    if school:
        offcut = "A class tries nothing here: only the teacher may, away from the class."
    return (
        f"## What would prove it wrong\n\n{offcut}\n\n"
        "## What you can now say\n\n"
        "- The trace pays for every minute in the bath, the first about as much as the last.\n"
        "- So I look early and often, draw fine traces wider, and take thin foil.\n"
        "- How much it pays hangs on a factor that I can only guess. Next: [offcuts]"
        "(08_test_an_offcut.ipynb); for your own board [the planner](00_plan_a_bath.ipynb)."
    )


def etch_an_offcut() -> str:
    """Say what lines on an offcut should do, its cautions first, in Markdown."""
    lines, count = lost_lines(), course().clear.values.size
    low, high = (float(end) * LEFT_IN / mm for end in (course().pace.low, course().pace.high))
    room = USUAL / mL_per_cm2
    drawn = [f"{line / mm:.2f}" for line in lines]
    lost = [str(number or "none") for number in lines.values()]
    return (
        "This is an etching like any other: first [the cautions](reference/cautions.md) and the "
        "planner; in a class the teacher alone, away from it. An offcut in the mild bath, "
        f"{room:.1f} mL per cm², has lines drawn {listed(drawn)} mm. First clear, all four must "
        f"stand. After {LEFT_IN / minute:g} min they are lost in {listed(lost)} of {count} "
        f"plausible baths. The {drawn[2]} mm one has lost {low:.2f} to {high:.2f} mm (8 of 10). "
        f"Far less, a line gone at first clearing, or the {drawn[-1]} mm one at the end: the page "
        "is wrong, or your resist let go."
    )


def listed(words: list[str]) -> str:
    """Write words one after the other: "a, b and c"."""
    return f"{', '.join(words[:-1])} and {words[-1]}"
