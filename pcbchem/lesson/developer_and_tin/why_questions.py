"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...bench.tin import tin_killed
from ...common.band import Band
from ...common.units import mL
from ...page.why import Setting
from ..bath.used_bath import FACES
from .numbers import BEAKER, DISH, carried, clinging, fresh_grams, lye_left, peroxide
from .words import grams_words, hours_words, millimoles_words

HOURS = (3, 4, 8, 9)
"""How long the developer of a setting stood [h]: not as long as the page asks."""
DISHES = (100, 150, 300)
"""Water of the rinse dish of a setting [mL]: not the page's own."""
STRENGTHS = (8, 9, 10, 12)
"""Lye of the setting on two films [g/L]."""


def unused(rng: np.random.Generator) -> Setting:
    """Ask why lye goes that nobody used; draws the hours."""
    hours = int(rng.choice(HOURS))
    now, morning = grams_words(float(lye_left(DISH, hours).lye.middle)), grams_words(fresh_grams())
    return Setting(
        f"Developer stands in a flat dish for {hours_words(hours)}, unused. {now} of {morning} g/L "
        "of its lye are left in the middle case. Where is the rest?",
        (
            "Still in the dish, as soda: carbon dioxide of the air took it.",
            "Each carbon dioxide takes two lye. Nothing has left the dish.",
        ),
        (
            (
                "In the air: lye dries away with the water.",
                "Water dries away, lye does not: it is a salt-like solid.",
            ),
            (
                "At the bottom, as a white solid.",
                "It is too little to settle: all of it stays dissolved, and nothing is seen.",
            ),
            (
                "In the wall of the dish.",
                "Glass and plastic take up next to nothing in a day.",
            ),
        ),
        "CO₂ + 2 OH⁻ → CO₃²⁻ + H₂O: lye and gas make soda and water.\n"
        f"So {morning} g/L of lye become {now}, and the liquid looks as before.\n"
        "It is still strongly alkaline: goggles.",
    )


def beaker(rng: np.random.Generator) -> Setting:
    """Ask why a beaker keeps lye better than a dish; draws the hours."""
    hours = int(rng.choice(HOURS))
    dish, tall = (
        grams_words(float(lye_left(vessel, hours).lye.middle)) for vessel in (DISH, BEAKER)
    )
    return Setting(
        f"The same developer, the same {hours_words(hours)}, both open: in the flat dish {dish} "
        f"g/L of lye are left, in a tall beaker {tall}. Why?",
        (
            "Less of its surface meets the air, and still air stands over it.",
            "The gas comes in through the surface, and has to cross that air first.",
        ),
        (
            (
                "The beaker holds more developer.",
                "It is the same amount in both. It only stands deeper.",
            ),
            (
                "Carbon dioxide is heavy and does not get into a beaker.",
                "It mixes with the air. It gets in, only more slowly.",
            ),
            (
                "Glass protects the lye.",
                "What it is made of does not count, but how wide it is open.",
            ),
        ),
        "Gas comes in through the surface, and here that is a seventh.\n"
        "Below a rim the air stands still, and the gas creeps through it.\n"
        f"So {tall} g/L are left, not {dish}.",
    )


def still_burns(rng: np.random.Generator) -> Setting:
    """Ask why dead developer needs goggles; draws who says otherwise."""
    who = str(rng.choice(("Somebody", "A friend", "A visitor")))
    return Setting(
        f"{who} says: this old developer does not develop any more, and takes the goggles off. "
        "Why is that wrong?",
        (
            "Not all of its lye is gone; and even as soda alone it is at pH 11 to 12.",
            "It is no developer, and it hurts eyes all the same.",
        ),
        (
            (
                "Its lye comes back overnight.",
                "It does not. But what it has become burns, too.",
            ),
            (
                "It gives off the gas again.",
                "The gas stays in the soda. The danger is the liquid.",
            ),
            (
                "Only fresh film is a danger.",
                "Film is the smallest part of it: the liquid is what gets into eyes.",
            ),
        ),
        "What a bath is good for and what it does to eyes are two things.\n"
        "It is too weak long before its lye is gone: pH 12 to 13. As soda alone it is 11 to 12.\n"
        "Goggles until the last rinse; the rest is waste.",
    )


def two_films(rng: np.random.Generator) -> Setting:
    """Ask why the same lye develops one film and wears off the other; draws its strength."""
    strength = int(rng.choice(STRENGTHS))
    return Setting(
        f"Lye of {strength} g/L develops film that light makes soluble. The same lye wears the "
        "picture off film that light hardens. Why?",
        (
            "Hardened film holds in weak soda only: it gives way in lye.",
            "Its developer is soda. Lye is what takes it off the board.",
        ),
        (
            (
                "The second film was exposed too long.",
                "More light hardens it more. In lye it goes all the same.",
            ),
            (
                "Lye of the first film does not keep.",
                "It is the same fresh lye. The film differs.",
            ),
            (
                "The copper under it is different.",
                "It is the same copper. The film over it differs.",
            ),
        ),
        "Film that light makes soluble: lye takes what light has changed much faster.\n"
        "Film that light hardens: soda dissolves what light has not hardened, lye attacks both.\n"
        "So read which film it is before anything is mixed.",
    )


def it_stops(rng: np.random.Generator) -> Setting:
    """Ask why a tin bath stops by itself; draws what the board is."""
    what = str(rng.choice(("board", "wire of copper", "strip of copper")))
    return Setting(
        f"A {what} hangs in a tin bath. At first tin comes quickly, then none any more, though "
        "the bath is full of it. Why?",
        (
            "Tin comes only where copper goes, and the copper is covered.",
            "Each tin costs two copper. Covered copper cannot go.",
        ),
        (
            (
                "The bath has become too cold.",
                "Warmth changes how fast it goes, not where it ends.",
            ),
            (
                "The tin settles at the bottom.",
                "Dissolved tin does not settle.",
            ),
            (
                "Air keeps the tin away.",
                "Air spoils the bath slowly. Here it stops on this board alone.",
            ),
        ),
        "2 Cu + Sn²⁺ → 2 Cu⁺ + Sn, as long as thiourea binds the copper.\n"
        "It is an exchange: no copper, no tin.\n"
        "Once the copper is covered, nothing is left to exchange.",
    )


def rinsed(rng: np.random.Generator) -> Setting:
    """Ask why one dish makes so much of a difference; draws its water."""
    water = int(rng.choice(DISHES))
    killed = np.asarray(tin_killed(peroxide(), clinging(), FACES, 1, water * mL))
    once = millimoles_words(float(Band.of(killed, killed.size).middle))
    dripping = millimoles_words(float(carried().killed.middle))
    return Setting(
        f"A board that drips kills {dripping} mmol of tin. Rinsed in a fresh dish of {water} mL "
        f"it kills {once} mmol. As much liquid clings to it. Why so much less?",
        (
            f"What clung to it is spread over {water} mL, and it takes only a film of that along.",
            "Hardly more than a millilitre of so much water: the peroxide is in the dish now.",
        ),
        (
            (
                "Water destroys the peroxide.",
                "It only thins it. All of it is in the dish, which is waste.",
            ),
            (
                "After a rinse nothing clings to the board any more.",
                "As much clings as before. It is thinner.",
            ),
            (
                "The rinse takes off the copper, too.",
                "The copper stays. What goes is the bath that clung to it.",
            ),
        ),
        f"In the dish the film of bath becomes {water} mL.\n"
        f"The board leaves with as much liquid, thinned: {once} mmol, not {dripping}.\n"
        "The dish holds the rest: it is waste as the bath is.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    unused,
    rinsed,
    beaker,
    it_stops,
    still_burns,
    two_films,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
