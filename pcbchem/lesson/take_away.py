"""Take one effect away at a time: how much longer the bath takes, and whether the factors multiply."""

from __future__ import annotations

import numpy as np

from ..bench.dilution import ALL_OFF, ALL_ON, TAKEN, WATER
from ..bench.spoken import clock, figures
from ..reaction.run import Band
from .band_rows import Row, Rows
from .panel import Choice, Panel, Said, Slider
from .style import INK, NARROW, WIDE, Drawing, figure
from .water import BOTTLES, SIZE, SMALL, point
from .water_words import first_words, parted
from .workshop_baths import PAIRS, without

FACTORS = (0.33, 60.0)
"""Ends of the axis [-]: times the middle bath with all effects on."""
TICKS = (0.5, 1, 2, 5, 10, 20, 50)
MOST_WATER = 3.0
"""Parts of water up to which the middle bath clears with all bottles, so that factors compare [-]."""
ALIKE = 1.1
"""Two factors nearer than this to each other are called alike [-]."""


def factors(rows: dict[str, Band]) -> dict[str, float]:
    """How many times longer the middle bath takes without each effect [-], as it can be read off the picture."""
    return {name: float(band.middle) / float(rows[ALL_ON].middle) for name, band in rows.items()}


def words(rows: dict[str, Band], before: str, water: float) -> tuple[str, str, str]:
    """Title, sentence and text alternative of a picture of these times [s, parts], from the same numbers.

    Parameters
    ----------
    rows : dict of Band
        Times [s], as `pcbchem.bench.dilution.taken_away` gives them.
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
    most = max(single, key=lambda effect: abs(np.log(single[effect])))
    title = f"{most.capitalize()} matters most: without it {times(single[most])}"
    alike = max(whole / product, product / whole) < ALIKE
    verdict = "much the same" if alike else "they feed each other, so they do not simply multiply"
    told = (f"{parted(water)}: multiplied, the five factors give {times(product)}; without all five it is "
            f"{times(whole)}: {verdict}")
    said = "; ".join(f"{name} {clock(band.middle)} ({clock(band.low)} to {clock(band.high)}), {times(found[name])}"
                     for name, band in rows.items())
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
    rows.axes.set_xlabel("in times the middle bath with all on" if narrow else
                         "time to clear, in times that of the middle bath with all on", fontsize=size, color=INK)
    title = made.suptitle("\n" if narrow else " ", x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK)
    return Drawing(made, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def taken_away_panel() -> Panel:
    """Rows of times: all on, then without one effect after the other, for the bottles and the water chosen.

    Returns
    -------
    Panel
        Each setting is computed once and kept.
    """
    controls: list[Slider | Choice] = [
        Slider("water", "Water", "parts", 0.0, MOST_WATER, 0.1, 0.0),
        Choice("bottles", BOTTLES, {name: pair.words for name, pair in PAIRS.items()}, "mild")]

    def show(drawing: Drawing, water: float, bottles: str) -> Said:
        rows = without(bottles, float(WATER[point(water)]))
        found = factors(rows)
        title, readout, alt = words(rows, first_words(bottles, point(water)), float(WATER[point(water)]))
        first = float(rows[ALL_ON].middle)
        drawing.parts["rows"].draw([
            Row(float(band.low) / first, float(band.middle) / first, float(band.high) / first,
                f"{clock(band.middle)}{'' if name == ALL_ON else f', {times(found[name])}'}")
            for name, band in rows.items()], 1.0)
        drawing.parts["title"].set_text(title.replace(". ", ".\n") if drawing.parts["narrow"] else title)
        return Said(readout, alt)

    return Panel("Take one effect away", controls, build, show)
