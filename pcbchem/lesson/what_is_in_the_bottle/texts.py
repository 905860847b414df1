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
    slower,
)
from .words import VOLUMES, times_stronger

NO_STIRRING = ("gas stirring",)
"""What is switched off to see how much the bubbles' stirring does."""


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
        "White is water. Parts are by volume, per cent by weight. *mol/L* counts particles in a "
        f"litre: 1 mol of HCl weighs {moles:.1f} g. Layers stand in the planner's order of "
        "pouring, from the bottom up. Labels say one strength in several ways:\n\n"
        f"| bottle | or | mol/L |\n|---|---|---|\n{table}\n\n"
        "“Volumes” are litres of oxygen that a litre gives off; °Bé is a scale of density."
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
    in_b = acid_water / water + water_brought(WEAKEST)
    in_a = FIRST.parts[0] + acid_water / water + water_brought(STRONGEST) / 2
    return (
        "## Why\n\n"
        "**A bottle is mostly water.** By volume, two parts of 3 % peroxide bring "
        f"{water_brought(WEAKEST):.2f} parts of water, two of {STRONGEST:g} % still "
        f"{water_brought(STRONGEST):.2f}. One part of {STRONG:g} % acid brings "
        f"{acid_water / water:.2f}. So {in_b:.2f} of the 3 parts of B are water, and {in_a:.2f} of "
        "the 5 of A: as much, and nobody poured any into B.\n\n"
        "**By hand: the acid in A.** A litre of this acid weighs "
        f"{weight:.0f} g at 20 °C, and {STRONG:g} % of that is HCl: {in_grams:.1f} g. Divided by "
        f"{moles:.2f} g for a mole: {in_moles:.2f} mol. In A that is one part of five: "
        f"{in_moles:.2f} ÷ {sum(FIRST.parts):g} = **{share:.2f} mol/L**. The package, below, "
        "says a little more, for these shrink a little when they are mixed."
    )


def sources() -> str:
    """Say where the numbers come from, in Markdown."""
    return (
        "**Where the numbers come from.** Densities are published: Kell 1975, Laliberté and Cooper "
        "2004, Easton 1952. Volumes (22.414 L of gas to a mole) and °Bé are definitions. That "
        "20 °Bé is 31.45 % is the trade's table, from memory. It is 1.160 times water at 60 °F: "
        "1158.9 g for a litre, and so say we. Guessed: what a bottle really holds, for peroxide "
        "85 to 100 % of its label."
    )


def read_recipes() -> str:
    """Say what the second panel shows, in Markdown."""
    weaker = figures(times_stronger(STRONG, STRONGEST, WEAKEST))
    return (
        f"**Peroxide {weaker} times weaker, and {figures(slower())} times as long.** Strong "
        "peroxide also bubbles at the copper and stirs itself. With that switched off the model "
        f"says {figures(slower(NO_STIRRING))} times; page 04 takes it apart. Faster is no gain: "
        "strong peroxide foams hot and feeds fire. (The workshop's board: 27 cm² of bare copper "
        "in a rocked tray. Pale: 8 of 10 *plausible baths*, each with "
        "its own guesses about what nobody has measured.)"
    )


def prove_wrong(school: bool = False) -> str:
    """Say what would prove the page wrong, in Markdown; of a class the teacher alone tries it."""
    gas = oxygen_to_expect(label=percent(WEAKEST), sample=mL) / mL
    head = "**What would prove this page wrong.**"
    if school:
        return (
            f"{head} On yeast, shop peroxide of {WEAKEST:g} % gives off about {gas:.0f} times its "
            "volume of oxygen. Far more, and page or label is wrong. That is a test for the "
            "teacher."
        )
    little = 8.0
    return (
        f"{head} Read [its cautions](reference/cautions.md) first: goggles, gloves, nothing "
        "closed, never a stronger bottle. 1 mL of shop peroxide, labelled 3 %, onto yeast in water "
        "in a big jar. The gas goes through a wide open tube into a cylinder over water: about "
        f"{gas:.0f} mL of gas at 20 °C. With {little:.0f} mL, and no leak, your bottle holds "
        f"{WEAKEST * little / gas:.1f} %. With 15 mL the page or the label is wrong: stop. Leave "
        "the jar open an hour."
    )


def say_now() -> str:
    """Say what a learner can say at the end, in Markdown."""
    return (
        "## What you can now say\n\n"
        "- A ratio is no recipe: only with the bottles' strengths do I know what is in the tray.\n"
        "- Most of each bottle here is water, and 3 % peroxide is nearly all water.\n"
        "- Weight, volumes and °Bé say one strength in several ways; mol/L counts particles.\n\n"
        "Next: [why the acid goes into the water](02_acid_into_water.ipynb), or "
        "[the planner](00_plan_a_bath.ipynb) for your own bottles."
    )
