"""Heats of dilution and of mixing, and the temperature they lead to."""

import numpy as np
import pytest
from helpers.expected import rows
from helpers.refusals import NAN, Case, assert_refused, cases
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Solution, mix
from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.units import celsius, mL
from pcbchem.matter.heats import (
    hcl_apparent_enthalpy,
    heats_inside,
    peroxide_mixing_enthalpy,
    temperature_inside,
    warmth_inside,
)
from pcbchem.matter.properties import MOLAR_MASS, heat_capacity
from pcbchem.matter.solution import enthalpy

T25 = celsius(25)

# ---- acid


def test_table_of_acid() -> None:
    # As printed: the CRC table (Parker 1965) at its own points.
    molality = tables.column("hcl_apparent_enthalpy", "molality_mol_kg")
    printed = tables.column("hcl_apparent_enthalpy", "relative_apparent_enthalpy_kJ_mol")
    assert hcl_apparent_enthalpy(molality) == pytest.approx(1000 * printed, abs=0.5e-3)


def test_between_the_points_of_the_table() -> None:
    # Law: the cubics of scipy's shape-keeping interpolation, and never a turn.
    from scipy.interpolate import PchipInterpolator

    molality = tables.column("hcl_apparent_enthalpy", "molality_mol_kg")
    curve = PchipInterpolator(np.sqrt(molality), hcl_apparent_enthalpy(molality))
    fine = np.linspace(0, 55.5, 4001)
    heats = hcl_apparent_enthalpy(fine)
    assert heats == pytest.approx(curve(np.sqrt(fine)), rel=1e-9, abs=1e-6)
    assert np.all(np.diff(heats) > 0)


def test_dilution_from_ten_to_one_molal() -> None:
    # As printed: CRC Handbook 5-87, 10.24 - 1.695 kJ/mol.
    assert hcl_apparent_enthalpy(10) - hcl_apparent_enthalpy(1) == pytest.approx(8545, abs=50)


def test_two_strong_acids() -> None:
    # As printed: one HCl in 5 with one HCl in 15 of water gives two in 20: -3.862 kJ on Parker's
    # scale.
    def heat_in(waters: float) -> float:
        return float(hcl_apparent_enthalpy(1 / (waters * MOLAR_MASS["H2O"])))

    heat = 2 * heat_in(10) - heat_in(5) - heat_in(15)
    assert heat / 1000 == pytest.approx(-3.862, abs=0.01)


def test_water_into_twenty_baume() -> None:
    # As printed: 100 mL of 31.45 wt% into 300 mL of water from 25 C warms by 6.6 K (enthalpies of
    # CRC 5-87, by hand).
    acid = Solution.of(volume=100 * mL, T=T25, HCl=0.3145)
    bath = mix(acid, Solution.of(volume=300 * mL, T=T25))
    rise = bath.T - T25
    assert rise == pytest.approx(6.6, abs=0.4)


# ---- peroxide


def test_curve_of_peroxide() -> None:
    # As printed: 819 cal/mol without end, Giguere and others 1955 (abstract); by hand at one half
    # 944 cal/mol times one half.
    assert peroxide_mixing_enthalpy(0.0) == pytest.approx(-819 * 4.184, abs=1)
    assert peroxide_mixing_enthalpy(0.5) == pytest.approx(-1975, abs=1)


def test_no_heat_without_water() -> None:
    # Law.
    assert peroxide_mixing_enthalpy(1.0) == 0


def test_peroxide_into_water_warms() -> None:
    # Law: the heat of dilution alone, over the heat capacity, with no acid about.
    peroxide = Solution.of(volume=100 * mL, T=T25, H2O2=0.30)
    bath = mix(peroxide, Solution.of(volume=300 * mL, T=T25))
    before = heats_inside(peroxide.mass, peroxide.fractions)
    after = heats_inside(bath.mass, bath.fractions)
    heat = before - after
    rise = bath.T - T25
    assert heat > 0
    assert rise == pytest.approx(heat / (bath.mass * bath.heat_capacity), rel=1e-3)


# ---- baths


@pytest.mark.parametrize("row", rows("reference_baths", CuII_start_mol_m3="0"))
def test_starts_of_worked_cases(row: dict[str, str]) -> None:
    # Second source: computed with other densities and heat capacities.
    T = celsius(float(row["room_C"]))
    bath = mix(
        Solution.of(volume=float(row["parts_water"]), T=T),
        Solution.of(volume=float(row["parts_acid"]), T=T, HCl=float(row["w_HCl"])),
        Solution.of(volume=float(row["parts_peroxide"]), T=T, H2O2=float(row["w_H2O2"])),
    )
    assert bath.concentration("HCl") == pytest.approx(float(row["HCl_mol_m3"]), rel=0.01)
    assert bath.concentration("H2O2") == pytest.approx(float(row["H2O2_mol_m3"]), rel=0.01)
    assert pytest.approx(float(row["start_T_K"]), abs=1.5) == bath.T


def test_heats_of_acid_and_peroxide_add_where_neither_is() -> None:
    # Law: no solute has no heat, and a mixture of both has both.
    assert heats_inside(2.0, {}) == 0
    assert heats_inside(2.0, {"HCl": 0.0, "H2O2": 0.0}) == 0
    acid = heats_inside(2.0, {"HCl": 0.1})
    both = heats_inside(np.array([2.0, 2.0]), {"HCl": 0.1, "H2O2": np.array([0.0, 0.1])})
    assert both[0] == acid
    assert both[1] < acid


def test_warmth_is_the_integral_of_the_heat_capacity() -> None:
    # Law: warming strong acid from 25 to 60 C takes what scipy's quadrature says.
    from scipy.integrate import quad

    moles = 0.35 / MOLAR_MASS["HCl"]
    cold = Solution.from_amounts(mass=1.0, T=T25, HCl=moles)
    hot = Solution.from_amounts(mass=1.0, T=celsius(60), HCl=moles)
    expected, _ = quad(lambda T: heat_capacity(T, HCl=0.35), T25, celsius(60))
    assert enthalpy(hot) - enthalpy(cold) == pytest.approx(expected, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.floats(250, 400), st.floats(250, 400), st.floats(0, 0.4), st.floats(0, 0.3))
def test_the_temperature_of_a_warmth(T: float, start: float, acid: float, copper: float) -> None:
    # Law: from any start the temperature comes back from its warmth.
    fractions = {"HCl": np.asarray(acid), "CuCl2": np.asarray(copper)}
    warmth = warmth_inside(np.asarray(T), fractions)
    assert temperature_inside(warmth, start, fractions) == pytest.approx(T, abs=1e-6)


def test_a_warmth_that_is_no_number_stops() -> None:
    # Law: an endless search would be worse.
    with pytest.raises(RuntimeError, match="not found in 20 steps"):
        temperature_inside(NAN, 300.0, {})


# ---- arguments


def test_draws_keep_their_mark() -> None:
    # Law.
    assert isinstance(hcl_apparent_enthalpy(as_draws([1.0, 2.0])), Draws)
    assert isinstance(peroxide_mixing_enthalpy(as_draws([0.1])), Draws)
    assert np.ndim(hcl_apparent_enthalpy(1.0)) == np.ndim(peroxide_mixing_enthalpy(0.1)) == 0
    assert hcl_apparent_enthalpy([[1.0, 2.0]]).shape == (1, 2)


REFUSED: list[Case] = [
    ("molality beyond the table", lambda: hcl_apparent_enthalpy(60), ("molality", "60", "55.506")),
    ("negative molality", lambda: hcl_apparent_enthalpy([1, -1]), ("molality", "-1", "0 to")),
    ("mole fraction above one", lambda: peroxide_mixing_enthalpy(1.1), ("x", "1.1", "0 to 1")),
    ("no mole fraction", lambda: peroxide_mixing_enthalpy(NAN), ("x", "nan", "0 to 1")),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)
