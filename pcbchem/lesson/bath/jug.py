"""The jug of a plan's picture: what is poured, to scale, and apart from it what is held back."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ...bench.plan.outcome import Stage
from ...bench.plan.planning import Plan
from ...bench.plan.pours import ACID, PEROXIDE, SECOND_PORTION, USED_BATH, WATER
from ...page.picture import INK, SHADE
from .plan_words import parts, pour, second_portion, split, vessel

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SIZE = 11
"""Of words [pt]."""
LETTER = 0.082
"""Width of a letter of that size [inch], near enough to tell where words fit.

Measuring each word would take longer than drawing it.
"""
LABEL_GAP, NARROW_LABEL_GAP = 0.25, 0.44
"""From one label beside the jug to the next [inch]: of one line, and narrow of two."""
LINE_HEIGHT = 0.185
"""From one line of words to the next [inch]."""
LEFT, FOOT = 0.08, 0.05
"""Where the jug's left side stands, and what is held back [inch]."""
WIDTH, NARROW_WIDTH = 0.95, 0.65
"""Of the jug [inch]."""
HOOK, LABEL = 0.2, 0.24
"""Where the line to a label and the label itself stand, beyond the jug's width [inch]."""
FULL = 0.88
"""Share of the jug's height up to which it is filled."""
FILLS = {
    WATER: "white",
    USED_BATH: "#8ea9bd",
    ACID: SHADE,
    PEROXIDE: "0.88",
    SECOND_PORTION: "0.88",
}


def write(axes: Axes, x: float, y: float, text: str, **look: Any) -> Any:
    """Write in the picture's own size and ink, at a place [units of the axes]."""
    return axes.text(x, y, text, fontsize=SIZE, color=INK, **look)


def jug(axes: Axes, plan: Plan, narrow: bool) -> None:
    """Draw the jug to scale, its layers from the bottom up, and under it what is held back."""
    # one unit of these axes is one inch, so sizes of words and places add up
    height = axes.get_ylim()[1]
    heading = f"{vessel(plan)}, in this order"
    if plan.refused:
        heading = "No jug"
    elif plan.school:
        heading += ", no amounts"
    write(axes, 0, height, heading, va="top", weight="bold")
    if plan.refused:
        words = (
            f"A refused plan measures nothing out.\nParts asked for, a ratio only:\n{parts(plan)}"
        )
        write(axes, 0, height - 0.35, words, va="top", linespacing=1.4)
        return
    width = NARROW_WIDTH if narrow else WIDTH
    top = height - 0.45
    if plan.school:
        order(axes, plan)
        return
    first, later = split(plan.stages)
    room = int((axes.get_xlim()[1] - LABEL - width) / LETTER)
    portions = [portion_lines(plan, room) for _ in later]
    # the jug stands above the words of what is held back
    bottom = FOOT
    for lines in portions:
        bottom += LINE_HEIGHT * len(lines) + 0.15
    scales = [FULL * (top - bottom) / sum(stage.volume for stage in first)]
    scales += [(bottom - FOOT - 0.1) / stage.volume for stage in later]
    # one scale for all of it, so that volumes can be compared
    scale = min(scales)
    draw_first(axes, plan, first, scale, (bottom, top), narrow)
    for stage, lines in zip(later, portions, strict=True):
        tall = scale * stage.volume
        layer(axes, width, bottom - 0.1 - tall, tall, stage)
        write(axes, LABEL + width, FOOT - 0.03, "\n".join(lines), va="bottom", linespacing=1.2)


def order(axes: Axes, plan: Plan) -> None:
    """Write the order of pouring for a class, without a jug: its layers would measure them out."""
    first, later = split(plan.stages)
    room = int(axes.get_xlim()[1] / LETTER)
    lines = [", ".join(words for words in pour(plan, n) if words) for n in range(1, len(first) + 1)]
    lines += [second_portion(plan) for _ in later]
    words = "\n".join([*(textwrap.fill(line, room) for line in lines), f"Parts: {parts(plan)}"])
    write(axes, 0, axes.get_ylim()[1] - 0.35, words, va="top", linespacing=1.4)


def portion_lines(plan: Plan, room: int) -> list[str]:
    """Say a second portion in lines of so many letters, no amount parted from its unit."""
    # a space that does not break: half an amount at the end of a line could be misread
    words = second_portion(plan).replace(" mL", "\xa0mL")
    return textwrap.wrap(words.replace(" US fl oz", "\xa0US\xa0fl\xa0oz"), room)


def draw_first(
    axes: Axes,
    plan: Plan,
    first: Sequence[Stage],
    scale: float,
    height: tuple[float, float],
    narrow: bool,
) -> None:
    """Draw the layers in the jug from its bottom up, the jug around them, their labels [inch]."""
    bottom, top = height
    width, gap, parting, edge = WIDTH, LABEL_GAP, ", ", 0.08
    if narrow:
        width, gap, parting, edge = NARROW_WIDTH, NARROW_LABEL_GAP, "\n", 0.13
    centres = []
    y = bottom
    for stage in first:
        tall = scale * stage.volume
        layer(axes, width, y, tall, stage)
        centres.append(y + tall / 2)
        y += tall
    right = LEFT + width
    # a line without a lid, with a lip to pour from
    jug_x, jug_y = (0.0, LEFT, LEFT, right, right), (top + 0.06, top, bottom, bottom, top)
    axes.plot(jug_x, jug_y, color=INK, linewidth=2)
    places = apart(centres, gap, bottom + edge, top - 0.1)
    for number, (centre, place) in enumerate(zip(centres, places, strict=True), 1):
        axes.plot((right, HOOK + width), (centre, place), color=INK, linewidth=0.8)
        label = parting.join(line for line in pour(plan, number) if line)
        write(axes, LABEL + width, place, label, va="center", linespacing=1.2)


def layer(axes: Axes, width: float, y: float, tall: float, stage: Stage) -> None:
    """Draw a layer of the jug, or with a dashed edge a portion kept apart from it [inch]."""
    axes.fill_between(
        (LEFT, LEFT + width),
        y,
        y + tall,
        facecolor=FILLS[stage.what],
        edgecolor=INK,
        linewidth=0.8,
        linestyle="--" if stage.when else "-",
    )


def apart(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Move places from the bottom up [inch] as little as keeps them a gap apart, or what there is.

    Examples
    --------
    >>> print([f"{place:.1f}" for place in apart([0.1, 0.2, 1.0], 0.4, 0.2, 2.0)])
    ['0.2', '0.6', '1.0']
    """
    # too many for the room: closer, but evenly
    gap = min(gap, (high - low) / max(len(places) - 1, 1))
    moved: list[float] = []
    floor = low
    for place in places:
        moved.append(max(place, floor))
        floor = moved[-1] + gap
    # then down from the top again, where they were pushed out of it
    ceiling = high
    for number in reversed(range(len(moved))):
        moved[number] = min(moved[number], ceiling)
        ceiling = moved[number] - gap
    return moved
