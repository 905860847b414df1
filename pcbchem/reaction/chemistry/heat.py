"""Where the warmth comes from: reaction enthalpies with their doubt, and the temperature after each pour."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

from numpy.typing import ArrayLike

from ...common import tables
from ...common.arrays import FloatArray
from ...common.limits import check_choice, check_values
from ...matter.solution import Solution, mix
from .stoichiometry import MOST_COPPER, reactions


@cache
def _formation() -> dict[str, tuple[float, float]]:
    """Formation enthalpy and its uncertainty [J/mol] by species, at 25 °C, ions at infinite dilution."""
    return {
        row["species"]: (
            1e3 * float(row["formation_enthalpy_kJ_mol"]),
            1e3 * float(row["uncertainty_kJ_mol"]),
        )
        for row in tables.read("formation_enthalpies")
    }


def formation_enthalpy(species: str) -> tuple[float, float]:
    """Enthalpy of making a species from its elements at 25 °C; ions at infinite dilution.

    Parameters
    ----------
    species : str
        Formula with its state, such as "H2O2(aq)".

    Returns
    -------
    tuple of float
        Value and uncertainty [J/mol].

    Raises
    ------
    ValueError
        A species the table does not hold: names it and the choices.

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
    """Heat of a reaction of the package at 25 °C, from formation enthalpies; below 0 it warms.

    Parameters
    ----------
    name : str
        A reaction of the table `reactions`, such as "direct", "cupric" or "decomposition".

    Returns
    -------
    tuple of float
        Value and uncertainty [J per turn of the equation]: for "direct" and "cupric" that is per mole of copper metal.
        The uncertainty adds those of the species as independent; a real bath of some mol/L differs by up to 10 kJ/mol.

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
    terms = [
        (float(count), *formation_enthalpy(species))
        for species, count in reactions()[
            check_choice("name", name, tuple(reactions()))
        ].coefficients.items()
    ]
    return (
        math.fsum(count * value for count, value, _ in terms),
        math.hypot(*(count * doubt for count, _, doubt in terms)),
    )


def heat_of_etching(copper: ArrayLike) -> FloatArray:
    """Heat set free when copper dissolves by the direct reaction.

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
    return check_values("copper", copper, 0, MOST_COPPER, "mol") * -reaction_enthalpy("direct")[0]


def temperatures_after_pours(*solutions: Solution) -> list[Any]:
    """Temperature in the jug after each pour, when nothing reacts and no heat is lost.

    Parameters
    ----------
    *solutions : Solution
        What is poured, first to last; any order. Acid goes into water and peroxide last, whatever this says:
        a wrong order splashes hot acid before it is mixed.

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
        raise ValueError("solutions = () is nothing to pour: give at least 1")
    return [
        solutions[0].T if last == 1 else mix(*solutions[:last]).T
        for last in range(1, len(solutions) + 1)
    ]
