"""Page 08's two pictures of a made-up bench: its funnel, and the same by another hand's times."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from ...page.picture import Drawing, Words, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from .numbers import BENCHES, MOST_OFFCUTS, OFFCUTS, SEEN_LATE, START, seen, truth
from .picture import Funnel
from .texts import read_times, why
from .words import (
    FUNNEL,
    HOW,
    TIMED,
    funnel_question,
    funnel_rows,
    funnel_words,
    timed_question,
    timed_rows,
    timed_words,
)

HEIGHT, NARROW_HEIGHT = 4.4, 6.9
"""Of a picture [inch]."""
MOST_COPIED = 60
"""Settings of a panel in a live copy [-]: every second bench, alike in both, for the page is large
as it is."""
NARROW_TITLE = 40
"""So many letters has a line of a narrow title [-]."""


def funnel_panel(prediction: Prediction | None = None, school: bool = False) -> Panel:
    """Make the panel of one bench: what each offcut adds to what is known of its board.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    school : bool
        For a class: nothing that is said leads to an etching of one's own.

    Returns
    -------
    Panel
        How many offcuts, and which bench; the truth stands in it.
    """

    def show(
        drawing: Drawing, offcuts: float, number: float, predicted: str | None = WITHOUT
    ) -> PanelWords:
        bench, offcut_count = round(number), round(offcuts)
        is_known = predicted is not None
        rows = funnel_rows(bench, offcut_count, is_known)
        funnel = drawing.parts["funnel"]
        if not is_known:
            funnel.draw(rows, ())
            return say(drawing, funnel_question(bench))
        funnel.draw(rows, seen(bench)[:offcut_count], truth(bench))
        return say(drawing, funnel_words(bench, offcut_count), as_html(why(school)))

    controls = [
        Slider("offcuts", "Large offcuts etched", "", 1, MOST_OFFCUTS, 1, OFFCUTS),
        number_slider("Number of your bench"),
    ]
    return Panel(
        "A made-up bench",
        controls,
        build_funnel,
        show,
        prediction=prediction,
        most_copied=MOST_COPIED,
    )


def times_panel(
    prediction: Prediction | None = None, *after: Prediction, school: bool = False
) -> Panel:
    """Make the panel of one bench whose six offcuts are timed in one way or another.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.
    school : bool
        For a class: nothing that is said leads to an etching of one's own.

    Returns
    -------
    Panel
        How they are timed, and which bench; the truth stands in it.
    """

    def show(
        drawing: Drawing, timed: str, number: float, predicted: str | None = WITHOUT
    ) -> PanelWords:
        bench = round(number)
        is_known = predicted is not None
        rows = timed_rows(bench, timed, is_known)
        funnel = drawing.parts["funnel"]
        if not is_known:
            funnel.draw(rows, ())
            return say(drawing, timed_question(bench))
        funnel.draw(rows, seen(bench, timed), truth(bench))
        remark = ""
        if timed != SEEN_LATE and predicted != WITHOUT:
            remark = "Your prediction was for a look every two minutes, written down as it was."
        return say(drawing, timed_words(bench, timed), as_html(read_times(school)), remark)

    controls: list[Choice | Slider] = [
        Choice("timed", "Timed", HOW, SEEN_LATE),
        # two panels share no value, least of all in a copy
        number_slider("Number of your bench (set it here too)"),
    ]
    return Panel(
        "Who timed them",
        controls,
        build_timed,
        show,
        prediction=prediction,
        after=after,
        most_copied=MOST_COPIED,
    )


def number_slider(label: str) -> Slider:
    """Return the slider of benches: a teacher gives each pupil one."""
    return Slider("number", label, "", 1, BENCHES, 1, START)


def build_funnel(narrow: bool) -> Drawing:
    """Make the empty rows of a bench."""
    return drawing_of(narrow, FUNNEL)


def build_timed(narrow: bool) -> Drawing:
    """Make the empty rows of a bench that is timed in one way or another."""
    return drawing_of(narrow, TIMED)


def drawing_of(narrow: bool, names: Sequence[str]) -> Drawing:
    """Return the drawing of a funnel whose last rows are its large offcuts."""
    # a narrow title takes two lines, and the words of the truth stand under it
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT, lines=2)
    funnel = Funnel(sheet.add_subplot(), names, len(names) - MOST_OFFCUTS, size, narrow)
    # longest words, so that there is room for them
    for text in funnel.ranges:
        text.set_text("10.0 to 10.0 min")
    for text in funnel.widths:
        text.set_text("1.71")
    return Drawing(sheet, (*funnel.moving, title), funnel=funnel, title=title, narrow=narrow)


def say(drawing: Drawing, words: Words, notes: str = "", remark: str = "") -> PanelWords:
    """Write the title over the picture, and return the words that stand with it."""
    title = words.title
    if drawing.parts["narrow"]:
        title = textwrap.fill(title, NARROW_TITLE)
    drawing.parts["title"].set_text(title)
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)
