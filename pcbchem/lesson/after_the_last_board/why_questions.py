"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...page.why import Setting
from .numbers import LITTLE, MUCH, copper_left, peroxide_left, rinsed
from .words import TIME_WORDS, milligrams_words

QUIET = ("1d", "3d", "1w")
"""Times of the setting on a bath that looks quiet, by key."""
CLEAR_PH = (7.0, 7.5, 8.5, 9.0)
"""The pH of clear water in the settings [-]; not the page's own."""
THINNED = (10, 20, 50)
"""How many times a waste is thinned there [-]."""


def quiet(rng: np.random.Generator) -> Setting:
    """Ask why a bath without bubbles may still hold peroxide; draws the time."""
    time = str(rng.choice(QUIET))
    mild = peroxide_left()
    return Setting(
        f"A used bath has stood open for {TIME_WORDS[time]}. No bubble is seen. In "
        f"{mild.still(time)} of {mild.total} plausible baths it still holds peroxide. Why does "
        "quiet prove nothing?",
        (
            "Where peroxide goes slowly, its gas comes too slowly to be seen.",
            "And what is left goes on: a strip has to tell.",
        ),
        (
            (
                "All the oxygen stays dissolved in the bath.",
                "Water holds very little of it. The rest leaves, seen or not.",
            ),
            (
                "Peroxide rests until copper is etched again.",
                "It falls apart without a board: the dissolved copper breaks it up.",
            ),
            (
                "Bubbles come only from etching.",
                "They come from peroxide that falls apart, during the etch and after it.",
            ),
        ),
        "Dissolved copper breaks peroxide up in every used bath.\n"
        "How fast is not known: in some it takes hours, in others months.\n"
        f"Slow gas is not seen, and {mild.still(time)} of {mild.total} still give some.",
    )


def slow_bottle(rng: np.random.Generator) -> Setting:
    """Ask why a slow bath in a closed bottle is no safer; draws how long the quick one takes."""
    days = int(rng.choice((2, 3, 4)))
    return Setting(
        f"Two bottles (never done) hold the same used bath, closed. In one the peroxide is gone in "
        f"{days} days, in the other in {10 * days} weeks. Which gets to the higher pressure?",
        (
            "Neither: the same peroxide makes the same oxygen.",
            "The slow one only gets there later, when nobody thinks of it any more.",
        ),
        (
            (
                "The quick one: it makes more oxygen.",
                "It makes it sooner. Two peroxide make one oxygen in both.",
            ),
            (
                "The slow one: it works for longer.",
                "Longer, and less each day: in the end the same.",
            ),
            (
                "Neither: slow gas dissolves again.",
                "Water holds very little oxygen. It fills the room above the bath.",
            ),
        ),
        "2 H₂O₂ → 2 H₂O + O₂, quick or slow.\n"
        "How much oxygen comes hangs on how much peroxide was left, and on nothing else.\n"
        "So a slow bath bursts a bottle too, weeks later.",
    )


def clear_water(rng: np.random.Generator) -> Setting:
    """Ask why clear water over mud is not clean; draws the pH."""
    pH = float(rng.choice(CLEAR_PH))
    left = copper_left(LITTLE)
    aged, fresh = (milligrams_words(end) for end in left.at(pH))
    return Setting(
        f"At pH {pH:g}, a little baking soda left over, the water above the mud is clear. It holds "
        f"{aged} to {fresh} mg/L of copper, of {milligrams_words(left.total)}. Why is any left?",
        (
            "Water and mud are in balance: some copper always stays dissolved.",
            "Nearly all has fallen out. The rest is still a lot for what lives in water.",
        ),
        (
            (
                "There was too little baking soda.",
                "It is no acid any more. More of it would keep even more copper dissolved.",
            ),
            (
                "The mud has not settled yet.",
                "The water is clear: this copper is dissolved, it cannot settle.",
            ),
            (
                "It was not stirred for long enough.",
                "A balance is not moved by stirring.",
            ),
        ),
        "Nothing falls out of water to the last bit.\n"
        f"At pH {pH:g} {aged} mg/L stay over mud that has aged, {fresh} over fresh mud.\n"
        "Clear is what the eye says; copper at this strength has no colour.",
    )


def more_soda(rng: np.random.Generator) -> Setting:
    """Ask why more soda leaves more copper in the water; draws the pH."""
    pH = float(rng.choice((8.5, 9.0, 9.5)))
    little, much = (milligrams_words(copper_left(soda).at(pH)[0]) for soda in (LITTLE, MUCH))
    return Setting(
        f"At pH {pH:g} water stands over mud that has aged. With a little baking soda left over "
        f"{little} mg/L of copper stay dissolved, with a good deal {much} mg/L. Why more?",
        (
            "Dissolved baking soda, carbonate, takes copper up and holds it in the water.",
            "It draws copper out as mud, and holds some back: too much holds more.",
        ),
        (
            (
                "Baking soda brings copper along.",
                "There is none in it. The copper is the board's.",
            ),
            (
                "More baking soda makes the water acid again.",
                "It makes it less acid. The pH is the same in both here.",
            ),
            (
                "The gas lifts mud into the water.",
                "What is counted here is dissolved, not afloat.",
            ),
        ),
        "Carbonate and copper join to something that stays dissolved, and is blue.\n"
        f"So at the same pH {little} mg/L become {much}.\n"
        "Blue or clear: neither is a sign of clean water.",
    )


def thinner(rng: np.random.Generator) -> Setting:
    """Ask why thinning is no cure; draws how many times."""
    times = int(rng.choice(THINNED))
    return Setting(
        f"Somebody thins copper waste {times} times with water and says: now it is {times} times "
        "less dangerous. Why is nothing gained?",
        (
            f"All the copper is still there, in {times} times the water.",
            "It does not break down. What lives in water gathers it.",
        ),
        (
            (
                f"{times} times is too little: a hundred times more would do.",
                "However much water: not one atom of copper has gone.",
            ),
            (
                "Water does not mix with the bath.",
                "It mixes. But mixing takes nothing away.",
            ),
            (
                "Copper comes out of thin waste as metal.",
                "It stays dissolved, or falls as mud, and stays copper.",
            ),
        ),
        "Milligrams in each litre go down, litres go up.\n"
        "Their product, the copper, stays as it was.\n"
        "So it goes to the waste site, as little and as strong as it came.",
    )


def rinse_water(rng: np.random.Generator) -> Setting:
    """Ask why colourless rinse water is waste; draws how it is put."""
    who = str(rng.choice(("Somebody", "A friend", "A visitor")))
    band = rinsed()
    low, high = (milligrams_words(float(end)) for end in (band.low, band.high))
    return Setting(
        f"{who} looks at the first rinse dish of a board: colourless, so only water. It holds "
        f"{low} to {high} mg/L of copper. Why is it not seen?",
        (
            "A film of bath clings to the board; in a dish it is too thin to show colour.",
            "The eye sees grams in a litre, not milligrams: it is waste as the bath is.",
        ),
        (
            (
                "Rinse water takes the colour out of copper.",
                "It thins it. The copper is all there.",
            ),
            (
                "The copper lies at the bottom.",
                "What is dissolved does not settle.",
            ),
            (
                "The board was clean when it came out.",
                "It came out wet: what clings is bath.",
            ),
        ),
        "What clings to both sides is a film, a tenth to a fifth of a millimetre thick.\n"
        f"In its dish that makes {low} to {high} mg/L.\n"
        "No eye sees that. All rinse water goes into the tub.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    quiet,
    clear_water,
    slow_bottle,
    more_soda,
    thinner,
    rinse_water,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
