"""What page 05 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from ...common.number_words import degrees, figures
from ...common.units import mol_per_L, to_celsius
from .numbers import (
    FLAT,
    HOT_WATER,
    JAR,
    KITCHEN,
    KITCHEN_AIR,
    KITCHEN_TIME,
    MILD,
    WEAK,
    Hour,
    by_hand,
    degrees_each,
    hour_after,
    kitchen,
    slow_decay,
    stop,
    times_the_etching,
)
from .words import degrees_words, ends, per_minute, vessel_words, whole


def read_it(hour: Hour | None = None, depth: float = JAR) -> str:
    """Say why it warms and how to read the panel, in Markdown.

    Parameters
    ----------
    hour : Hour, optional
        The bath of the panel; the mild one unless given.
    depth : float
        How deep it lies [mm].
    """
    hour = hour_after(MILD) if hour is None else hour
    return f"{why(hour, depth)}\n\n{ceiling_by_hand(hour)}\n\n{how_sure(hour)}"


def why(hour: Hour, depth: float) -> str:
    """Say why a used bath warms itself, or not, at a depth [mm], in Markdown."""
    out = float(hour.out.middle)
    lost = [per_minute(hour.lost_at(out, each)) for each in (depth, FLAT)]
    here = f"The flat tray takes {lost[1]} away" + (
        f"; {vessel_words(depth)} the bath loses {lost[0]}." if depth != FLAT else "."
    )
    return (
        "**Made all through the liquid, lost through its surface.** After the board peroxide goes "
        "on falling apart at the dissolved copper: 2 H₂O₂ → 2 H₂O + O₂. At "
        f"{degrees_words(out)} that warms the middle bath by {per_minute(hour.made_at(out))}. "
        f"{here} Where made lies above lost (shaded) the bath warms, and makes still more. "
        "The blue curve is the first moment: it sinks as peroxide goes. "
        f"{lead(hour, depth)}"
    )


def lead(hour: Hour, depth: float) -> str:
    """Say how long made stays above lost, at a depth [mm] and in the flat tray."""
    tray, here = (100 * hour.over_at(each) for each in (FLAT, depth))
    words = f"In the flat tray it is under lost again once {tray:.0f} % of it is gone"
    if depth == FLAT:
        return f"{words}: soon."
    if here == 0:
        return f"{words}; {vessel_words(depth)} it is so from the first."
    return f"{words}, {vessel_words(depth)} only after {here:.0f} %."


def ceiling_by_hand(hour: Hour) -> str:
    """Reckon how warm a bath can get at the most, each step from printed numbers."""
    hand = by_hand(hour.bottles)
    return (
        f"**By hand, the ceiling.** The middle bath still holds {hand.left:.2f} mol/L of peroxide "
        "(*mol/L* counts particles in a litre). In each litre:\n\n"
        f"- Heat it can make: {hand.left:.2f} mol × {hand.each:.1f} kJ each = {hand.heat:.0f} kJ.\n"
        f"- One degree takes {hand.warms:.2f} kJ: {hand.heat:.0f} ÷ {hand.warms:.2f} = "
        f"{hand.rise:.0f} °C.\n"
        f"- From {hand.start:.0f} °C: {hand.start:.0f} + {hand.rise:.0f} = {hand.end:.0f} °C, by "
        f"the package {whole(hour.highest)}. Peroxide alone gets it no warmer, in any vessel.\n\n"
        f"Each mol/L left is worth {degrees_each(hour.bottles):.0f} °C. All of it makes "
        f"{times_the_etching(hour.bottles):.0f} times the heat that etching the board made."
    )


def how_sure(hour: Hour) -> str:
    """Say how sure this is and where the numbers come from, in Markdown."""
    slow = slow_decay(hour.bottles)
    return (
        f"**No flat tray is safe by this:** {hour.too_warm(FLAT)} of {hour.warmest.shape[-1]} "
        f"exceed {degrees_words(stop())}. Stay with it.\n\n"
        "**How sure.** How peroxide falls apart was measured in sulfate at 67 °C (Mlasi "
        "2015). For chloride, and cooler, it is a guess a thousandfold wide. For heat the page "
        "counts its quicker half only, as the planner does: not knowing must not make a bath look "
        "cooler. Slow ones counted too, the middle jar would only cool; one in ten still gets to "
        f"{degrees_words(float(slow.high))}. Slow is not safe: then peroxide stays for days. Heats "
        "and loss from water: published (NBS tables; McAdams, Shah). Assumed: the walls, more than "
        "half of the jar's loss."
    )


def read_weak(depth: float = JAR) -> str:
    """Say how to read the panel of the weak bath at a depth [mm], in Markdown."""
    hour = hour_after(WEAK)
    out = float(hour.out.middle)
    here = f"; {vessel_words(depth)} it loses {per_minute(hour.lost_at(out, depth))}"
    return (
        f"**What is left decides first.** {figures(float(hour.left.middle) / mol_per_L)} mol/L of "
        f"peroxide is left: even with no loss it could not exceed "
        f"{degrees_words(hour.highest)}. At {degrees_words(out)} it is warmed by "
        f"{per_minute(hour.made_at(out))}. The flat tray takes "
        f"{per_minute(hour.lost_at(out, FLAT))} away{'' if depth == FLAT else here}. So by the "
        "model, the board left in to the end, it only cools. It still gives off gas: never in a "
        "jar, never closed."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nobody measures a used bath.
    """
    at_the_bench = "" if school else f"{at_the_tray()} "
    return (
        "## What would prove it wrong\n\n"
        f"{in_the_kitchen()}\n\n{at_the_bench}Never try the jar.\n\n"
        "## What you can now say\n\n"
        "- Heat is made all through the liquid, and lost through its surface.\n"
        "- Deep, a used bath can warm itself, the more the more peroxide is left.\n"
        "- It stays open in its flat tray, watched until it is back at air temperature.\n\nNext: "
        "[weak peroxide](06_weak_peroxide.ipynb); for "
        "your own bath [the planner](00_plan_a_bath.ipynb)."
    )


def in_the_kitchen() -> str:
    """Say where hot water ends in a dish and in a glass, in Markdown."""
    dish, glass = kitchen("dish"), kitchen("glass")
    (wide, shallow), (slim, deep) = KITCHEN["dish"], KITCHEN["glass"]
    return (
        "Hot water scalds and cracks cold glass: an adult pours. Water alone, with kitchen things "
        "only: a dish and a straight glass, warmed first. Pour in "
        f"water of {float(to_celsius(HOT_WATER)):.0f} °C: {shallow} mm deep in the dish ({wide} cm "
        f"square), {deep} mm in the glass ({slim} cm square). Room "
        f"{float(to_celsius(KITCHEN_AIR)):.0f} °C. After {KITCHEN_TIME / 60:.0f} minutes the page "
        f"says {whole(float(dish.middle))} °C in the dish ({degrees(dish)}) and "
        f"{whole(float(glass.middle))} °C in the glass ({degrees(glass)}). Far outside that, "
        "its heat loss is wrong. Not tried by us."
    )


def at_the_tray() -> str:
    """Say what a thermometer in the flat tray should show, in Markdown."""
    hour = hour_after(MILD)
    return (
        "If [the planner](00_plan_a_bath.ipynb) and [the cautions](reference/cautions.md) allow "
        "your bath: leave a thermometer without metal in the flat tray for the hour "
        f"after. The page says {ends(hour, FLAT)}; {degrees_words(stop())} is the stop, and no "
        "forecast."
    )
