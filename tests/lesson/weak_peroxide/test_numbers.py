"""What becomes of weak baths: against bookkeeping by hand, a published constant and the planner."""

import dataclasses

import numpy as np
import pytest

from pcbchem.bench import hazards
from pcbchem.bench.plan.outlook import outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.weak_peroxide import numbers
from pcbchem.lesson.weak_peroxide.numbers import (
    ASKED,
    BROWN,
    LASTS,
    NEVER,
    STRONG_ACID,
    TOO_LITTLE,
    WEAK_ACID,
    all_fates,
    asked_bath,
    at,
    by_hand,
    heat_draws,
    offcuts,
    room_for_once,
    weak_bath,
)
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.brown import cuprous_held

CASES = [(times, WEAK_ACID) for times in (0.7, 1.1, 2.0, 4.8)] + [(0.8, STRONG_ACID)]
# IUPAC 2021 standard atomic weights [g/mol]
CU, H, O = 63.546, 1.008, 15.999
OUNCE = 28.349523125 / 929.0304  # g/cm², by definition


def outlook_at(times, acid):
    inputs = dataclasses.replace(weak_bath(acid), bath_per_area=times * room_for_once())
    with collecting_warnings():
        return outlook(inputs)


@pytest.mark.parametrize("times, acid", CASES)
def test_law_one_bath_among_many_is_as_the_planner_has_it_alone(times, acid):
    """The planner's own times, never mind how many variants went beside it; and its verdict."""
    bands = outlook_at(times, acid).bands
    fates = at(times, acid)
    assert np.isinf(bands["time_to_clear"].values).sum() == fates.counts[NEVER]
    assert float(bands["time_to_clear"].low) == pytest.approx(float(fates.time.low), rel=1e-3)
    is_refused = hazards.severity(hazards.exceeded(bands)) == hazards.REFUSED
    assert fates.refused == is_refused


def test_law_both_asked_baths_are_refused():
    assert at(ASKED).refused and at(TOO_LITTLE, STRONG_ACID).refused
    assert not at(3.0).refused, "and there are some that are not"


def test_second_source_times_the_copper_by_hand():
    """A litre of 3 % peroxide weighs 1.008 kg (handbook); a shop's bottle holds 85 to 100 %."""
    area_room = room_for_once() * 100  # mL/cm²
    peroxide = area_room / 2 * 1.008 * 0.03 / (2 * (H + O))
    labelled = peroxide / (OUNCE / CU)
    middle = float(np.median(weak_bath().peroxide.strengths(200, weak_bath().seed + 1))) / 0.03
    assert 0.85 <= middle <= 1
    assert labelled * middle == pytest.approx(1, rel=0.005)


@pytest.mark.parametrize("acid", [WEAK_ACID, STRONG_ACID])
def test_law_every_bath_has_one_fate_and_who_never_clears_is_brown(acid):
    for fates in all_fates(acid):
        assert sum(fates.counts) == fates.total == 200
        assert sorted(fates.order) == list(range(200))
        never = np.isinf(np.asarray(fates.time.values))
        assert (never == (fates.fate == NEVER)).all()
        turned = sum(fates.counts[1:])
        assert (fates.spent.values.size if fates.spent else 0) == turned


def test_law_more_peroxide_never_means_fewer_clear():
    for acid in (WEAK_ACID, STRONG_ACID):
        clear = [fates.clear for fates in all_fates(acid)]
        assert (np.diff(clear) >= 0).all()
    for weak, strong in zip(all_fates(WEAK_ACID), all_fates(STRONG_ACID), strict=True):
        if weak.times <= 1.5:
            assert strong.clear > weak.clear


@pytest.mark.parametrize("times, acid", CASES)
def test_law_peroxide_goes_into_copper_or_oxygen(times, acid):
    """Atoms by hand: of those that turn brown, copper gone is what peroxide was not lost.

    Dissolved copper has begun to help before peroxide is quite spent, so it may be a little more.
    """
    fates = at(times, acid)
    lost = np.asarray(fates.lost.values)
    assert (lost > 0).all() and (lost < 1).all()
    brown = fates.fate != LASTS
    if not brown.any():
        return
    peroxide = spread_of_bottles() * times
    by_peroxide = (peroxide * (1 - lost))[brown]
    gone = np.asarray(fates.gone.values)
    most = by_peroxide * 1.02 + by_hand(times, acid).share * 1.35
    assert (gone > by_peroxide * 0.97 - 0.02).all()
    assert (gone < most).all()


def spread_of_bottles():
    """Peroxide of each draw over that of the middle one."""
    strengths = np.asarray(weak_bath().peroxide.strengths(200, weak_bath().seed + 1))
    return strengths / np.median(strengths)


@pytest.mark.parametrize("times, acid", CASES)
def test_law_courses_stand_for_all(times, acid):
    """Every tenth: each kind has as many lines as a tenth of its squares, to one."""
    fates = at(times, acid)
    assert fates.drawn.size == len(fates.minutes) == 20
    kinds = fates.fate[fates.drawn]
    for kind in (LASTS, BROWN, NEVER):
        assert abs(np.sum(kinds == kind) - fates.counts[kind] / 10) <= 1
    # within a kind the quickest first
    assert (np.diff(fates.fate[fates.order]) >= 0).all()
    for kind, minutes, left, place in zip(
        kinds, fates.minutes, fates.left, fates.spent_at, strict=True
    ):
        assert (place is None) == (kind == LASTS)
        assert minutes[0] == 0 and left[0] == pytest.approx(1)
        assert (np.diff(minutes) > 0).all()
        # as a full brown bath cools it lets a trace of copper go again: no line shows it
        assert (left - np.minimum.accumulate(left)).max() < 1e-4
        assert (left[-1] < 1e-5) == (kind != NEVER)
        if kind == NEVER:
            assert minutes[-1] == pytest.approx(240)
    places = [place for place in fates.spent_at if place is not None]
    assert bool(places) == (kinds != LASTS).any()


def test_law_brown_is_much_slower():
    """In the quarter of an hour after peroxide is spent less copper goes than in that before."""
    fates = at(ASKED)
    for minutes, left, place in zip(fates.minutes, fates.left, fates.spent_at, strict=True):
        if place is None or left[place] < 0.1:
            continue
        here = minutes[place]
        before, now, after = np.interp([here - 15, here, here + 15], minutes, left)
        assert now - after < before - now


def test_second_source_copper_i_that_chloride_holds():
    """Sugasaka and Fujii: CuCl2- + Cl- = CuCl3 2-, 1.95 L/mol; K2 0.060 from memory, at 25 °C.

    By hand: chloride [Cl] free, total = Cl + 2 CuCl2 + 3 CuCl3 - solid's one each. The bath holds
    K2 Cl (1 + 1.95 Cl) at 25 °C; at 20 °C less by exp(-2000 (1/293.15 - 1/298.15)).
    """
    total = 1.4366
    free = np.linspace(0, total, 200_001)
    first, second = 0.060 * free, 0.060 * 1.95 * free**2
    # CuCl dissolves with a chloride of its own
    balance = free + first + 2 * second
    place = int(np.argmin(abs(balance - total)))
    held = (first + second)[place] * np.exp(-2000 * (1 / 293.15 - 1 / 298.15))
    assert float(asked_bath().concentration("HCl")) / 1000 == pytest.approx(total, rel=1e-3)
    assert float(cuprous_held(asked_bath())) / 1000 == pytest.approx(held, rel=0.03)


def test_law_by_hand_is_as_the_baths_do():
    """The middle bath gets home by hand, one that loses much does not; and so in the model."""
    lost = np.asarray(at(ASKED).lost.values)
    reach = spread_of_bottles() * ASKED * (1 - lost) + by_hand(ASKED).share
    fate = at(ASKED).fate
    assert np.mean(fate[reach > 1.2] != NEVER) > 0.8
    assert np.mean(fate[reach < 0.95] == NEVER) > 0.95
    assert by_hand(TOO_LITTLE, STRONG_ACID).share > 1 > 2 * by_hand(TOO_LITTLE).share


def test_law_slow_decay_leaves_fewer_unfinished():
    assert 0 < numbers.never_if_slow() < at(ASKED).counts[NEVER]
    # the page reads it as the planner does
    slow, read = RateParameters.plausible(200).decay_factor, heat_draws().decay_factor
    assert np.min(read) >= 0.3 > np.min(slow)


def test_law_offcuts_as_the_planner_plans_them():
    weak, mild = offcuts("weak"), offcuts("mild")
    assert not weak.refused and not mild.refused
    assert weak.ratio.values.min() == weak.least > 1 > mild.ratio.low
    # the band of the one lies above the middle of the other: the trial can tell
    assert float(weak.ratio.low) > float(mild.ratio.high)
