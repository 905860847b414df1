"""What can be chosen in the planner's form and which units it reads, each with its words."""

from __future__ import annotations

from ...common.units import us_fl_oz
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.setup import MOVEMENTS, OUNCE_PER_SQUARE_FOOT

SUBSTANCES = {"acid": "HCl", "peroxide": "H2O2"}
BY_VOLUME = {"mol/L": "mol/L", "% w/v": "% w/v"}
NOTATIONS = {
    "acid": {"% by weight": "% by weight", "degrees Baume": "°Baumé"} | BY_VOLUME,
    "peroxide": {"% by weight": "% by weight", "volume strength": "volumes"} | BY_VOLUME,
}
"""How the label of each bottle may count."""
NOTATION_NOTES = {
    "% by weight": "Grams in 100 g of liquid, as most labels count.",
    "degrees Baume": "20 °Baumé is 31 % by weight.",
    "volume strength": "Litres of oxygen that a litre can give: 10 volumes is 3 % by weight.",
    "mol/L": "Moles in a litre.",
    "% w/v": "Grams in 100 mL of liquid.",
}
SURE = {
    "label": "as labelled",
    "between": "between two strengths",
    "measured": "measured: label, and between two",
}
SURE_NOTES = {
    "between": "Law and cautions go by the stronger of the two.",
    "measured": "Law and cautions go by the strongest of the three.",
}
PLACES = {
    "elsewhere": "elsewhere: ask locally",
    "EU": "European Union",
    "GB": "Great Britain",
    "US": "United States",
}
PLACE_NOTES = {
    "elsewhere": "Ask locally. The strictest rule that we know is named.",
    "EU": "Check the current rule: a country may be stricter.",
    "GB": "England, Wales and Scotland. In Northern Ireland ask locally.",
    "US": "Ask locally too: states and towns differ.",
}
MOVES = {
    "still": "left alone",
    "rocked": f"rocked: {MOVEMENTS['rocked']}",
    "shaken": f"shaken: {MOVEMENTS['shaken']}",
    "bubbled": MOVEMENTS["bubbled"],
    "sprayed": MOVEMENTS["sprayed"],
}
"""How the bath may be moved: each word with what it means, for it is a number."""
MOVE_NOTES = {
    "still": "Nobody moves the tray: only bubbles and warmth stir the bath.",
    "rocked": "One end of the tray is lifted and let down again, all the time.",
    "shaken": "All the time, so that the bath runs to and fro over the copper.",
    "bubbled": "Keep your face away: bursting bubbles throw a mist of acid and copper.",
    "sprayed": "Only in a closed machine: elsewhere you would breathe the mist.",
}
FACES = {"up": "up", "down": "down", "upright": "upright, in a tank"}
FACE_NOTES = {
    "up": "The board lies in the tray, the side to be etched up.",
    "down": "The side to be etched looks at the bottom of the tray.",
    "upright": "Give the width and length of the tank below.",
}
BACKS = {"plastic": "plastic", "covered": "covered with resist", "bare": "bare copper"}
BACK_NOTES = {
    "plastic": "There is no copper on it: it takes no share of the bath.",
    "covered": "Cover all of it: it takes no share of the bath as long as the cover holds.",
    "bare": (
        "All of it is etched too and counts like the front. Lying on the tray it clears later "
        "than said here."
    ),
}

# What people write behind a number, in small letters: scale and offset into the field's unit

TRADE_FOIL = 35.0
"""What the trade calls 1 oz of foil [µm]: a label's figure. Measured it is about 34 µm."""
GRAM = 1e-3 / OUNCE_PER_SQUARE_FOOT
"""A gram on a square metre [oz/ft²]."""
# both letters that stand for micro
MICRONS = ("µm", "μm", "um", "micron", "microns")
MILS = ("mil", "mils", "thou")
INCHES = ("in", "inch", "inches", '"', "″")
OUNCES = ("oz", "ounce", "ounces", "oz/ft²", "oz/ft2", "oz/ft^2", "oz/sq ft")
LITRES = ("l", "litre", "litres", "liter", "liters")
FLUID_OUNCES = ("fl oz", "fl. oz", "fl. oz.", "floz", "us fl oz", "fluid ounces")


def scales(*pairs: tuple[tuple[str, ...], float]) -> dict[str, tuple[float, float]]:
    """Return each spelling with its scale and no offset [field's unit in one of it]."""
    return {spelling: (scale, 0.0) for spellings, scale in pairs for spelling in spellings}


READS = {
    "mm": scales((("mm",), 1.0), (("cm",), 10.0), (("m",), 1000.0), (INCHES, 25.4), (MILS, 0.0254)),
    # a thickness as a label has it, for nobody measures a foil under its resist
    "oz": scales(
        (OUNCES, 1.0),
        (MICRONS, 1 / TRADE_FOIL),
        (("mm",), 1000 / TRADE_FOIL),
        (MILS, 25.4 / TRADE_FOIL),
        (("g/m²", "g/m2", "g/m^2"), GRAM),
    ),
    "mL": scales(
        (("ml", "millilitres", "milliliters", "cc", "cm³", "cm3"), 1.0),
        (("cl",), 10.0),
        (("dl",), 100.0),
        (LITRES, 1000.0),
        (FLUID_OUNCES, us_fl_oz / 1e-6),
    ),
    "°C": scales((("°c", "c", "deg c", "celsius"), 1.0))
    | {name: (5 / 9, -160 / 9) for name in ("°f", "f", "deg f", "fahrenheit")},
    "min": scales(
        (("min", "mins", "minute", "minutes"), 1.0),
        (("s", "sec", "secs", "second", "seconds"), 1 / 60),
        (("h", "hr", "hour", "hours"), 60.0),
    ),
    "%": scales((("%", "percent", "per cent"), 1.0)),
    "parts": scales((("part", "parts"), 1.0)),
}
"""What a field of each unit understands."""
IN_USED_BATH = {
    "copper": scales((("g/l",), 1.0), (("mol/l", "m"), 1000 * MOLAR_MASS["Cu"])),
    "acid": scales((("mol/l", "m"), 1.0), (("g/l",), 0.001 / MOLAR_MASS["HCl"])),
    "peroxide": scales((("mol/l", "m"), 1.0), (("g/l",), 0.001 / MOLAR_MASS["H2O2"])),
}
"""The same for what a used bath holds [g/L of copper, mol/L]."""
OF_BOTH = {
    "%": "% by weight",
    "% w/w": "% by weight",
    "w/w": "% by weight",
    "wt%": "% by weight",
    "wt %": "% by weight",
    "% by weight": "% by weight",
    "m": "mol/L",
    "molar": "mol/L",
    "mol/l": "mol/L",
    "% w/v": "% w/v",
    "w/v": "% w/v",
    "g/100 ml": "% w/v",
}
SPELLINGS = {
    "acid": OF_BOTH
    | dict.fromkeys(
        ("°bé", "°be", "bé", "be", "°baumé", "°baume", "baumé", "baume", "degrees baumé"),
        "degrees Baume",
    ),
    "peroxide": OF_BOTH
    | dict.fromkeys(("vol", "vols", "volume", "volumes", "volume strength"), "volume strength"),
}
"""How people write a strength's notation on each bottle, and the package's word for it."""

HELP = {
    "place": (
        "Whose rules on what people may hold: a line beside the verdict, no part of it. Another "
        "place brings other cautions: read them again."
    ),
    "acid": (
        "As the label says. A unit may stand behind it: 31.45 %, 20 °Bé, 10 M. Another bottle "
        "brings other cautions: read them again."
    ),
    "acid_low": "The weakest that it may be.",
    "acid_to": "The strongest that it may be.",
    "acid_in": "How the label counts. Another unit converts the numbers.",
    "acid_sure": (
        "As labelled: within 1 % by weight of its label (common practice, no source). Between: "
        "all strengths between the two are equally likely."
    ),
    "peroxide": (
        "As the label says. A unit may stand behind it: 12 %, 40 vol. Another bottle brings other "
        "cautions: read them again."
    ),
    "peroxide_low": "The weakest that it may be.",
    "peroxide_to": "The strongest that it may be.",
    "peroxide_in": "How the label counts. Another unit converts the numbers.",
    "peroxide_sure": (
        "As labelled: at 85 to 100 % of its label, as it fades (common practice, no source). "
        "Between: all strengths between the two are equally likely."
    ),
    "water_parts": "Parts count by volume: 0, 1 and 1 are equal parts of acid and peroxide.",
    "acid_parts": "Parts of what is in the acid bottle, by volume.",
    "peroxide_parts": "Parts of what is in the peroxide bottle, by volume.",
    "total": (
        "Everything in the tray: water, acid, peroxide, and a used bath. More bath for the copper "
        "stays cooler while etching."
    ),
    "board_width": "Of the whole board. A unit may stand behind it: 7.5 cm, 3 in.",
    "board_height": "Of the whole board. A unit may stand behind it: 6 cm, 2.4 in.",
    "bare": "Share of the front that no resist covers: all of it is to go.",
    "foil": "1 oz is about 35 µm. A thickness is taken as a label has it: 35 µm is read as 1 oz.",
    "back": "Copper on the back is etched too where nothing covers it, and takes its share.",
    "air": "Of the air over the tray. The cooler, the more heat the bath loses.",
    "bottles": "Of both bottles and of the water when they are poured.",
    "agitation": "How the bath is moved over the copper while it etches.",
    "facing": "Which way the side to be etched looks.",
    "tray_width": (
        "Of the liquid in the tray. Left blank, the bath is taken to be 10 mm deep. Deeper and "
        "narrower it gets hotter."
    ),
    "tray_length": (
        "Of the liquid in the tray. Left blank, the bath is taken to be 10 mm deep. Deeper and "
        "narrower it gets hotter."
    ),
    "used_bath": (
        "0 % is none. Top up only a bath that stood open for days, is at air temperature and "
        "shows no bubbles when stirred."
    ),
    "used_copper": "What the last plan said under Afterwards.",
    "used_copper_to": "What the last plan said under Afterwards.",
    "used_acid": "What the last plan said under Afterwards.",
    "used_acid_to": "What the last plan said under Afterwards.",
    "used_peroxide": "What a test strip says, never a plan.",
    "used_peroxide_to": (
        "What a test strip says, never a plan. More than 0.5 mol/L, 17 g/L, is refused."
    ),
    "held_back": (
        "0 % is none. It is poured only if the board is not clear and the bath is at 25 °C or "
        "colder."
    ),
    "held_until": "Counted from the board going in. Sooner than 1 min is refused.",
}
"""What each field means, at most 30 words: on the page it stands beside it."""
