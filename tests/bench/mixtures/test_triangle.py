"""The map of all mixtures: its verdicts are `plan`'s, its leanest is the search's, and no amounts.

Laws, all of them. What the issue says of 31.45 % acid and 3 % peroxide is computed here.
"""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import verdicts_alone
from helpers.random_mixtures import pairs

from pcbchem import Board, Bottle, Tray
from pcbchem.bench.hazards.verdicts import REFUSED, VERDICTS
from pcbchem.bench.mixtures import mixtures
from pcbchem.bench.mixtures.triangle import KEPT, _Judged, _leanest
from pcbchem.bench.mixtures.wanted import Wanted
from pcbchem.bench.plan import search
from pcbchem.bench.plan.search import leanest
from pcbchem.bench.plan.search_result import Aim
from pcbchem.common.band import Band
from pcbchem.common.limits import InputError, collecting_warnings
from pcbchem.common.units import mL

BOARD = Board(75e-3, 60e-3, 0.6)
MILD = (Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12))
SHOP = (Bottle.labelled("HCl", 0.3145), Bottle.labelled("H2O2", 0.03))
BATH = 150 * mL / 27e-4
VOLUMES = re.compile(r"\bmL\b|\bm3\b|m³|litre|fl oz|volume \(")


def mapped(bottles=MILD, **changes):
    """Map the mixtures of two bottles for the workshop's board, some settings changed."""
    settings = {"place": "elsewhere", "bath_per_area": BATH, "draws": 40, **changes}
    return mixtures(*bottles, BOARD, **settings)


@pytest.fixture(scope="module")
def mild():
    return mapped(draws=200)


@pytest.fixture(scope="module")
def shop():
    return mapped(SHOP, draws=200)


@pytest.mark.parametrize("steps, count", [(2, 6), (7, 36), (20, 231)])
def test_law_shares_fill_the_triangle_in_equal_steps(steps, count):
    every = mapped(steps=steps, draws=1)
    assert len(every) == count == len({tuple(row) for row in np.rint(every.shares * steps)})
    assert np.allclose(every.shares.sum(axis=1), 1, rtol=0, atol=1e-12)
    assert every.shares.min() == 0 and every.shares.max() == 1
    for index in range(count):
        parts = np.array(every.parts(index))
        assert np.allclose(parts / parts.sum(), every.shares[index])
        assert np.gcd.reduce(parts) == 1


def test_law_verdicts_are_those_of_plans():
    """30 mixtures of 10 random pairs of bottles, boards and trays; 200 in the benchmarks."""
    every = [pair for seed in range(10) for pair in pairs(seed, steps=8, draws=40, count=3)]
    assert [pair for pair in every if pair.on_the_map != pair.planned] == []
    assert {pair.planned[0] for pair in every} == set(VERDICTS)


@pytest.mark.parametrize("parts", [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 0), (1, 0, 1)])
@pytest.mark.parametrize("name", ["mild", "shop"])
def test_law_without_acid_or_peroxide_it_never_clears(name, parts, request):
    every = request.getfixturevalue(name)
    index = every.nearest(*parts)
    with collecting_warnings(), verdicts_alone():
        plan = every.plan(index)
    assert every.verdict(index) == plan.verdict == "do not mix"
    assert bool(every.harmful[index]) == plan.harmful
    assert every.reason[index] == plan.reasons[0].rule
    assert every.never[index] == 1 and every.within[index] == 0


def test_law_bands_are_those_of_a_plan(mild):
    index = mild.nearest(1, 1, 1)
    plan = mild.plan(index)
    assert plan.inputs.draws == mild.inputs.draws
    for name in KEPT:
        ours, theirs = mild.bands[name].values[index], plan.bands[name].values
        # baths that run beside others differ in their last bits, as far as the solver's tolerance
        assert np.allclose(ours, theirs, rtol=2e-3), name
    assert mild.acid_amount[index] == pytest.approx(np.mean(plan.mixture.amount("HCl")), rel=1e-3)
    peroxide = np.mean(plan.mixture.amount("H2O2"))
    assert mild.peroxide_amount[index] == pytest.approx(peroxide, rel=1e-3)


def test_law_refused_mixtures_hand_nothing_over(mild, shop):
    for every in (mild, shop):
        is_refused = every.severity == REFUSED
        assert is_refused.any() and not is_refused.all()
        for amount in (every.acid_amount, every.peroxide_amount):
            assert np.isnan(amount[is_refused]).all() and np.isfinite(amount[~is_refused]).all()
        assert set(every.bands) == set(KEPT)
        assert not any("volume" in name or "cover" in name for name in every.bands)
        assert not VOLUMES.search(repr(every))
        assert not any(VOLUMES.search(name) for name in every.to_frame().columns)
        # nothing that was not computed looks like a temperature
        for name in ("etching_peak", "hour_peak", "standing_peak"):
            assert every.bands[name].values.min() > 250


def test_law_a_refused_mixture_with_an_amount_is_impossible(mild):
    with pytest.raises(ValueError, match="refused mixture"):
        dataclasses.replace(mild, acid_amount=np.ones(len(mild)))


def test_law_reasons_stand_where_there_is_a_verdict_to_explain(mild, shop):
    for every in (mild, shop):
        assert np.array_equal(every.reason == "", every.severity == 0)
        assert not every.harmful[every.severity < REFUSED].any()


def test_law_nearest_takes_parts_of_any_size(mild):
    for index in range(0, len(mild), 17):
        assert mild.nearest(*mild.shares[index]) == index
        assert mild.nearest(*(7.3 * mild.shares[index])) == index
    # a third each lies between: no share of the nearest is off by more than a step
    near = mild.shares[mild.nearest(1, 1, 1)]
    assert np.abs(near - 1 / 3).max() < 1 / mild.steps


def ranked_by_search(every):
    """Rank the mixtures of a map as a search does, at the same bath over the copper."""
    wanted = every.wanted
    aim = Aim(wanted.shortest, wanted.longest, wanted.hottest, 0.9, 1000, every.inputs)
    batch = [every.inputs_of(index) for index in range(len(every))]
    return search._ranked(aim, batch)


@pytest.mark.parametrize(
    "bottles, window, hottest",
    [
        (MILD, (180, 480), 313.15),
        (MILD, (240, 900), 305.15),
        (SHOP, (300, 2400), 318.15),
        (SHOP, (180, 480), 313.15),
    ],
)
def test_law_the_leanest_is_the_search_s_within_the_grid(bottles, window, hottest):
    """A search of the shipped grid looks at other mixtures and at less bath: so its own ranking
    is put on the mixtures of the map, all at the map's bath over the copper."""
    every = mapped(bottles, window=window, hottest=hottest)
    candidates = ranked_by_search(every)
    best = search._best(candidates)
    if every.leanest is None:
        assert not best.rank.meets
    else:
        assert best.rank.meets
        assert every.inputs_of(every.leanest).parts == best.mixture.parts
    meets = [candidate.rank.meets for candidate in candidates]
    assert any(meets) == (every.leanest is not None)


def made_up(severities, moles, times):
    """Make up judged mixtures of these verdicts, moles of each of the two [mol] and times [s]."""
    count = len(severities)
    cool = Band.of(np.full((count, 1), 300.0), 1)
    return _Judged(
        severity=np.array(severities),
        harmful=np.zeros(count, dtype=bool),
        reason=np.full(count, ""),
        acid=np.array(moles),
        peroxide=np.array(moles),
        bands={
            "time_to_clear": Band.of(np.array(times)[:, None], 1),
            "etching_peak": cool,
            "hour_peak": cool,
        },
    )


@pytest.mark.parametrize(
    "severities, moles, times, leanest_place",
    [
        ((1, 0, 0), (1.0, 3.0, 2.0), (200.0, 200.0, 200.0), 2),  # the verdict before the moles
        ((1, 1, 0), (2.0, 1.0, 1.0), (200.0, 200.0, 900.0), 1),  # only what is wanted
        ((2, 2, 2), (1.0, 2.0, 3.0), (200.0, 200.0, 200.0), None),  # nothing that is refused
    ],
)
def test_law_the_best_verdict_comes_before_the_leanest(severities, moles, times, leanest_place):
    wanted = Wanted.checked((180, 480), 313.15)
    assert _leanest(wanted, made_up(severities, moles, times)) == leanest_place


def test_law_a_search_is_at_least_as_lean_as_the_map():
    """With at most the map's bath it may take less bath, but for its tenth for rounder parts."""
    every = mapped(window=(240, 900))
    found = leanest(
        *MILD,
        BOARD,
        place="elsewhere",
        volume=BATH * float(BOARD.copper_area),
        window=(240, 900),
        draws=40,
    )
    index = every.leanest
    assert found.meets and index is not None
    assert VERDICTS.index(found.plan.verdict) <= every.severity[index]
    moles = sum(np.mean(found.plan.mixture.amount(name)) for name in ("HCl", "H2O2"))
    most = every.acid_amount[index] + every.peroxide_amount[index]
    assert moles <= search.ROUNDER * most * 1.001


def test_law_equal_parts_of_shop_bottles_are_a_poor_choice(shop):
    """31.45 % acid and 3 % peroxide, no water: a fifth of the acid clears the board sooner.

    Of the mixtures 1 : 1 to 1 : 4 that people pour, equal parts are the slowest and take most acid.
    More acid than that is slower still, then refused: it is not the slowest of the whole edge.
    """
    times = shop.bands["time_to_clear"].middle
    equal = shop.nearest(0, 1, 1)
    tenth = shop.nearest(0, 1, 9)
    assert shop.acid_amount[tenth] < 0.25 * shop.acid_amount[equal]
    assert times[tenth] < times[equal]
    assert shop.severity[tenth] <= shop.severity[equal]
    usual = [shop.nearest(0, 1, peroxide) for peroxide in (1, 1.5, 2, 3, 4)]
    assert max(usual, key=lambda index: times[index]) == equal
    assert max(usual, key=lambda index: shop.acid_amount[index]) == equal
    edge = shop.shares[:, 0] == 0
    is_open = edge & (shop.severity < REFUSED)
    assert np.sum(shop.acid_amount[is_open] > shop.acid_amount[equal]) <= 1
    assert np.mean(times[is_open] > times[equal]) < 0.3


@pytest.mark.parametrize(
    "changes, field",
    [
        ({"steps": 1}, "steps"),
        ({"steps": 2.5}, "steps"),
        ({"window": (480, 180)}, "window"),
        ({"hottest": 40}, "hottest"),
        ({"bath_per_area": 1e3}, "bath_per_area"),
        ({"progress": 3}, "progress"),
        ({"place": "there"}, "place"),
    ],
)
def test_law_wrong_arguments_are_refused(changes, field):
    with pytest.raises(InputError) as error:
        mapped(**changes)
    assert error.value.field == field


def test_law_a_mixture_that_is_not_there_is_refused(mild):
    with pytest.raises(InputError, match="index"):
        mild.plan(len(mild))
    with pytest.raises(InputError, match="parts"):
        mild.nearest(0, 0, 0)


def test_law_progress_counts_to_the_end():
    seen = []
    mapped(steps=16, draws=1, progress=lambda done, total: seen.append((done, total)))
    assert seen == [(120, 153), (153, 153)]


def test_law_the_repr_counts_and_names_the_leanest(mild):
    words = repr(mild)
    counts = np.bincount(mild.severity, minlength=3)
    for count, verdict in zip(counts, VERDICTS, strict=True):
        assert f"{count} {verdict}" in words
    water, acid, peroxide = mild.parts(mild.leanest)
    assert f"{water} : {acid} : {peroxide}" in words


def test_law_rows_are_plain_and_in_lab_units(mild):
    rows = mild.rows()
    assert len(rows) == len(mild) == len(mild.to_frame())
    row = rows[mild.leanest]
    assert all(isinstance(value, float | str) for value in row.values())
    middle = mild.bands["time_to_clear"].middle[mild.leanest]
    assert row["clear, middle (min)"] == pytest.approx(middle / 60)
    peak = mild.bands["standing_peak"].high[mild.leanest]
    assert row["in the day after, 1 in 10 above (°C)"] == pytest.approx(peak - 273.15)


def test_law_a_tray_of_its_own_is_used():
    still = mapped(tray=Tray("still"), steps=4)
    rocked = mapped(tray=Tray("rocked"), steps=4)
    index = still.nearest(0, 1, 1)
    times = [every.bands["time_to_clear"].middle[index] for every in (still, rocked)]
    assert times[0] > times[1]


def test_law_another_window_is_the_same_map_with_another_leanest(mild):
    """As if it had been made with that window; a refused mixture stays without an amount."""
    wide = mild.wanting((60, 3600), 323.15)
    assert wide.wanted == Wanted.checked((60, 3600), 323.15) and wide.bands is mild.bands
    moles = wide.acid_amount + wide.peroxide_amount
    kept = wide.wanted.is_kept(wide.bands) & (wide.severity < REFUSED)
    best = wide.severity[kept].min()
    assert moles[wide.leanest] == moles[kept & (wide.severity == best)].min()
    assert wide.wanting((180, 480), 313.15).leanest == mild.leanest
    assert mild.wanting(*((mild.wanted.shortest, mild.wanted.longest), mild.wanted.hottest)) is mild
