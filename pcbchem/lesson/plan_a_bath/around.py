"""What a plan's bath gives to the air, what it leaves, and what comes before and after it.

A line each, with the page that explains. A number here is never a permission: where to work stands
before each ppm, and where it goes after each volume.
A refused plan has no number at all, in words that are no milder; a plan for a class has no volume.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

import numpy as np

from ...bench.air import PPM, bath_source, breathe
from ...bench.hazards.words import NO_FIGURE
from ...bench.plan.planning import Plan
from ...bench.plan.pours import strongest_of
from ...bench.plan.steps import ends, measured, outer, quantity
from ...bench.waste.label import label_of
from ...common.band import Band
from ...common.limits import InputError, collecting_warnings
from ...common.number_words import low_to_high
from ...common.units import minute, percent
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import ROOM
from ..bath.plan_words import BATH_AFTER, BATH_BEFORE
from ..pages import AIR_PAGE, DEVELOPER_PAGE, WASTE_PAGE

OUTDOORS, QUARTER = "open air", 15 * minute
"""Where the vapour is worked out, since nobody may work in a room, and for how long [s]: outdoors
it gathers nowhere, and the time makes no difference."""
WHERE = "Work stays outdoors or in a working fume cupboard, whatever the figures."
"""Stands before whatever is said of the vapour."""
NOT_WORKED_OUT = (
    "Vapour: this bath may get too warm for our figures, and then gives far more. Peroxide has no "
    "smell."
)
"""Of a bath that gets warmer than vapour was checked for."""
MORE = "Droplets may outweigh both; downwind and low down it can be ten times that and more."
"""Of every bath: its own fizz throws droplets, and half a metre is a mean over all sides."""
LEAST = 1e-5
"""Vapour below this is not told closer [ppm]."""
NOBODY_MIXES = (
    "No figure of this bath's vapour stands here: nobody mixes it. The stronger, hotter or older a "
    "bath is, the more chlorine comes."
)
"""Of a refused plan, which must not look milder than another for want of a number."""
WEAK_ACID = percent(11)
"""Strong end of a bottle that is sold as 10 %, whose air is less than the tray's [kg/kg]."""
BOTTLE = (
    "Opening or spilling your bottle of acid is in no figure here, and matters more than the tray"
)
"""Of stronger acid."""
OPEN = "Stands open, never closed up, until a strip has told"
"""Of the rest: it gives off gas."""
SITE = "Then to your hazardous-waste site"
"""Follows whatever is said of the waste."""
BESIDE = f"{BATH_BEFORE} {BATH_AFTER} Why: [page 11]({DEVELOPER_PAGE})."
"""Of the baths before and after, as the card has it: for a plan that may be mixed, no other."""


def around(plan: Plan) -> list[str]:
    """Say what the bath gives to the air, what it leaves [ppm, mL, g/L], and which baths adjoin it.

    Parameters
    ----------
    plan : Plan
        Refused or not.

    Returns
    -------
    list of str
        Three paragraphs of Markdown; of a refused plan one, without a number.
    """
    if plan.refused:
        return [f"{NO_FIGURE} {WHERE} {NOBODY_MIXES} {onward(plan)}"]
    return [f"{NO_FIGURE} {vapour_line(plan)}", waste_line(plan), BESIDE]


def onward(plan: Plan) -> str:
    """Say what of strong acid matters more than the bath, and where to read of it."""
    if strongest_of(plan.inputs.acid) > WEAK_ACID:
        return f"{BOTTLE}: [page 09]({AIR_PAGE})."
    return f"Why: [page 09]({AIR_PAGE})."


def vapour_line(plan: Plan) -> str:
    """Say how much acid and peroxide are breathed outdoors [ppm], and where work stays.

    Raises
    ------
    ValueError
        A refused plan: nobody mixes this.
    """
    asked = plan.inputs.tray.T_air
    # where nobody said it is as warm as a room
    T_air = ROOM if asked is None else float(np.asarray(asked))
    # what was not checked so far is said with the plan
    with collecting_warnings():
        try:
            source = bath_source(plan)
            airs = [
                breathe(source, OUTDOORS, QUARTER, gas=gas, T_air=T_air) for gas in ("HCl", "H2O2")
            ]
        except InputError:
            return f"{WHERE} {NOT_WORKED_OUT} {MORE} {onward(plan)}"
    acid, peroxide = (parts_per_million(air.band("near")) for air in airs)
    return (
        f"{WHERE} Vapour alone, outdoors, half a metre from the tray: acid {acid}; "
        f"peroxide, which has no smell, {peroxide}. {MORE} {onward(plan)}"
    )


def parts_per_million(band: Band) -> str:
    """Write low to high end of a share of the air [mol/mol] in ppm, to one figure, outwards.

    Examples
    --------
    >>> print(parts_per_million(Band.of([6.2e-11, 3.4e-10], 2)))
    0.00006 to 0.0004 ppm
    """
    low, _, high = ends(band, PPM)
    if high < LEAST:
        return f"below {LEAST:.5f} ppm"
    # a band that begins below what is told is told from there on
    low, high = one_figure(max(low, LEAST), ROUND_FLOOR), one_figure(high, ROUND_CEILING)
    return f"{low_to_high((low, high), digits=1)} ppm"


def one_figure(value: float, rounding: str) -> float:
    """Round a number above 0 [any unit] to one figure, up or down as the decimal module says.

    Examples
    --------
    >>> print(one_figure(0.0031, ROUND_CEILING), one_figure(0.0039, ROUND_FLOOR))
    0.004 0.003
    """
    # what is 3 but for its last bit is 3
    exact = Decimal(f"{value:.6g}")
    return float(exact.quantize(Decimal((0, (1,), exact.adjusted())), rounding))


def waste_line(plan: Plan) -> str:
    """Say what is left when the board is out [mL, g/L], how it is called, and where it goes.

    Raises
    ------
    ValueError
        A refused plan: nobody mixes this.
    """
    tub = label_of(plan)
    copper = outer(plan.bands["copper_used"], 1 / MOLAR_MASS["Cu"])
    bath = "the bath"
    if not plan.school:
        bath = bath_words(plan)
    return (
        f"Waste: {bath}, {copper} g/L of copper; **{tub.head}**. {OPEN}. {SITE}: "
        f"[page 10]({WASTE_PAGE})."
    )


def bath_words(plan: Plan) -> str:
    """Write how much bath is left, as much as was poured [mL]; in the US in fluid ounces too."""
    millilitres = measured([stage.volume for stage in plan.stages])
    return quantity(sum(millilitres), plan.inputs).replace("**", "")
