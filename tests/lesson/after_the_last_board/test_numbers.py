"""What is left of the baths: against bookkeeping by hand, a textbook's decay and other programs."""

import numpy as np
import pytest

from pcbchem.bench.waste import closed_pressure, peroxide_after, rinse, time_gone
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.after_the_last_board import numbers
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    LEFT_OVER,
    LITTLE,
    MUCH,
    PH_AXIS,
    TIMES,
    WATER,
    by_hand,
    copper_left,
    peroxide_left,
    rest,
    rinsed,
    thinned,
    total_copper,
)
from pcbchem.reaction.bath.parameters import RateParameters

# IUPAC 2021 standard atomic weights [g/mol]
CU, H, O = 63.546, 1.008, 15.999
OUNCE = 28.349523125 / 929.0304  # g/cm², by definition


@pytest.mark.parametrize("bottles", WATER)
def test_law_what_is_left_is_the_package_s(bottles):
    """At the times to choose from alone as among the points of a line, to a tenth."""
    found = peroxide_left(bottles)
    with collecting_warnings():
        left = np.asarray(peroxide_after(rest(bottles), None, list(TIMES.values())))
        gone = np.asarray(time_gone(rest(bottles)))
    for row, time in zip(left, TIMES, strict=True):
        ours, theirs = np.asarray(found.at[time]), row * 2 * (H + O) / 1000
        seen = theirs > 1e-5
        # solved in other steps: over four decades of fall a quarter in the logarithm is nothing
        assert np.abs(np.log(ours[seen] / theirs[seen])).max() < 0.25
        assert (ours[~seen] < 2e-5).all()
        assert found.nothing(time) + found.still(time) == found.total == 200
    assert np.array_equal(found.gone.values, gone)


@pytest.mark.parametrize("bottles", WATER)
def test_law_it_counts_as_gone_from_that_time_on(bottles):
    found = peroxide_left(bottles)
    for time, seconds in TIMES.items():
        # the time is read between points: two baths may stand on the other side of a day
        assert abs(found.nothing(time) - np.sum(found.gone.values <= seconds)) <= 2
    counts = [found.nothing(time) for time in TIMES]
    assert counts == sorted(counts)


def test_law_peroxide_only_falls():
    for bottles in WATER:
        lines = np.asarray(peroxide_left(bottles).lines)
        assert (np.diff(lines, axis=0) <= 1e-12).all()
        assert lines.shape[1] == 20


def test_second_source_late_decay_is_of_the_first_order():
    """A textbook's straight line: each week takes the same share, in a bath as cool as the air."""
    found = peroxide_left()
    week, four, eight = (np.asarray(found.at[time]) for time in ("1w", "4w", "8w"))
    seen = eight > 1e-6
    assert seen.sum() > 30
    first = np.log(week[seen] / four[seen]) / 3
    later = np.log(four[seen] / eight[seen]) / 4
    assert later == pytest.approx(first, rel=0.02)


def test_law_the_doubt_is_not_narrowed():
    """By the draws as they are: half of the range of the factor lies below what heat is read by."""
    factor = np.asarray(RateParameters.plausible(200).decay_factor)
    assert np.min(factor) < 0.02 and np.max(factor) > 5
    gone = peroxide_left().gone
    assert float(gone.high) > 100 * float(gone.low)


def test_second_source_copper_by_hand():
    """An ounce on 27 cm² in 150 mL, by definition of ounce and foot: 5.49 g/L."""
    grams = OUNCE * 27 / 0.150
    # the bath has swollen or shrunk by less than a hundredth
    assert total_copper() == pytest.approx(grams, rel=0.01)


def test_second_source_oxygen_in_a_bottle():
    """By the gas constant (CODATA) and the printed steps: to a hundredth."""
    hand = by_hand()
    assert hand.peroxide * 1000 == pytest.approx(float(rest().band("H2O2").middle), abs=5)
    law = hand.peroxide / 2 * 8.314462618 * 293.15 * 1000 / (7 / 3) / 101_325
    assert hand.pressure == pytest.approx(law, rel=0.01)
    package = closed_pressure(hand.peroxide / 2, 7 / 3 * 1e-3) / 101_325
    assert hand.pressure == pytest.approx(float(package), rel=0.01)


@pytest.mark.parametrize("soda", [LITTLE, MUCH])
def test_law_copper_dissolved_is_no_more_than_there_is(soda):
    left = copper_left(soda)
    assert left.aged.max() == left.fresh.max() == left.total == total_copper()
    assert (left.aged <= left.fresh).all()
    for onset, curve in zip(left.onset, (left.aged, left.fresh), strict=True):
        assert (curve[PH_AXIS < onset - 1e-9] == left.total).all()
        assert curve[np.isclose(PH_AXIS, onset)][0] < left.total


def test_second_source_malachite_at_pH_8_by_hand():
    """Ksp 10^-33.16, carbonato 6.75 and 10.3 (ThermoChimie 12a), 0.1 mol/L as HCO3- (pK 10.33)."""
    carbonate = 0.1 * 10 ** (8 - 10.33) / (1 + 10 ** (8 - 10.33) + 10 ** (6.35 - 8))
    free = np.sqrt(10**-33.16 / (1e-6**2 * carbonate))
    bound = 1 + 10 ** (8 - 7.95) + 10 ** (16 - 16.2) + 10**6.75 * carbonate
    bound += 10**10.3 * carbonate**2
    by_hand_copper = free * bound * CU  # g/L
    assert copper_left(LITTLE).at(8.0)[0] == pytest.approx(by_hand_copper, rel=0.02)


def test_as_printed_water_fleas():
    """24 µg/L, as the table of ecotoxicity has it."""
    assert pytest.approx(24e-6) == DEATHS
    assert LEFT_OVER == pytest.approx(1e-3)


def test_second_source_thinning():
    """24 µg/L by the table of ecotoxicity."""
    assert thinned() == pytest.approx(1000 * total_copper() / 0.024, rel=1e-6)


def test_law_rinse_water_holds_what_clings():
    """Copper by hand: a film on both faces of 75 × 60 mm, in 200 mL."""
    faces = 2 * 0.075 * 0.060
    for end, film in ((rinsed().low, 1.1e-4), (rinsed().high, 1.9e-4)):
        volume = film * faces
        by_hand_copper = total_copper() * volume / (200e-6 + volume)
        assert float(end) == pytest.approx(by_hand_copper, rel=0.05)
        package = rinse(1000.0, film, faces, 200e-6) / 1000 * total_copper()
        assert float(package) == pytest.approx(by_hand_copper, rel=1e-6)


def test_law_computed_once(monkeypatch):
    peroxide_left(), copper_left(LITTLE)
    monkeypatch.setattr(numbers, "peroxide_after", None)
    monkeypatch.setattr(numbers, "copper_band", None)
    assert peroxide_left() is peroxide_left() and copper_left(LITTLE) is copper_left(LITTLE)
