"""A bath used again: what its copper tends to, how it grows, and what the air does."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.waste import air_time, bath_made, copper_in_the_end
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.matter.labels import strength
from pcbchem.matter.properties import MOLAR_MASS

COPPER = MOLAR_MASS["Cu"]


def bottle(substance, percent):
    """What a bottle of so many per cent by weight holds [mol/m³]."""
    return 1000 * float(strength(percent / 100, "mol/L", substance))


@pytest.mark.parametrize(
    "acid, peroxide, grams", [(10, 12, 66), (10, 3, 35), (31.45, 12, 135), (10, None, 91)]
)
def test_second_source_grams_in_a_litre_by_bottles(acid, peroxide, grams):
    # by arithmetic on the bottles' densities, and rounded to a gram
    strong = None if peroxide is None else bottle("H2O2", peroxide)
    here = COPPER * copper_in_the_end(bottle("HCl", acid), strong)
    assert here == pytest.approx(grams, abs=1.0)


@given(st.floats(100, 12_000), st.floats(100, 20_000), st.floats(0.01, 10))
def test_law_fed_on_and_on_a_bath_holds_what_its_bottles_carry(acid, peroxide, copper):
    made = bath_made(copper, acid, peroxide)
    assert copper / made == pytest.approx(copper_in_the_end(acid, peroxide), rel=1e-9)
    # two acid and one peroxide for each copper, each from its own bottle
    assert made == pytest.approx(2 * copper / acid + copper / peroxide, rel=1e-9)
    # a litre with any copper in it gets there when it is fed for a hundred thousand moles
    copper, volume = 1.0 + 1e5, 1e-3 + bath_made(1e5, acid, peroxide)
    assert copper / volume == pytest.approx(copper_in_the_end(acid, peroxide), rel=2e-3)


def test_law_air_instead_of_peroxide_brings_no_water():
    assert copper_in_the_end(2874.0) == pytest.approx(2874.0 / 2)
    assert copper_in_the_end(2874.0) > copper_in_the_end(2874.0, 30_000.0)
    assert bath_made(0.013, 2874.0) < bath_made(0.013, 2874.0, 3680.0)
    assert bath_made(0.0, 2874.0, 3680.0) == 0


def test_law_stronger_bottles_carry_more_and_make_less_bath():
    assert np.all(np.diff(copper_in_the_end([1000.0, 2874.0, 9000.0], 3680.0)) > 0)
    assert np.all(np.diff(copper_in_the_end(2874.0, [890.0, 3680.0, 9800.0])) > 0)
    assert np.all(np.diff(bath_made(0.013, 2874.0, [890.0, 3680.0, 9800.0])) < 0)


def test_second_source_the_air_by_hand():
    # water holds 8.7 to 9.1 mg/L of oxygen at 20 °C under air (textbook: 9.1), 0.28 mol/m³; four
    # Cu(I) each, through 150 cm² at 1e-5 to 4e-5 m/s
    oxygen = 9.1e-3 / MOLAR_MASS["O2"]
    by_hand = [0.026 / (4 * k * 0.015 * oxygen) for k in (4e-5, 1e-5)]
    assert air_time(0.026, 0.015) == pytest.approx(by_hand, rel=0.08)


def test_law_half_the_copper_or_twice_the_surface_takes_half_the_time():
    quick, slow = air_time(0.026, 0.015)
    assert slow == pytest.approx(4 * quick)
    assert air_time(0.013, 0.015)[0] == pytest.approx(quick / 2)
    assert air_time(0.026, 0.030)[0] == pytest.approx(quick / 2)
    # warm water holds less oxygen
    assert air_time(0.026, 0.015, 303.15)[0] > quick


def test_law_draws_stay_draws():
    acid = as_draws([2800.0, 2900.0])
    assert isinstance(copper_in_the_end(acid, 3680.0), Draws)
    assert isinstance(bath_made(0.013, acid), Draws)
    assert isinstance(air_time(as_draws([0.02, 0.03]), 0.015)[0], Draws)


REFUSED: list[Case] = [
    ("no acid", lambda: copper_in_the_end(0.0, 3680.0), ("acid = 0", "1 to 20000 mol/m³")),
    ("acid in mol/L", lambda: copper_in_the_end(0.5, 3680.0), ("acid = 0.5", "1 to 20000")),
    ("acid nan", lambda: copper_in_the_end(NAN), ("acid = nan",)),
    ("acid infinite", lambda: copper_in_the_end(INF), ("acid = inf",)),
    ("acid words", lambda: copper_in_the_end("10 %"), ("acid", "'10 %'", "not a number")),
    ("no peroxide", lambda: copper_in_the_end(2874.0, 0.0), ("peroxide = 0", "1 to 30000")),
    ("peroxide above", lambda: copper_in_the_end(2874.0, 4e4), ("peroxide = 40000", "30000")),
    ("copper below", lambda: bath_made(-1.0, 2874.0), ("copper = -1", "mol")),
    ("copper nan", lambda: bath_made(NAN, 2874.0), ("copper = nan",)),
    ("bath of no acid", lambda: bath_made(1.0, -5.0), ("acid = -5", "1 to 20000")),
    ("bath peroxide", lambda: bath_made(1.0, 2874.0, -5.0), ("peroxide = -5", "1 to 30000")),
    ("air cuprous", lambda: air_time(-0.1, 0.015), ("cuprous = -0.1", "0 to 1000 mol")),
    ("air area", lambda: air_time(0.1, 0.0), ("area = 0", "above 0 to 4 m²")),
    ("air area in cm²", lambda: air_time(0.1, 150.0), ("area = 150", "above 0 to 4 m²")),
    ("air in °C", lambda: air_time(0.1, 0.015, 20.0), ("T = 20", "250 to 400 K")),
    (
        "draws of two lengths",
        lambda: bath_made(as_draws([1.0, 2.0]), as_draws([1e3, 2e3, 3e3])),
        ("copper has 2", "room has 3"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
