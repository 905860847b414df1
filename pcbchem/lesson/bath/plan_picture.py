"""The picture of a plan: jug, what its copper takes, time and temperature; no chemistry here."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

import numpy as np

from ...bench.hazards.verdicts import Limit
from ...bench.plan.planning import Plan
from ...common.band import Band
from ...common.extras import extra
from ...common.number_words import degrees
from ...common.units import ZERO_C, minute
from ...page.picture import (
    INK,
    LINE,
    NARROW,
    SHADE,
    Drawing,
    Picture,
    figure,
    picture_of,
    plain,
)
from .budget import uses
from .jug import LETTER, SIZE, jug, write
from .plan_words import (
    Row,
    as_first_word,
    celsius_of,
    end,
    limit_verdicts,
    limits,
    middle,
    reach,
    reserve,
    rows,
    takes,
    title,
    words,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes

POINTS = 121
"""Points of the curve of temperature."""
PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 0}
# fixed, so that a reader who moves a field sees what changes and nothing jump
WIDE_PLACES = {
    "times": (1.35, 6.75, 3.15, 1.05),
    "warmth": (1.35, 4.75, 3.15, 1.6),
    "after": (4.7, 4.75, 1.3, 1.6),
    "jug": (0.1, 2.25, 5.8, 1.9),
    "bars": (0.1, 0.15, 5.8, 1.98),
}
NARROW_PLACES = {
    "times": (0.7, 8.45, 2.1, 1.9),
    "warmth": (0.7, 5.97, 2.1, 2.0),
    "after": (2.87, 5.97, 0.98, 2.0),
    "jug": (0.1, 2.55, 3.75, 2.8),
    "bars": (0.1, 0.3, 3.75, 2.2),
}
"""Where the axes are: left, bottom, width, height [inch]."""
WIDE = 6.1  # inch: it stands beside the fields, at 1366 pixels with JupyterLab's side bar open
WIDE_HEIGHT, NARROW_HEIGHT = 8.8, 11.6  # inch
TITLE, NARROW_TITLE = 0.6, 0.85
"""Height of the lines that say when the board is clear, where they stand over it [inch]."""
SPARE = 1.5
"""Room to the right of the wide axis of time [inch]: words may stand there."""
KEY = "Pale: 8 of 10 plausible baths. Dark line: the middle one."
TO_LEARN_FROM = "Curves to learn from."
"""Stands over the picture of a refused bath whose verdict stands beside it."""
WIDE_LETTERS, NARROW_LETTERS = 68, 44
"""Letters in a line of the heading."""
LAST_IN_SECONDS = 2.5 * minute
"""Up to here an axis of time counts seconds [s]."""


def build(narrow: bool = False, titled: bool = True) -> Drawing:
    """Make an empty picture of a plan, to be filled by `show` as often as one likes.

    Parameters
    ----------
    narrow : bool
        For a telephone: one below the other.
    titled : bool
        Whether it says over the picture when the board is clear: not where that stands beside it.

    Returns
    -------
    Drawing
        Its axes in fixed places, so that nothing jumps from one plan to the next.
    """
    width, height, places, title_height = WIDE, WIDE_HEIGHT, WIDE_PLACES, TITLE
    if narrow:
        width, height, places, title_height = (
            NARROW,
            NARROW_HEIGHT,
            NARROW_PLACES,
            NARROW_TITLE,
        )
    if not titled:
        height -= title_height
    sheet = figure(height, width)
    sheet.set_layout_engine("none")  # every place is fixed below
    axes = {}
    for name, (left, bottom, wide, tall) in places.items():
        box = (left / width, bottom / height, wide / width, tall / height)
        axes[name] = sheet.add_axes(box)
    for name in ("jug", "bars"):
        # one unit of these axes is one inch
        axes[name].set_axis_off()
        axes[name].set(xlim=(0, places[name][2]), ylim=(0, places[name][3]))
    set_up_times(axes["times"])
    set_up_warmth(axes["warmth"], axes["after"])
    # empty, and filled by `show`: the place of each part is found by its name
    head = sheet.text(
        0.1 / width,
        1 - 0.1 / height,
        "",
        fontsize=SIZE,
        va="top",
        color=INK,
        linespacing=1.25,
    )
    # nothing is listed as moving: the axes' own ends change from plan to plan, so all is drawn anew
    return Drawing(sheet, (), narrow=narrow, titled=titled, head=head, **axes)


def set_up_times(axes: Axes) -> None:
    """Set up the axis of time: its numbers stand under the axis of temperature below it."""
    plain(axes, "x").tick_params(labelbottom=False, left=False, labelleft=False, bottom=False)
    axes.spines["left"].set_visible(False)


def set_up_warmth(warmth: Axes, after: Axes) -> None:
    """Set up the two axes of temperature, the second without numbers of its own."""
    with extra("pages"):
        from matplotlib.ticker import MultipleLocator

    plain(warmth).tick_params(labelsize=SIZE)
    plain(after).tick_params(labelleft=False, left=False, bottom=False, labelbottom=False)
    after.set_xlim(0, 1)
    warmth.yaxis.set_major_formatter("{x:.0f} °C")
    # the same lines in both, as if the grid went through
    warmth.yaxis.set_major_locator(MultipleLocator(20))
    after.yaxis.set_major_locator(MultipleLocator(20))


def show(drawing: Drawing, plan: Plan, name: str = "This bath") -> Drawing:
    """Draw a plan into a picture made by `build`.

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
    for part in WIDE_PLACES:
        wipe(axes[part])
    lines = [KEY]
    if drawing.parts["titled"]:
        lines = [*title(plan, name).split("\n"), KEY]
    elif plan.refused:
        lines = [f"{TO_LEARN_FROM} {KEY}"]
    letters = NARROW_LETTERS if narrow else WIDE_LETTERS
    heading = "\n".join(textwrap.fill(line, letters) for line in lines)
    axes["head"].set_text(heading)
    jug(axes["jug"], plan, narrow)
    bars(axes["bars"], plan)
    timeline(axes["times"], rows(plan), end(plan), narrow)
    warmth(axes["warmth"], plan, narrow)
    standing(axes["after"], plan)
    return drawing


def wipe(axes: Axes) -> None:
    """Take everything off that was drawn into axes."""
    # not axes.clear(): that would take ticks, ends and looks off too
    for artist in (*axes.lines, *axes.collections, *axes.patches, *axes.texts):
        artist.remove()


def bars(axes: Axes, plan: Plan) -> None:
    """Draw what this copper takes of each reagent beside what the bath holds, and the reserve."""
    right, y = axes.get_xlim()[1] - 0.1, axes.get_ylim()[1]
    write(axes, 0, y, "What this copper takes", va="top", weight="bold")
    shares = uses(plan)
    finite = [float(band.high) for band in shares.values() if np.isfinite(band.high)]
    # the widest fills the width; none wider than the bath holds: then its outline does
    most = max([1.0, *finite])
    y -= 0.32
    for name, band in shares.items():
        write(axes, 0, y, takes(name, band), va="top")
        foot, top, whole = y - 0.46, y - 0.26, 0.0
        if np.isfinite(band.high):
            low, middle, high = (
                right * float(share) / most for share in (band.low, band.middle, band.high)
            )
            axes.fill_between((0, high), foot, top, color=SHADE, linewidth=0)
            axes.fill_between((0, low), foot, top, color=LINE, linewidth=0)
            axes.plot((middle, middle), (y - 0.48, y - 0.24), color=INK, linewidth=2)
            whole = right / most
        axes.plot((0, whole, whole, 0, 0), (foot, foot, top, top, foot), color=INK, linewidth=1.2)
        y -= 0.68
    words = f"Outlined: what the bath holds. {as_first_word(reserve(plan))}."
    write(axes, 0, y, textwrap.fill(words, int(right / LETTER)), va="top", linespacing=1.25)


def unit_of(last: float) -> tuple[float, str]:
    """Return the unit of an axis of time that ends so late [s], and its name."""
    if last <= LAST_IN_SECONDS:
        return 1.0, "seconds"
    return minute, "minutes"


def timeline(axes: Axes, listed: list[Row], last: float, narrow: bool) -> None:
    """Draw rows under each other on the axis of time [s]: a mark or a band each, and its words."""
    scale, _ = unit_of(last)
    # y counts rows downwards: 0 is on top; narrow, words stand above the first row
    above = -0.75 if narrow else -0.6
    axes.set(xlim=(0, last / scale), ylim=(len(listed) - 0.4, above))
    for y, row in enumerate(listed):
        # later than the axis shows: words alone, with an arrow
        if row.low < last:
            draw_row(axes, row, y, last, scale)
        text = row.words
        if row.low >= last and np.isfinite(row.low):
            text = f"{row.words} →"
        if narrow:
            write_above_row(axes, row, y, text)
        else:
            write_beside_row(axes, row, y, text, last, scale)


def width_of(axes: Axes) -> float:
    """Return the width of axes [inch]."""
    sheet = axes.get_figure(root=True)
    assert sheet is not None  # it is in a picture
    return axes.get_position().width * float(sheet.get_size_inches()[0])


def draw_row(axes: Axes, row: Row, y: float, last: float, scale: float) -> None:
    """Draw the mark or the band of one row, up to the end of the axis [s, in units of `scale`]."""
    low, high = (min(time, last) / scale for time in (row.low, row.high))
    # one moment, such as the first look
    if row.low == row.high:
        axes.plot((low, low), (y - 0.22, y + 0.22), color=INK, linewidth=2.5)
        return
    if row.middle is None:
        # what the resist stands is nobody's computation: hatched
        look: dict[str, Any] = {"facecolor": "white", "edgecolor": INK, "hatch": "////"}
    else:
        look = {"facecolor": SHADE, "edgecolor": "none"}
    axes.fill_between((low, high), y - 0.22, y + 0.22, linewidth=0.8, **look)
    if row.middle is not None and row.middle <= last:
        place = row.middle / scale
        axes.plot((place, place), (y - 0.25, y + 0.25), color=LINE, linewidth=2.5)


def write_above_row(axes: Axes, row: Row, y: float, text: str) -> None:
    """Write name and words of a row above its place [rows], with the middle where there is room."""
    line = f"{row.name}: {text}"
    if len(line + middle(row)) * LETTER < NARROW - 0.2:
        line += middle(row)
    left = -0.6 / width_of(axes)  # 0.6 inch before the axes: there stand the °C of those below
    write(axes, left, y - 0.42, line, va="center", transform=axes.get_yaxis_transform())


def write_beside_row(axes: Axes, row: Row, y: float, text: str, last: float, scale: float) -> None:
    """Write the name of a row before it, its words where there is room [s, in units of `scale`]."""
    across = axes.get_yaxis_transform()
    write(axes, -0.02, y, row.name, transform=across, ha="right", va="center")
    low, high = (min(time, last) / scale for time in (row.low, row.high))
    width = width_of(axes)
    inch = width * scale / last  # to one unit of the axis
    room, left = (len(words) * LETTER + 0.08 for words in (text, middle(row)))
    # after the band if there is room, with its middle before it; else before it; else over it
    if not np.isfinite(row.low):
        write(axes, 0.0, y, text, va="center")
    elif row.low >= last:
        write(axes, last / scale, y, text, ha="right", va="center")
    elif high * inch + room + left - 0.08 <= width + SPARE:
        write(axes, high + 0.08 / inch, y, f"{text}{middle(row)}", va="center")
    elif high * inch + room <= width + SPARE:
        write(axes, high + 0.08 / inch, y, text, va="center")
        if low * inch >= left:
            words = middle(row).removeprefix(", ")
            write(axes, low - 0.08 / inch, y, words, ha="right", va="center")
    elif low * inch >= room:
        write(axes, low - 0.08 / inch, y, text, ha="right", va="center")
    else:
        write(axes, last / scale, y, text, ha="right", va="center", bbox=PAPER)


def heading_of(axes: Axes, when: str, peak: Band) -> None:
    """Write over an axis of temperature when it is, and from where to where it gets [K]."""
    axes.set_title(f"{when}:\n{degrees(peak)}", loc="left", fontsize=SIZE, color=INK)


def warmth(axes: Axes, plan: Plan, narrow: bool) -> None:
    """Draw temperature against time [°C], or its peak alone, with the verdict's limits."""
    last = end(plan)
    scale, unit = unit_of(last)
    low, high = reach(plan)
    axes.set(xlim=(0, last / scale), ylim=(low, high))
    axes.set_xlabel(f"{unit} since the board went in", fontsize=SIZE, color=INK)
    peak = plan.bands["etching_peak"]
    heading_of(axes, "while etching", peak)
    if plan.run.steps is None:
        peak_alone(axes, peak, last / scale, narrow)
    else:
        times = np.linspace(0.0, last, POINTS)
        # past its end each bath stays as it was when its board was clear
        temperature = np.asarray(plan.run.at(times)["temperature"]) - ZERO_C
        band = Band.of(temperature, plan.run.draws)
        axes.fill_between(times / scale, band.low, band.high, color=SHADE, linewidth=0)
        axes.plot(times / scale, band.middle, color=LINE, linewidth=2)
    for limit in limits("etching_peak", low, high):
        draw_limit(axes, celsius_of(limit), short_words(limit))


def peak_alone(axes: Axes, peak: Band, right: float, narrow: bool) -> None:
    """Draw what a bath reaches [K] across the axis: with two portions its course is not kept."""
    low, middle, high = (float(end) - ZERO_C for end in (peak.low, peak.middle, peak.high))
    axes.fill_between((0, right), low, high, color=SHADE, linewidth=0)
    axes.axhline(middle, color=LINE, linewidth=2, linestyle=":")
    words = "what it reaches: no course\nis kept with two portions"
    if narrow and high > 33:  # °C: above it stands the line at 45
        write(axes, 0.02 * right, low - 1, words, va="top")
    else:
        write(axes, 0.02 * right, high + 1, words, va="bottom")


def standing(axes: Axes, plan: Plan) -> None:
    """Draw how warm the bath gets in the day after [°C]: a bar, with the verdict's limits."""
    # the same ends as while etching: the two pictures compare
    low, high = reach(plan)
    peak = plan.bands["standing_peak"]
    axes.set_ylim(low, high)
    heading_of(axes, "day after", peak)
    least, middle, most = (float(end) - ZERO_C for end in (peak.low, peak.middle, peak.high))
    axes.fill_between((0.06, 0.24), least, most, color=SHADE, linewidth=0)
    axes.plot((0.02, 0.28), (middle, middle), color=LINE, linewidth=2.5)
    for limit in limits("standing_peak", low, high):
        draw_limit(axes, celsius_of(limit), f"{celsius_of(limit):.0f} °C")


def short_words(limit: Limit) -> str:
    """Say what may fall above a limit [°C] where there is no room for how many baths."""
    verdicts = " or ".join(limit_verdicts(limit)).replace("with ", "")
    return f"{celsius_of(limit):.0f} °C: {verdicts}"


def draw_limit(axes: Axes, T: float, words: str) -> None:
    """Draw a dashed line with its words for a limit of the verdict [°C]."""
    axes.axhline(T, color=INK, linewidth=1, linestyle="--")
    axes.annotate(
        words,
        (0.995, T),
        xycoords=axes.get_yaxis_transform(),  # x as a share of the width, y in °C
        xytext=(0, 2),
        ha="right",
        va="bottom",
        textcoords="offset points",
        color=INK,
        fontsize=SIZE,
        bbox=PAPER,
    )


def picture(plan: Plan, name: str = "This bath") -> Picture:
    """Draw a plan as a page shows it without a panel: a picture, its narrow twin and its words."""
    wide, narrow = show(build(), plan, name), show(build(narrow=True), plan, name)
    return picture_of(wide, words(plan, name)[1], narrow)
