"""Curves to learn from: results in, a drawing out, and the text alternative made from the same numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...common.arrays import FloatArray
from ...common.band import Band
from ...common.limits import check_choice
from ...common.number_words import clock, span
from ...page.picture import INK, LINE, NARROW, SHADE, WIDE, Drawing, figure, plain
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
    """A band with its middle line, words on both [units of the axes]."""
    axes.fill_between(x, band.low, band.high, color=SHADE, linewidth=0)
    axes.plot(x, band.middle, color=LINE, linewidth=2)


def curve_only(name: str = "undiluted", draws: int = 200) -> EtchRun:
    """The run of a mixture that is too strong to measure out, for a curve against the share of foil left.

    Parameters
    ----------
    name : str
        One of `TOO_STRONG`: the bottles as full as their labels, on the scrap of foil of the leave-one-out table.
    draws : int
        How many plausible baths [-].

    Returns
    -------
    EtchRun
        With history [s]; a page shows its times and shares of foil, and no amount.

    Raises
    ------
    ValueError
        An unknown name.

    Examples
    --------
    >>> print(bool(curve_only(draws=5).band("time_to_clear").high < 60))
    True
    """
    fact = next(f for f in FACTS if f.name == check_choice("name", name, TOO_STRONG))
    return etch(fact.bath, fact.board, Tray(), RateParameters.plausible(draws), history=True)


def share_title(run: EtchRun, name: str) -> str:
    """The finding in one line: when the foil is gone [s in], and what to do about it."""
    return (
        f"{name}: foil gone in {span(run.band('time_to_clear'))}. Do not mix: a curve to learn from"
    )


def share_words(run: EtchRun, name: str, alone: tuple[float, float]) -> str:
    """Text alternative of `share`, from the same numbers: `alone` [s] is the prediction without the one report."""
    times = run.band("time_to_clear")
    return (
        f"{share_title(run, name)}. Share of foil left against time, a band of 8 in 10 plausible baths; the middle "
        f"one takes {clock(times.middle)}. A bar below shows {clock(alone[0])} to {clock(alone[1])}: what the "
        "model predicts when it is not told what was reported for this mixture."
    )


def share(run: EtchRun, name: str, alone: tuple[float, float], narrow: bool = False) -> Drawing:
    """Share of foil left against time, for a mixture that nobody should measure out.

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
    made = figure(3.9 if narrow else 3.6, NARROW if narrow else WIDE)
    axes = plain(made.subplots())
    high = float(run.band("time_to_clear").high)
    times = np.linspace(0.0, 1.05 * max(alone[1], high), POINTS)
    thickness = run.at(times)["thickness"]
    ribbon(axes, times, Band.of(100 * thickness / np.max(thickness), run.draws))
    axes.plot(alone, (-25, -25), color=INK, linewidth=4, solid_capstyle="butt")
    axes.text(
        alone[1],
        -21,
        "gone, if the model is not told\nwhat was reported"
        if narrow
        else "gone, if the model is not told what was reported",
        ha="right",
        va="bottom",
        color=INK,
    )
    axes.text(
        high + 0.3,
        60,
        "dark line: the middle bath\npale band: 8 of 10 plausible\nbaths, kept because they\n"
        "come near the report",
        va="center",
        color=INK,
    )
    axes.set_title(
        share_title(run, name).replace(". Do", ".\nDo").replace(": a", ":\na" if narrow else ": a"),
        loc="left",
        fontsize=12,
        color=INK,
    )
    axes.set(
        xlabel="seconds", ylabel="share of the foil left (%)", xlim=(0, times[-1]), ylim=(-32, 104)
    )
    axes.set_yticks([0, 25, 50, 75, 100])
    return Drawing(made, axes=axes)
