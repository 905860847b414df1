"""Lab units become SI, and come back."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases

from pcbchem.common import units
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.units import celsius, fahrenheit, percent, to_celsius, to_fahrenheit


def test_the_fluid_ounce_is_its_definition() -> None:
    # Law: 231 cubic inches to 128 ounces.
    assert units.us_fl_oz == pytest.approx(231 * 0.0254**3 / 128, rel=1e-12)


def test_units_of_one_kind_agree() -> None:
    # Law: definitions of the SI.
    assert units.mL * 1000 == pytest.approx(units.L)
    assert units.mm * 10 == pytest.approx(units.cm)
    assert units.um * 1000 == pytest.approx(units.mm)
    assert units.hour == 60 * units.minute == 3600
    assert 1000 * units.gram == 1
    assert units.mol_per_L * units.L == pytest.approx(1)
    assert units.mL_per_cm2 * units.cm**2 == pytest.approx(units.mL)


@pytest.mark.parametrize(("C", "F", "K"), [(0, 32, 273.15), (100, 212, 373.15), (-20, -4, 253.15)])
def test_fixed_points_of_the_scales(C: float, F: float, K: float) -> None:
    # Law: both ways.
    assert celsius(C) == pytest.approx(K, abs=1e-9)
    assert fahrenheit(F) == pytest.approx(K, abs=1e-9)
    assert to_celsius(K) == pytest.approx(C, abs=1e-9)
    assert to_fahrenheit(K) == pytest.approx(F, abs=1e-9)


def test_temperatures_come_back_to_the_limits() -> None:
    # Law.
    T = np.linspace(units.T_LOW, units.T_HIGH, 61)
    assert celsius(to_celsius(T)) == pytest.approx(T, rel=1e-14)
    assert fahrenheit(to_fahrenheit(T[1:-1])) == pytest.approx(T[1:-1], rel=1e-14)


def test_a_number_gives_a_number_and_draws_give_draws() -> None:
    # Law.
    assert percent(30) == pytest.approx(0.3) and np.ndim(percent(30)) == 0
    assert celsius([20.0, 30.0]).shape == (2,)
    value = as_draws([3.0, 9.0])
    for result in (percent(value), celsius(value), to_fahrenheit(celsius(value))):
        assert isinstance(result, Draws)


REFUSED: list[Case] = [
    ("kelvin as celsius", lambda: celsius(293.15), ("celsius", "293.15", "126.85 °C")),
    ("kelvin as fahrenheit", lambda: fahrenheit(293.15), ("fahrenheit", "293.15", "260.33 °F")),
    ("celsius back from celsius", lambda: to_celsius(20), ("T", "20", "250 to 400 K")),
    ("fahrenheit back from celsius", lambda: to_fahrenheit(20), ("T", "20", "250 to 400 K")),
    ("per cent above a hundred", lambda: percent(101), ("percent", "101", "0 to 100 %")),
    ("negative per cent", lambda: percent(-1), ("percent", "-1", "0 to 100 %")),
    ("no number", lambda: celsius(NAN), ("celsius", "nan")),
    ("no end", lambda: percent([1.0, INF]), ("percent", "inf")),
]


@cases(REFUSED)
def test_impossible_input_is_refused(call, words) -> None:
    # Law: the error says the name, the value and the limits.
    assert_refused(call, words)
