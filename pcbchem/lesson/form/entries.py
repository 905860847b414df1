"""Reading of one entry of a person: a number, a word, a place or a bottle; what is wrong is named.

`Row` is what a table of a form is made of: a control that can read and write its number.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from operator import mul
from typing import Any

import numpy as np

from ...bench.bottle.bottle import Bottle
from ...bench.hazards.law import PLACES
from ...common.limits import InputError, check_values, naming
from ...common.units import mL, mm
from ...matter.labels import NOTATIONS, mass_fraction_from
from ...page.widget.controls import Field
from ...reaction.bath.setup import LEAST_DEPTH, LEAST_VOLUME, Board, Tray
from .choices import SPELLINGS

NOTATION_WORDS = (
    {name.lower(): name for name in NOTATIONS} | SPELLINGS["acid"] | SPELLINGS["peroxide"]
)
"""How people write a notation, in small letters, and the package's word for it."""
PLACE_WORDS = {name.lower(): name for name in PLACES} | {
    "great britain": "GB",
    "european union": "EU",
    "united states": "US",
    "usa": "US",
}
"""How people write a place, in small letters, and the package's word for it."""
SUCH_AS = {
    "acid": 'such as acid=(10, "% by weight")',
    "peroxide": 'such as peroxide=(12, "% by weight")',
}
POINT = "use a point for decimals: 10.2"
ADVICE = {"oz/ft²": "1 oz is about 35 µm"}
FAHRENHEIT = "degrees Celsius: 68 °F is 20 °C"


def items(name: str, entry: Any, counts: tuple[int, ...], form: str) -> tuple[Any, ...]:
    """Return the items of an entry, or raise `InputError` that counts them."""
    parts: tuple[Any, ...] = (entry,)
    if isinstance(entry, tuple | list):
        parts = tuple(entry)
    count = len(parts)
    if count in counts:
        return parts
    hint = ""
    if count > max(counts):
        hint = POINT  # a decimal comma makes two items of one number
    wrong = "has 1 item" if count == 1 else f"has {count} items"
    about = f" = {entry!r}"
    raise InputError(name, f"it must be {form}", value=entry, about=about, wrong=wrong, hint=hint)


def number(
    name: str,
    entry: Any,
    low: float,
    high: float,
    unit: str,
    *,
    above: bool = False,
    hint: str = "",
) -> float:
    """Return one number within its limits [unit], or raise `InputError` that names it."""
    # several numbers: most often one that was written with a comma
    if isinstance(entry, tuple | list) or np.ndim(entry):
        rule = "it must be one number"
        raise InputError(name, rule, value=entry, about=f" = {entry!r}", hint=POINT)
    try:
        return float(check_values(name, entry, low, high, unit, above=above))
    except InputError as error:
        advice = ADVICE.get(unit, "")
        is_number = isinstance(entry, int | float | np.number)
        if unit == "°C" and is_number and entry > high:
            advice = FAHRENHEIT
        if advice:
            error.rule = f"{error.rule}; {advice}"
        hints = [hint] if hint else []
        if isinstance(entry, str) and "," in entry:
            hints.append(POINT)
        error.hint = "; ".join(hints)
        raise


@dataclasses.dataclass(frozen=True)
class Unit:
    """A unit of a form: its word in an error, and both ways between it and SI."""

    word: str
    read: Callable[[float], Any]
    write: Callable[[float], float]

    def shortest(self, value: Any) -> float:
        """Return a number [SI in, unit out] as people would write it, if it means the same.

        Examples
        --------
        >>> print(0.0102 / 1e-3, scaled("mm", 1e-3).shortest(0.0102))
        10.200000000000001 10.2
        """
        exact = self.write(float(value))
        short = round(exact, 9)
        # a plan has to come back from its file as it was, but for the last bit
        if np.isclose(self.read(short), self.read(exact), rtol=1e-14, atol=0):
            return short
        return exact


def scaled(word: str, size: float) -> Unit:
    """Return the unit that is so many of SI [SI]."""
    # divided, not times 1 / size: 150 mL has to come back as 150
    return Unit(word, partial(mul, size), lambda value: value / size)


@dataclasses.dataclass(frozen=True)
class Row:
    """One number of a form.

    `entry` is the argument in Python that it belongs to; `control` has its start and limits [unit];
    `above` says that the lower limit is itself impossible; `part` is what an error calls it where
    it is one of several in an entry; `hint` asks who writes Python, with a place for the number.
    """

    entry: str
    control: Field
    unit: Unit
    above: bool = False
    part: str = ""
    hint: str = ""

    def read(self, value: Any) -> float:
        """Return the number [unit in, SI out], or raise `InputError` that names the entry."""
        limits = (self.control.low, self.control.high, self.unit.word)
        if self.part:
            with naming(self.entry):
                checked = number(self.part, value, *limits, above=self.above)
        else:
            hint = self.hint.format(value)
            checked = number(self.entry, value, *limits, above=self.above, hint=hint)
        return float(self.unit.read(checked))

    def write(self, value: Any) -> float:
        """Return the number [SI in, unit out] as people would write it."""
        return self.unit.shortest(value)


def word(entry: Any, words: Mapping[str, str] | None = None) -> Any:
    """Return a word as the package writes it, and anything else as it is."""
    if not isinstance(entry, str):
        return entry
    small = entry.strip().lower()
    if words is None:
        return small
    return words.get(small, entry)  # unknown: as it was entered, for the error to show


def place(entry: Any) -> str:
    """Return whose rules on who may hold what, or raise `InputError` that says what to write.

    Examples
    --------
    >>> print(place("great Britain"))
    GB
    """
    name = word(entry, PLACE_WORDS)
    if not isinstance(name, str) or name not in PLACES:
        rule = (
            'write "EU", "GB" (England, Wales and Scotland; in Northern Ireland ask locally), '
            '"US" or "elsewhere" (everywhere else: ask locally)'
        )
        about = f" = {entry!r}"
        raise InputError("place", rule, value=entry, about=about, wrong="is not known")
    return name


def check_room(board: tuple[float, float], tray: tuple[float, float]) -> None:
    """Refuse a tray in which a flat board does not lie, straight or across [m]."""
    # at an angle a narrow board may be longer than the longer side
    across = max(board) <= np.hypot(*tray) and np.prod(board) <= np.prod(tray)
    if min(board) > min(tray) or not across:
        room, needs = (" × ".join(f"{side / mm:g}" for side in both) for both in (tray, board))
        rule = f"a board of {needs} mm does not lie in it"
        raise InputError("tray_mm", rule, about=f": a tray of {room} mm")


def check_depth(size: str, surface: str, board: Board, tray: Tray, per_area: float) -> None:
    """Refuse a bath [m³/m²] that is none, by the entry that says its size or its surface."""
    area = float(board.copper_area)
    volume = per_area * area
    if volume <= LEAST_VOLUME:
        rule = f"it must be above {LEAST_VOLUME / mL:g} mL"
        raise InputError(size, rule, about=f": a bath of {volume / mL:.2g} mL", unit="mL")
    open_area = float(tray.surface(volume, area))
    depth = volume / open_area
    if depth <= LEAST_DEPTH:
        rule = f"it must be above {LEAST_DEPTH / mm:g} mm, on {open_area * 1e4:.3g} cm² of tray"
        raise InputError(surface, rule, about=f": a bath {depth / mm:.2g} mm deep", unit="mm")


def bottle(name: str, substance: str, ends: Sequence[Any], notation: Any, T: float) -> Bottle:
    """Return a bottle known by its label, or between two strengths.

    Parameters
    ----------
    name : str
        The entry it comes from: "acid" or "peroxide".
    substance : str
        "HCl" or "H2O2".
    ends : sequence
        Strength on the label, or lowest and highest [unit of the notation].
    notation : str
        How they count.
    T : float
        Temperature of a notation that counts by volume [K].

    Returns
    -------
    Bottle
        With the doubt of its label, or with the two strengths and no label [kg/kg].

    Raises
    ------
    InputError
        A value that cannot be: names the entry.

    Examples
    --------
    >>> shop = bottle("peroxide", "H2O2", (12,), "%", 293.15)
    >>> print(f"{shop.low:.3f} to {shop.high:.3f}, label {shop.label:.2f}")
    0.102 to 0.120, label 0.12
    """
    kind = word(notation, NOTATION_WORDS)
    names = ["lowest", "highest"]
    if len(ends) == 1:
        names = ["strength"]
    with naming(name):
        if kind not in NOTATIONS:
            rule = f"choose from {', '.join(NOTATIONS)}, {SUCH_AS[name]}"
            raise InputError("notation", rule, about=f" = {kind!r}", wrong="is not known")
        values = []
        for end_name, end in zip(names, ends, strict=True):
            # so wide that only what is no number is refused here: how strong a bottle can be, the
            # conversion below knows for each notation
            values.append(number(end_name, end, 0, 1e6, f"in {kind}"))
        if values[0] > values[-1]:
            rule = f"it must be at most highest = {values[-1]:g}"
            raise InputError("lowest", rule, value=values[0], hint=POINT)
        strengths = [float(mass_fraction_from(value, kind, substance, T)) for value in values]
        if len(strengths) == 1:
            return Bottle.labelled(substance, strengths[0])
        return Bottle(substance, strengths[0], strengths[1])
