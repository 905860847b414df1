"""Who meets whom in what numbers: balanced reactions, and how much copper a bath can carry."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import Draws, FloatArray, common_shape
from ...common.limits import InputError, check_values
from ...matter.solution import Solution
from ..bath.setup import Board

MOST_COPPER = 1e9
"""Largest amount of copper that can be meant [mol]."""

# A group and its count, as "(OH)2"; an element and its count, as "Cl2"; a single element of
# positive charge, as "Cu2+", where the number is the charge; a coefficient and its species, as
# "1/2 O2(g)"; a state, as "(aq)"
_GROUP = re.compile(r"\(([A-Za-z0-9]+)\)(\d+)")
_ELEMENT = re.compile(r"([A-Z][a-z]?)(\d*)")
_MONATOMIC_CATION = re.compile(r"([A-Z][a-z]?)(\d*)\+")
_TERM = re.compile(r"(?:(\d+(?:/\d+)?) )?(\S+)")
_STATE = re.compile(r"\((?:aq|s|l|g)\)$")


def composition(species: str) -> tuple[dict[str, int], int]:
    """Take a species apart into its elements and its charge.

    Parameters
    ----------
    species : str
        Formula such as "Cu2+", "H+", "CuCl2-", "CO3--", with or without its state, "(aq)". A number
        before the sign is the charge after a single element and + ("Cu2+"); else it counts atoms
        ("CuCl2-", "NH4+"). A group stands in brackets with its number: "Cu(OH)2".

    Returns
    -------
    tuple of dict and int
        Atoms of each element [-], and charge [elementary charges].

    Raises
    ------
    ValueError
        Not a formula: names it and shows one.

    Examples
    --------
    >>> composition("CuCl2-(aq)")
    ({'Cu': 1, 'Cl': 2}, -1)
    >>> composition("Cu2+")
    ({'Cu': 1}, 2)
    """
    formula = _STATE.sub("", species)
    cation = _MONATOMIC_CATION.fullmatch(formula)
    if cation:
        element, charge = cation.groups()
        return {element: 1}, int(charge or 1)  # no number means 1, here and below

    # Elsewhere each sign at the end is one charge, as in CO3--. It is a formula if nothing is left
    # when its elements are taken out
    core = formula.rstrip("+-")
    signs = formula[len(core) :]
    core = _GROUP.sub(lambda group: group[1] * int(group[2]), core)  # Cu(OH)2 is CuOHOH
    is_formula = core and _ELEMENT.sub("", core) == ""
    if not is_formula or len(set(signs)) > 1:
        raise InputError(
            "species",
            "write it as in CuCl2-(aq)",
            value=species,
            about=f" = {species!r}",
            wrong="is not a formula",
        )
    atoms: Counter[str] = Counter()
    for element, count in _ELEMENT.findall(core):
        atoms[element] += int(count or 1)
    return dict(atoms), signs.count("+") - signs.count("-")


@dataclass(frozen=True)
class Reaction:
    """One balanced reaction of the package's table, for one turn of its equation.

    Parameters
    ----------
    name : str
        Its name in `reactions`.
    equation : str
        As printed in the table.
    coefficients : dict
        Moles of each species [mol per turn]: products positive, reactants negative.
    """

    name: str
    equation: str
    coefficients: dict[str, Fraction]

    def imbalance(self) -> dict[str, Fraction]:
        """Return what one turn makes out of nothing; empty if it is balanced.

        Returns
        -------
        dict
            Atoms by element [-], and "charge" [elementary charges].
        """
        # In fractions, which are exact: balanced means 0, and not nearly 0
        total: dict[str, Fraction] = {}
        for species, coefficient in self.coefficients.items():
            parts, charge = composition(species)
            parts["charge"] = charge
            for part, count in parts.items():
                total[part] = total.get(part, Fraction(0)) + coefficient * count
        return {part: amount for part, amount in total.items() if amount}


def parse(name: str, equation: str) -> Reaction:
    """Read an equation, and refuse one that is not balanced.

    Parameters
    ----------
    name : str
        What to call it.
    equation : str
        Such as "H2O2(aq) -> H2O(l) + 1/2 O2(g)".

    Returns
    -------
    Reaction
        With its coefficients [mol per turn].

    Raises
    ------
    ValueError
        Not an equation, or an element or the charge is not balanced: names what is left over.

    Examples
    --------
    >>> print(parse("fizz", "H2O2(aq) -> H2O(l) + 1/2 O2(g)").coefficients["O2(g)"])
    1/2
    """
    sides = equation.split(" -> ")
    if len(sides) != 2:
        raise _no_equation(equation)
    coefficients: dict[str, Fraction] = {}
    for sign, side in zip((-1, 1), sides, strict=True):
        for text in side.split(" + "):
            term = _TERM.fullmatch(text.strip())
            if term is None:
                raise _no_equation(equation)
            count, species = term.groups()
            amount = coefficients.get(species, Fraction(0)) + sign * Fraction(count or 1)
            coefficients[species] = amount
    # What stands on both sides alike takes no part
    coefficients = {species: count for species, count in coefficients.items() if count}
    reaction = Reaction(name, equation, coefficients)
    imbalance = reaction.imbalance()
    if imbalance:
        parts = ", ".join(f"{part} {amount}" for part, amount in imbalance.items())
        raise InputError(
            "equation",
            f"left over must be 0, it is {parts}",
            value=equation,
            about=f" = {equation!r}",
            wrong="is not balanced",
        )
    return reaction


def _no_equation(equation: str) -> InputError:
    """Return the error for what cannot be read as an equation."""
    return InputError(
        "equation",
        "write it as in H2O2(aq) -> H2O(l) + 1/2 O2(g)",
        value=equation,
        about=f" = {equation!r}",
        wrong="is not an equation",
    )


@cache
def reactions() -> dict[str, Reaction]:
    """Return every reaction of the package's table by name, checked by element and charge."""
    rows = tables.read("reactions")
    return {row["name"]: parse(row["name"], row["equation"]) for row in rows}


def needed(copper: ArrayLike) -> dict[str, FloatArray]:
    """Return how much acid and peroxide an amount of copper takes with it, at the least.

    Parameters
    ----------
    copper : float or array
        Copper to dissolve [mol], 0 to 1e9.

    Returns
    -------
    dict of float or array
        "HCl" and "H2O2" [mol], by the direct reaction.

    Raises
    ------
    ValueError
        `copper` outside its limits.

    Examples
    --------
    >>> print({substance: f"{amount:.1f}" for substance, amount in needed(0.1).items()})
    {'HCl': '0.2', 'H2O2': '0.1'}
    """
    copper = check_values("copper", copper, 0, MOST_COPPER, "mol")
    return {substance: copper * amount for substance, amount in _per_copper().items()}


def carried(solution: Solution) -> dict[str, FloatArray | Draws]:
    """Return how much copper each reagent of a bath could carry by itself.

    Parameters
    ----------
    solution : Solution
        The bath, or array of baths; what copper(II) it holds is not counted.

    Returns
    -------
    dict of float or array
        Copper by "HCl", one for each two, and by "H2O2", one for each [mol].

    Examples
    --------
    >>> bath = Solution.of(volume=75e-6, T=293.15, HCl=0.068, H2O2=0.07)
    >>> print({name: f"{copper * 1000:.0f} mmol" for name, copper in carried(bath).items()})
    {'HCl': '74 mmol', 'H2O2': '163 mmol'}
    """
    copper = {}
    for substance, amount in _per_copper().items():
        copper[substance] = solution.amount(substance) / amount
    return copper


def capacity(solution: Solution) -> Any:
    """Return how much copper a bath can dissolve before its acid or its peroxide is used up.

    Parameters
    ----------
    solution : Solution
        The bath, or array of baths; what copper(II) it holds is not counted.

    Returns
    -------
    float or array
        Copper [mol]: one each peroxide, one each two acid, whichever is less.

    Examples
    --------
    >>> bath = Solution.of(volume=75e-6, T=293.15, HCl=0.068, H2O2=0.07)
    >>> print(f"{capacity(bath) * 1000:.0f} mmol")
    74 mmol
    """
    copper = carried(solution)
    return np.minimum(copper["HCl"], copper["H2O2"])


def limiting_reagent(solution: Solution) -> Any:
    """Tell which of the two reagents runs out first.

    Parameters
    ----------
    solution : Solution
        The bath, or array of baths.

    Returns
    -------
    str or array of str
        "HCl" or "H2O2" [name]; "H2O2" where both end together.

    Examples
    --------
    >>> print(limiting_reagent(Solution.of(volume=1e-3, T=293.15, HCl=0.15, H2O2=0.015)))
    H2O2
    """
    copper = carried(solution)
    acid_first = np.asarray(copper["HCl"]) < np.asarray(copper["H2O2"])
    names = np.where(acid_first, "HCl", "H2O2")
    if names.ndim == 0:
        return str(names)
    return names


def reserve(solution: Solution, board: Board) -> Any:
    """Return how many times over a bath could dissolve the copper of a board, from its start alone.

    Parameters
    ----------
    solution : Solution
        The bath, or array of baths; what copper(II) it holds is not counted.
    board : Board
        Its bare copper [mol] is to be dissolved.

    Returns
    -------
    float or array
        Capacity over copper [-]: below 1 some copper stays, below 3 the last of it goes slowly.

    Raises
    ------
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Examples
    --------
    >>> bath = Solution.of(volume=75e-6, T=293.15, HCl=0.068, H2O2=0.07)
    >>> print(f"{reserve(bath, Board(area=0.004)):.1f}")
    3.9
    """
    most, copper = capacity(solution), board.copper
    common_shape(solution=most, board=copper)
    return most / copper


@cache
def _per_copper() -> dict[str, float]:
    """Return acid and peroxide for each copper [mol/mol] in the direct reaction."""
    direct = reactions()["direct"].coefficients
    # Each HCl brings one H+. All three are reactants, so that the signs cancel
    species = {"HCl": "H+(aq)", "H2O2": "H2O2(aq)"}
    copper = direct["Cu(s)"]
    return {substance: float(direct[name] / copper) for substance, name in species.items()}
