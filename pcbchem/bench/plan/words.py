"""A plan in words and as a table: verdict first, what to pour only where it may be poured, lab units throughout."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...common.band import Band
from ...common.limits import RangeWarning
from ...common.number_words import (
    apart,
    clock,
    degrees,
    figures,
    low_to_high,
    of_draws,
    per_cm2,
    share,
    span,
)
from ...common.units import ZERO_C, L, minute, mL
from ...matter.properties import MOLAR_MASS
from ..bottle.bottle import Bottle
from ..hazards.caution import over_public
from ..hazards.verdicts import rules
from ..hazards.words import HEADS, OPENING, REMINDER, RULES, bullets, safety, warned
from .changes import Change, ladder
from .inputs import Inputs
from .outcome import Outcome
from .steps import looks, pours, tray

if TYPE_CHECKING:
    import pandas


TRIED = {"water": "more water", "bath": "more bath for the copper", "start": "a colder start"}
DOUBTS = {
    "acid": "your acid's strength",
    "peroxide": "your peroxide's strength",
    "kept bath": "the kept bath",
    "model": "the model's own numbers",
}
NARROWS = {
    "acid": "measure it, or etch an offcut first in a little bath of its own",
    "peroxide": "measure it, or etch an offcut first in a little bath of its own",
    "kept bath": "etch an offcut first in a little of it",
    "model": "an offcut etched first in a little bath of its own says more",
}
READERS = {"etch": " while etching", "stand": " when left standing"}
"""What read a quantity outside its range, as a clause."""
LAB_UNITS = {"K": (1.0, ZERO_C, " °C"), "mol/m³": (L, 0.0, " mol/L")}
"""For people: times this, less this, and the word for the unit."""
AGAIN = 1.05  # a doubt that narrows the band by less than this factor is not worth a word


def strengths(bottle: Bottle) -> str:
    """A bottle's strength [% by weight]: "9 to 11 %", or one figure."""
    return f"{low_to_high((bottle.low, bottle.high), 100)} %"


def asked(given: Inputs) -> str:
    """The inputs in words [% by weight, cm², g, mol/L, °C]: bottles, bath kept and board, and no amount of liquid."""
    board, kept = given.board, given.kept
    area, whole = float(board.copper_area), float(board.footprint)
    grams = float(board.copper) * MOLAR_MASS["Cu"] * 1000
    used = (
        ""
        if kept is None
        else (
            f" {figures(100 * kept.share, 3)} % of the bath is a used one: {low_to_high(kept.copper, MOLAR_MASS['Cu'])} g/L of "
            f"copper, {low_to_high(kept.acid, L)} mol/L of acid and {low_to_high(kept.peroxide, L)} mol/L of peroxide."
        )
    )
    odd = " **Is that the board you mean?**" if area < max(0.02 * whole, 1e-4) else ""
    bottles = (
        []
        if not given.fresh
        else [
            f"{name} of {strengths(bottle)}"
            for name, bottle, part in zip(
                ("acid", "peroxide"), (given.acid, given.peroxide), given.parts[1:], strict=True
            )
            if part
        ]
    )
    held = f"{' and '.join(bottles)} by weight; " if bottles else ""
    said = (
        f"{held}a board of {figures(whole * 1e4, 3)} cm², {figures(area * 1e4, 3)} cm² of it bare: "
        f"{figures(grams)} g of copper.{odd}{used}"
    )
    return f"{said[0].upper()}{said[1:]}"


def changed(change: Change, given: Inputs) -> str:
    """One change that was tried, in words [parts, mL per cm², °C]: no volume."""
    to = HEADS[change.verdict].rstrip(".").lower()
    if change.lever == "water":
        after, before = apart(change.value, given.parts[0], 3)
        rest = " : ".join(figures(part, 3) for part in given.parts[1:])
        said = (
            f"more water: {after} : {rest} (water : acid : peroxide) instead of {before} : {rest}, as much of it "
            f"in all, or more water. With {after} parts of it"
        )
    elif change.lever == "bath":
        after, before = apart(per_cm2(change.inputs.bath_per_area), per_cm2(given.bath_per_area), 3)
        said = (
            f"more of the same bath: {after} mL per cm² of bare copper instead of {before}, or more of it. With "
            f"{after} mL per cm²"
        )
    else:
        after, before = apart(change.value - ZERO_C, given.T_bottles - ZERO_C)
        said = f"everything colder: {after} °C instead of {before} °C, or colder. At {after} °C"
    return f"{said} the verdict is: {to}"


def does(plan: Outcome) -> str:
    """Time, warmth while etching and in the hour after, and reserve in one paragraph [s, °C, -]."""
    times, reserve = plan.bands["time_to_clear"], plan.bands["reserve"]
    count, of = round(float(times.never) * times.values.shape[-1]), times.values.shape[-1]
    never = f"{count} of {of} plausible baths never clear this board."
    if np.isfinite(times.high):
        said = (
            f"8 of 10 plausible baths clear this board in **{span(times)}**; the middle one takes "
            f"{clock(times.middle)}.{f' {never}' if count else ''}"
        )
    else:
        said = f"{never}{f' 1 in 10 has cleared it by {clock(times.low)}.' if np.isfinite(times.low) else ''}"
    return (
        f"{said} {warmth(plan)} Acid and peroxide would do for "
        f"{low_to_high(ends(reserve)[::2], digits=2)} times this copper (the reserve)."
    )


def warmth(plan: Outcome) -> str:
    """How warm the baths get with the board in them and after it, in one sentence: never the one without the other."""
    peak, after = plan.bands["etching_peak"], plan.bands["standing_peak"]
    return f"While etching they reach {degrees(peak)}; in the hour after, {degrees(after)}."


def standing(plan: Outcome) -> str:
    """What a refused bath would do when the board is out [times its volume, °C]: its gas, and whether it boils over."""
    boils = {rule.name: rule for rule in rules()}["may boil when left standing"]
    beyond = of_draws(plan.bands["standing_peak"].values > boils.limit)
    over = (
        ""
        if beyond == "none"
        else f" {beyond[0].upper()}{beyond[1:]} plausible baths pass {boils.shown(boils.limit)} then and may boil over."
    )
    return (
        "It does not stop when the board comes out. In the hour after it gives off "
        f"{low_to_high(ends(plan.bands['oxygen'])[::2], digits=2)} times its own volume of oxygen.{over}"
    )


def later(plan: Outcome) -> str:
    """What the bath does after the board is out [°C, times its volume, %], and so where to leave it."""
    bands = plan.bands
    oxygen = low_to_high(ends(bands["oxygen"])[::2], digits=2)
    known = {rule.name: rule for rule in rules()}
    stop, near = known["warm while etching"], known["warm when left standing"]
    day = (
        f", after a day {share(bands['peroxide_left_day'])}" if "peroxide_left_day" in bands else ""
    )
    hot = of_draws(bands["standing_peak"].values > stop.limit)
    ready = (
        ""
        if hot == "none"
        else (
            f" {hot[0].upper()}{hot[1:]} plausible baths pass {stop.shown(stop.limit)} then: "
            "have cold water for the tub ready."
        )
    )
    if plan.later is not None:
        day_long = plan.later.band("peak_temperature")
        if float(day_long.high) > float(bands["standing_peak"].high) + 1:
            ready += f" Later that day it reaches {degrees(day_long)}."
    stay = (
        "keep well back from it, upwind, and let nobody near"
        if bands["standing_peak"].high > near.limit
        else "stay by it for the first hour, thermometer in it"
    )
    begin = "The bath does not stop when the board comes out."
    if "acid_used" in bands:
        copper, acid = (
            low_to_high(ends(bands[name], scale)[::2], digits=2)
            for name, scale in (("copper_used", 1 / MOLAR_MASS["Cu"]), ("acid_used", 1 / L))
        )
        begin = (
            f"When the board comes out the bath holds {copper} g/L of copper and {acid} mol/L of acid, and it "
            "does not stop."
        )
    return (
        f"{begin} In the hour after it reaches "
        f"{degrees(bands['standing_peak'])} and gives off {oxygen} times its "
        f"own volume of oxygen. After that hour {share(bands['peroxide_left'])} of the peroxide is still in it"
        f"{day}.{ready} How fast is assumed, not measured. So {stay}; "
        "then leave it open in its tray, in the open air, out of reach. Never close it up. Ask your local "
        "hazardous-waste site in what it takes the rest."
    )


def widens(plan: Outcome) -> str:
    """What widens the band of times most, and what each doubt alone would leave [s]."""
    times, most = plan.bands["time_to_clear"], plan.doubts[0]
    if not np.isfinite(times.low):
        return "No doubt matters to a bath that never clears the board."
    if np.exp(most.drop) < AGAIN:
        return f"The band of times is {span(times)}. No single doubt widens it much."
    rest = [
        f"with {DOUBTS[doubt.name]} known exactly it would be {span(doubt)}"
        for doubt in plan.doubts
        if np.exp(doubt.drop) >= AGAIN
    ]
    little = [DOUBTS[doubt.name] for doubt in plan.doubts if np.exp(doubt.drop) < AGAIN]
    rest += [f"knowing {' or '.join(little)} exactly would hardly change it"] if little else []
    advice = "" if plan.refused else f" ({NARROWS[most.name]})"
    return (
        f"What widens the band of times most: **{DOUBTS[most.name]}**{advice}. The band is {span(times)}; "
        f"{'; '.join(rest)}. Doubts do not add up: the widest one rules."
    )


def helps(plan: Outcome) -> list[str]:
    """Which single changes were tried and lift the verdict, or that none does; nothing where none is needed."""
    given = plan.inputs
    law = ["No change of the mixture alters who may hold a bottle."] * (
        over_public(given.acid, given.peroxide, given.place) > 1
    )
    law += [
        "We took a bath 10 mm deep, as nobody said how large the tray is: say how large yours is."
    ] * (
        given.tray.open_area is None
        and any(reason.rule == "board not covered" for reason in plan.reasons)
    )
    law += ["For the amount: less of the same bath, or one board after another."] * any(
        reason.rule == "much bath" for reason in plan.reasons
    )
    if plan.verdict == "mix it" or (law and not plan.refused):
        return law
    if not plan.changes:
        tried = [words for lever, words in TRIED.items() if ladder(given, lever).size]
        return (
            [f"No single change that we tried is enough: {', '.join(tried)}.", *law]
            if tried
            else law
        )
    first, *more = (changed(change, given) for change in plan.changes)
    return [
        f"One change that helps: {first}.",
        *(f"Or: {said}." for said in more),
        "Enter it and read the verdict again.",
        *law,
    ]


def text(plan: Outcome, markdown: bool = False, cautions: bool = True) -> str:
    """The whole plan in words, verdict first.

    Parameters
    ----------
    plan : Outcome
        From `plan`.
    markdown : bool
        Keep the marks that make headings and figures bold.
    cautions : bool
        With the cautions for these bottles; a page that shows several plans of one set of bottles says them once.

    Returns
    -------
    str
        On a refused plan no volume stands anywhere in it.
    """
    before = [f"**{safety(plan.refused, cautions)}**"] * (plan.refused or not cautions)
    blocks = [
        f"**{HEADS[plan.verdict]}**",
        *before,
        RULES,
        asked(plan.inputs),
        bullets(why(plan)),
        "\n\n".join(helps(plan)),
    ]
    first = [caution for caution in plan.cautions if caution.first]
    if cautions:
        blocks += warned(first, OPENING[plan.refused], markdown)
    blocks += course(plan)
    if cautions:
        blocks += warned(
            (caution for caution in plan.cautions if not caution.first), "Cautions", markdown
        )
    else:
        blocks += [REMINDER] * (not plan.refused)
    said = "\n\n".join(block for block in blocks if block)
    return said if markdown else said.replace("**", "")


def why(plan: Outcome) -> list[str]:
    """Each reason of the verdict as a sentence with its source; nothing where there is none."""
    return [
        f"{reason.words[0].upper()}{reason.words[1:]}. ({reason.source})" for reason in plan.reasons
    ]


def course(plan: Outcome) -> list[str]:
    """What to pour and what it does, in the tray and afterwards, and how sure that is, under its headings.

    On a refused plan only what it would do, in the tray and afterwards: no volume stands in it.
    """
    blocks = (
        [
            "**What it would do: to learn from, not to try**",
            does(plan).replace("**", ""),
            standing(plan),
        ]
        if plan.refused
        else [
            "**What to pour, in this order**",
            pours(plan),
            tray(plan.inputs),
            "**In the tray**",
            f"{does(plan)} {looks(plan)}",
            "**Afterwards**",
            later(plan),
        ]
    )
    blocks += ["**How sure is this?**", widens(plan)]
    if plan.outside:
        blocks.append(
            f"The model was not checked this far: {'; '.join(map(unchecked, plan.outside))}."
        )
    return blocks


def unchecked(warning: RangeWarning) -> str:
    """A RangeWarning in words and in the lab's units: "temperature of 98 °C when left standing, checked to 60 °C"."""
    scale, less, unit = LAB_UNITS.get(warning.unit, (1.0, 0.0, f" {warning.unit}".rstrip()))
    value, low, high = ((end - less) * scale for end in (warning.value, warning.low, warning.high))
    limit = f"to {figures(high)}" if value > high else f"from {figures(low)}"
    return f"{warning.quantity} of {figures(value)}{unit}{READERS.get(warning.reader, '')}, checked {limit}{unit}"


def frame(plan: Outcome) -> pandas.DataFrame:
    """The plan as a table of numbers.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    DataFrame
        Low end, middle and high end [unit in the row's name]; `attrs["verdict"]` holds the verdict.
    """
    import pandas

    bands = plan.bands
    rows: dict[str, list[float]] = {}
    for k, stage in enumerate(plan.stages, 1):
        rows[f"pour {k}: {stage.what} (mL)"] = [np.nan, stage.volume / mL, np.nan]
        if stage.temperature is not None:
            rows[f"after pour {k}: temperature (°C)"] = ends(stage.temperature, 1, ZERO_C)
    rows |= {
        "acid in the mixture (mol/L)": ends(bands["acid"], 1 / L),
        "peroxide in the mixture (% by weight)": ends(bands["peroxide"], 0.01),
        "temperature after mixing (°C)": ends(bands["mixing_temperature"], 1, ZERO_C),
        "reserve: times what this copper needs": ends(bands["reserve"]),
        "time until the board is clear (min)": ends(bands["time_to_clear"], minute),
        "baths that never clear (of 100)": [
            np.nan,
            100 * float(bands["time_to_clear"].never),
            np.nan,
        ],
        "reached while etching (°C)": ends(bands["etching_peak"], 1, ZERO_C),
        "reached in the hour after (°C)": ends(bands["standing_peak"], 1, ZERO_C),
        "oxygen in the hour after (times its own volume)": ends(bands["oxygen"]),
        "peroxide left after that hour (%)": ends(bands["peroxide_left"], 0.01),
    }
    if "peroxide_left_day" in bands:
        rows["peroxide left after a day (%)"] = ends(bands["peroxide_left_day"], 0.01)
    made = pandas.DataFrame.from_dict(
        rows, orient="index", columns=["low end", "middle", "high end"]
    )
    made.attrs["verdict"] = plan.verdict
    return made


def ends(band: Band, scale: float = 1.0, less: float = 0.0) -> list[float]:
    """Low end, middle and high end of a band in another unit: less an offset, over a scale [own unit]."""
    return [(float(v) - less) / scale for v in (band.low, band.middle, band.high)]
