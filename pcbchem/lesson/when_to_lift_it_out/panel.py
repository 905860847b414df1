"""Page 07's two pictures of a trace: in four baths over minutes, and on three foils."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...common.units import minute
from ...page.picture import Drawing, Words, parted, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import (
    ASKED,
    BATHS,
    LATE,
    LATE_STEP,
    LATEST,
    LONGEST,
    MILD,
    OUNCES,
    STEP,
    course,
)
from .picture import Cut, FoilLine, WidthLine
from .predictions import ANSWERS, words_of
from .texts import read_foils, why
from .words import (
    OUNCE_WORDS,
    answer_words,
    foil_words,
    is_asked,
    question_words,
    width_words,
)

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.text import Text

HEIGHT, NARROW_HEIGHT = 4.2, 7.2
"""Of a picture with the view from above [inch]."""
FOIL_HEIGHT, NARROW_FOIL = 4.0, 6.0
"""Of one without [inch]."""
WIDE_PLACES = ((0.01, 0.02, 0.45, 0.88), (0.545, 0.14, 0.44, 0.7))
NARROW_PLACES = ((0.02, 0.5, 0.96, 0.43), (0.15, 0.08, 0.82, 0.36))
NARROW_FOIL_PLACES = ((0.02, 0.58, 0.96, 0.33), (0.15, 0.09, 0.82, 0.42))
"""Where cut and line stand: left, low, width and height, as shares of the picture [-].

By hand: a layout that arranges itself leaves no room for axes that are to scale both ways.
"""
FOIL_LONGEST = 14.0
"""End of the second panel's axis of time [min]: 2 oz left in far too long is on it."""
CHOICES = {
    "mild": "mild: 10 %, 12 %",
    "water": "mild with 1.2 parts of water",
    "strong": "strong bottles, thinned (drawn only)",
    "weak": "weak: 10 %, 3 %",
}
"""Baths to choose from, as they stand beside their buttons."""
START_FOIL = 0.5
"""Foil at which the second panel starts [oz/ft²]: the one that is asked about."""


def trace_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of one trace: how long it was in, and in which bath.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.

    Returns
    -------
    Panel
        Slider and bath; no way to the planner from a bath that is only drawn.
    """

    def show(
        drawing: Drawing, time: float, bath: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        cut, line = drawing.parts["cut"], drawing.parts["line"]
        is_known = predicted is not None
        line.show(is_known)
        if not is_known:
            cut.empty(course())
            return say(drawing, question_words())
        width = ANSWERS.get(str(predicted))
        remark = ""
        if width is not None and not is_asked(bath, time):
            remark = "Your prediction was for the mild bath, the very second it is clear."
            width = None
        guess = words_of(width) if width is not None else ""
        trace = course(bath)
        left = float(trace.left(time * minute).middle)
        cut.fill()
        cut.draw(trace, time * minute, left)
        line.draw_line(trace)
        line.draw_clear(trace)
        line.draw_slider(time, left)
        line.draw_guess(time, width, f"you: {width_words(width, 2)}" if width else "")
        words = answer_words(bath, time, f"“{guess}”" if guess else "")
        return say(drawing, words, remark, as_html(why(bath)))

    controls: list[Slider | Choice] = [
        Slider("time", "Taken out after", "min", 0.0, LONGEST, STEP, ASKED),
        Choice("bath", "Bath", {name: CHOICES[name] for name in BATHS}, MILD),
    ]
    return Panel("A trace in the bath", controls, build_trace, show, prediction=prediction)


def foil_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of three foils, each left in too long.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Slider and foil.
    """

    def show(
        drawing: Drawing, late: float, foil: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        cut, line = drawing.parts["cut"], drawing.parts["line"]
        is_known = predicted is not None
        line.show(is_known)
        ounces = float(foil)
        trace = course(MILD, ounces)
        if not is_known:
            cut.empty(trace)
            return say(drawing, question_words(is_foil=True))
        cut.fill()
        left = float(trace.late(late * minute).middle)
        # the cut is that of the middle bath, at its own time
        cut.draw(trace, float(trace.clear.middle) + late * minute, left)
        line.draw_line(trace)
        line.draw_stops()
        line.draw_dot(ounces, late)
        is_there = ounces == START_FOIL and late == LATE
        remark = "" if is_there else "Your prediction was for ½ oz, a minute too long."
        if predicted == WITHOUT:
            remark = ""
        return say(drawing, foil_words(ounces, late), remark, as_html(read_foils()))

    foils = {f"{weight:g}": OUNCE_WORDS[weight] for weight in OUNCES}
    controls: list[Slider | Choice] = [
        Slider("late", "Too long", "min", 0.0, LATEST, LATE_STEP, LATE),
        Choice("foil", "Foil", foils, f"{START_FOIL:g}"),
    ]
    return Panel(
        "Thin foil and thick", controls, build_foils, show, prediction=prediction, after=after
    )


def build_trace(narrow: bool) -> Drawing:
    """Make the cut, the view from above and an empty line."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    sheet.set_layout_engine("none")
    cut_place, line_place = NARROW_PLACES if narrow else WIDE_PLACES
    cut = Cut(sheet.add_axes(cut_place), size)
    line = WidthLine(sheet.add_axes(line_place), size, LONGEST)
    return drawing_of(narrow, sheet, title, cut, line)


def build_foils(narrow: bool) -> Drawing:
    """Make the cut alone, and an empty line with its stops."""
    sheet, size, title = sheet_of(narrow, FOIL_HEIGHT, NARROW_FOIL)
    sheet.set_layout_engine("none")
    cut_place, line_place = NARROW_FOIL_PLACES if narrow else WIDE_PLACES
    cut = Cut(sheet.add_axes(cut_place), size, from_above=False)
    line = FoilLine(sheet.add_axes(line_place), size, FOIL_LONGEST)
    return drawing_of(narrow, sheet, title, cut, line)


def drawing_of(narrow: bool, sheet: Figure, title: Text, cut: Cut, line: WidthLine) -> Drawing:
    """Return the drawing of a cut beside a line."""
    moving = (*cut.moving, *line.moving, title)
    return Drawing(sheet, moving, cut=cut, line=line, title=title, narrow=narrow)


def say(drawing: Drawing, words: Words, remark: str = "", notes: str = "") -> PanelWords:
    """Write the title over the picture, and return the words that stand with it."""
    title = words.title
    if drawing.parts["narrow"]:
        title = parted(title, ". ", ": ")
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
