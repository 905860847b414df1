"""What the air leaves of lye: against a second integration, a balance of matter, and by hand."""

import numpy as np
import pytest
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from pcbchem.bench.air.surface import diffusivity
from pcbchem.bench.resist import (
    VESSELS,
    air_for,
    carbon_dioxide_taken,
    lye_after,
    lye_left,
    vinegar_counts,
)
from pcbchem.bench.resist.ageing import skin, vessel
from pcbchem.common import tables
from pcbchem.common.arrays import Draws

HOUR = 3600.0
FRESH = 312.5
R = 8.314462618
GRID = [
    (start, hours, area, volume, k, share, T, uptake)
    for start in (5.0, 312.5, 1250.0)
    for hours in (0.0, 1.0, 8.0, 200.0)
    for area, volume, k in ((0.02, 1.2e-4, 2e-3), (0.0028, 1.2e-4, 3e-4), (0.1, 1e-3, 8e-3))
    for share, T, uptake in ((420e-6, 293.15, 1.0), (2000e-6, 303.15, 0.7))
]


def rate(T):
    """CO2 + OH- [m³/mol/s] by its printed form."""
    return 10 ** (13.635 - 2895 / T) / 1000


def gas_side_and_skin(c, k, T, uptake):
    """Resistance of air and of lye [s/m], each from its own equation."""
    warmer = 1 / T - 1 / 298.15
    D = 1.91e-9 * np.exp(-2350 * warmer)
    H = 3.3e-4 * np.exp(2400 * warmer)
    # flux = H p sqrt(k D c), over p/(R T)
    return 1 / k + 1 / (uptake * R * T * H * np.sqrt(rate(T) * D * c))


@pytest.mark.parametrize("case", GRID, ids=str)
def test_second_integration(case):
    """The flux again, marched by solve_ivp, to where all is taken: no closed form."""
    start, hours, area, volume, k, share, T, uptake = case
    pressure_over_RT = share * 101_325 / (R * T)

    def pace(t, c):
        left = max(c[0], 1e-12)
        return [-2 * area / volume * pressure_over_RT / gas_side_and_skin(left, k, T, uptake)]

    def gone(t, c):
        return c[0] - 1e-6

    gone.terminal = True
    expected = start
    if hours:
        run = solve_ivp(
            pace, (0, hours * HOUR), [start], "LSODA", rtol=1e-9, atol=1e-9, events=gone
        )
        expected = run.y[0, -1]
    found = lye_left(start, hours * HOUR, area, volume, k, share, T, uptake)
    assert found == pytest.approx(expected, rel=1e-6, abs=2e-6)


def test_the_rate_as_printed():
    # Pinsent, Pearson and Roughton 1956: 8410 L/mol/s at 25 °C
    assert 1000 * rate(298.15) == pytest.approx(8410, rel=0.005)


def test_second_source_diffusivities():
    """CRC Handbook: carbon dioxide in water at 10 and 35 °C, in air at 20 and 100 °C."""
    for T, printed in ((283.15, 1.26), (288.15, 1.45), (293.15, 1.67), (303.15, 2.17)):
        assert 1.91 * np.exp(-2350 * (1 / T - 1 / 298.15)) == pytest.approx(printed, rel=0.004)
    assert diffusivity("CO2", 293.15) == pytest.approx(1.60e-5, rel=0.005)


@given(st.floats(1, 1250), st.floats(0, 1e6), st.floats(1e-4, 0.05), st.floats(1e-4, 1e-2))
def test_law_time_adds_up_and_takes(start, time, area, k):
    once = lye_left(start, 2 * time, area, 1e-3, k)
    twice = lye_left(lye_left(start, time, area, 1e-3, k), time, area, 1e-3, k)
    assert once == pytest.approx(twice, rel=1e-7, abs=1e-7)
    assert 0 <= once <= start


@given(st.floats(1, 1250), st.floats(1e3, 1e5))
def test_law_no_more_than_the_air_can_bring(start, time):
    """Were the lye no hindrance at all, the gas would still have to come through the air."""
    k, area, volume, T = 2e-3, 0.02, 1.2e-4, 293.15
    most = 2 * k * 420e-6 * 101_325 / (R * T) * area / volume * time
    assert start - lye_left(start, time, area, volume, k, T=T) <= most * (1 + 1e-9)


def test_law_more_gas_more_area_less_lye():
    for values in (
        lye_left(FRESH, 8 * HOUR, 0.02, 1.2e-4, 2e-3, [4e-4, 8e-4, 1.6e-3]),
        lye_left(FRESH, 8 * HOUR, [0.005, 0.01, 0.02], 1.2e-4, 2e-3),
        lye_left(FRESH, 8 * HOUR, 0.02, [4e-4, 2e-4, 1e-4], 2e-3),
        lye_left(FRESH, 8 * HOUR, 0.02, 1.2e-4, [1e-3, 2e-3, 4e-3]),
        lye_left(FRESH, [HOUR, 2 * HOUR, 9 * HOUR], 0.02, 1.2e-4, 2e-3),
    ):
        assert np.all(np.diff(values) < 0)


@pytest.mark.parametrize("name", VESSELS)
def test_law_draws_are_shared_and_only_fall(name):
    times = np.array([0.0, 1.0, 3.0, 8.0, 24.0])[:, None] * HOUR
    left = lye_after(FRESH, times, name)
    assert isinstance(left, Draws) and left.shape == (5, 200)
    assert np.asarray(left[0]) == pytest.approx(FRESH) and np.all(np.diff(left, axis=0) <= 0)
    assert np.all(np.asarray(lye_after(FRESH, 8 * HOUR, name)) == np.asarray(left[3]))


def test_law_the_deeper_and_the_closed_lose_less_in_every_draw():
    dish, beaker, bottle = (np.asarray(lye_after(FRESH, 6 * HOUR, name)) for name in VESSELS)
    assert np.all(dish < beaker) and np.all(beaker < bottle) and np.all(bottle > 0.999 * FRESH)


def test_a_dish_loses_half_in_a_working_day_and_a_beaker_keeps_most():
    """Half of it: of 200 draws the middle is gone by 25 to 75 % after 6 hours."""
    dish = np.quantile(np.asarray(lye_after(FRESH, 6 * HOUR)) / FRESH, (0.1, 0.5, 0.9))
    assert 0.15 < dish[0] < 0.35 and 0.4 < dish[1] < 0.6 and 0.65 < dish[2] < 0.8
    beaker = np.median(np.asarray(lye_after(FRESH, 6 * HOUR, "tall beaker"))) / FRESH
    assert beaker > 0.9


def test_law_what_moves_up_to_the_surface_is_no_hindrance():
    """Lye that is used up at the surface: its own diffusion through a skin of a quarter millimetre
    brings it, which evaporation stirs; from 0.5 g/L on the surface is at most a tenth weaker."""
    c, k = 12.5, 2e-3
    flux = 2 * 420e-6 * 101_325 / (R * 293.15) / gas_side_and_skin(c, k, 293.15, 1.0)
    assert flux * 2.5e-4 / 5e-9 < 0.1 * c


def test_a_closed_bottle_takes_the_gas_of_its_own_air_once():
    closed = vessel("bottle with a lid")
    for hours in (1, 100):
        taken = FRESH - np.asarray(lye_after(FRESH, hours * HOUR, "bottle with a lid"))
        share = taken / 2 / closed.air * R * 293.15 / 101_325
        assert 420e-6 * 0.999 < share.min() and share.max() < 1400e-6 * 1.001


def test_law_each_doubt_has_its_own_seed_and_ends():
    rows = {row["doubt"]: row for row in tables.read("air_doubts")}
    assert len({row["seed"] for row in rows.values()}) == len(rows)
    assert rows["carbon dioxide"]["low"] == "0.00042"
    dish = np.asarray(lye_after(FRESH, 6 * HOUR))
    assert np.unique(dish).size == dish.size


def test_vinegar_counts_half_of_what_is_carbonate():
    # 10 mL of half spent lye hold 1.5625 mmol of lye and 0.78125 mmol of carbonate
    assert vinegar_counts(FRESH, FRESH / 2) * 10e-6 == pytest.approx(1.5625e-3 + 0.78125e-3)
    assert vinegar_counts(FRESH, FRESH) == FRESH


def test_law_carbon_in_is_half_of_lye_gone():
    assert carbon_dioxide_taken(FRESH, 0.0) == FRESH / 2
    # 120 mL, half gone: 9.4 mmol, what half a cubic metre of air of 420 ppm holds
    taken = carbon_dioxide_taken(FRESH, FRESH / 2) * 1.2e-4
    assert air_for(taken) == pytest.approx(9.375e-3 * 24.055e-3 / 420e-6, rel=1e-3)


def test_law_warmth_makes_the_skin_thinner():
    assert np.all(np.diff(skin([273.15, 283.15, 293.15, 303.15, 313.15])) < 0)


STRONG = "lye above 50 g/L"
OPEN = (0.02, 1.2e-4, 2e-3)
REFUSED: list[Case] = [
    ("negative lye", lambda: lye_left(-1, 0, *OPEN), ("start = -1", "0 to 1250")),
    ("strong lye", lambda: lye_left(1300, 0, *OPEN), (STRONG, "start = 1300")),
    ("infinite lye", lambda: lye_left(INF, 0, *OPEN), ("start = inf", "0 to 1250")),
    ("time back", lambda: lye_left(300, -1, *OPEN), ("time = -1", "0 to 5.184e+06 s")),
    ("a year", lambda: lye_left(300, 3.2e7, *OPEN), ("time = 3.2e+07",)),
    ("no area", lambda: lye_left(300, 0, -0.1, 1e-4, 1e-3), ("area = -0.1", "0 to 10 m²")),
    ("no volume", lambda: lye_left(300, 0, 0.02, 0, 1e-3), ("volume = 0", "m³")),
    ("no air", lambda: lye_left(300, 0, 0.02, 1e-4, 0), ("transfer = 0", "above 0 to 1 m/s")),
    ("ppm", lambda: lye_left(300, 0, *OPEN, 420), ("carbon_dioxide = 420", "0 to 0.05 mol/mol")),
    ("celsius", lambda: lye_left(300, 0, *OPEN, T=20), ("T = 20", "273.15 to 313.15 K")),
    ("uptake", lambda: lye_left(300, 0, *OPEN, uptake=0), ("uptake = 0", "0.1 to 10")),
    ("vessel", lambda: lye_after(300, 0, "bucket"), ("vessel = 'bucket'", "flat dish")),
    ("vessel is none", lambda: lye_after(300, 0, None), ("vessel = None", "tall beaker")),
    ("many draws", lambda: lye_after(300, 0, draws=401), ("draws = 401", "1 to 400")),
    ("half a draw", lambda: lye_after(300, 0, draws=0.5), ("draws = 0.5", "whole number")),
    ("strong lye ages", lambda: lye_after(2000, 0), (STRONG, "start = 2000")),
    ("hot lye ages", lambda: lye_after(300, 0, T=330.0), ("T = 330", "273.15 to 313.15 K")),
    ("too small", lambda: lye_after(300, 0, volume=1e-9), ("volume = 1e-09", "1e-06")),
    ("no axis for draws", lambda: lye_after(300, [1.0, 2.0]), ("draws",)),
    ("more left", lambda: vinegar_counts(100, 200), ("start - left = -100",)),
    ("left of NaN", lambda: carbon_dioxide_taken(100, NAN), ("left = nan",)),
    ("air for less", lambda: air_for(-1), ("carbon_dioxide = -1", "0 to 1000 mol")),
    ("cold air", lambda: air_for(1, 200), ("T = 200", "273.15 to 313.15 K")),
]


@cases(REFUSED)
def test_refused(call, words):
    assert_refused(call, words)
