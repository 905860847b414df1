"""Page 05's panels: how deep a used bath lies on a slider; both wait for a prediction."""

from __future__ import annotations

from ...page.picture import Drawing, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from ..workshop import BOTTLES, PAIRS
from .numbers import JAR, MILD, SHALLOWEST, STEP, STRONG, WEAK, Hour, hour_after
from .picture import Guess, WarmPicture
from .predictions import PAGE, guessed
from .texts import read_it, read_weak
from .words import answer_words, degrees_words, question_words, title_words, vessel_words

HEIGHT, NARROW_HEIGHT = 4.0, 6.6
"""Of the picture [inch]."""
CHOICES = {
    MILD: PAIRS[MILD].words,
    STRONG: "strong, with water (drawn only)",
}
"""Bottles of the first panel: the weak ones would tell what is asked next."""


def depth_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of the mild bath, and of a strong one that is only drawn.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        Depth and bottles.
    """

    def show(
        drawing: Drawing, depth: float, bottles: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        hour = hour_after(bottles)
        temperature = guessed(predicted)
        guess, remark = None, ""
        if temperature is not None:
            # what was asked is asked of one bath in one vessel
            if bottles == MILD and depth == JAR:
                # who guessed right finds the bar there
                if predicted != PAGE:
                    guess = Guess(temperature, f"you:\n{degrees_words(temperature)}")
            else:
                remark = f"Your prediction was for the mild bath, {JAR} mm deep."
        notes = as_html(read_it(hour, depth)) if predicted is not None else ""
        return say(drawing, hour, depth, predicted is not None, guess, remark, notes)

    controls: list[Slider | Choice] = [depth_slider(), Choice("bottles", BOTTLES, CHOICES, MILD)]
    return Panel("How warm a used bath gets", controls, build, show, prediction=prediction)


def weak_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of the weak bath.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        One slider.
    """

    def show(drawing: Drawing, depth: float, predicted: str | None = WITHOUT) -> PanelWords:
        notes = as_html(read_weak(depth)) if predicted is not None else ""
        # what was asked is asked of one vessel
        remark = ""
        if predicted not in (None, WITHOUT) and depth != JAR:
            remark = f"Your prediction was for {JAR} mm."
        return say(drawing, hour_after(WEAK), depth, predicted is not None, None, remark, notes)

    return Panel(
        "The same with weak peroxide",
        [depth_slider()],
        build,
        show,
        prediction=prediction,
        after=after,
    )


def depth_slider() -> Slider:
    """Return the slider of how deep the bath lies [mm]: it stands at the jar's."""
    return Slider("depth", "Depth of the bath", "mm", SHALLOWEST, JAR, STEP, JAR)


def build(narrow: bool) -> Drawing:
    """Make the picture without numbers: curves beside bars over vessels, or all in a column."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    if narrow:
        grid = sheet.add_gridspec(3, 1, height_ratios=(2.5, 2.2, 1.1))
        places = (grid[0, 0], grid[1, 0], grid[2, 0])
    else:
        grid = sheet.add_gridspec(2, 2, width_ratios=(1.35, 1), height_ratios=(2.6, 1))
        places = (grid[:, 0], grid[0, 1], grid[1, 1])
    curves, bars, vessels = (sheet.add_subplot(place) for place in places)
    picture = WarmPicture(curves, bars, vessels, size)
    return Drawing(sheet, (*picture.moving, title), warm=picture, title=title, narrow=narrow)


def say(
    drawing: Drawing,
    hour: Hour,
    depth: float,
    known: bool,
    guess: Guess | None,
    remark: str,
    notes: str,
) -> PanelWords:
    """Draw a bath at a depth [mm] and say it; before a prediction the question."""
    words = question_words(hour, depth)
    short = f"{vessel_words(depth).capitalize()}:\nhow warm does the used bath get?"
    if known:
        words = answer_words(hour, depth, None if guess is None else guess.temperature)
        short = title_words(hour, depth, short=True)
    drawing.parts["warm"].draw(hour, depth, known, guess)
    drawing.parts["title"].set_text(short if drawing.parts["narrow"] else words.title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
