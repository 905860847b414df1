"""What to do, in words: each pour in its order, the tray, when to look, and afterwards."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...common.band import Band
from ...common.number_words import degrees, figures, low_to_high, of_draws, span, watch
from ...common.units import ZERO_C, L, mL, us_fl_oz
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import MOVEMENTS, ROOM
from ..hazards.verdicts import VERY_WARM_AFTER, WARM_AFTER, WARM_ETCH, rule_named
from .inputs import Inputs
from .outcome import Outcome, Stage
from .pours import ACID, PEROXIDE, SECOND_PORTION

COLD = 25.0 + ZERO_C
"""What is warmer [K] is left to cool before the peroxide goes in (our limit)."""
KEEP_MOVING = {
    "still": " Leave it still.",
    "rocked": f" Rock it: {MOVEMENTS['rocked']}.",
    "shaken": f" Shake it: {MOVEMENTS['shaken']}.",
    "bubbled": " Bubble air through it.",
    "sprayed": "",
}
"""How the bath is moved while the board is in it: every time rests on that."""
STEPS = ((10.0, 0.5), (100.0, 1.0), (np.inf, 5.0))
"""Below so much [mL] people measure to the second number [mL] (our choice): a syringe, a jug."""
SPRAYED, UPRIGHT = "sprayed", "upright"
"""The movement of a bath that is in no tray, but in a closed machine; how a board faces that stands
in a tank."""
CHILLED = 2.0
"""What is colder than the air by more than this [K] has to be cooled first (our limit)."""
WARMER_LATER = 1.0
"""A bath that gets warmer by more than this after its first hour [K] is worth a word."""
BOILS = 95.0 + ZERO_C
"""A bath that is warmer may boil over [K] (our limit)."""
NO_AMOUNTS = "For a class: the order, and no amounts."
"""Stands where a plan for a class would say how much it is in all."""
MOST = 0.5
"""More than this share of the peroxide [-] is most of it."""


def ends(band: Band, scale: float = 1.0, offset: float = 0.0) -> list[float]:
    """Return low end, middle and high end of a band [own unit]: less an offset, over a scale."""
    return [(float(value) - offset) / scale for value in (band.low, band.middle, band.high)]


def outer(band: Band, scale: float = 1.0) -> str:
    """Write low to high end of a band over a scale [own unit], to two figures."""
    low, _, high = ends(band, scale)
    return low_to_high((low, high), digits=2)


def pours(plan: Outcome) -> str:
    """Write what is poured, in order, and where [mL, °C]; in the US in fluid ounces too.

    What has to be seen to before anything is poured stands first.
    """
    inputs = plan.inputs
    # how much it is: nothing at all for a class
    volumes, in_all = [""] * len(plan.stages), NO_AMOUNTS
    if not plan.school:
        millilitres = measured([stage.volume for stage in plan.stages])
        volumes = [quantity(volume, inputs) for volume in millilitres]
        in_all = in_all_words(plan, millilitres)
    # what is poured before the board goes in, then the board, then what comes later
    at_once = [stage for stage in plan.stages if stage.what != SECOND_PORTION]
    amounts = [amount(*pair) for pair in zip(plan.stages, volumes, strict=True)]
    # what is poured first is as warm as its bottle
    amounts[0] = volumes[0]
    lines = []
    for number, stage in enumerate(at_once, 1):
        way = how(at_once, number, inputs)
        words = amounts[number - 1]
        # after a wait nobody knows how warm it then is
        if stage.what == PEROXIDE and number > 1 and cooled(at_once[number - 2], inputs):
            words = volumes[number - 1]
        lines.append(f"{number}. {joined(f'{stage.what}, {way}', words)}")
    lines.append(f"{len(lines) + 1}. {board_goes_in(inputs)}")
    # a second portion, where there is one, stands last
    for number, stage in enumerate(plan.stages[len(at_once) :], len(at_once)):
        lines.append(f"{len(lines) + 1}. {later_pour(stage, amounts[number], inputs)}")
    steps = "\n".join(lines)
    return f"{beforehand(inputs)}{steps}\n\n{in_all}"


def in_all_words(plan: Outcome, millilitres: Sequence[float]) -> str:
    """Write how much all pours are together [mL], and where that is not what was asked for."""
    words = f"In all {quantity(sum(millilitres), plan.inputs)}"
    asked_for = sum(stage.volume for stage in plan.stages) / mL
    # what people measure may add up to another figure than the one in the field
    if figures(sum(millilitres), 3) != figures(asked_for, 3):
        words += ", each rounded to what can be measured"
    return f"{words}."


def joined(words: str, amount: str) -> str:
    """Write how much after what is poured, with a colon between; nothing where there is none.

    Examples
    --------
    >>> print(joined("acid", "75 mL"), joined("acid", ""))
    acid: 75 mL acid
    """
    return f"{words}: {amount}".removesuffix(": ")


def beforehand(inputs: Inputs) -> str:
    """Write what has to be seen to before the first pour [°C], a paragraph each; "" if nothing."""
    words = ""
    if inputs.used_bath is not None:
        words += (
            "Top up only a bath that stood open for days, is at air temperature and shows "
            "no bubbles when stirred. Its peroxide is what a test strip says, never a plan; "
            "copper and acid may come from the last plan.\n\n"
        )
    # a cold start is worth nothing on paper: it has to be made, and measured
    if inputs.T_bottles < air_of(inputs) - CHILLED:
        coldest = min(inputs.T_bottles, COLD)
        words += (
            f"First cool {_to_be_cooled(inputs)} to {figures(coldest - ZERO_C, 3)} °C and measure "
            "each. Warmer than that, this plan does not hold: do not pour.\n\n"
        )
    elif inputs.T_bottles > COLD:
        words += f"First stand the bottles in cold water until they are at {_cold_words()}.\n\n"
    return words


def air_of(inputs: Inputs) -> float:
    """Return how warm the air is [K], or is taken to be where nobody said it."""
    if inputs.tray.T_air is None:
        return ROOM
    return float(np.asarray(inputs.tray.T_air))


def _to_be_cooled(inputs: Inputs) -> str:
    """Name all that has to be as cold as the bottles: what is poured, and a used bath."""
    water, acid, peroxide = inputs.parts
    liquids = []
    if water * inputs.fresh:
        liquids.append("water")
    if (acid + peroxide) * inputs.fresh:
        liquids.append("bottles" if liquids else "the bottles")
    # it is at air temperature, and the plan was made for one as cold as the rest
    if inputs.used_bath is not None:
        liquids.append("the used bath")
    if len(liquids) == 1:
        return liquids[0]
    return f"{', '.join(liquids[:-1])} and {liquids[-1]}"


def _cold_words() -> str:
    """Write how warm peroxide and what it meets may be [°C]."""
    return f"{COLD - ZERO_C:.0f} °C or colder"


def board_goes_in(inputs: Inputs) -> str:
    """Write where the bath goes, and that the board goes in."""
    moves = KEEP_MOVING[inputs.tray.agitation]
    # a used bath is topped up where it is
    if inputs.used_bath is not None:
        return f"Then the board goes in.{moves}"
    return f"From the jug into the {bath_vessel(inputs)} at once, then the board.{moves}"


def bath_vessel(inputs: Inputs) -> str:
    """Name what the board is etched in: a tray, a tank where it stands upright, or a machine."""
    if inputs.tray.agitation == SPRAYED:
        return "machine"
    if inputs.tray.facing == UPRIGHT:
        return "tank"
    return "tray"


def measured(volumes: Sequence[float]) -> list[float]:
    """Round volumes to what people can measure, so that they add up to what all of them are.

    To 0.5 mL below 10 mL, to 1 mL below 100 mL, to 5 mL above. Volumes of one step are rounded
    together: their sum first, then each down, and those with the largest remainder up. What would
    be nothing keeps two figures.

    Parameters
    ----------
    volumes : sequence of float
        Each [m³].

    Returns
    -------
    list of float
        Each [mL], in the order given; off by less than one step.

    Examples
    --------
    >>> print(measured([40.4e-6, 40.4e-6, 40.4e-6]), measured([151e-6, 7.3e-6]))
    [41.0, 40.0, 40.0] [150.0, 7.5]
    """
    exact = [volume / mL for volume in volumes]
    steps = [next(step for limit, step in STEPS if volume < limit) for volume in exact]
    rounded = [0.0] * len(exact)
    for _, step in STEPS:
        group = [place for place, own_step in enumerate(steps) if own_step == step]
        # a little more, or 75 mL would be 74.99999 and its floor 74
        counts = [exact[place] / step + 1e-9 for place in group]
        floors = [int(np.floor(count)) for count in counts]
        missing = round(sum(counts)) - sum(floors)
        by_remainder = sorted(range(len(group)), key=lambda k: floors[k] - counts[k])
        for rank, k in enumerate(by_remainder):
            rounded[group[k]] = step * (floors[k] + (rank < missing))
    # less than half a step is not nothing
    return [
        volume or float(f"{own_volume:.2g}")
        for volume, own_volume in zip(rounded, exact, strict=True)
    ]


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
        # with a used bath all of it is mixed where that one is
        place = f"first, in the {_vessel(inputs)}"
        if is_weak_peroxide:
            return f"{place}: weak enough to go before the acid"
        return place
    if is_weak_peroxide:
        return "into it: weak enough to go before the acid"
    if stage.what == ACID:
        return "slowly into it, stirring"
    if stage.what == PEROXIDE:
        return f"last and slowly{cooled(stages[number - 2], inputs)}"
    return "slowly into it"


def _vessel(inputs: Inputs) -> str:
    """Name what a bath is mixed in: a jug, but a used bath stays where it is."""
    if inputs.used_bath is None:
        return "jug"
    return bath_vessel(inputs)


def cooled(before: Stage, inputs: Inputs) -> str:
    """Write that what is there has to cool first [°C], where it may be warm."""
    if not _is_warm(before):
        return ""
    place = _vessel(inputs)
    return f". First wait, or stand the {place} in cold water, until it is at {_cold_words()}"


def _is_warm(stage: Stage) -> bool:
    """Tell whether what is there may be too warm for peroxide."""
    return stage.temperature is not None and float(stage.temperature.high) > COLD


def second_pour(stage: Stage, volume: str) -> str:
    """Write when and how the second portion is poured [mL, °C]."""
    return (
        f"{joined(f'{watch(stage.when)} after the board, {stage.what}, slowly', volume)}. "
        f"Only if the board is not clear and the bath is at {COLD - ZERO_C:.0f} °C or colder."
    )


def later_pour(stage: Stage, volume: str, inputs: Inputs) -> str:
    """Write when and how the second portion is poured [mL, °C], and how often."""
    count = round(stage.needed * inputs.draws)
    # which draws they are is not said: so the first of them stand for all
    needed = of_draws(np.arange(inputs.draws) < count)
    return (
        f"{second_pour(stage, volume)} "
        f"{needed[0].upper()}{needed[1:]} of the plausible baths still need it then."
    )


def amount(stage: Stage, volume: str) -> str:
    """Write how much is poured [mL], unless it is not said, and how warm it then is [°C]."""
    # a second portion that no plausible bath needs makes none warm
    if stage.temperature is None:
        return volume
    return f"{volume}; then at {degrees(stage.temperature)}".removeprefix("; ")


def quantity(volume: float, inputs: Inputs) -> str:
    """Write a volume [mL]; in the US in fluid ounces too."""
    words = f"**{figures(volume, 6)} mL**"
    if inputs.place == "US":
        words += f" ({figures(volume * mL / us_fl_oz)} US fl oz)"
    return words


def tray(inputs: Inputs, school: bool = False) -> str:
    """Write what tray it was worked out for [cm², mm], and what to see to with a used bath.

    Not how large and deep its bath is for a class: that is a volume.
    """
    area = float(inputs.board.copper_area)
    volume = inputs.bath_per_area * area
    surface = float(inputs.tray.surface(volume, area))
    if inputs.tray.agitation == SPRAYED:
        words = "Worked out for a bath that is sprayed, in a closed machine."
    else:
        words = (
            f"Worked out for {figures(surface * 1e4)} cm² of open liquid, "
            f"{figures(volume / surface * 1e3)} mm deep: deeper and narrower is much hotter."
        )
        if school:
            vessel = bath_vessel(inputs)
            words = f"Worked out for one {vessel}: deeper and narrower is much hotter."
        # without a tray's size the model's own default may be smaller than the board in it
        lies_flat = inputs.tray.facing != UPRIGHT
        if lies_flat and surface < float(inputs.board.footprint):
            words += " **That is smaller than the board: say how large your tray is.**"
    bottles, air = inputs.T_bottles - ZERO_C, air_of(inputs) - ZERO_C
    return f"{words} Bottles {bottles:.0f} °C, air {air:.0f} °C: start no warmer."


def looks(plan: Outcome) -> str:
    """Write when to look, when to lift out, how long resist stands [s]; "" if none clears."""
    if plan.first_look is None or plan.look_every is None or plan.over_etch is None:
        return ""
    # two ends as a band of two draws: `span` then writes the unit once
    more = span(Band.of(plan.over_etch, 2))
    look = (
        f"Look first after **{watch(plan.first_look)}**, then every {watch(plan.look_every)}. "
        f"Lift it out when clear all over; {more} more clears the corners."
    )
    if plan.resist_life is None:
        return f"{look} How long resist stands such a bath nobody knows."
    life = span(Band.of(plan.resist_life, 2))
    return f"{look} Resist stands it {life} (common practice)."


def hour_peak(plan: Outcome) -> Band:
    """Return how warm the baths get in the hour after the board is out [K]."""
    return plan.bands["hour_peak"]


def standing(plan: Outcome) -> str:
    """Write what a refused bath would do when the board is out [times its volume, °C]."""
    words = (
        "It does not stop when the board comes out. In the hour after it gives off "
        f"{outer(plan.bands['oxygen'])} times its own volume of oxygen."
    )
    hot = plan.bands["standing_peak"].values > BOILS
    if hot.any():
        words += (
            f" {of_draws(hot).capitalize()} plausible baths exceed {BOILS - ZERO_C:.0f} °C then, "
            "or later that day, and may boil over."
        )
    return words


def later(plan: Outcome) -> str:
    """Write what the bath does after the board is out [°C, times its volume], and what to do.

    How warm it gets in the hour after stands with `words.does`.
    """
    oxygen = outer(plan.bands["oxygen"])
    return (
        f"{_when_out(plan)} "
        f"In the hour after it gives off {oxygen} times its volume of oxygen{_that_day(plan)}."
        f"{_hotter(plan)} {peroxide_left(plan)} "
        f"How fast is assumed.{_where_to_stand(plan)}"
    )


def peroxide_left(plan: Outcome) -> str:
    """Write what may be left of the peroxide after a day: in words, never as a band."""
    # how fast it decays is a guess: a number would be relied on
    rest = "peroxide"
    if float(plan.bands["peroxide_left_day"].high) > MOST:
        rest = "most of its peroxide"
    return f"It may still hold {rest} after a day; only a test strip knows."


def _when_out(plan: Outcome) -> str:
    """Write what the bath holds when the board comes out [g/L, mol/L], and that it goes on."""
    copper = outer(plan.bands["copper_used"], 1 / MOLAR_MASS["Cu"])
    acid = outer(plan.bands["acid_used"], 1 / L)
    return (
        f"It does not stop when the board comes out, with {copper} g/L of copper and "
        f"{acid} mol/L of acid."
    )


def _that_day(plan: Outcome) -> str:
    """Write how warm it gets later that day [°C]; "" where that hour is the warmest."""
    peak = plan.bands["standing_peak"]
    # the day begins with that hour: only what comes later is news
    if float(peak.high) > float(hour_peak(plan).high) + WARMER_LATER:
        return f"; later that day it reaches {degrees(peak)}"
    return ""


def _hotter(plan: Outcome) -> str:
    """Write how many baths want cooling when they stand [°C]; "" where none does."""
    # a reason of the verdict has said it
    if any(reason.rule == WARM_AFTER for reason in plan.reasons):
        return ""
    peak = plan.bands["standing_peak"]
    # the temperature at which the trade stops an etch is when a bath alone wants cooling too
    stop = rule_named(WARM_ETCH)
    hot = peak.values > stop.limit
    if not hot.any():
        return ""
    return (
        f" {of_draws(hot).capitalize()} plausible baths exceed {stop.shown(stop.limit)}: "
        "have cold water ready."
    )


def _where_to_stand(plan: Outcome) -> str:
    """Write to keep away from a bath that 1 in 10 times gets too warm; "" where none does."""
    warm = rule_named(VERY_WARM_AFTER)
    if plan.bands["standing_peak"].high > warm.limit:
        return f" **Above {warm.shown(warm.limit)} is expected: keep well back.**"
    return ""
