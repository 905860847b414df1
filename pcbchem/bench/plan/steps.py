"""What to do, in words: each pour in its order and place, the tray it was worked out for, when to look and to pull."""

from __future__ import annotations

import numpy as np

from ...common.band import Band
from ...common.number_words import degrees, figures, of_draws, span, watch
from ...common.units import ZERO_C, mL, us_fl_oz
from .inputs import Inputs
from .outcome import Outcome, Stage
from .outlook import ACID, PEROXIDE, SECOND_PORTION

COLD = (
    25.0 + ZERO_C
)  # K: what is warmer is left to cool before the peroxide goes in (common practice)


def how(stage: Stage, number: int, last: int, before: Stage | None, given: Inputs) -> str:
    """How one of `POURS` is poured, by its place in the order [-] and the warmth before it [K]."""
    vessel, cold = "jug" if given.kept is None else "tray", max(COLD, given.T_bottles + 2)
    if stage.what == SECOND_PORTION:
        return "slowly, only if the board is not clear and the bath below 40 °C (common practice)"
    if number == 1:
        weak = ": so weak, it is mostly water" if stage.what == PEROXIDE and number < last else ""
        return f"first, in the {vessel}{weak}"
    if stage.what == PEROXIDE and number < last:
        return "into it: so weak, it is mostly water"
    warm = (
        before is not None
        and before.temperature is not None
        and float(before.temperature.high) > cold
    )
    cool = f", when it has cooled to {cold - ZERO_C:.0f} °C (worked out without)" if warm else ""
    return {ACID: "slowly into it, stirring", PEROXIDE: f"last and slowly{cool}"}.get(
        stage.what, "slowly into it"
    )


def pours(plan: Outcome) -> str:
    """What is poured, in order, and where [mL, US fl oz, °C]."""
    lines, given = [], plan.inputs
    now = [stage for stage in plan.stages if stage.what != SECOND_PORTION]
    for k, stage in enumerate(now):
        way = how(stage, k + 1, len(now), now[k - 1] if k else None, given)
        lines.append(f"{k + 1}. {stage.what}, {way}: {amount(stage)}")
    into = "" if given.kept is not None else "Pour it from the jug into the tray at once. "
    lines.append(f"{len(lines) + 1}. {into}Then the board goes in.")
    for stage in plan.stages[len(now) :]:
        needed = of_draws(np.arange(given.draws) < round(stage.needed * given.draws))
        way = how(stage, 9, 9, None, given)
        lines.append(
            f"{len(lines) + 1}. {watch(stage.when)} after the board, {stage.what}, {way}: {amount(stage)}. "
            f"{needed[0].upper()}{needed[1:]} of the plausible baths still need it then."
        )
    return "\n".join(lines)


def amount(stage: Stage) -> str:
    """How much is poured and how warm it then is [mL, US fl oz, °C]."""
    warmth = "" if stage.temperature is None else f"; then at {degrees(stage.temperature)}"
    return f"**{figures(stage.volume / mL, 3)} mL** ({figures(stage.volume / us_fl_oz)} US fl oz){warmth}"


def tray(given: Inputs) -> str:
    """What tray it was worked out for [cm², mm], and what to make sure of with a kept bath."""
    area = float(given.board.copper_area)
    volume = given.bath_per_area * area
    surface = float(given.tray.surface(volume, area))
    flat = given.tray.facing != "upright"
    small = (
        " **That is smaller than the board: say how large your tray is.**"
        if flat and surface < float(given.board.footprint)
        else ""
    )
    used = (
        ""
        if given.kept is None
        else " Use again only a bath that has stood open for days, is at room temperature "
        "and shows no bubbles when it is stirred: peroxide left in it makes it hotter."
    )
    return (
        f"Worked out for {figures(surface * 1e4)} cm² of open liquid, {figures(volume / surface * 1e3)} mm deep."
        f"{small} Deeper and narrower it gets much hotter. Mix it when the board is ready; use it at once.{used}"
    )


def looks(plan: Outcome) -> str:
    """When to look, when to pull and how long the resist stands [s]."""
    if plan.first_look is None or plan.over_etch is None:
        return ""
    first = (
        f"Watch the bath and a thermometer from the start. Look first at the copper after "
        f"**{watch(plan.first_look)}**, then often. Pull the board, with plastic tongs and low over the tray, "
        f"when it is clear all over; {span(Band.of(plan.over_etch, 2))} more clears the last corners (10 to 30 % "
        "of the time; common practice)."
    )
    resist = (
        "How long the resist stands a bath as strong or as warm as this one we do not know."
        if plan.resist_life is None
        else f"Resist stands such a bath {span(Band.of(plan.resist_life, 2))} (common practice)."
    )
    return f"{first} {resist}"
