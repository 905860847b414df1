"""A second opinion: what a general library of properties says of two liquids, beside us."""

from __future__ import annotations

import dataclasses
import json
import subprocess
import sys
from functools import cache

from ...common.extras import extra
from ...common.limits import check_choice
from ...common.number_words import figures
from ...common.units import celsius, percent
from ...matter.properties import density, heat_capacity
from ...page.table import Table

ASK = """
import json, sys
from thermo import electrochem
name, T, share, number = json.loads(sys.argv[1])
print(json.dumps(getattr(electrochem, name)(T, [share], [number])))
"""
"""Asks the library in a process of its own: what it loads would double a page's memory."""
WHY = "where they differ, and why"
"""What stands under the table."""
PATIENCE = 120
"""How long it may take [s]."""


@dataclasses.dataclass(frozen=True)
class Case:
    """One property of one liquid.

    Parameters
    ----------
    liquid : str
        Its name on the page.
    substance, number : str
        What is dissolved, by our name and by its CAS number.
    strength, t : float
        How much of it [% by weight], and its temperature [°C].
    unit : str
        Of the property.
    function : str
        What the library calls the equation.
    handbook : float
        What is printed [`unit`].
    from_where : str
        Where it is printed, and how it was read.
    why : str
        Why library and handbook differ.
    """

    liquid: str
    substance: str
    number: str
    strength: float
    t: float
    unit: str
    function: str
    handbook: float
    from_where: str
    why: str


CASES = {
    "density": Case(
        "peroxide",
        "H2O2",
        "7722-84-1",
        28,
        18,
        "kg/m³",
        "Laliberte_density",
        1104.0,
        "Perry's Handbook, from memory",
        "Two equations through other measurements; nothing here needs them nearer.",
    ),
    "heat capacity": Case(
        "acid",
        "HCl",
        "7647-01-0",
        33.6,
        20,
        "J/kg/K",
        "Laliberte_heat_capacity",
        2473.0,
        "Perry's Handbook, Table 2-207, read in a copy",
        "The library's equation was fitted to acid of at most 6.5 %. Asked for more it answers, "
        "without a word of that. Ours was fitted to this table.",
    ),
}
"""What the library is asked."""
OURS = {"density": density, "heat capacity": heat_capacity}


@cache
def library_value(quantity: str) -> float:
    """Ask the library `thermo` [unit of the case].

    Raises
    ------
    InputError
        No such case.
    ModuleNotFoundError
        The library is missing: says what to install.
    """
    case = CASES[check_choice("quantity", quantity, tuple(CASES))]
    with extra("lab"):
        # found, not loaded
        from importlib.metadata import distribution

        distribution("thermo")
    question = [case.function, celsius(case.t), percent(case.strength), case.number]
    answer = subprocess.run(
        [sys.executable, "-c", ASK, json.dumps(question)],
        capture_output=True,
        check=True,
        text=True,
        timeout=PATIENCE,
    )
    return float(json.loads(answer.stdout))


def our_value(quantity: str) -> float:
    """Return what this package says [unit of the case]."""
    case = CASES[check_choice("quantity", quantity, tuple(CASES))]
    return float(OURS[quantity](celsius(case.t), **{case.substance: percent(case.strength)}))


def second_opinion(*quantities: str) -> Table:
    """Say each property three times: here, by the library, in a handbook; how far apart and why.

    Parameters
    ----------
    *quantities : str
        "density", "heat capacity".

    Returns
    -------
    Table
        A row for each [its unit stands in its name], with the reasons beneath.

    Raises
    ------
    InputError
        Neither of the two.
    ModuleNotFoundError
        The library is missing: says what to install.

    Notes
    -----
    laliberte2004 and laliberte2009 in the library; perry_heat; easton1952 for our density.
    """
    rows = {}
    for quantity in quantities:
        case = CASES[check_choice("quantity", quantity, tuple(CASES))]
        theirs = library_value(quantity)
        off = theirs / case.handbook - 1
        way = "above" if off > 0 else "below"
        rows[f"{quantity} of {case.strength:g} % {case.liquid}, {case.t:g} °C ({case.unit})"] = {
            "here": f"{our_value(quantity):.0f}",
            "library thermo": f"{theirs:.0f}",
            "handbook": f"{case.handbook:.0f}",
            WHY: f"the library lies {figures(100 * abs(off))} % {way} the handbook "
            f"({case.from_where}). {case.why}",
        }
    return Table(rows, beneath=WHY, caption="A second opinion")
