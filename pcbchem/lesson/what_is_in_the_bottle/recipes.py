"""Page 01's second panel: one recipe from four bottles of peroxide, as times in minutes."""

from __future__ import annotations

from ...common.number_words import clock, figures, span
from ...common.units import minute
from ...page.minute_bars import Bar, MinuteBars
from ...page.picture import Drawing, Words, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from ..workshop import UNTIL_CLEAR
from .numbers import (
    DRAWN_ONLY_PEROXIDE,
    MILD,
    PEROXIDES,
    STRONG,
    STRONGEST,
    WEAKEST,
    Mixture,
    plan_of,
    recipe,
    time_to_clear,
)
from .predictions import answer_times, minutes
from .texts import read_recipes, sources
from .words import DRAWN_ONLY, reason

LONGEST = 100 * minute
"""End of the axis [s]: what takes longer ends there."""
HEIGHT, NARROW_HEIGHT = 3.4, 4.6
"""Of the picture [inch]."""
STRONGEST_FIRST = PEROXIDES[::-1]


def recipes_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of one recipe from other bottles.

    Parameters
    ----------
    prediction : Prediction, optional
        The weaker bottles wait for it. None: they are shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        With the acid to choose.
    """
    acids = {f"{STRONG:g}": f"{STRONG:g} %, {DRAWN_ONLY}", f"{MILD:g}": f"{MILD:g} %"}
    acid = Choice("acid", "Acid", acids, f"{STRONG:g}")
    title = "One recipe, other bottles"
    return Panel(title, [acid], build, show, prediction=prediction, after=after)


def build(narrow: bool) -> Drawing:
    """Make a bar for each bottle of peroxide, and one for a guess."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    axes = sheet.subplots()
    rows = len(PEROXIDES) + 1
    bars = MinuteBars(axes, rows, LONGEST, size, above=narrow, label=UNTIL_CLEAR)
    if not narrow:
        # room for the names before the bars
        axes.set_yticks([1], ["30 % peroxide: foams hot  "], fontsize=size, color="none")
        axes.tick_params(axis="y", length=0)
    return Drawing(sheet, (*bars.moving, title), bars=bars, title=title, narrow=narrow)


def show(drawing: Drawing, acid: str, predicted: str | None = WITHOUT) -> PanelWords:
    """Draw the times and say them; until something is `predicted`, those of the question alone."""
    strength = float(acid)
    is_known = predicted is not None
    rows = rows_of(strength) if is_known else question_rows()
    guess = answer_times().get(predicted or "")
    is_asked = strength == STRONG
    if guess is not None and is_asked:
        rows.append(Bar("your prediction", guess, minutes(guess), hollow=True))
    drawing.parts["bars"].draw(rows)
    words = answer_words(strength) if is_known else question_words()
    title = words.title
    if drawing.parts["narrow"]:
        title = title.replace(": ", ":\n", 1)
    drawing.parts["title"].set_text(title)
    remark = ""
    if guess is not None and not is_asked:
        remark = f"Your prediction was about acid of {STRONG:g} %."
    notes = as_html(f"{read_recipes()}\n\n{sources()}") if is_known else ""
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)


def question_rows() -> list[Bar]:
    """Return the bar that is known, and the one that is asked for."""
    time = float(time_to_clear(recipe(STRONG, STRONGEST)).middle)
    return [
        Bar(name(STRONGEST), time, minutes(time)),
        Bar(name(WEAKEST), 0.0, "?", known=False),
    ]


def rows_of(acid: float) -> list[Bar]:
    """Return a bar for each bottle of peroxide [s], with this acid [% by weight]."""
    rows = []
    for peroxide in STRONGEST_FIRST:
        band = time_to_clear(recipe(acid, peroxide))
        low, middle, high = (float(end) for end in (band.low, band.middle, band.high))
        rows.append(Bar(name(peroxide), middle, time_words(acid, peroxide), low, high))
    return rows


def name(peroxide: float) -> str:
    """Return what a row is called [% by weight]."""
    words = f"{peroxide:g} % peroxide"
    # the quickest row may not look like the one to choose
    return f"{words}: foams hot" if peroxide > DRAWN_ONLY_PEROXIDE else words


def time_words(acid: float, peroxide: float) -> str:
    """Say how long a recipe takes from two bottles [% by weight], and what the planner says."""
    mixture = recipe(acid, peroxide)
    band = time_to_clear(mixture)
    words = f"{clock(band.middle)} ({span(band)})"
    if plan_of(mixture).refused:
        return f"{words}, refused"
    # the planner's verdict on it would lead nowhere
    return words if mixture.only_drawn else f"{words}, {plan_of(mixture).verdict}"


def short_reason(mixture: Mixture) -> str:
    """Say in a word why a mixture is refused: it would do harm, or not do the job."""
    return "is dangerous" if plan_of(mixture).harmful else "may never finish"


def question_words() -> Words:
    """Say the recipe, and nothing of what it does with another bottle."""
    time = minutes(float(time_to_clear(recipe(STRONG, STRONGEST)).middle))
    title = "The same recipe, another bottle: how long?"
    readout = f"Predict first: then the answer appears here. With {STRONGEST:g} % peroxide: {time}."
    alt = (
        f"{title} With {STRONG:g} % acid and {STRONGEST:g} % peroxide the board takes {time}. The "
        "times with weaker peroxide appear when you have predicted."
    )
    return Words(title, readout, alt)


def answer_words(acid: float) -> Words:
    """Say what one recipe does from four bottles of peroxide, with this acid [% by weight]."""
    times = [float(time_to_clear(recipe(acid, peroxide)).middle) for peroxide in STRONGEST_FIRST]
    ends = f"{figures(times[0] / minute)} or {minutes(times[-1])}"
    title = f"The same recipe, by the bottle of peroxide: {ends}"
    if acid == STRONG:
        title = f"{title}. Drawn only, never mixed"
    listed = "; ".join(f"{name(each)} {time_words(acid, each)}" for each in STRONGEST_FIRST)
    refused = [each for each in STRONGEST_FIRST if plan_of(recipe(acid, each)).refused]
    why = ""
    bottle = f"{acid:g} % acid, {DRAWN_ONLY}" if acid == STRONG else f"{acid:g} % acid"
    if refused:
        mixture = recipe(acid, refused[0])
        why = f" Refused, for it {short_reason(mixture)}: {reason(mixture)}."
    readout = f"3 : 1 : 1 with {bottle}: {listed}.{why}"
    alt = (
        f"{title}. Bars of minutes until the board is clear, 3 : 1 : 1 with {acid:g} % acid: "
        f"{listed}. Pale bands: 8 of 10 plausible baths.{why}"
    )
    return Words(title, readout, alt)
