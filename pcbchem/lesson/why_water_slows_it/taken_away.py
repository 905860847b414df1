"""Take one thing away: what the same water then costs, in three rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...common.number_words import figures
from ...page.picture import INK, NARROW, SIZE, SMALL, WIDE, Drawing, figure, title_over
from ...page.row_chart import ChartRow, RowChart
from ...page.widget.afterwards import as_html
from ...page.widget.controls import PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import Prediction
from .numbers import QUESTION, STILL, TAKEN_AWAY, cost, course
from .texts import sources

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.text import Text

ENDS = (1.4, 12.0)
"""Ends of the axis of factors [-]."""
TICKS = (2, 3, 4, 6, 8)
WAITS = "Predict first, all three times: then the model runs again with one cause switched off."


def taken_away_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of three rows: without bubbles, without warmth, without running down.

    Parameters
    ----------
    prediction : Prediction, optional
        The rows wait for it. None: they are shown.
    *after : Prediction
        The rows wait for these too.
    """

    def show(drawing: Drawing, predicted: str | None = "-") -> PanelWords:
        return say(drawing, predicted is not None)

    return Panel(
        "Take one away", [], build, show, prediction=prediction, after=after, replies=False
    )


def build(narrow: bool) -> Drawing:
    """Make three empty rows on one axis of factors."""
    height, width, size, lines = (3.0, NARROW, SMALL, "\n") if narrow else (2.4, WIDE, SIZE, " ")
    sheet = figure(height, width)
    names = [f"without\n{name}" if narrow else f"without {name}" for name in TAKEN_AWAY]
    rows = RowChart(sheet.subplots(), names, ENDS, size)
    rows.axes.set_xticks(TICKS, [f"×{tick}" for tick in TICKS], fontsize=size, color=INK)
    label = "times as long as without water (by factors)\ndotted: nothing taken away"
    if not narrow:
        label = label.replace("\n", "; ")
    rows.axes.set_xlabel(label, fontsize=size, color=INK)
    # not before the answer: they would say what to think of
    rows.axes.tick_params(axis="y", labelcolor="none")
    labels = [row_name(rows.axes, place, name, size) for place, name in enumerate(names)]
    title = title_over(sheet, lines, size)
    answers = (*rows.moving, *labels)
    return Drawing(sheet, (*answers, title), rows=rows, answers=answers, title=title, narrow=narrow)


def row_name(axes: Axes, place: int, name: str, size: float) -> Text:
    """Write the name of a row before it [pt], where its tick has kept the room."""
    return axes.text(
        -0.01,
        place,
        name,
        transform=axes.get_yaxis_transform(),
        ha="right",
        va="center",
        fontsize=size,
        color=INK,
        in_layout=False,
    )


def say(drawing: Drawing, known: bool) -> PanelWords:
    """Draw the rows and say them; before a prediction, that they wait."""
    title = drawing.parts["title"]
    for artist in drawing.parts["answers"]:
        artist.set_visible(known)
    if not known:
        title.set_text("Which one explains it?")
        alt = f"Three empty rows. {WAITS}"
        return PanelWords(WAITS, alt)
    whole = float(cost().middle)
    rows, sentences = [], []
    for name in TAKEN_AWAY:
        band = cost(name)
        low, middle, high = (float(end) for end in (band.low, band.middle, band.high))
        rows.append(ChartRow(low, middle, high, f"×{middle:.1f}"))
        sentences.append(f"without {name} ×{middle:.1f} ({low:.1f} to {high:.1f})")
    drawing.parts["rows"].draw(rows, whole)
    nearest = min(TAKEN_AWAY, key=lambda name: float(cost(name).middle))
    finding = f"Without {nearest} ×{float(cost(nearest).middle):.1f}, and not ×{whole:.1f}"
    title.set_text(finding.replace(", ", ",\n") if drawing.parts["narrow"] else finding)
    dilution = course(STILL)
    weaker = figures(float(dilution.weaker[dilution.at(QUESTION)]))
    listed = "; ".join(sentences)
    readout = f"The model with one cause switched off: {nearest} explain most."
    alt = (
        f"{finding}. Times as long with the water as without. With all on ×{whole:.1f}; {listed}. "
        f"Strength alone would be ×{weaker}."
    )
    return PanelWords(readout, alt, notes=as_html(sources()))
