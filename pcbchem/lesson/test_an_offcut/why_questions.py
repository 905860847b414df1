"""The questions of "check yourself" that ask why: six settings."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...page.why import Setting

EVERY = (3, 4, 5)
"""How often somebody looks who does not watch [min]."""
MANY = (8, 10, 12)
"""Offcuts of one bench [-]."""
AREAS = (2, 3, 5)
"""Small offcuts [cm²]."""
STEP = "The step from offcut to board stays, however many there are."


def small_ones(rng: np.random.Generator) -> Setting:
    """Ask why many small offcuts tell so little; draws how many [-] and how large [cm²]."""
    many, area = int(rng.choice(MANY)), int(rng.choice(AREAS))
    return Setting(
        f"{many} offcuts of {area} cm², each in a dish of its own, hardly narrow the band of a "
        "board in its tray. Why?",
        (
            "Their dish and their size are not the board's, and all of them share that.",
            "What all have alike no number of them evens out.",
        ),
        (
            (
                "Each of them was timed badly.",
                "They were timed as well as large ones.",
            ),
            (
                "So little copper tells nothing about acid and peroxide.",
                "It tells as much of the bottles. They are only a part of the doubt.",
            ),
            (
                "There are too few of them.",
                "Twice as many would hardly help.",
            ),
        ),
        f"{STEP}\nFrom a small dish to the tray it is large.\n"
        "So the times agree well with each other, and the board may still be elsewhere.",
    )


def one_more(rng: np.random.Generator) -> Setting:
    """Ask why one more offcut hardly pays; draws how many there are [-]."""
    many = int(rng.choice(MANY))
    return Setting(
        f"On one bench {many} large offcuts have been etched like the board. One more would hardly "
        "narrow the band. Why?",
        (
            "What is left is the step from offcut to board, and one more does not change it.",
            "Only the board itself could.",
        ),
        (
            (
                "The bottles are spent by then.",
                "Each offcut has a fresh bath.",
            ),
            (
                "The stopwatch gets worse.",
                "It is as good as at first.",
            ),
            (
                "By then the page knows the board's time.",
                "There is still a band: the step is in doubt.",
            ),
        ),
        f"Chance in the times evens out: over {many} of them little is left.\n{STEP}\n"
        "So the band has an end that offcuts do not pass.",
    )


def late_times(rng: np.random.Generator) -> Setting:
    """Ask why late times make no wider band; draws how often somebody looks [min]."""
    interval = int(rng.choice(EVERY))
    return Setting(
        f"Somebody looks at each offcut every {interval} min only and writes down when it was "
        "first seen clear. The band comes out narrow all the same. Why?",
        (
            "The page knows only what is written down, and takes it for good.",
            "How it was timed stands in no number.",
        ),
        (
            (
                "Such times are as good as others.",
                "Each is late. The band is narrow and too often wrong.",
            ),
            (
                "Over many offcuts it evens out.",
                "Chance does. These are all late.",
            ),
            (
                "The page corrects for the delay.",
                "It knows of none.",
            ),
        ),
        f"A look each {interval} min comes up to {interval} min late, and never too soon.\n"
        "The page cannot see that.\nIt narrows as always, about a time that is too long.",
    )


def bottles_exact(rng: np.random.Generator) -> Setting:
    """Ask why exact bottles leave a wide band; draws how exact the sum is [%]."""
    exact = float(rng.choice((0.1, 0.2, 0.5)))
    return Setting(
        f"Both bottles are measured to {exact:g} %. The band of the board keeps much of its "
        "width. Why?",
        (
            "Most of the doubt is in other things: tray, hand, numbers that nobody has measured.",
            "Those no bottle tells.",
        ),
        (
            (
                "The measurement is not exact enough.",
                "Exact to the last digit it would still be wide.",
            ),
            (
                "Labels are never wrong.",
                "They are in doubt too. But that is the smaller part.",
            ),
            (
                "A mild bath does not depend on its bottles.",
                "It does. They are known now: the rest is left.",
            ),
        ),
        "A band holds every doubt at once.\nKnown bottles take one of them away.\n"
        "What nobody has measured in the tray is the larger part.",
    )


def half_way(rng: np.random.Generator) -> Setting:
    """Ask why the middle between two looks is better; draws how often somebody looks [min]."""
    interval = int(rng.choice(EVERY))
    return Setting(
        f"Somebody looks every {interval} min. At one look the offcut is not clear, at the next it "
        "is. Why write down the time half-way between them?",
        (
            "It is then too soon as often as too late, and that evens out.",
            "What is left is chance.",
        ),
        (
            (
                "Then the time is exact.",
                f"It may still be {interval / 2:g} min off.",
            ),
            (
                "The page asks for round numbers.",
                "It takes any time.",
            ),
            (
                "It makes the band as wide as it should be.",
                "Its width hardly changes. It lies in a better place.",
            ),
        ),
        f"It was clear at some moment of these {interval} min.\n"
        "The second look is later than that moment each time.\n"
        "The middle is not: over several offcuts it evens out.",
    )


def old_bottle(rng: np.random.Generator) -> Setting:
    """Ask what to measure first with an old bottle; draws its doubt [%]."""
    low, high = ((2, 10), (3, 9), (4, 12))[int(rng.integers(3))]
    return Setting(
        f"The peroxide stood open for years: {low} to {high} %, nobody knows. Why measure it "
        "before any offcut is etched?",
        (
            "Here the bottle is the largest doubt, and bath and cautions hang on it.",
            "A bath is planned by what may be in the bottle.",
        ),
        (
            (
                "An offcut tells nothing of such a bottle.",
                "It tells something. But first the bath has to be judged.",
            ),
            (
                "Old peroxide does not etch.",
                "It may, at any strength in between.",
            ),
            (
                "Measured bottles always beat offcuts.",
                "With good labels it is the other way round.",
            ),
        ),
        "Which doubt is largest differs from bench to bench.\n"
        f"From {low} to {high} % is more than all else in the tray.\n"
        "So the bottle comes first here, and the offcut after it.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    late_times,
    small_ones,
    half_way,
    bottles_exact,
    one_more,
    old_bottle,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
