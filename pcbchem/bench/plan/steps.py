"""What to do, in words: each pour in its order and place, the tray, when to look and to pull."""

from __future__ import annotations

import numpy as np

from ...common.band import Band
from ...common.number_words import degrees, figures, of_draws, span, watch
from ...common.units import ZERO_C, mL, us_fl_oz
from .inputs import Inputs
from .outcome import Outcome, Stage
from .pours import ACID, PEROXIDE, SECOND_PORTION

COLD = 25.0 + ZERO_C
"""What is warmer [K] is left to cool before the peroxide goes in (common practice)."""


def pours(plan: Outcome) -> str:
    """Write what is poured, in order, and where [mL, US fl oz, °C]."""
    inputs = plan.inputs
    # what is poured before the board goes in, then the board, then what comes later
    at_once = [stage for stage in plan.stages if stage.what != SECOND_PORTION]
    lines = []
    for number, stage in enumerate(at_once, 1):
        way = how(at_once, number, inputs)
        lines.append(f"{number}. {stage.what}, {way}: {amount(stage)}")
    board = "Then the board goes in."
    if inputs.used_bath is None:
        board = f"Pour it from the jug into the tray at once. {board}"
    lines.append(f"{len(lines) + 1}. {board}")
    # a second portion, where there is one, stands last
    for stage in plan.stages[len(at_once) :]:
        lines.append(f"{len(lines) + 1}. {_later_pour(stage, inputs)}")
    return "\n".join(lines)


def how(stages: list[Stage], number: int, inputs: Inputs) -> str:
    """Write how one of the pours before the board is poured.

    Parameters
    ----------
    stages : list of Stage
        All pours before the board, in order.
    number : int
        Which of them [-], from 1.
    inputs : Inputs
        What was planned.

    Returns
    -------
    str
        A clause: acid slowly into what is there, peroxide last and cold, or first if it is weak.
    """
    stage = stages[number - 1]
    # peroxide that is not poured last is so weak that acid is poured into it
    is_weak_peroxide = stage.what == PEROXIDE and number < len(stages)
    if number == 1:
        # with a used bath all of it is mixed in the tray
        place = "first, in the jug"
        if inputs.used_bath is not None:
            place = "first, in the tray"
        if is_weak_peroxide:
            return f"{place}: so weak, it is mostly water"
        return place
    if is_weak_peroxide:
        return "into it: so weak, it is mostly water"
    if stage.what == ACID:
        return "slowly into it, stirring"
    if stage.what == PEROXIDE:
        return f"last and slowly{_cooled(stages[number - 2], inputs)}"
    return "slowly into it"


def _cooled(before: Stage, inputs: Inputs) -> str:
    """Write that what is there has to cool first [°C], where it may be warm."""
    # nothing cools below the bench it stands on: then to 2 K above that
    cold = max(COLD, inputs.T_bottles + 2)
    if before.temperature is None or float(before.temperature.high) <= cold:
        return ""
    return f", when it has cooled to {cold - ZERO_C:.0f} °C (worked out without)"


def _later_pour(stage: Stage, inputs: Inputs) -> str:
    """Write when and how the second portion is poured [mL, US fl oz, °C], and how often."""
    count = round(stage.needed * inputs.draws)
    # which draws they are is not said: so the first of them stand for all
    needed = of_draws(np.arange(inputs.draws) < count)
    return (
        f"{watch(stage.when)} after the board, {stage.what}, slowly, only if the board is not "
        f"clear and the bath below 40 °C (common practice): {amount(stage)}. "
        f"{needed[0].upper()}{needed[1:]} of the plausible baths still need it then."
    )


def amount(stage: Stage) -> str:
    """Write how much is poured and how warm it then is [mL, US fl oz, °C]."""
    millilitres, ounces = figures(stage.volume / mL, 3), figures(stage.volume / us_fl_oz)
    words = f"**{millilitres} mL** ({ounces} US fl oz)"
    # a second portion that no plausible bath needs makes none warm
    if stage.temperature is not None:
        words += f"; then at {degrees(stage.temperature)}"
    return words


def tray(inputs: Inputs) -> str:
    """Write what tray it was worked out for [cm², mm], and what to see to with a used bath."""
    area = float(inputs.board.copper_area)
    volume = inputs.bath_per_area * area
    surface = float(inputs.tray.surface(volume, area))
    words = (
        f"Worked out for {figures(surface * 1e4)} cm² of open liquid, "
        f"{figures(volume / surface * 1e3)} mm deep."
    )
    # without a tray's size the model's own default may be smaller than the board in it
    lies_flat = inputs.tray.facing != "upright"
    if lies_flat and surface < float(inputs.board.footprint):
        words += " **That is smaller than the board: say how large your tray is.**"
    words += (
        " Deeper and narrower it gets much hotter. Mix it when the board is ready; use it at once."
    )
    if inputs.used_bath is not None:
        words += (
            " Use again only a bath that has stood open for days, is at room temperature "
            "and shows no bubbles when it is stirred: peroxide left in it makes it hotter."
        )
    return words


def looks(plan: Outcome) -> str:
    """Write when to look, when to pull and how long the resist stands [s]; "" if none clears."""
    if plan.first_look is None or plan.over_etch is None:
        return ""
    # two ends as a band of two draws: `span` then writes the unit once
    more = span(Band.of(plan.over_etch, 2))
    look = (
        "Watch the bath and a thermometer from the start. Look first at the copper after "
        f"**{watch(plan.first_look)}**, then often. "
        "Pull the board, with plastic tongs and low over the tray, when it is clear all over; "
        f"{more} more clears the last corners (10 to 30 % of the time; common practice)."
    )
    if plan.resist_life is None:
        resist = (
            "How long the resist stands a bath as strong or as warm as this one we do not know."
        )
    else:
        life = span(Band.of(plan.resist_life, 2))
        resist = f"Resist stands such a bath {life} (common practice)."
    return f"{look} {resist}"
