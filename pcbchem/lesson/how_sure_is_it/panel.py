"""Page 04b's first panel: plausible baths one by one, and how sure their ratio is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...page.picture import NARROW, SIZE, SMALL, WIDE, Drawing, figure, title_over
from ...page.widget.controls import Choice, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT
from .numbers import Case
from .picture import Pairs, Ranges
from .words import MOVED, ratio_question_words, ratio_words

if TYPE_CHECKING:
    from ...page import Prediction


def ratio_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of 200 plausible baths, each with water against itself without.

    Parameters
    ----------
    prediction : Prediction, optional
        The baths and their ratio wait for it. None: everything is shown.

    Returns
    -------
    Panel
        With the movement of the tray to choose.
    """
    tray = Choice("tray", "The tray", MOVED, "still")
    return Panel("How sure is the ratio?", [tray], build, show, prediction=prediction)


def build(narrow: bool) -> Drawing:
    """Make the baths and the two bars beside each other, or one under the other."""
    if narrow:
        size, sheet = SMALL, figure(5.9, NARROW)
        boxes = sheet.subplots(2, 1, height_ratios=(66, 34))
        title_lines = "\n\n"
    else:
        size, sheet = SIZE, figure(3.7, WIDE)
        boxes = sheet.subplots(1, 2, width_ratios=(52, 48))
        title_lines = " "
    pairs, ranges = Pairs(boxes[0], size), Ranges(boxes[1], size)
    title = title_over(sheet, title_lines, size)
    moving = (*pairs.moving, *ranges.moving, title)
    return Drawing(sheet, moving, pairs=pairs, ranges=ranges, title=title, narrow=narrow)


def show(drawing: Drawing, tray: str, predicted: str | None = WITHOUT) -> PanelWords:
    """Draw the mild bath in a tray and say it; the baths wait until something is `predicted`."""
    case = Case("mild", tray)
    is_known = predicted is not None
    words = ratio_words(case) if is_known else ratio_question_words(case)
    drawing.parts["pairs"].draw(case, is_known)
    drawing.parts["ranges"].draw(case, is_known)
    title = words.title
    if drawing.parts["narrow"]:
        # a part of the sentence a line
        title = title.replace(": ", ":\n", 1).replace(", by", ",\nby")
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, notes=words.notes)
