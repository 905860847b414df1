"""The questions of "check yourself" that ask why: six settings, their numbers from the package."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ...common.number_words import figures
from ...common.units import mol_per_L
from ...page.why import Setting
from .numbers import FLAT, JAR, MILD, STRONG, WEAK, degrees_each, hour_after, kitchen
from .words import degrees_words, per_minute, vessel_words, whole

DEEP = (20, 30, 40, 50)
"""Depths of the settings that draw one [mm]."""
SHALLOW = (6, 8)
"""Depths at which made gets over lost only when it is warmer [mm]."""
SURFACE = "Heat is made all through the liquid and lost through its surface."


def deeper(rng: np.random.Generator) -> Setting:
    """Ask why a deeper bath gets warmer; draws how deep it lies [mm]."""
    depth = int(rng.choice(DEEP))
    hour = hour_after(MILD)
    out = float(hour.out.middle)
    here, tray = (degrees_words(float(hour.peak(each).middle)) for each in (depth, FLAT))
    return Setting(
        f"The workshop's mild bath, used, gets to {here} in the middle when it stands "
        f"{vessel_words(depth)}, and to {tray} in the flat tray. It is the same bath. Why is it "
        "warmer when it stands deep?",
        (
            "The same liquid has less surface to lose its heat through.",
            f"{SURFACE}",
        ),
        (
            (
                "More heat is made in a deep bath.",
                "The same peroxide falls apart in the same liquid. What differs is what leaves.",
            ),
            (
                "The bottom of a deep bath is under pressure.",
                "A few centimetres of water press next to nothing.",
            ),
            (
                "The oxygen cannot get out, and it keeps the heat in.",
                "It bubbles out of an open vessel. In a closed one it bursts it.",
            ),
        ),
        f"{SURFACE}\n"
        f"{depth} mm deep the same bath has an open surface {figures(depth / FLAT)} times smaller "
        f"than {FLAT} mm deep. Its walls counted too, at {degrees_words(out)} it loses "
        f"{per_minute(hour.lost_at(out, depth))} instead of {per_minute(hour.lost_at(out, FLAT))}."
        "\nEqually warm, it makes as much heat as in the tray.",
    )


def part_ways(rng: np.random.Generator) -> Setting:
    """Ask why a warmer bath warms itself where a cooler one cools; draws how deep it lies [mm]."""
    depth = int(rng.choice(SHALLOW))
    hour = hour_after(MILD)
    point = hour.parts_at(depth)
    assert point is not None
    cool, warm = point - 6, point + 4
    return Setting(
        f"Two like baths stand {vessel_words(depth)}, with as much peroxide, one at "
        f"{degrees_words(cool)}, one at {degrees_words(warm)}. By the page's curves the cooler one "
        "cools and the warmer one warms itself. Why?",
        (
            "Heat made grows faster with warmth than heat lost.",
            f"So above {degrees_words(point)} made is the larger of the two.",
        ),
        (
            (
                "The warmer bath loses less heat.",
                "It loses more: it differs more from the room. It makes still more than that.",
            ),
            (
                "The warmer bath holds more peroxide.",
                "Both hold as much. Warm, it only falls apart faster.",
            ),
            (
                "Only above a certain temperature does peroxide fall apart.",
                "It falls apart at any temperature, faster the warmer it is.",
            ),
        ),
        f"At {degrees_words(cool)}: made {per_minute(hour.made_at(cool))}, lost "
        f"{per_minute(hour.lost_at(cool, depth))}.\n"
        f"At {degrees_words(warm)}: made {per_minute(hour.made_at(warm))}, lost "
        f"{per_minute(hour.lost_at(warm, depth))}.\n"
        f"The two cross at {degrees_words(point)}. So a warm day or a warm etch can be what tips "
        "it.",
    )


def weak_bottles(rng: np.random.Generator) -> Setting:
    """Ask why weak bottles leave a bath that cools even when deep; draws how deep it lies [mm]."""
    depth = int(rng.choice((*DEEP, JAR)))
    mild, weak = hour_after(MILD), hour_after(WEAK)
    warm, cool = (degrees_words(float(hour.peak(depth).middle)) for hour in (mild, weak))
    left = [figures(float(hour.left.middle) / mol_per_L) for hour in (mild, weak)]
    return Setting(
        f"{vessel_words(depth).capitalize()}, the used bath of the mild bottles gets to {warm} in "
        f"the middle, that of the weak bottles to no more than the {cool} it had. Both vessels are "
        "alike. Why?",
        (
            "The weak bath has little peroxide left to make heat of.",
            f"{left[1]} mol/L against {left[0]}: each mol/L is worth {degrees_each():.0f} °C.",
        ),
        (
            (
                "The weak bath has more surface.",
                "The vessels are alike. Look at what is made, not at what is lost.",
            ),
            (
                "Its board took longer, so its heat was used up.",
                "Heat is not used up by time; it leaves. Little new heat is made.",
            ),
            (
                "Its acid is weaker.",
                "It is the same acid; and peroxide, not acid, makes the heat after the board.",
            ),
        ),
        f"Left when the board comes out: {left[0]} and {left[1]} mol/L.\n"
        f"Each mol/L left can warm the bath by {degrees_each():.0f} °C at the most.",
    )


def strong_bottles(rng: np.random.Generator) -> Setting:
    """Ask why a strong bath gets hotter afterwards in any vessel; draws how deep it lies [mm]."""
    depth = int(rng.choice((*DEEP, JAR)))
    mild, strong = hour_after(MILD), hour_after(STRONG)
    ours, theirs = (degrees_words(float(hour.peak(depth).middle)) for hour in (mild, strong))
    outs = [whole(float(hour.out.middle)) for hour in (mild, strong)]
    return Setting(
        f"Drawn only: the used bath of strong bottles with water gets to {theirs} in "
        f"the middle, {vessel_words(depth)}; the mild one to {ours}. When its board comes out the "
        "strong one holds a little more peroxide. What else makes it hotter, and counts more?",
        (
            f"It comes out warmer, at {outs[1]} °C and not {outs[0]}, and warm peroxide falls "
            "apart faster.",
            "A warm start makes heat faster, and more of it before it can leave. It counts most.",
        ),
        (
            (
                "Strong acid makes heat by itself.",
                "Its heat of mixing was over before the board went in.",
            ),
            (
                "Its oxygen is hotter.",
                "Oxygen carries next to no heat. It shows only that heat is being made.",
            ),
            (
                "It loses less heat: strong liquids keep warm.",
                "Vessel and surface are the same, and a warmer bath loses more.",
            ),
        ),
        f"Out at {outs[0]} °C and at {outs[1]} °C.\n"
        "Per 10 °C more, heat is made about 2½ times as fast: it starts ahead and stays ahead.",
    )


def after_the_board(rng: np.random.Generator) -> Setting:
    """Ask why a used bath may get hotter than it was while it etched; draws how deep [mm]."""
    depth = int(rng.choice((30, 40, 50, JAR)))
    hour = hour_after(MILD)
    peak, out = degrees_words(float(hour.peak(depth).middle)), degrees_words(float(hour.out.middle))
    return Setting(
        f"The board came out at {out}. {vessel_words(depth).capitalize()}, the middle bath then "
        f"gets to {peak}, though nothing etches any more. Where does the heat come from?",
        (
            "From the peroxide that is left: it falls apart at the dissolved copper.",
            "2 H₂O₂ → 2 H₂O + O₂, and each mole sets heat free.",
        ),
        (
            (
                "From the copper in the bath, which goes on dissolving.",
                "It is dissolved already. It only helps the peroxide to fall apart.",
            ),
            (
                "From the room, which is warmer.",
                "The room is cooler than the bath: it takes heat away.",
            ),
            (
                "From the heat of mixing acid and peroxide.",
                "That came when they were poured together, before the board went in.",
            ),
        ),
        "Dissolved copper makes peroxide fall apart, with or without a board.\n"
        f"{SURFACE} Deep, little of it leaves.",
    )


def kitchen_water(rng: np.random.Generator) -> Setting:
    """Ask why hot water cools faster in a dish than in a glass; draws nothing but the order."""
    dish, glass = (degrees_words(float(kitchen(name).middle)) for name in ("dish", "glass"))
    return Setting(
        "Hot water of 50 °C stands in a flat dish and as much in a straight glass. After 20 "
        f"minutes the dish is at {dish}, the glass at {glass}. What has this to do with a used "
        "bath?",
        (
            "Both lose heat through their surface: a flat one loses more of it.",
            "The bath differs in one thing: it makes heat, the water does not.",
        ),
        (
            (
                "Nothing: water has no peroxide.",
                "It loses heat the same way. Peroxide adds what is made.",
            ),
            (
                "The glass makes heat, as a deep bath does.",
                "The water makes none. It only loses less of what it has.",
            ),
            (
                "A glass wall lets no heat out.",
                "It lets some out. The dish loses more because its surface is larger.",
            ),
        ),
        "Loss goes by the surface, what there is to cool by the volume.\n"
        "In the kitchen one sees the loss alone; in a bath heat is made as well.",
    )


SETTINGS: tuple[Callable[[np.random.Generator], Setting], ...] = (
    deeper,
    weak_bottles,
    part_ways,
    after_the_board,
    strong_bottles,
    kitchen_water,
)
"""What the question may be about, in turn; six, so that each sheet of a table has another one."""
