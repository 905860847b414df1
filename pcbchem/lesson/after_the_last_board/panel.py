"""Page 10's panels: peroxide over weeks, copper over pH; both wait for a prediction."""

from __future__ import annotations

from ...page.picture import Drawing, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .copper_picture import Band
from .numbers import (
    ASKED,
    LITTLE,
    MILD,
    NEUTRAL,
    PH_HIGH,
    PH_LOW,
    PH_STEP,
    TIMES,
    WATER,
    copper_left,
    peroxide_left,
)
from .picture import Lines, Squares
from .predictions import GONE, guessed_copper
from .texts import read_copper, why
from .words import (
    SODA_WORDS,
    TIME_WORDS,
    Words,
    copper_question,
    copper_words,
    peroxide_question,
    peroxide_words,
)

HEIGHT, NARROW_HEIGHT = 3.9, 6.4
"""Of the first picture [inch]."""
COPPER_HEIGHT, NARROW_COPPER = 4.0, 4.6
"""Of the second [inch]."""
BOTTLES = {
    "mild": "mild: 10 %, 12 %",
    "weak": "weak: 10 %, 3 %",
    "strong": "strong, thinned: drawn only, never mixed here",
}
"""Bottles to choose from, as they stand beside their buttons."""


def peroxide_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of the peroxide that is left: how long after the board, which bottles.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        Two choices; no way to the planner from a bath that is only drawn.
    """

    def show(
        drawing: Drawing, time: str, bottles: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        lines, squares = drawing.parts["lines"], drawing.parts["squares"]
        for artist in (*lines.moving, *squares.moving):
            artist.set_visible(predicted is not None)
        for words in (lines.stripe_words, squares.nothing):
            words.set_visible(True)
        if predicted is None:
            squares.ask()
            return say(drawing, peroxide_question())
        span, remark, guess = GONE.get(predicted), "", ""
        if span is not None and bottles != MILD:
            span, remark = None, "Your prediction was for the mild bottles."
        if span is not None and prediction is not None:
            guess = prediction.options[predicted].words
        left = peroxide_left(bottles)
        lines.draw(left, time)
        lines.draw_guess(span)
        squares.draw(left, time)
        words = peroxide_words(left, time, guess)
        return say(drawing, words, remark, as_html(why(bottles)))

    controls = [
        Choice("time", "After the board", dict(TIME_WORDS), ASKED),
        Choice("bottles", "Bottles", {name: BOTTLES[name] for name in WATER}, MILD),
    ]
    assert set(TIME_WORDS) == set(TIMES)
    return Panel("Peroxide that is left", controls, build_peroxide, show, prediction=prediction)


def copper_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of the copper that stays dissolved: pH, and how much soda is left over.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Slider and choice. No other base and no litres of water: a page draws no way to a drain.
    """

    def show(drawing: Drawing, pH: float, soda: str, predicted: str | None = WITHOUT) -> PanelWords:
        band = drawing.parts["band"]
        for artist in band.moving:
            artist.set_visible(predicted is not None)
        if predicted is None:
            return say(drawing, copper_question())
        amount, remark, guess = guessed_copper(predicted), "", ""
        if amount is not None and not (pH == NEUTRAL and soda == LITTLE):
            amount, remark = None, "Your prediction was for pH 8 and a little baking soda."
        if amount is not None and prediction is not None:
            guess = prediction.options[predicted].words
        left = copper_left(soda)
        band.draw(left, pH)
        band.draw_guess(amount, "you")
        return say(drawing, copper_words(left, pH, guess), remark, as_html(read_copper()))

    controls: list[Slider | Choice] = [
        Slider("pH", "pH", "", PH_LOW, PH_HIGH, PH_STEP, NEUTRAL),
        Choice("soda", "Baking soda left over", dict(SODA_CHOICES), LITTLE),
    ]
    return Panel(
        "Copper in the clear water",
        controls,
        build_copper,
        show,
        prediction=prediction,
        after=after,
    )


SODA_CHOICES = {
    key: words.removesuffix(" of baking soda").removesuffix(" baking soda")
    for key, words in SODA_WORDS.items()
}


def build_peroxide(narrow: bool) -> Drawing:
    """Make a picture without numbers: lines on the left or above, squares beside them."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    if narrow:
        left, right = sheet.subplots(2, 1, height_ratios=(1.25, 1))
    else:
        left, right = sheet.subplots(1, 2, width_ratios=(1.5, 1))
    lines, squares = Lines(left, size), Squares(right, size)
    moving = (*lines.moving, *squares.moving, title)
    return Drawing(sheet, moving, lines=lines, squares=squares, title=title, narrow=narrow)


def build_copper(narrow: bool) -> Drawing:
    """Make a picture without a band: axes, where the copper began, and what kills."""
    sheet, size, title = sheet_of(narrow, COPPER_HEIGHT, NARROW_COPPER)
    band = Band(sheet.subplots(), size)
    return Drawing(sheet, (*band.moving, title), band=band, title=title, narrow=narrow)


def say(drawing: Drawing, words: Words, remark: str = "", notes: str = "") -> PanelWords:
    """Write the title over the picture, and return the words that stand with it."""
    title = words.lines if drawing.parts["narrow"] else words.title
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
