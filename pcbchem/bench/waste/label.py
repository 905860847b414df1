"""What the tub is called: hazard classes, pictogram names and signal word of what is in it.

Two routes lead to a class: limits on what is dissolved, which add up, and the pH. The stricter one
counts. Words only: no symbol is drawn, and a label takes nothing of what the cautions say away.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import numpy as np

from ...common import tables
from ...common.band import Band
from ...common.limits import InputError, check_choice, check_kind, check_number
from ...matter.properties import MOLAR_MASS, density_inside
from ..plan.outcome import Outcome
from .rest import Rest

ROUTES = ("stricter", "limits", "pH")
"""How classes are found: by limits, by pH, or by both, the stricter of which counts."""
LOW_PH, HIGH_PH = 2.0, 11.5
"""A mixture of this pH and beyond counts as corrosive to skin and eyes [-] (clp-ph)."""
LOWEST_PH, HIGHEST_PH = -2.0, 16.0
"""Ends of what a pH may be [-]."""
LEAST_ACID = 1e3 * 10**-LOW_PH
"""Strong acid that makes a liquid of pH 2 [mol/m³]: a bath of more lies below that, how far below
is never asked."""
METALS, SKIN = "H290", "H314"
"""Codes that the pH gives: corrosive to metals, as suppliers say of acid, and to skin and eyes."""
SIGNALS = ("Danger", "Warning")
"""Signal words, the stronger first."""
PICTOGRAMS = ("flame over circle", "corrosion", "exclamation mark", "environment")
"""Names of the pictograms, in the order in which they are said."""
NOTHING = "none"
"""Stands in hazard_statements.csv where there is no pictogram, signal word or code."""
TOXIC_FROM = 0.05
"""Copper chloride from which a bath is harmful if swallowed by sheets that call it toxic
[kg/kg]."""
TOXIC_NOTE = (
    "Some suppliers call copper chloride toxic if swallowed: by their sheets this is also "
    "H302, harmful if swallowed."
)
"""Stands beside a label from `TOXIC_FROM` on, where H302 is not on it."""
REVISION = (
    "The classes of hydrochloric acid and of hydrogen peroxide are under revision (proposals of "
    "2024 and 2025): look them up again."
)
"""Stands with every label."""
IN_A_BATH = ("HCl", "H2O2", "CuCl2", "CuCl")
"""What is dissolved in a bath."""
GIVES_OFF_GAS = "Gives off gas: stands open, never closed up."
"""Stands with every label, in its line too."""
HAZARDOUS = "Hazardous waste"
"""Head of a label without signal word and pictogram: it is no harmless tub."""
NO_CLASS = "No class by these limits: hazardous waste all the same"
"""What a label without a class says in its place."""
NO_LABEL = "a refused bath has no label: nobody mixes this"
ROUNDS = 6
"""How often mass fractions are reckoned anew with the density that they give [-]: each round leaves
less than a tenth of the error."""


@dataclasses.dataclass(frozen=True)
class Label:
    """What stands on the label of a tub, in words.

    Parameters
    ----------
    codes : tuple of str
        H codes, in order.
    class_words : tuple of str
        Each code in plain words.
    statements : tuple of str
        Each code in the words of the law.
    pictograms : tuple of str
        Names of the pictograms, of `PICTOGRAMS`.
    signal : str
        "Danger", "Warning", or "" where there is none.
    as_of : str
        When the limits were read.
    notes : tuple of str
        What to know beside it: that it gives off gas, what is under revision, where suppliers'
        sheets are stricter.
    """

    codes: tuple[str, ...]
    class_words: tuple[str, ...]
    statements: tuple[str, ...]
    pictograms: tuple[str, ...]
    signal: str
    as_of: str
    notes: tuple[str, ...]

    def __str__(self) -> str:
        """Write signal word, pictogram names, statements with their codes, and gas in one line."""
        pairs = zip(self.codes, self.statements, strict=True)
        words = "; ".join(f"{code} {statement}" for code, statement in pairs)
        return f"{self.head}. {words or NO_CLASS}. {GIVES_OFF_GAS} (As of {self.as_of}.)"

    @property
    def head(self) -> str:
        """Signal word and pictogram names, or that it is waste all the same.

        Examples
        --------
        >>> print(label(("H290", "H314", "H411")).head)
        Danger: corrosion, environment
        """
        names = ", ".join(self.pictograms)
        if not self.signal:
            return names.capitalize() or HAZARDOUS
        return f"{self.signal}: {names}"


def classes(
    HCl: float = 0.0,
    H2O2: float = 0.0,
    CuCl2: float = 0.0,
    NaOH: float = 0.0,
    pH: float | None = None,
    route: str = "stricter",
    CuCl: float = 0.0,
) -> tuple[str, ...]:
    """Find the hazard classes of a mixture, Σ c/L at least 1 for each class whose limits add up.

    Parameters
    ----------
    HCl, H2O2, CuCl2, NaOH : float
        Mass fractions of the mixture [kg/kg].
    pH : float, optional
        Of the mixture [-], only told from 2 and 11.5: of a strong bath nobody knows it closer.
        Left out, what it alone gives is left out.
    route : str
        "stricter" (both), "limits" or "pH". That acid is corrosive to metals goes with the pH, by
        any of them.
    CuCl : float
        Mass fraction [kg/kg]; it counts as the CuCl2 of as much copper.

    Returns
    -------
    tuple of str
        H codes in order; what a graver one stands for is left out.

    Raises
    ------
    InputError
        A value outside its limits, more than all of the mixture, lye beside acid, an unknown
        route, or the route of the pH without one.

    Notes
    -----
    Limits from class_limits.csv: CLP Annex VI, with the additivity of Annex I; the classes of
    copper chloride are from memory. clp-ph.

    Examples
    --------
    >>> print(*classes(HCl=0.0446, H2O2=0.0494, CuCl2=0.0111, pH=0))
    H290 H314 H411
    >>> print(*classes(HCl=0.0446, H2O2=0.0494, CuCl2=0.0111, pH=0, route="limits"))
    H290 H318 H411
    """
    check_choice("route", route, ROUTES)
    fractions = {"HCl": HCl, "H2O2": H2O2, "CuCl2": CuCl2, "NaOH": NaOH, "CuCl": CuCl}
    shares = {name: check_number(name, w, 0, 1, "kg/kg") for name, w in fractions.items()}
    if shares["NaOH"] and shares["HCl"]:
        raise InputError("NaOH", "give what is left of the two", value=NaOH, wrong="beside HCl")
    total = sum(shares.values())
    if round(total, 9) > 1:
        raise InputError("HCl + H2O2 + CuCl2 + NaOH + CuCl", "they are parts of 1", value=total)
    if pH is not None:
        pH = check_number("pH", pH, LOWEST_PH, HIGHEST_PH, "")
    elif route == "pH":
        raise InputError("pH", "this route goes by it", value=pH, wrong="is missing")
    # both copper salts are read as one: in air, acid and peroxide the one becomes the other
    shares["CuCl2"] += as_chloride(shares.pop("CuCl"))
    codes = set()
    if route != "pH":
        codes |= {code for code, total in limit_sums(shares).items() if total >= 1}
    if route != "limits":
        codes |= _by_pH(pH)
    if pH is not None and pH <= LOW_PH:
        codes.add(METALS)
    return _left(codes)


def limit_sums(shares: Mapping[str, float]) -> dict[str, float]:
    """Add up how far a mixture is to the limit of each class, Σ c/L: from 1 on the class holds.

    Parameters
    ----------
    shares : mapping
        Mass fraction [kg/kg] of each of HCl, H2O2, CuCl2 and NaOH.

    Returns
    -------
    dict
        The sum [-] by code; of a class that does not add up the largest c/L.

    Examples
    --------
    >>> sums = limit_sums({"HCl": 0.1146, "H2O2": 0.0191, "CuCl2": 0, "NaOH": 0})
    >>> print(f"{sums['H314']:.2f} {sums['H315']:.2f} {sums['H335']:.2f}")
    0.50 1.20 1.20
    """
    sums: dict[str, float] = {}
    for row in tables.read("class_limits"):
        # rounded: 8 % as a sum of parts is a bit below 8 by its last bit, and is 8 all the same
        percent = round(100 * shares[row["substance"]], 9)
        share_of_limit = percent / float(row["limit_percent_by_weight"])
        before = sums.get(row["code"], 0.0)
        if row["sums"] == "yes":
            sums[row["code"]] = before + share_of_limit
        else:
            sums[row["code"]] = max(before, share_of_limit)
    return {code: round(total, 9) for code, total in sums.items()}


def _by_pH(pH: float | None) -> set[str]:
    """Find the codes that a pH [-] gives; none where it is not known."""
    if pH is not None and (pH <= LOW_PH or pH >= HIGH_PH):
        return {SKIN}
    return set()


@cache
def _statements() -> dict[str, Mapping[str, str]]:
    """Read each row of hazard_statements.csv by its code."""
    return {row["code"]: row for row in tables.read("hazard_statements")}


def _left(codes: set[str]) -> tuple[str, ...]:
    """Take out codes for which a graver one stands, and put the rest in order."""
    return tuple(code for code in sorted(codes) if not codes & stand_ins(code))


def stand_ins(code: str) -> set[str]:
    """Return the codes that stand for one: where one of them holds, it is not said.

    Examples
    --------
    >>> print(*sorted(stand_ins("H319")))
    H314 H318
    """
    words = _row(code)["stands_for_it"]
    return set() if words == NOTHING else set(words.split())


def _row(code: str) -> Mapping[str, str]:
    """Find the row of a code, or name those there are."""
    return _statements()[check_choice("code", code, tuple(_statements()))]


def pictograms(codes: Iterable[str]) -> tuple[str, ...]:
    """Name the pictograms of codes; for skin and eyes corrosion stands for the exclamation mark.

    Parameters
    ----------
    codes : iterable of str
        H codes, from `classes`.

    Returns
    -------
    tuple of str
        Of `PICTOGRAMS`, in that order.

    Raises
    ------
    InputError
        A code that is not in hazard_statements.csv: names those there are.

    Notes
    -----
    clp-26

    Examples
    --------
    >>> print(*pictograms(("H290", "H314", "H335", "H411")), sep=", ")
    corrosion, exclamation mark, environment
    """
    rows = [_row(code) for code in codes]
    names = {row["pictogram"] for row in rows} - {NOTHING}
    # skin and eyes alone give way: for what is breathed or swallowed the mark stays
    kept = {row["pictogram"] for row in rows if row["pictogram_gives_way_to"] not in names}
    return tuple(name for name in PICTOGRAMS if name in kept)


def signal(codes: Iterable[str]) -> str:
    """Return the signal word of codes, the strongest of them; "" where none has one.

    Parameters
    ----------
    codes : iterable of str
        H codes, from `classes`.

    Raises
    ------
    InputError
        A code that is not in hazard_statements.csv: names those there are.

    Examples
    --------
    >>> print(signal(("H290", "H319", "H411")))
    Warning
    """
    words = {_row(code)["signal_word"] for code in codes}
    for word in SIGNALS:
        if word in words:
            return word
    return ""


def label(codes: Iterable[str], CuCl2: float = 0.0) -> Label:
    """Put a label together.

    Parameters
    ----------
    codes : iterable of str
        H codes, from `classes`.
    CuCl2 : float
        Copper chloride in it [kg/kg], for what some suppliers' sheets add.

    Raises
    ------
    InputError
        A code that is not in hazard_statements.csv: names those there are.

    Examples
    --------
    >>> print(label(("H290", "H412")))  # doctest: +ELLIPSIS
    Warning: corrosion. H290 May be corrosive to metals; H412 Harmful to aquatic life with ...
    """
    every = tuple(codes)  # it is gone through several times
    rows = [_row(code) for code in every]
    notes = [GIVES_OFF_GAS, REVISION]
    if round(CuCl2, 9) >= TOXIC_FROM and "H302" not in every:
        notes.append(TOXIC_NOTE)
    return Label(
        codes=every,
        class_words=tuple(row["class_words"] for row in rows),
        statements=tuple(row["statement"] for row in rows),
        pictograms=pictograms(every),
        signal=signal(every),
        as_of=max(row["as_of"] for row in tables.read("class_limits")),
        notes=tuple(notes),
    )


def label_of(plan: Outcome | Rest) -> Label:
    """Find the label of what a plan leaves in the tray when the board is out.

    It goes by the strong end of each band, what 1 in 10 plausible baths exceeds: not knowing must
    not make a label milder. For a class it is the same: words, and no amount.

    Parameters
    ----------
    plan : Plan or Rest
        A plan, or what is left of a bath.

    Raises
    ------
    InputError
        A refused plan, or neither of the two.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> board = Board(area=27e-4)
    >>> mild = plan(acid, peroxide, (0, 1, 1), board, volume=150e-6, place="EU")
    >>> print(label_of(mild).head)
    Danger: corrosion, environment
    """
    if isinstance(plan, Rest):
        acid, draws = plan.HCl, plan.draws
        fractions = {name: plan.bath.mass_fraction(name) for name in IN_A_BATH}
    else:
        check_kind("plan", plan, Outcome)
        if plan.refused:
            raise InputError("plan", NO_LABEL, value=plan.verdict, about="", wrong="is refused")
        end, draws = plan.run.end, plan.inputs.draws
        acid = end["HCl"]
        # by concentrations, which a plan for a class has too: mass and volume it has none
        fractions = mass_fractions({name: end[name] for name in IN_A_BATH}, end["T"])
    strong = {name: high_end(w, draws) for name, w in fractions.items()}
    # of a bath that has used its acid up nobody knows the pH
    pH = LOW_PH if high_end(acid, draws) >= LEAST_ACID else None
    codes = classes(
        HCl=strong["HCl"],
        H2O2=strong["H2O2"],
        CuCl2=strong["CuCl2"],
        CuCl=strong["CuCl"],
        pH=pH,
    )
    return label(codes, strong["CuCl2"] + as_chloride(strong["CuCl"]))


def high_end(values: Any, draws: int | None) -> float:
    """Return what 1 in 10 plausible values exceeds [any unit]."""
    return float(Band.of(np.asarray(values), draws).high)


def as_chloride(CuCl: float) -> float:
    """Return the CuCl2 [kg/kg] of as much copper as some CuCl holds [kg/kg]."""
    return CuCl * MOLAR_MASS["CuCl2"] / MOLAR_MASS["CuCl"]


def mass_fractions(dissolved: Mapping[str, Any], T: Any) -> dict[str, Any]:
    """Turn concentrations into mass fractions, c M/ρ with the density that those give.

    Parameters
    ----------
    dissolved : mapping
        Concentration [mol/m³] of each solute, arrays.
    T : float or array
        Temperature [K].

    Returns
    -------
    dict
        Mass fraction [kg/kg] of each.

    Examples
    --------
    >>> print(f"{mass_fractions({'HCl': 10171.0}, 293.15)['HCl']:.3f}")
    0.320
    """
    masses = {name: np.asarray(c) * MOLAR_MASS[name] for name, c in dissolved.items()}
    density: Any = 1000.0
    for _ in range(ROUNDS):
        density = density_inside(T, {name: mass / density for name, mass in masses.items()})
    return {name: mass / density for name, mass in masses.items()}
