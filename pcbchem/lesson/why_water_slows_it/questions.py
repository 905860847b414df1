"""The questions of "check yourself": numbers from a seed, answers computed when they are asked."""

from __future__ import annotations

from functools import cache

import numpy as np

from ...common.limits import InputError
from ...common.units import mL, um
from ...page.answers import Question
from ...reaction.bath.bath import etch
from ...reaction.bath.setup import Tray
from ..review_questions import REVIEW_QUESTIONS, ROOM, MildBath, apart
from ..workshop import tide_clock
from .numbers import QUESTION, course

THIN = 0.5
"""Foil of the offcuts [oz/ft²]."""
TENTHS = tuple(range(round(10 * QUESTION) + 1, 41))
"""Tenths of a part of water that the question on the film is about [-].

More than the page prints the answer of: with less water strength and film are too alike to tell
one slip from the other.
"""
STRENGTH_ALONE = (
    "Strength alone would give that: you multiplied by how many times weaker the bath is. The "
    "offcuts say what the water really costs."
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


@cache
def time_to_clear(bath: MildBath, ounces: float) -> float:
    """Return what a stopwatch would say of a board by the model's default values [s], to 5 s."""
    tray = Tray(agitation="rocked", facing="up", T_air=ROOM)
    run = etch(bath.mixed(), tide_clock(ounces), tray)
    # nobody sees the last copper go more exactly than that
    return 5 * round(float(run.time_to_clear) / 5)


@apart
def film_question(rng: np.random.Generator) -> Question:
    """Ask how many times less copper leaves when a bath is weaker and its film thicker.

    Parameters
    ----------
    rng : Generator
        Draws the parts of water [-].

    Returns
    -------
    Question
        Answer [-] from the numbers it prints: those of the workshop's mild bath, rounded.
    """
    mild = course("mild")
    place = int(rng.choice(TENTHS))
    thin = round(float(mild.film["thickness"][0]) / um)
    thick = round(float(mild.film["thickness"][place]) / um)
    # the answer is worked out from the numbers that are printed, as a learner does it
    weaker = round(float(mild.weaker[place]), 2)
    # said at the end of the explanation, never asked for
    exact = float(mild.film["copper"][0] / mild.film["copper"][place])
    thicker = thick / thin
    answer = weaker * thicker
    return Question(
        "film",
        f"A mild bath is made {weaker:g} times weaker with water. Its film, the still liquid at "
        f"the copper, grows from {thin} µm to {thick} µm. How many times less copper leaves each "
        "second when the board goes in?",
        "ratio",
        "timesless",
        answer,
        0.03,
        (
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
                1 / answer,
                "That is what is left, as a part of what left before. How many times less is it? "
                "Divide 1 by it.",
            ),
        ),
        f"Strength: the bath is {weaker:g} times weaker, so {weaker:g} times less acid and "
        "peroxide set out across the film.\n"
        f"Film: {thick} ÷ {thin} = {thicker:.2f} times thicker. The way across is that many times "
        "longer, so that many times less arrives in a second.\n"
        f"Both at once: {weaker:g} × {thicker:.2f} = {weaker * round(thicker, 2):.2f} times less.\n"
        f"The model counts a little more than these two and says {exact:.2f}. Later the bath also "
        "runs down and warms less; that is not in this number.",
        subject="copper",
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
    water = float(rng.choice(np.arange(8, 21, 2))) / 10
    peroxide = float(rng.choice((10, 11, 12)))
    volume = 10 * mL * int(rng.integers(12, 19))
    strong = MildBath((0.0, 1.0, 1.0), peroxide, volume)
    weak = MildBath((water, 1.0, 1.0), peroxide, volume)
    board = time_to_clear(strong, 1.0)
    before, after = time_to_clear(strong, THIN), time_to_clear(weak, THIN)
    # two parts without water, so half a time weaker for each part of it
    weaker, ratio = 1 + water / 2, after / before
    longer = board * round(ratio, 2)  # as the explanation goes on with the ratio it has printed
    return Question(
        "time",
        f"A mild bath etches the bare copper off a board in {stopwatch(board)}. You time an offcut "
        f"as large, with thinner copper, in a bath of that kind: {stopwatch(before)}. In a second, "
        f"fresh bath, mixed with water so that acid and peroxide are {weaker:.1f} times weaker, "
        f"another such offcut takes {stopwatch(after)}. If the board slows down as the offcuts "
        "did, how long will it take in a fresh bath of the second kind, in minutes?",
        "time",
        "min",
        board * ratio,
        0.03,
        (
            (board * weaker, STRENGTH_ALONE),
            # the ratio alone, written down as minutes
            (60 * ratio, "That is how many times longer. Times which time?"),
            (board / ratio, "You divided. The diluted bath is slower, so the board takes longer."),
            (
                board * ratio * weaker,
                "You multiplied by the strength as well. The ratio of the two offcuts already "
                "holds everything that the water does.",
            ),
        ),
        f"The offcuts: {stopwatch(after)} ÷ {stopwatch(before)} = {after:.0f} s ÷ {before:.0f} s = "
        f"{ratio:.2f} times as long.\n"
        f"The board: {stopwatch(board)} × {ratio:.2f} = {board:.0f} s × {ratio:.2f} = "
        f"{longer:.0f} s, that is {longer / 60:.1f} min.\n"
        f"Strength alone would give × {weaker:.1f} and only {board * weaker / 60:.1f} min.\n"
        "All three times were computed by the model of this page, not measured: they are as sure "
        "as the model is.",
    )


def water_questions(seed: int) -> list[Question]:
    """Ask three questions for the page on why water slows the etching.

    Parameters
    ----------
    seed : int
        Makes the numbers [-], 0 or more; the last question goes by it in turn.

    Returns
    -------
    list of Question
        Film and strength, then time; the third goes back to an earlier lesson.

    Raises
    ------
    InputError
        A seed that is no whole number from 0.

    Examples
    --------
    >>> print([question.key for question in water_questions(1)])
    ['film', 'time', 'strength']
    """
    is_whole = isinstance(seed, int | np.integer) and not isinstance(seed, bool)
    if not is_whole or seed < 0:
        rule = "it must be a whole number from 0"
        raise InputError("seed", rule, value=seed, about=f" = {seed!r}")
    # one generator for all three: the same seed asks the same sheet again
    rng = np.random.default_rng(seed)
    return [
        film_question(rng),
        time_question(rng),
        REVIEW_QUESTIONS[seed % len(REVIEW_QUESTIONS)](rng),
    ]
