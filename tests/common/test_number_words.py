"""Numbers are written as people say them."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pcbchem.common.band import Band
from pcbchem.common.number_words import (
    apart,
    clock,
    degrees,
    figures,
    low_to_high,
    of_draws,
    per_cm2,
    ratio_of,
    share,
    span,
    watch,
)

SECONDS = {"s": 1, "min": 60, "h": 3600}


def band_of(low: float, high: float) -> Band:
    return Band.of([low, high], draws=2)


@pytest.mark.parametrize(
    ("value", "digits", "words"),
    [
        (75, 2, "75"),
        (0.8239, 2, "0.82"),
        (1249.6, 3, "1250"),
        (1234567.0, 2, "1200000"),
        (0.000123, 2, "0.00012"),
        (-0.5, 2, "-0.5"),
        (0, 2, "0"),
        (3.0, 3, "3"),
        (100, 1, "100"),
    ],
)
def test_figures(value: float, digits: int, words: str) -> None:
    # Law: no exponent, and no zeros behind that say nothing.
    assert figures(value, digits) == words


@given(st.floats(1e-3, 1e9), st.integers(2, 6))
def test_figures_are_the_number_to_so_many_figures(value: float, digits: int) -> None:
    # Law: half a unit of the last figure, and half of the sixth decimal.
    words = figures(value, digits)
    assert "e" not in words
    unit = 10.0 ** (math.floor(math.log10(value)) - digits + 1)
    assert float(words) == pytest.approx(value, abs=0.500001 * unit + 0.500001e-6)


def test_two_numbers_get_the_figures_that_tell_them_apart() -> None:
    # Law.
    assert apart(3.96, 4.0) == ("3.96", "4")
    assert apart(1.0, 2.0) == ("1", "2")
    assert apart(1.23456, 1.23457) == ("1.23456", "1.23457")
    assert apart(5.0, 5.0) == ("5", "5")


def test_low_to_high_says_one_figure_where_the_ends_agree() -> None:
    # Law.
    assert low_to_high((0.10, 0.12), 100) == "10 to 12"
    assert low_to_high((0.1, 0.10001), 100) == "10"
    assert low_to_high((1.04, 1.06), digits=2) == "1 to 1.1"


def test_bath_over_copper_in_the_units_of_a_page() -> None:
    # Law: a litre over a square metre is a tenth of a mL over a cm².
    assert per_cm2(1e-3) == pytest.approx(0.1)


def test_draws_are_counted() -> None:
    # Law.
    assert of_draws(np.array([True, False, False])) == "1 of 3"
    assert of_draws([True, True]) == "all"
    assert of_draws([False, False]) == "none"


# ---- times


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0.0 s"),
        (3.4, "3.4 s"),
        (89.4, "89 s"),
        (90, "1.5 min"),
        (230, "3.8 min"),
        (600, "10 min"),
        (5999, "100 min"),
        (6000, "1.7 h"),
        (90000, "25 h"),
        (np.inf, "never"),
    ],
)
def test_a_time_in_the_unit_people_use(seconds: float, words: str) -> None:
    # Law: seconds below 1.5 minutes, minutes below 100.
    assert clock(seconds) == words


@given(st.floats(10, 1e6))
def test_a_time_is_said_within_a_twentieth(seconds: float) -> None:
    # Law: the words are the number, rounded.
    number, unit = clock(seconds).split()
    assert float(number) * SECONDS[unit] == pytest.approx(seconds, rel=0.05)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (45, "45 s"),
        (59.6, "1 min"),
        (90, "1 min 30 s"),
        (720, "12 min"),
        (7201, "120 min 1 s"),
    ],
)
def test_a_time_to_keep_by_the_watch(seconds: float, words: str) -> None:
    # Law: to the second.
    assert watch(seconds) == words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (180, 300, "3.0 to 5.0 min"),
        (60, 300, "60 s to 5.0 min"),
        (300, 301, "5.0 min"),
        (1680, np.inf, "28 min to never"),
        (np.inf, np.inf, "never"),
    ],
)
def test_a_span_of_times_names_a_common_unit_once(low: float, high: float, words: str) -> None:
    # Law.
    assert span(band_of(low, high)) == words


# ---- other bands


def test_a_band_of_temperatures() -> None:
    # Law.
    assert degrees(band_of(300.15, 306.15)) == "27 to 33 °C"
    assert degrees(band_of(300.0, 300.3)) == "27 °C"


def test_a_band_of_shares() -> None:
    # Law.
    assert share(band_of(0.2, 0.25)) == "20 to 25 %"
    assert share(band_of(0.201, 0.202)) == "20 %"


def test_parts() -> None:
    # Law.
    assert ratio_of((3, 1, 1.5)) == "3 : 1 : 1.5"
