"""Why tin comes out on copper: thiourea brings copper below tin, and without it nothing happens."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.bench.tin import copper_potential, log_beta4, tin_potential
from pcbchem.bench.tin.coating import constant
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.reaction.chemistry import potential


def test_second_source_by_hand():
    # 0.521 - 0.05916 (3 + 15.4): the complex is 1 mmol/L, thiourea 1 mol/L
    assert copper_potential(1000.0) == pytest.approx(0.521 - 0.05916 * 18.4, abs=1e-4)
    # half as many volts a power of ten, for two electrons
    assert tin_potential(10.0) == pytest.approx(-0.1375 - 2 * 0.05916 / 2, abs=1e-4)


def test_law_at_a_mole_in_a_litre_tin_has_its_standard_potential():
    assert tin_potential(1000.0) == pytest.approx(potential("tin"), abs=1e-12)


def test_law_a_power_of_ten_of_thiourea_is_four_of_the_constant():
    four = copper_potential(100.0) - copper_potential(1000.0)
    assert four == pytest.approx(copper_potential(1000.0, log_beta=11.4) - copper_potential(1000.0))
    assert four == pytest.approx(4 * 0.05916, abs=1e-4)


@given(st.floats(10, 1200), st.floats(1e-3, 1000), st.floats(10, 19))
def test_law_more_thiourea_lowers_copper_and_more_copper_raises_it(thiourea, copper, firmness):
    volts = copper_potential(thiourea, copper, firmness)
    assert copper_potential(2 * thiourea, copper, firmness) < volts
    assert copper_potential(thiourea, 2 * copper, firmness) > volts
    assert copper_potential(thiourea, copper, firmness + 1) < volts


def test_law_the_equation_at_equilibrium_gives_its_constant_back():
    # the potential at which copper, free ion and complex stand beside each other
    volts = copper_potential(500.0, 2.0, 15.0)
    free = 10 ** ((volts - potential("copper(I)")) / 0.0591597)
    assert np.log10(2e-3 / free / 0.5**4) == pytest.approx(15.0, abs=1e-3)


def test_law_without_thiourea_copper_lies_half_a_volt_above_tin():
    assert potential("copper") - potential("tin") == pytest.approx(0.5, abs=0.03)


def test_second_source_thiourea_turns_the_two_round():
    # Read in an abstract: thiourea reversed the potentials of copper and tin. In every draw of the
    # constant, and with ten times as much copper as was assumed
    _, low, high = constant("dissolved copper")
    for copper in (low, high):
        below = tin_potential(84.0) - copper_potential(1000.0, copper, log_beta4(200))
        assert np.all(below > 0.1)


def test_second_source_a_bath_of_1960():
    # Read in an abstract: 200 mV below tin at 17 °C, with 0.72 mol/L of thiourea and 27 mmol/L of
    # tin. The low end of the constant was chosen by it; the middle gives 350
    most = tin_potential(26.6) - copper_potential(723.0)
    least = tin_potential(26.6) - copper_potential(723.0, log_beta=constant("log beta4")[1])
    assert least == pytest.approx(0.2, abs=0.02)
    assert most == pytest.approx(0.35, abs=0.02)


def test_law_the_recalled_constant_lies_within_its_doubt():
    value, low, high = constant("log beta4")
    assert low <= value - 1 < value + 1 <= high  # it was recalled within 1
    draws = log_beta4(200)
    assert isinstance(draws, Draws) and np.all((draws >= low) & (draws <= high))
    assert float(log_beta4()) == value
    assert np.ptp(np.asarray(draws)) > 0.9 * (high - low)


def test_law_draws_stay_draws_and_scenarios_go_before_them():
    volts = copper_potential([[100.0], [1000.0]], log_beta=log_beta4(7))
    assert isinstance(volts, Draws) and volts.shape == (2, 7)
    assert isinstance(tin_potential(as_draws([1.0, 2.0])), Draws)


REFUSED: list[Case] = [
    ("no thiourea", lambda: copper_potential(0.0), ("thiourea = 0", "10 to 2500 mol/m³")),
    ("in mol/L", lambda: copper_potential(1.0), ("thiourea = 1", "10 to 2500 mol/m³")),
    ("too much", lambda: copper_potential(3000), ("thiourea = 3000", "2500 mol/m³")),
    ("thiourea nan", lambda: copper_potential(NAN), ("thiourea = nan",)),
    ("thiourea in words", lambda: copper_potential("much"), ("thiourea", "not a number")),
    ("no copper", lambda: copper_potential(1000, 0.0), ("copper = 0", "0.001 to 2500")),
    ("copper infinite", lambda: copper_potential(1000, INF), ("copper = inf",)),
    ("constant too low", lambda: copper_potential(1000, 1, 3), ("log_beta = 3", "10 to 20")),
    ("not its logarithm", lambda: copper_potential(1000, 1, 2.5e15), ("log_beta", "10 to 20")),
    ("no tin", lambda: tin_potential(0.0), ("tin = 0", "0.001 to 3000 mol/m³")),
    ("too much tin", lambda: tin_potential(5000), ("tin = 5000", "3000 mol/m³")),
    ("tin nan", lambda: tin_potential([1.0, NAN]), ("tin = nan",)),
    ("no draws", lambda: log_beta4(0), ("draws = 0", "1 to 400")),
    ("half a draw", lambda: log_beta4(2.5), ("draws = 2.5", "whole")),
    ("shapes", lambda: copper_potential([10.0, 20.0], [1.0, 2.0, 3.0]), ("thiourea", "copper")),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
