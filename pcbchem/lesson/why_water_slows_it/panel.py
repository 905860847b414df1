"""Why water slows it: water on a slider, time against strength and the film at the copper; an answer that waits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ...bench.plan.dilution import WATER, Dilution
from ...common.number_words import figures
from ...common.units import mL
from ...page.picture import INK, NARROW, WIDE, Drawing, figure
from ...page.row_chart import SIZE, SMALL
from ...page.widget.controls import Choice, Said, Slider
from ...page.widget.panel import Panel
from ..pages import PAGE
from ..workshop import BOTTLES, PAIRS, ROOMY, USUAL, bath
from .numbers import QUESTION, course
from .picture import ARROWS, AtCopper, Curve, Film, Places, Strengths
from .words import Mark, Words, answered, asked, compared, first_words, marks

if TYPE_CHECKING:
    from ...page.widget.quiz import Prediction

GUESSES = {"1.3": "×1.3", "1.6": "×1.6", "2-3": "×2–3", "6-7": "×6–7"}
"""Answers to choose from: how many times longer, one number or a range, and its words."""
GUESSES_AGAIN = {"1.3": "×1.3", "1.6-1.9": "×1.6–1.9", "2-3": "×2–3", "6-7": "×6–7"}
"""The same where the answer lies near strength alone."""
COMPUTED = (
    "<p>Computed, with a share of gas that nobody has measured. Grey marks are other mixtures, for comparison: "
    "the two measured ones hardly bubble.</p>"
)
"""What has to stand under the curve from the start."""
PLACES = {
    "mild": Places((0.62, 4500), (1.6, 115)),
    "strong": Places((0.78, 2600), (0.72, 34)),
    "weak": Places((0.27, 12000), (0.215, 1700)),
}
"""Where the words of the curve of each pair of bottles stand."""
TO_PLANNER = "Take this bath to the planner (choose Run All Cells there)"


def factor(guess: str) -> tuple[float, float]:
    """Lowest and highest factor of an answer [-]: "2-3" or "1.6".

    Examples
    --------
    >>> print(factor("2-3"), factor("1.6"))
    (2.0, 3.0) (1.6, 1.6)
    """
    ends = [float(end) for end in guess.split("-")]
    return ends[0], ends[-1]


def build(narrow: bool) -> Drawing:
    """The two pictures beside each other, or one under the other on a telephone."""
    size = SMALL if narrow else SIZE
    made = figure(6.6, NARROW) if narrow else figure(3.7, WIDE)
    boxes = (
        made.subplots(2, 1, height_ratios=(3.6, 2.5))
        if narrow
        else made.subplots(1, 2, width_ratios=(66, 34))
    )
    left, right = Strengths(boxes[0], *marks(), size, narrow), AtCopper(boxes[1], size)
    title = made.suptitle(
        "\n" if narrow else " ", x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK
    )
    return Drawing(
        made,
        (*left.moving, *right.moving, title),
        strengths=left,
        film=right,
        title=title,
        narrow=narrow,
    )


def water_panel(prediction: Prediction | None = None) -> Panel:
    """Time against strength with water on a slider, and the film at the copper; the answer waits for a prediction.

    Parameters
    ----------
    prediction : Prediction, optional
        Its answers are factors, as `GUESSES` has them; none: everything is shown.

    Returns
    -------
    Panel
        With a link that takes the bath on its slider along to the planner; bottles that are only drawn have none.
    """
    return _panel("Water and time", prediction, tuple(PAIRS), USUAL)


def roomy_panel(prediction: Prediction | None = None) -> Panel:
    """The same water in weak peroxide and so much bath that it hardly weakens: arguments as for `water_panel`."""
    return _panel("Water and time in a roomy tray", prediction, ("weak",), ROOMY)


def _panel(title: str, prediction: Prediction | None, pairs: tuple[str, ...], room: float) -> Panel:
    controls: list[Slider | Choice] = [
        Slider("water", "Water", "parts", float(WATER[0]), float(WATER[-1]), 0.1, 0.0)
    ]
    if len(pairs) > 1:
        controls.append(
            Choice("bottles", BOTTLES, {name: PAIRS[name].words for name in pairs}, pairs[0])
        )
    options = {} if prediction is None else prediction.options

    def show(
        drawing: Drawing, water: float, bottles: str = pairs[0], predicted: str | None = "-"
    ) -> Said:
        of, before = course(bottles, room), first_words(bottles)
        at = of.at(water)
        guessed = options.get(predicted or "", "") if bottles == pairs[0] else ""
        said = asked(of, at, before) if predicted is None else answered(of, at, before, guessed)
        draw(drawing, of, PLACES[bottles], at, said, predicted, guessed)
        judged = compared(of, at, of.at(QUESTION), guessed) if guessed else ""
        return Said(said.readout, said.alt, notes=COMPUTED, guess=judged)

    def fill(water: float, bottles: str = pairs[0]) -> dict[str, Any]:
        return handed(water, bottles, room)

    return Panel(title, controls, build, show, prediction=prediction, link=(TO_PLANNER, PAGE, fill))


def draw(
    drawing: Drawing,
    of: Dilution,
    places: Places,
    at: int,
    said: Words,
    predicted: str | None,
    guessed: str,
) -> None:
    """Put numbers and words into the drawing: the point `at` [-], and the guess where there is one."""
    times, film, first = of.times, of.film, float(of.times.middle[0])
    guess = None
    if guessed and predicted:
        low, high = factor(predicted)
        guess = Mark(
            float(of.peroxide[of.at(QUESTION)]), low * first, high * first, f"your {guessed}"
        )
    curve = Curve(of.peroxide, times.low, times.middle, times.high, first * of.weaker, places)
    known = predicted is not None
    drawing.parts["strengths"].draw(curve, at, known, guess)
    passing = {name: float(film[name][at]) for name in ARROWS}
    widest = max(float(film[name][0]) for name in ARROWS)
    now = Film(float(film["thickness"][at]), passing, float(film["oxygen"][at]), widest)
    drawing.parts["film"].draw(now, known, said.film)
    drawing.parts["title"].set_text(
        said.title.replace(". ", ".\n") if drawing.parts["narrow"] else said.title
    )


def handed(water: float, bottles: str, room: float = USUAL) -> dict[str, Any]:
    """What the planner's fields are filled with [% by weight, parts, mL]; nothing of bottles that are only drawn."""
    pair = PAIRS[bottles]
    if pair.only_drawn:
        return {}
    made = bath(bottles, room)
    why = (
        f"Filled in from “Why water slows it”: acid of {pair.acid:g} %, peroxide of {pair.peroxide:g} %, "
        f"{figures(water)} : 1 : 1 (water : acid : peroxide), for the workshop's board."
    )
    return {
        "acid": pair.acid,
        "peroxide": pair.peroxide,
        "water_parts": water,
        "acid_parts": 1,
        "peroxide_parts": 1,
        "total": round(made.bath_per_area * float(made.board.copper_area) / mL, 6),
        "why": why,
    }
