"""Base, gas, heat and pH: stoichiometry by hand, tabulated heats, laws, and what is refused."""

from collections import Counter

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.common import tables
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import between
from pcbchem.reaction.chemistry.neutralise import (
    BASES,
    COPPER_HEAT_DOUBT,
    MOST_PEROXIDE,
    MUD,
    base_at,
    base_mass,
    carbon_dioxide,
    equivalents,
    heat_taken,
)
from pcbchem.reaction.chemistry.precipitate import copper_left
from pcbchem.reaction.chemistry.stoichiometry import reactions

WITH_AMOUNTS = BASES[:3]
GRAMS = {"NaHCO3": 84.007, "Na2CO3": 105.988, "Ca(OH)2": 74.093, "NaOH": 39.997}
TAKES_UP = {"NaHCO3": 1, "Na2CO3": 2, "Ca(OH)2": 2, "NaOH": 1}
"""H+ that a mole of each takes up, written by hand."""
CARBON = {"NaHCO3": 1, "Na2CO3": 1, "Ca(OH)2": 0, "NaOH": 0}
# written by hand, not by the package's own parser
ATOMS = {
    "H+(aq)": {"H": 1, "charge": 1},
    "Cu2+(aq)": {"Cu": 1, "charge": 2},
    "Cl-(aq)": {"Cl": 1, "charge": -1},
    "Na+(aq)": {"Na": 1, "charge": 1},
    "Ca2+(aq)": {"Ca": 1, "charge": 2},
    "H2O(l)": {"H": 2, "O": 1},
    "CO2(g)": {"C": 1, "O": 2},
    "NaHCO3(s)": {"Na": 1, "H": 1, "C": 1, "O": 3},
    "Na2CO3(s)": {"Na": 2, "C": 1, "O": 3},
    "Ca(OH)2(s)": {"Ca": 1, "O": 2, "H": 2},
    "NaOH(s)": {"Na": 1, "O": 1, "H": 1},
    "Cu(OH)2(s)": {"Cu": 1, "O": 2, "H": 2},
    "Cu2(OH)2CO3(s)": {"Cu": 2, "O": 5, "H": 2, "C": 1},
    "Cu2(OH)3Cl(s)": {"Cu": 2, "O": 3, "H": 3, "Cl": 1},
}
WORDS = ("bicarbonate", "soda", "lime", "solid lye")
BY_BASE = sorted(name for name in reactions() if name.endswith(tuple(f"by {w}" for w in WORDS)))


# ---- stoichiometry


@pytest.mark.parametrize("name", BY_BASE)
def test_law_every_reaction_of_a_base_conserves_elements_and_charge(name):
    total = Counter()
    for species, count in reactions()[name].coefficients.items():
        for part, number in ATOMS[species].items():
            total[part] += count * number
    assert total and not any(total.values())


def test_law_there_is_an_equation_for_all_that_can_fall():
    # malachite needs a carbonate; lye is no more than hydroxide and acid
    assert len(BY_BASE) == 4 + 3 + 3 + 2 + 1


@pytest.mark.parametrize("base", WITH_AMOUNTS)
@pytest.mark.parametrize("solid", MUD)
def test_law_a_base_takes_up_as_much_as_there_are_equivalents(base, solid):
    if base == "Ca(OH)2" and solid == "malachite":
        return
    grams = 1000 * base_mass(base, 0.7, 0.3, solid, peroxide=0.0)
    by_hand = GRAMS[base] / TAKES_UP[base] * (0.7 + (1.5 if solid == MUD[2] else 2.0) * 0.3)
    assert grams == pytest.approx(by_hand, rel=1e-5)
    assert equivalents(0.7, 0.3, solid) * GRAMS[base] / TAKES_UP[base] == pytest.approx(grams)


@pytest.mark.parametrize("base", WITH_AMOUNTS)
@pytest.mark.parametrize("solid", MUD)
def test_law_all_carbon_of_a_base_is_gas_or_malachite(base, solid):
    if base == "Ca(OH)2" and solid == "malachite":
        return
    moles = 1000 * base_mass(base, 0.7, 0.3, solid, peroxide=0.0) / GRAMS[base]
    in_mud = 0.5 * 0.3 if solid == "malachite" else 0.0
    gas = carbon_dioxide(base, 0.7, 0.3, solid)
    assert gas + in_mud == pytest.approx(moles * CARBON[base], rel=1e-5)


def test_second_source_what_a_mole_takes_as_textbooks_have_it():
    # CO2 for each acid and each copper: 1 and 1.5 of baking soda, 0.5 and 0.5 of washing soda
    assert [carbon_dioxide(base, 1.0) for base in BASES] == [1.0, 0.5, 0.0, 0.0]
    assert [carbon_dioxide(base, 0.0, 1.0) for base in BASES] == [1.5, 0.5, 0.0, 0.0]


@given(st.floats(0, 6), st.floats(0, 3))
def test_law_twice_the_bath_takes_twice_the_base_and_gives_twice_the_gas(acid, copper):
    for base in WITH_AMOUNTS:
        once, twice = (
            base_mass(base, acid, copper, peroxide=0.0),
            base_mass(base, 2 * acid, 2 * copper, peroxide=0.0),
        )
        assert twice == pytest.approx(2 * once, abs=1e-12)
        gas = carbon_dioxide(base, acid, copper)
        assert carbon_dioxide(base, 2 * acid, 2 * copper) == pytest.approx(2 * gas, abs=1e-12)


def test_as_printed_the_bases_are_those_of_the_table():
    table = tables.read("bases")
    assert [row["base"] for row in table] == list(BASES) == list(GRAMS)
    assert {row["base"]: 1000 * float(row["molar_mass_kg_mol"]) for row in table} == GRAMS


# ---- heat


def test_second_source_heats_by_hand_from_tabulated_enthalpies():
    # kJ/mol (NBS, CRC): what is made less what is used up
    H2O, CO2, Na, Ca, Cu = -285.83, -393.51, -240.12, -542.8, 64.77
    by_acid = {
        "NaHCO3": Na + H2O + CO2 + 950.81,
        "Na2CO3": (2 * Na + H2O + CO2 + 1130.68) / 2,
        "Ca(OH)2": (Ca + 2 * H2O + 986.1) / 2,
        "NaOH": Na + H2O + 425.609,
    }
    heats = {base: heat_taken(base, 1.0) / 1000 for base in BASES}
    assert heats == pytest.approx(by_acid, abs=0.1)
    malachite = (-1051.4 + 4 * Na + 3 * CO2 + H2O - 2 * Cu + 4 * 950.81) / 2
    assert heat_taken("NaHCO3", 0.0, 1.0) / 1000 == pytest.approx(malachite, abs=0.1)
    hydroxide = -449.8 + 2 * Na - Cu + 2 * 425.609
    assert heat_taken("NaOH", 0.0, 1.0) / 1000 == pytest.approx(hydroxide, abs=0.1)


def test_second_source_baking_soda_cools_and_the_others_warm():
    # signs that several pages have wrong; a litre of 1.0 mol/L acid and 0.5 mol/L copper at
    # 3.8 kJ/K: 19 K colder, and up to 41 K warmer, within the doubt of what copper falls as
    warmer = {base: -heat_taken(base, 1.0, 0.5) / 3800 for base in BASES}
    for base, kelvin in {"NaHCO3": -19, "Na2CO3": 3, "Ca(OH)2": 24, "NaOH": 41}.items():
        assert warmer[base] == pytest.approx(kelvin, abs=5), base
    assert heat_taken("NaHCO3", 1.0) > 0 > heat_taken("Na2CO3", 1.0) > heat_taken("Ca(OH)2", 1.0)


def test_law_of_soda_and_copper_not_even_the_sign_is_known():
    assert abs(heat_taken("Na2CO3", 0.0, 1.0)) < COPPER_HEAT_DOUBT


def test_law_whatever_the_way_the_heat_is_the_same():
    # copper as hydroxide: by baking soda as by lye, and acid with each (Hess)
    way = {base: heat_taken(base, 2.0) - heat_taken(base, 0.0, 1.0, "hydroxide") for base in BASES}
    assert way["NaHCO3"] == pytest.approx(way["NaOH"], abs=1.0)
    assert way["Na2CO3"] == pytest.approx(way["Ca(OH)2"], abs=1.0)


def test_second_source_crystals_of_washing_soda_weigh_more_and_cool():
    # Na2CO3 · 10 H2O from atomic weights, and its enthalpy of formation (NBS, from memory)
    dry = 1000 * base_mass("Na2CO3", 2.0, peroxide=0.0)
    crystals = dry + 10 * (2 * 1.008 + 15.999)
    assert crystals / dry == pytest.approx(2.7, abs=0.005)
    H2O, CO2, Na = -285.83, -393.51, -240.12
    assert 2 * Na + CO2 + 11 * H2O + 4081.3 > 0 > heat_taken("Na2CO3", 2.0)
    # so what is told is told of the dry one
    names = {row["base"]: row["common_name"] for row in tables.read("bases")}
    assert names["Na2CO3"] == "washing soda, free of water"
    soda = [row for row in tables.read("reactions") if "washing soda" in row["meaning"]]
    assert soda and all("free of water" in row["meaning"] for row in soda)


def test_law_nothing_is_told_before_peroxide_is():
    with pytest.raises(TypeError, match="peroxide"):
        base_mass("NaHCO3", 1.0)


# ---- the way of the pH


def test_law_at_first_no_base_is_in_and_in_the_end_all_that_is_asked_for():
    # at pH 3 all acid but a thousandth of a mol/L is met, and no copper has fallen
    assert base_at(3.0, 1000.0, 500.0) == pytest.approx(999.0, abs=0.1)
    assert base_at(0.0, 1000.0) == pytest.approx(0.0, abs=1e-6)
    end = 1000 * equivalents(1.0, 0.5)
    assert base_at(8.0, 1000.0, 500.0) == pytest.approx(end, rel=1e-5)
    assert base_at(8.0, 1000.0, 500.0, "basic chloride", chloride=2000.0) == pytest.approx(
        1000 * equivalents(1.0, 0.5, "basic chloride"), rel=1e-5
    )


@pytest.mark.parametrize("solid", ["fresh", "aged", "oxide"])
@pytest.mark.parametrize("gas", [0.0, 40.0, 101_325.0])
def test_law_the_pH_rises_as_base_goes_in(solid, gas):
    base = np.asarray(base_at(np.linspace(0.0, 9.0, 300), 1000.0, 500.0, solid, gas))
    assert np.all(np.diff(base) > 0)


def test_law_charge_is_balanced_at_every_pH():
    """What base brings, and what else is positive, is as much as what is negative."""
    pH = np.linspace(1.0, 9.0, 30)
    acid, copper, pressure = 1000.0, 500.0, 20_000.0
    sodium = np.asarray(base_at(pH, acid, copper, "fresh", pressure))
    free = np.minimum(copper, np.asarray(copper_left(pH)))
    # by hand: pKw 14.00, pK 6.35 and 10.33, 3.3e-4 mol/(m³ Pa)
    bicarbonate = 3.3e-4 * pressure * 10 ** (pH - 6.35)
    positive = sodium + 1000 * 10**-pH + 2 * free
    chloride = acid + 2 * copper
    negative = chloride + 1000 * 10 ** (pH - 14) + bicarbonate * (1 + 2 * 10 ** (pH - 10.33))
    assert np.allclose(positive, negative, rtol=1e-9)


def test_second_source_bicarbonate_stops_between_six_and_seven_while_it_fizzes():
    """Of a bicarbonate just enough for the acid the pH stands at 4, a little more takes it to 7.

    Seltzer of baking soda under an atmosphere: pH 6.5 to 7 at 0.05 to 0.2 mol/L over (textbook).
    """
    over = np.array([50.0, 200.0])
    grid = np.linspace(4, 9, 2001)
    base = np.asarray(base_at(grid, 1000.0, 0.0, carbon_dioxide=101_325.0))
    pH = np.interp(1000.0 + over, base, grid)
    assert 6.3 < pH[0] < pH[1] < 7.3
    aired = np.asarray(base_at(grid, 1000.0, 0.0, carbon_dioxide=40.0))
    assert np.all(np.interp(1000.0 + over, aired, grid) > 8)


# ---- shapes and refusals


def test_law_draws_stay_draws_and_single_numbers_single():
    acid = between(0.1, 0.2, 20, seed=1)
    for values in (
        base_mass("NaHCO3", acid, peroxide=0.0),
        carbon_dioxide("NaHCO3", acid),
        equivalents(acid),
    ):
        assert isinstance(values, Draws) and values.shape == (20,)
    assert isinstance(heat_taken("NaHCO3", acid, 0.1), Draws)
    assert isinstance(base_at(7.0, between(900, 1100, 20, seed=1), 500.0), Draws)
    assert np.shape(base_mass("NaHCO3", 1.0, peroxide=0.0)) == () == np.shape(base_at(7.0, 1000.0))
    assert np.shape(base_at([[7.0], [8.0]], [1.0, 2.0, 3.0])) == (2, 3)


def test_law_no_amount_of_lye_in_any_way():
    for solid in (None, *MUD):
        with pytest.raises(ValueError, match="no amount of lye is given: it spits") as error:
            base_mass("NaOH", 1.0, 0.5, solid, peroxide=0.0)
        assert "Never lye into a bath or its waste" in str(error.value)
    assert not any(letter.isdigit() for letter in str(error.value).replace("'NaOH'", ""))


def test_law_what_is_just_at_a_limit_is_told():
    told = base_mass("NaHCO3", 1.0, peroxide=MOST_PEROXIDE, volume=1e-3, T=313.15)
    assert told == base_mass("NaHCO3", 1.0, peroxide=0.0)


ONE = ("NaHCO3", 1.0, 0.1)
REFUSED: list[Case] = [
    ("base", lambda: base_mass("KOH", 1.0, peroxide=0.0), ("base", "'KOH'", "NaHCO3", "Ca(OH)2")),
    ("acid below", lambda: base_mass("NaHCO3", -1.0, peroxide=0.0), ("acid = -1", "0 to 12 mol")),
    ("acid above", lambda: base_mass("NaHCO3", 13.0, peroxide=0.0), ("acid = 13", "0 to 12 mol")),
    ("acid nan", lambda: base_mass("NaHCO3", NAN, peroxide=0.0), ("acid = nan", "0 to 12")),
    ("acid words", lambda: base_mass("NaHCO3", "all", peroxide=0.0), ("acid", "not a number")),
    ("copper", lambda: base_mass("NaHCO3", 1.0, 7.0, peroxide=0.0), ("copper = 7", "0 to 6 mol")),
    (
        "copper infinite",
        lambda: base_mass("NaHCO3", 1.0, INF, peroxide=0.0),
        ("copper = inf", "0 to 6"),
    ),
    (
        "solid",
        lambda: base_mass(*ONE, "verdigris", peroxide=0.0),
        ("solid", "'verdigris'", "malachite"),
    ),
    (
        "malachite by lime",
        lambda: base_mass("Ca(OH)2", 1.0, 0.1, "malachite", peroxide=0.0),
        ("solid", "'malachite'", "hydroxide, basic chloride"),
    ),
    (
        "peroxide",
        lambda: base_mass(*ONE, peroxide=3.0),
        ("peroxide = 3 mol/m³", "0 to 2.94", "0.1 g/L", "foams over"),
    ),
    (
        "a litre",
        lambda: base_mass(*ONE, volume=1.1e-3, peroxide=0.0),
        ("volume = 0.0011", "1 L", "site"),
    ),
    ("warm", lambda: base_mass(*ONE, T=314.0, peroxide=0.0), ("T = 314 K", "313.15 K", "too warm")),
    ("in °C", lambda: base_mass(*ONE, T=20.0, peroxide=0.0), ("T = 20", "250 to 400 K")),
    (
        "thiourea",
        lambda: base_mass(*ONE, beside=("thiourea",), peroxide=0.0),
        ("beside", "no amount is given"),
    ),
    (
        "ammonia",
        lambda: base_mass(*ONE, beside=("ammonia",), peroxide=0.0),
        ("'ammonia'", "tub of its own"),
    ),
    ("gas of", lambda: carbon_dioxide("HCl", 1.0), ("base", "'HCl'")),
    ("gas acid", lambda: carbon_dioxide("NaHCO3", 1e3), ("acid = 1000", "0 to 12 mol")),
    ("heat of", lambda: heat_taken("soda", 1.0), ("base", "'soda'", "Na2CO3")),
    (
        "heat of malachite by lye",
        lambda: heat_taken("NaOH", 1.0, 0.1, "malachite"),
        ("solid", "'malachite'", "choose from hydroxide"),
    ),
    ("equivalents", lambda: equivalents(1.0, 0.5, "oxide"), ("solid", "'oxide'", "hydroxide")),
    ("pH", lambda: base_at(15.0, 1.0), ("pH = 15", "0 to 14")),
    ("acid in mol/L", lambda: base_at(7.0, -1.0), ("acid = -1", "0 to 20000 mol/m³")),
    ("copper", lambda: base_at(7.0, 1.0, 7e3), ("copper = 7000", "0 to 6000 mol/m³")),
    ("pressure", lambda: base_at(7.0, 1.0, 1.0, "fresh", 2e5), ("carbon_dioxide = 200000", "Pa")),
    ("solid", lambda: base_at(7.0, 1.0, 1.0, "sand"), ("solid", "'sand'", "aged")),
    (
        "draws of two lengths",
        lambda: base_mass("NaHCO3", as_draws([1.0, 2.0]), as_draws([0.1, 0.2, 0.3]), peroxide=0.0),
        ("acid has 2", "copper has 3"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
