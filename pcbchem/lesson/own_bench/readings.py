"""A reading of a bottle: the fields of each way to measure, and the strength that they give."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, NamedTuple

from ...bench.bottle import (
    Strength,
    by_carbonate,
    by_lye,
    by_oxygen,
    by_weighing,
    oxygen_to_expect,
)
from ...common.limits import InputError, check_number, collecting_warnings
from ...common.number_words import capitalised, figures
from ...common.units import celsius, gram, mL, percent
from ...page.widget.controls import Choice, Field

WEIGHED_ACID, SODA, LYE = "acid weighed", "acid soda", "acid lye"
WEIGHED_PEROXIDE, GAS = "peroxide weighed", "peroxide gas"
"""Ways to measure, by name."""
SPARE = 5
"""The vessel for the gas holds so many times what is to be expected [-] (common practice)."""
LEAST_VESSEL = 50.0
"""It holds at least so much [mL]: a dilution may have been forgotten (common practice)."""
hPa = 100.0  # Pa


class Method(NamedTuple):
    """A way to measure a bottle.

    `words`: on the page. `substance`: "HCl" or "H2O2". `cautions`: its name among the methods that
    have cautions. `needs`: names of the fields that have to be filled in. `reads`: takes the values
    of the fields and gives the strength. `how`: what is done, in few words.
    """

    words: str
    substance: str
    cautions: str
    needs: tuple[str, ...]
    reads: Callable[[Mapping[str, Any]], Strength]
    how: str


def _warmth(method: str) -> str:
    """Return the field of the temperature of the bottle that a method measures."""
    return f"{NAMES[METHODS[method].substance]}_warmth"


def _weighed(values: Mapping[str, Any]) -> Strength:
    """Read a weighing [g, mL, °C]."""
    return by_weighing(
        METHODS[values["method"]].substance,
        mass=values["mass"] * gram,
        volume=values["volume"] * mL,
        T=celsius(values[_warmth(values["method"])]),
        volume_doubt=values["vessel"],
    )


def _soda(values: Mapping[str, Any]) -> Strength:
    """Read a titration with washing soda [g, mL, times, °C]."""
    return by_carbonate(
        mass=values["soda"] * gram,
        volume=values["run_in"] * mL,
        T=celsius(values["acid_warmth"]),
        dilution=values["diluted"],
        volume_doubt=values["vessel"],
    )


def _lye(values: Mapping[str, Any]) -> Strength:
    """Read a titration with lye [mol/L, mL, times, °C]."""
    return by_lye(
        concentration=1000 * values["lye"],
        titrant=values["run_in"] * mL,
        sample=values["acid_sample"] * mL,
        T=celsius(values["acid_warmth"]),
        dilution=values["diluted"],
        titrant_doubt=values["vessel"],
    )


def _gas(values: Mapping[str, Any]) -> Strength:
    """Read the oxygen of a sample [mL, times, hPa, °C]."""
    return by_oxygen(
        gas=(values["gas"] - values["sample"]) * mL,
        sample=values["sample"] * mL,
        label=percent(values["peroxide_label"]),
        p=values["pressure"] * hPa,
        dilution=values["diluted"],
        T=celsius(values["peroxide_warmth"]),
        T_gas=celsius(values["gas_warmth"]),
    )


WEIGHED_HOW = (
    "Weigh a clean dry flask, fill it to its mark, weigh it again: the difference counts. It tells "
    "little of weak acid."
)
SODA_HOW = (
    "Dilute the acid. Dissolve about 0.2 g of washing soda, dried an hour at 200 °C, in water with "
    "methyl orange. Run the diluted acid in, swirling, until the colour turns and stays."
)
LYE_HOW = (
    "Dilute the acid. Put some of it into a flask with methyl orange, and run in lye of known "
    "strength until the colour turns."
)
GAS_HOW = (
    "Dilute the peroxide. A little yeast in water, the wide open tube in place; then at most 1 mL "
    "from a syringe through the stopper. Read it when it is cool, water inside and outside at one "
    "height."
)
METHODS = {
    SODA: Method(
        "acid: washing soda",
        "HCl",
        "washing soda",
        ("soda", "run_in", "diluted", "acid_warmth"),
        _soda,
        SODA_HOW,
    ),
    LYE: Method(
        "acid: lye",
        "HCl",
        "lye",
        ("lye", "run_in", "acid_sample", "diluted", "acid_warmth"),
        _lye,
        LYE_HOW,
    ),
    WEIGHED_ACID: Method(
        "acid: weighed", "HCl", "weighing", ("mass", "volume", "acid_warmth"), _weighed, WEIGHED_HOW
    ),
    GAS: Method(
        "peroxide: its gas",
        "H2O2",
        "oxygen",
        ("sample", "diluted", "gas", "gas_warmth", "pressure", "peroxide_warmth"),
        _gas,
        GAS_HOW,
    ),
    WEIGHED_PEROXIDE: Method(
        "peroxide: weighed",
        "H2O2",
        "weighing",
        ("mass", "volume", "peroxide_warmth"),
        _weighed,
        WEIGHED_HOW,
    ),
}
"""Every way to measure that the page offers; permanganate is a chemist's, and Python's."""
NAMES = {"HCl": "acid", "H2O2": "peroxide"}
"""Which bottle holds what."""
LABELS = {"HCl": "acid_label", "H2O2": "peroxide_label"}
"""The field of each bottle's label."""


def _of(*methods: str) -> tuple[str, tuple[str, ...]]:
    """Return when a field is shown: with these methods."""
    return "method", methods


ACIDS = tuple(name for name, method in METHODS.items() if method.substance == "HCl")
PEROXIDES = tuple(name for name, method in METHODS.items() if method.substance == "H2O2")
WEIGHED = (WEIGHED_ACID, WEIGHED_PEROXIDE)
CHOICE = Choice(
    "method",
    "measured",
    {name: method.words for name, method in METHODS.items()},
    SODA,
    look="list",
    help="What was measured, and how. Each way has cautions of its own: they stand above.",
)
VESSELS = Choice(
    "vessel",
    "read on",
    {"flask": "a good flask or burette", "syringe": "a syringe", "cylinder": "a cylinder"},
    "flask",
    look="list",
    notes={
        "flask": "To 0.3 % (common practice).",
        "syringe": "To 1.5 % (common practice).",
        "cylinder": "To 1 %, at least half full (common practice).",
    },
    when=_of(WEIGHED_ACID, WEIGHED_PEROXIDE, SODA, LYE),
)
LABEL_FIELDS = (
    Field(
        "acid_label",
        "label of the acid",
        "%",
        0.5,
        37,
        0.5,
        None,
        when=_of(*ACIDS),
        help="In per cent by weight, as printed on it. No label: do not use it.",
    ),
    Field(
        "peroxide_label",
        "label of the peroxide",
        "%",
        3,
        35,
        0.5,
        None,
        when=_of(*PEROXIDES),
        help=(
            "In per cent by weight, as printed on it. A number that you doubt: 35. No label: do "
            "not use it."
        ),
    ),
)
# what is measured starts blank: nobody may take our numbers for a reading
READING_FIELDS = (
    Field("mass", "liquid alone weighs", "g", 0.1, 400, 0.1, None, when=_of(*WEIGHED)),
    Field("volume", "its volume", "mL", 1, 250, 1, None, when=_of(*WEIGHED)),
    Field(
        "soda",
        "washing soda, dry",
        "g",
        0.001,
        1,
        0.01,
        None,
        when=_of(SODA),
        help="About 0.2 g, baked an hour at 200 °C. More than 1 g foams over.",
    ),
    Field(
        "lye",
        "lye, as bought",
        "mol/L",
        0.01,
        1,
        0.1,
        None,
        when=_of(LYE),
        help="As its label says. A label in g/L: 40 g/L is 1 mol/L.",
    ),
    Field(
        "run_in",
        "run in until it turned",
        "mL",
        0.1,
        1000,
        0.1,
        None,
        when=_of(SODA, LYE),
        help="With washing soda the diluted acid, with lye the lye.",
    ),
    Field("acid_sample", "diluted acid in the flask", "mL", 0.1, 1000, 1, None, when=_of(LYE)),
    Field(
        "sample",
        "diluted peroxide used",
        "mL",
        0.01,
        1,
        0.1,
        None,
        when=_of(GAS),
        help="At most 1 mL of at most 3 %, onto the catalyst.",
    ),
    Field(
        "diluted",
        "diluted",
        "times",
        1,
        1000,
        1,
        None,
        when=_of(SODA, LYE, GAS),
        help="10 mL made up to 100 mL is 10 times. Not diluted is 1.",
    ),
    Field(
        "gas",
        "all that the vessel shows",
        "mL",
        0.01,
        1000,
        0.5,
        None,
        when=_of(GAS),
        help="When it is cool. The sample pushes its own volume over: the page takes that off.",
    ),
    Field("gas_warmth", "gas is", "°C", 0, 40, 1, 20, when=_of(GAS)),
    Field(
        "pressure",
        "air pressure where you are",
        "hPa",
        600,
        1100,
        1,
        None,
        when=_of(GAS),
        help="Read it today, where you are, not reckoned down to sea level: at 1000 m about 900.",
    ),
    Field("acid_warmth", "acid was", "°C", 0, 40, 1, 20, when=_of(*ACIDS)),
    Field("peroxide_warmth", "peroxide was", "°C", 0, 40, 1, 20, when=_of(*PEROXIDES)),
)
FIELDS = {field.name: field for field in (*LABEL_FIELDS, *READING_FIELDS)}
"""Every number of a reading."""
CALLED = {"T": "bottle", "dilution": "diluted"}
"""What the page calls a reading where the package has another name."""


def missing(values: Mapping[str, Any]) -> list[str]:
    """Return what the fields still lack for a reading, as the page calls it."""
    method = METHODS[values["method"]]
    names = (LABELS[method.substance], *method.needs)
    return [FIELDS[name].label for name in names if values[name] is None]


def row_of(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return what makes a reading again: the method, its fields, and the bottle's label."""
    method = METHODS[values["method"]]
    names = [*method.needs, LABELS[method.substance]]
    if method.cautions != "oxygen":
        names.append("vessel")
    return {"method": values["method"], **{name: values[name] for name in names}}


def read_words(row: Mapping[str, Any]) -> str:
    """Write the numbers that were read: "104.6 g, 100 mL, 21 °C"."""
    words = []
    for name in METHODS[row["method"]].needs:
        words.append(f"{row[name]:g} {FIELDS[name].unit}".strip())
    return ", ".join(words)


def strength_of(row: Mapping[str, Any]) -> Strength:
    """Return the strength that a reading gives [kg/kg].

    Raises
    ------
    ValueError
        A value that cannot be, in the page's words; or a row that is no reading.
    """
    method = METHODS.get(row.get("method", ""))
    if method is None or any(row.get(name) is None for name in method.needs):
        raise InputError("reading", "measure it again", about="", wrong="is none of this page")
    try:
        _check_fields((*method.needs, LABELS[method.substance]), row)
        if row["method"] == GAS and row["gas"] <= row["sample"]:
            rule = f"it must be above {row['sample']:g} mL, which the sample alone pushes over"
            raise InputError(FIELDS["gas"].label, rule, value=row["gas"])
        with collecting_warnings():
            strength = method.reads(row)
    except InputError as error:
        raise ValueError(page_words(error)) from None
    if not strength.tells:
        raise ValueError(strength.words)
    return strength


def _check_fields(names: Iterable[str], values: Mapping[str, Any]) -> None:
    """Refuse a number outside its field's limits, by its label: the package would say it in SI."""
    for name in names:
        field = FIELDS[name]
        check_number(field.label, values.get(name), field.low, field.high, field.unit)


def page_words(error: InputError) -> str:
    """Write what is wrong with a reading in the page's words and units.

    Examples
    --------
    >>> limits = {"low": 0.09, "high": 0.12, "unit": "kg for 100 mL of HCl"}
    >>> print(page_words(InputError("mass", "it must be 0.09 to 0.12 kg", value=0.2, **limits)))
    Liquid alone weighs = 200 g cannot be: it must be 90 to 120 g
    """
    if error.field == "mass" and error.low is not None and error.high is not None:
        value, low, high = (figures(end / gram, 4) for end in (error.value, error.low, error.high))
        label = capitalised(FIELDS["mass"].label)
        return f"{label} = {value} g cannot be: it must be {low} to {high} g"
    name = CALLED.get(error.field, error.field)
    return f"{name}{error.about} {error.wrong}: {error.rule}"


def expected_gas(values: Mapping[str, Any]) -> str:
    """Say how much gas a sample may give, before it is poured, or why it must not be.

    Returns
    -------
    str
        In mL, with what the vessel must hold; "" as long as a field for it is blank.

    Raises
    ------
    ValueError
        Too strong, or too much: in the page's words.
    """
    known = ("peroxide_label", "sample", "diluted", "gas_warmth", "peroxide_warmth")
    if values["method"] != GAS or any(values[name] is None for name in known):
        return ""
    pressure = values["pressure"] or 1013.25
    try:
        _check_fields((*known, "pressure"), {**values, "pressure": pressure})
        gas = oxygen_to_expect(
            label=percent(values["peroxide_label"]),
            sample=values["sample"] * mL,
            dilution=values["diluted"],
            T=celsius(values["peroxide_warmth"]),
            T_gas=celsius(values["gas_warmth"]),
            p=pressure * hPa,
        )
    except InputError as error:
        raise ValueError(page_words(error)) from None
    most, sample = gas / mL, values["sample"]
    vessel = max(SPARE * most + sample, LEAST_VESSEL)
    return (
        f"Expect to read at most {most + sample:.1f} mL, {sample:g} mL of it pushed over by the "
        f"sample. The vessel must hold {vessel:.0f} mL. Never closed."
    )
