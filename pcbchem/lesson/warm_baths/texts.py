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
    return f"{why(hour, depth)}\n\n{ceiling_by_hand()}\n\n{how_sure()}"


def why(hour: Hour, depth: float) -> str:
    """Say why a used bath warms itself, or not, at a depth [mm], in Markdown."""
    out = float(hour.out.middle)
    made, lost, tray = (
        per_minute(pace)
        for pace in (hour.made_at(out), hour.lost_at(out, depth), hour.lost_at(out, FLAT))
    )
    here = f"The flat tray takes {tray} away" + (
        f"; {vessel_words(depth)} the bath loses {lost}." if depth != FLAT else "."
    )
    return (
        "**Made all through the liquid, lost through its surface.** After the board peroxide goes "
        "on falling apart at the dissolved copper: 2 H₂O₂ → 2 H₂O + O₂. Nobody knows every number "
        f"of a bath, so the page tries {hour.warmest.shape[-1]} *plausible baths*. At "
        f"{degrees_words(out)} the middle one is warmed by {made} that way. {here} Where made lies "
        "above lost (shaded) the bath warms, and then makes still more. It ends as peroxide runs "
        "short: the blue curve is that of the first moment. With half of the peroxide gone it is "
        "half as high."
    )


def ceiling_by_hand() -> str:
    """Reckon how warm the mild bath can get at the most, each step from printed numbers."""
    hand = by_hand()
    return (
        f"**By hand, the ceiling.** The mild bath still holds {hand.left:.2f} mol/L of peroxide "
        "(*mol/L* counts particles in a litre). In each litre:\n\n"
        f"- Heat it can make: {hand.left:.2f} × {hand.each:.1f} = {hand.heat:.0f} kJ.\n"
        f"- One degree takes {hand.warms:.2f} kJ: {hand.heat:.0f} ÷ {hand.warms:.2f} = "
        f"{hand.rise:.0f} °C.\n"
        f"- From {hand.start:.0f} °C: {hand.start:.0f} + {hand.rise:.0f} = {hand.end:.0f} °C. "
        f"The package says {whole(hour_after(MILD).highest)} °C. Peroxide alone gets this bath no "
        "warmer, in any vessel.\n\n"
        f"So each mol/L left is worth {degrees_each():.0f} °C. It is {times_the_etching():.0f} "
        "times the heat of etching the board."
    )


def how_sure() -> str:
    """Say how sure this is and where the numbers come from, in Markdown."""
    hour, slow = hour_after(MILD), slow_decay()
    return (
        "**Where the numbers come from.** Heats: published (NBS tables). Loss from water: "
        "published (McAdams, Shah), halved to doubled; walls are assumed. How fast peroxide falls "
        "apart was measured in sulfate at 67 °C (Mlasi 2015). For chloride nobody has: a guess, "
        "a thousandfold wide. The page, as the planner, reads heat from its quicker half: not "
        "knowing must not make a bath look cooler. By all of it the middle jar would get to "
        f"{whole(float(slow.middle))} °C, one in ten to {whole(float(slow.high))}; and slow means "
        f"that peroxide stays for days. **No flat tray is safe by this:** {hour.too_warm(FLAT)} of "
        f"{hour.warmest.shape[-1]} exceed {degrees_words(stop())} there. Stay with it."
    )


def read_weak() -> str:
    """Say how to read the panel of the weak bath, in Markdown."""
    hour = hour_after(WEAK)
    out = float(hour.out.middle)
    return (
        f"**What is left decides first.** {figures(float(hour.left.middle) / mol_per_L)} mol/L of "
        f"peroxide is left: even with no loss it could not exceed "
        f"{degrees_words(hour.highest)}. At {degrees_words(out)} it is warmed by "
        f"{per_minute(hour.made_at(out))}; the jar takes {per_minute(hour.lost_at(out, JAR))}, the "
        f"flat tray {per_minute(hour.lost_at(out, FLAT))}. So it cools in both. It is used bath "
        "all the same: open, watched, and waste."
    )


def say_now(school: bool = False) -> str:
    """Say what would prove the page wrong, and what a learner can say at the end, in Markdown.

    Parameters
    ----------
    school : bool
        For a class: nobody measures a used bath.
    """
    at_the_bench = "" if school else f"\n\n{at_the_tray()}"
    return (
        "## What would prove it wrong\n\n"
        f"{in_the_kitchen()}{at_the_bench}\n\n"
        "## What you can now say\n\n"
        "- Heat is made all through the liquid and lost through its surface.\n"
        "- So a used bath in something deep can warm itself, the more the more peroxide is left.\n"
        "- It stays open in its flat tray, and somebody stays with it: at least an hour, and until "
        "it is back at air temperature. Next: [weak peroxide](06_weak_peroxide.ipynb); for your "
        "own bath [the planner](00_plan_a_bath.ipynb)."
    )


def in_the_kitchen() -> str:
    """Say where hot water ends in a dish and in a glass, in Markdown."""
    dish, glass = kitchen("dish"), kitchen("glass")
    (wide, shallow), (slim, deep) = KITCHEN["dish"], KITCHEN["glass"]
    return (
        "Water alone, with kitchen things: a dish and a straight glass, warmed first. Pour in "
        f"water of {float(to_celsius(HOT_WATER)):.0f} °C: {shallow} mm deep in the dish ({wide} cm "
        f"square), {deep} mm in the glass ({slim} cm square). Room "
        f"{float(to_celsius(KITCHEN_AIR)):.0f} °C. After {KITCHEN_TIME / 60:.0f} minutes the page "
        f"says {whole(float(dish.middle))} °C in the dish ({degrees(dish)}) and "
        f"{whole(float(glass.middle))} °C in the glass ({degrees(glass)}). Far outside that, "
        "its heat loss is wrong. Hot water scalds. Not tried by us."
    )


def at_the_tray() -> str:
    """Say what a thermometer in the flat tray should show, in Markdown."""
    hour = hour_after(MILD)
    return (
        "Whoever etches such a bath anyway, by [the planner](00_plan_a_bath.ipynb) and "
        "[the cautions](reference/cautions.md): leave a thermometer in the flat tray for the hour "
        f"after. In 8 of 10 the page says {ends(hour, FLAT)}. Never try the jar."
    )
