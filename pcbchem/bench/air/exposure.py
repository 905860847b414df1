"""How much of a gas is too much: limits by place and kind, each dated, with its source.

Three kinds are three questions. A *ceiling* stands against the peak, *15 min* against the worst
quarter of an hour, *8 h* against eight hours with nothing else in them. Limits at work are for
healthy grown people; none of them says that air below it does no harm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from numpy.typing import ArrayLike

from ...common.limits import check_choice, check_values
from ...common.tables import cited, read
from ...matter.properties import MOLAR_MASS
from ...reaction.bath.film_properties import PRESSURE, R
from ..hazards.law import PLACES
from .surface import TEMPERATURES

PPM = 1e-6
"""One part in a million of the air [mol/mol]: a litre of gas in a million litres of air."""
SUBSTANCES = ("HCl", "Cl2", "H2O2", "CO2", "copper mist")
"""What there are limits of; copper mist by its copper, and by mass in the air."""
MEASURES = {
    "ceiling": "peak",
    "15 min": "worst_quarter",
    "8 h": "eight_hours",
    "dangerous at once": "peak",
    "discomfort": "peak",
    "smell": "peak",
}
"""What of an `Air` each kind of limit stands against."""
AT_WORK = ("ceiling", "15 min", "8 h")
"""Kinds that a place sets for work."""
UNITS = {"ppm": ("mol/mol", PPM), "mg/m³": ("kg/m³", 1e-6)}
"""Units of the table, in SI."""
PRINTED_IN = {si: (unit, factor) for unit, (si, factor) in UNITS.items()}
"""The same, by the unit in SI."""
AS_PRINTED = ("substance", "place", "kind", "words", "status", "as_of")
"""Columns of the table that a `Limit` holds as they are."""
MASSES = {
    "HCl": MOLAR_MASS["HCl"],
    "H2O2": MOLAR_MASS["H2O2"],
    "H2O": MOLAR_MASS["H2O"],
    "Cl2": 0.070906,
    "CO2": 0.044010,
}
"""Molar masses of gases [kg/mol] (IUPAC)."""


@dataclass(frozen=True)
class Limit:
    """One limit of the table; `print` says it in one line.

    Parameters
    ----------
    substance : str
        One of `SUBSTANCES`.
    place : str
        One of `PLACES`, "other" of a country that is none of them, or "any" for what is no law of a
        place.
    kind : str
        One of `MEASURES`.
    value, low, high : float
        The limit and, of a smell, what others report [mol/mol; kg/m³ of copper mist].
    unit : str
        "mol/mol", or "kg/m³".
    year : int
        Of the list or document that holds it; of a page without a date that in which it was read,
        and the words end with "as read".
    words : str
        Whose it is.
    source : str
        Where it comes from; "from memory: …" where nobody looked it up.
    status : str
        "published" or "from memory".
    as_of : str
        When the table was made.
    """

    substance: str
    place: str
    kind: str
    value: float
    low: float
    high: float
    unit: str
    year: int
    words: str
    source: str
    status: str
    as_of: str

    def __str__(self) -> str:
        """Say it in one line: value, whose, year, status and source."""
        unit, factor = PRINTED_IN[self.unit]
        value = f"{self.value / factor:g}"
        if self.high > self.value:
            value = f"{self.low / factor:g} to {self.high / factor:g}"
        source = self.source
        if self.status == "published":
            source = f"published: {source}"
        return (
            f"{self.substance}, {self.kind}: {value} {unit}; {self.words}, {self.year} ({source})"
        )


@cache
def _every() -> tuple[Limit, ...]:
    """Return every row of the table, in SI."""
    every = []
    for row in read("air_limits"):
        unit, factor = UNITS[row["unit"]]
        value, low, high = (float(row[name]) * factor for name in ("limit", "low", "high"))
        limit = Limit(
            **{name: row[name] for name in AS_PRINTED},
            value=value,
            low=low,
            high=high,
            unit=unit,
            year=int(row["year"]),
            source=cited(row),
        )
        every.append(limit)
    return tuple(every)


def limits(place: str, substance: str | None = None) -> tuple[Limit, ...]:
    """List the limits that go for a place, each with its year, source and status.

    Elsewhere the strictest that we know of each kind goes, of whatever country; a country of the EU
    may have a stricter one of its own, too. What is no law of a place (what is dangerous at once,
    from where on anybody may feel it, what is smelt) goes everywhere.

    Parameters
    ----------
    place : str
        "EU", "GB", "US" or "elsewhere".
    substance : str, optional
        One of `SUBSTANCES`; all of them unless given.

    Returns
    -------
    tuple of Limit
        In the order of the table.

    Raises
    ------
    InputError
        Another place or substance: names those there are.

    Examples
    --------
    >>> for limit in limits("GB", "HCl")[:2]:
    ...     print(limit)  # doctest: +ELLIPSIS
    HCl, 8 h: 1 ppm; British workplace limit, 2005 (published: Health and Safety Executive, ...)
    HCl, 15 min: 5 ppm; British workplace limit, 2005 (published: Health and Safety Executive, ...)
    """
    check_choice("place", place, PLACES)
    if substance is not None:
        check_choice("substance", substance, SUBSTANCES)
    chosen = []
    for limit in _every():
        if substance not in (None, limit.substance):
            continue
        if limit.place in (place, "any") or (place == "elsewhere" and limit == _strictest(limit)):
            chosen.append(limit)
    return tuple(chosen)


def _strictest(limit: Limit) -> Limit:
    """Return the strictest limit of a substance and kind; of equal ones one that was read."""
    alike = [
        rival
        for rival in _every()
        if (rival.substance, rival.kind) == (limit.substance, limit.kind)
    ]
    return min(alike, key=lambda rival: (rival.value, rival.status != "published"))


def mass_per_air(share: ArrayLike, gas: str, T: ArrayLike = 293.15) -> Any:
    """Return the mass of a gas in a cubic metre of air that holds a share of it.

    Parameters
    ----------
    share : float or array
        Share of the air [mol/mol], 0 to 1; 1 ppm is 1e-6.
    gas : str
        "HCl", "H2O2", "H2O", "Cl2" or "CO2".
    T : float or array
        Temperature of the air [K], 273.15 to 333.15.

    Returns
    -------
    float or array
        Mass of gas in air at 1 atm [kg/m³].

    Raises
    ------
    InputError
        A value outside its limits, or what is no gas.

    Examples
    --------
    >>> print(f"{1e6 * mass_per_air(PPM, 'HCl'):.2f} mg/m³")
    1.52 mg/m³
    """
    share = check_values("share", share, 0.0, 1.0, "mol/mol")
    check_choice("gas", gas, tuple(MASSES))
    T = check_values("T", T, *TEMPERATURES, "K")
    return share * PRESSURE / (R * T) * MASSES[gas]
