"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...common.units import minute
from ...page.why import Setting
from .numbers import (
    BATH_TIME,
    BOTTLE_TIME,
    FAN,
    GARAGE,
    MILD_ACID,
    OPEN_AIR,
    SHUT_ROOM,
    SMELL,
    bath_acid,
    breathed,
    each_step,
    less_than_at_first,
    limit,
    over_liquid,
)
from .words import RULE, ppm_words, two_figures

STRONG_ACIDS = (25.0, 31.0, 36.0)
"""Strong acids of the settings [% by weight]."""
BATH_PLACES = {
    SHUT_ROOM: "the shut room",
    GARAGE: "the shut garage",
    FAN: "a room with window and fan",
    OPEN_AIR: "the open air",
}
"""Where the bath of a setting stands, in a sentence."""


def wide_bath(rng: np.random.Generator) -> Setting:
    """Ask why the wide warm bath gives less than the bottle; draws the acid [%]."""
    acid = float(rng.choice(STRONG_ACIDS))
    times = two_figures(float(breathed(acid).bottle_times.middle))
    return Setting(
        f"The mild bath is wide, warm and open for {BATH_TIME / minute:g} min. A bottle of "
        f"{acid:g} % acid stands open for {BOTTLE_TIME / minute:g} min, and gives {times} times as "
        "much acid gas. Why?",
        (
            "The bath's acid is thin, and gas over acid falls faster than its strength.",
            "Width, warmth and time do not make up for that.",
        ),
        (
            (
                "The bath's acid has been used up by the copper.",
                "Most of it is still there. It was thin from the start.",
            ),
            (
                "Peroxide holds the acid gas back.",
                "Nobody has measured that, and the page does not count it.",
            ),
            (
                "A bottle lets more gas out than a tray.",
                "Its neck holds gas back. What is in it is stronger.",
            ),
        ),
        f"The bath holds {100 * bath_acid():.0f} % of acid, the bottle {acid:g} %.\n"
        f"Over the one the air holds {ppm_words(over_liquid(100 * bath_acid()))} ppm at 20 °C, "
        f"over the other {ppm_words(over_liquid(acid))}.\n"
        "That is more than the bath's width, warmth and time can make up for.",
    )


def fan_and_spill(rng: np.random.Generator) -> Setting:
    """Ask why a fan does so little for a spill; draws the acid [%]."""
    acid = float(rng.choice(STRONG_ACIDS))
    less = two_figures(float(less_than_at_first(FAN, acid).middle))
    return Setting(
        f"Acid of {acid:g} % is spilt in a room. With the window open and a fan on, who stands "
        f"near breathes only {less} times less of its gas. Why so little?",
        (
            "What is spilt is breathed nearby, before the room's air has changed.",
            "The fan changes the air of the room, not that over the spill.",
        ),
        (
            (
                "A fan brings acid gas in from outside.",
                "Outside there is hardly any.",
            ),
            (
                "Acid gas is too heavy for a fan.",
                "Mixed into air it moves with the air.",
            ),
            (
                "Strong acid gives off less where air moves.",
                "It gives off rather more.",
            ),
        ),
        "In a quarter of an hour such a fan changes the air of a room once to five times.\n"
        "The spill gives off gas all that time, and the air over it is made anew from it.\n"
        "So leave the spill, and do not count on the fan.",
    )


def in_the_neck(rng: np.random.Generator) -> Setting:
    """Ask why the bottle of mild acid gives less than the bath; draws where they stand."""
    place = str(rng.choice((SHUT_ROOM, GARAGE, OPEN_AIR)))
    less = two_figures(1 / float(breathed(MILD_ACID, place).bottle_times.middle))
    return Setting(
        f"In {BATH_PLACES[place]}: the acid in a bottle of {MILD_ACID:g} % is twice as strong as "
        f"that in the mild bath. Yet the bottle gives {less} times less acid gas. Why?",
        (
            "Its gas has to rise through a narrow neck of still air; the bath is wide and warm.",
            "A tray has no neck.",
        ),
        (
            (
                "Acid in a bottle gives off no gas.",
                "A little: strong acid gives off much, even through its neck.",
            ),
            (
                "Peroxide drives the acid gas out of the bath.",
                "Nobody has measured that, and the page does not count it.",
            ),
            (
                "Gas from a bottle rises past your head.",
                "What counts is how little comes out.",
            ),
        ),
        "Over the bottle's acid the air holds more gas than over the bath's.\n"
        "But it leaves through a few square centimetres, and through still air.\n"
        "With mild acid that decides. Cap on at once all the same: it is soon knocked over.",
    )


def not_three_times(rng: np.random.Generator) -> Setting:
    """Ask why stronger acid gives more than its share; draws the acid [%]."""
    acid = float(rng.choice(STRONG_ACIDS))
    times = two_figures(over_liquid(acid) / over_liquid(MILD_ACID))
    return Setting(
        f"Acid of {acid:g} % is {acid / MILD_ACID:.1f} times as strong as acid of {MILD_ACID:g} %. "
        f"Right over it the air holds {times} times as much acid gas. Why so much more?",
        (
            "Each few % more multiply the gas, and multiplying adds up fast.",
            "The same step again and again multiplies the same way.",
        ),
        (
            (
                "Strong acid is warmer.",
                "Both are at 20 °C here.",
            ),
            (
                "Strong bottles are wider.",
                "This is right over the liquid, whatever holds it.",
            ),
            (
                "Weak acid holds no acid gas at all.",
                f"It does: {ppm_words(over_liquid(MILD_ACID))} ppm over {MILD_ACID:g} %.",
            ),
        ),
        "The less water there is for each HCl, the less it is held.\n"
        f"Each 5 % more make it about {each_step():.0f} times as much.\n"
        f"From {MILD_ACID:g} to {acid:g} % that is {times} times.",
    )


def smallest_row(rng: np.random.Generator) -> Setting:
    """Ask why a small number is no permission; draws where the bath stands."""
    place = str(rng.choice(list(BATH_PLACES)))
    bath = ppm_words(float(breathed(MILD_ACID, place).bath.middle))
    return Setting(
        f"In {BATH_PLACES[place]} the mild bath gives {bath} ppm of acid gas. The page says all "
        "the same: the open air or a working fume cupboard. Why?",
        (
            "That number is acid vapour alone: chlorine and mist are not in it.",
            "Nobody has measured how much of them comes from such a bath.",
        ),
        (
            (
                "The number is a mistake of the model.",
                "It may be off by some times. It leaves out what has no number.",
            ),
            (
                "You would smell acid gas long before.",
                "Noses differ, and peroxide has no smell. What decides here has no number at all.",
            ),
            (
                "The number is for a bath without copper.",
                "It is for the bath as it etches. Chlorine and mist are what is left out.",
            ),
        ),
        "Acid with peroxide can make chlorine, bubbles throw drops, and peroxide has no smell.\n"
        "For chlorine and drops there is no number, least of all for a bath run hot.\n"
        f"So a small number permits nothing. {RULE}",
    )


def no_smell(rng: np.random.Generator) -> Setting:
    """Ask why a nose is no instrument; draws who smells nothing."""
    who = str(rng.choice(("Somebody", "A visitor", "The one who works there")))
    smell = limit(SMELL)
    low, high = ppm_words(smell.low), ppm_words(smell.high)
    high_over_low = round(smell.high / smell.low)
    return Setting(
        f"{who} stands beside an open bottle of strong acid and smells nothing. Why does that tell "
        "so little?",
        (
            f"People begin to smell acid gas anywhere from {low} to {high} ppm.",
            "For some that is over a limit already. And peroxide has no smell.",
        ),
        (
            (
                "Acid gas has no smell.",
                "It has: a sharp one. People differ in when they notice it.",
            ),
            (
                "Acid gas lies on the floor.",
                "It does not: it mixes into the air you breathe.",
            ),
            (
                "A smell comes only from chlorine.",
                "Chlorine smells of swimming baths; acid gas smells too.",
            ),
        ),
        "A limit is a number; noses are not alike, and get used to a smell.\n"
        f"From {low} to {high} ppm is {high_over_low} times.\n"
        "So who smells something leaves, and who smells nothing knows nothing.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    wide_bath,
    fan_and_spill,
    in_the_neck,
    not_three_times,
    smallest_row,
    no_smell,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
