"""The questions of "check yourself" that ask why: six settings, their numbers from the model."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from ...bench.plan.dilution import Dilution, dilution, ratio
from ...common.limits import collecting_warnings
from ...common.number_words import figures
from ...common.units import um
from ...page.why import Setting
from ..workshop import ROOMY, USUAL, bath

WEAKER = (1.5, 1.6, 1.8, 2.2, 2.4, 2.5)
"""How many times weaker a bath is made [-]; not 2, of which the page prints the answers."""
SIDE_BY_SIDE = (
    "Acid and peroxide cross the film side by side; each copper needs one peroxide and two acid. "
    "The one that falls short sets the pace, and strength counts once."
)


@cache
def diluted(bottles: str, agitation: str, room: float, weaker: float) -> Dilution:
    """Return what water does that makes one of the workshop's baths so many times weaker.

    Parameters
    ----------
    bottles, agitation : str
        Two bottles of `PAIRS`, and how the bath moves.
    room : float
        Bath over the bare copper [m³/m²].
    weaker : float
        How many times weaker both reagents get [-].
    """
    # equal parts: each two parts of water make it once more as much
    water = round(2 * (weaker - 1), 6)
    with collecting_warnings():
        return dilution(bath(bottles, room, agitation=agitation), [0.0, water])


def cost(bottles: str, agitation: str, room: float, weaker: float) -> float:
    """Return how many times as long the middle bath takes [-], arguments as for `diluted`."""
    return float(diluted(bottles, agitation, room, weaker).ratio.middle[1])


def films(weaker: float) -> tuple[float, float]:
    """Return the film of the still mild bath [m] without water and with."""
    before, after = diluted("mild", "still", USUAL, weaker).film["thickness"]
    return float(before), float(after)


@cache
def cost_without_bubbles(weaker: float) -> float:
    """Return how many times as long the still mild bath takes if no gas stirs it [-]."""
    water = round(2 * (weaker - 1), 6)
    with collecting_warnings():
        slower = ratio(bath("mild", agitation="still"), water, without=("gas stirring",))
    return float(slower.middle)


def times(number: float) -> str:
    """Write how many times [-], in two digits: "6.3 times"."""
    return f"{figures(number, 2)} times"


def still_or_shaken(weaker: float) -> Setting:
    """Ask which of two baths slows more: one stands still, the other is shaken [weaker: -]."""
    still = times(cost("mild", "still", USUAL, weaker))
    shaken = times(cost("mild", "shaken", USUAL, weaker))
    return Setting(
        "Two boards lie in two trays of the same mild bath, which bubbles at the copper. One tray "
        f"stands still, the other is briskly shaken. Water makes both baths {weaker:g} times "
        "weaker. Which one slows more, and why?",
        (
            "The still one: its bubbles do most of the stirring, and a weaker bath bubbles less.",
            "With fewer bubbles its film grows. The shaken film stays nearly as thin as it was.",
        ),
        (
            (
                "The shaken one: shaking carries the water to the copper.",
                "The water is everywhere in both baths. Shaking keeps the film thin, with water "
                "or without.",
            ),
            (
                f"Neither: both are {weaker:g} times weaker, so both take {weaker:g} times as "
                "long.",
                "That is the strength alone. The film changes too: which of the two films can "
                "grow?",
            ),
            (
                f"Neither: acid and peroxide are both weaker, so both take {weaker:g} × "
                f"{weaker:g} times as long.",
                f"{SIDE_BY_SIDE} The rest is the film, and the two films differ.",
            ),
        ),
        f"Strength: both are {weaker:g} times weaker, so the strength costs both alike.\n"
        "Film: bubbles stir the still bath. Fewer of them leave a thicker film. Shaking does not "
        "change with the water.\n"
        f"The model says {still} as long for the still bath and {shaken} for the shaken one.",
    )


def strong_or_weak_peroxide(weaker: float) -> Setting:
    """Ask which of two still baths slows more: with 12 % or 3 % peroxide [weaker: -]."""
    bubbling = times(cost("mild", "still", ROOMY, weaker))
    quiet = times(cost("weak", "still", ROOMY, weaker))
    return Setting(
        "Two trays stand still, with plenty of bath. One is made with 12 % peroxide and bubbles at "
        "the copper. The other is made with 3 % peroxide and hardly bubbles. Water makes both "
        f"{weaker:g} times weaker. Which one slows more, and why?",
        (
            "The one with 12 %: its bubbles had kept the film thin, and most of them go.",
            "The quiet bath has few bubbles to lose. Its film was thick before.",
        ),
        (
            (
                "The one with 3 %: a weak bath has no strength to lose.",
                f"Both lose the same share: each is {weaker:g} times weaker. Look at what else "
                "the water takes.",
            ),
            (
                "The one with 3 %: its film grows more, because it has fewer bubbles.",
                "It had few bubbles before the water too. So its film was thick already and grows "
                "less.",
            ),
            (
                f"Neither: the same water makes both {weaker:g} times weaker.",
                "That is the strength alone. One of them loses its stirring as well.",
            ),
        ),
        f"Strength: {weaker:g} times weaker in both.\n"
        "Film: the bubbles stir the one bath. Water takes most of them, so its film grows. The "
        "quiet film was thick from the start.\n"
        f"The model says {bubbling} as long with 12 % peroxide and {quiet} with 3 %.",
    )


def why_not_squared(weaker: float) -> Setting:
    """Ask why two weaker reagents do not multiply, in a shaken bath without bubbles [weaker: -]."""
    seen = times(cost("weak", "shaken", ROOMY, weaker))
    return Setting(
        "A bath with 3 % peroxide hardly bubbles. It is briskly shaken, and there is plenty of it. "
        f"Water makes acid and peroxide {weaker:g} times weaker, each of them. The board takes "
        f"about {seen} as long. Why not {weaker:g} × {weaker:g} = {weaker**2:.2f} times?",
        (
            "Both cross one film side by side, so the one that falls short sets the pace.",
            f"The one that falls short is {weaker:g} times weaker, and that counts once.",
        ),
        (
            (
                "Only the peroxide is used up. The acid just keeps things clean.",
                "Each copper takes two acid as well. Here peroxide falls short; where acid does, "
                "acid sets the pace.",
            ),
            (
                "A weaker bath bubbles more, and that makes up for one of the two.",
                "A weaker bath bubbles less. Here there are hardly any bubbles, with water or "
                "without.",
            ),
            (
                "The shaking makes up for one of the two.",
                "It is shaken just as much without the water. So shaking cannot make up for it.",
            ),
        ),
        "Each copper needs one peroxide and two acid, and both have to cross the same film.\n"
        "They do not wait for each other's turn. The one that falls short at the copper sets "
        "the pace.\n"
        f"It is {weaker:g} times weaker, and the film hardly changes here. So it takes a little "
        f"over {weaker:g} times as long; the model says {seen}.",
    )


def without_bubbles(weaker: float) -> Setting:
    """Ask why water costs less where no bubbles stir, with and without water [weaker: -]."""
    usual = times(cost("mild", "still", USUAL, weaker))
    quiet = times(cost_without_bubbles(weaker))
    return Setting(
        f"A mild bath stands still. Water makes it {weaker:g} times weaker, and the board takes "
        f"{usual} as long. In the model the stirring by bubbles can be switched off, with water "
        f"and without. Then the same water makes it take only {quiet} as long. Why?",
        (
            "Then the film is thick before the water comes, and water changes it far less.",
            "No stirring is there to be lost. What is left is mostly the strength.",
        ),
        (
            (
                "Bubbles cover the copper. Without them the etching is quicker.",
                "The other way round: without its bubbles the bath is slower, with water or not.",
            ),
            (
                "Without bubbles the water makes the bath less weak.",
                f"Strength is strength: water makes it {weaker:g} times weaker in both cases.",
            ),
            (
                "Water stirs as well as bubbles do.",
                "Water that lies there stirs nothing. The diluted bath has the thicker film.",
            ),
        ),
        f"Strength: {weaker:g} times weaker, with bubbles and without.\n"
        "Film: with bubbles it grows when water comes, because fewer bubbles stir. Without bubbles "
        "it is thick before and after.\n"
        f"So the {usual} hold strength and film, and the {quiet} mostly strength. The rest: a film "
        "that grows a little, less warmth, and a bath that runs down.",
    )


def thicker_film(weaker: float) -> Setting:
    """Ask why the film of a still mild bath grows when water is added [weaker: -]."""
    before, after = (f"{thickness / um:.0f} µm" for thickness in films(weaker))
    return Setting(
        f"A mild bath stands still. Water makes it {weaker:g} times weaker, and the film at the "
        f"copper grows from {before} to {after}. Why does it grow?",
        (
            "Less gas comes off the copper, so the liquid there is stirred less.",
            "The film is as thin as the stirring makes it.",
        ),
        (
            (
                "There is more liquid in the tray, so the film is deeper.",
                "The film is a tenth of a millimetre or a few. As much bath as you like over the "
                "copper leaves it the same.",
            ),
            (
                "Fewer acid and peroxide particles set out from the bath.",
                "That is the strength. The film is how far they have to go.",
            ),
            (
                "Water is thicker than acid and peroxide.",
                "It is not. With the stirring by bubbles switched off, water changes the film far "
                "less.",
            ),
        ),
        "The film is the liquid at the copper that hardly moves.\n"
        "In a bath that stands still, bubbles are what moves it most. They come from the peroxide, "
        "so a weaker bath makes fewer.\n"
        f"Less stirring, thicker film: {after} and not {before}.",
    )


def nearest_to_strength(weaker: float) -> Setting:
    """Ask in which bath water costs nearest to what the strength alone would [weaker: -]."""
    bubbling = times(cost("mild", "still", USUAL, weaker))
    roomy = times(cost("mild", "still", ROOMY, weaker))
    quiet = times(cost("weak", "shaken", ROOMY, weaker))
    return Setting(
        "Three baths are made with 10 % acid. Water makes each of them "
        f"{weaker:g} times weaker. In which one does the board take nearest to {weaker:g} times as "
        "long, and why?",
        (
            "3 % peroxide, briskly shaken, plenty of bath: little changes but the strength.",
            "It hardly bubbles, the shaking stays the same, and the bath hardly runs down.",
        ),
        (
            (
                "12 % peroxide, standing still: its own bubbles stir it well.",
                f"They stir it well before the water. After it they are fewer: {bubbling} as long.",
            ),
            (
                "12 % peroxide, standing still, plenty of bath: it does not run down.",
                f"Plenty of bath is not enough, the film still grows: {roomy} as long.",
            ),
            (
                f"None: two reagents are weaker, so each bath takes {weaker:g} × {weaker:g} times "
                "as long.",
                SIDE_BY_SIDE,
            ),
        ),
        f"Strength costs {weaker:g} times in each of them. So look for the bath where little else "
        "changes.\n"
        "Bubbles get fewer in a weaker bath, and a small bath runs down. Shaking does not change.\n"
        f"The model says {quiet} for the shaken bath, {bubbling} and {roomy} for the still ones.",
    )


SETTINGS: tuple[Callable[[float], Setting], ...] = (
    still_or_shaken,
    why_not_squared,
    without_bubbles,
    strong_or_weak_peroxide,
    thicker_film,
    nearest_to_strength,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
