"""Pictures of results: a result in, Axes out, and the text alternative made from the same numbers."""

from __future__ import annotations

import base64
import dataclasses
import html
import io
from typing import TYPE_CHECKING

import numpy as np

from ..bench.hazards import rules
from ..bench.plan import Plan
from ..bench.spoken import clock, degrees, span, watch
from ..matter.units import ZERO_C, minute
from ..reaction.run import Band, EtchRun
from .curves import frame, ribbon
from .style import INK

if TYPE_CHECKING:
    from matplotlib.axes import Axes


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


def history(plan: Plan) -> EtchRun:
    """The run of a plan with its course [s, K], or ValueError where there is none."""
    if plan.run.steps is None:
        raise ValueError(f"plan = {plan!r} has no picture: with the peroxide in two portions its course is not kept, "
                         "give a plan with second = None")
    return plan.run


def marks(plan: Plan) -> list[tuple[str, float, float]]:
    """What is marked on the time axis, in words, from when to when [min]; refused: nothing, as nobody stands there."""
    end = float(frame(history(plan))[-1]) / minute
    found = []
    if plan.first_look is not None:
        found.append((f"look first: {watch(plan.first_look)}", plan.first_look / minute, plan.first_look / minute))
    if plan.resist_life is not None:
        low, high = (t / minute for t in plan.resist_life)
        found.append((f"resist gives up: {low:.0f} to {high:.0f} min", low, min(high, end)))
    return [mark for mark in found if mark[1] < end]


def limits(low: float, high: float) -> list[tuple[str, float]]:
    """The verdict's rules on warmth while etching that lie between two temperatures, a line of words each [°C]."""
    found: dict[float, list[str]] = {}
    for rule in reversed(rules()):
        if rule.quantity == "etching_peak" and low < rule.limit - ZERO_C < high:
            share = "half" if rule.end == "middle" else "1 in 10"
            found.setdefault(rule.limit - ZERO_C, []).append(f"{share} above it, {rule.verdict}")
    return [(f"{T:.0f} °C: {'; '.join(said)}", T) for T, said in found.items()]


def course_title(plan: Plan, name: str) -> str:
    """The finding: when the copper is gone [s in] and how warm it gets [K in]; a refusal comes first."""
    when = span(plan.bands["time_to_clear"])
    first = f"{name}: do not mix. A curve to learn from\n" if plan.refused else f"{name}: "
    return (f"{first}{'hardly ever clear' if when == 'never' else f'clear in {when}'}, "
            f"warmest {degrees(plan.bands['etching_peak'])} while etching")


def course_words(plan: Plan, name: str) -> str:
    """Text alternative of `course`, from the same numbers.

    Parameters
    ----------
    plan : Plan
        Its run: times [s] and temperatures [K] over the draws.
    name : str
        What the page calls the bath [-].

    Returns
    -------
    str
        Title, middle time, start and peak of the middle bath, and what is marked [min or s, °C]; no volume.

    Raises
    ------
    ValueError
        A plan whose course is not kept.
    """
    run = history(plan)
    times, peak = plan.bands["time_to_clear"], plan.bands["etching_peak"]
    first = float(Band.of(run.at([0.0])["temperature"], run.draws).middle[0]) - ZERO_C
    thick = float(Band.of(run.at([0.0])["thickness"], run.draws).middle[0]) * 1e6
    title = course_title(plan, name).replace("\n", ": ")
    marked = "".join(f" Marked on the time axis: {words}." for words, _, _ in marks(plan))
    return (f"{title}. Two pictures against time, bands of 8 in 10 plausible baths. "
            f"Copper left: from {thick:.0f} µm at the start; the middle bath "
            f"{f'is clear after {clock(times.middle)}' if np.isfinite(times.middle) else 'never clears'}. "
            f"Temperature: from {first:.0f} °C, the middle peak {float(peak.middle) - ZERO_C:.0f} °C.{marked}")


def course(plan: Plan, name: str) -> list[Axes]:
    """Copper left and temperature against time, both as bands of 8 in 10 plausible baths.

    Parameters
    ----------
    plan : Plan
        Its run over the draws [m, K, s].
    name : str
        What the page calls the bath [-].

    Returns
    -------
    list of Axes
        Copper [µm], temperature [°C].

    Raises
    ------
    ValueError
        A plan whose course is not kept: peroxide in two portions.
    """
    from matplotlib.ticker import MaxNLocator

    run = history(plan)
    times = frame(run)
    states = run.at(times)
    minutes = times / minute
    copper, warmth = blank(2, 4.4)
    ribbon(copper, minutes, Band.of(states["thickness"] * 1e6, run.draws))
    ribbon(warmth, minutes, Band.of(states["temperature"] - ZERO_C, run.draws))
    copper.set_title(course_title(plan, name), loc="left", fontsize=12, color=INK)
    copper.set_ylabel("copper left (µm)")
    top = copper.get_ylim()[1]
    copper.set_ylim(-0.14 * top * len(marks(plan)), top)  # room below the copper for what is marked
    copper.set_yticks([tick for tick in copper.get_yticks() if 0 <= tick <= top])
    copper.set_xlim(0, minutes[-1])
    for row, (words, start, end) in enumerate(marks(plan)):
        y, right = -0.14 * top * (row + 0.6), end > 0.6 * minutes[-1]
        copper.plot((start, end), (y, y), color=INK, linewidth=4, marker="|" if start == end else "", markersize=9,
                    markeredgewidth=2, solid_capstyle="butt")
        copper.annotate(words, (start if right else end, y), xytext=(-6 if right else 6, 0), va="center",
                        textcoords="offset points", ha="right" if right else "left", color=INK)
    warmth.set_ylabel("temperature (°C)")
    warmth.set_xlabel("minutes since the board went in")
    low, high = warmth.get_ylim()
    warmth.set_ylim(min(low - 0.15 * (high - low), 16.0), max(high, 30.0))  # room below the band for words
    for words, T in limits(*warmth.get_ylim()):
        warmth.axhline(T, color=INK, linewidth=1, linestyle="--")
        warmth.annotate(words, (0.99, T), xycoords=warmth.get_yaxis_transform(), xytext=(0, 2), ha="right", va="bottom",
                        textcoords="offset points", color=INK,
                        bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 0})
    copper.text(0.99, 0.92, "dark line: the middle bath\npale band: 8 of 10 plausible baths", ha="right", va="top",
                color=INK, transform=copper.transAxes)
    warmth.yaxis.set_major_locator(MaxNLocator(integer=True))
    warmth.text(0.99, 0.04, "once its board is clear, a bath is drawn at its last temperature", ha="right", va="bottom",
                color=INK, transform=warmth.transAxes)
    return [copper, warmth]


@dataclasses.dataclass(frozen=True)
class Picture:
    """A drawn figure as a page shows it: opaque PNG [bytes] with its text alternative [-], or the words alone."""

    png: bytes = dataclasses.field(repr=False)
    alt: str

    def _repr_html_(self) -> str:
        if not self.png:
            return f"<p>{html.escape(self.alt)}</p>"
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


def pictured(plan: Plan, name: str) -> Picture:
    """The course of a plan as a page shows it; where none is kept, one sentence that says so."""
    if plan.run.steps is None:
        return Picture(b"", "No picture here: with the peroxide in two portions the course is not kept.")
    return picture(course(plan, name), course_words(plan, name))
