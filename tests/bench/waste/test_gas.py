"""What room a gas takes: the gas law by hand, and what is refused."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases

from pcbchem.bench import waste
from pcbchem.bench.waste import gas_volume
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.reaction.chemistry import carbon_dioxide


def test_second_source_a_mole_of_gas():
    # 22.414 L at 0 °C and 24.465 at 25 °C, both at 1 atm (ideal gas)
    assert 1000 * gas_volume(1.0, 273.15) == pytest.approx(22.414, abs=5e-4)
    assert 1000 * gas_volume(1.0, 298.15) == pytest.approx(24.465, abs=5e-4)


def test_second_source_a_litre_of_bath_gives_forty_two_litres():
    # 1.0 mol/L of acid and 0.5 of copper: 1.75 mol with baking soda, 0.75 with washing soda
    assert 1000 * gas_volume(carbon_dioxide("NaHCO3", 1.0, 0.5)) == pytest.approx(42, abs=0.5)
    assert 1000 * gas_volume(carbon_dioxide("Na2CO3", 1.0, 0.5)) == pytest.approx(18, abs=0.5)


def test_law_how_many_times_a_gas_fills_the_space_over_it():
    # 0.211 mol over 150 mL in a litre: at 20 °C six times the free space (24.06 L a mole)
    assert gas_volume(0.211) / 0.85e-3 == pytest.approx(0.211 * 24.06 / 0.85, rel=1e-3)
    assert np.all(np.diff(gas_volume([0.1, 0.2, 0.4])) > 0)
    assert gas_volume(0.0) == 0 and gas_volume(1.0, 313.15) > gas_volume(1.0, 283.15)
    assert isinstance(gas_volume(as_draws([0.1, 0.2])), Draws)


def test_law_no_count_of_portions_is_told():
    # a count would make a list of steps of it
    assert not any("portion" in name for name in waste.__all__)


REFUSED: list[Case] = [
    ("gas below", lambda: gas_volume(-0.1), ("amount = -0.1", "0 to 10000 mol")),
    ("gas nan", lambda: gas_volume(NAN), ("amount = nan",)),
    ("gas infinite", lambda: gas_volume(INF), ("amount = inf", "0 to 10000")),
    ("gas words", lambda: gas_volume("much"), ("amount", "'much'", "not a number")),
    ("gas above", lambda: gas_volume(2e4), ("amount = 20000", "0 to 10000 mol")),
    ("in °C", lambda: gas_volume(0.1, 20.0), ("T = 20", "250 to 400 K")),
    ("hot", lambda: gas_volume(0.1, 500.0), ("T = 500", "250 to 400 K")),
    ("T words", lambda: gas_volume(0.1, "warm"), ("T", "'warm'")),
    ("shapes of a gas", lambda: gas_volume([0.1, 0.2], [280.0, 290.0, 300.0]), ("amount", "T")),
    (
        "draws of two lengths",
        lambda: gas_volume(as_draws([0.1, 0.2]), as_draws([280.0, 290.0, 300.0])),
        ("amount has 2", "T has 3"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
