"""What a plan comes to, as its picture shows it and a sentence says it: from the same numbers."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable

import numpy as np

from ...bench.hazards.verdicts import Limit, limits_of
from ...bench.hazards.words import head
from ...bench.plan.outcome import Stage
from ...bench.plan.planning import Plan
from ...bench.plan.pours import SECOND_PORTION
from ...bench.plan.steps import bath_vessel, joined, measured
from ...bench.plan.words import warmth
from ...common.band import Band
from ...common.number_words import clock, degrees, figures, low_to_high, span, watch
from ...common.units import ZERO_C, mL, us_fl_oz
from ...reaction.bath.bath import LONGEST
from .budget import spent, uses

HEADROOM = 0.15
"""Share of the axis of temperature that is kept free for words above the highest line [-]."""
MANY = 100
"""Above so many times of what there is [-] the number says no more."""
OFTEN = {"high": "1 in 10", "upper quarter": "1 in 4", "low": "1 in 10", "middle": "half"}
"""How many baths lie beyond an end of a band."""
UNLESS = "if the board is not clear and the bath is at 25 °C or colder"
"""When alone a second portion is poured (our limit)."""
NO_AMOUNTS = "no amounts: a refused plan measures nothing out"
BATH_BEFORE = (
    "A board that was developed is rinsed in two dishes of clean water first. Lye never comes into "
    "this bath."
)
"""Of the bath before the etch; a board that was never developed is none of it."""
BATH_AFTER = "After: two rinse dishes before lye or tin bath, a waste tub for each."
"""Of the baths after it; acetone, which is no lye, has a caution of its own."""


@dataclasses.dataclass(frozen=True)
class Row:
    """One row on the axis of time: name, both ends and middle [s, infinite: never], and words."""

    name: str
    low: float
    high: float
    words: str
    middle: float | None = None


def rows(plan: Plan) -> list[Row]:
    """List what stands on the axis of time, from top to bottom [s]; a refused plan has no look."""
    times = plan.bands["time_to_clear"]
    listed = []
    # a refused plan has neither look nor pours: nobody stands there
    if plan.first_look is not None:
        look = plan.first_look
        listed.append(Row("look first", look, look, watch(look)))
    for stage in plan.stages:
        # what goes into the jug has no time: it is poured before the board goes in
        if stage.when:
            words = f"{watch(stage.when)}, only if not clear, 25 °C or colder"
            listed.append(Row("later", stage.when, stage.when, words))
    listed.append(row_of("board clear", times, span(times)))
    # said only where it happens before the board is clear, and to how many baths
    gone = spent(plan)
    if gone is not None:
        count, when = gone
        words = f"{span(when)} ({count} of {plan.inputs.draws})"
        listed.append(row_of("peroxide spent", when, words))
    if plan.resist_life is not None:
        # how long it stands is no doubt of ours: two ends, no middle
        low, high = plan.resist_life
        listed.append(Row("resist gives up", low, high, span(Band.of(plan.resist_life, 2))))
    elif not plan.refused:
        listed.append(Row("resist gives up", np.inf, np.inf, "not known for such a bath"))
    return listed


def row_of(name: str, band: Band, words: str) -> Row:
    """Return the row of a band of times [s]."""
    return Row(name, float(band.low), float(band.high), words, float(band.middle))


def middle(row: Row) -> str:
    """Say the middle of a row [s in]: ", middle 3.7 min"; nothing where it has none."""
    if row.middle is None or not np.isfinite(row.middle):
        return ""
    return f", middle {clock(row.middle)}"


def end(plan: Plan) -> float:
    """Return where the axis of time ends [s]: past the slow end, or well past the last event."""
    times = plan.bands["time_to_clear"]
    gone = spent(plan)
    far = LONGEST
    # room for the words beyond the band; 1 in 10 that never clears has no end to show
    if np.isfinite(times.high):
        far = 1.5 * float(times.high)
    elif np.isfinite(times.middle):
        far = 4 * float(times.middle)
    elif gone is not None:
        far = 4 * float(gone[1].high)
    return min(far, LONGEST)


def amount(plan: Plan, number: int) -> str:
    """Say how much one of the pours is, by its number from 1: as people can measure it [mL].

    Nothing for a class.
    """
    # rounded together, so that picture and steps say the same and the sum is right
    if plan.school:
        return ""
    volume = measured([stage.volume for stage in plan.stages])[number - 1]
    words = f"{figures(volume, 6)} mL"
    if plan.inputs.place == "US":
        words += f" ({figures(volume * mL / us_fl_oz)} US fl oz)"
    return words


def pour(plan: Plan, number: int) -> tuple[str, str]:
    """Say one layer of the jug in two lines: name and amount [mL], then how warm it is [°C]."""
    stage = plan.stages[number - 1]
    warm = ""
    if stage.temperature is not None:
        warm = f"then at {degrees(stage.temperature)}"
    return joined(f"{number}. {stage.what}", amount(plan, number)), warm


def vessel(plan: Plan) -> str:
    """Say what the first pours go into: with a used bath they go to it, where it is."""
    if plan.inputs.used_bath is None:
        return "Into the jug"
    return f"Into the {bath_vessel(plan.inputs)}"


def split(stages: Iterable[Stage]) -> tuple[list[Stage], list[Stage]]:
    """Part what is poured before the board goes in from what comes later, if at all."""
    first: list[Stage] = []
    later: list[Stage] = []
    for stage in stages:
        if stage.what == SECOND_PORTION:
            later.append(stage)
        else:
            first.append(stage)
    return first, later


def second_portion(plan: Plan) -> str:
    """Say a second portion: where, when [s in], on what condition, and how much [mL]."""
    when = watch(plan.stages[-1].when)
    volume = amount(plan, len(plan.stages))
    place = bath_vessel(plan.inputs)
    return f"Into the {place} at {when}, ONLY {UNLESS}: peroxide, {volume}".removesuffix(", ")


def parts(plan: Plan) -> str:
    """Say the parts, a ratio and no amount: "water 3 : acid 1 : peroxide 1"."""
    water, acid, peroxide = (figures(part, 3) for part in plan.inputs.parts)
    return f"water {water} : acid {acid} : peroxide {peroxide}"


def takes(name: str, band: Band) -> str:
    """Say what this copper takes of a reagent in the bath [share of it, -].

    Examples
    --------
    >>> print(takes("acid", Band.of([0.11, 0.12, 0.13], 3)))
    acid: this copper uses 11 to 13 %
    >>> print(takes("acid", Band.of([1.5, 2.0], 2)))
    acid: 1.5 to 2 times as much needed
    """
    if not np.isfinite(band.high):
        return f"{name}: there is none in the bath"
    # "1730 times as much needed" would look exact
    if band.low > MANY:
        return f"{name}: over {MANY} times as much needed"
    ends = (float(band.low), float(band.high))
    if band.high > 1:
        return f"{name}: {low_to_high(ends, 1, 2)} times as much needed"
    return f"{name}: this copper uses {low_to_high(ends, 100, 2)} %"


def reserve(plan: Plan) -> str:
    """Say the reserve [-]."""
    band = plan.bands["reserve"]
    times = low_to_high((float(band.low), float(band.high)), 1, 2)
    return f"reserve: acid and peroxide would do for {times} times this copper"


def limits(quantity: str, low: float, high: float) -> list[Limit]:
    """List the limits of a peak that lie in view between two temperatures [°C].

    Examples
    --------
    >>> print([limit_words(limit) for limit in limits("etching_peak", 10, 55)])
    ['45 °C: 1 in 10 above it: with care; half: do not mix']
    """
    # a line higher than that has no room for its words
    top = high - HEADROOM * (high - low)
    return [limit for limit in limits_of(quantity) if low < celsius_of(limit) <= top]


def celsius_of(limit: Limit) -> float:
    """Return where a limit of a temperature stands on the axis [K in, °C out]."""
    return round(limit.value - ZERO_C, 6)  # 45, not 45.00000000000006


def limit_words(limit: Limit) -> str:
    """Say a limit of a temperature, and what falls when how many baths are above it [°C]."""
    parts_of_line = []
    above = " above it"
    for end_name, verdict in limit.verdicts:
        parts_of_line.append(f"{OFTEN[end_name]}{above}: {verdict}")
        above = ""  # said once
    return f"{celsius_of(limit):.0f} °C: {'; '.join(parts_of_line)}"


def limit_verdicts(limit: Limit) -> list[str]:
    """List what falls above a limit, the mildest first."""
    return [verdict for _, verdict in limit.verdicts]


def title(plan: Plan, name: str) -> str:
    """Say in two lines when the copper is gone [s in] and how warm it gets [K in]."""
    when = span(plan.bands["time_to_clear"])
    clear = "hardly ever clear" if when == "never" else f"clear in {when}"
    warm = (
        f"while etching {degrees(plan.bands['etching_peak'])}; in the day after "
        f"{degrees(plan.bands['standing_peak'])}"
    )
    if plan.refused:
        # nobody may read a time before the refusal
        refusal = "do not mix" if plan.harmful else "it would not do the job"
        first = f"{name}: {refusal}. A curve to learn from"
        return f"{first}\n{as_first_word(clear)}; {warm}"
    return f"{name}: {clear}\n{as_first_word(warm)}"


def as_first_word(words: str) -> str:
    """Return words as they begin a sentence."""
    return f"{words[0].upper()}{words[1:]}"


def words(plan: Plan, name: str) -> tuple[str, str]:
    """Say a plan in a live sentence, and its picture in words, from the same numbers.

    Parameters
    ----------
    plan : Plan
        Its bands: times [s], temperatures [K], reserve [-].
    name : str
        What the page calls the bath [-].

    Returns
    -------
    tuple of str
        Verdict, time and warmth in one sentence; and everything that the picture shows [s or min,
        °C, %, and where the plan is not refused mL].

    Examples
    --------
    >>> from pcbchem.lesson.form.fields import planned
    >>> mild = planned(acid=(10, "%"), peroxide=(12, "%"), parts=(0, 1, 1), total_mL=150,
    ...                board_mm=(75, 60), bare_percent=60, place="EU")
    >>> print(words(mild, "This bath")[0][:51])
    Mix it. 8 of 10 plausible baths clear this board in
    """
    return sentence(plan), picture_words(plan, name)


def sentence(plan: Plan) -> str:
    """Say verdict, time [s in] and warmth [K in] in one sentence."""
    times = plan.bands["time_to_clear"]
    clear = f"8 of 10 plausible baths clear this board in {span(times)}"
    # one in ten that never clears has no slow end: then how many is the sentence
    if not np.isfinite(times.high):
        never = round(100 * float(times.never))
        clear = f"{never} in 100 plausible baths never clear this board"
    look = ""
    if plan.first_look is not None:
        look = f"; look first after {watch(plan.first_look)}"
    return f"{head(plan.verdict, plan.harmful)} {clear}{look}. {warmth(plan)}"


def jug_words(plan: Plan) -> str:
    """Say the jug, layer by layer [mL, °C]; of a refused plan the ratio alone."""
    if plan.refused:
        return f"No jug: {NO_AMOUNTS}; parts {parts(plan)}."
    first, later = split(plan.stages)
    lines = []
    for number in range(1, len(first) + 1):
        lines.append(", ".join(words for words in pour(plan, number) if words) + ".")
    if later:
        lines.append(f"Drawn apart from these: {second_portion(plan)}.")
    if plan.school:
        lines.append(f"Parts {parts(plan)}.")
        return f"No jug is drawn. {vessel(plan)}, in this order, no amounts: {' '.join(lines)}"
    return f"{vessel(plan)}, in this order: {' '.join(lines)}"


def picture_words(plan: Plan, name: str) -> str:
    """Say everything that the picture of a plan shows [s, K, - and m³ in]."""
    peak, after = plan.bands["etching_peak"], plan.bands["standing_peak"]
    bars = [takes(reagent, band) for reagent, band in uses(plan).items()]
    bars.append(reserve(plan))
    marks = "; ".join(f"{row.name}: {row.words}{middle(row)}" for row in rows(plan))
    lines = []
    for when, quantity in (
        ("while etching", "etching_peak"),
        ("in the day after", "standing_peak"),
    ):
        for limit in limits(quantity, *reach(plan)):
            lines.append(f"{when}, {limit_words(limit)}")
    # without steps there is no curve to tell of
    course = f"from {start(plan):.0f} °C at the start; "
    if plan.run.steps is None:
        course = "its course is not kept with the peroxide in two portions; "
    heading = title(plan, name).replace("\n", ". ")  # two lines are two sentences to hear
    return (
        f"{heading}. {jug_words(plan)} Bars: {'. '.join(bars)}. On an axis of time: {marks}. "
        f"Under it the temperature: {course}while etching it reaches {degrees(peak)}, the middle "
        f"bath {float(peak.middle) - ZERO_C:.0f} °C; in the day after {degrees(after)}. "
        f"Lines drawn: {'. '.join(lines)}."
    )


def start(plan: Plan) -> float:
    """Return how warm the middle bath is when the board goes in [°C]."""
    return float(plan.bands["mixing_temperature"].middle) - ZERO_C


def reach(plan: Plan) -> tuple[float, float]:
    """Return from where to where the axis of temperature goes [°C]: always past 45."""
    peaks = [float(plan.bands[name].high) for name in ("etching_peak", "standing_peak")]
    highest = max(peaks) - ZERO_C
    lowest = min(float(plan.bands["mixing_temperature"].low) - ZERO_C, 20.0)
    # from a full ten degrees below the coldest, to where the highest line leaves room for words
    bottom = 10.0 * float(np.floor((lowest - 3) / 10))
    return bottom, max(55.0, highest + HEADROOM * (highest - bottom) / (1 - HEADROOM))
