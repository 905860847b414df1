"""The solver by itself, on courses that have an exact solution."""

import numpy as np
import pytest

from pcbchem.reaction.bath import stepper
from pcbchem.reaction.bath.stepper import (
    HOTTEST_BATH,
    OXIDANT,
    SHARE,
    TEMPERATURE,
    TIME,
    cubic,
    curves,
    solve,
)

LONGEST = 1000.0
HILL_AT, HILL_WIDTH, HILL = 40.0, 15.0, 50.0


def begun(count, oxidant=100.0, temperature=300.0):
    """Lay out the states at the start, shape (4, count)."""
    start = np.zeros((4, count))
    start[OXIDANT], start[TEMPERATURE] = oxidant, temperature
    return start


def fading(c, y, warmth):
    """Give slopes of a foil that goes ever slower, and of a bath that warms and cools again.

    share = fastest * (1 - exp(-t / tau)), and a hill of temperature; the clock is time [1000 s].
    """
    time = y[TIME]
    change = np.zeros_like(y)
    change[TIME] = LONGEST
    change[SHARE] = c["fastest"] / c["tau"] * np.exp(-time / c["tau"]) * LONGEST
    change[OXIDANT] = -0.05 * y[OXIDANT] * LONGEST
    hill = (time - HILL_AT) / HILL_WIDTH
    change[TEMPERATURE] = -2 * hill / HILL_WIDTH * HILL * np.exp(-(hill**2)) * LONGEST
    return change, warmth


def run_fading(fastest, tau, tolerance=1e-6, history=False):
    fastest = np.asarray(fastest, dtype=float)
    constants = {"fastest": fastest, "tau": np.asarray(tau, dtype=float), "most": np.inf}
    count = fastest.size
    return solve(constants, begun(count), np.zeros(count), fading, LONGEST, tolerance, history)


def test_law_a_bath_ends_where_its_foil_ends():
    fastest, tau = np.array([1.5, 2.0, 4.0]), np.array([60.0, 200.0, 90.0])
    course = run_fading(fastest, tau)
    exact = -tau * np.log(1 - 1 / fastest)
    assert course.ends[SHARE].tolist() == [1, 1, 1]
    assert course.ends[TIME] == pytest.approx(exact, rel=1e-5)
    assert course.ends[OXIDANT] == pytest.approx(100 * np.exp(-0.05 * exact), abs=1e-2)


def test_law_a_bath_that_does_not_clear_ends_at_the_longest_time():
    course = run_fading([0.5, 0.999], [60.0, 60.0])
    assert course.ends[TIME] == pytest.approx(LONGEST, rel=1e-8)
    assert course.ends[SHARE] == pytest.approx([0.5, 0.999], rel=1e-5)


def speeding(c, y, warmth):
    """Give slopes of a foil that goes ever faster, share = (t / tau)²; the clock is time."""
    change = np.zeros_like(y)
    change[TIME] = LONGEST
    change[SHARE] = 2 * y[TIME] / c["tau"] ** 2 * LONGEST
    return change, warmth


def test_law_a_step_past_the_end_counts_only_up_to_it():
    tau = np.array([30.0, 100.0, 2000.0])
    constants = {"tau": tau, "most": np.inf}
    course = solve(constants, begun(3), np.zeros(3), speeding, LONGEST, 1e-3)
    assert course.ends[TIME] == pytest.approx([30.0, 100.0, LONGEST], rel=1e-3)
    assert course.ends[SHARE] == pytest.approx([1.0, 1.0, 0.25], rel=1e-3)


@pytest.mark.parametrize("offset", np.linspace(0, 6, 7))
def test_law_a_peak_inside_a_step_is_found(offset):
    # a bath that starts at its hill's side takes steps of many seconds there
    def over_a_hill(c, y, warmth):
        change = np.zeros_like(y)
        change[TIME] = LONGEST
        change[TEMPERATURE] = 2 * HILL * (HILL_AT + offset - y[TIME]) / HILL_AT**2 * LONGEST
        return change, warmth

    course = solve({"most": np.inf}, begun(1), np.zeros(1), over_a_hill, 2 * HILL_AT, 2e-3)
    top = 300 + HILL * ((HILL_AT + offset) / HILL_AT) ** 2
    assert course.peaks[0] == pytest.approx(top, abs=0.3)


def test_law_smaller_tolerance_is_nearer():
    exact = -60 * np.log(1 - 1 / 1.5)
    errors = [
        abs(run_fading([1.5], [60.0], tolerance).ends[TIME, 0] - exact)
        for tolerance in (1e-2, 1e-4, 1e-6)
    ]
    assert errors[0] > 5 * errors[1] > 25 * errors[2]


@pytest.mark.parametrize(("pool", "worth_sorting_out"), [(1, 1), (5, 1), (5, 3), (12, 20)])
def test_law_who_else_is_in_the_pool_does_not_matter(monkeypatch, pool, worth_sorting_out):
    """Alone, in a small pool that others join, or all at once: the same to the last bit."""
    generator = np.random.default_rng(1)
    fastest, tau = generator.uniform(0.5, 4, 12), generator.uniform(5, 300, 12)
    monkeypatch.setattr(stepper, "WORTH_SORTING_OUT", 1)
    whole = run_fading(fastest, tau, 1e-3, history=True)
    monkeypatch.setattr(stepper, "POOL", pool)
    monkeypatch.setattr(stepper, "WORTH_SORTING_OUT", worth_sorting_out)
    parts = run_fading(fastest, tau, 1e-3, history=True)
    assert np.array_equal(parts.ends, whole.ends)
    assert np.array_equal(parts.peaks, whole.peaks)
    assert np.array_equal(curves(parts.steps, 12), curves(whole.steps, 12))


def test_law_curves_run_from_the_start_to_the_end_and_hold_it():
    course = run_fading([0.5, 3.0], [60.0, 60.0], history=True)
    lines = curves(course.steps, 2)
    assert lines[:, :, 0] == pytest.approx(begun(2))
    assert lines[:, :, -1] == pytest.approx(course.ends, rel=1e-9)
    for number in (0, 1):
        time, share = lines[TIME, number], lines[SHARE, number]
        assert np.all(np.diff(time) >= -1e-9)
        exact = [0.5, 3.0][number] * (1 - np.exp(-time / 60.0))
        assert share == pytest.approx(exact, abs=1e-4)


def test_law_no_steps_are_kept_unless_asked_for():
    assert run_fading([2.0], [60.0]).steps is None


def test_law_a_state_is_never_hotter_than_boiling():
    def boiling(c, y, warmth):
        change = np.zeros_like(y)
        change[TIME], change[TEMPERATURE] = LONGEST, 1000.0
        return change, warmth

    course = solve({"most": np.inf}, begun(1), np.zeros(1), boiling, LONGEST, 1e-3)
    assert course.peaks[0] == course.ends[TEMPERATURE, 0] == HOTTEST_BATH


def test_law_no_more_foil_goes_than_the_chloride_holds():
    constants = {"fastest": np.array([2.0]), "tau": np.array([60.0]), "most": np.array([0.25])}
    course = solve(constants, begun(1), np.zeros(1), fading, LONGEST, 1e-6)
    assert course.ends[SHARE, 0] <= 0.25


def test_law_a_bath_that_became_nan_is_a_fault_that_is_said():
    def broken(c, y, warmth):
        return np.where(y[TIME] > 100, np.nan, 1.0) * fading(c, y, warmth)[0], warmth

    constants = {"fastest": np.full(3, 2.0), "tau": np.full(3, 400.0), "most": np.inf}
    with pytest.raises(RuntimeError, match="3 baths became NaN: a fault of the solver"):
        solve(constants, begun(3), np.zeros(3), broken, LONGEST, 1e-3)


def test_law_a_bath_without_an_end_is_a_fault_that_is_said(monkeypatch):
    monkeypatch.setattr(stepper, "MOST_STEPS", 10)
    with pytest.raises(RuntimeError, match="2 baths did not finish in 10 steps"):
        run_fading([0.5, 0.5], [60.0, 60.0], tolerance=1e-9)


def test_law_a_cubic_is_its_own_hermite_cubic():
    def value(t):
        return 2 - t + 3 * t**2 - 4 * t**3

    def slope(t):
        return -1 + 6 * t - 12 * t**2

    share = np.linspace(0, 1, 7)
    line = cubic(share, value(0.0), value(1.0), slope(0.0), slope(1.0))
    assert line == pytest.approx(value(share))
