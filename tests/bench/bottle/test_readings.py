"""Readings put together, and what age does to them."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.bench.bottle import Strength, aged, combined
from pcbchem.common.limits import InputError


def acid(strength, doubt, method="weighing"):
    return Strength("HCl", strength, doubt, method)


def peroxide(strength, doubt, method="oxygen over water"):
    return Strength("H2O2", strength, doubt, method)


def test_law_two_methods_count_by_their_doubts():
    # weights 1/6² : 1/3² = 1 : 4, mean 0.31 + 4/5 of 0.01 = 0.318; doubt 1/√(1/6² + 1/3²) = 2.6833
    # thousandths
    two = combined(acid(0.31, 0.006, "weighing"), acid(0.32, 0.003, "titration"))
    assert two.middle == pytest.approx(0.318)
    assert two.doubt == pytest.approx(0.0026833, rel=1e-4)
    assert two.method == "weighing and titration"


def test_law_one_method_twice_keeps_the_doubt_of_its_vessel():
    once = acid(0.31, 0.006)
    twice = combined(once, acid(0.32, 0.006))
    assert (twice.middle, twice.doubt) == pytest.approx((0.315, 0.006))
    assert twice.method == "weighing"
    assert combined(once) == once


WEIGHING = acid(0.31, 0.006, "weighing")
LYE = acid(0.32, 0.004, "titration with lye")
SODA = acid(0.315, 0.005, "titration with washing soda")
PAIR = combined(WEIGHING, LYE)


@pytest.mark.parametrize(
    "readings", [(PAIR, WEIGHING), (WEIGHING, PAIR), (PAIR, combined(LYE, SODA))]
)
def test_law_no_method_counts_twice(readings):
    words = r"put together already.*would count twice.*all in one call"
    with pytest.raises(InputError, match=words):
        combined(*readings)


def test_law_a_pair_and_another_are_as_all_at_once():
    assert combined(PAIR, SODA).doubt == pytest.approx(combined(WEIGHING, LYE, SODA).doubt)
    assert combined(PAIR, PAIR).doubt == pytest.approx(PAIR.doubt)


def test_law_a_reading_and_its_aged_copy_are_one_method():
    fresh = peroxide(0.30, 0.003)
    old = aged(fresh, 1, "closed")
    assert combined(old, fresh).doubt >= min(old.doubt, fresh.doubt)
    assert old.methods == fresh.methods
    assert (old.years, fresh.years) == (1, 0)


def test_law_readings_three_doubts_apart_are_refused_by_name():
    # one standard deviation of the difference is √(4² + 3²) = 5 thousandths: 3 of them are 0.015
    weighing = acid(0.300, 0.004, "weighing")
    assert combined(weighing, acid(0.3149, 0.003, "titration")).middle < 0.3149
    words = r"weighing: 30.0 ± 0.4 %.*titration: 31.5 ± 0.3 %.*3.0 doubts apart.*0 to 3"
    with pytest.raises(InputError, match=words) as error:
        combined(weighing, acid(0.3151, 0.003, "titration"))
    assert error.value.value == pytest.approx(0.0151 / 0.005) and error.value.high == 3


def test_law_the_two_that_are_apart_are_named_among_three():
    with pytest.raises(InputError, match=r"weighing: 30.0 ± 0.4 %.*weighing: 33.0 ± 0.4 %"):
        combined(acid(0.300, 0.004), acid(0.31, 0.004, "lye"), acid(0.33, 0.004))


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(0.29, 0.31), st.floats(0.007, 0.05)), min_size=1, max_size=5))
def test_law_together_they_lie_between_and_are_surer(pairs):
    readings = [
        peroxide(strength, doubt, f"way {number}") for number, (strength, doubt) in enumerate(pairs)
    ]
    together = combined(*readings)
    strengths = [strength for strength, _ in pairs]
    assert min(strengths) - 1e-12 <= together.middle <= max(strengths) + 1e-12
    assert together.doubt <= min(doubt for _, doubt in pairs) + 1e-12
    assert combined(*readings[::-1]).middle == pytest.approx(together.middle)


def test_second_source_stock_peroxide_loses_half_a_percent():
    # a science service for schools: about 0.5 % of its strength in a year; stabilised under 1 %
    fresh = peroxide(0.30, 0.001, "permanganate")
    year = aged(fresh, 1, "closed")
    assert year.middle / fresh.middle == pytest.approx(0.995, abs=1e-9)
    # 0 to 1 %, uniform: 1/√12 = 0.289 % of 0.30 is 0.87 thousandths, with the 0.995 of the
    # reading's own: √(0.87² + 1²)
    assert 1000 * year.doubt == pytest.approx(math.hypot(0.866, 0.995), abs=0.001)
    assert year.words == "permanganate, 1 year before: 29.9 ± 0.1 % by weight"


def test_law_the_doubt_of_an_aged_bottle_to_every_term():
    # moments of a yearly loss, any from 0 to 30 % as likely, by a fine sum; reading and loss are
    # independent
    left = (1 - 0.30 * (np.arange(100_000) + 0.5) / 100_000) ** 1.5
    mean, square = left.mean(), (left**2).mean()
    exact = math.sqrt((0.10**2 + 0.02**2) * square - (0.10 * mean) ** 2)
    assert aged(peroxide(0.10, 0.02), 1.5).doubt == pytest.approx(exact, rel=1e-6)


@pytest.mark.parametrize(
    "storage, most, years", [("closed", 0.01, 10), ("opened", 0.30, 1), ("opened", 0.30, 0.5)]
)
def test_law_age_takes_away_and_never_adds(storage, most, years):
    fresh = peroxide(0.10, 0.002)
    old = aged(fresh, years, storage)
    # Monte Carlo of the same: a yearly loss, any in the range as likely, on a strength in doubt
    random = np.random.default_rng(2)
    left = random.normal(0.10, 0.002, 200_000) * (1 - random.uniform(0, most, 200_000)) ** years
    assert old.middle == pytest.approx(left.mean(), rel=0.002)
    assert old.doubt == pytest.approx(left.std(), rel=0.02)
    assert old.middle < fresh.middle and old.doubt > 0.9 * fresh.doubt
    assert old.bottle(None).high <= fresh.bottle(None).high + 0.001  # the doubt grows downwards


def test_law_a_bottle_of_no_age_is_as_it_was():
    fresh = peroxide(0.10, 0.002)
    same = aged(fresh, 0)
    assert (same.middle, same.doubt) == pytest.approx((fresh.middle, fresh.doubt))


def test_law_an_opened_bottle_of_two_years_is_measured_again():
    old = aged(peroxide(0.10, 0.002), 2)
    assert not old.tells and old.words.endswith("measure it again")


def test_law_age_adds_up_in_words():
    twice = aged(aged(peroxide(0.30, 0.003), 0.5, "closed"), 1, "closed")
    assert twice.method == "oxygen over water, 1.5 years before" and twice.years == 1.5


READING = peroxide(0.1, 0.01)
REFUSED = [
    (lambda: combined(), ("strengths", "()", "one Strength or more")),
    (lambda: combined(0.3), ("strengths", "0.3", "one Strength or more")),
    (lambda: combined([READING, READING]), ("strengths", "one by one")),
    (
        lambda: combined(READING, acid(0.1, 0.01)),
        ("strengths", "H2O2 and HCl are two", "must be one"),
    ),
    (lambda: aged(0.3, 1), ("strength", "0.3", "a Strength")),
    (lambda: aged(acid(0.3, 0.01), 1), ("substance", "'HCl'", "H2O2")),
    (lambda: aged(READING, -1), ("years", "-1", "0 to 2 years")),
    (lambda: aged(READING, 2.1), ("years", "2.1", "0 to 2 years")),
    (lambda: aged(READING, 11, "closed"), ("years", "11", "0 to 10 years")),
    (lambda: aged(READING, 1, "frozen"), ("kept", "'frozen'", "closed, opened")),
]


@pytest.mark.parametrize("use, words", REFUSED, ids=range(len(REFUSED)))
def test_law_what_cannot_be_is_refused_by_name_and_limits(use, words):
    with pytest.raises(InputError) as error:
        use()
    assert [word for word in words if word not in str(error.value)] == [], str(error.value)
    assert error.value.field == words[0]
