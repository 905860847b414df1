"""Where the warmth comes from: reaction enthalpies with their doubt, and warmth of pouring."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import FloatArray
from ...common.limits import InputError, check_choice, check_values
from ...matter.properties import present
from ...matter.solution import Solution, mix
from .stoichiometry import MOST_COPPER, reactions


@cache
def _formation() -> dict[str, tuple[float, float]]:
    """Return formation enthalpy and uncertainty [J/mol] by species."""
    enthalpies = {}
    for row in tables.read("formation_enthalpies"):
        value = 1e3 * float(row["formation_enthalpy_kJ_mol"])
        doubt = 1e3 * float(row["uncertainty_kJ_mol"])
        enthalpies[row["species"]] = (value, doubt)
    return enthalpies


def formation_enthalpy(species: str) -> tuple[float, float]:
    """Return the enthalpy of making a species from its elements, at 25 °C.

    Parameters
    ----------
    species : str
        Formula with its state, such as "H2O2(aq)".

    Returns
    -------
    tuple of float
        Value and uncertainty [J/mol]; of ions at infinite dilution.

    Raises
    ------
    ValueError
        A species that the table does not hold: names it and the choices.

    Notes
    -----
    Table `formation_enthalpies`, which names the source of each row.

    Examples
    --------
    >>> print(f"{formation_enthalpy('H2O(l)')[0] / 1000:.2f} kJ/mol")
    -285.83 kJ/mol
    """
    return _formation()[check_choice("species", species, tuple(_formation()))]


def reaction_enthalpy(name: str) -> tuple[float, float]:
    """Return the enthalpy of a reaction at 25 °C: of its products, less that of its reactants.

    Parameters
    ----------
    name : str
        A reaction of the table `reactions`, such as "direct", "cupric" or "decomposition".

    Returns
    -------
    tuple of float
        Value and uncertainty [J per turn of the equation], for "direct" and "cupric" a mole of
        copper metal; below 0 the reaction warms. The uncertainty adds those of the species as
        independent; a real bath of some mol/L differs by up to 10 kJ/mol.

    Raises
    ------
    ValueError
        An unknown reaction: names it and the choices.

    Notes
    -----
    Table `formation_enthalpies`. "cupric" rests on an estimate for CuCl2⁻ of low confidence.

    Examples
    --------
    >>> value, doubt = reaction_enthalpy("direct")
    >>> print(f"{value / 1000:.1f} ± {doubt / 1000:.1f} kJ/mol")
    -315.7 ± 1.0 kJ/mol
    """
    reaction = reactions()[check_choice("name", name, tuple(reactions()))]
    # Products count positive and reactants negative by their coefficients; in `hypot` signs go
    values, doubts = [], []
    for species, coefficient in reaction.coefficients.items():
        value, doubt = formation_enthalpy(species)
        values.append(float(coefficient) * value)
        doubts.append(float(coefficient) * doubt)
    # `fsum`, because large terms nearly cancel each other
    return math.fsum(values), math.hypot(*doubts)


def heat_of_etching(copper: ArrayLike) -> FloatArray:
    """Return the heat that is set free when copper dissolves by the direct reaction.

    Parameters
    ----------
    copper : float or array
        Copper dissolved [mol], 0 to 1e9.

    Returns
    -------
    float or array
        Heat [J], above 0: it warms the bath.

    Raises
    ------
    ValueError
        `copper` outside its limits.

    Examples
    --------
    >>> print(f"{heat_of_etching(0.013):.0f} J")
    4104 J
    """
    # Enough for both ways: the cupric step, with copper(II) made again, adds up to the direct one
    enthalpy, _ = reaction_enthalpy("direct")
    return check_values("copper", copper, 0, MOST_COPPER, "mol") * -enthalpy


def temperatures_after_pours(*solutions: Solution) -> list[Any]:
    """Return the temperature in the jug after each pour, if nothing reacts and no heat is lost.

    Parameters
    ----------
    *solutions : Solution
        What is poured, first to last; any order. Acid goes into water and peroxide last, whatever
        this says: a wrong order splashes hot acid before it is mixed.

    Returns
    -------
    list of float or array
        Temperature [K] after each pour; the last is that of `mix(*solutions)`, in any order.

    Raises
    ------
    ValueError
        Nothing to pour, or what `mix` refuses.

    Notes
    -----
    crc_enthalpy and giguere1955, as in `pcbchem.matter.solution.mix`.

    Examples
    --------
    >>> water = Solution.of(volume=225e-6, T=293.15)
    >>> acid = Solution.of(volume=75e-6, T=293.15, HCl=0.31)
    >>> print([f"{T - 273.15:.0f}" for T in temperatures_after_pours(water, acid)])
    ['20', '26']
    """
    if not solutions:
        raise InputError(
            "solutions", "give at least 1", value=(), about=" = ()", wrong="is nothing to pour"
        )
    # Each jug is mixed from the bottles themselves: so the last one is exactly what `mix` makes
    temperatures = [solutions[0].T]
    for count in range(2, len(solutions) + 1):
        temperatures.append(mix(*solutions[:count]).T)
    return temperatures


def course_of_pour(into: Solution, poured: Solution, shares: ArrayLike) -> Solution:
    """Return what is in a jug while something is poured into it, if no heat is lost.

    Parameters
    ----------
    into : Solution
        What is in the jug at first.
    poured : Solution
        All that is poured into it. Nothing here says which way round is safe: acid goes into water.
    shares : float or array
        How much of that is in already [-], 0 to 1; all three broadcast.

    Returns
    -------
    Solution
        The jug at each share [kg, K]; at 0 it is `into`, at 1 `mix(into, poured)`.

    Raises
    ------
    InputError
        A share outside 0 to 1, or what `mix` refuses.
    ValueError
        Draws of two lengths, or shapes that do not broadcast.

    Notes
    -----
    crc_enthalpy and giguere1955, as in `pcbchem.matter.solution.mix`.

    Examples
    --------
    >>> water = Solution.of(volume=225e-6, T=293.15)
    >>> acid = Solution.of(volume=75e-6, T=293.15, HCl=0.31)
    >>> print([f"{T - 273.15:.0f}" for T in course_of_pour(acid, water, [0, 0.2, 1]).T])
    ['20', '30', '26']
    """
    shares = check_values("shares", shares, 0, 1)
    in_already = Solution.from_amounts(
        mass=shares * poured.mass,
        T=poured.T,
        **{solute: shares * poured.amount(solute) for solute in present(poured.fractions)},
    )
    return mix(into, in_already)
