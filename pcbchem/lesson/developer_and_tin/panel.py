"""Page 11's two panels: lye that stands unused, and tin that a board takes with it."""

from __future__ import annotations

from ...page.picture import Drawing, Words, parted, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import ASKED, BEAKER, BOTTLE, DISH, MOST_HOURS, RINSES, carried, lye_left
from .picture import LyeRows
from .predictions import guessed_lye, guessed_tin
from .texts import read_tin, why
from .tin_picture import TinRows
from .words import lye_question, lye_words, tin_question, tin_words

HEIGHT, NARROW_HEIGHT = 3.9, 4.6
"""Of the first picture [inch]."""
TIN_HEIGHT, NARROW_TIN = 2.7, 3.4
"""Of the second [inch]."""
VESSELS = {DISH: "flat dish, 200 cm²", BEAKER: "tall beaker", BOTTLE: "bottle with a lid"}
"""What it stands in, as they stand beside their buttons."""
DISHES = {0: "none", 1: "a fresh dish", 2: "two fresh dishes"}
"""Rinses to choose from."""


def lye_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of the developer that nobody uses: how long it stands, and in what.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        Hours and vessel.
    """

    def show(
        drawing: Drawing, hours: float, vessel: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        rows = drawing.parts["rows"]
        if predicted is None:
            rows.draw(None)
            return say(drawing, lye_question())
        guess, remark, mark = guessed_lye(predicted), "", ""
        if guess is not None and not (hours == ASKED and vessel == DISH):
            guess, remark = None, f"Your prediction was for {ASKED} hours in the flat dish."
        if guess is not None and prediction is not None:
            mark = prediction.options[predicted].words
        left = lye_left(vessel, int(hours))
        rows.draw(left, guess)
        return say(drawing, lye_words(left, mark), remark, as_html(why()))

    controls: list[Slider | Choice] = [
        Slider("hours", "Hours", "h", 0, MOST_HOURS, 1, ASKED),
        Choice("vessel", "Stands in", dict(VESSELS), DISH),
    ]
    return Panel("Developer, unused", controls, build_lye, show, prediction=prediction)


def tin_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of the tin bath: in how many dishes a board was rinsed.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        One choice. No thickness, no time and no strength: the reader's label counts.
    """

    def show(drawing: Drawing, rinse: str, predicted: str | None = WITHOUT) -> PanelWords:
        rows = drawing.parts["rows"]
        if predicted is None:
            rows.draw(None)
            return say(drawing, tin_question())
        dishes = int(rinse)
        guess, remark, mark = guessed_tin(predicted), "", ""
        if guess is not None and dishes:
            guess, remark = None, "Your prediction was for boards that are not rinsed."
        if guess is not None and prediction is not None:
            mark = prediction.options[predicted].words
        rows.draw(carried(dishes), guess)
        return say(drawing, tin_words(dishes, mark), remark, as_html(read_tin()))

    choices = {str(dishes): DISHES[dishes] for dishes in RINSES}
    controls = [Choice("rinse", "Rinsed in", choices, "0")]
    return Panel("Tin bath", controls, build_tin, show, prediction=prediction, after=after)


def build_lye(narrow: bool) -> Drawing:
    """Make the boxes and the dashed line, and no lye yet."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    rows = LyeRows(sheet.subplots(), size, narrow)
    return Drawing(sheet, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def build_tin(narrow: bool) -> Drawing:
    """Make the empty rows, with the line of all the tin."""
    sheet, size, title = sheet_of(narrow, TIN_HEIGHT, NARROW_TIN)
    rows = TinRows(sheet.subplots(), size, narrow)
    return Drawing(sheet, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def say(drawing: Drawing, words: Words, remark: str = "", notes: str = "") -> PanelWords:
    """Write the title over the picture, and return the words that stand with it."""
    title = words.title
    if drawing.parts["narrow"]:
        title = parted(title, ", ", ": ")
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
