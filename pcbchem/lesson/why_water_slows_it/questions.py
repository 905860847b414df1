"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

from functools import cache

import numpy as np

from ...bench.plan.dilution import Dilution, dilution
from ...common.arrays import FloatArray
from ...common.limits import collecting_warnings
from ...common.units import mL, percent, um
from ...matter.solution import Solution, mix
from ...page.answers import Question
from ...reaction.bath.bath import etch
from ...reaction.bath.setup import Tray
from ..review_questions import ACID, ROOM, strength_question
from ..sheet import Sheet, apart, ask_sheet
from ..workshop import bath, tide_clock
from . import why_questions

WHOLE, THIN = 1.0, 0.5
"""Foil of the board and of the offcuts [oz/ft²]."""
WATER = np.concatenate([[0.0], np.arange(5, 19) / 10])
"""Parts of water in the baths of the question on time [-], to one of acid and one of peroxide."""
PEROXIDE = np.arange(16, 25) / 2
"""Strengths of their peroxide [% by weight]."""
VOLUME = np.arange(120, 185, 5) * mL
"""Volumes of these baths [m³]."""
PRINTED, NEAR = 2.0, 0.045
"""How many times weaker the bath is whose film the page shows, and how near is as good [-].

Never asked for: the questions can be read before the page's own answer is.
"""
WEAKER = np.arange(170, 501) / 100
"""How many times weaker the question on the film may make the bath [-].

With less water than that, strength and film are too alike to tell one slip from the other.
"""
STRENGTH_ALONE = (
    "Strength alone would give that: you multiplied by how many times weaker the bath is. The "
    "offcuts say what the water really costs."
)
POINT_FOR_COLON = (
    "You took seconds for hundredths of a minute. 3 min 40 s is not 3.40 min: 40 s are 40 ÷ 60 of "
    "a minute, so it is 3.67 min. Or count in seconds."
)


def stopwatch(seconds: float) -> str:
    """Say a time [s] as a stopwatch does: "3 min 40 s"."""
    minutes, rest = divmod(round(seconds), 60)
    parts = []
    if minutes:
        parts.append(f"{minutes} min")
    if rest or not minutes:
        parts.append(f"{rest} s")
    return " ".join(parts)


def point_for_colon(seconds: float) -> float:
    """Return a time [s] as who reads 3 min 40 s as 3.40 min takes it [s]."""
    minutes, rest = divmod(round(seconds), 60)
    return 60 * (minutes + rest / 100)


@cache
def still_bath() -> Dilution:
    """Return what water does to the film of the workshop's mild bath that stands still.

    Over no water, and then over `WEAKER`.
    """
    # equal parts: each two parts of water make it once more as much
    water = np.concatenate([[0.0], 2 * (WEAKER - 1)])
    with collecting_warnings():
        return dilution(bath("mild", agitation="still"), water)


@cache
def times_to_clear(ounces: float) -> FloatArray:
    """Return what a stopwatch would say of boards by the model's default values [s], to 5 s.

    In a bath that stands still, over `WATER`, `PEROXIDE` and `VOLUME`; foil in ounces [oz/ft²].
    """
    water = WATER[:, None, None]
    part = VOLUME / (water + 2)
    mixture = mix(
        Solution.of(volume=part * water, T=ROOM),
        Solution.of(volume=part, T=ROOM, HCl=ACID),
        Solution.of(volume=part, T=ROOM, H2O2=percent(PEROXIDE[:, None])),
    )
    tray = Tray(agitation="still", facing="up", T_air=ROOM)
    run = etch(mixture, tide_clock(ounces), tray)
    # nobody sees the last copper go more exactly than that
    return 5 * np.round(np.asarray(run.time_to_clear) / 5)


@apart
def film_question(rng: np.random.Generator) -> Question:
    """Ask how many times less copper leaves when a bath is weaker and its film thicker.

    Parameters
    ----------
    rng : Generator
        Draws how many times weaker the bath is [-].

    Returns
    -------
    Question
        Answer [-] from the numbers it prints: those of the workshop's mild bath, rounded.
    """
    film = still_bath().film
    weaker = float(rng.choice(WEAKER[abs(WEAKER - PRINTED) > NEAR]))
    place = still_bath().at(2 * (weaker - 1))
    thin = round(float(film["thickness"][0]) / um)
    thick = round(float(film["thickness"][place]) / um)
    # said at the end of the explanation, never asked for
    exact = float(film["copper"][0] / film["copper"][place])
    # the answer is worked out from the numbers that are printed, as a learner does it
    thicker = thick / thin
    answer = weaker * thicker
    return Question(
        "film",
        f"A mild bath that stands still is made {weaker:g} times weaker with water. Its film, the "
        f"still liquid at the copper, grows from {thin} µm to {thick} µm. How many times less "
        "copper leaves each second when the board goes in?",
        "ratio",
        "timesless",
        answer,
        0.03,
        film_slips(weaker, thicker),
        f"Strength: the bath is {weaker:g} times weaker, so {weaker:g} times less acid and "
        "peroxide set out across the film.\n"
        f"Film: {thick} ÷ {thin} = {thicker:.2f} times thicker. The way across is that many times "
        "longer, so that many times less arrives in a second.\n"
        f"Both at once: {weaker:g} × {thicker:.2f} = {weaker * round(thicker, 2):.2f} times less.\n"
        f"The model counts a little more than these two and says {exact:.2f}. Later the bath also "
        "runs down and warms less; that is not in this number.",
        subject="copper",
        given=f"{weaker:g}; {thin}, {thick} µm",
    )


def film_slips(weaker: float, thicker: float) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [-], from times weaker and times thicker [-]."""
    return (
        (
            weaker + thicker,
            "You added. The film makes less of what is already less: a half of a half is a "
            "quarter. Multiply the two.",
        ),
        (
            weaker + thicker - 1,
            "You added the two losses up. The film takes its share of what the strength has left "
            "over, not of the whole. Multiply the two.",
        ),
        (
            weaker,
            "That is strength alone. The film is thicker too, so acid and peroxide have "
            "farther to go: multiply by how many times thicker.",
        ),
        (
            thicker,
            "That is the film alone. The bath is weaker too, so less sets out across the "
            "film: multiply by how many times weaker.",
        ),
        (
            weaker**2,
            "You counted the strength twice, once for the acid and once for the peroxide. They "
            "cross side by side: it counts once, and the film comes on top.",
        ),
        (
            weaker / thicker,
            "You divided by the film. A thicker film is a longer way, so still less arrives: "
            "multiply.",
        ),
        (
            1 / (weaker * thicker),
            "That is what is left, as a part of what left before. How many times less is it? "
            "Divide 1 by it.",
        ),
    )


@apart
def time_question(rng: np.random.Generator) -> Question:
    """Ask how long a board takes in a diluted bath, from two offcuts timed in both baths.

    Parameters
    ----------
    rng : Generator
        Draws the water [parts], the peroxide [% by weight] and the volume [m³].

    Returns
    -------
    Question
        Answer [s]: all times are those of the model, rounded as on a stopwatch.
    """
    # the first of `WATER` is none
    part = int(rng.integers(1, WATER.size))
    strength = int(rng.integers(PEROXIDE.size))
    volume = int(rng.integers(VOLUME.size))
    board = float(times_to_clear(WHOLE)[0, strength, volume])
    before = float(times_to_clear(THIN)[0, strength, volume])
    after = float(times_to_clear(THIN)[part, strength, volume])
    # said at the end of the explanation, never asked for
    exact = float(times_to_clear(WHOLE)[part, strength, volume])
    # two parts without water, so half a time weaker for each part of it
    weaker = round(1 + float(WATER[part]) / 2, 2)
    ratio = after / before
    longer = board * round(ratio, 2)  # as the explanation goes on with the ratio it has printed
    return Question(
        "time",
        f"A mild bath that stands still etches the bare copper off a board in {stopwatch(board)}. "
        "In a bath of that kind an offcut, a scrap of board, as large but with thinner copper, "
        f"takes {before:.0f} s. In a second, fresh bath, with so much water that acid and peroxide "
        f"are {weaker:g} times weaker, another such offcut takes {after:.0f} s. If the board "
        "slows down as the offcuts did, how long will it take in a fresh bath of the second kind, "
        "in minutes?",
        "time",
        "min",
        board * ratio,
        0.02,
        time_slips(board, before, after, weaker),
        f"The offcuts: {after:.0f} s ÷ {before:.0f} s = {ratio:.2f} times as long.\n"
        f"The board: {stopwatch(board)} × {ratio:.2f} = {board:.0f} s × {ratio:.2f} = "
        f"{longer:.0f} s, that is {longer / 60:.1f} min.\n"
        f"Strength alone would give × {weaker:g} and only {board * weaker / 60:.1f} min.\n"
        f"For the board itself the model says {exact / 60:.1f} min. It has more copper than the "
        "offcut. That warms the undiluted bath more and runs the diluted one down more.\n"
        "All these times were computed by the model of this page, not measured: they are as sure "
        "as the model is.",
        given=f"{stopwatch(board)}; {before:.0f}, {after:.0f} s; {weaker:g}",
    )


def time_slips(
    board: float, before: float, after: float, weaker: float
) -> tuple[tuple[float, str], ...]:
    """Return what known slips lead to [s], from the times [s] and how many times weaker [-]."""
    ratio = after / before
    return (
        # the offcuts are timed in seconds alone: there is one way only to make this slip
        (point_for_colon(board) * ratio, POINT_FOR_COLON),
        (
            board + after - before,
            "You added the minutes that the offcut lost. The board has more copper, so it loses "
            "more: multiply by how many times as long the offcut took.",
        ),
        (board * weaker, STRENGTH_ALONE),
        (
            board * weaker**2,
            "You counted the strength twice, once for the acid and once for the peroxide. The "
            "offcuts say what the water really costs.",
        ),
        # all right but for the unit: a bare number counts in minutes
        (60 * board * ratio, "Those are seconds. In minutes: divide by 60."),
        # the ratio alone, written down as minutes
        (60 * ratio, "That is how many times longer. Times which time?"),
        (board / ratio, "You divided. The diluted bath is slower, so the board takes longer."),
        (
            board * ratio * weaker,
            "You multiplied by the strength as well. The ratio of the two offcuts already "
            "holds everything that the water does.",
        ),
    )


def water_questions(seed: int) -> Sheet:
    """Ask film and strength, time, why, back to bottles; see `ask_sheet`.

    Examples
    --------
    >>> print([question.key for question in water_questions(1)])
    ['film', 'time', 'why', 'strength']
    """
    own = film_question, time_question
    # of the earlier ones the one that names no amount: a class sees none on this page
    return ask_sheet(seed, own, why_questions.SETTINGS, strength_question, why_questions.WEAKER)
