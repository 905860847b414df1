"""What page 09 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

from ...bench.air import PPM
from ...common.band import Band
from ...common.units import cm, gram, hour, mL, mm, percent
from .numbers import (
    ACIDS,
    DANGER,
    DISH,
    DISH_TIME,
    EMPTY,
    FAN,
    LARGE_TRAY,
    LITTLE_SPILT,
    MILD_ACID,
    MOMENT,
    NECK,
    OPEN_AIR,
    OVER_ACIDS,
    SHUT_ROOM,
    SMELL,
    STRONG,
    WATER,
    breathed,
    chlorine_at_most,
    each_step,
    in_this_order,
    large_tray,
    least_at_work,
    less_than_at_first,
    less_with_mild_acid,
    limit,
    little_spill,
    over_liquid,
    room_volume,
    spilt_acid,
    weighed,
    weight_of_ppm,
)
from .words import band_words, chlorine_words, ppm_words, two_figures

MILLIGRAM = 1e-3 * gram
"""One milligram [kg]."""


@cache
def why() -> str:
    """Say why the strong acid gives most, what a fan does, and what is not known, in Markdown."""
    rows = "\n".join(f"| {acid:g} % | {ppm_words(over_liquid(acid))} |" for acid in OVER_ACIDS)
    fan, outdoors = less_than_at_first(FAN), less_than_at_first(OPEN_AIR)
    outside = breathed(STRONG, OPEN_AIR)
    return (
        "**Why.** Right over acid at 20 °C the air holds:\n\n"
        f"| acid | ppm |\n|---|---|\n{rows}\n\n"
        f"*Each 5 % more is about {each_step():.0f} times as much*: over {STRONG:g} % "
        f"{two_figures(over_liquid(STRONG) / over_liquid(MILD_ACID))} times what is over "
        f"{MILD_ACID:g} %, not three times. The bath is wide and warm, but "
        "thin; the spill strong and wide.\n\n"
        "**The bottle** gives so little half a metre away as the air in its neck is still. "
        "*One breath over acid of 25 % and more can burn the lungs.*\n\n"
        f"**A fan.** Draughts differ: the page tries {outside.cases} cases. "
        f"Window and fan make the spill {times_less(fan)}: it is breathed before the room's air "
        f"has changed. The open air makes it {times_less(outdoors)}; downwind, near the ground, "
        f"ten times and more come back. {LITTLE_SPILT / mL:g} mL spilt give "
        f"{ends_words(little_spill())} in the shut room.\n\n"
        f"{peroxide()}\n\n"
        f"**Chlorine and mist.** {chlorine_words(SHUT_ROOM)} How much it makes nobody has "
        "measured, nor the mist of its bubbles, which may outweigh its gas. So no number "
        "permits anything.\n\n"
        f"{by_hand()}\n\n"
        f"{sources()}"
    )


def peroxide() -> str:
    """Say how much peroxide the bath gives, and a large one [ppm]."""
    air, large = breathed(), large_tray()
    times = two_figures(float(air.peroxide_times.middle))
    least = ppm_words(least_at_work("H2O2"))
    return (
        f"**Peroxide.** The bath gives {times} times as much of it as of acid gas. A "
        f"tray of {LARGE_TRAY / cm**2:g} cm², open for an hour, gives {ends_words(large)} ppm. "
        f"Limits at work begin at {least}. It has no smell: nobody is warned."
    )


def ends_words(band: Band) -> str:
    """Write a share of the air [mol/mol] in ppm, with both ends: "1.4 (0.61 to 3.1)"."""
    return f"{ppm_words(float(band.middle))} ({band_words(band)})"


def times_less(band: Band) -> str:
    """Say how many times less it is, with both ends [-]: "1.8 times less (1.3 to 2.6)"."""
    low, middle, high = (two_figures(float(end)) for end in (band.low, band.middle, band.high))
    return f"{middle} times less ({low} to {high})"


def by_hand() -> str:
    """Reckon by hand how much acid gas the shut room holds, each step from printed numbers."""
    air = breathed()
    ppm = round(float(air.room.middle) / PPM)
    each = round(weight_of_ppm() / MILLIGRAM, 2)
    in_each = round(ppm * each)
    total = round(in_each * room_volume())
    spilt = round(spilt_acid() / gram)
    weight = round(spilt_acid() / percent(STRONG) / gram)
    return (
        f"**By hand.** At the end of the spill the package finds {ppm} ppm in the whole room. One "
        f"ppm of acid gas, HCl, weighs {each:.2f} mg in a cubic metre: {ppm} × {each:.2f} = "
        f"{in_each} mg. In the room {in_each} × {room_volume():g} = {total} mg, or "
        f"{total / 1000:.1f} g. Spilt were {weight} g of acid, {STRONG:g} % of it HCl: {spilt} g."
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    smell = limit(SMELL)
    return (
        "**Where the numbers come from.** Gas over acid: a handbook's table, from memory, within "
        "3 % of another. How fast it leaves, draughts and how deep a spill lies "
        "are guessed: hence the bars. *Limit for a moment*, "
        f"{ppm_words(limit(MOMENT).value)} ppm: in Britain over 15 minutes, in the US never to be "
        "passed; others are stricter. *Dangerous at once*, "
        f"{ppm_words(limit(DANGER).value)}: NIOSH, a US office, {limit(DANGER).year}. *Smell*: "
        f"{ppm_words(smell.low)} to {ppm_words(smell.high)} ppm."
    )


@cache
def read_acids() -> str:
    """Say what the bottle that is bought does, beside what a place does, in Markdown."""
    rows = "\n".join(
        f"| {acid:g} % | {ppm_words(float(breathed(acid).bottle.middle))} | "
        f"{ppm_words(float(breathed(acid).spill.middle))} |"
        for acid in ACIDS
    )
    return (
        "**A milder bottle makes a spill less bad. It changes nothing about where: outdoors.** The "
        f"bath's chlorine stays, up to {ppm_words(chlorine_at_most())} ppm in the shut room; "
        f"{ppm_words(limit(DANGER, 'Cl2').value)} are dangerous at once. Acid of {MILD_ACID:g} % "
        "burns eyes. In the shut room, in ppm:\n\n"
        f"| acid | bottle | spill |\n|---|---|---|\n{rows}\n\n"
        f"With acid of {MILD_ACID:g} instead of {STRONG:g} % the spill gives "
        f"{times_less(less_with_mild_acid())}. Spill, bath, bottle is now the order in "
        f"{in_this_order()} of {breathed(MILD_ACID).cases} cases."
    )


def say_now() -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown."""
    return (
        f"## What would prove it wrong\n\n{weigh_water()}\n\n"
        "## What you can now say\n\n"
        "- The bath sends me outdoors because nobody has measured its chlorine and mist. The "
        "strong bottle and its spill do because of their numbers.\n"
        "- I buy the mildest acid that does the job, and still work outdoors.\n\n"
        "Next: [after the last board]"
        "(10_after_the_last_board.ipynb)."
    )


def weigh_water() -> str:
    """Say what water should lose from a dish and from a bottle, in Markdown."""
    dish, bottle = weighed()
    return (
        "With **water only**, never acid or peroxide. "
        f"Indoors, 20 °C, air neither dry nor damp: {WATER / mL:.0f} mL in a flat dish of "
        f"{DISH / cm**2:.0f} cm². Beside it a new, clean bottle, water "
        f"{EMPTY / mm:g} mm down a neck "
        f"{NECK / mm:g} mm wide. In "
        f"{DISH_TIME / hour:g} hours the dish should lose {grams_words(dish)}, in a week the "
        f"bottle {grams_words(bottle)}. Outside that, the page is wrong for acid too."
    )


def grams_words(band: Band) -> str:
    """Say a mass in grams with both ends [kg]: "3.3 g (1.4 to 9)"."""
    low, middle, high = (
        two_figures(float(end) / gram) for end in (band.low, band.middle, band.high)
    )
    return f"{middle} g ({low} to {high})"
