"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...common.units import minute, mm, um
from ...page.why import Setting
from ...reaction.trace import measured_factor, widths
from .numbers import DRAWN, LINES, MILD, course, thickness
from .words import OUNCE_WORDS, width_words

FACTORS = (1.2, 1.3, 1.6, 1.8)
"""Etch factors of the settings [-]; not the page's own."""
DRAWN_WIDTHS = (0.25, 0.30, 0.35)
"""Traces drawn there [mm]."""
OVERS = (25, 50)
"""Over-etch there [%]."""
SIDEWAYS = "The bath eats sideways from the first second, from both edges."


def left(drawn: float, foil: float, factor: float, over: float = 0.0) -> str:
    """Write what is left of a trace under the resist [m in, mm out]; factor, over-etch [-]."""
    return width_words(float(widths(drawn, foil, factor, over).top), 2)


def punctual(rng: np.random.Generator) -> Setting:
    """Ask why a board on time is narrower than drawn; draws width [mm] and factor [-]."""
    drawn, factor = float(rng.choice(DRAWN_WIDTHS)), float(rng.choice(FACTORS))
    width = left(drawn * mm, thickness(), factor)
    return Setting(
        f"A board comes out the very second it is clear. A trace drawn {drawn:.2f} mm wide is "
        f"{width} mm wide under the resist. Why?",
        (
            "While the bath ate down through the foil it also ate sideways.",
            "That began in the first second, not when the board was clear.",
        ),
        (
            (
                "It was in too long after all.",
                "It came out to the second. The loss is there by then.",
            ),
            (
                "The resist was drawn too narrow.",
                f"It is as wide as drawn, {drawn:.2f} mm. The copper under it is narrower.",
            ),
            (
                "The resist let go at its edges.",
                "It may, and then more is lost. It need not for this.",
            ),
        ),
        f"{SIDEWAYS}\nDown it goes {factor:g} times as fast as sideways.\n"
        f"So a trace drawn {drawn:.2f} mm wide is {width} mm when the foil is through.",
    )


def thin_and_late(rng: np.random.Generator) -> Setting:
    """Ask why thin foil late beats thick foil on time; draws the lateness [min]."""
    late = float(rng.choice((1.0, 1.5, 2.0)))
    thin, thick = course(), course(MILD, 2.0)
    late_width = width_words(float(thin.late(late * minute).middle), 2)
    width = width_words(float(thick.late(0.0).middle), 2)
    slow, quick = (float(foil.clear.middle) / minute for foil in (thick, thin))
    return Setting(
        f"Two traces are drawn {width_words(DRAWN, 2)} mm wide. On {OUNCE_WORDS[2.0]} foil, out to "
        f"the second, {width} mm is left. On {OUNCE_WORDS[1.0]} foil, {late:g} min too late, "
        f"{late_width} mm is left. Why is the late one wider?",
        (
            "It was in the bath for less time in all.",
            "Each minute costs about the same, and thick foil needs more of them.",
        ),
        (
            (
                "Over-etching does not narrow a trace on thin foil.",
                "It does, by as much a minute as on thick foil.",
            ),
            (
                "Thin foil is etched by a weaker bath.",
                "It is the same bath.",
            ),
            (
                "Resist holds better on thin foil.",
                "Nothing here says so. The same resist covers both.",
            ),
        ),
        f"{SIDEWAYS}\nA minute costs about as much on either foil.\n"
        f"{OUNCE_WORDS[2.0]} needs {slow:.1f} min, {OUNCE_WORDS[1.0]} {quick:.1f}. {late:g} min "
        "late it is still out sooner.",
    )


def from_above(rng: np.random.Generator) -> Setting:
    """Ask why a trace looks as drawn from above; draws width [mm] and factor [-]."""
    drawn, factor = float(rng.choice(DRAWN_WIDTHS)), float(rng.choice(FACTORS))
    width = left(drawn * mm, thickness(), factor)
    return Setting(
        f"Just clear, resist off: from above a trace drawn {drawn:.2f} mm wide measures "
        f"{drawn:.2f} mm. In a cut it is {width} mm wide at the top. How can that be?",
        (
            "From above one sees its foot, which is still as wide as drawn.",
            "The walls lean: the top has been in the bath from the start, the foot only now.",
        ),
        (
            (
                "The cut was made at a bad place.",
                "It is so all along the trace.",
            ),
            (
                "Nothing has been lost: the cut is wrong.",
                "The top is narrower. Its foot hides that.",
            ),
            (
                "The copper has swollen at the board.",
                "Copper does not swell. It is what is left of the foil.",
            ),
        ),
        "Just under the resist the bath has eaten sideways all the time.\n"
        "On the board it has only just arrived.\n"
        f"So the wall leans, from {width} mm at the top to {drawn:.2f} mm at the foot.",
    )


def strong_bath(rng: np.random.Generator) -> Setting:
    """Ask why a quicker bath costs no more to the second; draws width [mm] and factor [-]."""
    drawn, factor = float(rng.choice(DRAWN_WIDTHS)), float(rng.choice(FACTORS))
    width = left(drawn * mm, thickness(), factor)
    return Setting(
        "A strong bath, only drawn here, clears a board in half the time of a mild one. Both "
        f"etch {factor:g} times as fast down as sideways. To the second both leave {width} mm of "
        f"{drawn:.2f}. Why does the strong one not cost more?",
        (
            "It is quicker down as well as sideways, so it has less time for the side.",
            "To the second only foil and factor count. What it costs you is heat and chlorine.",
        ),
        (
            (
                "Strong baths etch straight down.",
                "Both have the same factor here: as much sideways for each step down.",
            ),
            (
                "The resist holds the strong bath off longer.",
                "It covers the top in both. The bath comes from the side.",
            ),
            (
                "It is used up when it comes to the side.",
                "It eats sideways from the first second.",
            ),
        ),
        "Sideways at each edge it is the foil over the factor, "
        f"{thickness() / um:.0f} ÷ {factor:g} µm.\n"
        "There are no minutes in that.\n"
        f"So both leave {width} mm. A minute too long is another matter.",
    )


def fine_lines(rng: np.random.Generator) -> Setting:
    """Ask why the finest line goes first; draws which wider line is beside it [m]."""
    wide = float(rng.choice(LINES[2:]))
    fine = LINES[0]
    lost = float(rng.choice((60, 80, 100)))
    return Setting(
        f"A board was left in too long. A line drawn {width_words(wide, 2)} mm wide has lost "
        f"{lost:.0f} µm and still stands. What has happened to one drawn {width_words(fine, 2)} "
        "mm, and why?",
        (
            f"It has lost {lost:.0f} µm too: only {fine / um - lost:.0f} µm are left.",
            "Each edge is eaten as fast, whatever lies between the two.",
        ),
        (
            (
                "It has lost the same share, and stands as well.",
                "The bath takes as many µm from a fine line as from a wide one.",
            ),
            (
                "It has lost less: there is less copper to eat.",
                "The bath eats at the edges, and both lines have two.",
            ),
            (
                "Nothing: fine lines clear last.",
                "What clears is the copper beside them.",
            ),
        ),
        f"{SIDEWAYS}\nThe edges do not know how wide the line is.\n"
        f"So {lost:.0f} µm are gone from both: the fine line is nearest to being lost.",
    )


def measured_later(rng: np.random.Generator) -> Setting:
    """Ask why a factor comes out lower on a finished board; draws factor [-] and over-etch [%]."""
    factor, over = float(rng.choice(FACTORS)), int(rng.choice(OVERS))
    found = float(measured_factor(factor, over / 100))
    return Setting(
        f"To the second a bath has eaten {factor:g} times as far down as sideways. A board that "
        f"stays in {over} % longer is measured: foil over undercut is {found:.2f}. Why less?",
        (
            "Sideways it went on, and down there was no copper left to eat.",
            "So a factor from a finished board is lower than that at clearing.",
        ),
        (
            (
                "The bath gets worse with time.",
                "It may be the same bath: sideways alone goes on after clearing.",
            ),
            (
                "The foil was thinner there.",
                "It is the same foil. The undercut is larger.",
            ),
            (
                "Resist grows when it is wet.",
                "It stays as drawn. The copper under it gets narrower.",
            ),
        ),
        "Depth stops at the board: it is the foil's thickness.\n"
        f"The undercut goes on, by {over} % here.\n"
        f"So {factor:g} ÷ {1 + over / 100:g} = {found:.2f}.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    punctual,
    measured_later,
    fine_lines,
    from_above,
    thin_and_late,
    strong_bath,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
