"""Published check values of heat, copper and viscosity, each asserted through a function of the package.

Kind of each: transcription where the package is built from the same figure, validation where it comes from another
source or from arithmetic with other numbers, law where it follows from a definition.
"""

import csv
from pathlib import Path

import pytest

from pcbchem.matter.heats import hcl_apparent_enthalpy, peroxide_mixing_enthalpy
from pcbchem.matter.properties import heat_capacity
from pcbchem.matter.solution import Solution
from pcbchem.reaction.bath.film_properties import viscosity
from pcbchem.reaction.bath.setup import COPPER_MOLAR_MASS, Board, Foil
from pcbchem.reaction.chemistry.heat import heat_of_etching, reaction_enthalpy
from pcbchem.reaction.chemistry.stoichiometry import needed

with (Path(__file__).parents[2] / "published" / "checks_solutions.csv").open(
    encoding="utf-8", newline=""
) as file:
    PRINTED = {row["id"]: row for row in csv.DictReader(file)}

EUROCARD = Board(0.100, 0.160, 1.0)  # 100 x 160 mm, one side, all copper, 1 oz
H2O2 = 0.0340147  # kg/mol, IUPAC


def kilojoules(name):
    return reaction_enthalpy(name)[0] / 1e3


def viscosity_of_acid(mass_fraction):
    acid = Solution.of(volume=1e-3, T=293.15, HCl=mass_fraction)
    return viscosity(293.15, acid.concentration("HCl")) * 1e3


def peroxide_volume():
    strength = Solution.of(volume=1e-3, T=293.15, H2O2=0.30).concentration("H2O2")
    return needed(EUROCARD.copper)["H2O2"] / strength * 1e6


def peroxide_heat_capacity():
    # mixing by mass with water: what is left when the water's share is taken off
    w = 0.5
    return (heat_capacity(298.15, H2O2=w) - (1 - w) * heat_capacity(298.15)) / w * H2O2


CHECKS = {
    "C13": ("validation", lambda: kilojoules("solution of hydrogen chloride")),
    "C13b": ("validation", lambda: kilojoules("solution of lye")),
    "C13c": ("validation", lambda: kilojoules("solution of salt")),
    "C14a": ("transcription", lambda: hcl_apparent_enthalpy(10.0) / 1e3),
    "C14c": (
        "transcription",
        lambda: (hcl_apparent_enthalpy(12.583) - hcl_apparent_enthalpy(1.0)) / 1e3,
    ),
    "C15c": ("transcription", lambda: kilojoules("neutralisation")),
    "C19": ("validation", lambda: kilojoules("decomposition of the liquid")),
    "C19b": ("transcription", lambda: peroxide_mixing_enthalpy(0.0) / 1e3),
    "C19c": ("transcription", peroxide_heat_capacity),
    "C26": ("law", lambda: Foil.ounces(1).areal_mass * 1e3),
    "C26b": ("law", lambda: Foil(areal_mass=0.305).thickness_at(8930) * 1e6),
    "C26e": ("law", lambda: Foil(areal_mass=0.3355).thickness_at(8930) * 1e6),
    "C26d": ("law", lambda: Foil.ounces(1).thickness_at(8900) * 1e6),
    "C27": ("law", lambda: EUROCARD.copper * COPPER_MOLAR_MASS * 1e3),
    "C27b": ("law", lambda: EUROCARD.copper * 1e3),
    "C27c": ("validation", peroxide_volume),
    "C27e": ("transcription", lambda: heat_of_etching(EUROCARD.copper) / 1e3),
    "C30c1": ("validation", lambda: viscosity(293.15) * 1e3),
    "C30c2": ("validation", lambda: viscosity(298.15) * 1e3),
    "C30d1": ("validation", lambda: viscosity_of_acid(0.10)),
    "C33": ("transcription", lambda: kilojoules("neutralisation by bicarbonate")),
    "C33c": ("transcription", lambda: kilojoules("solution of copper chloride")),
}


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    row, (kind, value) = PRINTED[check], CHECKS[check]
    # the source and the tolerance stand in the row
    tolerance = {
        key: float(row[f"{name}_tolerance"])
        for key, name in (("abs", "absolute"), ("rel", "relative"))
        if row[f"{name}_tolerance"] != "-"
    }
    assert len(tolerance) == 1
    assert float(value()) == pytest.approx(float(row["expected"]), **tolerance), (
        f"{kind}: {row['source']}"
    )
