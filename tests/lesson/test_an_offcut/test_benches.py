"""Two hundred made-up benches: what the shipped table says is what the page's own calls give."""

import functools
import itertools

import numpy as np
import pytest

from pcbchem.bench.offcut import simulated
from pcbchem.common import tables
from pcbchem.lesson.test_an_offcut import benches, numbers
from pcbchem.lesson.test_an_offcut.benches import KNOWN, LABELS, MANY, count, run_bench
from pcbchem.lesson.test_an_offcut.numbers import (
    BENCHES,
    CARE,
    MOST_OFFCUTS,
    OTHER_HAND,
    SEEN_LATE,
    SMALL,
    WAYS,
    after,
    bench,
    counted,
    holds,
    truth,
    width,
    written_down,
)

SIMULATED = next(
    row
    for row in tables.read("simulated_benches")
    if row["case"].startswith("offcuts of half the board") and row["offcuts"] == "1-3"
)


@pytest.fixture
def other_benches(monkeypatch):
    """Two hundred benches that are not those of the table: one offcut each, all found at once.

    To find a bench that meets the facts takes longer alone than all that is then done with it.
    """
    parameters = simulated.fresh_parameters(MANY, 1)
    monkeypatch.setattr(simulated, "_parameters_of", lambda number: parameters[number - 1])
    monkeypatch.setattr(numbers, "MOST_OFFCUTS", 1)
    forget_benches()
    yield range(1, MANY + 1)
    forget_benches()


def forget_benches():
    """Leave nothing kept of one set of benches that would be taken for another."""
    for kept in (bench, written_down, after):
        kept.cache_clear()


def test_second_source_8_of_10_bands_hold_the_truth(other_benches):
    """By the page's own calls, after one offcut; beside what another command counted on 1200.

    The truth is known because it was made.
    """
    held = sum(holds(after(number, 1), truth(number)) for number in other_benches)
    widths = [width(after(number, 1)) for number in other_benches]
    print(f"{held / 2:.0f} % here, {SIMULATED['covered_percent']} % in simulated_benches")
    assert 72 <= held / 2 <= 88
    assert 72 <= float(SIMULATED["covered_percent"]) <= 88
    counts = counted(CARE, 1)
    # two counts of 200 differ by chance: three times that
    share = counts.held / counts.benches
    assert abs(held - counts.held) <= 3 * (2 * MANY * share * (1 - share)) ** 0.5
    assert np.median(widths) == pytest.approx(counts.width, rel=0.03)


def test_second_source_the_class_is_counted_as_the_table_has_it():
    """Each of thirty benches, watched or not, by the page's own calls."""
    for way in (CARE, SEEN_LATE):
        held = [holds(after(number, MOST_OFFCUTS, way), truth(number)) for number in range(1, 31)]
        assert sum(held) == counted(way, MOST_OFFCUTS).in_class


def test_law_thirty_benches_are_like_two_hundred():
    """So that hands in a class show what the table says: within what is chance twice in three."""
    for way in (CARE, SEEN_LATE):
        counts = counted(way, MOST_OFFCUTS)
        share = counts.held / counts.benches
        chance = (BENCHES * share * (1 - share)) ** 0.5
        assert abs(counts.in_class - BENCHES * share) <= chance


def test_law_the_table_says_what_the_page_teaches():
    labels, known = counted(LABELS, 0).width, counted(KNOWN, 0).width
    small = counted(SMALL, MOST_OFFCUTS).width
    large = [counted(CARE, number).width for number in range(1, MOST_OFFCUTS + 1)]
    assert labels > small > known > large[0] > large[-1]
    # however many are small, or of another hand: no more than the bottles tell
    assert small == pytest.approx(known, rel=0.03)
    assert counted(OTHER_HAND, MOST_OFFCUTS).width == pytest.approx(known, rel=0.03)
    # to a hundredth: from the fourth on there is hardly a difference
    assert all(after < before + 0.01 for before, after in itertools.pairwise(large))
    # one is narrower than exact bottles on most benches, two on nearly all
    assert counted(CARE, 2).narrower > 0.98 * MANY > counted(CARE, 1).narrower > 0.85 * MANY
    late, watched = counted(SEEN_LATE, MOST_OFFCUTS), counted(CARE, MOST_OFFCUTS)
    assert late.width == pytest.approx(watched.width, rel=0.03)
    assert late.held < 0.8 * watched.held
    # late times miss on one side: each time that it missed, the board was clear before
    assert late.sooner == late.benches - late.held > 3 * watched.sooner


def test_law_the_table_has_all_ways(monkeypatch):
    monkeypatch.setattr(benches, "WAYS", {CARE: WAYS[CARE]})
    assert {(way, number) for way, number in run_bench(7)} == {
        (LABELS, 0),
        (KNOWN, 0),
        *((CARE, number) for number in range(1, MOST_OFFCUTS + 1)),
    }
    rows = {(row["way"], int(row["offcuts"])) for row in tables.read("timed_benches")}
    assert rows >= {(way, MOST_OFFCUTS) for way in WAYS}
    assert {row["benches"] for row in tables.read("timed_benches")} == {str(MANY)}


def test_law_benches_are_counted_by_hand():
    key = ("some", 6)
    made = [
        {(KNOWN, 0): (True, 1.5, False), key: (True, 1.2, False)},
        {(KNOWN, 0): (True, 1.5, False), key: (False, 1.4, True)},
        {(KNOWN, 0): (False, 1.6, False), key: (True, 1.7, False)},
    ]
    known, some = count(made)
    assert (known["held"], known["narrower_than_bottles_known"]) == ("2", "0")
    assert (some["held"], some["benches"], some["high_over_low"]) == ("2", "3", "1.400")
    assert some["narrower_than_bottles_known"] == "2"
    assert (known["clear_before_the_band"], some["clear_before_the_band"]) == ("0", "1")
    many = functools.reduce(list.__add__, [made] * 20)
    assert count(many)[1]["held_of_first_30"] == "20"
