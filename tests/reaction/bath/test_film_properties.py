"""The short forms of the film against published tables and the package's exact properties."""

import pytest
from helpers.expected import printed_figure, rows
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem import Solution
from pcbchem.common.units import celsius
from pcbchem.matter.properties import MOLAR_MASS, density, heat_capacity
from pcbchem.reaction.bath.film_properties import (
    CUPRIC_HEAT,
    DECAY_HEAT,
    ETCH_HEAT,
    Composition,
    cucl_saturation,
    film_density,
    viscosity,
    volumetric_heat_capacity,
    water_activity,
)
from pcbchem.reaction.chemistry.heat import reaction_enthalpy

STATED = {
    "H2O": (-0.02, 0.02, 0.0),
    "HCl": (-0.06, 0.03, 6000.0),
    "CuCl2": (-0.02, 0.02, 1200.0),
    "H2O2": (-0.03, 0.03, 5000.0),
}
"""Stated error of the viscosity, low and high [-], and how much solute it holds for [mol/m³]."""
BEYOND = {("HCl", "0.2", "40"): 0.08}
"""The one row of the table that the short form misses by more [-]."""
ARGUMENT = {"HCl": "acid", "H2O2": "peroxide", "CuCl2": "copper"}


def concentration(mass_fraction, substance, T):
    """Return the concentration [mol/m³] of a substance [kg/kg] in water at T [K]."""
    whole = density(T, **{substance: mass_fraction})
    return mass_fraction * whole / MOLAR_MASS[substance]


@pytest.mark.parametrize("solute", STATED)
def test_second_source_viscosity_within_its_stated_errors(solute):
    # IAPWS 2008 (water), CRC Handbook from memory (HCl), Laliberte 2009 (HCl, H2O2, CuCl2)
    low, high, most = STATED[solute]
    compared = 0
    for row in rows("viscosity", solute=solute):
        T, mass_fraction = celsius(float(row["T_C"])), float(row["mass_frac"])
        if not 288 <= T <= 323.2 or mass_fraction > 0.33:
            continue
        amounts = {}
        if solute != "H2O":
            amounts[ARGUMENT[solute]] = concentration(mass_fraction, solute, T)
        if any(amount > most for amount in amounts.values()):
            continue
        printed = row["viscosity_handbook_mPa_s"] or row["viscosity_laliberte_mPa_s"]
        error = 1000 * viscosity(T, **amounts) / float(printed) - 1
        beyond = BEYOND.get((solute, row["mass_frac"], row["T_C"]))
        if beyond is None:
            assert low <= error <= high, row
        else:
            assert -beyond <= error < low, row
        compared += 1
    assert compared >= 4


PRINTED = {
    "C30c1": lambda: viscosity(293.15),
    "C30c2": lambda: viscosity(298.15),
    "C30d1": lambda: viscosity(
        293.15, Solution.of(volume=1e-3, T=293.15, HCl=0.10).concentration("HCl")
    ),
}


@pytest.mark.parametrize("check", PRINTED)
def test_published(check):
    # Second source: each row names its own
    assert float(PRINTED[check]()) * 1e3 == printed_figure(check)


def test_second_source_water_activity_by_pitzer():
    # Pitzer parameters of 10.1021/je2009329 in a general electrolyte library, HCl to 6 mol/L
    for row in rows("hcl_activity"):
        acid = concentration(float(row["mass_frac"]), "HCl", 298.15)
        if acid <= 6000:
            expected = float(row["water_activity"])
            assert water_activity(acid, 0.0) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("HCl", "H2O2", "CuCl2"),
    [
        (0, 0, 0),
        (0.05, 0.06, 0),
        (0.10, 0.10, 0.03),
        (0.155, 0.015, 0),
        (0.16, 0.15, 0),
        (0.07, 0.07, 0.05),
    ],
)
@pytest.mark.parametrize("T", [293.15, 303.15, 318.15])
def test_second_source_density_and_heat_capacity_of_matter(HCl, H2O2, CuCl2, T):
    mass_fractions = {"HCl": HCl, "H2O2": H2O2, "CuCl2": CuCl2}
    whole = density(T, **mass_fractions)
    amounts = [w * whole / MOLAR_MASS[name] for name, w in mass_fractions.items()]
    assert film_density(*amounts) == pytest.approx(whole, rel=0.02)
    exact = whole * heat_capacity(T, **mass_fractions)
    assert volumetric_heat_capacity(*amounts) == pytest.approx(exact, rel=0.02)


def test_second_source_heats_are_those_of_the_reactions():
    assert pytest.approx(-reaction_enthalpy("direct")[0], rel=1e-3) == ETCH_HEAT
    assert pytest.approx(-reaction_enthalpy("decomposition")[0], rel=1e-3) == DECAY_HEAT
    assert pytest.approx(reaction_enthalpy("cupric")[0], rel=1e-2) == CUPRIC_HEAT


@pytest.mark.parametrize("chloride", [1.0, 100.0, 1000.0, 5000.0])
def test_law_bound_and_unbound_chloride_are_all_of_it(chloride):
    # CuCl2- = k2 x binds one more chloride than CuCl, CuCl3-- = k2 k3 x² two more
    k2, k3 = 0.06, 1.95
    dissolved = cucl_saturation(chloride, k2, k3) / 1000
    unbound = (-1 + (1 + 4 * k3 * dissolved / k2) ** 0.5) / (2 * k3)
    first, second = k2 * unbound, k2 * k3 * unbound**2
    assert first + second == pytest.approx(dissolved)
    assert unbound + first + 2 * second == pytest.approx(chloride / 1000)


def test_law_a_composition_adds_up():
    bath = Composition(acid=2000.0, peroxide=1000.0, cupric=300.0, cuprous=40.0)
    assert bath.copper == 340.0
    assert bath.chloride == 2300.0
    assert bath.heat_capacity == volumetric_heat_capacity(2000.0, 1000.0, 340.0)


REFUSED: list[Case] = [
    ("too hot", lambda: viscosity(500.0), ("T = 500 ", "250 to 400")),
    ("no number", lambda: viscosity(300, NAN), ("acid = nan ", "0 to 20000")),
    ("too much", lambda: viscosity(300, 0, 4e4), ("peroxide = 40000 ", "0 to 30000")),
    ("less than none", lambda: viscosity(300, 0, 0, -1), ("copper = -1 ", "0 to 6000")),
]


@cases(REFUSED)
def test_law_impossible_liquids_are_refused(call, words):
    assert_refused(call, words)
