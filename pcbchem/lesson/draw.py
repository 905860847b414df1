"""Pictures of results: a result in, Axes out, and the text alternative made from the same numbers."""

from __future__ import annotations

import base64
import dataclasses
import html
import io
from typing import TYPE_CHECKING

import numpy as np

from ..matter.arrays import FloatArray
from ..matter.units import ZERO_C, minute
from ..reaction.bath import LONGEST
from ..reaction.run import Band, EtchRun
from .summary import clock, span
from .trial import Trial, violence

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, LINE, SHADE = "#1a1a1a", "#004b87", "#b9cfe3"  # dark line on a pale band: they differ in grey too
POINTS = 161


def blank(rows: int, height: float) -> list[Axes]:
    """Empty Axes one under the other on an opaque white figure, sharing time [figure height in inches]."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(8.0, height), dpi=96, layout="constrained", facecolor="white")
    FigureCanvasAgg(figure)
    made = figure.subplots(rows, 1, sharex=True, squeeze=False)[:, 0]
    for axes in made:
        axes.set_facecolor("white")
        axes.spines[["top", "right"]].set_visible(False)
        axes.set_axisbelow(True)
        axes.grid(axis="y", color="0.9")
    return list(made)


def frame(run: EtchRun) -> FloatArray:
    """Times [s] that show a run whole: a little past its slow end, or the longest run where some never clear."""
    band = run.band("time_to_clear")
    return np.linspace(0.0, 1.15 * float(band.high) if np.isfinite(band.high) else LONGEST, POINTS)


def ribbon(axes: Axes, x: FloatArray, band: Band) -> None:
    """A band with its middle line, words on both [units of the axes]."""
    axes.fill_between(x, band.low, band.high, color=SHADE, linewidth=0)
    axes.plot(x, band.middle, color=LINE, linewidth=2)


def course_title(tried: Trial, name: str) -> str:
    """The finding: when the copper is gone [s in] and how warm it gets [K in], after any warning not to mix it."""
    run = tried.run
    peak = run.band("peak_temperature")
    when = span(run.band("time_to_clear"))
    first = f"{name}: too violent, do not mix. A curve to learn from\n" if violence(tried) else f"{name}: "
    return (f"{first}{'hardly ever clear' if when == 'never' else f'clear in {when}'}, "
            f"warmest {peak.low - ZERO_C:.0f} to {peak.high - ZERO_C:.0f} °C while etching")


def course_words(tried: Trial, name: str) -> str:
    """Text alternative of `course`, from the same numbers.

    Parameters
    ----------
    tried : Trial
        Its run: times [s] and temperatures [K] over the draws.
    name : str
        What the page calls the bath [-].

    Returns
    -------
    str
        Title, middle time, and start and peak of the middle bath [min or s, °C].
    """
    run = tried.run
    times, peak = run.band("time_to_clear"), run.band("peak_temperature")
    first = float(Band.of(run.at([0.0])["temperature"], run.draws).middle[0]) - ZERO_C
    thick = float(Band.of(run.at([0.0])["thickness"], run.draws).middle[0]) * 1e6
    title = course_title(tried, name).replace("\n", ": ")
    return (f"{title}. Two pictures against time, bands of 8 in 10 plausible baths. "
            f"Copper left: from {thick:.0f} µm at the start; the middle bath "
            f"{f'is clear after {clock(times.middle)}' if np.isfinite(times.middle) else 'never clears'}. "
            f"Temperature: from {first:.0f} °C, the middle peak {float(peak.middle) - ZERO_C:.0f} °C.")


def course(tried: Trial, name: str) -> list[Axes]:
    """Copper left and temperature against time, both as bands of 8 in 10 plausible baths.

    Parameters
    ----------
    tried : Trial
        Its run, made with history [m, K, s].
    name : str
        What the page calls the bath [-].

    Returns
    -------
    list of Axes
        Copper [µm], temperature [°C].

    Raises
    ------
    ValueError
        A run made without history.
    """
    from matplotlib.ticker import MaxNLocator

    run = tried.run
    times = frame(run)
    states = run.at(times)
    minutes = times / minute
    copper, warmth = blank(2, 4.4)
    ribbon(copper, minutes, Band.of(states["thickness"] * 1e6, run.draws))
    ribbon(warmth, minutes, Band.of(states["temperature"] - ZERO_C, run.draws))
    copper.set_title(course_title(tried, name), loc="left", fontsize=12, color=INK)
    copper.set_ylabel("copper left (µm)")
    copper.set_ylim(bottom=0)
    copper.set_xlim(0, minutes[-1])
    warmth.set_ylabel("temperature (°C)")
    warmth.set_xlabel("minutes since the board went in")
    low, high = warmth.get_ylim()
    warmth.set_ylim(min(low - 0.15 * (high - low), 16.0), max(high, 30.0))  # room below the band for words
    copper.text(0.99, 0.92, "dark line: the middle bath\npale band: 8 of 10 plausible baths", ha="right", va="top",
                color=INK, transform=copper.transAxes)
    warmth.yaxis.set_major_locator(MaxNLocator(integer=True))
    warmth.text(0.99, 0.04, "once its board is clear, a bath is drawn at its last temperature", ha="right", va="bottom",
                color=INK, transform=warmth.transAxes)
    return [copper, warmth]


def share_title(run: EtchRun, name: str) -> str:
    """The finding in one line: when the foil is gone [s in], and what to do about it."""
    return f"{name}: foil gone in {span(run.band('time_to_clear'))}. Do not mix: a curve to learn from"


def share_words(run: EtchRun, name: str, alone: tuple[float, float]) -> str:
    """Text alternative of `share`, from the same numbers: `alone` [s] is the prediction without the one report."""
    times = run.band("time_to_clear")
    return (f"{share_title(run, name)}. Share of foil left against time, a band of 8 in 10 plausible baths; the middle "
            f"one takes {clock(times.middle)}. A bar below shows {clock(alone[0])} to {clock(alone[1])}: what the "
            "model predicts when it is not told what was reported for this mixture.")


def share(run: EtchRun, name: str, alone: tuple[float, float]) -> list[Axes]:
    """Share of foil left against time, for a mixture that nobody should measure out.

    Parameters
    ----------
    run : EtchRun
        Made with history [m, s].
    name : str
        What the page calls the mixture [-].
    alone : tuple
        Low and high prediction without the one report of this mixture [s].

    Returns
    -------
    list of Axes
        Share of foil [%] against time [s].
    """
    axes = blank(1, 3.6)[0]
    times = np.linspace(0.0, 1.05 * max(alone[1], float(run.band("time_to_clear").high)), POINTS)
    thickness = run.at(times)["thickness"]
    ribbon(axes, times, Band.of(100 * thickness / np.max(thickness), run.draws))
    axes.plot(alone, (-25, -25), color=INK, linewidth=4, solid_capstyle="butt")
    axes.text(alone[1], -21, "gone, if the model is not told what was reported", ha="right", va="bottom", color=INK)
    axes.text(float(run.band("time_to_clear").high) + 0.3, 60, "dark line: the middle bath\n"
              "pale band: 8 of 10 plausible baths,\nkept because they agree with the report",
              va="center", color=INK)
    axes.set_title(share_title(run, name), loc="left", fontsize=12, color=INK)
    axes.set(xlabel="seconds", ylabel="share of the foil left (%)", xlim=(0, times[-1]), ylim=(-32, 104))
    axes.set_yticks([0, 25, 50, 75, 100])
    return [axes]


@dataclasses.dataclass(frozen=True)
class Picture:
    """A drawn figure as a page shows it: opaque PNG [bytes] with its text alternative [-]."""

    png: bytes = dataclasses.field(repr=False)
    alt: str

    def _repr_html_(self) -> str:
        data = base64.b64encode(self.png).decode()
        return (f'<img style="max-width:100%;width:768px" alt="{html.escape(self.alt)}" '
                f'src="data:image/png;base64,{data}">')


def picture(axes: list[Axes], alt: str) -> Picture:
    """The figure of these Axes as a `Picture`, sharp on a fine screen, with words for what it shows."""
    out = io.BytesIO()
    figure = axes[0].get_figure(root=True)
    assert figure is not None, "these Axes were taken off their figure"
    figure.savefig(out, format="png", dpi=192, facecolor="white", transparent=False)
    return Picture(out.getvalue(), alt)
