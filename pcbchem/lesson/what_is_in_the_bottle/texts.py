"""What page 01 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from ...bench.bottle.oxygen import oxygen_to_expect
from ...common.number_words import figures
from ...common.units import gram, mL, percent
from ...matter.labels import strength
from ...matter.properties import MOLAR_MASS
from ...matter.solution import Solution
from .numbers import (
    FIRST,
    MILD,
    PEROXIDES,
    ROOM,
    STRONG,
    STRONGEST,
    WEAKEST,
    recipe,
    time_to_clear,
)
from .predictions import minutes
from .words import VOLUMES, times_stronger


def read_it() -> str:
    """Say how to read the first panel, with a table of strengths, in Markdown."""
    rows = []
    for peroxide in PEROXIDES:
        concentration = strength(percent(peroxide), "mol/L", "H2O2", ROOM)
        rows.append(
            f"| peroxide {peroxide:g} % | {VOLUMES[peroxide]} volumes | {concentration:#.3g} |"
        )
    baume = strength(percent(STRONG), "degrees Baume", "HCl")
    for acid, other in ((MILD, "–"), (STRONG, f"{baume:.0f} °Bé")):
        concentration = strength(percent(acid), "mol/L", "HCl", ROOM)
        rows.append(f"| acid {acid:g} % | {other} | {concentration:#.3g} |")
    table = "\n".join(rows)
    moles = MOLAR_MASS["HCl"] / gram
    return (
        "**No water was poured into B, and both are as watery.** Per cent are by weight. *mol/L* "
        f"counts particles in a litre: 1 mol of HCl weighs {moles:.1f} g. Labels say one strength "
        "in several ways:\n\n"
        f"| bottle | or | mol/L |\n|---|---|---|\n{table}\n\n"
        "“Volumes” are litres of oxygen from a litre; °Bé is a scale of density. Choose other "
        "bottles: where the planner refuses B, nothing is poured."
    )


def water_brought(peroxide: float) -> float:
    """Return the parts of water that two parts of peroxide bring [-], from its strength [%]."""
    bottle = Solution.of(volume=2.0, T=ROOM, H2O2=percent(peroxide))
    water = Solution.of(volume=1.0, T=ROOM)
    return float(bottle.mass * bottle.mass_fraction("H2O") / water.mass)


def by_hand() -> tuple[float, float, float, float]:
    """Return a litre of the strong acid step by step, rounded as it is written down.

    Returns
    -------
    tuple of float
        Its weight and the HCl in it [g], that in moles [mol/L], and a fifth of that [mol/L].
    """
    weight = round(float(Solution.of(volume=1.0, T=ROOM, HCl=percent(STRONG)).density))
    in_grams = round(weight * STRONG / 100, 1)
    in_moles = round(in_grams / round(MOLAR_MASS["HCl"] / gram, 2), 2)
    return weight, in_grams, in_moles, round(in_moles / sum(FIRST.parts), 2)


def why() -> str:
    """Say where the water comes from, and how to reckon a strength by hand, in Markdown."""
    weight, in_grams, in_moles, share = by_hand()
    moles = round(MOLAR_MASS["HCl"] / gram, 2)
    acid = Solution.of(volume=1.0, T=ROOM, HCl=percent(STRONG))
    acid_water = float(acid.mass * acid.mass_fraction("H2O"))
    water = float(Solution.of(volume=1.0, T=ROOM).mass)
    return (
        "## Why\n\n"
        "**A bottle is mostly water.** Two parts of 3 % peroxide bring "
        f"{water_brought(WEAKEST):.2f} parts of water, two of {STRONGEST:g} % still "
        f"{water_brought(STRONGEST):.2f}. One part of {STRONG:g} % acid brings "
        f"{acid_water / water:.2f}. Nobody poured it, but it is in the tray.\n\n"
        "**By hand: the acid in A.** A litre of this acid weighs "
        f"{weight:.0f} g, and {STRONG:g} % of that is HCl: {in_grams:.1f} g. Divided by "
        f"{moles:.2f} g for a mole: {in_moles:.2f} mol. In A that is one part of five: "
        f"{in_moles:.2f} ÷ {sum(FIRST.parts):g} = **{share:.2f} mol/L**. The package mixes it "
        "below and says a little more, for liquids shrink when they are mixed."
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** Densities are published: Kell 1975, Laliberté and Cooper "
        "2004, Easton 1952. Volumes (22.414 L of gas to a mole) and °Bé are definitions. That "
        "20 °Bé is 31.45 % is the trade's table, from memory. At 60 °F it prints 1158.9 g for a "
        "litre, and so do we. Guessed: what a bottle really holds, for peroxide 85 to 100 % of its "
        "label."
    )


def read_recipes() -> str:
    """Say what the second panel shows, in Markdown."""
    strong, weak = recipe(STRONG, STRONGEST), recipe(STRONG, WEAKEST)
    times = [float(time_to_clear(mixture).middle) for mixture in (strong, weak)]
    weaker = figures(times_stronger(STRONG, STRONGEST, WEAKEST))
    return (
        f"**One recipe, {minutes(times[0])} or {minutes(times[1])}.** Above, two recipes were "
        "alike in water. Here one recipe makes baths that differ by "
        f"{figures(times[1] / times[0])} times, with {weaker} times less peroxide. Bands: 8 of 10 "
        "*plausible baths*, each with its own guesses about what nobody has measured."
    )


def prove_wrong() -> str:
    """Say what would prove the page wrong, in Markdown."""
    gas = oxygen_to_expect(label=percent(WEAKEST), sample=mL) / mL
    little = 8.0
    return (
        "**What would prove this page wrong.** 1 mL of shop peroxide, 3 %, never stronger, onto "
        "yeast in water. Lead the gas through a wide open tube into a cylinder over water: about "
        f"{gas:.0f} mL of gas at 20 °C. With {little:.0f} mL your bottle holds "
        f"{WEAKEST * little / gas:.1f} %. With 15 mL the page or the label is wrong: stop. First "
        "read [the method and its cautions](reference/own_bench.md)."
    )


def say_now() -> str:
    """Say what a learner can say at the end, in Markdown."""
    return (
        "## What you can now say\n\n"
        "- A ratio is no recipe: only with the bottles' strengths do I know what is in the tray.\n"
        "- Most of every bottle is water, and shop peroxide is nearly all water.\n"
        "- Weight, volumes and °Bé say one strength in several ways; mol/L counts particles.\n\n"
        "Next: [why the acid goes into the water](02_acid_into_water.ipynb), or "
        "[the planner](00_plan_a_bath.ipynb) for your own bottles."
    )
