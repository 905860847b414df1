"""Page 02's panels: one hill of temperature, walked from two ends as somebody pours."""

from __future__ import annotations

import dataclasses

from ...page.picture import Drawing, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import (
    ASKED,
    FUMES,
    MILD,
    PEROXIDE,
    QUARTER,
    STEP,
    STRONGEST,
    TENTH,
    Hill,
    hill,
)
from .picture import ROUND, Guess, HillPicture, Walk
from .predictions import ACID_FIRST, ALIKE, BOILING, EITHER, PEROXIDE_FIRST, guessed_end
from .texts import read_it, read_peroxide
from .words import OVER, Words, answer_words, foot_words, guess_words, question_words

HEIGHT, NARROW_HEIGHT = 3.7, 4.5
"""Of both pictures [inch]."""
ACIDS = {
    f"{ASKED:g}": f"{ASKED:g} % (drawn only)",
    f"{STRONGEST:g}": f"{STRONGEST:g} % (drawn only)",
    f"{MILD:g}": f"{MILD:g} %",
}
"""Acids to choose from, by their strength [% by weight]."""


def water_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of acid and water.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        The hill, with a slider of what is poured and a choice of acids.
    """
    acids = Choice("acid", "Acid", ACIDS, f"{ASKED:g}")

    def show(
        drawing: Drawing, poured: float, acid: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        pair = hill(float(acid))
        guess = guess_of_end(pair, predicted)
        words = say(drawing, pair, poured, predicted, guess)
        remark = "" if guessed_end(predicted) is None else guess_words(pair.acid)
        notes = "" if predicted is None else as_html(read_it(pair.acid))
        return PanelWords(words.readout, words.alt, guess=remark, notes=notes)

    controls: list[Slider | Choice] = [poured_slider(), acids]
    return Panel("Acid and water", controls, build, show, prediction=prediction)


def peroxide_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of acid and shop peroxide, without water.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        The hill, with a slider of what is poured.
    """

    def show(drawing: Drawing, poured: float, predicted: str | None = WITHOUT) -> PanelWords:
        pair = hill(ASKED, PEROXIDE)
        words = say(drawing, pair, poured, predicted, guess_of_start(pair, predicted, poured))
        notes = "" if predicted is None else as_html(read_peroxide())
        return PanelWords(words.readout, words.alt, notes=notes)

    return Panel(
        "Acid and shop peroxide",
        [poured_slider(TENTH)],
        build,
        show,
        prediction=prediction,
        after=after,
    )


def poured_slider(step: float = STEP) -> Slider:
    """Return the slider of what is poured, in steps [% of it]: it stands where jugs differ much."""
    start = QUARTER if step == STEP else 2 * step
    return Slider("poured", "Poured so far", "% of the second bottle", 0, 100, step, start)


def build(narrow: bool) -> Drawing:
    """Make an empty hill."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    picture = HillPicture(sheet.subplots(), FUMES.limit, OVER, size, narrow)
    return Drawing(sheet, (*picture.moving, title), hill=picture, title=title, narrow=narrow)


def guess_of_end(pair: Hill, key: str | None) -> Guess | None:
    """Return where a guess of the hotter jug stands; None: there is none, or it is the end.

    It is about the end, for one acid.
    """
    T = guessed_end(key)
    # who guessed right finds the open square of the end there
    if T is None or key == ALIKE or pair.acid != ASKED:
        return None
    words = "your\nprediction"
    if key == BOILING:
        words = "your prediction:\nnear boiling"
    return Guess(((pair.end[0], T),), words)


def guess_of_start(pair: Hill, key: str | None, poured: float) -> Guess | None:
    """Return at which foot a guess of what goes in first starts; None: at neither.

    It is about the start: with more poured than at first [%] it is gone.
    """
    feet = pair.up.at(0), pair.over.at(0)
    places = {PEROXIDE_FIRST: feet[:1], ACID_FIRST: feet[1:], EITHER: feet}
    if key is None or key not in places or poured > QUARTER:
        return None
    return Guess(places[key], "ring: your prediction", ROUND)


def say(
    drawing: Drawing, pair: Hill, poured: float, predicted: str | None, guess: Guess | None
) -> Words:
    """Draw a hill with so much poured [%] and say it; before a prediction the question alone."""
    known = predicted is not None
    words = answer_words(pair, poured) if known else question_words(pair)
    if guess is not None:
        words = with_guess(words, guess)
    walk = Walk(
        (pair.up.strength, pair.up.T),
        (pair.over.strength, pair.over.T),
        (pair.up.at(poured), pair.over.at(poured)),
        pair.top,
        foot_words(pair),
        words.up,
        words.over,
        words.end,
        words.top,
    )
    picture = drawing.parts["hill"]
    if picture.show_temperatures(known):
        drawing.forget_ground()
    picture.draw(walk, known, guess)
    title = words.title
    if drawing.parts["narrow"]:
        title = title.replace(". ", ".\n")
    drawing.parts["title"].set_text(title)
    return words


def with_guess(words: Words, guess: Guess) -> Words:
    """Return words that name the mark of a guess too."""
    mark = "ring" if guess.mark == ROUND else "mark"
    return dataclasses.replace(words, alt=f"{words.alt} Hollow {mark}: your prediction.")
