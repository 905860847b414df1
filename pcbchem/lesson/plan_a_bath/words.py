"""What a plan comes to, as a picture shows it and as a sentence says it: both are made from the same numbers here."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable

import numpy as np

from ...bench.hazards.verdicts import rules
from ...bench.hazards.words import HEADS
from ...bench.plan.budget import spent, uses
from ...bench.plan.outcome import Stage
from ...bench.plan.outlook import SECOND_PORTION
from ...bench.plan.planning import Plan
from ...bench.plan.words import warmth
from ...common.band import Band
from ...common.number_words import clock, degrees, figures, low_to_high, ratio_of, span, watch
from ...common.units import ZERO_C, mL, us_fl_oz
from ...reaction.bath.bath import LONGEST

HEADROOM = 0.15
"""Share of the axis of temperature that is kept free for words above the highest line [-]."""
MANY = 100
OFTEN = {"high": "1 in 10", "low": "1 in 10", "middle": "half"}
UNLESS = "if the board is not clear and the bath is below 40 °C"
"""When alone a second portion is poured (common practice, no source)."""
BARE = "no amounts: a refused plan measures nothing out"


@dataclasses.dataclass(frozen=True)
class Row:
    """One thing on the axis of time: its name, from when to when, the middle [s, infinite: never], and its words."""

    name: str
    low: float
    high: float
    words: str
    middle: float | None = None


def rows(plan: Plan) -> list[Row]:
    """What stands on the axis of time, from top to bottom [s]; refused: nobody stands there to look or to pour."""
    times, found = plan.bands["time_to_clear"], []
    if plan.first_look is not None:
        found.append(Row("look first", plan.first_look, plan.first_look, watch(plan.first_look)))
    found += [
        Row("later", stage.when, stage.when, f"{watch(stage.when)}, only if not clear, below 40 °C")
        for stage in plan.stages
        if stage.when
    ]
    found.append(
        Row("board clear", float(times.low), float(times.high), span(times), float(times.middle))
    )
    if (gone := spent(plan)) is not None:
        count, when = gone
        found.append(
            Row(
                "peroxide spent",
                float(when.low),
                float(when.high),
                f"{span(when)} ({count} of {plan.inputs.draws})",
                float(when.middle),
            )
        )
    if plan.resist_life is not None:
        low, high = plan.resist_life
        found.append(Row("resist gives up", low, high, span(Band.of(plan.resist_life, 2))))
    elif not plan.refused:
        found.append(Row("resist gives up", np.inf, np.inf, "not known for such a bath"))
    return found


def middle(row: Row) -> str:
    """The middle of a row in words [s in]: ", middle 3.7 min"; nothing where it has none."""
    return (
        f", middle {clock(row.middle)}"
        if row.middle is not None and np.isfinite(row.middle)
        else ""
    )


def end(plan: Plan) -> float:
    """Where the axis of time ends [s]: past the slow end, or well past the middle bath where 1 in 10 never clears."""
    times = plan.bands["time_to_clear"]
    gone = spent(plan)
    far = (
        1.5 * float(times.high)
        if np.isfinite(times.high)
        else 4 * float(times.middle)
        if np.isfinite(times.middle)
        else 4 * float(gone[1].high)
        if gone
        else LONGEST
    )
    return min(far, LONGEST)


def poured(stage: Stage, number: int) -> tuple[str, str]:
    """One layer of the jug in two lines: what and how much [mL], and that in US fl oz with the warmth after it [°C]."""
    warm = "" if stage.temperature is None else f", then at {degrees(stage.temperature)}"
    return (
        f"{number}. {stage.what}: {figures(stage.volume / mL, 3)} mL",
        f"{figures(stage.volume / us_fl_oz)} US fl oz{warm}",
    )


def vessel(plan: Plan) -> str:
    """What the first pours go into: with a used bath they go to it, in its tray."""
    return "Into the jug" if plan.inputs.kept is None else "Into the tray"


def split(stages: Iterable[Stage]) -> tuple[list[Stage], list[Stage]]:
    """What is poured before the board goes in, and what comes later, if at all."""
    every = list(stages)
    return [stage for stage in every if stage.what != SECOND_PORTION], [
        stage for stage in every if stage.what == SECOND_PORTION
    ]


def held_back(stage: Stage) -> str:
    """A second portion in words: where, when [s in], on what condition, and how much [mL, US fl oz]."""
    return (
        f"Into the tray at {watch(stage.when)}, ONLY {UNLESS}: peroxide, {figures(stage.volume / mL, 3)} mL "
        f"({figures(stage.volume / us_fl_oz)} US fl oz)"
    )


def parts(plan: Plan) -> str:
    """The parts that were asked for, a ratio and no amount: "water 3 : acid 1 : peroxide 1"."""
    return " : ".join(
        f"{name} {part}"
        for name, part in zip(
            ("water", "acid", "peroxide"), ratio_of(plan.inputs.parts).split(" : "), strict=True
        )
    )


def takes(name: str, band: Band) -> str:
    """What this copper takes of a reagent in the bath, in words [share of it, -].

    Examples
    --------
    >>> print(takes("acid", Band.of([0.11, 0.12, 0.13], 3)), "|", takes("acid", Band.of([1.5, 2.0], 2)))
    acid: this copper uses 11 to 13 % | acid: 1.5 to 2 times as much needed
    """
    if not np.isfinite(band.high):
        return f"{name}: there is none in the bath"
    if band.low > MANY:
        return f"{name}: over {MANY} times as much needed"
    if band.high > 1:
        return (
            f"{name}: {low_to_high((float(band.low), float(band.high)), 1, 2)} times as much needed"
        )
    return f"{name}: this copper uses {low_to_high((float(band.low), float(band.high)), 100, 2)} %"


def reserve(plan: Plan) -> str:
    """The reserve in words [-]."""
    band = plan.bands["reserve"]
    times = low_to_high((float(band.low), float(band.high)), 1, 2)
    return f"reserve: acid and peroxide would do for {times} times this copper"


def limits(quantity: str, low: float, high: float) -> list[tuple[float, str]]:
    """The verdict's rules on a peak that lie in view between two temperatures [°C], each with a line of words.

    Examples
    --------
    >>> print(limits("etching_peak", 10, 55))
    [(45.0, '45 °C: 1 in 10 above it: with cares; half: do not mix')]
    """
    found: dict[float, list[str]] = {}
    for rule in reversed(rules()):
        T = round(rule.limit - ZERO_C, 6)
        if rule.quantity == quantity and low < T <= high - HEADROOM * (high - low):
            above = "" if found.get(T) else " above it"
            found.setdefault(T, []).append(f"{OFTEN[rule.end]}{above}: {rule.verdict}")
    return [(T, f"{T:.0f} °C: {'; '.join(said)}") for T, said in found.items()]


def title(plan: Plan, name: str) -> str:
    """The finding in two lines: when the copper is gone [s in], and how warm it gets [K in]; a refusal comes first."""
    when = span(plan.bands["time_to_clear"])
    clear = "hardly ever clear" if when == "never" else f"clear in {when}"
    warm = (
        f"hile etching {degrees(plan.bands['etching_peak'])}; in the hour after "
        f"{degrees(plan.bands['standing_peak'])}"
    )
    if plan.refused:
        return f"{name}: do not mix. A curve to learn from\n{clear[0].upper()}{clear[1:]}; w{warm}"
    return f"{name}: {clear}\nW{warm}"


def words(plan: Plan, name: str) -> tuple[str, str]:
    """The live sentence and the text alternative of the picture, from the same numbers.

    Parameters
    ----------
    plan : Plan
        Its bands: times [s], temperatures [K], reserve [-].
    name : str
        What the page calls the bath [-].

    Returns
    -------
    tuple of str
        Verdict, time and warmth in one sentence; and everything that the picture shows [s or min, °C, %, and where
        the plan is not refused mL and US fl oz].

    Examples
    --------
    >>> from pcbchem.lesson.plan_a_bath.fields import planned
    >>> mild = planned(acid=(10, "%"), peroxide=(12, "%"), parts=(0, 1, 1), total_mL=150, board_mm=(75, 60),
    ...                bare_percent=60, place="EU")
    >>> print(words(mild, "This bath")[0][:51])
    Mix it. 8 of 10 plausible baths clear this board in
    """
    times, peak, after = (
        plan.bands[key] for key in ("time_to_clear", "etching_peak", "standing_peak")
    )
    now, later = split(plan.stages)
    clear = (
        f"8 of 10 plausible baths clear this board in {span(times)}"
        if np.isfinite(times.high)
        else f"{round(100 * float(times.never))} in 100 plausible baths never clear this board"
    )
    look = f"; look first after {watch(plan.first_look)}" if plan.first_look is not None else ""
    readout = f"{HEADS[plan.verdict]} {clear}{look}. {warmth(plan)}"
    jug = (
        f"No jug: {BARE}; parts {parts(plan)}."
        if plan.refused
        else f"{vessel(plan)}, in this order: "
        + " ".join(
            [
                *(
                    f"{first}, {second}."
                    for first, second in (poured(stage, k) for k, stage in enumerate(now, 1))
                ),
                *(f"Drawn apart from these: {held_back(stage)}." for stage in later),
            ]
        )
    )
    held = ". ".join([*(takes(*one) for one in uses(plan).items()), reserve(plan)])
    marked = "; ".join(f"{row.name}: {row.words}{middle(row)}" for row in rows(plan))
    lines = [
        f"{when}, {said}"
        for when, quantity in (
            ("while etching", "etching_peak"),
            ("in the hour after", "standing_peak"),
        )
        for _, said in limits(quantity, *reach(plan))
    ]
    course = (
        f"from {start(plan):.0f} °C at the start; "
        if plan.run.steps is not None
        else "its course is not kept with the peroxide in two portions; "
    )
    return readout, (
        f"{title(plan, name).replace(chr(10), '. ')}. {jug} Bars: {held}. On an axis of time: {marked}. "
        f"Under it the temperature: {course}while etching it reaches {degrees(peak)}, the middle bath "
        f"{float(peak.middle) - ZERO_C:.0f} °C; in the hour after {degrees(after)}. "
        f"Lines drawn: {'. '.join(lines)}."
    )


def start(plan: Plan) -> float:
    """How warm the middle bath is when the board goes in [°C]."""
    return float(plan.bands["mixing_temperature"].middle) - ZERO_C


def reach(plan: Plan) -> tuple[float, float]:
    """From where to where the axis of temperature goes [°C]: always past 45."""
    highest = (
        max(float(plan.bands[name].high) for name in ("etching_peak", "standing_peak")) - ZERO_C
    )
    lowest = min(float(plan.bands["mixing_temperature"].low) - ZERO_C, 20.0)
    bottom = 10.0 * float(np.floor((lowest - 3) / 10))
    return bottom, max(55.0, highest + HEADROOM * (highest - bottom) / (1 - HEADROOM))
