"""The hour after a board, deep or shallow: by single stands, by hand, by a textbook's kitchen."""

import numpy as np
import pytest

from pcbchem import RateParameters, Solution, Tray, etch, stand
from pcbchem.bench.plan.outlook import etched, outlook
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.warm_baths import numbers
from pcbchem.lesson.warm_baths.numbers import (
    DEPTHS,
    FLAT,
    JAR,
    MILD,
    STRONG,
    TEMPERATURES,
    WATER,
    WEAK,
    by_hand,
    degrees_each,
    hour_after,
    kitchen,
    slow_decay,
    times_the_etching,
    used_bath,
)
from pcbchem.lesson.workshop import bath
from pcbchem.reaction.chemistry.heat import reaction_enthalpy
from pcbchem.reaction.warmth import balance, ceiling

HEAT = RateParameters.plausible().for_heat_after()
BOTTLES = (MILD, STRONG, WEAK)


@pytest.mark.parametrize("bottles", BOTTLES)
@pytest.mark.parametrize("depth", [6, 10, 24, 60])
def test_law_the_warmest_is_that_of_a_stand_of_its_own(bottles, depth):
    area = 150e-6 / (depth / 1000)
    with collecting_warnings():
        standing = stand(used_bath(bottles), Tray(open_area=area), 3600.0, HEAT)
    peaks = np.asarray(standing.peak_temperature)
    assert hour_after(bottles).warmest[numbers.place_of(depth)] == pytest.approx(peaks, abs=0.15)


@pytest.mark.parametrize("bottles", BOTTLES)
def test_law_the_flat_tray_is_the_planner_s(bottles):
    with collecting_warnings():
        hour = outlook(bath(bottles, parts=WATER[bottles])).bands["hour_peak"]
    mine = hour_after(bottles).peak(FLAT)
    for end in ("low", "middle", "high"):
        assert float(getattr(mine, end)) == pytest.approx(float(getattr(hour, end)), abs=0.15)


@pytest.mark.parametrize("bottles", BOTTLES)
@pytest.mark.parametrize("depth", [8, 10, 60])
@pytest.mark.parametrize("celsius", [20.0, 33.5, 60.0])
def test_law_the_curves_are_the_balance_of_the_middle_bath(bottles, depth, celsius):
    T = celsius + 273.15
    with collecting_warnings():
        both = balance(used_bath(bottles), Tray(open_area=150e-6 / (depth / 1000)), T, HEAT)
    hour = hour_after(bottles)
    assert hour.made_at(T) == pytest.approx(float(np.median(both.made)), rel=0.005)
    assert hour.lost_at(T, depth) == pytest.approx(float(np.median(both.lost)), rel=0.005)


def test_law_deeper_is_never_cooler():
    for bottles in BOTTLES:
        assert np.diff(hour_after(bottles).warmest, axis=0).min() > -0.1


def test_law_where_made_and_lost_part_one_is_as_large_as_the_other():
    seen = 0
    for bottles in BOTTLES:
        hour = hour_after(bottles)
        for depth in DEPTHS:
            point = hour.parts_at(depth)
            over = hour.made - hour.lost[numbers.place_of(depth)]
            if point is None:
                # nowhere, or hotter than it can get: no crossing from below under its ceiling
                rises = np.flatnonzero((over[:-1] <= 0) & (over[1:] > 0))
                assert all(TEMPERATURES[place + 1] > hour.highest - 0.5 for place in rises)
                continue
            seen += 1
            assert hour.made_at(point) == pytest.approx(hour.lost_at(point, depth), rel=1e-3)
            assert hour.made_at(point - 1) < hour.lost_at(point - 1, depth)
            assert hour.made_at(point + 1) > hour.lost_at(point + 1, depth)
            assert point < hour.highest
    assert seen >= 3


def test_law_with_half_of_the_peroxide_made_is_half_as_high():
    used = used_bath(MILD)
    half = type(used)(**(used.values() | {"H2O2": used.H2O2 / 2}))
    whole, less = (balance(each, Tray(), 301.15, HEAT).made for each in (used, half))
    assert np.asarray(less / whole) == pytest.approx(np.full(200, 0.5), abs=0.005)


def test_second_source_the_ceiling_by_hand_is_the_package_s():
    """Within 1 °C, by its own numbers and by a stand that loses nothing; 94.7 kJ by NBS tables."""
    hand = by_hand()
    assert hand.each == pytest.approx(-reaction_enthalpy("decomposition")[0] / 1000, abs=0.06)
    assert hand.heat == round(hand.left * hand.each)
    assert hand.rise == round(hand.heat / hand.warms) and hand.end == hand.start + hand.rise
    package = float(np.median(np.asarray(ceiling(used_bath(MILD))))) - 273.15
    closed = HEAT.replace(loss_factor=1e-9, decay_factor=200.0)
    with collecting_warnings():
        standing = stand(used_bath(MILD), Tray(), 1e5, closed)
    solved = float(np.median(np.asarray(standing.peak_temperature))) - 273.15
    assert hand.end == pytest.approx(package, abs=1.0) and hand.end == pytest.approx(solved, abs=1)
    assert hour_after(MILD).highest - 273.15 == pytest.approx(package, abs=0.01)
    assert degrees_each() == pytest.approx(94.7 / 3.91, abs=0.05)


def test_law_no_hour_gets_over_its_ceiling():
    for bottles in BOTTLES:
        # or over the room's warmth, which a cold bath takes up
        most = np.maximum(np.asarray(ceiling(used_bath(bottles))), 293.15)
        assert np.max(hour_after(bottles).warmest - most) < 0.3


def test_second_source_heat_left_over_heat_of_etching_by_hand():
    """1.52 mol/L in 150 mL at 94.7 kJ, over 27 cm² of 305 g/m² at 315.7 kJ each 63.5 g."""
    by_peroxide = 1.52 * 0.150 * 94.7
    by_copper = 27e-4 * 305 / 63.546 * 315.7
    assert times_the_etching() == pytest.approx(by_peroxide / by_copper, rel=0.02)


# a textbook's computation of the same two vessels ends in these, see tests/laws/test_kitchen.py
@pytest.mark.parametrize("vessel, low, high", [("glass", 38.0, 41.0), ("dish", 27.0, 30.0)])
def test_second_source_the_kitchen_ends_where_a_textbook_says(vessel, low, high):
    band = kitchen(vessel)
    assert low < float(band.middle) - 273.15 < high
    assert float(band.low) < low + 273.15 and float(band.high) > high + 273.15
    width, depth = numbers.KITCHEN[vessel]
    area = (width / 100) ** 2
    water = Solution.of(volume=area * depth / 1000, T=323.15)
    alone = stand(water, Tray(open_area=area, T_air=293.15), 1200.0, RateParameters.plausible(20))
    first = np.asarray(band.values)[:20]
    assert first == pytest.approx(np.asarray(alone.temperature), abs=0.1)


@pytest.mark.parametrize("bottles", BOTTLES)
def test_law_so_much_peroxide_gone_and_made_is_lost(bottles):
    hour = hour_after(bottles)
    out = float(hour.out.middle)
    for depth in DEPTHS:
        over = hour.over_at(depth)
        assert 0 <= over < 1
        rest = hour.made_at(out) * (1 - over)
        assert rest == pytest.approx(min(hour.made_at(out), hour.lost_at(out, depth)), rel=1e-9)


def test_law_slow_decay_makes_it_look_cooler():
    """So the page and the planner do not read heat from it."""
    slow, page = slow_decay(MILD), hour_after(MILD).peak(JAR)
    assert float(slow.middle) < float(page.middle) - 10 and float(slow.high) < float(page.high)


def test_law_with_slow_decay_the_warmest_is_no_colder_than_when_the_board_came_out():
    with collecting_warnings():
        used = etched(bath(MILD, parts=WATER[MILD]), parameters=RateParameters.plausible())
    start = Band.of(used.bath_after.T, np.size(used.bath_after.T))
    for end in ("low", "middle", "high"):
        assert float(getattr(slow_decay(MILD), end)) >= float(getattr(start, end)) - 1e-9


def test_law_the_bath_when_its_board_comes_out_is_that_of_one_etch():
    """Of the default rates: in the middle of the plausible ones."""
    inputs = bath(MILD)
    mixture = outlook(inputs).mixture
    start = Solution.of(volume=150e-6, T=293.15, HCl=0.05, H2O2=0.06)
    assert float(np.median(mixture.fractions["HCl"])) == pytest.approx(0.05, rel=0.05)
    run = etch(start, inputs.board, inputs.tray)
    low, high = np.quantile(np.asarray(used_bath(MILD).H2O2), [0.02, 0.98])
    assert low < float(run.end["H2O2"]) < high
