"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...page.why import Setting
from .numbers import NEVER, STRONG_ACID, WEAK_ACID, at

ENOUGH = (1.2, 1.3, 1.4)
"""Peroxide that is enough by the equation, times the copper [-]; not the page's own."""
SCARCE = (0.7, 0.8, 0.9)
"""Peroxide that is not enough [-]."""
PLENTY = (3.0, 3.5, 4.0)
"""Peroxide to spare [-]."""
GONE = (60, 65, 70)
"""Copper gone when a bath turns brown [%]."""
GOES_ON = "When peroxide is spent, dissolved copper goes on: Cu + Cu²⁺ → 2 Cu⁺."


def enough_and_not_finished(rng: np.random.Generator) -> Setting:
    """Ask why a bath with enough peroxide does not finish; draws it, times the copper [-]."""
    times = float(rng.choice(ENOUGH))
    fates = at(times)
    never = fates.counts[NEVER]
    return Setting(
        f"A weak bath starts with peroxide for {times:g} times the copper (drawn only: the planner "
        f"refuses it). Of {fates.total} plausible baths {never} never clear. Why?",
        (
            "Part of the peroxide turns into oxygen, and brown copper cannot do all the rest.",
            "The equation counts only the peroxide that goes into copper.",
        ),
        (
            (
                "The equation is wrong: copper takes two peroxide.",
                "It is balanced: one. But not every peroxide goes into copper.",
            ),
            (
                "So weak a peroxide never etches the last bit.",
                "It does, where there is more of it. Weak makes it slow.",
            ),
            (
                "The acid runs out first.",
                f"Two acid go with each copper, and there is acid for far more than "
                f"{times:g} times.",
            ),
        ),
        "One peroxide goes with each copper, so by count it is enough.\n"
        "But part of it falls apart into oxygen. Then the bath is brown, and only goes on so far.\n"
        f"With {times:g} times that is too little in {never} of {fates.total} baths.",
    )


def clear_all_the_same(rng: np.random.Generator) -> Setting:
    """Ask what took the rest of the copper; draws how much was gone [%]."""
    gone = int(rng.choice((85, 90, 95)))
    return Setting(
        f"A bath turns brown with {gone} % of the copper gone. An hour later the board is clear. "
        "What took the rest?",
        (
            "Copper that was already dissolved in the bath.",
            "Each copper(II) takes one copper from the board, and both are copper(I) then.",
        ),
        (
            (
                "The peroxide that was left.",
                "In the model brown means that it is spent.",
            ),
            (
                "The acid alone.",
                "Acid without peroxide hardly touches copper.",
            ),
            (
                "The oxygen in the bubbles.",
                "It leaves the bath. Air does a little in hours, and the model has none.",
            ),
        ),
        f"{GOES_ON}\n"
        "Chloride holds the copper(I) in the bath.\n"
        f"Here that was enough for the last {100 - gone} %. Where more is left it is not.",
    )


def goes_on_and_stops(rng: np.random.Generator) -> Setting:
    """Ask why a brown bath stops; draws how much was gone when it turned brown [%]."""
    gone = int(rng.choice(GONE))
    return Setting(
        f"A bath of weak acid turns brown with {gone} % of the copper gone. It goes on, slower "
        "and slower, and stops before the board is clear. Why does it stop?",
        (
            "Its chloride holds no more copper(I).",
            "Two come with each copper dissolved, and chloride binds only so much.",
        ),
        (
            (
                "All its copper(II) is used up.",
                f"With {gone} % of the copper dissolved there is more of it than is left on the "
                "board.",
            ),
            (
                "Brown mud covers the copper.",
                "In the model nothing settles. It stops because no more dissolves.",
            ),
            (
                "It has cooled down.",
                "Cold slows it, but it stops in a warm room too.",
            ),
        ),
        f"{GOES_ON}\n"
        "Copper(I) dissolves only as far as chloride binds it.\n"
        "When the bath is full of it no more copper leaves the board.",
    )


def strong_acid(rng: np.random.Generator) -> Setting:
    """Ask why strong acid clears with too little peroxide; draws it, times the copper [-]."""
    times = float(rng.choice(SCARCE))
    strong, weak = at(times, STRONG_ACID), at(times, WEAK_ACID)
    return Setting(
        f"Peroxide for {times:g} times the copper. With {WEAK_ACID:g} % acid {weak.clear} of "
        f"{weak.total} plausible baths clear, with {STRONG_ACID:g} % acid {strong.clear} (both "
        "drawn only). Why?",
        (
            "More chloride holds more copper(I), so the brown bath goes on farther.",
            "It is not the acid that counts here, but the chloride in it.",
        ),
        (
            (
                "Strong acid needs less peroxide for each copper.",
                "One peroxide for each copper, in strong acid too.",
            ),
            (
                "Strong acid keeps peroxide from falling apart.",
                "Even with nothing lost there would be too little of it.",
            ),
            (
                "Strong acid dissolves copper by itself.",
                "It hardly does. Dissolved copper does, and chloride holds what comes of it.",
            ),
        ),
        f"{GOES_ON}\n"
        "It goes on as far as chloride holds the copper(I): farther with more chloride.\n"
        "That is no reason for strong acid: it fumes, and its bath gets no permission here.",
    )


def more_bath(rng: np.random.Generator) -> Setting:
    """Ask why more of the same bath finishes; draws both, times the copper [-]."""
    few, many = float(rng.choice(ENOUGH)), float(rng.choice(PLENTY))
    little, much = at(few), at(many)
    return Setting(
        f"The same weak mixture: with peroxide for {few:g} times the copper {little.counts[NEVER]} "
        f"of {little.total} plausible baths never clear (drawn only). With so much of it that "
        f"there is peroxide for {many:g} times, {much.counts[NEVER]}. Why?",
        (
            "There is more peroxide for each copper, so a part may be lost.",
            "And more chloride for each copper, so brown goes on farther too.",
        ),
        (
            (
                "More bath is stronger.",
                "It is the same mixture, as strong as before. There is more of it.",
            ),
            (
                "In more bath no peroxide is lost.",
                "Some is lost in every bath. Here it does not matter.",
            ),
            (
                "More bath presses harder on the copper.",
                "A little more depth does nothing. What counts is how much there is of each.",
            ),
        ),
        "The board has as much copper as before.\n"
        f"With peroxide for {many:g} times, most of it could be lost and enough would be left.\n"
        f"So {much.counts[NEVER]} never clear, and not {little.counts[NEVER]}.",
    )


def quiet_bath(rng: np.random.Generator) -> Setting:
    """Ask why a quiet brown bath is not closed; draws how long it has been quiet [h]."""
    hours = int(rng.choice((2, 3, 5)))
    return Setting(
        f"A brown bath has been quiet for {hours} hours: no bubble is seen. Why must nobody "
        "close it in a bottle?",
        (
            "Quiet is no proof: it may give off gas for days.",
            "Closed bottles have burst. It stays open, labelled, and fenced off.",
        ),
        (
            (
                "Brown baths turn solid in a bottle.",
                "They do not. It is the gas that bursts bottles.",
            ),
            (
                "Brown shows how much gas is still to come.",
                "Brown is a colour. Nobody sees by it what is left, and acid and copper are.",
            ),
            (
                "It would no longer etch the next board.",
                "Nor should it: a bath is for one board, and then it is waste.",
            ),
        ),
        "In the model brown means that peroxide is spent; a real bath is not so even.\n"
        "What is left of it falls apart slowly and makes oxygen.\n"
        "So a used bath is never closed, whatever its colour. How it goes to waste: the cautions.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    enough_and_not_finished,
    goes_on_and_stops,
    strong_acid,
    clear_all_the_same,
    more_bath,
    quiet_bath,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
