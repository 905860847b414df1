"""Page 03's tents: parts of peroxide on a slider, boards as a tent; both wait for a prediction."""

from __future__ import annotations

from ...page.picture import Drawing, Words, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import ASKED, EQUAL, LEAST, MOST, STEP, USUAL_PEROXIDE, WEAKER, Tent, share_of, tent
from .picture import Guess, TentPicture
from .predictions import NONE, RIGHT_BOTTLE, about, answer_boards
from .texts import read_weaker, why
from .words import answer_words, question_words, ratio_words

HEIGHT, NARROW_HEIGHT = 4.2, 4.8
"""Of the picture of a tent [inch]."""
COARSE, MOST_WEAK = 0.2, 3.0
"""Step and beginning of the second slider, and its end [parts]: all tops are on it.

In finer steps the live copy gets too large.
"""


def tray_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of the workshop's tray, with more peroxide or less.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        One slider: other bottles would tell what is asked next.
    """

    def show(drawing: Drawing, parts: float, predicted: str | None = WITHOUT) -> PanelWords:
        usual = tent()
        known, guess = predicted is not None, None
        boards = answer_boards()
        # what was asked is asked of one ratio
        if predicted in boards and parts == ASKED:
            words = f"you: {about(boards[predicted])}"
            guess = Guess(float(share_of(ASKED)), boards[predicted], words, words)
        notes = as_html(why()) if known else ""
        remark = ""
        if predicted in boards and parts != ASKED:
            remark = f"Your prediction was for the mix {ratio_words(ASKED)}."
        return say(drawing, usual, usual.at(parts), known, guess, remark, notes)

    slider = parts_slider(STEP, LEAST, ASKED, MOST)
    return Panel("What the tray can carry", [slider], build, show, prediction=prediction)


def weaker_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of weaker peroxide: the same tent from three other bottles.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Slider and bottle.
    """

    def show(
        drawing: Drawing, parts: float, bottle: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        tray = tent(float(bottle))
        known, guess = predicted is not None, None
        is_asked = parts == EQUAL and float(bottle) == RIGHT_BOTTLE
        if known and predicted != WITHOUT and is_asked:
            guess = top_of(str(predicted))
        notes = as_html(read_weaker()) if known else ""
        return say(drawing, tray, tray.at(parts), known, guess, "", notes)

    bottles = {f"{strength:g}": f"{strength:g} %" for strength in WEAKER}
    controls: list[Slider | Choice] = [
        parts_slider(COARSE, COARSE, EQUAL, MOST_WEAK),
        Choice("bottle", "Peroxide bottle", bottles, f"{RIGHT_BOTTLE:g}"),
    ]
    return Panel("Weaker peroxide", controls, build, show, prediction=prediction, after=after)


def top_of(answer: str) -> Guess:
    """Return the top of the tent of the bottle that was chosen, as a hollow mark."""
    strength = USUAL_PEROXIDE if answer == NONE else float(answer)
    share, boards = tent(strength).top
    you = f"you: {strength:g} %"
    return Guess(share, boards, f"{you}, its top", you)


def parts_slider(step: float, least: float, start: float, most: float) -> Slider:
    """Return the slider of peroxide to one part of acid [parts]."""
    return Slider("parts", "Peroxide to 1 part of acid", "parts", least, most, step, start)


def build(narrow: bool) -> Drawing:
    """Make a tent without numbers."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    picture = TentPicture(sheet.subplots(), size, narrow)
    return Drawing(sheet, (*picture.moving, title), tent=picture, title=title, narrow=narrow)


def say(
    drawing: Drawing,
    tray: Tent,
    place: int,
    known: bool,
    guess: Guess | None,
    remark: str,
    notes: str,
) -> PanelWords:
    """Draw a tent with the slider at a place [-] and say it; before a prediction the question."""
    words: Words = question_words(tray, place)
    if known:
        words = answer_words(tray, place, f"“{guess.words}”" if guess else "")
    drawing.parts["tent"].draw(tray, place, known, guess)
    title = words.title
    if drawing.parts["narrow"]:
        title = title.replace(". ", ".\n").replace(": how", ":\nhow").replace("copper of ", "")
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
