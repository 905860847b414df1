"""Picture of the tin: what stays on a board and what clings to it, against all there is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ...page.picture import HOLLOW, INK
from ...page.row_chart import PATCH, ChartRow, row_words, rows_of_tenfolds
from .numbers import MILLIMOLE, TIN, Carried, coating
from .words import KILLED, ON_BOARD, millimoles_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

ENDS = (2e-5, 40.0)
"""Both ends of the axis [mmol]: each band of every setting is on it."""
TICKS = ("0.0001", "0.01", "1")
"""Where it says so [mmol]."""
ROWS = (ON_BOARD, KILLED)
"""Names of the rows, from top to bottom."""
BOARD_ROW, KILLED_ROW = 0, 1
"""Their places, from the top [-]."""
X_LABEL = "tin, mmol   each line a factor of 100   lower bar: 8 of 10 cases   ● its middle"
NARROW_LABEL = "tin, mmol   each line a factor of 100\nlower bar: 8 of 10 cases   ● its middle"
ALL_OF_IT = "all the tin\nin the bath"
GUESS_UNDER = 0.38
"""So far under its row a prediction is drawn [rows]."""


class TinRows:
    """Two rows in one Axes, without numbers yet, and the line of all the tin that stays.

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
        whole = TIN / MILLIMOLE
        axes.axvline(whole, color=INK, linewidth=1.5, zorder=1)
        _, top = axes.get_ylim()
        axes.annotate(
            f"{ALL_OF_IT}: {whole:g}",
            (whole, top),
            (0, 3),
            textcoords="offset points",
            ha="right",
            va="bottom",
            fontsize=size,
            color=INK,
        )
        self.guess = axes.plot([], [], linestyle="", marker="D", markersize=8, **HOLLOW)[0]
        look: dict[str, Any] = {"ha": "right", "va": "center", "fontsize": size, "color": INK}
        self.guess_words = axes.text(1, KILLED_ROW, "your prediction", in_layout=False, **look)
        self.guess_words.set_bbox(PATCH)
        self.moving: tuple[Artist, ...] = (
            *self.chart.bands,
            *self.chart.words,
            self.chart.dots[KILLED_ROW],
            self.guess_words,
            self.guess,
        )
        # no middle of a coating is known
        self.chart.dots[BOARD_ROW].set_visible(False)

    def draw(self, board: Carried | None, guess: float | None = None) -> None:
        """Draw what a board takes, or nothing yet, and a guess of what is killed [mol]."""
        rows = [ChartRow(ENDS[0], ENDS[0], ENDS[0], self._words(place)) for place in range(2)]
        if board is not None:
            least, most = coating()
            on_board = f"{millimoles_words(least)} to {millimoles_words(most)}"
            low, middle, high = (
                float(end) / MILLIMOLE
                for end in (board.killed.low, board.killed.middle, board.killed.high)
            )
            rows = [
                ChartRow(
                    least / MILLIMOLE, least / MILLIMOLE, most / MILLIMOLE, self._words(0, on_board)
                ),
                ChartRow(
                    low, middle, high, self._words(1, millimoles_words(float(board.killed.middle)))
                ),
            ]
        self.chart.draw(rows, ENDS[0])
        for artist in (*self.chart.bands, self.chart.dots[KILLED_ROW]):
            artist.set_visible(board is not None)
        for artist in (self.guess, self.guess_words):
            artist.set_visible(board is not None and guess is not None)
        if guess is not None:
            height = KILLED_ROW + GUESS_UNDER
            self.guess.set_data([guess / MILLIMOLE], [height])
            self.guess_words.set_position((guess / MILLIMOLE / 1.7, height))

    def _words(self, place: int, numbers: str = "") -> str:
        """Return the words at a row [-]: its numbers, after its name where there is no other."""
        return row_words(ROWS[place], numbers, self.narrow)
