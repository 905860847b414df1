"""When the peroxide of a rest may be gone: against two other solvers, laws, and what is refused."""

import time

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.plans import mild_inputs
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from scipy.integrate import solve_ivp

from pcbchem import RateParameters, Solution, Tray, etch, stand
from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.waste import (
    READS_NOTHING,
    Rest,
    closed_pressure,
    decay_pace,
    decay_time,
    peroxide_after,
    strip_dilution,
    time_gone,
)
from pcbchem.bench.waste.peroxide import FOLLOWED, LONGEST_LOOK
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.matter.properties import MOLAR_MASS
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.bath.standing import rest_of as rest_after

HOUR, DAY = 3600.0, 86_400.0
DRAWS = 40
PLAUSIBLE = RateParameters.plausible(DRAWS)
USED = Solution.of(volume=150e-6, T=301.15, HCl=0.045, H2O2=0.05, CuCl2=0.011)
TRAY = Tray(T_air=293.15)


@pytest.fixture(scope="module")
def rest():
    """Return what is left of the workshop's mild bath, over 200 draws."""
    with collecting_warnings():
        etching = etched(bath("mild"), parameters=RateParameters.plausible(200))
    return Rest(etching.bath_after, etching.tray)


# ---- second sources


def decaying(parameters, T, copper):
    """Return dc/dt of one draw at one temperature, from the equation and not from the package."""
    k3, factor = float(parameters.decay_rate), float(parameters.decay_factor)
    energy, half = float(parameters.decay_energy), float(parameters.decay_half)
    pace = factor * k3 * copper / (copper + half)
    pace *= np.exp(-energy / 8.314462618 * (1 / T - 1 / 340.15))
    return lambda t, c: -pace * c


@pytest.mark.parametrize("T, copper", [(278.15, 20.0), (293.15, 86.0), (303.15, 500.0)])
def test_second_source_the_late_stage_against_an_integration(T, copper):
    parameters = RateParameters()
    seconds = float(decay_time(1500.0, 1.0, T, copper, parameters))
    course = solve_ivp(
        decaying(parameters, T, copper), (0, seconds), [1500.0], rtol=1e-10, atol=1e-10
    )
    assert course.success
    assert course.y[0, -1] == pytest.approx(1.0, rel=1e-6)


def test_second_source_weeks_after_against_an_integration_with_the_draws_own_constants():
    left = np.asarray(peroxide_after(USED, TRAY, [FOLLOWED, 14 * DAY], PLAUSIBLE))
    # where it stands by then: what the bath is at rest at, from `stand` itself
    start = Start.of(USED)
    with collecting_warnings():
        for _ in range(4):
            standing = stand(start, TRAY, FOLLOWED / 4, PLAUSIBLE, tolerance=1e-6)
            start = rest_after(start, standing)
    copper = float(start.CuCl2)
    for draw in range(0, DRAWS, 5):
        one = RateParameters(**{name: value[draw] for name, value in PLAUSIBLE.values().items()})
        right = decaying(one, float(start.T[draw]), copper)
        course = solve_ivp(
            right, (FOLLOWED, 14 * DAY), [left[0, draw]], rtol=1e-9, atol=1e-12, method="LSODA"
        )
        assert course.success
        # what is less than a thousandth of what a strip reads is nothing
        if left[1, draw] > 1e-3 * READS_NOTHING:
            assert left[1, draw] == pytest.approx(course.y[0, -1], rel=0.05)


def test_second_source_a_fortnight_by_stand_after_stand_with_small_steps():
    times = [HOUR, 6 * HOUR, 12 * HOUR, DAY, 3 * DAY, 7 * DAY, 14 * DAY]
    here = np.asarray(peroxide_after(USED, TRAY, times, PLAUSIBLE))
    start, now = Start.of(USED), 0.0
    with collecting_warnings():
        for row, moment in zip(here, times, strict=True):
            while now < moment:
                seconds = min(moment - now, 1e5)
                standing = stand(start, TRAY, seconds, PLAUSIBLE, tolerance=1e-7)
                start, now = rest_after(start, standing), now + seconds
            there = np.asarray(start.H2O2)
            counts = there > 0.1 * READS_NOTHING
            assert np.allclose(row[counts], there[counts], rtol=0.15), moment
            assert np.median(np.abs(row[counts] / there[counts] - 1)) < 0.02, moment
            # at most one draw in forty is on the other side of a strip
            assert abs(int(np.sum(row < READS_NOTHING) - np.sum(there < READS_NOTHING))) <= 1


def test_as_printed_the_first_hour_is_that_of_stand():
    with collecting_warnings():
        once = np.asarray(stand(USED, TRAY, HOUR, PLAUSIBLE, tolerance=1e-5).peroxide)
    here = np.asarray(peroxide_after(USED, TRAY, HOUR, PLAUSIBLE))
    much = once > 0.05 * float(Start.of(USED).H2O2)
    assert np.allclose(here[much], once[much], rtol=0.02) and much.sum() > DRAWS / 2


# ---- laws


def test_law_it_only_ever_falls_and_begins_with_all_of_it(rest):
    times = np.concatenate([[0.0], np.geomspace(600.0, LONGEST_LOOK, 40)])
    left = np.asarray(peroxide_after(rest, None, times))
    assert left.shape == (41, 200)
    assert np.array_equal(left[0], np.asarray(rest.H2O2))
    # the steps of `stand` are as exact as heat asks for
    assert np.all(np.diff(left, axis=0) <= 5e-3 * left[:-1]) and np.all(left >= 0)


def test_law_where_the_late_stage_begins_there_is_no_step():
    moments = FOLLOWED * np.array([0.999, 1.0, 1.001])
    left = np.asarray(peroxide_after(USED, TRAY, moments, PLAUSIBLE))
    before, after = left[0] / left[1], left[1] / left[2]
    assert np.allclose(before, after, rtol=0.01)


def test_law_times_are_answered_as_they_are_asked():
    times = [DAY, HOUR, 7 * DAY, 0.0, HOUR]
    left = np.asarray(peroxide_after(USED, TRAY, times, PLAUSIBLE))
    single = [np.asarray(peroxide_after(USED, TRAY, moment, PLAUSIBLE)) for moment in times]
    # another time on the way is another step, no other bath
    assert np.allclose(left, single, rtol=0.05, atol=1e-6)
    assert np.array_equal(left[1], left[4])
    square = peroxide_after(USED, TRAY, [[HOUR, DAY], [DAY, HOUR]], PLAUSIBLE)
    assert square.shape == (2, 2, DRAWS) and isinstance(square, Draws)


def test_law_a_rest_an_etch_a_solution_and_a_start_are_one_bath():
    with collecting_warnings():
        run = etch(Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06), tide_clock(), TRAY)
    used = run.bath_after
    kinds = (run, used, Start.of(used), Rest(used, TRAY))
    single = RateParameters()
    left = [float(peroxide_after(kind, TRAY, DAY, single)) for kind in kinds]
    assert left[0] > 0 and len(set(left)) == 1
    assert float(peroxide_after(Rest(used, TRAY), None, DAY, single)) == left[0]


def test_law_what_may_be_left_goes_by_the_draws_as_they_are(rest):
    by_default = np.asarray(peroxide_after(rest, None, DAY))
    as_they_are = np.asarray(peroxide_after(rest, None, DAY, RateParameters.plausible(200)))
    quicker = RateParameters.plausible(200).for_heat_after()
    assert np.array_equal(by_default, as_they_are)
    assert np.mean(by_default) > np.mean(np.asarray(peroxide_after(rest, None, DAY, quicker)))


def test_law_when_it_is_gone_there_is_just_the_limit_left(rest):
    for limit in (READS_NOTHING, 2.94):
        gone = np.asarray(time_gone(rest, None, limit))
        some = np.flatnonzero((gone > HOUR / 4) & (gone < LONGEST_LOOK))[::12]
        left = np.asarray(peroxide_after(rest, None, gone[some]))
        assert np.allclose(left[range(len(some)), some], limit, rtol=0.2)
    assert np.all(np.asarray(time_gone(rest)) > np.asarray(time_gone(rest, None, 2.94)))


def test_law_the_band_of_times_is_wider_than_a_factor_of_fifty(rest):
    # nobody has measured the decay in chloride: f_Cl spans a thousand
    quick, slow = np.quantile(np.asarray(time_gone(rest)), (0.1, 0.9))
    assert slow / quick > 50


def test_law_without_copper_it_never_ends():
    fresh = Solution.of(volume=150e-6, T=293.15, HCl=0.05, H2O2=0.05)
    assert np.isinf(float(time_gone(fresh, TRAY, parameters=RateParameters())))
    week = peroxide_after(fresh, TRAY, 7 * DAY, RateParameters())
    assert week == pytest.approx(float(Start.of(fresh).H2O2), rel=1e-6)
    assert decay_time(1000.0, 1.0, 293.15, 0.0) == INF and decay_pace(293.15, 0.0) == 0
    assert decay_time(1.0, 1.0, 293.15, 0.0) == 0


def test_law_what_held_none_is_gone_at_once():
    spent = Solution.of(volume=150e-6, T=293.15, HCl=0.05, CuCl2=0.01)
    assert float(time_gone(spent, TRAY, parameters=RateParameters())) == 0


def test_law_warmth_and_copper_speed_it():
    assert np.all(np.diff(decay_pace([278.15, 288.15, 298.15], 86.0)) > 0)
    assert np.all(np.diff(decay_pace(293.15, [1.0, 10.0, 100.0, 1000.0])) > 0)
    # half the rate of much copper at C3, and an activation energy of 80 kJ/mol: 2.9 times in 10 K
    default = RateParameters()
    assert decay_pace(293.15, default.decay_half) == pytest.approx(
        decay_pace(293.15, 6000.0) / 2, rel=0.01
    )
    ten = decay_pace(303.15, 86.0) / decay_pace(293.15, 86.0)
    assert ten == pytest.approx(np.exp(80e3 / 8.314 * (1 / 293.15 - 1 / 303.15)), rel=1e-3)


def test_law_times_add_up():
    whole = decay_time(1500.0, 1.5, 293.15, 86.0, PLAUSIBLE)
    parts = decay_time(1500.0, 100.0, 293.15, 86.0, PLAUSIBLE) + decay_time(
        100.0, 1.5, 293.15, 86.0, PLAUSIBLE
    )
    assert isinstance(whole, Draws) and np.allclose(whole, parts, rtol=1e-12)


def test_law_a_strip_reads_its_end_when_it_is_diluted_so_far():
    for grams in (200.0, 52.0, 0.5):
        peroxide = grams / MOLAR_MASS["H2O2"]
        assert grams / strip_dilution(peroxide) == pytest.approx(0.1, rel=1e-12)
    assert strip_dilution(0.01) == 1 == strip_dilution(0.0)
    assert isinstance(strip_dilution(as_draws([1.0, 2.0])), Draws)


def test_second_source_closed_pressure_by_hand():
    # 150 mL of 1.52 mol/L: 0.114 mol or 2.7 L of oxygen at 20 °C, in 0.35 L: 7.8 atmospheres
    moles = 0.150 * 1.52 / 2
    litres = moles * 24.06  # molar volume at 20 °C and 1 atm
    assert closed_pressure(moles, 0.35e-3) / 101_325 == pytest.approx(litres / 0.35, rel=1e-3)
    assert closed_pressure(moles, 0.35e-3, 303.15) > closed_pressure(moles, 0.35e-3)
    assert closed_pressure(0.0, 1e-4) == 0
    # a mole of gas in 22.414 L at 0 °C is one atmosphere
    assert closed_pressure(1.0, 22.414e-3, 273.15) == pytest.approx(101_325, rel=1e-4)


# ten millilitres of 30 % in a tenth of a litre; two of peroxide make one oxygen
PUBLISHED = {"a14": lambda: closed_pressure(0.5 * 0.01 * 9.798, 1e-4)}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id):
    # Second source: the gas law, by hand
    assert PUBLISHED[id]() == figure_of("checks_vapour_air", id)


def test_law_a_page_waits_well_under_two_seconds(rest):
    times = np.geomspace(HOUR, 14 * DAY, 40)
    begin = time.process_time()
    peroxide_after(rest, None, times)
    assert time.process_time() - begin < 1.5


# ---- refusals

NO_RUN = mild_inputs()
REFUSED: list[Case] = [
    ("no bath", lambda: peroxide_after("bath", TRAY, HOUR), ("bath", "'bath'", "is not a bath")),
    ("inputs", lambda: peroxide_after(NO_RUN, TRAY, HOUR), ("bath", "is not a bath")),
    ("no tray", lambda: peroxide_after(USED, 0.0075, HOUR), ("tray", "0.0075")),
    ("parameters", lambda: peroxide_after(USED, TRAY, HOUR, 200), ("parameters", "200")),
    ("time before", lambda: peroxide_after(USED, TRAY, [-1.0]), ("times = -1", "5.184e+06 s")),
    ("time beyond", lambda: peroxide_after(USED, TRAY, 6e6), ("times = 6e+06", "0 to 5.184e+06")),
    ("time nan", lambda: peroxide_after(USED, TRAY, NAN), ("times = nan",)),
    ("time words", lambda: peroxide_after(USED, TRAY, "a day"), ("times", "not a number")),
    ("limit 0", lambda: time_gone(USED, TRAY, 0.0), ("limit = 0", "1e-06 to 30000 mol/m³")),
    ("limits", lambda: time_gone(USED, TRAY, [1.0, 2.0]), ("limit", "one number")),
    ("pace warm", lambda: decay_pace(20.0, 86.0), ("T = 20", "250 to 400 K")),
    ("pace copper", lambda: decay_pace(293.15, -1.0), ("copper = -1", "0 to 6000 mol/m³")),
    (
        "more in the end",
        lambda: decay_time(1.0, 3.0, 293.15, 86.0),
        ("end = 3", "at most what there is at first"),
    ),
    ("no peroxide", lambda: decay_time(0.0, 1.0, 293.15, 86.0), ("concentration = 0", "1e-06")),
    ("end nan", lambda: decay_time(1.0, NAN, 293.15, 86.0), ("end = nan",)),
    ("strip", lambda: strip_dilution(-1.0), ("concentration = -1", "0 to 30000")),
    ("scale", lambda: strip_dilution(1.0, 0.0), ("end_of_scale = 0", "above 0 to 100 kg/m³")),
    ("oxygen", lambda: closed_pressure(-1.0, 1e-4), ("oxygen = -1", "mol")),
    ("headspace", lambda: closed_pressure(1.0, 0.0), ("headspace = 0", "above 0 to 1000 m³")),
    ("pressure in °C", lambda: closed_pressure(1.0, 1e-4, 20.0), ("T = 20", "250 to 400 K")),
    (
        "draws of two lengths",
        lambda: peroxide_after(
            Start(HCl=as_draws([1e3, 1.1e3]), H2O2=1e3, T=293.15, volume=1e-4, CuCl2=80.0),
            TRAY,
            HOUR,
            PLAUSIBLE,
        ),
        ("has 2", "has 40"),
    ),
]


@cases(REFUSED)
def test_law_what_cannot_be_is_refused(call, words):
    assert_refused(call, words)
