"""Curves to learn from: a run in, a drawing out, and its words from the same numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import check_choice
from ...common.number_words import clock, span
from ...common.tables import read
from ...page.picture import (
    INK,
    LINE,
    NARROW,
    SHADE,
    WIDE,
    Drawing,
    Picture,
    figure,
    picture_of,
    plain,
)
from ...reaction.bath.bath import etch
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.plausible import FACTS
from ...reaction.bath.run import EtchRun
from ...reaction.bath.setup import Tray

if TYPE_CHECKING:
    from matplotlib.axes import Axes

POINTS = 161
TOO_STRONG = ("undiluted",)
"""Mixtures that a page draws and never measures out."""


def ribbon(axes: Axes, x: FloatArray, band: Band) -> None:
    """Draw a band with its middle line [units of the axes]."""
    axes.fill_between(x, band.low, band.high, color=SHADE, linewidth=0)
    axes.plot(x, band.middle, color=LINE, linewidth=2)


def curve_only(name: str = "undiluted", draws: int = 200) -> EtchRun:
    """Run a mixture that is too strong to measure out, for a curve of the foil that is left.

    Parameters
    ----------
    name : str
        One of `TOO_STRONG`: bottles as strong as their labels say, on the scrap of foil of the
        leave-one-out table.
    draws : int
        How many plausible baths [-].

    Returns
    -------
    EtchRun
        With history [s]; a page shows its times and shares of foil, and no amount.

    Raises
    ------
    InputError
        An unknown name.

    Examples
    --------
    >>> print(bool(curve_only(draws=5).band("time_to_clear").high < 60))
    True
    """
    check_choice("name", name, TOO_STRONG)
    # of the table of facts, so that no amounts of such a mixture stand in a page's code
    fact = next(fact for fact in FACTS if fact.name == name)
    return etch(fact.bath, fact.board, Tray(), RateParameters.plausible(draws), history=True)


def told_alone(name: str) -> tuple[float, float]:
    """Return the low and the high time [s] that a model predicts which was not told this fact."""
    row = next(row for row in read("leave_one_out") if row["fact"] == name)
    return float(row["low"]), float(row["high"])


def undiluted() -> Picture:
    """Draw the undiluted mixture, beside what the model says of it untold: a curve, no amounts."""
    run, alone = curve_only("undiluted"), told_alone("undiluted")
    words = share_words(run, "Undiluted", alone)
    narrow = share(run, "Undiluted", alone, narrow=True)
    return picture_of(share(run, "Undiluted", alone), words, narrow)


def share_title(run: EtchRun, name: str) -> str:
    """Say in one line when the foil is gone [s in], and what to do about it."""
    gone = span(run.band("time_to_clear"))
    return f"{name}: foil gone in {gone}. Do not mix: a curve to learn from"


def share_words(run: EtchRun, name: str, alone: tuple[float, float]) -> str:
    """Say what `share` shows, from the same numbers: its arguments, without the width [s]."""
    times = run.band("time_to_clear")
    low, high = alone
    return (
        f"{share_title(run, name)}. Share of foil left against time, a band of 8 in 10 plausible "
        f"baths; the middle one takes {clock(times.middle)}. A bar below shows {clock(low)} to "
        f"{clock(high)}: what the model predicts when it is not told what was reported for this "
        "mixture."
    )


def share(run: EtchRun, name: str, alone: tuple[float, float], narrow: bool = False) -> Drawing:
    """Draw the share of foil left against time, for a mixture that nobody should measure out.

    Parameters
    ----------
    run : EtchRun
        Made with history [m, s].
    name : str
        What the page calls the mixture [-].
    alone : tuple
        Low and high prediction without the one report of this mixture [s].
    narrow : bool
        For a telephone.

    Returns
    -------
    Drawing
        Share of foil [%] against time [s], in its part `axes`.
    """
    height, width = (3.9, NARROW) if narrow else (3.6, WIDE)
    # broken where a sentence ends, so that no width cuts the warning off
    title = share_title(run, name).replace(". Do", ".\nDo")
    bar_words = "gone, if the model is not told what was reported"
    if narrow:
        title = title.replace(": a", ":\na")
        bar_words = bar_words.replace("told what", "told\nwhat")
    sheet = figure(height, width)
    axes = plain(sheet.subplots())
    high = float(run.band("time_to_clear").high)
    # room for the slowest end of both: band and prediction
    times = np.linspace(0.0, 1.05 * max(alone[1], high), POINTS)
    thickness = run.at(times)["thickness"]
    ribbon(axes, times, Band.of(100 * thickness / np.max(thickness), run.draws))
    # the prediction is no share of foil: it stands below zero, where none can be
    axes.plot(alone, (-25, -25), color=INK, linewidth=4, solid_capstyle="butt")
    axes.text(alone[1], -21, bar_words, ha="right", va="bottom", color=INK)
    curve_words = (
        "dark line: the middle bath\npale band: 8 of 10 plausible\nbaths, kept because they\n"
        "come near the report"
    )
    # right of the slow end the curve has come down: there is room
    axes.text(high + 0.3, 60, curve_words, va="center", color=INK)
    axes.set_title(title, loc="left", fontsize=12, color=INK)
    axes.set(xlabel="seconds", ylabel="share of the foil left (%)")
    axes.set(xlim=(0, times[-1]), ylim=(-32, 104))
    axes.set_yticks([0, 25, 50, 75, 100])
    return Drawing(sheet, axes=axes)
