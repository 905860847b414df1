"""Plans that a reader keeps beside each other: their table, their picture, and a file of both."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from ...bench.mixtures import Comparison, compare
from ...bench.plan.planning import Plan
from ...common.number_words import degrees, ratio_of, span
from ...common.units import ZERO_C, minute
from ...page.picture import INK, LINE, SHADE, WIDE, Drawing, Picture, figure, picture_of, plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

PLACE = "baths"
"""Under which a browser keeps the rows: planner and map share them."""
SIZE = 10
"""Of words in the picture [pt]."""
ROW = 0.36
"""Height of a row in the picture [inch]."""
HEADING = 0.25
"""Height of what says what hatching means [inch]."""
HATCHED = "Hatched: refused"
"""Of a bath that harms, and of one that would not do the job: the table says which."""
LONGEST = 4 * 60
"""Times are drawn up to here [min]: four hours, for never."""
SHORTEST = (0.02, 0.1, 1.0)
"""Where the axis of times may begin [min]."""
TICKS = {0.02: "1 s", 0.1: "6 s", 1: "1", 3: "3", 10: "10", 30: "30", 100: "100"}
"""What stands on it [min], and how."""
STOP = 45.0
"""Where the board is lifted out [°C] (common practice)."""


def rows_shown(
    rows: Sequence[Mapping[str, Any]],
    plan_of: Callable[[Mapping[str, Any]], Plan],
    window: tuple[float, float] | None,
    hottest: float | None,
    more: Callable[[Plan], str] | None = None,
) -> tuple[str, str, list[int]]:
    """Work kept rows out anew, and show them.

    Parameters
    ----------
    rows : sequence of dict
        Values of the planner's fields, as a browser kept them [units of the fields].
    plan_of : callable
        Makes the plan of such values; ValueError: they are none any more.
    window : tuple of float, or None
        From when to when the board is wanted clear [s].
    hottest : float or None
        The warmest that the bath may get [K].
    more : callable, optional
        What a row's name says beside its number.

    Returns
    -------
    tuple
        HTML of table and picture, the table as CSV, and the places of rows that are lost [-].
    """
    plans: dict[str, Plan] = {}
    lost = []
    for place, row in enumerate(rows):
        try:
            plan = plan_of(row)
        except (ValueError, KeyError, TypeError):
            # kept by an older edition, or changed by hand: the browser's storage is no file of ours
            lost.append(place)
            continue
        name = str(len(plans) + 1)
        if more is not None:
            name = f"{name}: {more(plan)}"
        plans[name] = plan
    if not plans:
        return "", "", lost
    comparison = compare(plans, window=window, hottest=hottest)
    shown = picture_beside(comparison)
    return f"{comparison._repr_html_()}{shown._repr_html_()}", csv_of(comparison), lost


def picture_beside(comparison: Comparison) -> Picture:
    """Draw plans that are compared, a row each, with words for who cannot see it [min, °C]."""
    return picture_of(drawn(comparison.plans), picture_words(comparison.plans))


def csv_of(comparison: Comparison) -> str:
    """Write a comparison as comma-separated values, a line a plan [units in the heads].

    Each line holds its own inputs: no amount stands anywhere without them.
    """
    rows = comparison.rows
    # a refused plan lacks what it does not say: its cells stay blank
    heads = list(dict.fromkeys(head for row in rows.values() for head in row))
    text = io.StringIO()
    writer = csv.DictWriter(text, ["row", *heads], restval="", lineterminator="\n")
    writer.writeheader()
    for name, row in rows.items():
        writer.writerow({"row": name, **row})
    return text.getvalue()


def drawn(plans: Mapping[str, Plan]) -> Drawing:
    """Draw plans, a row each: when the board is clear, and how warm the bath gets."""
    count = len(plans)
    is_any_refused = any(plan.refused for plan in plans.values())
    height = 0.95 + ROW * count
    if is_any_refused:
        height += HEADING
    sheet = figure(height, WIDE)
    times, warmth = sheet.subplots(1, 2, sharey=True, width_ratios=(3, 2))
    for axes in (times, warmth):
        plain(axes, "x")
        axes.set(ylim=(count - 0.4, -0.6))
        axes.tick_params(labelsize=SIZE, left=False)
        axes.spines["left"].set_visible(False)
    if is_any_refused:
        times.set_title(HATCHED, loc="left", fontsize=SIZE, color=INK)
    names = [f"{name}   {ratio_of(plan.inputs.parts)}" for name, plan in plans.items()]
    times.set_yticks(range(count), names, fontsize=SIZE, color=INK)
    soonest = min(float(plan.bands["time_to_clear"].low) for plan in plans.values()) / minute
    # baths that take minutes need no seconds on the axis
    first = max(place for place in SHORTEST if place < max(soonest, min(SHORTEST) * 1.01))
    times.set(xscale="log", xlim=(first, LONGEST))
    ticks = {place: words for place, words in TICKS.items() if place >= first}
    times.set_xticks(list(ticks), list(ticks.values()))
    times.minorticks_off()
    times.set_xlabel("minutes until the board is clear", fontsize=SIZE, color=INK)
    warmth.set_xlabel("°C while etching; below it in the day after", fontsize=SIZE, color=INK)
    warmth.axvline(STOP, color=INK, linewidth=1, linestyle="--")
    for place, plan in enumerate(plans.values()):
        bands = plan.bands
        ends = np.array([bands["time_to_clear"].low, bands["time_to_clear"].high]) / minute
        band_row(times, place, ends, 0.22, plan.refused)
        middle = float(bands["time_to_clear"].middle) / minute
        if middle <= LONGEST:
            times.plot([middle, middle], [place - 0.25, place + 0.25], color=LINE, linewidth=2.5)
        for name, shift in (("etching_peak", -0.16), ("standing_peak", 0.16)):
            warm = np.array([bands[name].low, bands[name].high]) - ZERO_C
            band_row(warmth, place + shift, warm, 0.12, plan.refused)
    low, high = warmth.get_xlim()
    warmth.set_xlim(min(low, 15.0), max(high, 60.0))
    return Drawing(sheet)


def band_row(axes: Axes, place: float, ends: Any, half: float, is_refused: bool) -> None:
    """Draw a band at a place [rows], hatched where the bath is refused [unit of the axis]."""
    low, high = np.clip(ends, *axes.get_xlim()) if axes.get_xscale() == "log" else ends
    look: dict[str, Any] = {"facecolor": SHADE, "edgecolor": "none"}
    if is_refused:
        look = {"facecolor": "white", "edgecolor": INK, "hatch": "////", "linewidth": 0.6}
    axes.fill_between([low, high], place - half, place + half, **look)


def picture_words(plans: Mapping[str, Plan]) -> str:
    """Say the picture of kept rows [s, K]."""
    lines = []
    for name, plan in plans.items():
        bands = plan.bands
        lines.append(
            f"Row {name}, {plan.verdict}: clear in {span(bands['time_to_clear'])}; while etching "
            f"{degrees(bands['etching_peak'])}, in the day after {degrees(bands['standing_peak'])}"
        )
    words = f"{'. '.join(lines)}. A dashed line at 45 °C."
    if any(plan.refused for plan in plans.values()):
        words += f" {HATCHED}."
    return words
