"""Page 09's two panels: the same three things in four places, and with six acids."""

from __future__ import annotations

from ...page.picture import Drawing, Words, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import ACIDS, MILD_ACID, PLACES, SHUT_ROOM, STRONG, breathed
from .picture import AirRows
from .predictions import ANSWERS, RIGHT, words_of
from .texts import read_acids, why
from .words import answer_words, question_words

HEIGHT, NARROW_HEIGHT = 4.3, 6.0
"""Of a picture [inch]."""
PLACE_CHOICES = {
    "shut room": "shut room, 30 m³",
    "shut garage": "shut garage, 60 m³",
    "window and fan": "window and fan, 30 m³",
    "open air": "open air, upwind",
}
"""Places to choose from, as they stand beside their buttons."""


def air_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of strong acid: where somebody stands.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        One choice; other acids would tell what is asked next.
    """

    def show(drawing: Drawing, place: str, predicted: str | None = WITHOUT) -> PanelWords:
        if predicted is None:
            drawing.parts["rows"].draw(None)
            return say(drawing, question_words())
        guess, remark = None, ""
        # who guessed right finds the dots there
        if predicted in ANSWERS and predicted != RIGHT:
            if place == SHUT_ROOM:
                guess = ANSWERS[predicted]
            else:
                remark = "Your prediction was for the shut room."
        drawing.parts["rows"].draw(breathed(STRONG, place), guess)
        words = answer_words(STRONG, place, f"“{words_of(predicted)}”" if guess else "")
        return say(drawing, words, remark, as_html(why()))

    return Panel("Into the air", [place_choice()], build, show, prediction=prediction)


def acid_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of every acid in every place.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Acid and place.
    """

    def show(
        drawing: Drawing, acid: str, place: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        if predicted is None:
            drawing.parts["rows"].draw(None)
            return say(drawing, question_words(is_mild=True))
        strength = float(acid)
        drawing.parts["rows"].draw(breathed(strength, place))
        is_there = strength == MILD_ACID and place == SHUT_ROOM
        remark = f"Your prediction was for acid of {MILD_ACID:g} % in the shut room."
        if is_there or predicted == WITHOUT:
            remark = ""
        return say(drawing, answer_words(strength, place), remark, as_html(read_acids()))

    acids = {f"{acid:g}": f"{acid:g} %" for acid in ACIDS}
    controls = [Choice("acid", "Acid in the bottle", acids, f"{MILD_ACID:g}"), place_choice()]
    return Panel("Another bottle", controls, build, show, prediction=prediction, after=after)


def place_choice() -> Choice:
    """Return the choice of a place, the closest first."""
    return Choice("place", "Place", {key: PLACE_CHOICES[key] for key in PLACES}, SHUT_ROOM)


def build(narrow: bool) -> Drawing:
    """Make the empty rows, with the lines and the hatched row that stay."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    rows = AirRows(sheet.subplots(), size, narrow)
    return Drawing(sheet, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def say(drawing: Drawing, words: Words, remark: str = "", notes: str = "") -> PanelWords:
    """Write the title over the picture, and return the words that stand with it."""
    title = words.title
    if drawing.parts["narrow"]:
        title = in_two_lines(title)
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)


def in_two_lines(title: str) -> str:
    """Return a title in two lines, parted at the pause nearest to its middle."""
    pauses = [
        place for place, letter in enumerate(title) if letter in ",:" and title[place + 1] == " "
    ]
    pause = min(pauses, key=lambda place: abs(place - len(title) / 2))
    return f"{title[: pause + 1]}\n{title[pause + 2 :]}"
