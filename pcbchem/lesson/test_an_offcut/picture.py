"""Picture of a bench: a row for each thing that is known of it, and a cross for each offcut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.units import minute
from ...page.picture import FAINT, INK
from ...page.row_chart import ChartRow, RowChart
from .words import range_words, width_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.text import Text

ENDS = (2.0, 10.0)
"""Both ends of the axis [min]: every band of every bench is on it, and nearly every offcut."""
TICKS = (2, 3, 4, 5, 6, 8, 10)
"""Where it says so [min]."""
X_LABEL, NARROW_LABEL = (
    "minutes until the tide clock is clear: equal steps are equal factors\n"
    "bar: 8 of 10 plausible baths   ● the middle one   × that offcut   ▶ off the axis",
    "minutes until it is clear:\nequal steps are equal factors\n"
    "bar: 8 of 10 plausible baths\n● the middle one   × that offcut   ▶ off the axis",
)
"""What the axis says, with the key of all that is drawn."""
NEAR_EDGE = 7.0
"""From here on words over a line end at it [min]."""
HEAD = "high ÷ low"
"""Stands over the column of widths."""
COLUMN = 152
"""The column of widths ends so far from the axes [pt]."""
NOTHING = ChartRow(ENDS[0], ENDS[0], ENDS[0], "")
"""Holds the place of a row that is to come."""


class Funnel:
    """Rows in one Axes, made once and empty: `draw` puts the numbers in.

    Parameters
    ----------
    axes : Axes
        Where they are drawn.
    names : sequence of str
        Of the rows, from top to bottom.
    first_offcut : int
        Place of the row of the first offcut [-]: from there on a row has a cross.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone: words stand above each row, not beside it.
    """

    def __init__(
        self, axes: Axes, names: Sequence[str], first_offcut: int, size: float, narrow: bool
    ) -> None:
        self.names, self.first_offcut, self.narrow = tuple(names), first_offcut, narrow
        self.chart = RowChart(axes, [""] * len(names), ENDS, size, above=narrow)
        axes.set_xticks(TICKS, [str(tick) for tick in TICKS], fontsize=size, color=INK)
        # from the left, for there is more room at the right of the axis
        axes.set_xlabel(NARROW_LABEL if narrow else X_LABEL, fontsize=size, color=INK, loc="left")
        self.chart.line.set_visible(False)
        beside = axes.get_yaxis_transform()
        # beside the axes, at their left and right: no cross and no line runs through words there
        self.labels = [
            axes.text(-0.02, place, name, fontsize=size, ha="right", va="center", transform=beside)
            for place, name in enumerate(names)
        ]
        self.ranges = [
            axes.text(1.03, place, "", fontsize=size, color=INK, va="center", transform=beside)
            for place in range(len(names))
        ]
        # so many points from the edge: in shares of the axes there is room for them only by chance
        self.widths = [self._at_the_edge(place, size) for place in range(len(names))]
        head = self._at_the_edge(-0.75, size)
        head.set_text(HEAD)
        if narrow:
            for text in (*self.labels, *self.ranges, *self.widths, head):
                text.set_visible(False)
                text.set_in_layout(False)
        # an offcut off the axis is a triangle at its edge, which points there
        self.crosses, *self.off = [
            axes.plot([], [], color=INK, marker=marker, markeredgewidth=2.2, linestyle="")[0]
            for marker in "x<>"
        ]
        for marks in (self.crosses, *self.off):
            # whole at the edge too, and without a place of their own as long as they are empty
            marks.set(markersize=8 if marks is self.crosses else 6, clip_on=False)
            marks.set_in_layout(False)
        (self.truth,) = axes.plot([], [], color=INK, linewidth=2.2)
        self.truth_words = axes.text(
            1,
            1.01,
            "",
            fontsize=size,
            color=INK,
            fontweight="bold",
            va="bottom",
            ha="center",
            transform=axes.get_xaxis_transform(),
            in_layout=False,
        )
        bands, dots, words = self.chart.bands, self.chart.dots, self.chart.words
        self.moving: tuple[Artist, ...] = (
            *bands,
            *dots,
            self.truth,
            self.crosses,
            *self.off,
            *words,
            *self.labels,
            *self.ranges,
            *self.widths,
            self.truth_words,
        )

    def _at_the_edge(self, place: float, size: float) -> Text:
        """Return words in the column of widths, still empty, beside a row [-, pt]."""
        # so many points from the axes: of a share of them there would be room only by chance
        return self.chart.axes.annotate(
            "",
            (1, place),
            (COLUMN, 0),
            self.chart.axes.get_yaxis_transform(),
            "offset points",
            ha="right",
            va="center",
            color=INK,
            fontsize=size,
        )

    def draw(
        self, rows: Mapping[str, Band], times: Sequence[float], truth: float | None = None
    ) -> None:
        """Draw the rows that are there, a cross for each time, and a line at the truth [s].

        Parameters
        ----------
        rows : dict of Band
            By name; a row that is not among them is to come.
        times : sequence of float
            Written down of the first offcut and those after it [s].
        truth : float, optional
            When the board is truly clear [s]; None: it is not told.
        """
        chart_rows = []
        for name in self.names:
            band = rows.get(name)
            row = NOTHING
            if band is not None:
                low, middle, high = (
                    float(end) / minute for end in (band.low, band.middle, band.high)
                )
                row = ChartRow(low, middle, high, "")
            chart_rows.append(row)
        self.chart.draw(chart_rows, ENDS[0])
        for place, name in enumerate(self.names):
            self._write(place, name, rows.get(name))
        self._draw_offcuts(np.array(times) / minute)
        self._draw_truth(truth)

    def _draw_offcuts(self, times: FloatArray) -> None:
        """Draw a cross for each offcut on its own row, or at the edge where it points to [min]."""
        left, right = ENDS
        places = self.first_offcut + np.arange(len(times))
        is_on = (times >= left) & (times <= right)
        self.crosses.set_data(times[is_on], places[is_on])
        for artist, edge, is_off in zip(self.off, ENDS, (times < left, times > right), strict=True):
            artist.set_data(np.full(int(np.sum(is_off)), edge), places[is_off])

    def _write(self, place: int, name: str, band: Band | None) -> None:
        """Write name and band of a row: grey, and without a band, where it is to come."""
        is_there = band is not None
        colour = INK if is_there else FAINT
        range_text, width_text = "", ""
        if band is not None:
            range_text, width_text = range_words(band), width_words(band)
        for artist in (self.chart.bands[place], self.chart.dots[place]):
            artist.set_visible(is_there)
        self.labels[place].set_color(colour)
        self.ranges[place].set_text(range_text)
        self.widths[place].set_text(width_text)
        self.chart.words[place].set_color(colour)
        if self.narrow:
            self.chart.words[place].set_text(
                f"{name}: {range_text}, {width_text} times" if range_text else name
            )

    def _draw_truth(self, truth: float | None) -> None:
        """Draw an upright line at what is true [s], and its words over it."""
        if truth is None:
            self.truth.set_data([], [])
            self.truth_words.set_text("")
            return
        time = truth / minute
        self.truth.set_data([time, time], [-0.7, len(self.names) - 0.4])
        self.truth_words.set_text(f"the truth: {time:.1f} min")
        self.truth_words.set_x(time)
        # no room for half of the words beside the edge
        self.truth_words.set_horizontalalignment("right" if time > NEAR_EDGE else "center")
