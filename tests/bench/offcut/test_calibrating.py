"""What offcuts do to the draws: weights, slips, and new draws where few are left."""

import dataclasses
import functools

import numpy as np
import pytest
from helpers.offcuts import ACID, BOARD, PEROXIDE, offcut, strengths_of, width
from scipy import stats

from pcbchem import Bottle, RateParameters
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut import calibrating, likelihood, new_draws
from pcbchem.bench.offcut import calibration as calibration_module
from pcbchem.bench.offcut.calibrating import SPREAD, calibrate
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.arrays import as_draws
from pcbchem.reaction.bath.parameters import rows, shipped_draws
from pcbchem.reaction.bath.plausible import FACTS, coordinates, log_prior

TWO = [offcut(0, 200.0), offcut(1, 460.0)]
QUICK = [offcut(0, 150.0), offcut(1, 280.0)]
"""A bench so quick that hardly any shipped draw is left."""


@pytest.fixture(scope="module")
def two():
    return calibrate(Log.of(TWO))


# ---- weights


def likelihoods(times):
    """Of two times, and of one not clear yet, by a statistics library.

    A time is log-normal. One row in twenty may be a slip, by which it never clears, or the
    logarithm of the time is uniform from 1 s to 4 h, each in half of all slips.
    """
    whole = np.log(14_400)
    each = []
    for row, time in enumerate((200, 460)):
        density = time * stats.lognorm.pdf(time, s=SPREAD, scale=times[row])
        each.append(0.95 * density + 0.025 / whole)
    later = stats.lognorm.sf(900, s=SPREAD, scale=times[2])
    each.append(0.95 * later + 0.025 * (1 + np.log(14_400 / 900) / whole))
    return each


@pytest.mark.parametrize("count", [2, 3])
def test_second_source_weights_are_a_library_s_likelihoods(count):
    offcuts = [*TWO, offcut(2, 900.0, clear=False)]
    times = likelihood.expected_times(offcuts, shipped_draws(), strengths_of(offcuts))
    product = np.prod(likelihoods(times)[:count], axis=0)
    calibration = calibrate(Log.of(offcuts[:count]))
    assert calibration.new_draws == 0
    assert calibration.weights == pytest.approx(product / product.sum(), rel=1e-9, abs=1e-15)
    effective = product.sum() ** 2 / (product**2).sum()
    assert calibration.shipped_left == pytest.approx(effective, rel=1e-9)
    assert calibration.effective_draws == pytest.approx(effective, rel=1e-9)
    slip = 0.025 / np.log(14_400) / likelihoods(times)[0]
    assert calibration.slips[0] == pytest.approx(np.sum(calibration.weights * slip), rel=1e-9)


def test_law_the_same_seen_twice_is_once_with_less_spread(monkeypatch):
    monkeypatch.setattr(likelihood, "SLIP", 0.0)
    twice = calibrate(Log.of([offcut(0, 210.0)] * 2), spread=0.2)
    once = calibrate(Log.of([offcut(0, 210.0)]), spread=0.2 / np.sqrt(2))
    assert twice.weights == pytest.approx(once.weights, rel=1e-9, abs=1e-15)


def test_law_no_offcut_leaves_the_shipped_draws_as_they_are():
    nothing = calibrate(Log.of([]))
    assert nothing.weights == pytest.approx(1 / 400)
    assert nothing.effective_draws == pytest.approx(400)
    shipped = RateParameters.plausible(400).rate_factor
    assert np.array_equal(nothing.parameters(400).rate_factor, shipped)


def test_law_an_offcut_narrows_its_band_and_moves_it_to_its_time(two):
    before, after = np.log(two.times_before), np.log(two.times_after)
    seen = np.log([200, 460])
    assert np.all(after[:, 2] - after[:, 0] < 0.8 * (before[:, 2] - before[:, 0]))
    assert np.all(np.abs(after[:, 1] - seen) < np.abs(before[:, 1] - seen))


def test_law_the_order_of_rows_does_not_matter(two):
    turned = calibrate(Log.of(TWO[::-1]))
    assert turned.weights == pytest.approx(two.weights, rel=1e-9)


def test_law_not_clear_yet_moves_the_band_up_only():
    late = calibrate(Log.of([offcut(0, 240.0, clear=False)]))
    assert np.all(late.times_after[0] > late.times_before[0])
    soon = calibrate(Log.of([offcut(0, 20.0, clear=False)]))
    assert soon.weights == pytest.approx(1 / 400, rel=1e-6)


def test_second_source_what_was_measured_counts_as_normal(two):
    # by hand: the weights without it times the density of the strength by the measurement
    measured = {("H2O2", "peroxide"): Strength("H2O2", 0.106, 0.002, "oxygen over water")}
    calibration = calibrate(Log.of(TWO), measured=measured)
    product = two.weights * stats.norm.pdf(two.strengths["H2O2", "peroxide"], 0.106, 0.002)
    assert calibration.new_draws == 0 and calibration.measured == measured
    assert calibration.weights == pytest.approx(product / product.sum(), rel=1e-9, abs=1e-15)


def test_law_nobody_can_change_the_shipped_draws():
    calibration = calibrate(Log.of([]))
    with pytest.raises(ValueError, match="read-only"):
        calibration.draws["rate_factor"] *= 2
    calibration.draws["rate_factor"] = np.ones(400)
    assert RateParameters.plausible(400).rate_factor.std() > 0.1


# ---- rows that are not what they say


def test_law_a_slip_is_flagged_and_hardly_moves_the_band():
    good = [offcut(0, 230.0), offcut(0, 240.0), offcut(1, 500.0), offcut(2, 790.0)]
    without = calibrate(Log.of(good))
    with_slip = calibrate(Log.of([*good, offcut(1, 2900.0)]))
    assert without.flagged == () and with_slip.flagged == (6,)
    assert with_slip.slips[4] > 0.99 and with_slip.slips[:4].max() < 0.2
    assert with_slip.times_after[:4, 1] == pytest.approx(without.times_after[:, 1], rel=0.02)


def test_law_one_given_up_after_four_hours_overrules_no_other(two):
    calibration = calibrate(Log.of([*TWO, offcut(0, 14_400.0, clear=False)]))
    assert calibration.flagged == (4,) and calibration.new_draws == 0
    assert calibration.times_after[:2] == pytest.approx(two.times_after, rel=0.02)


def test_law_nothing_is_learnt_where_no_offcut_fits():
    calibration = calibrate(Log.of([offcut(0, 5.0), offcut(0, 9000.0)]))
    assert calibration.flagged == (2, 3)
    assert calibration.weights == pytest.approx(1 / 400, rel=0.5)


def test_law_bad_rows_of_the_log_do_not_count(two):
    bad = ((4, "clear_after_s is blank"),)
    calibration = calibrate(dataclasses.replace(Log.of(TWO), bad=bad))
    assert calibration.bad == bad and np.array_equal(calibration.weights, two.weights)


def test_law_a_row_whose_bath_cannot_be_computed_is_left_out(two, monkeypatch):
    def picky(offcuts, *rest):
        if any(offcut.note == "film" for offcut in offcuts):
            raise ValueError("depth of the bath = 1e-05 is impossible")
        return likelihood.expected_times(offcuts, *rest)

    monkeypatch.setattr(calibrating, "expected_times", picky)
    film = offcut(0, 99.0, acid_bottle="A", note="film")
    calibration = calibrate(Log.of([film, *TWO]))
    assert calibration.lines == (3, 4)
    assert calibration.bad == ((2, "depth of the bath = 1e-05 is impossible"),)
    assert set(calibration.strengths) == set(two.strengths)
    assert calibration.times_after == pytest.approx(two.times_after, rel=0.05)


# ---- new draws


@pytest.fixture(scope="module")
def quick():
    """Its calibration, and the progress that was reported."""
    steps = []

    def report(done, total):
        steps.append((done, total))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(new_draws, "MOVES", 2)
        calibration = calibrate(Log.of(QUICK), progress=report)
    return calibration, steps


ALWAYS_ANEW = {"few": 401.0}
"""Draws are made anew, however many are left."""


def test_law_new_draws_are_made_where_few_are_left(quick):
    calibration, _ = quick
    assert calibration.shipped_left < new_draws.FEW
    assert calibration.new_draws == 400 and calibration.effective_draws > 100
    assert calibration.weights == pytest.approx(1 / 400)
    assert calibration.flagged == ()


def test_law_progress_rises_to_the_whole(quick):
    _, steps = quick
    assert steps == sorted(steps) and steps[-1] == (100, 100)
    assert {total for _, total in steps} == {100}


def test_law_new_draws_keep_to_their_ranges_and_labels(quick):
    calibration, _ = quick
    for name, row in rows().items():
        if row["drawn"].split()[0] in ("uniform", "log-uniform", "held"):
            column = calibration.draws[name]
            assert float(row["low"]) * (1 - 1e-9) <= column.min(), name
            assert column.max() <= float(row["high"]) * (1 + 1e-9), name
    assert np.all(np.isfinite(log_prior(coordinates(calibration.draws))))
    for (substance, _), strengths in calibration.strengths.items():
        bottle = ACID if substance == "HCl" else PEROXIDE
        assert bottle.low <= strengths.min() and strengths.max() <= bottle.high


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact.name)
def test_law_new_draws_meet_the_facts(fact, quick):
    draws = {name: as_draws(column) for name, column in quick[0].draws.items()}
    assert np.all(fact.met(fact.predict(RateParameters(**draws))))


def test_law_where_offcuts_say_nothing_new_draws_spread_alike(monkeypatch):
    monkeypatch.setattr(new_draws, "MOVES", 6)
    calibration = calibrate(Log.of([offcut(0, 20.0, clear=False)]), **ALWAYS_ANEW)
    # two samples of one distribution: the chance of a distance this large (Kolmogorov and
    # Smirnov) is not tiny
    for name, column in calibration.draws.items():
        assert stats.ks_2samp(column, shipped_draws()[name]).pvalue > 0.001, name
    # the one parameter without walls does not wander off
    spread, shipped_spread = (
        np.log(draws["rate_factor"]).std() for draws in (calibration.draws, shipped_draws())
    )
    assert spread == pytest.approx(shipped_spread, rel=0.15)


def test_law_new_draws_agree_with_weights_where_both_can_be_had():
    # the same offcuts by new draws, and by weights on the shipped ones: two ways to one answer
    offcuts = [offcut(0, 215.0), offcut(1, 470.0)]
    anew = calibrate(Log.of(offcuts), seed=5, **ALWAYS_ANEW)
    weighed = calibrate(Log.of(offcuts))
    assert weighed.new_draws == 0 and anew.new_draws == 400
    assert np.log(anew.times_after) == pytest.approx(np.log(weighed.times_after), abs=0.06)


def test_law_new_draws_for_a_board_agree_with_weights_too(monkeypatch):
    # the same again with the step from offcut to board
    log = Log.of([offcut(0, 215.0), offcut(1, 470.0)])
    weighed, anew = calibrate(log), calibrate(log)
    always = functools.partial(new_draws.draws_left, few=401.0)
    monkeypatch.setattr(calibration_module, "draws_left", always)
    assert anew.for_board(0.3).new_draws == 400
    monkeypatch.undo()
    assert weighed.for_board(0.3).new_draws == 0
    bands = [
        etched(BOARD, **calibration.doubt(BOARD)).run.band("time_to_clear")
        for calibration in (anew, weighed)
    ]
    assert float(bands[0].middle) == pytest.approx(float(bands[1].middle), rel=0.05)
    assert width(bands[0]) == pytest.approx(width(bands[1]), rel=0.2)


def test_law_an_exact_bottle_stays_exact_in_new_draws(monkeypatch):
    monkeypatch.setattr(new_draws, "MOVES", 1)
    acid, peroxide = Bottle("HCl", 0.1, 0.1), Bottle("H2O2", 0.7, 0.7)
    exact = dataclasses.replace(offcut(0, 215.0), acid=acid, peroxide=peroxide, parts=(6, 1, 1))
    calibration = calibrate(Log.of([exact]), **ALWAYS_ANEW)
    assert np.all(calibration.strengths["HCl", "acid"] == 0.1)
    assert np.all(calibration.strengths["H2O2", "peroxide"] == 0.7)


def test_law_what_was_measured_counts_in_new_draws_too(monkeypatch):
    monkeypatch.setattr(new_draws, "MOVES", 2)
    measured = {("HCl", "acid"): Strength("HCl", 0.096, 0.001, "titration with lye")}
    calibration = calibrate(Log.of([offcut(0, 215.0)]), measured=measured, **ALWAYS_ANEW)
    strengths = calibration.strengths["HCl", "acid"]
    assert strengths.mean() == pytest.approx(0.096, abs=0.0006)
    assert strengths.std() == pytest.approx(0.001, rel=0.35)


# ---- refusals


def measured(name="acid", middle=0.1, doubt=0.001):
    return {("HCl", name): Strength("HCl", middle, doubt, "weighing")}


NOT_ETCHED = dataclasses.replace(Log.of(TWO), offcuts=(offcut(0), offcut(1, 3.0)))
WRONG = {
    "no log": (("offcuts.csv",), {}, r"log = 'offcuts.csv' is not a log of offcuts: give read_log"),
    "not etched": ((NOT_ETCHED,), {}, r"line 2: time = None is impossible"),
    "no spread": ((Log.of(TWO),), {"spread": 0.0}, r"spread = 0 is impossible.* 0.02 to 1"),
    "nan": ((Log.of(TWO),), {"spread": np.nan}, r"spread = nan is impossible.* 0.02 to 1"),
    "another bottle": (
        (Log.of(TWO),),
        {"measured": measured("other")},
        r"measured: \('HCl', 'other'\): .* it must be a Strength by one of the keys "
        r"\('HCl', 'acid'\)",
    ),
    "no strength": (
        (Log.of(TWO),),
        {"measured": {("HCl", "acid"): 0.1}},
        r"measured: \('HCl', 'acid'\): 0.1 is impossible: it must be a Strength",
    ),
    "contradiction": (
        (Log.of(TWO),),
        {"measured": measured(middle=0.2)},
        r"measured: 'acid': middle = 0.2 is impossible: .* 0.087 to 0.113 kg/kg",
    ),
    "cannot tell": (
        (Log.of(TWO),),
        {"measured": measured(doubt=0.05)},
        r"measured: 'acid': .*cannot tell",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_law_what_cannot_be_is_refused_by_name(name):
    arguments, keywords, message = WRONG[name]
    with pytest.raises(ValueError, match=message):
        calibrate(*arguments, **keywords)
