"""A plan in words and as a table: verdict first, amounts only where they may be poured, lab units.

`text` puts a plan together from blocks, one function each, so that a page can show some of them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ...common.band import Band
from ...common.extras import extra
from ...common.limits import RangeWarning
from ...common.number_words import (
    apart,
    capitalised,
    clock,
    degrees,
    figures,
    low_to_high,
    per_cm2,
    ratio_of,
    span,
)
from ...common.units import ZERO_C, L, minute, mL
from ...matter.properties import MOLAR_MASS
from ..bottle.bottle import Bottle
from ..hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG, LAYERS
from ..hazards.verdicts import BOARD_NOT_COVERED, MUCH_BATH
from ..hazards.words import (
    CAUTIONS_PAGE,
    MIX_ANEW,
    NO_FIGURE,
    REMINDER,
    RULES,
    bullets,
    head,
    layer,
    look_up,
    safety,
)
from .changes import LEVERS, Change, ladder
from .inputs import Inputs, UsedBath
from .outcome import Outcome
from .steps import bath_vessel, ends, hour_peak, later, looks, pours, standing, tray

if TYPE_CHECKING:
    import pandas

TRIED = {
    "water": "more water",
    "bath": "more bath for the copper",
    "start": "a colder start",
    "acid": "less acid",
}
"""Each of `LEVERS` as a thing that was tried."""
DOUBTS = {
    "acid": "your acid's strength",
    "peroxide": "your peroxide's strength",
    "used bath": "the used bath",
    "model": "the model's own numbers",
}
NARROWS = {
    "acid": "measure it, or etch an offcut first",
    "peroxide": "measure it, or etch an offcut first",
    "used bath": "mix a fresh one: no offcut tells of a used bath",
    "model": "etch an offcut first: same tray, same hand",
}
"""Each doubt by name, and what makes it smaller."""
OFFCUT_PLACE = f"its cautions: {CAUTIONS_PAGE}"
"""Stands wherever the words of a plan offer an offcut."""
READERS = {"etch": " while etching", "stand": " when left standing"}
"""What read a quantity outside its range, as a clause."""
LAB_UNITS = {"K": (1.0, ZERO_C, " °C"), "mol/m³": (L, 0.0, " mol/L")}
"""For people: less the second number, times the first, and the word for the unit."""
AGAIN = 1.05
"""A doubt that narrows the band by less than this factor [-] is not worth a word."""
LITTLE_COPPER = (0.02, 1e-4)
"""A board with less of it bare than this share [-] or this area [m²] may be a mistake."""


def strengths(bottle: Bottle) -> str:
    """Write a bottle's strength [% by weight]: "9 to 11 %", or one figure."""
    return f"{low_to_high((bottle.low, bottle.high), 100)} %"


def asked(inputs: Inputs, school: bool = False) -> str:
    """Write the inputs [% by weight, cm², g, mol/L]: bottles, board and used bath.

    No amount of liquid stands in it, and for a class no mass of copper either.
    """
    board = inputs.board
    bare, whole = float(board.copper_area), float(board.footprint)
    grams = float(board.copper) * MOLAR_MASS["Cu"] * 1000  # of the board: nothing to pour
    both = "on both sides " if float(board.back_area) else ""
    sentence = (
        f"{_bottles(inputs)}a board of {figures(whole * 1e4, 3)} cm², "
        f"{both}{figures(bare * 1e4, 3)} cm² bare{_back(inputs)}"
    )
    if not school:
        sentence += f": {figures(grams)} g of copper"
    sentence += "."
    # asked, not refused: such boards exist, and so do slips of the keyboard
    least_share, least_area = LITTLE_COPPER
    if bare < max(least_share * whole, least_area):
        sentence += " **Is that the board you mean?**"
    if inputs.used_bath is not None:
        sentence += f" {used_bath_words(inputs.used_bath)}"
    return capitalised(sentence)


def _bottles(inputs: Inputs) -> str:
    """Write which bottles are opened, and their strengths, before the rest of a sentence."""
    _, acid, peroxide = inputs.parts
    # a bottle that stays shut has no part in this plan
    bottles = []
    if inputs.fresh and acid:
        bottles.append(f"acid of {strengths(inputs.acid)}")
    if inputs.fresh and peroxide:
        bottles.append(f"peroxide of {strengths(inputs.peroxide)}")
    if not bottles:
        return ""
    return f"{' and '.join(bottles)} by weight; "


def _back(inputs: Inputs) -> str:
    """Write how much of the bare copper is on the back [cm²]; "" where none is."""
    back = float(inputs.board.back_area)
    if not back:
        return ""
    words = f", {figures(back * 1e4, 3)} cm² of it on the back (counted like the front"
    # the side that looks up is free; what lies on the bottom gets little fresh bath
    if inputs.tray.facing == "up":
        words += ", but it lies on the tray and clears later"
    return f"{words})"


def used_bath_words(used_bath: UsedBath) -> str:
    """Write what a used bath holds [%, g/L, mol/L]."""
    return (
        f"{figures(100 * used_bath.share, 3)} % of it is a used bath: "
        f"{low_to_high(used_bath.copper, MOLAR_MASS['Cu'])} g/L of copper, "
        f"{low_to_high(used_bath.acid, L)} mol/L of acid, "
        f"{low_to_high(used_bath.peroxide, L)} mol/L of peroxide."
    )


def changed(change: Change, inputs: Inputs, school: bool = False) -> str:
    """Write one change that was tried [parts, mL per cm², °C]: no volume.

    For a class it is not said how much more bath would do: that too is an amount, and to be found
    by trying.
    """
    now = inputs.parts
    if change.lever == "water":
        # more than three figures where 2.9996 would read as the 3 that helps
        after, before = apart(change.inputs.parts[0], now[0], 3)
        rest = " : ".join(figures(part, 3) for part in now[1:])
        words = (
            f"more water: {after} : {rest} (water : acid : peroxide) instead of {before} : {rest}. "
            f"As much of it in all, or more water. With {after} parts of it"
        )
    elif change.lever == "acid":
        # parts as the present plan counts them: those of the new inputs may be scaled
        after, before = apart(change.value, now[1], 3)
        water, peroxide = (figures(part, 3) for part in (now[0], now[2]))
        words = (
            f"less acid: {water} : {after} : {peroxide} (water : acid : peroxide) instead of "
            f"{water} : {before} : {peroxide}. As much of it in all, or less acid. "
            f"With {after} parts of it"
        )
    elif change.lever == "bath" and school:
        words = "more of the same bath for the copper. With enough of it"
    elif change.lever == "bath":
        to, present = per_cm2(change.inputs.bath_per_area), per_cm2(inputs.bath_per_area)
        after, before = apart(to, present, 3)
        words = (
            f"more of the same bath: {after} mL per cm² of bare copper instead of {before}, "
            f"or more of it. With {after} mL per cm²"
        )
    else:
        after, before = apart(change.value - ZERO_C, inputs.T_bottles - ZERO_C)
        # a used bath is taken to be as cold as what is poured to it
        what = "bottles and water" if inputs.used_bath is None else "bottles, water and used bath"
        words = f"colder {what}: {after} °C instead of {before} °C, or colder. At {after} °C"
    verdict = head(change.verdict).rstrip(".:").lower()
    return f"{words} the verdict is: {verdict}"


def does(plan: Outcome) -> str:
    """Write time, and warmth while etching and in the hour after [s, °C]."""
    return f"{_clears(plan.bands['time_to_clear'])} {warmth(plan)}"


def _clears(times: Band) -> str:
    """Write when the board is clear [s], and how many baths never clear it."""
    draws = times.values.shape[-1]
    count = round(float(times.never) * draws)
    never = f"{count} of {draws} plausible baths never clear this board."
    # fewer than 1 in 10 never clear: the band has two ends, and the few are counted beside it
    if np.isfinite(times.high):
        clears = (
            f"8 of 10 plausible baths clear this board in **{span(times)}**; "
            f"the middle one takes {clock(times.middle)}."
        )
        if count:
            return f"{clears} {never}"
        return clears
    # more than 1 in 10 never clear, and as many do: only the quick end is a time
    if np.isfinite(times.low):
        return f"{never} 1 in 10 has cleared it by {clock(times.low)}."
    return never


def warmth(plan: Outcome) -> str:
    """Write how warm the baths get with the board in them and after it [°C].

    Never the one without the other.
    """
    peak, after = plan.bands["etching_peak"], hour_peak(plan)
    return f"While etching they reach {degrees(peak)}; in the hour after, {degrees(after)}."


def one_line(plan: Outcome) -> str:
    """Write verdict and first rule, parts, times and warmth in one line [s, °C], and no amount."""
    verdict = plan.verdict
    if plan.reasons:
        verdict += f": {plan.reasons[0].rule}"
    peak, day = plan.bands["etching_peak"], plan.bands["standing_peak"]
    return (
        f"{verdict}; {ratio_of(plan.inputs.parts)} (water : acid : peroxide); "
        f"{clears_in(plan.bands['time_to_clear'])}; {degrees(peak)} while etching, "
        f"{degrees(day)} in the day after"
    )


def clears_in(times: Band) -> str:
    """Write in few words when 8 of 10 baths are clear [s], or how many never are.

    Examples
    --------
    >>> print(clears_in(Band.of([180.0, 300.0], 2)), "|", clears_in(Band.of([60.0, np.inf], 2)))
    8 of 10 clear in 3.0 to 5.0 min | 50 of 100 never clear
    """
    if np.isfinite(times.high):
        return f"8 of 10 clear in {span(times)}"
    return f"{100 * float(times.never):.0f} of 100 never clear"


def widens(plan: Outcome) -> str:
    """Write what widens the band of times most, and what each doubt alone would leave [s]."""
    # the model is always in doubt: there is a widest
    times, widest = plan.bands["time_to_clear"], plan.doubts[0]
    if not np.isfinite(times.low):
        return "No doubt matters to a bath that never clears the board."
    if np.exp(widest.drop) < AGAIN:
        return f"The band of times is {span(times)}. No single doubt widens it much."
    advice = ""
    # nobody etches an offcut in a refused bath, nor a class that is given no amounts
    if not (plan.refused or plan.school):
        advice = f" {capitalised(NARROWS[widest.name])}; {OFFCUT_PLACE}."
    return (
        f"What widens the times most: **{DOUBTS[widest.name]}**. "
        f"With that known: {span(widest.times)}, not {span(times)}.{advice}"
    )


def helps(plan: Outcome) -> list[str]:
    """Write which single changes were tried and lift the verdict, or that none does.

    Returns
    -------
    list of str
        Paragraphs; nothing where no change is needed.
    """
    beside = _beside_changes(plan)
    if plan.verdict == "mix it":
        return beside
    if plan.changes:
        first, *others = plan.changes
        again = "Enter it and read the verdict again."
        if plan.school:
            # more bath has no number there to be entered
            again = "Try it and read the verdict again."
        if any(change.lever == "water" for change in plan.changes):
            again = f"{MIX_ANEW} {again}"
        return [
            f"One change that helps: {changed(first, plan.inputs, plan.school)}.",
            *(f"Or: {changed(other, plan.inputs, plan.school)}." for other in others),
            again,
            *beside,
        ]
    # a care may be about a bottle, which no change of the mixture alters
    if not plan.refused:
        return beside
    # a lever at its limit was not tried
    tried = [TRIED[lever] for lever in LEVERS if ladder(plan.inputs, lever).size]
    if not tried:
        return beside
    return [f"No single change that we tried is enough: {', '.join(tried)}.", *beside]


def _beside_changes(plan: Outcome) -> list[str]:
    """Write what no change of the mixture alters: the tray, the amount."""
    inputs = plan.inputs
    rules = {reason.rule for reason in plan.reasons}
    words = []
    if inputs.tray.open_area is None and BOARD_NOT_COVERED in rules:
        words.append(
            f"We took a bath 10 mm deep, as nobody said how large the {bath_vessel(inputs)} is: "
            "say how large yours is."
        )
    if MUCH_BATH in rules:
        words.append("For the amount: less of the same bath, or one board after another.")
    return words


def text(plan: Outcome, markdown: bool = False, cautions: bool = True) -> str:
    """Write the whole plan, verdict first.

    Parameters
    ----------
    plan : Outcome
        From `plan`.
    markdown : bool
        Keep the marks that make headings and figures bold, and fold what is to be looked up.
    cautions : bool
        With the cautions for these bottles; a page that shows several plans of one set of bottles
        says them once.

    Returns
    -------
    str
        On a refused plan no volume stands anywhere in it.
    """
    blocks = [f"**{head(plan.verdict, plan.harmful)}**"]
    # who reads a refusal, or no cautions, must meet the warning before anything else
    if plan.refused or not cautions:
        blocks.append(f"**{safety(plan.refused, cautions, plan.harmful)}**")
    blocks += [
        *(line.words for line in plan.law),
        bullets(why(plan)),
        f"{NO_FIGURE} {RULES}",
        asked(plan.inputs, plan.school),
        "\n\n".join(helps(plan)),
    ]
    if cautions:  # before the course, which holds the amounts
        blocks += layer(plan.cautions, BEFORE, plan.refused)
    blocks += course(plan, cautions)
    if cautions:
        blocks += layer(plan.cautions, GOES_WRONG)
    elif not plan.refused:
        blocks.append(REMINDER)
    blocks += sure(plan)
    if cautions:
        blocks += look_up(plan.cautions, markdown, plan.refused)
    words = "\n\n".join(block for block in blocks if block)
    if not markdown:
        words = words.replace("**", "")
    return words


def why(plan: Outcome) -> list[str]:
    """Write each reason of the verdict as a sentence with its source; nothing if there is none."""
    return [f"{capitalised(reason.words)}. ({reason.source})" for reason in plan.reasons]


def course(plan: Outcome, cautions: bool = False) -> list[str]:
    """Write what to pour and what it does, in the tray and afterwards.

    Parameters
    ----------
    plan : Outcome
        From `plan`.
    cautions : bool
        With the layers of cautions for the tray and for afterwards.

    Returns
    -------
    list of str
        Paragraphs under their headings. On a refused plan only what it would do, in the tray and
        afterwards: no volume stands in it.
    """
    if plan.refused:
        return [
            "**What it would do: to learn from, not to try**",
            does(plan).replace("**", ""),  # nothing in it is to stand out
            standing(plan),
        ]
    at_the_tray: list[str] = []
    afterwards: list[str] = []
    if cautions:
        at_the_tray = layer(plan.cautions, AT_THE_TRAY)
        # what the bath does stands under the same heading, before what to do about it
        afterwards = layer(plan.cautions, AFTERWARDS)[1:]
    return [
        "**What to pour, in this order**",
        pours(plan),
        tray(plan.inputs, plan.school),
        *at_the_tray,
        "**What it does**",
        f"{does(plan)} {looks(plan)}",
        f"**{LAYERS[AFTERWARDS]}**",
        later(plan),
        *afterwards,
    ]


def sure(plan: Outcome) -> list[str]:
    """Write how sure the times are, and what the model was not checked for."""
    blocks = ["**How sure is this?**", widens(plan)]
    if plan.outside:
        blocks.append("The model was not checked this far:")
        blocks.append(bullets(unchecked(warning) for warning in plan.outside))
    return blocks


def unchecked(warning: RangeWarning) -> str:
    """Write what is outside the range we checked, in the lab's units.

    Examples
    --------
    >>> warning = RangeWarning("stand", "temperature", 371.15, 273.15, 333.15, "K")
    >>> print(unchecked(warning))
    temperature of 98 °C when left standing, checked to 60 °C
    """
    scale, offset, unit = 1.0, 0.0, f" {warning.unit}".rstrip()  # no unit, no space
    if warning.unit in LAB_UNITS:
        scale, offset, unit = LAB_UNITS[warning.unit]
    value = (warning.value - offset) * scale
    low, high = (warning.low - offset) * scale, (warning.high - offset) * scale
    limit = f"from {figures(low)}"
    if value > high:
        limit = f"to {figures(high)}"
    reader = READERS.get(warning.reader, "")
    return f"{warning.quantity} of {figures(value)}{unit}{reader}, checked {limit}{unit}"


def frame(plan: Outcome) -> pandas.DataFrame:
    """Put the plan into a table of numbers.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    DataFrame
        One quantity a row, low end, middle and high end [unit in the row's name];
        `attrs["verdict"]` holds the verdict.
    """
    with extra("lab"):
        import pandas  # here, since it takes longer to load than a plan to make

    table = pandas.DataFrame.from_dict(numbers(plan), orient="index")
    table.attrs["verdict"] = plan.verdict
    return table


def numbers(plan: Outcome) -> dict[str, dict[str, float]]:
    """List the numbers of a plan, a row a quantity, without pandas: what a page shows.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    dict
        Low end, middle and high end by the quantity's name [unit in that name].
    """
    bands = plan.bands
    # what is one number stands in the middle, without ends
    rows: dict[str, list[float]] = {}
    for number, stage in enumerate(plan.stages, 1):
        if not plan.school:
            rows[f"pour {number}: {stage.what} (mL)"] = [np.nan, stage.volume / mL, np.nan]
        if stage.temperature is not None:
            name = f"after pour {number}: temperature (°C)"
            rows[name] = ends(stage.temperature, 1, ZERO_C)
    times = bands["time_to_clear"]
    rows |= {
        "acid in the mixture (mol/L)": ends(bands["acid"], 1 / L),
        "peroxide in the mixture (% by weight)": ends(bands["peroxide"], 0.01),
        "temperature after mixing (°C)": ends(bands["mixing_temperature"], 1, ZERO_C),
        "reserve: times what this copper needs": ends(bands["reserve"]),
        "time until the board is clear (min)": ends(times, minute),
        "baths that never clear (of 100)": [np.nan, 100 * float(times.never), np.nan],
        "reached while etching (°C)": ends(bands["etching_peak"], 1, ZERO_C),
        "reached in the hour after (°C)": ends(hour_peak(plan), 1, ZERO_C),
        "reached in the day after (°C)": ends(bands["standing_peak"], 1, ZERO_C),
        "oxygen in the hour after (times its own volume)": ends(bands["oxygen"]),
    }
    columns = ("low end", "middle", "high end")
    return {name: dict(zip(columns, row, strict=True)) for name, row in rows.items()}
