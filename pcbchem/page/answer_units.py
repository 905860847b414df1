"""The units and notations in which people write an answer, each with one of it in SI."""

from __future__ import annotations

from collections.abc import Iterable

from ..common.units import ZERO_C, L, fahrenheit, gram, hour, minute


def spelled(*groups: tuple[float, Iterable[str]]) -> dict[str, float]:
    """Return each spelling with one of its unit in SI [s, K, kg, m, -], from groups of one size."""
    sizes: dict[str, float] = {}
    for size, spellings in groups:
        for spelling in spellings:
            sizes[spelling] = size
    return sizes


AMOUNTS = {"mol": 1.0, "mols": 1.0, "mole": 1.0, "moles": 1.0, "mmol": 1e-3, "kmol": 1e3}
"""Amounts of substance [mol]."""
LITRES = (
    "L",
    "liter",
    "litre",
    "liters",
    "litres",
    "dm3",
    "dm^3",
    "dm-3",
    "dm^-3",
    "L-1",
    "L^-1",
)
MILLILITRES = ("mL", "cm3", "cm^3", "mL-1", "cm-3")
CUBIC_METRES = ("m3", "m^3", "m-3", "m^-3", "cubicmetre", "cubicmeter")
PER_VOLUME = spelled((1 / L, LITRES), (1e6, MILLILITRES), (1.0, CUBIC_METRES))
"""What a volume under an amount stands for [1/m³]; some say by a minus that they stand under it."""


def over_volume(tops: dict[str, float]) -> dict[str, float]:
    """Return every way to write something over a volume [own unit/m³], from its spellings."""
    sizes = {}
    for top, size in tops.items():
        for volume, per_cubic_metre in PER_VOLUME.items():
            joins = ["/", "per"]
            if "-" in volume:
                joins = [""]  # mol L-1: the minus says "per" already
            for join in joins:
                sizes[top + join + volume] = size * per_cubic_metre
    return sizes


def per_volume() -> dict[str, float]:
    """Return every way to write an amount per volume [mol/m³], without spaces and dots."""
    # these three name amount and volume in one
    return {"M": 1e3, "mM": 1.0, "molar": 1e3, **over_volume(AMOUNTS)}


GRAMS = spelled(
    (gram, ("g", "gram", "grams", "gramme", "grammes")),
    (1e-3 * gram, ("mg", "milligrams")),
    (1.0, ("kg", "kilogram", "kilograms")),
)
"""Masses [kg]."""
# two letters stand for the same sign, and a keyboard has neither
MICROGRAMS = spelled((1e-6 * gram, ("µg", "\u03bcg", "ug", "micrograms")))
"""Masses that stand over a volume alone [kg]."""


def mass_per_volume() -> dict[str, float]:
    """Return every way to write a mass per volume [kg/m³], without spaces and dots."""
    return over_volume({**GRAMS, **MICROGRAMS})


KELVIN = ("K", "kelvin")
CELSIUS = (
    "°C",
    "C",
    "degC",
    "degreesC",
    "degreeC",
    "Celsius",
    "degCelsius",
    "degreesCelsius",
    "degreeCelsius",
)
FAHRENHEIT = (
    "°F",
    "F",
    "degF",
    "degreesF",
    "degreeF",
    "Fahrenheit",
    "degFahrenheit",
    "degreesFahrenheit",
    "degreeFahrenheit",
)
TIMES = ("times", "x", "×", "fold", "-fold")
AS_LITTLE = (
    "less",
    "lesspersecond",
    "lesseachsecond",
    "aslittle",
    "fewer",
    "smaller",
    "lower",
    "slower",
)
AS_MUCH = (
    "more",
    "asmuch",
    "asmany",
    "greater",
    "larger",
    "bigger",
    "higher",
    "faster",
    "quicker",
    "asfast",
)
LESS = tuple(times + words for times in TIMES for words in AS_LITTLE)
"""What may follow a number where the question asks how many times less."""
MORE = tuple(times + words for times in TIMES for words in AS_MUCH)
"""What may not follow it there, because it says the opposite."""
HUNDREDTHS = (
    "%",
    "%byweight",
    "%bymass",
    "percent",
    "percentbyweight",
    "percentbymass",
    "wt%",
    "wt.%",
    "%wt",
    "%w/w",
    "%(w/w)",
    "g/100g",
    "gper100g",
)
WAYS: dict[str, dict[str, float]] = {
    "time": spelled(
        (1.0, ("s", "sec", "secs", "second", "seconds", "''", '"')),
        # m is no metre here: a time is asked for, as in 7m30s
        (minute, ("min", "mins", "minute", "minutes", "m", "'")),
        (hour, ("h", "hr", "hrs", "hour", "hours")),
    ),
    "concentration": per_volume(),
    # the size of a degree; where each scale begins stands in `SCALES`
    "temperature": spelled((1.0, (*KELVIN, *CELSIUS)), (5 / 9, FAHRENHEIT)),
    "mass": GRAMS,
    "mass per volume": mass_per_volume(),
    "length": spelled(
        (1e-3, ("mm", "millimetre", "millimetres", "millimeter", "millimeters")),
        (
            1e-6,
            (
                "µm",
                "\u03bcm",
                "um",
                "micron",
                "microns",
                "micrometre",
                "micrometres",
                "micrometers",
            ),
        ),
        (1e-2, ("cm", "centimetres", "centimeters")),
        (1.0, ("m", "metre", "metres", "meters")),
        # a thousandth of an inch has two names
        (25.4e-6, ("mil", "mils", "thou")),
        (25.4e-3, ("in", "inch", "inches", '"')),
    ),
    "ratio": spelled(
        # "" because a ratio needs no unit; MORE so that it is read where nobody asks for less
        (1.0, ("", *TIMES, ":1", "/1", "timesaslong", "timeslonger", *LESS, *MORE)),
        (0.01, ("%", "percent")),
    ),
    "share": spelled(
        (0.01, HUNDREDTHS),
        (1e-3, ("g/kg", "gperkg")),
        (1.0, ("g/g", "kg/kg", "ofone")),
    ),
    # of a gas: by volume, and so by moles
    "share of air": spelled(
        (1e-6, ("ppm", "ppmv", "ppm(v)", "partspermillion", "mL/m3", "cm3/m3", "µmol/mol")),
        (1e-9, ("ppb", "ppbv", "ppb(v)", "partsperbillion")),
        (0.01, ("%", "percent", "%byvolume")),
    ),
}
"""By kind: each spelling of a unit, without spaces, and one of it in SI [s, mol/m³, K, kg, -]."""
# M and m differ: a small m is a metre, a milli or a molality
ANY_CASE = {
    kind: {name.casefold(): name for name in sizes if name not in ("M", "mM")}
    for kind, sizes in WAYS.items()
}
"""By kind: the spelling that is meant where one differs from it in capitals alone."""
EXAMPLES = {
    "time": "450 s, 7.5 min or 7 min 30 s",
    "concentration": "2.1 mol/L, 2.1 M or 2100 mol/m³",
    "temperature": "20 °C, 68 °F or 293 K",
    "mass": "1.5 g or 1500 mg",
    "mass per volume": "37 mg/L, 0.037 g/L or 37 µg/mL",
    "length": "0.15 mm, 150 µm or 6 mil",
    "ratio": "2.6, ×2.6 or 2.6 times",
    "share": "6.8 % by weight or 68 g/kg",
    "share of air": "46 ppm or 46 mL/m³",
}
"""How to write an answer of each kind."""
SCALES = spelled((0.0, KELVIN), (ZERO_C, CELSIUS), (float(fahrenheit(0)), FAHRENHEIT))
"""What 0 is on each scale of temperature [K]."""
# the first that fits is said
OTHER_THINGS = (
    (
        "concentration",
        r"%.*|percent.*|wt.*",
        "is a share, and the question asks for moles per litre",
    ),
    (
        "concentration",
        r"[km]?g/.*",
        "is a mass per volume, and the question asks for moles per litre",
    ),
    (
        "concentration",
        r"m|molal|k?m?mol/kg.*",
        "counts moles per kg, and the question asks for moles per litre",
    ),
    ("concentration", r"k?m?mol(e?s)?", "is an amount: say in how much liquid"),
    (
        "share",
        r".*(w/v|m/v|vol|v/v|ml|/l).*",
        "counts by volume, and the question asks for a share by weight",
    ),
    (
        "share of air",
        r"([mµuk]?g|milligrams?|grams?).*",
        "is a mass of gas, and the question asks for ppm: millionths of the air",
    ),
    ("mass", r"(fl)?oz.*", "is not used for a mass here, because an ounce of foil is a thickness"),
    ("mass", r"m?l|cm3|lit.*", "is a volume, and the question asks for a mass"),
    (
        "mass per volume",
        r"k?m?mol.*|m?m|molar",
        "counts moles, and the question asks for a mass per volume",
    ),
    ("mass per volume", r"%.*|percent.*|wt.*|ppm", "is a share: say what is in a litre"),
    ("mass per volume", r"[kmµμu]?g(rams?)?", "is a mass: say in how much liquid"),
    ("mass per volume", r".*/k?g", "counts by weight, and the question asks what is in a litre"),
    ("length", r"(fl)?oz.*", "is the weight of a foil, and the question asks for a width"),
    ("length", r"(mm|µm|cm|m)(2|\^2)", "is an area, and the question asks for a width"),
    ("length", r"(times|x|×|%).*", "is a ratio, and the question asks for a width"),
    ("time", r"(times|x|×|%).*", "is a ratio, and the question asks for a time"),
    ("ratio", r"s|sec.*|min.*|h|hours?", "is a time, and the question asks how many times"),
)
"""Kind, a pattern for what is sometimes written for it, and in what that differs."""
