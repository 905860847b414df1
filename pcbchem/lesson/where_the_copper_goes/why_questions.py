"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

from ...common.units import cm, gram
from ...page.why import Setting
from ...reaction.chemistry import reserve
from ..workshop import tide_clock
from .numbers import USUAL_PEROXIDE, tray_bath, warmths
from .texts import areal_mass
from .words import boards_words, degrees_words

STRONG, WEAK = (7.0, 8.0, 10.0, 11.0), (2.0, 2.5, 3.2)
"""Peroxide that equal parts hold too much of, and too little [% by weight]; not the page's own."""
MORE = (2.5, 3.0, 4.0)
"""Parts of peroxide to one of acid where there is too much of it already [-]."""
SOME_MORE = (1.2, 1.3, 1.4)
"""Parts of it where there is too little [-]."""
BOTH = "Each copper takes one peroxide and two acid, and neither can stand in for the other."


@cache
def boards(parts: float, peroxide: float, ounces: float = 1.0) -> str:
    """Say how many boards the full tray could carry the copper of [-].

    Parameters
    ----------
    parts : float
        Parts of peroxide to one of 10 % acid [-].
    peroxide : float
        Its strength [% by weight].
    ounces : float
        Foil of the board [oz/ft²].
    """
    return boards_words(float(reserve(tray_bath(parts, peroxide), tide_clock(ounces))))


def acid_scarce(rng: np.random.Generator) -> Setting:
    """Ask why more peroxide carries less copper; draws peroxide [% by weight] and parts [-]."""
    strength, parts = float(rng.choice(STRONG)), float(rng.choice(MORE))
    before, after = boards(1.0, strength), boards(parts, strength)
    return Setting(
        f"A tray of 10 % acid and {strength:g} % peroxide in equal parts could carry the copper of "
        f"{before} boards. With {parts:g} parts of peroxide to 1 of acid, the tray just as full, "
        f"it is {after} boards. Why fewer?",
        (
            "The acid runs out first, and now there is less of it in the tray.",
            "The peroxide took its room. What is left of the peroxide carries nothing.",
        ),
        (
            (
                "So much peroxide uses the acid up by itself.",
                "Not in this count: acid goes with copper, two for each. What the peroxide takes "
                "is room.",
            ),
            (
                "The peroxide runs out sooner when there is more of it.",
                "More of it lasts longer. Ask which of the two is scarce.",
            ),
            (
                "Both are weaker, because a tray of more parts holds more water.",
                "More peroxide makes the peroxide in the tray stronger. Only the acid got less.",
            ),
        ),
        f"{BOTH}\n"
        "In equal parts the acid ends first: there is peroxide to spare.\n"
        f"A tray just as full of 1 part in {parts + 1:g} holds less acid than one of 1 part in 2. "
        f"So {after} boards and not {before}.",
    )


def peroxide_scarce(rng: np.random.Generator) -> Setting:
    """Ask why more of a weak peroxide carries more; draws it [% by weight] and parts [-]."""
    strength, parts = float(rng.choice(WEAK)), float(rng.choice(SOME_MORE))
    before, after = boards(1.0, strength), boards(parts, strength)
    return Setting(
        f"A tray of 10 % acid and {strength:g} % peroxide in equal parts could carry the copper of "
        f"{before} boards. With {parts:g} parts of peroxide to 1 of acid, the tray just as full, "
        f"it is {after} boards. Why more?",
        (
            "The peroxide runs out first, and now there is more of it in the tray.",
            "The acid that made room for it had been left over.",
        ),
        (
            (
                "More peroxide always carries more copper.",
                "Only where it runs out first. Beyond the top of the tent it carries less.",
            ),
            (
                "There is more of both in the tray now.",
                "The tray is just as full: more of one is less of the other.",
            ),
            (
                "The acid is weaker now, and weak acid lasts longer.",
                "Two acid go with each copper, weak or strong.",
            ),
        ),
        f"{BOTH}\n"
        "Weak peroxide in equal parts ends first: there is acid to spare.\n"
        f"More of it in the same tray takes room of acid that was not needed. So {after} boards "
        f"and not {before}.",
    )


def thin_foil(rng: np.random.Generator) -> Setting:
    """Ask why a tray carries twice as many boards of thin foil; draws peroxide [% by weight]."""
    strength = float(rng.choice(STRONG))
    thick, thin = boards(1.0, strength, 1.0), boards(1.0, strength, 0.5)
    return Setting(
        f"A tray could carry the copper of {thick} boards with 1 oz foil. Of the same boards with "
        f"½ oz foil it could carry {thin}. Why?",
        (
            "On each cm² lies half as much copper, so it takes half the acid and peroxide.",
            "The bath is the same. What each board takes from it is halved.",
        ),
        (
            (
                "Thin foil is etched in a shorter time, so the bath has no time to wear out.",
                "Shorter it is. But the bath wears out by the copper it has taken, not by the "
                "clock.",
            ),
            (
                "Thin foil takes only peroxide, and that was left over.",
                "Copper is copper: one peroxide and two acid, thin or thick.",
            ),
            (
                "Thin boards take less room, so more of them lie in the tray.",
                "Nothing here asks for room. It is a count of copper.",
            ),
        ),
        "The ounce is the copper's weight on a square foot: half an ounce is half the copper.\n"
        f"{BOTH} Half the copper, half of each.\n"
        f"So the same tray carries twice as many: {thin} and not {thick}.",
    )


def green_bath(rng: np.random.Generator) -> Setting:
    """Ask where the copper of a board is; draws how many cm² were etched [cm²]."""
    area = int(rng.choice((20, 40, 50, 60)))
    grams = areal_mass(1.0) * area * cm**2 / gram
    return Setting(
        f"A board lost the copper of {area} cm²: it is {grams:.1f} g lighter. The bath had no "
        "colour and is green now. Where is that copper?",
        (
            "In the bath: all of it, dissolved.",
            "Green is its colour there. That is why a used bath never goes down the drain.",
        ),
        (
            (
                "Gone off with the bubbles.",
                "The bubbles are oxygen, from peroxide that fell apart. Copper makes no gas here.",
            ),
            (
                "Used up: the acid has destroyed it.",
                "No atom is destroyed. One side of the equation has as much copper as the other.",
            ),
            (
                "Half in the bath, half turned into acid.",
                "Copper stays copper. The acid's chloride goes with it, two for each copper.",
            ),
        ),
        "Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O: one copper on each side.\n"
        "What left the board is now dissolved copper chloride, and that is green.\n"
        f"So the bath holds {grams:.1f} g of copper, and stays waste however old it gets.",
    )


def water_added(rng: np.random.Generator) -> Setting:
    """Ask what water mixed in does to the count; draws the parts of water [-]."""
    water = float(rng.choice((1.0, 2.0, 3.0)))
    count = boards(1.0, USUAL_PEROXIDE)
    noun = "part" if water == 1 else "parts"
    return Setting(
        f"A bath of 1 part of acid and 1 of peroxide could carry the copper of {count} boards. "
        "As much of the same mild acid and peroxide is mixed again, with "
        f"{water:g} {noun} of water first. How many, and why?",
        (
            f"Still {count}: there is as much acid and as much peroxide.",
            "The bath is weaker and etches more slowly. But it holds as much of both.",
        ),
        (
            (
                "Fewer: the bath is weaker.",
                "Weaker means less in each drop. There are more drops, and as much in all.",
            ),
            (
                "More: there is more bath.",
                "More liquid, but no more acid and no more peroxide.",
            ),
            (
                "None: diluted acid takes no copper.",
                "It does, more slowly. Two acid still go with each copper.",
            ),
        ),
        "The count asks how much acid and peroxide there is, not how strong the bath is.\n"
        "Water brings neither and takes neither away.\n"
        f"So {count} boards. (Where the tray has to stay as full as before it is otherwise: then "
        "water takes room.)",
    )


def for_the_heat(rng: np.random.Generator) -> Setting:
    """Ask why a bath that is just enough by count gets hot; draws which bath it is beside."""
    least, enough, usual = warmths()
    other = (enough, usual)[int(rng.integers(2))]
    hot, mild = (degrees_words(float(row.warmest.middle)) for row in (least, other))
    return Setting(
        "By count a thin layer is enough, with bottles as labelled. It gets far too hot, and the "
        f"planner refuses it. With {other.times:.0f} times as much bath its rules no longer stop "
        "it; that is no permission. Why does the thin layer get so hot?",
        (
            "The copper's heat goes into little liquid, and that gets hot.",
            "The same copper makes the same heat. More bath spreads it.",
        ),
        (
            (
                "A thin layer is stronger acid.",
                "It is the same mixture: as strong in a thin layer as in a deep one.",
            ),
            (
                "Counting is wrong: copper really takes more acid than two.",
                "The equation is balanced: two it is. The count says nothing of heat.",
            ),
            (
                "More bath takes more copper off each board.",
                "A board has as much copper as it has. More bath only has more to spare.",
            ),
        ),
        "Each copper that dissolves sets heat free, in much bath and in little.\n"
        "In little bath it warms less liquid, so it warms it more; peroxide then falls apart too.\n"
        f"While it etches the middle of the plausible baths gets to {hot} with just enough, and to "
        f"{mild} with {other.times:.0f} times as much.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    acid_scarce,
    green_bath,
    water_added,
    peroxide_scarce,
    thin_foil,
    for_the_heat,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
