"""Heats of dilution and of mixing."""

import numpy as np
import pytest
from helpers.expected import rows

from pcbchem import Solution, mix
from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.units import celsius, mL
from pcbchem.matter.heats import hcl_apparent_enthalpy, heats_inside, peroxide_mixing_enthalpy
from pcbchem.matter.properties import MOLAR_MASS, heat_capacity
from pcbchem.matter.solution import enthalpy


def test_table_of_acid() -> None:
    # Transcription: the CRC table (Parker 1965) at its own points.
    m = tables.column("hcl_apparent_enthalpy", "molality_mol_kg")
    printed = tables.column("hcl_apparent_enthalpy", "relative_apparent_enthalpy_kJ_mol")
    assert hcl_apparent_enthalpy(m) == pytest.approx(1000 * printed, abs=0.5e-3)


def test_between_the_points() -> None:
    # Law: the cubics of scipy's shape-keeping interpolation, and never outside two neighbours.
    from scipy.interpolate import PchipInterpolator

    m = tables.column("hcl_apparent_enthalpy", "molality_mol_kg")
    curve = PchipInterpolator(np.sqrt(m), hcl_apparent_enthalpy(m))
    fine = np.linspace(0, 55.5, 4001)
    assert hcl_apparent_enthalpy(fine) == pytest.approx(curve(np.sqrt(fine)), rel=1e-9, abs=1e-6)
    assert np.all(np.diff(hcl_apparent_enthalpy(fine)) > 0)
    assert isinstance(hcl_apparent_enthalpy(as_draws([1.0, 2.0])), Draws)


def test_dilution_from_ten_to_one_molal() -> None:
    # Validation: 8.545 kJ/mol, CRC Handbook 5-87: 10.24 - 1.695.
    assert hcl_apparent_enthalpy(10) - hcl_apparent_enthalpy(1) == pytest.approx(8545, abs=50)


def test_two_strong_acids() -> None:
    # Transcription: one HCl in 5 with one HCl in 15 of water gives two in 20: -3.862 kJ on Parker's scale.
    def held(waters: float) -> float:
        return float(hcl_apparent_enthalpy(1 / (waters * MOLAR_MASS["H2O"])))

    assert (2 * held(10) - held(5) - held(15)) / 1000 == pytest.approx(-3.862, abs=0.01)


def test_curve_of_peroxide() -> None:
    # Validation of the limit: 819 cal/mol, Giguere and others 1955 (abstract). Law: no heat without water.
    assert peroxide_mixing_enthalpy(0.0) == pytest.approx(-819 * 4.184, abs=1)
    assert peroxide_mixing_enthalpy(1.0) == 0
    assert peroxide_mixing_enthalpy(0.5) == pytest.approx(
        -1975, abs=1
    )  # by hand: 944 cal/mol times one half
    assert isinstance(peroxide_mixing_enthalpy(as_draws([0.1])), Draws)


def test_water_into_twenty_baume() -> None:
    # Validation: 100 mL of 31.45 wt% into 300 mL of water from 25 C warms by 6.6 K (enthalpies of CRC 5-87 by hand).
    acid = Solution.of(volume=100 * mL, T=celsius(25), HCl=0.3145)
    assert mix(acid, Solution.of(volume=300 * mL, T=celsius(25))).T - celsius(25) == pytest.approx(
        6.6, abs=0.4
    )


def test_equal_volumes_of_acid_and_peroxide() -> None:
    # Validation: the published starts of worked cases, computed with other densities and heat capacities.
    for row in rows("reference_baths", CuII_start_mol_m3="0"):
        T = celsius(float(row["room_C"]))
        bath = mix(
            Solution.of(volume=float(row["parts_water"]), T=T),
            Solution.of(volume=float(row["parts_acid"]), T=T, HCl=float(row["w_HCl"])),
            Solution.of(volume=float(row["parts_peroxide"]), T=T, H2O2=float(row["w_H2O2"])),
        )
        assert bath.concentration("HCl") == pytest.approx(float(row["HCl_mol_m3"]), rel=0.01)
        assert bath.concentration("H2O2") == pytest.approx(float(row["H2O2_mol_m3"]), rel=0.01)
        assert pytest.approx(float(row["start_T_K"]), abs=1.5) == bath.T


def test_peroxide_into_water_warms() -> None:
    # Law: the heat of dilution alone, over the heat capacity, with no acid about.
    peroxide = Solution.of(volume=100 * mL, T=celsius(25), H2O2=0.30)
    water = Solution.of(volume=300 * mL, T=celsius(25))
    bath = mix(peroxide, water)
    heat = heats_inside(peroxide.mass, peroxide.fractions) - heats_inside(bath.mass, bath.fractions)
    assert heat > 0
    assert bath.T - celsius(25) == pytest.approx(heat / (bath.mass * bath.heat_capacity), rel=1e-3)


def test_enthalpy_is_zero_where_it_is_counted_from() -> None:
    # Law: pure water at 25 C holds none; dilute acid holds only what the table says.
    assert enthalpy(Solution.of(volume=1.0, T=celsius(25))) == 0
    assert enthalpy(Solution.from_amounts(mass=1.0, T=celsius(35))) == pytest.approx(
        4180 * 10, rel=1e-3
    )


def test_warmth_is_the_integral_of_the_heat_capacity() -> None:
    # Law: warming strong acid from 25 to 60 C takes what scipy's quadrature of its heat capacity says.
    from scipy.integrate import quad

    cold, hot = (
        Solution.from_amounts(mass=1.0, T=celsius(t), HCl=0.35 / MOLAR_MASS["HCl"])
        for t in (25, 60)
    )
    expected, _ = quad(lambda T: heat_capacity(T, HCl=0.35), celsius(25), celsius(60))
    assert enthalpy(hot) - enthalpy(cold) == pytest.approx(expected, rel=1e-6)
