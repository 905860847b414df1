"""Take one effect away at a time: how long the bath then takes, and what water then costs."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from typing import Any

import numpy as np

from ...bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN, times_weaker
from ...common.band import Band
from ...common.number_words import clock, figures
from ...page.picture import INK, NARROW, WIDE, Drawing, figure
from ...page.row_chart import SIZE, SMALL, ChartRow, RowChart
from ...page.widget.controls import Choice, PanelWords, Slider
from ...page.widget.panel import Panel
from ..workshop import BOTTLES, PAIRS, bath
from .numbers import QUESTION, cost, without
from .words import first_words, water_words

FACTORS = (0.33, 60.0)
"""Ends of the axis [-]: times the middle bath with all effects on."""
TICKS = (0.5, 1, 2, 5, 10, 20, 50)
MOST_WATER = 3.0
"""Parts of water up to which the middle bath clears with all bottles: factors compare [-]."""
ALIKE = 1.2
"""Two factors nearer than this to each other are called alike [-]."""
VIEWS = {"cost": "how much the water slows it", "time": "how long it takes"}


@dataclasses.dataclass(frozen=True)
class Chart:
    """What the picture shows and says: title, sentence, alternative, rows, line and axis [-]."""

    title: str
    readout: str
    alt: str
    rows: list[ChartRow]
    line: float
    axis: str


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


def times(factor: float) -> str:
    """Write a factor [-] as it stands at a row, or "never" where one of two baths never clears.

    Examples
    --------
    >>> print(times(1.01), times(0.951), times(0.8911), times(15.6))
    ×1.0 ×0.95 ×0.89 ×16
    """
    if not np.isfinite(factor):
        return "never"
    # ×1.0 and not ×1, which would look like a number counted
    if 0.995 <= factor < 9.95:
        return f"×{factor:.1f}"
    return f"×{figures(factor)}"


def middle_times(band: Band) -> str:
    """Write the middle of a band of ratios [-] as it stands at a row."""
    return times(float(band.middle))


def row(band: Band, scale: float, words: str) -> ChartRow:
    """Return a band as a row of factors [its own unit, over a scale], with words at its end."""
    return ChartRow(
        float(band.low) / scale, float(band.middle) / scale, float(band.high) / scale, words
    )


def time_chart(bands: Mapping[str, Band], first: str, water: float) -> Chart:
    """Show how long a bath takes without each effect, and whether the factors multiply.

    Parameters
    ----------
    bands : dict of Band
        Times [s], as `pcbchem.bench.plan.dilution.times_without` gives them.
    first : str
        Words before all, of bottles that are only drawn.
    water : float
        Parts of water [-].

    Returns
    -------
    Chart
        Rows in times the middle bath with all on [-], words with the times [s, min or h].
    """
    factor = factors(bands)
    single = {effect: factor[without_words(effect)] for effect in TAKEN}
    whole, product = factor[ALL_OFF], float(np.prod(list(single.values())))
    helper = max(single, key=lambda effect: single[effect])
    title = f"{helper.capitalize()} helps most: without it {times(single[helper])}"
    # they multiply only as far as the effects do not feed each other
    verdict = "they feed each other, so they do not simply multiply"
    # whichever is the larger: on an axis of factors both ways count alike
    if max(whole / product, product / whole) < ALIKE:
        verdict = "close, but not equal"
    finding = (
        f"{water_words(water)}: multiplied, the five factors give {times(product)}; without all "
        f"five it is {times(whole)}: {verdict}"
    )
    undiminished = float(bands[ALL_ON].middle)
    rows, lines = [], []
    for name, band in bands.items():
        end = "" if name == ALL_ON else f", {times(factor[name])}"
        rows.append(row(band, undiminished, f"{clock(band.middle)}{end}"))
        ends = f"({clock(band.low)} to {clock(band.high)})"
        lines.append(f"{name} {clock(band.middle)} {ends}, {times(factor[name])}")
    alt = f"{first}{title}. Middle times with the band of 8 in 10: {'; '.join(lines)}. {finding}."
    axis = "times as long as with all on"
    return Chart(f"{first}{title}", f"{first}{finding}.", alt, rows, 1.0, axis)


def cost_chart(bands: Mapping[str, Band], first: str, water: float, weaker: float) -> Chart:
    """Show what so much water costs without each effect.

    Parameters
    ----------
    bands : dict of Band
        Ratios of times [-], as `pcbchem.bench.plan.dilution.cost_without` gives them.
    first : str
        Words before all, of bottles that are only drawn.
    water : float
        Parts of water [-].
    weaker : float
        How many times weaker the bath is by it [-].

    Returns
    -------
    Chart
        Rows in times the undiluted time [-], with strength alone as the dotted line.
    """
    rows = [row(band, 1.0, middle_times(band)) for band in bands.values()]
    axis = "times as long as without water; dotted: strength alone"
    # without water every ratio is 1: nothing helps most, and a title would be noise
    if not water:
        finding = "No water: nothing to compare. Move the slider to add water"
        alt = f"{first}{finding}. Every row stands at ×1.0."
        return Chart(f"{first}Add water", f"{first}{finding}.", alt, rows, weaker, axis)
    single = {effect: bands[without_words(effect)] for effect in TAKEN}
    nearest = min(single, key=lambda effect: float(single[effect].middle))
    whole, alone = middle_times(bands[ALL_ON]), times(weaker)
    without_nearest = f"without {nearest} {middle_times(single[nearest])}"
    title = f"Slower {whole}; {without_nearest}"
    finding = (
        f"{water_words(water)}: with all on {whole} the time without water, {without_nearest}, "
        f"without all five {middle_times(bands[ALL_OFF])}; strength alone would give {alone}"
    )
    lines = []
    for name, band in bands.items():
        ends = f"({times(float(band.low))} to {times(float(band.high))})"
        lines.append(f"{name} {middle_times(band)} {ends}")
    alt = (
        f"{first}{title}. Times with water over times without, the middle with the band of 8 in "
        f"10: {'; '.join(lines)}. A dotted line marks strength alone, {alone}. {finding}."
    )
    return Chart(f"{first}{title}", f"{first}{finding}.", alt, rows, weaker, axis)


def build(narrow: bool) -> Drawing:
    """Make an empty picture of seven rows on one axis of factors."""
    names = [ALL_ON, *(without_words(effect) for effect in TAKEN), ALL_OFF]
    # empty lines keep the places of title and axis label when everything is laid out
    height, width, size, label_lines, title_lines = 3.4, WIDE, SIZE, " ", " "
    if narrow:
        height, width, size, label_lines, title_lines = 4.6, NARROW, SMALL, "\n ", "\n\n"
        names = [name.replace("without ", "without\n") for name in names]
    sheet = figure(height, width)
    rows = RowChart(sheet.subplots(), names, FACTORS, size)
    rows.axes.set_xticks(TICKS, [f"×{tick:g}" for tick in TICKS], fontsize=size, color=INK)
    rows.axes.set_xlabel(label_lines, fontsize=size, linespacing=1.3)
    # the label that changes with the view; the axes' own one only keeps its place
    axis = rows.axes.annotate(
        "",
        (0.5, 0),
        (0, -size - 12),
        "axes fraction",
        "offset points",
        fontsize=size,
        ha="center",
        va="top",
        color=INK,
    )
    title = sheet.suptitle(
        title_lines, x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK
    )
    moving = (*rows.moving, title, axis)
    return Drawing(sheet, moving, rows=rows, title=title, axis=axis, narrow=narrow)


def say(drawing: Drawing, shown: str, water: float, bottles: str) -> PanelWords:
    """Draw the rows of a view for parts of water [-] and a pair of bottles, and say them."""
    # whole tenths, as the slider steps: kept numbers are found again
    parts, first = round(water, 1), first_words(bottles)
    if shown == "cost":
        weaker = times_weaker(bath(bottles), parts)
        chart = cost_chart(cost(bottles, parts), first, parts, weaker)
    else:
        chart = time_chart(without(bottles, parts), first, parts)
    drawing.parts["rows"].draw(chart.rows, chart.line)
    axis, title = chart.axis, chart.title
    if drawing.parts["narrow"]:
        axis, title = axis.replace("; ", ";\n"), part_a_line(title)
    drawing.parts["axis"].set_text(axis)
    drawing.parts["title"].set_text(title)
    return PanelWords(chart.readout, chart.alt)


def part_a_line(title: str) -> str:
    """Break the title of a narrow picture, a part of the sentence a line."""
    return re.sub(r"(?<=[.;,:]) ", "\n", title)


def taken_away_panel() -> Panel:
    """Make the panel of rows: all on, then without one effect after the other.

    Returns
    -------
    Panel
        For the bottles and the water chosen, the time itself, or time with water over time
        without; each setting is computed once and kept.
    """
    pairs = {name: pair.words for name, pair in PAIRS.items()}
    controls: list[Any] = [
        Choice("shown", "Show", VIEWS, "cost"),
        Slider("water", "Water", "parts", 0.0, MOST_WATER, 0.1, QUESTION),
        Choice("bottles", BOTTLES, pairs, "mild"),
    ]
    return Panel("Take one effect away", controls, build, say)
