"""Room and near: closed forms against a solver, figures, and what cannot be."""

import numpy as np
import pytest
from helpers.expected import figure_of
from helpers.refusals import INF, NAN, Case, assert_refused, cases
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from pcbchem.bench.air.room import (
    air_needed,
    beside_you,
    exhausted,
    exhausted_twice,
    fresh_air,
    mean_share,
    near_share,
    room_share,
    steady_share,
    time_above,
)
from pcbchem.bench.air.surface import forced
from pcbchem.matter.vapour import hydrogen_chloride

T20, ATMOSPHERE = 293.15, 101_325.0
ROOM = {"stream": 4e-5, "share": 0.02, "air": 0.003, "volume": 30.0, "open_for": 900.0}


def full_bottle():
    """Stream of the mouth of a full bottle of 25 mm in still air [m³/s]."""
    return np.pi / 4 * 0.025**2 * forced(0.1, 0.025, "HCl")


def over(w):
    """Share of acid gas over acid at 20 °C [mol/mol]."""
    return hydrogen_chloride(T20, w) / ATMOSPHERE


def purge():
    """Hours that a house of 0.35 changes an hour takes to purge to 1 %."""
    air = fresh_air(30, 0.35)
    values = room_share([3600.0, 3600.0 + 36_000.0], 4e-5, 0.02, air, 30, 3600)
    # the decay of ten hours, carried on to a hundredth
    return 10 * np.log(100) / np.log(values[0] / values[1])


PUBLISHED = {
    "a06": lambda: 3600 * air_needed(full_bottle(), over(0.3145), 5e-6),
    "a07": lambda: (
        1e6
        * steady_share(
            0.0067 * 0.1**0.78 * (18.015 / 36.461) ** (1 / 3) * 0.05,
            over(0.20),
            fresh_air(30, 0.35),
        )
    ),
    "a08": lambda: 1e6 * room_share(600, **ROOM),
    "a09": lambda: 1e6 * mean_share(0, 900, **ROOM),
    "a10": lambda: time_above(5e-6, **ROOM) / 60,
    "a11": lambda: (
        -np.log(
            room_share(3600 + 47376.9, 4e-5, 0.02, fresh_air(30, 0.35), 30, 3600)
            / room_share(3600, 4e-5, 0.02, fresh_air(30, 0.35), 30, 3600)
        )
        / np.log(100)
    ),
    "a12": lambda: 1e6 * near_share(full_bottle(), over(0.3145), 0.0),
    "purge": purge,
}


@pytest.mark.parametrize("id", PUBLISHED)
def test_published(id):
    # Second source, but where the table says "reference": another implementation of the equations
    table = "checks_safety" if id == "purge" else "checks_vapour_air"
    assert PUBLISHED[id]() == figure_of(table, id)


# ---- against a solver

CASES = [
    {"stream": 4e-5, "share": 0.02, "air": 0.003, "volume": 30.0, "open_for": 900.0},
    {"stream": 1e-4, "share": 0.02, "air": 0.0, "volume": 30.0, "open_for": 900.0},
    {"stream": 0.5, "share": 0.1, "air": 0.0, "volume": 3.0, "open_for": 100.0},
    {"stream": 1e-7, "share": 1e-6, "air": 0.3, "volume": 60.0, "open_for": 5000.0},
    {"stream": 1e-9, "share": 0.5, "air": 1e-9, "volume": 1000.0, "open_for": 60.0},
    {"stream": 0.0, "share": 0.02, "air": 0.0, "volume": 30.0, "open_for": 900.0},
]


def solved(case, end):
    """Solve the equation of the room: share, and its integral, at the cover and at the end."""
    g, x_s, F, V, T = (case[name] for name in ("stream", "share", "air", "volume", "open_for"))

    def open_room(time, y):
        return [(g * (x_s - y[0]) - F * y[0]) / V, y[0]]

    def covered_room(time, y):
        return [-F * y[0] / V, y[0]]

    strict = {"rtol": 1e-10, "atol": 1e-18, "method": "DOP853"}
    first = solve_ivp(open_room, (0, T), [0.0, 0.0], **strict)
    second = solve_ivp(covered_room, (T, end), first.y[:, -1], **strict)
    assert first.success and second.success
    return first.y[:, -1], second.y[:, -1]


@pytest.mark.parametrize("case", CASES)
def test_law_closed_forms_solve_the_room(case):
    T, end = case["open_for"], 3 * case["open_for"]
    covered, last = solved(case, end)
    assert room_share(T, **case) == pytest.approx(covered[0], rel=1e-6, abs=1e-20)
    assert room_share(end, **case) == pytest.approx(last[0], rel=1e-6, abs=1e-20)
    assert mean_share(0, T, **case) * T == pytest.approx(covered[1], rel=1e-6, abs=1e-20)
    whole = mean_share(0, end, **case) * end
    assert whole == pytest.approx(last[1], rel=1e-6, abs=1e-20)
    tail = mean_share(T, end, **case) * (end - T)
    assert tail == pytest.approx(last[1] - covered[1], rel=1e-6, abs=1e-18)


@pytest.mark.parametrize("case", CASES[:1] + CASES[3:4])
def test_law_at_both_ends_of_the_time_above_is_the_limit(case):
    highest = room_share(case["open_for"], **case)
    for share in (0.1, 0.5, 0.9):
        limit = share * highest
        span = time_above(limit, **case)
        times = np.linspace(0.0, 20 * case["open_for"] + 10 * span, 400_001)
        counted = np.mean(room_share(times, **case) > limit) * times[-1]
        assert span == pytest.approx(counted, rel=1e-3)


def test_law_time_above_has_its_ends():
    assert time_above(1.0, **ROOM) == 0
    assert time_above(2 * room_share(900, **ROOM), **ROOM) == 0
    # no fresh air: what is above a limit stays above it
    closed = ROOM | {"air": 0.0}
    assert time_above(1e-6, **closed) == np.inf
    assert time_above([1e-6, 1.0], **closed).tolist() == [np.inf, 0]


def test_law_no_fresh_air_divides_by_nothing():
    closed = ROOM | {"air": 0.0, "stream": 0.0}
    assert room_share([0, 900, 1e6], **closed).tolist() == [0, 0, 0]
    assert mean_share(0, 900, **closed) == 0
    sealed = ROOM | {"air": 0.0}
    assert room_share(900, **sealed) == room_share(1e6, **sealed)


@settings(deadline=None)
@given(
    st.floats(1e-9, 1.0),
    st.floats(0.0, 1.0),
    st.floats(0.0, 10.0),
    st.floats(0.1, 1e4),
    st.floats(0.0, 1e6),
)
def test_law_a_room_never_holds_more_than_the_surface(stream, share, air, volume, time):
    x = room_share(time, stream, share, air, volume, 1e6)
    # numbers below this have few digits left
    last_digits = 1e-300
    assert 0 <= x <= share * (1 + 1e-9) + last_digits
    assert x <= steady_share(stream, share, air) * (1 + 1e-9) + last_digits
    near = near_share(stream, share, x)
    assert x * (1 - 1e-9) - last_digits <= near <= share * (1 + 1e-9) + last_digits


def test_law_more_air_is_less_gas_and_more_surface_is_more():
    airs = np.array([0.0, 1e-4, 1e-3, 1e-2, 0.1])
    assert np.all(np.diff(room_share(900, **(ROOM | {"air": airs}))) < 0)
    assert np.all(np.diff(mean_share(0, 3000, **(ROOM | {"air": airs}))) < 0)
    streams = np.array([0.0, 1e-6, 1e-5, 1e-4])
    assert np.all(np.diff(room_share(900, **(ROOM | {"stream": streams}))) > 0)
    # near it a brisker draught thins: where the room is clean
    assert np.all(np.diff(near_share(4e-5, 0.02, 0.0, [0.05, 0.1, 1.0, 3.0])) < 0)


def test_law_the_air_needed_holds_the_limit():
    needed = air_needed(4e-5, 0.02, 5e-6)
    assert steady_share(4e-5, 0.02, needed) == pytest.approx(5e-6, rel=1e-12)
    # 0 would read as a fan of no size that will do
    assert np.isnan(air_needed(4e-5, 0.02, 0.02))
    assert np.isnan(air_needed(4e-5, 1e-7, 5e-6))


def test_law_the_air_needed_holds_the_limit_near_you():
    """With it near and room together are at the limit; without near the room alone is."""
    beside = beside_you(0.2)
    for g, x_s, limit in ((2e-6, 0.02, 5e-6), (4e-5, 2e-4, 5e-6), (1e-5, 0.02, 2e-5)):
        needed = air_needed(g, x_s, limit, beside)
        assert 0 < air_needed(g, x_s, limit) < needed < np.inf
        assert near_share(g, x_s, steady_share(g, x_s, needed), 0.2) == pytest.approx(limit)
    # what comes straight from the surface passes it by itself
    assert (
        near_share(4e-5, 0.02, 0.0, 0.2) > 4e-6 and air_needed(4e-5, 0.02, 4e-6, beside) == np.inf
    )
    assert np.isnan(air_needed(4e-5, 1e-7, 5e-6, beside))
    mixed = air_needed([4e-5, 4e-5], [1e-7, 0.02], 4e-6, beside)
    assert np.array_equal(mixed, [np.nan, np.inf], equal_nan=True)


def test_law_the_series_meets_the_exact_form():
    for exponent in (0.9999e-4, 1.0001e-4):
        rate = exponent / 900
        assert exhausted_twice(rate, 900.0) == pytest.approx(900**2 / 2, rel=1e-4)
    below, above = exhausted_twice([0.99999e-4 / 900, 1.00001e-4 / 900], 900.0)
    assert below == pytest.approx(above, rel=1e-8) and below > above
    assert exhausted(0.0, 5.0) == 5 and exhausted_twice(0.0, 4.0) == 8


def test_second_source_half_a_sphere():
    # the two-zone model of books, half of the surface of half a sphere of 0.5 m: 0.08 m³/s
    assert beside_you(0.1) == pytest.approx(0.08, rel=0.03)


REFUSED: list[Case] = [
    ("time", lambda: room_share(-1, **ROOM), ("time", "-1", "0 to 1e+07 s")),
    ("no time", lambda: room_share(NAN, **ROOM), ("time", "nan", "0 to 1e+07 s")),
    ("stream", lambda: room_share(9, **(ROOM | {"stream": -1})), ("stream", "-1", "0 to 100")),
    ("ppm", lambda: room_share(9, **(ROOM | {"share": 5.0})), ("share", "5", "0 to 1 mol/mol")),
    ("share", lambda: room_share(9, **(ROOM | {"share": -0.1})), ("share", "-0.1", "0 to 1")),
    ("air", lambda: room_share(9, **(ROOM | {"air": INF})), ("air", "inf", "0 to 100 m³/s")),
    ("volume", lambda: room_share(9, **(ROOM | {"volume": 0})), ("volume", "0", "0.1 to 100000")),
    ("open", lambda: room_share(9, **(ROOM | {"open_for": -1})), ("open_for", "-1", "0 to 1e+07")),
    ("order", lambda: mean_share(9, 9, **ROOM), ("end − begin", "0", "above 0")),
    ("backwards", lambda: mean_share(9, 3, **ROOM), ("end − begin", "-6", "above 0")),
    ("begin", lambda: mean_share(-9, 3, **ROOM), ("begin", "-9", "0 to 1e+07 s")),
    ("limit of 0", lambda: time_above(0, **ROOM), ("limit", "0", "above 0 to 1 mol/mol")),
    ("limit in ppm", lambda: air_needed(1e-4, 0.02, 5), ("limit", "5", "above 0 to 1 mol/mol")),
    ("nothing moves", lambda: steady_share(0, 0.1, 0), ("stream + air", "0", "above 0")),
    ("changes", lambda: fresh_air(30, -1), ("air_changes", "-1", "0 to 1000 1/h")),
    ("no mixing", lambda: fresh_air(30, 1, 0), ("mixing", "0", "above 0 to 1")),
    ("a flat room", lambda: fresh_air(0, 1), ("volume", "0", "0.1 to 100000 m³")),
    ("near a room in ppm", lambda: near_share(1e-4, 0.1, 2.0), ("room", "2", "0 to 1 mol/mol")),
    ("no draught", lambda: near_share(1e-4, 0.1, 0.0, 0), ("air_speed", "0", "0.01 to 3 m/s")),
    ("not a number", lambda: beside_you("x"), ("air_speed", "'x'", "0.01 to 3 m/s")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
