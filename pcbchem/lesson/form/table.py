"""The table of the planner's form: every field and choice under its heading, with unit and limits.

What each means stands beside it: see `HELP` and the notes of `choices`.
"""

from __future__ import annotations

import math
from functools import partial
from operator import mul
from typing import Any

from ...bench.plan.inputs import BATH_PER_AREA, MOST_HELD_BACK, MOST_USED
from ...common.limits import collecting_warnings
from ...common.units import ZERO_C, L, celsius, minute, mL, mm, percent
from ...common.units import mL_per_cm2 as PER_CM2
from ...matter.labels import strength
from ...matter.properties import LIMITS, MOLAR_MASS
from ...page.widget.controls import Choice, Control, Field
from ...reaction.bath.setup import OUNCE_PER_SQUARE_FOOT
from .choices import (
    BACK_NOTES,
    BACKS,
    FACE_NOTES,
    FACES,
    HELP,
    IN_USED_BATH,
    MOVE_NOTES,
    MOVES,
    NOTATION_NOTES,
    NOTATIONS,
    PLACE_NOTES,
    PLACES,
    READS,
    SPELLINGS,
    SUBSTANCES,
    SURE,
    SURE_NOTES,
)
from .entries import Row, Unit, scaled

BOTTLES_C, AIR_C, HOTTEST_C = (0, 40), (-10, 45), (0, 100)  # °C
WAIT = (0.1, 120)  # min until the second portion
WINDOW = (0.02, 240)  # min until the board is clear
LEAST_SEARCH = 0.1  # mL/cm², the step of a search
LEAST_BATH, MOST_BATH = (round(end / PER_CM2, 12) for end in BATH_PER_AREA)  # mL/cm²
MOST_TOTAL, MOST_FOIL, MOST_PARTS = 1e6, 16, 100  # mL, oz/ft², parts: far beyond any bench
SHORTEST_SIDE, LONGEST_SIDE = 10, 2000  # mm of a board: less was measured in centimetres

# Units and rows

PERCENT = Unit("%", percent, partial(mul, 100))
CELSIUS = Unit("°C", celsius, lambda temperature: temperature - ZERO_C)
MM, ML, MINUTES = scaled("mm", mm), scaled("mL", mL), scaled("min", minute)
OUNCES = scaled("oz/ft²", OUNCE_PER_SQUARE_FOOT)
GRAM_PER_L, MOL_PER_L = scaled("g/L", 1 / MOLAR_MASS["Cu"]), scaled("mol/L", 1 / L)
USED = {"copper": GRAM_PER_L, "acid": MOL_PER_L, "peroxide": MOL_PER_L}
"""What a used bath holds, and how the form counts it."""


def field(
    name: str,
    label: str,
    unit: str,
    low: float,
    high: float,
    step: float,
    start: float | None,
    **others: Any,
) -> Field:
    """Return a field [unit] with its help, which understands what people write for its unit."""
    reads = {"reads": READS.get(unit, {})} | others
    return Field(name, label, unit, low, high, step, start, help=HELP[name], **reads)


def listed(
    name: str, label: str, options: dict[str, str], start: str, notes: dict[str, str], **others: Any
) -> Choice:
    """Return a choice as a list, with its help and a note to each option."""
    return Choice(name, label, options, start, "list", help=HELP[name], notes=notes, **others)


def bottle_controls(name: str, start: float, low: float, most: float) -> tuple[Control, ...]:
    """Return the controls of a bottle, which start with these strengths [% by weight]."""
    substance = SUBSTANCES[name]
    # one field for all notations: as wide as the widest of them needs
    with collecting_warnings():
        ends = [strength(LIMITS[substance], notation, substance) for notation in NOTATIONS[name]]
    high = math.ceil(max(ends))
    labelled = (f"{name}_sure", ("label", "measured"))
    unsure = (f"{name}_sure", ("between", "measured"))
    chooses = (f"{name}_in", SPELLINGS[name])
    notes = {notation: NOTATION_NOTES[notation] for notation in NOTATIONS[name]}

    def of(end: str, words: str, first: float, when: tuple[str, tuple[str, ...]]) -> Field:
        label = f"{name} {words}".rstrip()
        return field(f"{name}{end}", label, "", 0, high, 0.5, first, when=when, chooses=chooses)

    known = listed(f"{name}_sure", f"{name} is", SURE, "label", SURE_NOTES)
    return (
        of("", "", start, labelled),
        listed(
            f"{name}_in",
            f"{name} in",
            NOTATIONS[name],
            "% by weight",
            notes,
            beside=(name, f"{name}_low"),
        ),
        known,
        # after the choice that opens them: who goes on by Tab comes to them
        of("_low", "at least", low, unsure),
        of("_to", "at most", most, unsure),
    )


def side_row(entry: str, thing: str, along: str, least: float, start: float | None) -> Row:
    """Return the row of one side of a board or a tray [mm]."""
    step = 1 if thing == "board" else 5
    direction = "wide" if along == "width" else "long"
    label = f"{thing}, {along}"
    control = field(f"{thing}_{along}", label, "mm", least, LONGEST_SIDE, step, start)
    hint = f"{entry} counts millimetres: is your {thing} {{}} mm {direction}?"
    return Row(entry, control, MM, above=not least, hint=hint)


def used_rows(name: str) -> tuple[Row, Row]:
    """Return the rows of lowest and highest of what a used bath holds: they start blank."""
    unit = USED[name]
    most = round(unit.write(MOST_USED[name]), 6)
    reads = IN_USED_BATH[name]
    low = field(f"used_{name}", f"its {name}, at least", unit.word, 0, most, 0.1, None, reads=reads)
    high = field(
        f"used_{name}_to", f"its {name}, at most", unit.word, 0, most, 0.1, None, reads=reads
    )
    return Row("used_bath", low, unit, part=name), Row("used_bath", high, unit, part=name)


USED_SHARE = field("used_bath", "used, share of the whole", "%", 0, 100, 5, 0)
HELD_BACK = field("held_back", "peroxide held back", "%", 0, 100 * MOST_HELD_BACK, 5, 0)
# later the workshop's bath is too warm for it
HELD_UNTIL = field("held_until", "poured after", "min", *WAIT, 0.5, 1.5)
FORM: dict[str, tuple[Row | Control, ...]] = {
    "On the bench: bottles": (
        listed("place", "whose rules", PLACES, "elsewhere", PLACE_NOTES),
        *bottle_controls("acid", 10, 9, 11),
        *bottle_controls("peroxide", 12, 10.2, 12),
    ),
    "The bath": (
        field("water_parts", "water", "parts", 0, MOST_PARTS, 0.5, 0),
        field("acid_parts", "acid", "parts", 0, MOST_PARTS, 0.5, 1),
        field("peroxide_parts", "peroxide", "parts", 0, MOST_PARTS, 0.5, 1),
        Row("total_mL", field("total", "bath in all", "mL", 0, MOST_TOTAL, 5, 150), ML, above=True),
    ),
    "The board": (
        side_row("board_mm", "board", "width", SHORTEST_SIDE, 75),
        side_row("board_mm", "board", "height", SHORTEST_SIDE, 60),
        Row("bare_percent", field("bare", "bare, to be etched", "%", 0, 100, 5, 60), PERCENT, True),
        Row("foil_oz", field("foil", "copper foil", "oz", 0, MOST_FOIL, 0.5, 1), OUNCES, True),
        listed("back", "back", BACKS, "plastic", BACK_NOTES),
    ),
    "Tray and warmth": (
        Row("air_C", field("air", "air", "°C", *AIR_C, 1, 20), CELSIUS),
        Row("bottles_C", field("bottles", "bottles and water", "°C", *BOTTLES_C, 1, 20), CELSIUS),
        listed("agitation", "the bath is", MOVES, "rocked", MOVE_NOTES),
        listed("facing", "copper looks", FACES, "up", FACE_NOTES),
        side_row("tray_mm", "tray", "width", 0, None),
        side_row("tray_mm", "tray", "length", 0, None),
    ),
    "A used bath, topped up": (
        Row("used_bath", USED_SHARE, PERCENT, above=True, part="percent of the bath"),
        *used_rows("copper"),
        *used_rows("acid"),
        *used_rows("peroxide"),
    ),
    "Peroxide in two portions": (
        Row("second", HELD_BACK, PERCENT, part="percent held back"),
        Row("second", HELD_UNTIL, MINUTES, part="minutes"),
    ),
}
"""Every field under its heading on the page, from top to bottom."""
FOLDED = ("Tray and warmth", "A used bath, topped up", "Peroxide in two portions")
"""Headings of what is rarely used."""
ROWS = {row.control.name: row for rows in FORM.values() for row in rows if isinstance(row, Row)}
CONTROLS = {
    heading: [row.control if isinstance(row, Row) else row for row in rows]
    for heading, rows in FORM.items()
}
STARTS = {control.name: control.start for controls in CONTROLS.values() for control in controls}
LABELS = {
    "acid": "Acid",
    "peroxide": "Peroxide",
    "parts": "Parts",
    "total_mL": "Bath in all",
    "board_mm": "Board",
    "bare_percent": "Bare copper",
    "foil_oz": "Copper foil",
    "back": "Back of the board",
    "tray_mm": "Tray",
    "bottles_C": "Bottles and water",
    "air_C": "Air",
    "used_bath": "A used bath",
    "second": "Peroxide in two portions",
}
"""What the page calls an entry that is wrong."""
BATH_FOR_COPPER, WATER_SHARE, ACID_SHARE = "per_cm2", "water", "acid_of_rest"
"""What a map of mixtures is asked beside the form [mL/cm², % of all, % of the rest], by name."""
CURSOR_STEP = 5
"""Step of its two shares [%]: 20 of them lead from none to all."""
