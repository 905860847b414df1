"""Who meets whom in what numbers: balanced reactions, the limiting reagent and how much copper a bath can carry."""

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
from ...common.limits import check_values
from ...matter.solution import Solution
from ..bath.setup import Board

MOST_COPPER = 1e9
"""Largest amount of copper that can be meant [mol]."""

_ELEMENT = re.compile(r"([A-Z][a-z]?)(\d*)")
_MONATOMIC_CATION = re.compile(r"^([A-Z][a-z]?)(\d*)\+$")
_TERM = re.compile(r"^(?:(\d+(?:/\d+)?) )?(\S+)$")


def composition(species: str) -> tuple[dict[str, int], int]:
    """Take a species apart into its elements and its charge.

    Parameters
    ----------
    species : str
        Formula such as "Cu2+", "H+", "CuCl2-", "CO3--", with or without its state, "(aq)". A number before the sign
        is the charge after a single element and + ("Cu2+"); else it counts atoms ("CuCl2-", "NH4+").

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
    bare = re.sub(r"\((?:aq|s|l|g)\)$", "", species)
    if cation := _MONATOMIC_CATION.match(bare):
        return {cation[1]: 1}, int(cation[2] or 1)
    core = bare.rstrip("+-")
    signs = bare[len(core) :]
    if not core or len(set(signs)) > 1 or _ELEMENT.sub("", core):
        raise ValueError(f"species = {species!r} is not a formula: write it as in CuCl2-(aq)")
    atoms: Counter[str] = Counter()
    for symbol, count in _ELEMENT.findall(core):
        atoms[symbol] += int(count or 1)
    return dict(atoms), len(signs) * (1 if signs.startswith("+") else -1)


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
        """What one turn makes out of nothing [atoms, and "charge" in elementary charges]; empty if it is balanced."""
        total: dict[str, Fraction] = {}
        for species, count in self.coefficients.items():
            atoms, charge = composition(species)
            for part, many in {**atoms, "charge": charge}.items():
                total[part] = total.get(part, Fraction(0)) + count * many
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
    terms = [[_TERM.match(term.strip()) for term in side.split(" + ")] for side in sides]
    if len(sides) != 2 or not all(term for side in terms for term in side):
        raise ValueError(
            f"equation = {equation!r} is not an equation: write it as in H2O2(aq) -> H2O(l) + 1/2 O2(g)"
        )
    coefficients: dict[str, Fraction] = {}
    for sign, side in zip((-1, 1), terms, strict=True):
        for term in side:
            assert term is not None
            coefficients[term[2]] = coefficients.get(term[2], Fraction(0)) + sign * Fraction(
                term[1] or 1
            )
    reaction = Reaction(
        name, equation, {species: count for species, count in coefficients.items() if count}
    )
    if left := reaction.imbalance():
        said = ", ".join(f"{part} {amount}" for part, amount in left.items())
        raise ValueError(
            f"equation = {equation!r} is not balanced: left over must be 0, it is {said}"
        )
    return reaction


@cache
def reactions() -> dict[str, Reaction]:
    """Every reaction of the package's table by name, each checked by element and charge [mol per turn]."""
    return {row["name"]: parse(row["name"], row["equation"]) for row in tables.read("reactions")}


def needed(copper: ArrayLike) -> dict[str, FloatArray]:
    """How much acid and peroxide an amount of copper takes with it, at the least.

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
    return {substance: copper * share for substance, share in _per_copper().items()}


def capacity(solution: Solution) -> Any:
    """How much copper a bath can dissolve before its acid or its peroxide is used up.

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
    >>> print(f"{capacity(Solution.of(volume=75e-6, T=293.15, HCl=0.068, H2O2=0.07)) * 1000:.0f} mmol")
    74 mmol
    """
    found = _capacities(solution)
    return np.minimum(found["HCl"], found["H2O2"])


def limiting_reagent(solution: Solution) -> Any:
    """Which of the two reagents runs out first.

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
    found = _capacities(solution)
    names = np.where(np.asarray(found["HCl"]) < np.asarray(found["H2O2"]), "HCl", "H2O2")
    return names if names.ndim else str(names)


def reserve(solution: Solution, board: Board) -> Any:
    """How many times over a bath could dissolve the copper of a board, from its start alone.

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
    able, copper = capacity(solution), board.copper
    common_shape(solution=able, board=copper)
    return able / copper


@cache
def _per_copper() -> dict[str, float]:
    """Acid and peroxide for each copper [mol/mol], from the direct reaction; the acid brings H+ one to one."""
    direct = reactions()["direct"].coefficients
    return {
        substance: float(direct[species] / direct["Cu(s)"])
        for substance, species in (("HCl", "H+(aq)"), ("H2O2", "H2O2(aq)"))
    }


def _capacities(solution: Solution) -> dict[str, FloatArray | Draws]:
    """Copper [mol] that each reagent of a bath could carry by itself."""
    return {
        substance: solution.amount(substance) / share for substance, share in _per_copper().items()
    }
