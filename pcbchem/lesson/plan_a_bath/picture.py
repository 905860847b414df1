"""The picture of a plan: jug, what its copper takes, time and temperature; a plan in, a drawing out, no chemistry."""

from __future__ import annotations

import re
import textwrap
from typing import TYPE_CHECKING

import numpy as np

from ...bench.hazards.verdicts import VERDICTS
from ...bench.plan.budget import uses
from ...bench.plan.planning import Plan
from ...common.band import Band
from ...common.number_words import degrees
from ...common.units import ZERO_C, minute
from ...page.picture import INK, LINE, NARROW, SHADE, WIDE, Drawing, Picture, figure, picture, plain
from .jug import LETTER, SIZE, jug, write
from .words import Row, end, limits, middle, reach, reserve, rows, takes, title, words

if TYPE_CHECKING:
    from matplotlib.axes import Axes

POINTS = 121
PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 0}
PLACES = {
    False: {
        "jug": (0.1, 3.75, 4.2, 2.8),
        "bars": (4.45, 4.3, 3.5, 2.25),
        "times": (1.45, 2.62, 4.2, 1.0),
        "warmth": (1.45, 0.72, 4.2, 1.55),
        "after": (5.85, 0.72, 2.1, 1.55),
    },
    True: {
        "jug": (0.1, 7.65, 3.75, 2.8),
        "bars": (0.1, 5.4, 3.75, 2.2),
        "times": (0.7, 3.45, 2.1, 1.9),
        "warmth": (0.7, 0.97, 2.1, 2.0),
        "after": (2.87, 0.97, 0.98, 2.0),
    },
}
"""Where the axes are, wide and narrow: left, bottom, width, height [inch]."""
TALL = {False: 7.2, True: 11.6}
SPARE = 2.1
"""Room to the right of the wide axis of time [inch]: words may stand there."""


def build(narrow: bool = False) -> Drawing:
    """An empty picture of a plan, to be filled by `show` as often as one likes.

    Parameters
    ----------
    narrow : bool
        For a telephone: one below the other.

    Returns
    -------
    Drawing
        Its axes in fixed places, so that nothing jumps from one plan to the next.
    """
    from matplotlib.ticker import MultipleLocator

    wide, tall = NARROW if narrow else WIDE, TALL[narrow]
    made = figure(tall, wide)
    made.set_layout_engine("none")
    axes = {
        name: made.add_axes((x / wide, y / tall, w / wide, h / tall))
        for name, (x, y, w, h) in PLACES[narrow].items()
    }
    for name in ("jug", "bars"):
        axes[name].set_axis_off()
        axes[name].set(xlim=(0, PLACES[narrow][name][2]), ylim=(0, PLACES[narrow][name][3]))
    plain(axes["times"], "x").tick_params(
        labelbottom=False, left=False, labelleft=False, bottom=False
    )
    axes["times"].spines["left"].set_visible(False)
    plain(axes["warmth"]).tick_params(labelsize=SIZE)
    plain(axes["after"]).tick_params(labelleft=False, left=False, bottom=False, labelbottom=False)
    axes["after"].set_xlim(0, 1)
    axes["warmth"].yaxis.set_major_formatter("{x:.0f} °C")
    axes["warmth"].yaxis.set_major_locator(MultipleLocator(20))
    axes["after"].yaxis.set_major_locator(MultipleLocator(20))
    made.text(
        0.1 / wide,
        0.1 / tall,
        "Pale: 8 of 10 plausible baths.\nDark line: the middle one."
        if narrow
        else "Pale: 8 of 10 plausible baths. Dark line: the middle one.",
        fontsize=SIZE,
        color=INK,
    )
    head = made.text(
        0.1 / wide, 1 - 0.1 / tall, "", fontsize=SIZE + 1, va="top", color=INK, linespacing=1.25
    )
    return Drawing(made, (), narrow=narrow, head=head, **axes)


def show(drawing: Drawing, plan: Plan, name: str = "This bath") -> Drawing:
    """A plan drawn into a picture made by `build`.

    Parameters
    ----------
    drawing : Drawing
        Whatever it showed is wiped off.
    plan : Plan
        Its bands and course [s, K, -]; where it is refused no amount is drawn.
    name : str
        What the page calls the bath [-].

    Returns
    -------
    Drawing
        The same.
    """
    axes, narrow = drawing.parts, drawing.parts["narrow"]
    for part in PLACES[narrow]:
        for artist in (
            *axes[part].lines,
            *axes[part].collections,
            *axes[part].patches,
            *axes[part].texts,
        ):
            artist.remove()
    said = title(plan, name)
    axes["head"].set_text(
        "\n".join(line for row in said.split("\n") for line in textwrap.wrap(row, 44))
        if narrow
        else said
    )
    jug(axes["jug"], plan, narrow)
    bars(axes["bars"], plan)
    timeline(axes["times"], rows(plan), end(plan), narrow)
    warmth(axes["warmth"], plan, narrow)
    standing(axes["after"], plan, narrow)
    return drawing


def bars(axes: Axes, plan: Plan) -> None:
    """What this copper takes of acid and of peroxide, each beside what the bath holds, and the reserve."""
    wide, y = axes.get_xlim()[1] - 0.1, axes.get_ylim()[1]
    write(axes, 0, y, "What this copper takes", va="top", weight="bold")
    held = uses(plan)
    most = max([1.0, *(float(band.high) for band in held.values() if np.isfinite(band.high))])
    y -= 0.32
    for name, band in held.items():
        write(axes, 0, y, takes(name, band), va="top")
        if np.isfinite(band.high):
            low, middle, high = (wide * float(v) / most for v in (band.low, band.middle, band.high))
            axes.fill_between((0, high), y - 0.46, y - 0.26, color=SHADE, linewidth=0)
            axes.fill_between((0, low), y - 0.46, y - 0.26, color=LINE, linewidth=0)
            axes.plot((middle, middle), (y - 0.48, y - 0.24), color=INK, linewidth=2)
        there = wide / most if np.isfinite(band.high) else 0.0
        axes.plot(
            (0, there, there, 0, 0),
            (y - 0.46, y - 0.46, y - 0.26, y - 0.26, y - 0.46),
            color=INK,
            linewidth=1.2,
        )
        y -= 0.68
    write(
        axes,
        0,
        y,
        textwrap.fill(f"Outlined: what the bath holds. R{reserve(plan)[1:]}.", int(wide / LETTER)),
        va="top",
        linespacing=1.25,
    )


def timeline(axes: Axes, found: list[Row], last: float, narrow: bool) -> None:
    """One row under the other on the axis of time [s]: a mark or a band each, its words where there is room."""
    scale = 1.0 if last <= 2.5 * minute else minute
    wide = axes.get_position().width * axes.get_figure(root=True).get_size_inches()[0]  # type: ignore[union-attr]
    axes.set(xlim=(0, last / scale), ylim=(len(found) - 0.4, -0.75 if narrow else -0.6))
    for y, row in enumerate(found):
        low, high = (min(t, last) / scale for t in (row.low, row.high))
        inch = wide * scale / last
        text = row.words if row.low < last or not np.isfinite(row.low) else f"{row.words} →"
        if row.low < last:
            draw_row(axes, row, y, low, high, last / scale)
        if narrow:
            said = f"{row.name}: {text}"
            said += middle(row) if len(said + middle(row)) * LETTER < NARROW - 0.2 else ""
            write(
                axes, -0.6 / wide, y - 0.42, said, va="center", transform=axes.get_yaxis_transform()
            )
            continue
        write(
            axes, -0.02, y, row.name, transform=axes.get_yaxis_transform(), ha="right", va="center"
        )
        room, left = (len(said) * LETTER + 0.08 for said in (text, middle(row)))
        if not np.isfinite(row.low):
            write(axes, 0.0, y, text, va="center")
        elif row.low >= last:
            write(axes, last / scale, y, text, ha="right", va="center")
        elif high * inch + room <= wide + SPARE:
            write(axes, high + 0.08 / inch, y, text, va="center")
            if low * inch >= left:
                write(axes, low - 0.08 / inch, y, middle(row)[2:], ha="right", va="center")
        elif low * inch >= room:
            write(axes, low - 0.08 / inch, y, text, ha="right", va="center")
        else:
            write(axes, last / scale, y, text, ha="right", va="center", bbox=PAPER)


def draw_row(axes: Axes, row: Row, y: float, low: float, high: float, last: float) -> None:
    """The mark or the band of one row [units of the axes]."""
    if row.low == row.high:
        axes.plot((low, low), (y - 0.22, y + 0.22), color=INK, linewidth=2.5)
        return
    resist = row.middle is None
    axes.fill_between(
        (low, high),
        y - 0.22,
        y + 0.22,
        facecolor="white" if resist else SHADE,
        linewidth=0.8,
        edgecolor=INK if resist else "none",
        hatch="////" if resist else None,
    )
    if row.middle is not None and row.middle / (row.low or 1) * low <= last:
        axes.plot(
            (row.middle / row.low * low,) * 2, (y - 0.25, y + 0.25), color=LINE, linewidth=2.5
        )


def warmth(axes: Axes, plan: Plan, narrow: bool) -> None:
    """The bath's temperature against time [°C], with the verdict's rules on it; no course kept: its peak alone."""
    last = end(plan)
    scale, unit = (1.0, "seconds") if last <= 2.5 * minute else (minute, "minutes")
    low, high = reach(plan)
    axes.set(xlim=(0, last / scale), ylim=(low, high))
    axes.set_xlabel(f"{unit} since the board went in", fontsize=SIZE, color=INK)
    peak = plan.bands["etching_peak"]
    axes.set_title(
        f"while etching:{chr(10) if narrow else ' '}{degrees(peak)}",
        loc="left",
        fontsize=SIZE,
        color=INK,
    )
    if plan.run.steps is None:
        ends = [float(v) - ZERO_C for v in (peak.low, peak.middle, peak.high)]
        axes.fill_between((0, last / scale), ends[0], ends[2], color=SHADE, linewidth=0)
        axes.axhline(ends[1], color=LINE, linewidth=2, linestyle=":")
        under = narrow and ends[2] > 33  # °C: above it stands the line at 45
        said = "what it reaches: no course\nis kept with two portions"
        write(
            axes,
            0.02 * last / scale,
            ends[0] - 1 if under else ends[2] + 1,
            said if narrow else said.replace("\n", " "),
            va="top" if under else "bottom",
        )
    else:
        times = np.linspace(0.0, last, POINTS)
        band = Band.of(np.asarray(plan.run.at(times)["temperature"]) - ZERO_C, plan.run.draws)
        axes.fill_between(times / scale, band.low, band.high, color=SHADE, linewidth=0)
        axes.plot(times / scale, band.middle, color=LINE, linewidth=2)
    for T, said in limits("etching_peak", low, high):
        ruled(axes, T, worst(said, " or ").replace("with ", "") if narrow else said)


def standing(axes: Axes, plan: Plan, narrow: bool) -> None:
    """How warm the bath gets in the hour after [°C]: a bar, with the verdict's rules on it."""
    low, high = reach(plan)
    band = plan.bands["standing_peak"]
    axes.set_ylim(low, high)
    axes.set_title(
        f"hour after:{chr(10) if narrow else ' '}{degrees(band)}",
        loc="left",
        fontsize=SIZE,
        color=INK,
    )
    ends = [float(v) - ZERO_C for v in (band.low, band.middle, band.high)]
    axes.fill_between((0.06, 0.24), ends[0], ends[2], color=SHADE, linewidth=0)
    axes.plot((0.02, 0.28), (ends[1], ends[1]), color=LINE, linewidth=2.5)
    for T, said in limits("standing_peak", low, high):
        ruled(axes, T, f"{T:.0f} °C" if narrow else worst(said, " or "))


def worst(said: str, join: str) -> str:
    """A rule's line without its shares: "45 °C: with cares or do not mix"."""
    head, *rest = re.split(r": |; ", said)
    return f"{head}: {join.join(words for words in rest if words in VERDICTS)}"


def ruled(axes: Axes, T: float, said: str) -> None:
    """A dashed line with its words for one of the verdict's rules on a peak [°C]."""
    axes.axhline(T, color=INK, linewidth=1, linestyle="--")
    axes.annotate(
        said,
        (0.995, T),
        xycoords=axes.get_yaxis_transform(),
        xytext=(0, 2),
        ha="right",
        va="bottom",
        textcoords="offset points",
        color=INK,
        fontsize=SIZE,
        bbox=PAPER,
    )


def pictured(plan: Plan, name: str) -> Picture:
    """A plan as a page shows it without a panel: one still picture, its narrow twin and its words."""
    return picture(
        show(build(), plan, name), words(plan, name)[1], show(build(narrow=True), plan, name)
    )
