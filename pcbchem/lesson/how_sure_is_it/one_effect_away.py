"""Take one effect away at a time: do the factors multiply to what all five do together?"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from ...bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN
from ...common.band import Band
from ...common.number_words import clock
from ...page.picture import INK, NARROW, SIZE, SMALL, WIDE, Drawing, figure, title_over
from ...page.row_chart import ChartRow, RowChart
from ...page.widget.controls import Choice, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT
from .numbers import STILL, STRONG, without
from .words import times

if TYPE_CHECKING:
    from ...page import Prediction

FACTORS = (0.45, 900.0)
"""Ends of the axis [-]: times the middle bath with all effects on."""
TICKS, TICKS_NARROW = (0.5, 1, 2, 5, 10, 50, 200), (1, 5, 50)
MULTIPLIED = "five multiplied"
ALIKE = 1.1
"""Two factors nearer than this to each other are called alike [-]."""
BATHS = {"mild": "mild, still", "strong": "strong, still: drawn only, never mixed here"}
CASES = {"mild": STILL, "strong": STRONG}


@dataclasses.dataclass(frozen=True)
class Product:
    """Five factors multiplied, and the factor without all five at once [-]."""

    multiplied: float
    at_once: float

    @property
    def words(self) -> str:
        """Whether they multiply: on an axis of factors both ways count alike."""
        apart = self.multiplied / self.at_once
        if max(apart, 1 / apart) < ALIKE:
            return "they multiply, nearly"
        return "they do not multiply"


def without_words(effect: str) -> str:
    """Return the name of the row without an effect."""
    return f"without {effect}"


def factors(bands: Mapping[str, Band]) -> dict[str, float]:
    """Return how many times longer the middle bath takes without each effect [-], as it is drawn.

    Parameters
    ----------
    bands : dict of Band
        Times [s], as `pcbchem.bench.plan.dilution.times_without` gives them.

    Returns
    -------
    dict of float
        Factors by the name of the row [-].
    """
    first = float(bands[ALL_ON].middle)
    return {name: float(band.middle) / first for name, band in bands.items()}


def product(bands: Mapping[str, Band]) -> Product:
    """Return the five factors multiplied and the one without all five, from times [s]."""
    factor = factors(bands)
    single = [factor[without_words(effect)] for effect in TAKEN]
    return Product(float(np.prod(single)), factor[ALL_OFF])


def row(band: Band, scale: float, words: str) -> ChartRow:
    """Return a band as a row of factors [its own unit, over a scale], with words at its end."""
    return ChartRow(
        float(band.low) / scale, float(band.middle) / scale, float(band.high) / scale, words
    )


def taken_away_panel(prediction: Prediction | None = None) -> Panel:
    """Make the panel of rows: without one effect after the other, multiplied, and all at once.

    Parameters
    ----------
    prediction : Prediction, optional
        The row without all five waits for it. None: everything is shown.

    Returns
    -------
    Panel
        For the mild or the strong bath; each is computed once and kept.
    """
    bath = Choice("bath", "The bath", BATHS, "mild")
    return Panel("Do the effects multiply?", [bath], build, show, prediction=prediction)


def build(narrow: bool) -> Drawing:
    """Make an empty picture of seven rows on one axis of factors."""
    names = [*(without_words(effect) for effect in TAKEN), MULTIPLIED, ALL_OFF]
    height, width, size, title_lines = 3.4, WIDE, SIZE, " "
    if narrow:
        height, width, size, title_lines = 4.8, NARROW, SMALL, "\n\n\n"
        names = [name.replace("without ", "without\n") for name in names]
    sheet = figure(height, width)
    rows = RowChart(sheet.subplots(), names, FACTORS, size)
    ticks = TICKS_NARROW if narrow else TICKS
    rows.axes.set_xticks(ticks, [f"×{tick:g}" for tick in ticks], fontsize=size, color=INK)
    rows.axes.set_xlabel("times as long as with all on", fontsize=size, color=INK)
    title = title_over(sheet, title_lines, size)
    return Drawing(sheet, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def show(drawing: Drawing, bath: str, predicted: str | None = WITHOUT) -> PanelWords:
    """Draw the rows of a bath and say them; "all five" waits until something is `predicted`."""
    bands = without(CASES[bath])
    factor, both = factors(bands), product(bands)
    is_known = predicted is not None
    scale = float(bands[ALL_ON].middle)
    rows, lines = [], []
    for effect in TAKEN:
        name = without_words(effect)
        rows.append(row(bands[name], scale, times(factor[name])))
        lines.append(f"{name} {times(factor[name])}")
    # multiplied middles are one number: it has no band
    multiplied = times(both.multiplied)
    rows.append(ChartRow(both.multiplied, both.multiplied, both.multiplied, multiplied))
    lines.append(f"{MULTIPLIED} {multiplied}")
    # not a number is not drawn
    waiting = float("nan")
    last = ChartRow(waiting, waiting, waiting, "")
    first = "Drawn only, never mixed here. " if bath == "strong" else ""
    title = f"{first}Five factors give {multiplied}: and all five at once"
    readout = f"{title}? Predict first: then the last row appears."
    if is_known:
        last = row(bands[ALL_OFF], scale, f"{times(both.at_once)}, {clock(bands[ALL_OFF].middle)}")
        lines.append(f"{ALL_OFF} {times(both.at_once)}")
        title = f"{first}Multiplied {multiplied}, at once {times(both.at_once)}: {both.words}"
        readout = f"{title}. With all on it takes {clock(scale)}."
    rows.append(last)
    drawing.parts["rows"].draw(rows, 1.0)
    alt = (
        f"{title}. Times as long as with all effects on, the middle with a band of 8 in 10 "
        f"plausible baths: {'; '.join(lines)}. A dotted line marks ×1, "
        f"{clock(scale)}."
    )
    notes = told(both) if is_known else ""
    shown = title if is_known else f"{title}?"
    drawing.parts["title"].set_text(broken(shown) if drawing.parts["narrow"] else shown)
    return PanelWords(readout, alt, notes=notes)


def told(both: Product) -> str:
    """Say in HTML why the factors multiply or not."""
    if both.multiplied <= both.at_once * ALIKE:
        return "<p>Here each effect works nearly as if the others were not there.</p>"
    return (
        "<p>A warm film makes more bubbles. Bubbles make the etching quicker, so the bath loses "
        "less heat. Without bubbles, warmth has less to do.</p>"
    )


def broken(title: str) -> str:
    """Break the title of a narrow picture, a part of the sentence a line."""
    return title.replace(". ", ".\n").replace(": ", ":\n").replace(", at", ",\nat")
