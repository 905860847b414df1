"""Which of two takes the electrons: standard potentials of metals, peroxide and chlorine."""

from __future__ import annotations

from functools import cache

from ...common import tables
from ...common.limits import check_choice

FARADAY = 96_485.33212
"""Charge of a mole of electrons [C/mol] (SI, by definition)."""


@cache
def _couples() -> dict[str, tuple[float, int]]:
    """Return the standard potential [V] and the number of electrons [-] of each couple."""
    return {
        row["couple"]: (float(row["potential_V"]), int(row["electrons"]))
        for row in tables.read("electrode_potentials")
    }


def potential(couple: str) -> float:
    """Look up a standard potential at 25 °C: of two metals the higher one comes out of solution.

    Parameters
    ----------
    couple : str
        "peroxide" or "chlorine" in acid; a metal beside its ion: "silver", "copper", "copper(I)",
        "tin", "nickel", "zinc".

    Returns
    -------
    float
        Against the hydrogen electrode [V], ions and gases at 1 mol/L and 1 bar.

    Raises
    ------
    InputError
        A couple that the table does not have: names those that it has.

    Notes
    -----
    Table `electrode_potentials`, recalled from a handbook, with its doubt in each row.

    Examples
    --------
    >>> print(f"copper {potential('copper'):.2f} V, tin {potential('tin'):.2f} V")
    copper 0.34 V, tin -0.14 V
    """
    return _couples()[check_choice("couple", couple, tuple(_couples()))][0]


def electrons(couple: str) -> int:
    """Return how many electrons a couple takes for each of its ion or molecule [-].

    Parameters
    ----------
    couple : str
        As for `potential`.

    Returns
    -------
    int
        1 or 2 [-].

    Raises
    ------
    InputError
        A couple that the table does not have.

    Examples
    --------
    >>> print(electrons("tin"), electrons("copper(I)"))
    2 1
    """
    return _couples()[check_choice("couple", couple, tuple(_couples()))][1]
