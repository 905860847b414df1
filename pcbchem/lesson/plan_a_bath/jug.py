"""The jug of a plan's picture: what is poured, to scale, and what is held back apart from it with its conditions."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from ...bench.plan.outcome import Stage
from ...bench.plan.planning import Plan
from ...page.picture import INK, SHADE
from .words import held_back, parts, poured, split, vessel

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SIZE = 11
LETTER = 0.082
"""Width of a letter of that size [inch], near enough to tell where words fit."""
GAP = 0.44
"""From one two-line label beside the jug to the next [inch]."""
LINE_HIGH = 0.185
"""From one line of words to the next [inch]."""
FILLS = {
    "water": "white",
    "kept bath": "#8ea9bd",
    "acid": SHADE,
    "peroxide": "0.88",
    "peroxide, second portion": "0.88",
}


def write(axes: Axes, x: float, y: float, text: str, **how: Any) -> Any:
    """Words in the picture's own size and ink, at a place [units of the axes]."""
    return axes.text(x, y, text, fontsize=SIZE, color=INK, **how)


def jug(axes: Axes, plan: Plan, narrow: bool) -> None:
    """The jug to scale, its layers from the bottom up with their words, what is held back under it; refused: why."""
    height = axes.get_ylim()[1]
    write(
        axes,
        0,
        height,
        "No jug" if plan.refused else f"{vessel(plan)}, in this order",
        va="top",
        weight="bold",
    )
    if plan.refused:
        write(
            axes,
            0,
            height - 0.35,
            f"A refused plan measures nothing out.\nParts asked for, a ratio only:\n{parts(plan)}",
            va="top",
            linespacing=1.4,
        )
        return
    wide, foot, top = (0.65 if narrow else 0.95), 0.05, height - 0.45
    now, later = split(plan.stages)
    room = int((axes.get_xlim()[1] - 0.24 - wide) / LETTER)
    said = [
        textwrap.wrap(
            held_back(stage).replace(" mL", "\xa0mL").replace(" US fl oz", "\xa0US\xa0fl\xa0oz"),
            room,
        )
        for stage in later
    ]
    below = foot + sum(LINE_HIGH * len(lines) + 0.15 for lines in said)
    scale = min(
        [
            0.88 * (top - below) / sum(stage.volume for stage in now),
            *((below - foot - 0.1) / stage.volume for stage in later),
        ]
    )
    centres, y = [], below
    for stage in now:
        tall = scale * stage.volume
        layer(axes, wide, y, tall, stage)
        centres.append(y + tall / 2)
        y += tall
    axes.plot(
        (0.0, 0.08, 0.08, 0.08 + wide, 0.08 + wide),
        (top + 0.06, top, below, below, top),
        color=INK,
        linewidth=2,
    )
    places = apart(centres, GAP, below + 0.13, top - 0.1)
    for k, (stage, centre, place) in enumerate(zip(now, centres, places, strict=True), 1):
        axes.plot((0.08 + wide, 0.2 + wide), (centre, place), color=INK, linewidth=0.8)
        write(axes, 0.24 + wide, place, "\n".join(poured(stage, k)), va="center", linespacing=1.2)
    for stage, lines in zip(later, said, strict=True):
        tall = scale * stage.volume
        layer(axes, wide, below - 0.1 - tall, tall, stage)
        write(axes, 0.24 + wide, foot - 0.03, "\n".join(lines), va="bottom", linespacing=1.2)


def layer(axes: Axes, wide: float, y: float, tall: float, stage: Stage) -> None:
    """One layer of the jug, or with a dashed edge a portion that is kept apart from it [inch]."""
    axes.fill_between(
        (0.08, 0.08 + wide),
        y,
        y + tall,
        facecolor=FILLS[stage.what],
        edgecolor=INK,
        linewidth=0.8,
        linestyle="--" if stage.when else "-",
    )


def apart(places: list[float], gap: float, low: float, high: float) -> list[float]:
    """Places from the bottom up [inch], moved as little as keeps them a gap apart, or less where there is no room.

    Examples
    --------
    >>> print([f"{place:.1f}" for place in apart([0.1, 0.2, 1.0], 0.4, 0.2, 2.0)])
    ['0.2', '0.6', '1.0']
    """
    gap = min(gap, (high - low) / max(len(places) - 1, 1))
    found: list[float] = []
    for place in places:
        found.append(max(place, low, found[-1] + gap if found else low))
    ceiling = high
    for k in reversed(range(len(found))):
        found[k] = min(found[k], ceiling)
        ceiling = found[k] - gap
    return found
