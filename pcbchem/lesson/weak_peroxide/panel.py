"""Page 06's panels: peroxide for the copper on a slider, 200 baths; both wait for a prediction."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from ...page.picture import Drawing, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import ASKED, LEAST, MOST, STEP, STRONG_ACID, TOO_LITTLE, WEAK_ACID, at
from .picture import Courses, Guess, Squares
from .predictions import CLEAR, CLEAR_OF_STRONG
from .texts import read_strong, why
from .words import answer_words, question_words

HEIGHT, NARROW_HEIGHT = 3.9, 6.2
"""Of the picture [inch]."""
COARSE, MOST_STRONG = 0.2, 3.0
"""Step of the second slider and its end, times the copper [-]: from 0.8 on."""


def weak_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of weak acid: how much peroxide there is for the copper.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        One slider: other acid would tell what is asked next.
    """

    def show(drawing: Drawing, times: float, predicted: str | None = WITHOUT) -> PanelWords:
        if predicted is None:
            return say(drawing, times, WEAK_ACID, None)
        return say(
            drawing, times, WEAK_ACID, told(prediction, predicted, CLEAR, times == ASKED, why())
        )

    slider = times_slider(LEAST, ASKED, MOST, STEP)
    return Panel("Peroxide for the copper", [slider], build, show, prediction=prediction)


def strong_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of strong acid, drawn only, with less peroxide than copper.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Slider and acid.
    """

    def show(
        drawing: Drawing, times: float, acid: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        strength = float(acid)
        is_asked = times == TOO_LITTLE and strength == STRONG_ACID
        if predicted is None:
            return say(drawing, times, strength, None)
        return say(
            drawing,
            times,
            strength,
            told(prediction, predicted, CLEAR_OF_STRONG, is_asked, read_strong()),
        )

    acids = {
        f"{STRONG_ACID:g}": f"{STRONG_ACID:g} % (drawn only)",
        f"{WEAK_ACID:g}": f"{WEAK_ACID:g} %",
    }
    controls: list[Slider | Choice] = [
        times_slider(TOO_LITTLE, TOO_LITTLE, MOST_STRONG, COARSE),
        Choice("acid", "Acid bottle", acids, f"{STRONG_ACID:g}"),
    ]
    return Panel("Strong acid", controls, build, show, prediction=prediction, after=after)


def times_slider(least: float, start: float, most: float, step: float) -> Slider:
    """Return the slider of peroxide, times the copper [-]."""
    return Slider("times", "Peroxide for the copper", "times", least, most, step, start)


@dataclasses.dataclass(frozen=True)
class Told:
    """What is told with the picture: a guess drawn in it, or a remark on it, and the notes."""

    guess: Guess | None
    remark: str
    notes: str


def told(
    prediction: Prediction | None,
    predicted: str,
    shares: Mapping[str, float],
    is_asked: bool,
    notes: str,
) -> Told:
    """Return what is told when an answer is chosen.

    Parameters
    ----------
    prediction : Prediction or None
        What was asked.
    predicted : str
        Key of the answer.
    shares : dict
        Share of the baths that clears by each answer [-].
    is_asked : bool
        Whether the controls stand where it was asked: elsewhere no guess is drawn.
    notes : str
        What is said under the picture, in Markdown.
    """
    if prediction is None or predicted not in shares:
        return Told(None, "", notes)
    if not is_asked:
        return Told(None, "Your prediction was for the bath that was asked about.", notes)
    return Told(Guess(shares[predicted], prediction.options[predicted].words), "", notes)


def build(narrow: bool) -> Drawing:
    """Make a picture without numbers: courses on the left or above, squares beside them."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    if narrow:
        left, right = sheet.subplots(2, 1)
    else:
        left, right = sheet.subplots(1, 2, width_ratios=(1.1, 1))
    courses, squares = Courses(left, size), Squares(right, size)
    moving = (*courses.moving, *squares.moving, title)
    return Drawing(sheet, moving, courses=courses, squares=squares, title=title, narrow=narrow)


def say(drawing: Drawing, times: float, acid: float, told: Told | None) -> PanelWords:
    """Draw what becomes of the baths and say it; before a prediction the question alone.

    Parameters
    ----------
    drawing : Drawing
        From `build`.
    times, acid : float
        Peroxide for so many times the copper [-], acid so strong [% by weight].
    told : Told or None
        What is told with the picture; None: nothing is predicted yet.
    """
    courses, squares = drawing.parts["courses"], drawing.parts["squares"]
    for artist in (*courses.moving, *squares.moving):
        artist.set_visible(told is not None)
    if told is None:
        words = question_words(times, acid)
        drawing.parts["title"].set_text(in_lines(words.title, drawing.parts["narrow"]))
        return PanelWords(words.readout, words.alt)
    fates = at(times, acid)
    words = answer_words(fates, told.guess.words if told.guess else "")
    courses.draw(fates)
    squares.draw(fates, told.guess)
    drawing.parts["title"].set_text(in_lines(words.title, drawing.parts["narrow"]))
    return PanelWords(words.readout, words.alt, guess=told.remark, notes=as_html(told.notes))


def in_lines(title: str, narrow: bool) -> str:
    """Return a title, on a telephone in two lines."""
    if not narrow:
        return title
    if ", " in title:
        # with its acid: there is no room for all of it
        return title.replace(" the copper, ", ",\n")
    return title.replace(": ", ":\n")
