"""A layer of tin: what it weighs, what it costs in copper, for how much a bath could do at most."""

import inspect

import chemicals
import numpy as np
import pytest
from chemicals.data_reader import data_source
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench import tin as room
from pcbchem.bench.tin import (
    COPPER_PER_TIN,
    STOPS,
    THIOUREA_PER_TIN,
    USABLE,
    copper_lost,
    tin_amount,
    tin_area,
    tin_capacity,
    tin_density,
    tin_mass,
)
from pcbchem.bench.tin.coating import MOST_THICKNESS, constant
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.reaction.bath.setup import COPPER_DENSITY
from pcbchem.reaction.chemistry import FARADAY, electrons, parse

AVOGADRO = 6.02214076e23
"""Atoms in a mole [1/mol] (SI, by definition)."""
TIN_NUMBER, COPPER_NUMBER = "7440-31-5", "7440-50-8"
"""Their CAS numbers."""
UM = 1e-6
BATH = (1e-4, 84.0, 1000.0)
"""A bath to reckon with: m³, tin and thiourea [mol/m³]."""


# ---- what it weighs


def handbook(number):
    """Density of a solid in the handbook's table of inorganic compounds [kg/m³], by CAS number."""
    return float(data_source("Physical Constants of Inorganic Compounds.csv").loc[number, "rho"])


def test_as_printed_the_densities_of_the_handbook():
    assert tin_density() == handbook(TIN_NUMBER)
    assert handbook(COPPER_NUMBER) == COPPER_DENSITY


@pytest.mark.parametrize(
    ("atoms", "cell", "molar_mass", "density"),
    [
        # white tin: tetragonal, 5.8316 and 3.1815 Å; copper: cubic, 3.6149 Å (from memory)
        (4, 5.8316**2 * 3.1815, "Sn", tin_density()),
        (4, 3.6149**3, "Cu", COPPER_DENSITY),
    ],
)
def test_second_source_densities_by_the_unit_cell(atoms, cell, molar_mass, density):
    by_x_rays = atoms * MOLAR_MASS[molar_mass] / (AVOGADRO * cell * 1e-30)
    assert density == pytest.approx(by_x_rays, rel=3e-3)


def test_law_the_density_lies_within_its_doubt():
    value, low, high = constant("density")
    assert low < value < high < 1.002 * low


def test_second_source_the_molar_masses_of_a_library():
    assert MOLAR_MASS["Sn"] == pytest.approx(chemicals.MW(TIN_NUMBER) / 1000, rel=1e-4)
    assert MOLAR_MASS["Cu"] == pytest.approx(chemicals.MW(COPPER_NUMBER) / 1000, rel=1e-6)


def test_second_source_a_square_centimetre_by_hand():
    # 1 cm² of 1 µm is a ten-thousandth of a cm³: of 7.29 g, so 0.729 mg
    assert tin_mass(UM) * 1e-4 * 1e6 == pytest.approx(0.729, rel=1e-3)


@given(st.floats(0, 1.5e-6), st.floats(0, 100))
def test_law_what_is_on_the_board_is_moles_of_its_mass(thickness, area):
    assert tin_amount(thickness, area) * MOLAR_MASS["Sn"] == pytest.approx(
        tin_mass(thickness) * area, rel=1e-12
    )


# ---- what it costs in copper


def test_law_the_equation_is_balanced_by_element_and_by_charge():
    # thiourea is CH4N2S, and the complex holds four
    equation = (
        f"{COPPER_PER_TIN} Cu(s) + Sn2+(aq) + {THIOUREA_PER_TIN} CH4N2S(aq)"
        f" -> Sn(s) + {COPPER_PER_TIN} CuC4H16N8S4+(aq)"
    )
    assert parse("tin", equation).imbalance() == {}
    assert COPPER_PER_TIN == electrons("tin") / electrons("copper(I)")


def test_second_source_copper_lost_by_charge():
    # Faraday: what a coulomb dissolves of copper(I), and what it brings of tin(II), as handbooks of
    # plating print it: 2.371 and 2.214 g/(A h), from memory
    thick = (2.371 / 8.96) / (2.214 / 7.287)
    assert copper_lost(UM) / UM == pytest.approx(thick, rel=1e-3)
    assert 2.214 == pytest.approx(MOLAR_MASS["Sn"] * 1000 * 3600 / (2 * FARADAY), rel=5e-4)


def test_second_source_copper_lost_by_a_library():
    # molar volumes by its molar masses and the densities that it ships
    copper = chemicals.MW(COPPER_NUMBER) / handbook(COPPER_NUMBER)
    tin = chemicals.MW(TIN_NUMBER) / handbook(TIN_NUMBER)
    assert copper_lost(UM) / UM == pytest.approx(2 * copper / tin, rel=2e-4)
    assert copper_lost(UM) == pytest.approx(0.871e-6, rel=5e-4)


@given(st.floats(1e-9, 1.5e-6))
def test_law_less_copper_goes_than_tin_comes_and_in_proportion(thickness):
    assert 0 < copper_lost(thickness) < thickness
    assert copper_lost(thickness) / thickness == pytest.approx(copper_lost(UM) / UM, rel=1e-9)


def test_law_nothing_of_tin_is_nothing_of_all():
    assert tin_mass(0.0) == copper_lost(0.0) == tin_amount(0.0, 1.0) == tin_amount(UM, 0.0) == 0


# ---- for how much a bath could do


def test_law_the_tin_on_all_that_it_could_cover_is_all_its_tin():
    area = tin_area(*BATH, thickness=UM)
    assert tin_amount(UM, area) == pytest.approx(tin_capacity(*BATH), rel=1e-12)
    assert tin_capacity(*BATH) == pytest.approx(1e-4 * 84.0, rel=1e-12)


def test_law_whichever_ends_first():
    # 84 of tin need 672 of thiourea
    assert tin_capacity(1e-4, 84.0, 2000.0) == tin_capacity(1e-4, 84.0, 672.0)
    assert tin_capacity(1e-4, 84.0, 400.0) == pytest.approx(1e-4 * 50.0, rel=1e-12)
    assert tin_capacity(1e-4, 84.0, 0.0) == tin_capacity(1e-4, 0.0, 500.0) == 0


@given(st.floats(1e-6, 1e-2), st.floats(1, 3000), st.floats(1, 2500), st.floats(1e-8, 1.5e-6))
def test_law_more_bath_covers_more_and_a_thicker_layer_less(volume, tin, thiourea, thickness):
    area = tin_area(volume, tin, thiourea, thickness)
    assert tin_area(2 * volume, tin, thiourea, thickness) == pytest.approx(2 * area, rel=1e-9)
    assert tin_area(volume, tin, thiourea, thickness / 2) == pytest.approx(2 * area, rel=1e-9)
    assert tin_area(volume, tin / 2, thiourea, thickness) <= area
    assert tin_area(volume, tin, thiourea / 2, thickness) <= area


def test_law_only_a_part_of_it_is_usable():
    shares = tin_area(*BATH, UM, usable=USABLE) / tin_area(*BATH, UM)
    assert shares == pytest.approx(USABLE, rel=1e-12)
    assert 0 < USABLE[0] < USABLE[1] <= 0.25  # assumed: a quarter would be much


def test_law_draws_stay_draws_and_scenarios_go_before_them():
    share = as_draws([0.1, 0.15, 0.2])
    assert isinstance(tin_area(*BATH, UM, share), Draws)
    assert np.shape(tin_area(*BATH, [[0.3e-6], [1e-6]], share)) == (2, 3)
    assert isinstance(tin_mass(as_draws([1e-7, 2e-7])), Draws)


# ---- it stops by itself


def test_law_where_it_stops_lies_below_what_is_reckoned_with():
    assert 0 < STOPS[0] < STOPS[1] < MOST_THICKNESS
    # plants are said to reach 1.3 µm
    assert MOST_THICKNESS >= 1.3e-6


def test_law_nothing_of_the_room_returns_a_thickness_of_tin_or_takes_a_time():
    functions = [value for value in vars(room).values() if inspect.isfunction(value)]
    assert len(functions) > 8
    for function in functions:
        names = set(inspect.signature(function).parameters)
        assert not names & {"time", "times", "minutes", "hours", "duration"}, function
        text = inspect.getdoc(function) or ""
        returned = text.partition("Returns\n-------")[2].partition("Raises")[0]
        # the copper that is gone is the one depth
        assert "[m]" not in returned or function is copper_lost, function


@pytest.mark.parametrize(
    "call",
    [
        tin_mass,
        copper_lost,
        lambda layer: tin_amount(layer, 1e-3),
        lambda layer: tin_area(*BATH, layer),
    ],
)
def test_law_more_than_grows_is_refused_in_words(call):
    assert np.isfinite(call(MOST_THICKNESS))
    for layer in (1.500001e-6, [0.5e-6, 2e-6], as_draws([1e-6, 3e-6]), 1.0):
        assert_refused(
            lambda layer=layer: call(layer),
            ("thickness", "stops by itself", "covered", "does not grow", "1.5e-06 m"),
        )


REFUSED: list[Case] = [
    ("thickness below 0", lambda: tin_mass(-1e-7), ("thickness = -1e-07", "0 to 1.5e-06 m")),
    ("thickness nan", lambda: tin_mass(NAN), ("thickness = nan", "0 to 1.5e-06 m")),
    ("thickness in words", lambda: copper_lost("thin"), ("thickness", "'thin'", "not a number")),
    ("infinitely thick", lambda: tin_mass(INF), ("thickness = inf", "does not grow")),
    ("thickness in µm", lambda: copper_lost(0.5), ("thickness = 0.5", "does not grow")),
    ("lost below 0", lambda: copper_lost([1e-7, -1e-7]), ("thickness = -1e-07",)),
    ("no layer", lambda: tin_area(*BATH, 0.0), ("thickness = 0", "above 0 to 1.5e-06 m")),
    ("area below 0", lambda: tin_amount(UM, -1.0), ("area = -1", "0 to 100 m²")),
    ("area in cm²", lambda: tin_amount(UM, 180.0), ("area = 180", "0 to 100 m²")),
    ("no bath", lambda: tin_capacity(0.0, 84, 1000), ("volume = 0", "above 0 to 1 m³")),
    ("bath in mL", lambda: tin_area(100.0, 84, 1000, UM), ("volume = 100", "above 0 to 1 m³")),
    ("bath nan", lambda: tin_capacity(NAN, 84, 1000), ("volume = nan",)),
    ("tin below 0", lambda: tin_capacity(1e-4, -1, 1000), ("tin = -1", "0 to 3000 mol/m³")),
    ("too much tin", lambda: tin_capacity(1e-4, 4000, 1000), ("tin = 4000", "0 to 3000 mol/m³")),
    ("thiourea below 0", lambda: tin_area(1e-4, 84, -5, UM), ("thiourea = -5", "0 to 2500")),
    ("too much of it", lambda: tin_capacity(1e-4, 84, 3000), ("thiourea = 3000", "mol/m³")),
    ("thiourea infinite", lambda: tin_capacity(1e-4, 84, INF), ("thiourea = inf",)),
    ("usable below 0", lambda: tin_area(*BATH, UM, -0.1), ("usable = -0.1", "0 to 1")),
    ("usable in %", lambda: tin_area(*BATH, UM, 15), ("usable = 15", "0 to 1")),
    ("usable in words", lambda: tin_area(*BATH, UM, "some"), ("usable", "not a number")),
    ("shapes", lambda: tin_capacity([1e-4, 2e-4], [1, 2, 3], 9), ("volume", "tin")),
    (
        "two draws",
        lambda: tin_area(*BATH, as_draws([1e-7, 2e-7]), as_draws([0.1, 0.2, 0.3])),
        ("thickness", "usable"),
    ),
    ("no such constant", lambda: constant("melting point"), ("name", "density")),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
