"""Page 04's panel: water on a slider, time against strength and the film; the answer waits."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ...bench.plan.dilution import WATER, Dilution
from ...common.number_words import figures
from ...common.units import mL
from ...page.picture import INK, NARROW, WIDE, Drawing, figure
from ...page.row_chart import SIZE, SMALL
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ..pages import PLANNER_PAGE
from ..workshop import BOTTLES, PAIRS, ROOMY, USUAL, bath
from .numbers import QUESTION, course
from .picture import ARROWS, AtCopper, Curve, Film, Places, Strengths
from .words import (
    Mark,
    Words,
    answer_words,
    first_words,
    guess_words,
    measured_marks,
    question_words,
    trade_marks,
)

if TYPE_CHECKING:
    from ...page.widget.prediction import Prediction


@dataclasses.dataclass(frozen=True)
class Guess:
    """An answer to choose from, how many times longer: lowest and highest factor [-], and words."""

    low: float
    high: float
    words: str


ANSWERS = {
    "1.3": Guess(1.3, 1.3, "×1.3"),
    "1.6": Guess(1.6, 1.6, "×1.6"),
    "1.6-1.9": Guess(1.6, 1.9, "×1.6–1.9"),
    "2-4": Guess(2.0, 4.0, "×2–4"),
    "6-7": Guess(6.0, 7.0, "×6–7"),
}
"""Every answer of the page, by key."""
GUESSES = {key: ANSWERS[key].words for key in ("1.3", "1.6", "2-4", "6-7")}
"""The answers to the first question, key and words."""
GUESSES_AGAIN = {key: ANSWERS[key].words for key in ("1.3", "1.6-1.9", "2-4", "6-7")}
"""The same where the answer lies near strength alone."""
COMPUTED = (
    "<p>Computed, with a share of gas that nobody has measured. Grey marks are other mixtures, for "
    "comparison: the two measured ones hardly bubble.</p>"
)
"""What has to stand under the curve from the start."""
# by eye, clear of the curve and of the grey marks: change one and look at both widths
PLACES = {
    "mild": Places((0.62, 4500), (1.6, 115)),
    "strong": Places((0.78, 2600), (0.72, 34)),
    "weak": Places((0.78, 680), (0.215, 1700)),
}
"""Where the words of the curve of each pair of bottles stand."""
TO_PLANNER = "Take this bath to the planner (choose Run All Cells there)"
LOOKING = "-"
"""The prediction of a reader who looks without one, as `Prediction` has it."""


def water_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of time against strength, with water on a slider and the film at the copper.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it; it has the answers of `GUESSES`. None: everything is shown.

    Returns
    -------
    Panel
        With a link that takes the bath on its slider to the planner; bottles that are only drawn
        have none.
    """
    return curve_panel("Water and time", prediction, tuple(PAIRS), USUAL)


def roomy_panel(prediction: Prediction | None = None) -> Panel:
    """Make the same panel for weak peroxide and so much bath that it hardly weakens."""
    return curve_panel("Water and time in a roomy tray", prediction, ("weak",), ROOMY)


def curve_panel(
    title: str, prediction: Prediction | None, pairs: Sequence[str], room: float
) -> Panel:
    """Make a panel for some pairs of bottles, and so much bath over the copper [m³/m²]."""
    controls: list[Slider | Choice] = [
        Slider("water", "Water", "parts", float(WATER[0]), float(WATER[-1]), 0.1, 0.0)
    ]
    # a choice of one would be no choice; `show` and `fill` then get no `bottles`
    if len(pairs) > 1:
        words = {name: PAIRS[name].words for name in pairs}
        controls.append(Choice("bottles", BOTTLES, words, pairs[0]))

    def show(
        drawing: Drawing, water: float, bottles: str = pairs[0], predicted: str | None = LOOKING
    ) -> PanelWords:
        # the reader guessed about the first bottles, at the question's parts of water
        guess = None
        if predicted in ANSWERS and bottles == pairs[0]:
            guess = ANSWERS[predicted]
        # None: the question waits; the panel itself says when there is no prediction to wait for
        return say(drawing, course(bottles, room), water, bottles, predicted is not None, guess)

    def fill(water: float, bottles: str = pairs[0]) -> dict[str, Any]:
        return planner_values(water, bottles, room)

    return Panel(
        title, controls, build, show, prediction=prediction, link=(TO_PLANNER, PLANNER_PAGE, fill)
    )


def build(narrow: bool) -> Drawing:
    """Make the two pictures beside each other, or one under the other on a telephone."""
    if narrow:
        size, title_lines = SMALL, "\n"
        sheet = figure(6.6, NARROW)
        boxes = sheet.subplots(2, 1, height_ratios=(3.6, 2.5))
    else:
        size, title_lines = SIZE, " "
        sheet = figure(3.7, WIDE)
        boxes = sheet.subplots(1, 2, width_ratios=(66, 34))
    strengths = Strengths(boxes[0], measured_marks(), trade_marks(), size, narrow)
    film = AtCopper(boxes[1], size)
    # lines without words keep the place of the title when everything is laid out
    title = sheet.suptitle(
        title_lines, x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK
    )
    moving = (*strengths.moving, *film.moving, title)
    return Drawing(sheet, moving, strengths=strengths, film=film, title=title, narrow=narrow)


def say(
    drawing: Drawing,
    dilution: Dilution,
    water: float,
    bottles: str,
    known: bool,
    guess: Guess | None,
) -> PanelWords:
    """Draw a bath with parts of water [-] and say it; until it is `known`, the question alone."""
    place, first = dilution.at(water), first_words(bottles)
    guess_said, mark = "", None
    if guess is not None:
        question = dilution.at(QUESTION)
        guess_said = guess_words(dilution, place, question, guess.words)
        undiluted = float(dilution.times.middle[0])
        mark = Mark(
            float(dilution.peroxide[question]),
            guess.low * undiluted,
            guess.high * undiluted,
            f"your {guess.words}",
        )
    words = question_words(dilution, place, first)
    if known:
        words = answer_words(dilution, place, first, "" if guess is None else guess.words)
    draw(drawing, dilution, bottles, place, words, known, mark)
    return PanelWords(words.readout, words.alt, notes=COMPUTED, guess=guess_said)


def draw(
    drawing: Drawing,
    dilution: Dilution,
    bottles: str,
    place: int,
    words: Words,
    known: bool,
    guess: Mark | None,
) -> None:
    """Put numbers and words into the drawing: those at a place of the slider [-], and the guess."""
    times, film = dilution.times, dilution.film
    # as if the rate went by strength and by nothing else
    alone = float(times.middle[0]) * dilution.weaker
    curve = Curve(dilution.peroxide, times.low, times.middle, times.high, alone, PLACES[bottles])
    drawing.parts["strengths"].draw(curve, place, known, guess)
    passing = {name: float(film[name][place]) for name in ARROWS}
    # one undiluted arrow for all three: so they compare with each other and with no water
    widest = max(float(film[name][0]) for name in ARROWS)
    thickness, gas = float(film["thickness"][place]), float(film["oxygen"][place])
    drawing.parts["film"].draw(Film(thickness, passing, gas, widest), known, words.film)
    title = words.title
    if drawing.parts["narrow"]:
        title = title.replace(". ", ".\n")
    drawing.parts["title"].set_text(title)


def planner_values(water: float, bottles: str, room: float = USUAL) -> dict[str, Any]:
    """Return what the planner's fields are filled with; nothing for bottles that are only drawn.

    Parameters
    ----------
    water : float
        Parts of water [-].
    bottles : str
        One of `PAIRS`.
    room : float
        Bath over the bare copper [m³/m²].

    Returns
    -------
    dict
        Values of the planner's controls [% by weight, parts, mL], and why they are so.
    """
    pair = PAIRS[bottles]
    # an empty answer hides the link: a strong bath has no way to the planner
    if pair.only_drawn:
        return {}
    inputs = bath(bottles, room)
    total = inputs.bath_per_area * float(inputs.board.copper_area) / mL
    why = (
        f"Filled in from “Why water slows it”: acid of {pair.acid:g} %, peroxide of "
        f"{pair.peroxide:g} %, {figures(water)} : 1 : 1 (water : acid : peroxide), for the "
        "workshop's board."
    )
    return {
        "acid": pair.acid,
        "peroxide": pair.peroxide,
        "water_parts": water,
        "acid_parts": 1,
        "peroxide_parts": 1,
        "total": round(total, 6),  # 150, not 150.00000000000003: it stands in a field
        "why": why,
    }
