"""Apparent orders of pairs of baths: one number would be no surprise, six of them are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...common.number_words import figures
from ...page.picture import INK, NARROW, SIZE, SMALL, WIDE, Drawing, figure, title_over
from ...page.row_chart import ChartRow, RowChart
from ...page.widget.controls import PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT
from .numbers import (
    ROCKED,
    ROOMY_WEAK,
    SHAKEN,
    STILL,
    STRONG,
    Order,
    measured_order,
    order_of,
    weaker,
)

if TYPE_CHECKING:
    from ...page import Prediction

CASES = {
    "weak peroxide,\nroomy tray, rocked": ROOMY_WEAK,
    "mild, shaken": SHAKEN,
    "mild, rocked": ROCKED,
    "mild, still": STILL,
    "strong, still: drawn\nonly, never mixed": STRONG,
}
MEASURED = "two measured layers"
KNOWN = (MEASURED, "mild, still")
"""The rows that are there before a prediction: the page has said both already."""
ENDS, ENDS_NARROW = (0.6, 4.7), (0.6, 5.8)
"""Ends of the axis [order]; on a telephone words beside a band take more of it."""


def orders() -> dict[str, Order]:
    """Return each row's apparent order by its name: what was measured first."""
    rows = {MEASURED: measured_order()}
    for name, case in CASES.items():
        rows[name] = order_of(case)
    return rows


def order_words(row: Order) -> str:
    """Say an apparent order with its band [-].

    Examples
    --------
    >>> print(order_words(Order(2.196, 2.666, 3.04)))
    2.7 (2.2 to 3.0)
    """
    return f"{row.middle:.1f} ({row.low:.1f} to {row.high:.1f})"


def orders_panel(prediction: Prediction | None = None) -> Panel:
    """Make the picture of apparent orders; those that tell the answer wait for the prediction."""
    return Panel("Apparent order, pair by pair", [], build, show, prediction=prediction)


def build(narrow: bool) -> Drawing:
    """Make an empty picture of six rows on an axis of orders."""
    height, width, size = (4.9, NARROW, SMALL) if narrow else (3.6, WIDE, SIZE)
    sheet = figure(height, width)
    # an order is a power: equal steps of it are equal factors, as the chart's axis has them
    low, high = (weaker(STILL) ** end for end in (ENDS_NARROW if narrow else ENDS))
    rows = RowChart(sheet.subplots(), [MEASURED, *CASES], (low, high), size)
    ticks = [weaker(STILL) ** power for power in (1, 2, 3, 4)]
    labels = [f"{power}\n×{figures(tick)}" for power, tick in zip((1, 2, 3, 4), ticks, strict=True)]
    rows.axes.set_xticks(ticks, labels, fontsize=size, color=INK)
    label = "apparent order, and how many times as long at half the strength"
    if narrow:
        label = "apparent order, and times as long\nat half the strength"
    rows.axes.set_xlabel(label, fontsize=size, color=INK)
    title = title_over(sheet, "\n" if narrow else " ", size)
    return Drawing(sheet, (*rows.moving, title), rows=rows, title=title, narrow=narrow)


def show(drawing: Drawing, predicted: str | None = WITHOUT) -> PanelWords:
    """Draw the orders and say them; until something is `predicted` only those known already."""
    is_known = predicted is not None
    chart, lines, seen = [], [], orders()
    for name, row in seen.items():
        plain_name = name.replace("\n", " ")
        if is_known or name in KNOWN:
            axis = [weaker(STILL) ** value for value in (row.low, row.middle, row.high)]
            chart.append(ChartRow(axis[0], axis[1], axis[2], order_words(row)))
            lines.append(f"{plain_name} {order_words(row)}")
        else:
            # not a number is not drawn
            chart.append(ChartRow(float("nan"), float("nan"), float("nan"), ""))
            lines.append(f"{plain_name}: predict first")
    drawing.parts["rows"].draw(chart, weaker(STILL))
    mild = [row.middle for name, row in seen.items() if name.startswith("mild")]
    title = "What is its order when the tray moves"
    readout = f"{title}? Predict first: then the other rows appear."
    notes = ""
    if is_known:
        title = f"One mixture, orders from {min(mild):.1f} to {max(mild):.1f}"
        shaken, still = order_words(order_of(SHAKEN)), order_words(order_of(STILL))
        readout = (
            f"{title}: shaken {shaken}, still {still}. Measured: {measured_order().middle:.1f}."
        )
        notes = (
            "<p><b>An order that depends on how you move the tray is no order of a reaction.</b> "
            "Film, bubbles, warmth and running down are in it.</p>"
        )
    drawing.parts["title"].set_text(title if is_known else f"{title}?")
    alt = (
        f"{title}. Apparent order of six pairs, the middle with a band of 8 in 10 plausible "
        f"baths; for the layers, the ends of what was seen: {'; '.join(lines)}. A dotted line "
        "marks order 1."
    )
    return PanelWords(readout, alt, notes=notes)
