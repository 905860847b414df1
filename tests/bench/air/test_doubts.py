"""Doubts: a seed each, the same for every source and place, between their ends."""

import itertools

import numpy as np
import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem.bench.air.doubts import chance, factor, spread
from pcbchem.common import tables
from pcbchem.common.arrays import Draws

NAMES = [row["doubt"] for row in tables.read("air_doubts")]


def test_law_every_doubt_has_a_seed_of_its_own():
    seeds = [row["seed"] for row in tables.read("air_doubts")]
    assert len(set(seeds)) == len(seeds) == 12
    # a plan draws its bottles from small seeds on: none of them is one of these
    assert min(map(int, seeds)) > 90_000


def test_law_no_two_doubts_are_tied_together():
    # 400 draws of two things that know nothing of each other: |r| above 0.2 is 1 in 20 000
    for one, two in itertools.combinations(NAMES, 2):
        r = np.corrcoef(np.asarray(chance(one, 400)), np.asarray(chance(two, 400)))[0, 1]
        assert abs(r) < 0.2, (one, two)


def test_law_a_chance_is_even_and_repeatable():
    for name in NAMES:
        draws = chance(name, 400)
        assert isinstance(draws, Draws) and draws.shape == (400,)
        assert np.array_equal(draws, chance(name, 400))
        counts = np.histogram(np.asarray(draws), 4, (0, 1))[0]
        assert counts.sum() == 400 and counts.min() > 60


@pytest.mark.parametrize("name", ["film", "mixing", "peroxide", "peroxide in acid", "spill depth"])
def test_law_a_factor_lies_between_the_ends_of_its_row(name):
    (row,) = [row for row in tables.read("air_doubts") if row["doubt"] == name]
    low, high = float(row["low"]), float(row["high"])
    draws = np.asarray(factor(name, 400))
    assert low <= draws.min() < 1.1 * low and 0.9 * high < draws.max() <= high
    # as likely in each doubling: half of the draws below the geometric mean
    assert np.mean(draws < np.sqrt(low * high)) == pytest.approx(0.5, abs=0.1)


def test_law_a_spread_begins_and_ends_at_its_ends():
    assert spread(0.2, 0.7, [0.0, 1.0]) == pytest.approx([0.2, 0.7], rel=1e-12)
    assert spread(0.5, 0.5, 0.3) == 0.5


REFUSED: list[Case] = [
    ("an unknown doubt", lambda: chance("luck", 9), ("name", "luck", "film, draught")),
    ("a doubt by number", lambda: factor(3, 9), ("name", "3", "film, draught")),
    ("no draws", lambda: chance("film", 0), ("draws", "0", "1 to 400")),
    ("too many draws", lambda: factor("film", 401), ("draws", "401", "1 to 400")),
    ("half a draw", lambda: chance("film", 2.5), ("draws", "2.5", "1 to 400")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
