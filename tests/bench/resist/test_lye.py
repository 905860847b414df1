"""Strength, heat and pH of lye: against handbook figures, a hand balance and a second model."""

import numpy as np
import pytest
from helpers.expected import rows
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.resist import (
    HANDLING,
    heat_of_solution,
    lye_mass,
    lye_strength,
    pH_of_lye,
    warming,
)
from pcbchem.bench.resist.lye import MOST_CONCENTRATION
from pcbchem.common import tables
from pcbchem.common.arrays import Draws
from pcbchem.common.band import between
from pcbchem.matter.properties import density

NAOH = 39.997
"""Mass of a mole [g/mol] (IUPAC)."""
PITZER = {100.0: 12.885, 250.0: 13.252, 312.5: 13.343, 500.0: 13.537}
"""pH at 25 °C of so much lye [mol/m³, nearly mol/kg], by the Pitzer database of PHREEQC 3."""


WEAK = [
    row
    for row in rows("naoh_density")
    if float(row["mass_fraction"]) < 0.047 and float(row["T_C"]) <= 40
]


@pytest.mark.parametrize("row", WEAK, ids=lambda row: f"{row['mass_fraction']} {row['T_C']}")
def test_second_source_strength_by_a_table_of_densities(row):
    """A web table of electrolyte densities, to 40 °C: it drifts from the handbook above."""
    w, T, printed = (float(row[key]) for key in ("mass_fraction", "T_C", "density_kg_m3"))
    T += 273.15
    assert len(WEAK) > 20
    by_table = w * printed / (NAOH / 1000)
    assert lye_strength(w, 1 - w, T) == pytest.approx(by_table, rel=0.0015)


def test_second_source_warming_by_hand():
    # a quarter of a mole at 44.1 kJ, in 1.01 kg of 4.18 kJ/kg/K
    assert warming(0.010, 1.0) == pytest.approx(0.25 * 44.1 / (1.01 * 4.18), rel=0.02)


def test_second_source_a_class_measured_it():
    """6.50 g in 100.0 g of water rose by 16.2 K (a school's worked figures); some heat is lost."""
    assert 16.2 < warming(6.50e-3, 0.100, 298.15) < 17.6


def test_fifty_grams_in_a_tenth_of_a_litre_boil():
    assert 20 + warming(0.050, 0.100) > 100


def test_law_the_heat_has_one_scale_and_gets_less_in_less_water():
    water = np.array([3.0, 4.0, 5.0, 10.0, 1e9])
    heat = heat_of_solution(water)
    assert np.all(np.diff(heat) < 0)
    assert heat[-1] == pytest.approx(-44_510, abs=1)
    scale = [float(row["heat_kJ_per_mol"]) for row in tables.read("lye_solution_heat")]
    # the other scale ends at −42.89
    assert min(scale) == -44.51 and max(scale) < -30


def test_second_source_the_package_s_own_enthalpies():
    """Solid lye into much water by formation enthalpies: −44.5 kJ/mol (NBS 1982)."""
    heat = {
        row["species"]: float(row["formation_enthalpy_kJ_mol"])
        for row in tables.read("formation_enthalpies")
    }
    dissolved = heat["Na+(aq)"] + heat["OH-(aq)"] - heat["NaOH(s)"]
    assert dissolved == pytest.approx(heat_of_solution(1e9) / 1000, abs=0.3)


@pytest.mark.parametrize("concentration", PITZER)
def test_second_source_pH_by_pitzer(concentration):
    assert pH_of_lye(concentration) == pytest.approx(PITZER[concentration], abs=0.03)


def test_law_pH_lies_below_that_without_activities():
    strengths = np.geomspace(0.1, 500, 20)
    plain = 13.995 + np.log10(strengths / 1000)
    assert np.all(pH_of_lye(strengths) < plain) and np.all(np.diff(pH_of_lye(strengths)) > 0)


@given(st.floats(1e-4, 0.04), st.floats(0.9, 1.0))
def test_law_impure_lye_is_as_much_weaker_and_cooler(lye, purity):
    pure = lye_strength(lye, 1.0)
    assert lye_strength(lye, 1.0, purity=purity) == pytest.approx(purity * pure, rel=6e-3)
    assert warming(lye, 1.0, purity=purity) == pytest.approx(purity * warming(lye, 1.0), rel=0.01)


@given(st.floats(1e-4, 0.048), st.floats(0.05, 5.0))
def test_law_twice_the_lye_in_twice_the_water_is_the_same(share, water):
    lye = share * water
    assert lye_strength(2 * lye, 2 * water) == pytest.approx(lye_strength(lye, water), rel=1e-12)
    # all of it is in the water, and no more
    volume = (lye + water) / density(293.15, NaOH=lye / (lye + water))
    assert lye_strength(lye, water) * volume * NAOH / 1000 == pytest.approx(lye, rel=1e-9)


def test_no_lye_is_no_strength_and_no_heat():
    assert lye_strength(0.0, 1.0) == warming(0.0, 1.0) == 0
    assert lye_mass(0.0) == 0


def test_draws_stay_draws_and_arrays_broadcast():
    purity = between(0.9, 1.0, 50, 3)
    assert isinstance(lye_strength(1.5e-3, 0.12, purity=purity), Draws)
    assert isinstance(warming(1.5e-3, 0.12, purity=purity), Draws)
    assert isinstance(heat_of_solution(between(10.0, 1000.0, 50, 3)), Draws)
    grid = lye_strength(np.array([[1e-3], [2e-3]]), 0.12, purity=purity)
    assert grid.shape == (2, 50)


def test_law_where_strength_is_told_the_order_is_told():
    for told in (HANDLING, lye_strength.__doc__):
        assert "into cold water" in told and "never water" in told


STRONG = "lye above 50 g/L"
REFUSED: list[Case] = [
    ("negative lye", lambda: lye_strength(-1e-3, 1.0), ("lye = -0.001", "0 to 10 kg")),
    ("lye is text", lambda: lye_strength("1.5 g", 1.0), ("lye", "not a number")),
    ("lye NaN", lambda: lye_strength(NAN, 1.0), ("lye = nan", "0 to 10 kg")),
    ("no water", lambda: lye_strength(1e-3, 0.0), ("water = 0", "above 0 to 10 kg")),
    ("water infinite", lambda: lye_strength(1e-3, INF), ("water = inf", "above 0 to 10 kg")),
    ("celsius", lambda: lye_strength(1e-3, 1.0, 20.0), ("T = 20", "273.15 to 323.15 K")),
    ("hot", lambda: lye_strength(1e-3, 1.0, 333.15), ("T = 333.15", "273.15 to 323.15 K")),
    ("impure", lambda: lye_strength(1e-3, 1.0, purity=0.3), ("purity = 0.3", "0.5 to 1")),
    ("per cent", lambda: lye_strength(1e-3, 1.0, purity=98), ("purity = 98", "0.5 to 1")),
    ("too strong", lambda: lye_strength(0.060, 1.0), (STRONG, "it gets hot, spits and blinds")),
    ("grams for kilograms", lambda: lye_strength(1.5, 0.12), (STRONG, "refused")),
    ("strong in an array", lambda: lye_strength([1e-3, 0.2], 1.0), (STRONG,)),
    ("g/L of strong lye", lambda: lye_mass(1300.0), (STRONG, "concentration = 1300")),
    ("g/L negative", lambda: lye_mass(-1.0), ("concentration = -1", "0 to 1250.09 mol/m³")),
    ("paste", lambda: heat_of_solution(2.0), ("water = 2", "3 to 1e+12 mol/mol")),
    ("no heat of NaN", lambda: heat_of_solution(NAN), ("water = nan", "3 to 1e+12")),
    ("a paste gets hot", lambda: warming(1.0, 1.0), ("lye = 1 kg on each kg", "3 mol of water")),
    ("warming of ice", lambda: warming(1e-3, 1.0, 263.15), ("T = 263.15", "273.15")),
    ("pH of none", lambda: pH_of_lye(0.0), ("concentration = 0", "0.01 to 500 mol/m³")),
    ("pH of too much", lambda: pH_of_lye(600.0), ("concentration = 600", "0.01 to 500")),
]


@cases(REFUSED)
def test_refused(call, words):
    assert_refused(call, words)


def test_law_fifty_grams_a_litre_is_the_edge():
    assert lye_mass(MOST_CONCENTRATION) == pytest.approx(50)
    assert lye_strength(0.0499, 1.0) < MOST_CONCENTRATION
    assert_refused(lambda: lye_strength(0.0501, 1.0), (STRONG,))
