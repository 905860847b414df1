"""What room a gas takes: the gas law by hand, whole portions, and what is refused."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.waste import gas_volume, portions
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


@given(st.floats(1e-3, 100), st.floats(1e-5, 1), st.floats(260, 330))
def test_law_no_portion_fills_more_than_half_and_one_less_would(gas, headspace, T):
    count = float(portions(gas, headspace, T))
    room = float(gas_volume(gas, T))
    assert count == int(count) >= 1
    assert room / count <= 0.5 * headspace * (1 + 1e-8)
    if count > 1:
        assert room / (count - 1) > 0.5 * headspace * (1 - 1e-8)


def test_law_what_fits_exactly_is_one_portion():
    # 24.06 L a mole at 20 °C: just under and just over half a litre in a litre
    assert [float(portions(litres / 24.06, 1e-3)) for litres in (0.499, 0.501)] == [1, 2]
    room = float(gas_volume(1.0))
    assert [float(portions(1.0, 2 * room / count)) for count in (1, 2, 7)] == [1, 2, 7]
    assert portions(0.0, 1e-3) == 0


def test_law_more_gas_less_room_and_more_warmth_make_more_portions():
    assert np.all(np.diff(portions([0.1, 0.2, 0.4], 1e-3)) > 0)
    assert np.all(np.diff(portions(0.2, [1e-3, 5e-4, 1e-4])) > 0)
    assert portions(10.0, 1e-3, 313.15) > portions(10.0, 1e-3, 283.15)
    assert isinstance(portions(as_draws([0.1, 0.2]), 1e-3), Draws)


REFUSED: list[Case] = [
    ("gas below", lambda: portions(-0.1, 1e-3), ("amount = -0.1", "0 to 10000 mol")),
    ("gas nan", lambda: portions(NAN, 1e-3), ("amount = nan",)),
    ("gas infinite", lambda: portions(INF, 1e-3), ("amount = inf", "0 to 10000")),
    ("gas words", lambda: portions("much", 1e-3), ("amount", "'much'", "not a number")),
    ("gas above", lambda: gas_volume(2e4), ("amount = 20000", "0 to 10000 mol")),
    ("no room", lambda: portions(0.1, 0.0), ("headspace = 0", "above 0 to 1000 m³")),
    ("room below", lambda: portions(0.1, -1.0), ("headspace = -1", "above 0")),
    ("room above", lambda: portions(0.1, 2e3), ("headspace = 2000", "1000 m³")),
    ("room nan", lambda: portions(0.1, NAN), ("headspace = nan",)),
    ("in °C", lambda: portions(0.1, 1e-3, 20.0), ("T = 20", "250 to 400 K")),
    ("hot", lambda: gas_volume(0.1, 500.0), ("T = 500", "250 to 400 K")),
    ("T words", lambda: gas_volume(0.1, "warm"), ("T", "'warm'")),
    ("shapes", lambda: portions([0.1, 0.2], [1e-3, 1e-3, 1e-3]), ("gas", "headspace")),
    ("shapes of a gas", lambda: gas_volume([0.1, 0.2], [280.0, 290.0, 300.0]), ("amount", "T")),
    (
        "draws of two lengths",
        lambda: portions(as_draws([0.1, 0.2]), as_draws([1e-3, 1e-3, 1e-3])),
        ("gas has 2", "headspace has 3"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
