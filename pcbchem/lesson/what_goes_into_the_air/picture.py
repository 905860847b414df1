"""Picture of the air: a row each for bath, bottle and spill, and one that nobody has measured.

`draw` puts numbers into artists that are made once. What never goes is part of the ground: the
upright lines of smell and limits, and the hatched fourth row.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ...bench.air import PPM
from ...page.picture import FAINT, HOLLOW, INK
from ...page.row_chart import PATCH, ChartRow, row_words, rows_of_tenfolds
from .numbers import DANGER, MOMENT, SHUT_ROOM, SMELL, Breathed, chlorine_at_most, limit
from .words import NOBODY, ROWS, UNKNOWN, ceiling_words, ppm_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

ENDS = (3e-7, 2000.0)
"""Both ends of the axis [ppm]: each band of every setting is on it."""
TICKS = ("0.000001", "0.0001", "0.01", "1", "100")
"""Where it says so [ppm]."""
X_LABEL, NARROW_LABEL = (
    "acid gas half a metre away, at its highest moment (ppm)\n"
    "each line a factor of 100   bar: 8 of 10 cases   ● the middle",
    "acid gas half a metre away,\nat its highest moment (ppm)\n"
    "each line a factor of 100\nbar: 8 of 10 cases   ● the middle",
)
"""What the axis says, with the key of what is drawn."""
LINES: tuple[tuple[str, str, str, str, str], ...] = (
    (SMELL, ":", "right", "some smell it", "smell"),
    (MOMENT, "--", "center", "limit for\na moment", "limit"),
    (DANGER, "-", "left", "dangerous\nat once", "dangerous\nat once"),
)
"""Upright lines: kind of limit, how drawn, which way their words go, wide and narrow."""
NUDGE = 1.12
"""Words beside a line stand so far from it [times]."""
BESIDE_MARK = 1.5
"""Words beside a mark stand so far from its middle [times]."""
HATCHED = 0.37
"""Half the height of the hatched row, of the distance between rows: two lines stand in it."""
OVER_HATCH = {"facecolor": "white", "edgecolor": "none", "pad": 2}
"""What lies behind words on the hatched row."""
UNKNOWN_ROW = len(ROWS) - 1
"""Place of the row without a number, from the top [-]."""
GUESSED = (1, 2)
"""Rows for which something is guessed [-]: bottle and spill."""


class AirRows:
    """Four rows in one Axes, made once: three without numbers yet, the last hatched for ever.

    Parameters
    ----------
    axes : Axes
        Where they are drawn.
    size : float
        Of the words [pt].
    narrow : bool
        For a telephone: names stand above the rows, not beside them.
    """

    def __init__(self, axes: Axes, size: float, narrow: bool) -> None:
        self.narrow = narrow
        label = NARROW_LABEL if narrow else X_LABEL
        self.chart = rows_of_tenfolds(axes, ROWS, ENDS, TICKS, label, size, narrow)
        self._draw_limits(size)
        self._draw_unknown(size)
        self.guess = axes.plot([], [], linestyle="", marker="D", markersize=8, **HOLLOW)[0]
        look: dict[str, Any] = {"ha": "right", "va": "center", "fontsize": size, "color": INK}
        self.guess_words = [
            axes.text(1, place, "your prediction", in_layout=False, bbox=PATCH, **look)
            for place in GUESSED
        ]
        # a bound, no measurement: hollow, and it points to where there is less
        self.ceiling = axes.plot([], [], linestyle="", marker="<", markersize=8, **HOLLOW)[0]
        self.ceiling.set_zorder(4)
        self.ceiling_words = axes.text(1, UNKNOWN_ROW, "", in_layout=False, zorder=4, **look)
        self.ceiling_words.set_bbox(OVER_HATCH)
        self.moving: tuple[Artist, ...] = (
            *self.chart.bands,
            *self.chart.words,
            *self.chart.dots,
            *self.guess_words,
            self.guess,
            self.ceiling_words,
            self.ceiling,
        )

    def _draw_limits(self, size: float) -> None:
        """Draw the upright lines with their words over them [pt]."""
        axes = self.chart.axes
        _, top = axes.get_ylim()
        for kind, style, way, wide, narrow in LINES:
            x = limit(kind).value / PPM
            axes.axvline(x, color=INK, linestyle=style, linewidth=1.5, zorder=1)
            axes.annotate(
                narrow if self.narrow else wide,
                (x * {"right": 1 / NUDGE, "center": 1.0, "left": NUDGE}[way], top),
                (0, 3),
                textcoords="offset points",
                ha=way,
                va="bottom",
                fontsize=size,
                color=INK,
            )

    def _draw_unknown(self, size: float) -> None:
        """Draw the row of what has no number, over the whole axis [pt]."""
        axes, (left, right) = self.chart.axes, ENDS
        top, bottom = UNKNOWN_ROW - HATCHED, UNKNOWN_ROW + HATCHED
        axes.fill(
            [left, right, right, left],
            [top, top, bottom, bottom],
            facecolor="white",
            edgecolor=FAINT,
            hatch="///",
            linewidth=0,
            zorder=2,
        )
        look: dict[str, Any] = {"fontsize": size, "color": INK, "zorder": 3}
        if self.narrow:
            name = f"{UNKNOWN}: {NOBODY}"
            axes.text(left, top - 0.03, name, va="bottom", bbox=PATCH, **look)
        else:
            name = NOBODY.replace(" measured", "\nmeasured")
            axes.text(left * NUDGE, UNKNOWN_ROW, name, va="center", bbox=OVER_HATCH, **look)

    def draw(self, air: Breathed | None, guess: tuple[float, float] | None = None) -> None:
        """Draw what is in the air, or nothing yet; a guess is both over the bath [-]."""
        rows = [ChartRow(ENDS[0], ENDS[0], ENDS[0], self._words(place)) for place in range(3)]
        if air is not None:
            rows = [
                ChartRow(
                    float(band.low) / PPM,
                    float(band.middle) / PPM,
                    float(band.high) / PPM,
                    self._words(place, ppm_words(float(band.middle))),
                )
                for place, band in enumerate(air.rows)
            ]
        self.chart.draw(rows, ENDS[0])
        for artist in (*self.chart.bands, *self.chart.dots):
            artist.set_visible(air is not None)
        for artist in (self.guess, *self.guess_words):
            artist.set_visible(air is not None and guess is not None)
        somewhere = SHUT_ROOM if air is None else air.place
        most = chlorine_at_most(somewhere) / PPM
        self.ceiling.set_data([most], [UNKNOWN_ROW])
        self.ceiling_words.set_text(ceiling_words(somewhere))
        self.ceiling_words.set_x(most / BESIDE_MARK)
        if air is not None and guess is not None:
            bath = float(air.bath.middle) / PPM
            places = [bath * times for times in guess]
            self.guess.set_data(places, GUESSED)
            for words, place in zip(self.guess_words, places, strict=True):
                words.set_x(place / BESIDE_MARK)

    def _words(self, place: int, numbers: str = "") -> str:
        """Return the words at a row [-]: its numbers, after its name where there is no other."""
        return row_words(ROWS[place], numbers, self.narrow)
