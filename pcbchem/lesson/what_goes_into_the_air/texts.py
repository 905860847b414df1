"""What page 09 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from functools import cache

from ...bench.air import PPM
from ...common.band import Band
from ...common.units import cm, gram, hour, mL, mm
from .numbers import (
    ACIDS,
    DANGER,
    DISH,
    DISH_TIME,
    EMPTY,
    FAN,
    LARGE_TRAY,
    MILD_ACID,
    MOMENT,
    NECK,
    OPEN_AIR,
    OVER_ACIDS,
    SMELL,
    STRONG,
    WATER,
    bath_acid,
    breathed,
    chlorine_at_most,
    each_step,
    in_this_order,
    large_tray,
    less_than_at_first,
    less_with_mild_acid,
    limit,
    over_liquid,
    room_volume,
    spilt_acid,
    weighed,
    weight_of_ppm,
)
from .words import ppm_words, two_figures

MILLIGRAM = 1e-3 * gram
"""One milligram [kg]."""


@cache
def why() -> str:
    """Say why the strong acid gives most, what a fan does, and what is not known, in Markdown."""
    rows = "\n".join(f"| {acid:g} % | {ppm_words(over_liquid(acid))} |" for acid in OVER_ACIDS)
    fan, outdoors = less_than_at_first(FAN), less_than_at_first(OPEN_AIR)
    outside = breathed(STRONG, OPEN_AIR)
    moment = limit(MOMENT).value
    return (
        "**Why.** A *ppm* is one litre of gas in a million litres of air. Right over acid at 20 °C "
        "the air holds:\n\n"
        f"| acid | ppm |\n|---|---|\n{rows}\n\n"
        f"*Each 5 % more is about {each_step():.0f} times as much*: {STRONG:g} % is not three "
        f"times {MILD_ACID:g} %. The bath is wide, warm and open, but its acid is only "
        f"{100 * bath_acid():.0f} %. From the bottle the gas has to rise through still air in its "
        "neck. The spill is strong and wide.\n\n"
        "**A fan.** Nobody knows your room's draughts: the page tries "
        f"{outside.cases} *plausible cases*. Window and fan make the spill {times_less(fan)}: it "
        "is breathed before the room's air has changed. The open air makes it "
        f"{times_less(outdoors)}: even there over {ppm_words(moment)} ppm, the limit for a "
        f"moment, in {outside.spill_over(moment)} of them. Downwind, near the ground: ten "
        "times and more.\n\n"
        f"{peroxide()}\n\n"
        "**What has no number.** If all acid of the bath became chlorine, the shut room would hold "
        f"{ppm_words(chlorine_at_most())} ppm; {ppm_words(limit(DANGER, 'Cl2').value)} are "
        "dangerous at once. How much it really makes nobody has measured, nor the mist of its "
        "bubbles, which may outweigh its gas. So no number here permits anything.\n\n"
        f"{by_hand()}\n\n"
        f"{sources()}"
    )


def peroxide() -> str:
    """Say how much peroxide the bath gives, and a large one [ppm]."""
    air, large = breathed(), large_tray()
    times = two_figures(float(air.peroxide_times.middle))
    low, middle, high = (ppm_words(float(end)) for end in (large.low, large.middle, large.high))
    moment = ppm_words(limit(MOMENT, "H2O2").value)
    return (
        f"**Peroxide** has no smell. The bath gives {ppm_words(float(air.peroxide.middle))} ppm of "
        f"it, {times} times its acid gas. A tray of {LARGE_TRAY / cm**2:g} cm², open for an hour, "
        f"gives {middle} ({low} to {high}). GB's limit over 15 minutes is {moment}."
    )


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
    return (
        f"**By hand.** At the end of the spill the whole room holds {ppm} ppm. One ppm of acid gas "
        f"weighs {each:.2f} mg in a cubic metre: {ppm} × {each:.2f} = {in_each} mg. In the room "
        f"{in_each} × {room_volume():g} = {total} mg, or {total / 1000:.1f} g. Spilt "
        f"were {spilt} g of HCl."
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    smell = limit(SMELL)
    return (
        "**Where the numbers come from.** Gas over acid: a handbook's table, recalled, within 3 % "
        "of printed pressures. How fast it leaves, draughts in rooms and necks, how deep a spill "
        "lies: assumed. The bath: at its warmest. "
        f"*Limit for a moment*, {ppm_words(limit(MOMENT).value)} ppm: GB over 15 minutes, US law "
        "at no time; others are stricter. *Dangerous at once*, "
        f"{ppm_words(limit(DANGER).value)}: NIOSH, {limit(DANGER).year}. *Smell*: "
        f"{ppm_words(smell.low)} to {ppm_words(smell.high)} ppm, {smell.year}: a nose is no "
        "instrument. Not counted: fog, opening, pouring, where your head is."
    )


@cache
def read_acids() -> str:
    """Say what the bottle that is bought does, beside what a place does, in Markdown."""
    rows = "\n".join(
        f"| {acid:g} % | {ppm_words(float(breathed(acid).bottle.middle))} | "
        f"{ppm_words(float(breathed(acid).spill.middle))} |"
        for acid in ACIDS
    )
    fan = less_than_at_first(FAN)
    return (
        "**The bottle that you buy decides more than the place.** In the shut room, in ppm:\n\n"
        f"| acid | bottle | spill |\n|---|---|---|\n{rows}\n\n"
        f"With acid of {MILD_ACID:g} instead of {STRONG:g} % the spill gives "
        f"{times_less(less_with_mild_acid())}; with window and fan "
        f"{two_figures(float(fan.middle))} times. Spill, bath, bottle is now the order in "
        f"{in_this_order()} of {breathed(MILD_ACID).cases} plausible cases.\n\n"
        "**Outdoors all the same.** Chlorine and mist come from the bath, and acid of "
        f"{MILD_ACID:g} % burns eyes."
    )


def say_now() -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown."""
    return (
        f"## What would prove it wrong\n\n{weigh_water()}\n\n"
        "## What you can now say\n\n"
        "- It is not the acid vapour of a small bath that sends me outdoors. It is the open strong "
        "bottle, the spill, a large tray's peroxide, and what nobody has measured.\n"
        "- The bottle that I buy decides more than the place.\n"
        "- No number of this page permits a room. Next: [after the last board]"
        "(10_after_the_last_board.ipynb)."
    )


def weigh_water() -> str:
    """Say what water should lose from a dish and from a bottle, in Markdown."""
    dish, bottle = weighed()
    return (
        "With **water only**, never acid or peroxide: it goes by the same steps. "
        f"Indoors, 20 °C, air neither dry nor damp: {WATER / mL:.0f} mL in a flat dish of "
        f"{DISH / cm**2:.0f} cm². Beside it a bottle, its water {EMPTY / mm:g} mm down a neck "
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
