"""Take one effect away at a time: how much longer the bath takes, whether factors multiply, what water then costs."""

from __future__ import annotations

import re
from typing import Any

import numpy as np

from ...bench.plan.dilution import ALL_OFF, ALL_ON, TAKEN, times_weaker
from ...common.band import Band
from ...common.number_words import clock, figures
from ...page.picture import INK, NARROW, WIDE, Drawing, figure
from ...page.row_chart import SIZE, SMALL, Row, Rows
from ...page.widget.controls import Choice, Said, Slider
from ...page.widget.panel import Panel
from ..workshop import BOTTLES, PAIRS, bath
from .numbers import QUESTION, cost, without
from .words import first_words, parted

FACTORS = (0.33, 60.0)
"""Ends of the axis [-]: times the middle bath with all effects on."""
TICKS = (0.5, 1, 2, 5, 10, 20, 50)
MOST_WATER = 3.0
"""Parts of water up to which the middle bath clears with all bottles, so that factors compare [-]."""
ALIKE = 1.2
"""Two factors nearer than this to each other are called alike [-]."""


def factors(rows: dict[str, Band]) -> dict[str, float]:
    """How many times longer the middle bath takes without each effect [-], as it can be read off the picture."""
    return {name: float(band.middle) / float(rows[ALL_ON].middle) for name, band in rows.items()}


def words(rows: dict[str, Band], before: str, water: float) -> tuple[str, str, str]:
    """Title, sentence and text alternative of a picture of these times [s, parts], from the same numbers.

    Parameters
    ----------
    rows : dict of Band
        Times [s], as `pcbchem.bench.dilution.times_without` gives them.
    before : str
        Words before all, of bottles that are only drawn.
    water : float
        Parts of water [-].

    Returns
    -------
    tuple of str
        Title, live sentence, the picture in words.
    """
    found = factors(rows)
    single = {effect: found[f"without {effect}"] for effect in TAKEN}
    whole, product = found[ALL_OFF], float(np.prod(list(single.values())))
    most = max(single, key=lambda effect: single[effect])
    title = f"{most.capitalize()} helps most: without it {times(single[most])}"
    alike = max(whole / product, product / whole) < ALIKE
    verdict = (
        "close, but not equal" if alike else "they feed each other, so they do not simply multiply"
    )
    told = (
        f"{parted(water)}: multiplied, the five factors give {times(product)}; without all five it is "
        f"{times(whole)}: {verdict}"
    )
    said = "; ".join(
        f"{name} {clock(band.middle)} ({clock(band.low)} to {clock(band.high)}), {times(found[name])}"
        for name, band in rows.items()
    )
    alt = f"{before}{title}. Middle times with the band of 8 in 10: {said}. {told}."
    return f"{before}{title}", f"{before}{told}.", alt


def times(factor: float) -> str:
    """A factor [-] as it stands at a row.

    Examples
    --------
    >>> print(times(1.01), times(0.8911), times(15.6))
    ×1.0 ×0.89 ×16
    """
    return f"×{factor:.1f}" if 0.95 <= factor < 9.95 else f"×{figures(factor)}"


def build(narrow: bool) -> Drawing:
    """Seven rows on one axis of factors."""
    size = SMALL if narrow else SIZE
    made = figure(4.6 if narrow else 3.4, NARROW if narrow else WIDE)
    names = (ALL_ON, *(f"without {effect}" for effect in TAKEN), ALL_OFF)
    shown = [name.replace("without ", "without\n") for name in names] if narrow else names
    rows = Rows(made.subplots(), shown, FACTORS, size)
    rows.axes.set_xticks(TICKS, [f"×{tick:g}" for tick in TICKS], fontsize=size, color=INK)
    rows.axes.set_xlabel("\n " if narrow else " ", fontsize=size, linespacing=1.3)  # keeps a place
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
    title = made.suptitle(
        "\n\n" if narrow else " ",
        x=0.01,
        ha="left",
        fontsize=size + 1,
        fontweight="bold",
        color=INK,
    )
    return Drawing(
        made, (*rows.moving, title, axis), rows=rows, title=title, axis=axis, narrow=narrow
    )


def cost_words(
    rows: dict[str, Band], before: str, water: float, weaker: float
) -> tuple[str, str, str]:
    """As `words`, of what so much water costs without each effect: ratios of times, parts, times weaker [-]."""
    whole, single = fold(rows[ALL_ON]), {effect: rows[f"without {effect}"] for effect in TAKEN}
    alone = times(weaker)
    if not water:
        told = "No water: nothing to compare. Move the slider to add water"
        return (
            f"{before}Add water",
            f"{before}{told}.",
            f"{before}{told}. Every row stands at ×1.0.",
        )
    nearest = min(single, key=lambda effect: float(single[effect].middle))
    title = f"Slower {whole}; without {nearest} {fold(single[nearest])}"
    told = (
        f"{parted(water)}: with all on {whole} the time without water, without {nearest} {fold(single[nearest])}, "
        f"without all five {fold(rows[ALL_OFF])}; strength alone would give {alone}"
    )
    said = "; ".join(
        f"{name} {fold(band)} ({' to '.join(factor(end) for end in (band.low, band.high))})"
        for name, band in rows.items()
    )
    alt = (
        f"{before}{title}. Times with water over times without, the middle with the band of 8 in 10: {said}. "
        f"A dotted line marks strength alone, {alone}. {told}."
    )
    return f"{before}{title}", f"{before}{told}.", alt


def factor(value: Any) -> str:
    """A ratio [-] as it stands at a row, or "never" where one of the two baths never clears."""
    return times(float(value)) if np.isfinite(value) else "never"


def fold(band: Band) -> str:
    """The middle of a band of ratios [-], as it stands at a row."""
    return factor(float(band.middle))


def taken_away_panel() -> Panel:
    """Rows: all on, then without one effect after the other, for the bottles and the water chosen.

    Returns
    -------
    Panel
        The time itself, or time with water over time without; each setting is computed once and kept.
    """
    controls: list[Slider | Choice] = [
        Choice(
            "shown",
            "Show",
            {"cost": "how much the water slows it", "time": "how long it takes"},
            "cost",
        ),
        Slider("water", "Water", "parts", 0.0, MOST_WATER, 0.1, QUESTION),
        Choice("bottles", BOTTLES, {name: pair.words for name, pair in PAIRS.items()}, "mild"),
    ]

    def show(drawing: Drawing, shown: str, water: float, bottles: str) -> Said:
        parts, before = round(water, 1), first_words(bottles)
        if shown == "cost":
            ratios, weaker = cost(bottles, parts), times_weaker(bath(bottles), parts)
            title, readout, alt = cost_words(ratios, before, parts, weaker)
            made = [row(band, 1.0, fold(band)) for band in ratios.values()]
            line, axis = weaker, "times as long as without water; dotted: strength alone"
        else:
            rows, first = without(bottles, parts), float(without(bottles, parts)[ALL_ON].middle)
            title, readout, alt = words(rows, before, parts)
            ends = {
                name: "" if name == ALL_ON else f", {times(found)}"
                for name, found in factors(rows).items()
            }
            made = [
                row(band, first, f"{clock(band.middle)}{ends[name]}") for name, band in rows.items()
            ]
            line, axis = 1.0, "times as long as with all on"
        drawing.parts["rows"].draw(made, line)
        narrow = drawing.parts["narrow"]
        drawing.parts["axis"].set_text(axis.replace("; ", ";\n") if narrow else axis)
        drawing.parts["title"].set_text(folded(title) if narrow else title)
        return Said(readout, alt)

    return Panel("Take one effect away", controls, build, show)


def folded(words: str) -> str:
    """Words of a narrow picture, a part of the sentence a line."""
    return re.sub(r"(?<=[.;,:]) (?!a curve)", "\n", words)


def row(band: Band, scale: float, said: str) -> Row:
    """A band as a row of factors [its own unit, over a scale], with words at its end."""
    return Row(float(band.low) / scale, float(band.middle) / scale, float(band.high) / scale, said)
