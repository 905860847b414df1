"""The units and notations in which people write an answer, each with one of it in SI."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

from ..common.units import ZERO_C, L, fahrenheit, gram, hour, minute


def spelled(*groups: tuple[float, Iterable[str]]) -> dict[str, float]:
    """Spellings of units with one of each in SI [s, K, kg, -, kg/kg], from groups of one size."""
    return {word: factor for factor, words in groups for word in words}


def per_volume() -> dict[str, float]:
    """Every way to write an amount per volume [mol/m³], without spaces and dots."""
    amounts = {"mol": 1.0, "mols": 1.0, "mole": 1.0, "moles": 1.0, "mmol": 1e-3, "kmol": 1e3}
    litres = (
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
    volumes = {name: 1 / L for name in litres} | {
        name: 1e6 for name in ("mL", "cm3", "cm^3", "mL-1", "cm-3")
    }
    volumes |= {name: 1.0 for name in ("m3", "m^3", "m-3", "m^-3", "cubicmetre", "cubicmeter")}
    made = {"M": 1e3, "mM": 1.0, "molar": 1e3}
    for (amount, a), (volume, v) in itertools.product(amounts.items(), volumes.items()):
        made |= {
            amount + join + volume: a * v for join in ([""] if "-" in volume else ["/", "per"])
        }
    return made


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
LESS = tuple(
    times + words
    for times in TIMES
    for words in (
        "less",
        "lesscopper",
        "lesspersecond",
        "lesseachsecond",
        "lesscopperpersecond",
        "lesscoppereachsecond",
        "aslittle",
        "aslittlecopper",
        "fewer",
        "smaller",
        "lower",
        "slower",
    )
)
"""What may follow a number where the question asks how many times less."""
MORE = tuple(
    times + words
    for times in TIMES
    for words in (
        "more",
        "morecopper",
        "asmuch",
        "asmuchcopper",
        "asmany",
        "greater",
        "larger",
        "bigger",
        "higher",
        "faster",
        "quicker",
        "asfast",
    )
)
"""What may not, because it says the opposite."""
WAYS: dict[str, dict[str, float]] = {
    "time": spelled(
        (1.0, ("s", "sec", "secs", "second", "seconds", "''", '"')),
        (minute, ("min", "mins", "minute", "minutes", "m", "'")),
        (hour, ("h", "hr", "hrs", "hour", "hours")),
    ),
    "concentration": per_volume(),
    "temperature": spelled((1.0, (*KELVIN, *CELSIUS)), (5 / 9, FAHRENHEIT)),
    "mass": spelled(
        (gram, ("g", "gram", "grams", "gramme", "grammes")),
        (1e-3 * gram, ("mg", "milligrams")),
        (1.0, ("kg", "kilogram", "kilograms")),
    ),
    "ratio": spelled(
        (1.0, ("", *TIMES, ":1", "/1", "timesaslong", "timeslonger", *LESS, *MORE)),
        (0.01, ("%", "percent")),
    ),
    "share": spelled(
        (
            0.01,
            (
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
            ),
        ),
        (1e-3, ("g/kg", "gperkg")),
        (1.0, ("g/g", "kg/kg", "ofone")),
    ),
}
"""By kind: each spelling of a unit, spaces left out, and one of it in SI [s, mol/m³, K, kg, -, kg/kg]."""
EXAMPLES = {
    "time": "450 s, 7.5 min or 7 min 30 s",
    "concentration": "2.1 mol/L, 2.1 M or 2100 mol/m³",
    "temperature": "20 °C, 68 °F or 293 K",
    "mass": "1.5 g or 1500 mg",
    "ratio": "2.6, ×2.6 or 2.6 times",
    "share": "6.8 % by weight or 68 g/kg",
}
"""How to write an answer of each kind."""
SCALES = spelled((0.0, KELVIN), (ZERO_C, CELSIUS), (float(fahrenheit(0)), FAHRENHEIT))
"""What 0 is on each scale of temperature [K]."""
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
    ("mass", r"(fl)?oz.*", "is not used for a mass here, because an ounce of foil is a thickness"),
    ("mass", r"m?l|cm3|lit.*", "is a volume, and the question asks for a mass"),
    ("time", r"(times|x|×|%).*", "is a ratio, and the question asks for a time"),
    ("ratio", r"s|sec.*|min.*|h|hours?", "is a time, and the question asks how many times"),
)
"""Kind, what is sometimes written for it, and in what that differs."""
