"""The maps of the page: quick and then full, kept, the sliders' steps, what is handed on (laws)."""

import itertools

import numpy as np
import pytest

from pcbchem.bench.hazards.verdicts import REFUSED
from pcbchem.common.limits import InputError
from pcbchem.lesson.form import fields
from pcbchem.lesson.what_if import maps, panel


def test_law_the_first_map_is_quick_the_second_full(small, values_of):
    values = values_of("workshop")
    first, second, third = (maps.map_of(values) for _ in range(3))
    assert [len(each) for each in (first, second)] == [66, 66]
    assert (first.inputs.draws, second.inputs.draws) == (8, 12) and second is third
    assert maps.is_quick(first) and not maps.is_quick(second)


def test_law_what_is_shown_asks_for_nothing_better(small, values_of):
    values = values_of("workshop")
    assert maps.shown_map(values).inputs.draws == 8
    maps.map_of(values)
    assert maps.shown_map(values).inputs.draws == 8
    maps.map_of(values)
    assert maps.shown_map(values).inputs.draws == 12


def test_law_a_cursor_and_a_window_make_no_new_map(values_of):
    key = maps.key_of(values_of("workshop"))
    moved = {"water": 40, "acid_of_rest": 5, "drawn": "acid", "window_to": 20, "hottest": 60}
    assert maps.key_of(values_of("workshop", **moved)) == key
    for name, value in {"acid": 12, "per_cm2": 4, "bare": 50, "air": 25, "back": "bare"}.items():
        assert maps.key_of(values_of("workshop", **{name: value})) != key, name


def test_law_a_window_s_map_is_the_same_while_a_cursor_moves(small, values_of):
    """Else the whole picture would be drawn at every step of it."""
    maps.map_of(values_of("workshop", window_to=25))
    moved = [maps.map_of(values_of("workshop", window_to=25, water=water)) for water in (0, 5)]
    assert moved[0] is moved[1] and moved[0].wanted.longest == 1500


def test_law_few_maps_are_remembered(small, values_of):
    for number in range(maps.MOST_KEPT + 3):
        maps.map_of(values_of("workshop", acid=5 + number))
    assert len(maps.SHOWN) == maps.MOST_KEPT


def test_law_sliders_reach_every_mixture():
    """Each mixture in steps comes back from its sliders, which stand on steps of their own."""
    for water, acid in itertools.product(range(21), range(21)):
        counts = (water, acid, 20 - water - acid)
        if counts[2] < 0:
            continue
        sliders = maps.sliders_at(counts)
        assert all(value % 5 == 0 for value in sliders.values())
        assert maps.counts_at(sliders["water"], sliders.get("acid_of_rest", 35)) == counts


@pytest.mark.parametrize("water, acid, counts", [(0, 50, (0, 10, 10)), (60, 50, (12, 4, 4))])
def test_sliders_count_water_of_all_and_acid_of_the_rest(water, acid, counts):
    assert maps.counts_at(water, acid) == counts


def test_law_the_map_judges_as_its_plan_does(whole, values_of):
    """What is handed on makes the very bath of the map: same verdict, same times."""
    usable = np.flatnonzero(whole.severity < REFUSED)
    for place in (whole.leanest, usable[len(usable) // 2]):
        place = int(place)
        plan = fields.plan_from(maps.planner_values(whole, place, values_of("maker")))
        assert plan.verdict == whole.verdict(place)
        low = float(whole.bands["time_to_clear"].low[place])
        assert float(plan.bands["time_to_clear"].low) == pytest.approx(low, rel=1e-6)


@pytest.mark.parametrize("name", ["workshop", "maker", "strong"])
def test_law_nothing_of_a_refused_mixture_is_handed_on(coarse, values_of, name):
    every = coarse[name]
    for place in range(len(every)):
        handed = maps.planner_values(every, place, values_of(name))
        assert (handed is None) == (every.severity[place] == REFUSED)


def test_law_what_is_handed_on_is_the_planner_s_whole_form(coarse, values_of):
    every, values = coarse["workshop"], values_of("workshop", air=25, back="bare", bare=50)
    handed = maps.planner_values(every, every.nearest(0, 1, 1), values)
    assert set(handed) == set(fields.STARTS)
    assert (handed["air"], handed["back"], handed["used_bath"]) == (25, "bare", 0)
    assert [handed[name] for name in fields.PARTS] == [0, 1, 1]


def test_the_bath_of_a_class_counts_in_times_the_workshop_s():
    values = panel.starts(school=True)
    assert "per_cm2" not in values
    assert maps.bath_per_area(values) == pytest.approx(150e-6 / 27e-4)
    assert maps.bath_per_area({"per_cm2": 5.0}) == pytest.approx(0.05)


def test_law_a_class_reads_of_no_millilitres_when_it_is_wrong(small):
    values = panel.starts(school=True) | {
        "bath_times": 0.1,
        "tray_width": 2000,
        "tray_length": 2000,
    }
    with pytest.raises(InputError, match="too little to be a bath") as caught:
        maps.map_of(values)
    assert "mm" not in str(caught.value) and "mL" not in str(caught.value)


def test_law_equal_parts_have_the_acid_of_one(whole):
    shares = maps.acid_share(whole)
    assert shares[whole.nearest(0, 1, 1)] == 1
    assert shares[whole.nearest(3, 1, 1)] == pytest.approx(0.4)


def test_law_as_quick_with_least_acid_is_that(whole):
    equal = whole.nearest(0, 1, 1)
    place = maps.least_acid_as_quick(whole, equal)
    times, acid = whole.bands["time_to_clear"].middle, maps.acid_share(whole)
    assert times[place] <= times[equal] and whole.severity[place] < REFUSED
    # no other of as good a verdict does with less
    rivals = (times <= times[equal]) & (whole.severity == whole.severity[place])
    assert acid[place] == acid[rivals].min()


def test_law_the_quickest_is_of_those_that_want_no_care(coarse):
    for every in coarse.values():
        place = maps.quickest(every)
        plain = np.array([every.verdict(each) == "mix it" for each in range(len(every))])
        if not plain.any():
            assert place is None
            continue
        assert plain[place]
        times = every.bands["time_to_clear"].middle
        assert times[place] == times[plain].min()


def test_law_strong_bottles_have_no_quickest(values_of):
    """Their quickest stand at the edge of what is refused: nobody is led there."""
    every = maps.made(maps.key_of(values_of("workshop", acid=37, peroxide=35)), 40, 10)
    assert (every.severity < REFUSED).any() and maps.quickest(every) is None
