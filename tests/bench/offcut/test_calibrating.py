"""New draws where few are left: in the same ranges, by the same facts, as wide as weights on the shipped ones."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, BOARD, PEROXIDE, offcut, width
from scipy import stats

from pcbchem import Bottle, RateParameters
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut import calibrating as calibration
from pcbchem.bench.offcut import new_draws as survivors
from pcbchem.bench.offcut.calibrating import calibrate
from pcbchem.bench.offcut.log import Log
from pcbchem.bench.plan.outlook import etched
from pcbchem.common.arrays import as_draws
from pcbchem.reaction.bath.parameters import rows, shipped_draws
from pcbchem.reaction.bath.plausible import FACTS, coordinates, log_prior


@pytest.fixture(scope="module")
def quick():
    """A bench so quick that hardly any shipped draw is left."""
    told = []
    found = calibrate(
        Log.of([offcut(0, 150.0), offcut(1, 280.0)]),
        progress=lambda done, total: told.append((done, total)),
    )
    return found, told


def test_law_new_draws_are_made_where_few_are_left(quick):
    found, told = quick
    assert found.survived < calibration.FEW and found.made == 400 and found.effective > 100
    assert found.weights == pytest.approx(1 / 400)
    assert [total for _, total in told] == [100] * len(told) and told[-1][0] == 100
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert found.flagged == ()
    assert (
        f"as many as {found.survived:.0f}: too few, so {found.effective:.0f} new ones were made"
        in found.words
    )


def test_law_new_draws_keep_to_ranges_facts_and_labels(quick):
    found, _ = quick
    for name, row in rows().items():
        if row["drawn"].split()[0] in ("uniform", "log-uniform", "held"):
            low, high = float(row["low"]), float(row["high"])
            assert low * (1 - 1e-9) <= found.draws[name].min() and found.draws[
                name
            ].max() <= high * (1 + 1e-9), name
    assert np.all(np.isfinite(log_prior(coordinates(found.draws))))
    known = RateParameters(**{name: as_draws(column) for name, column in found.draws.items()})
    for fact in FACTS:
        assert np.all(fact.met(fact.predict(known))), fact.name
    for (substance, _), strengths in found.strengths.items():
        bottle = ACID if substance == "HCl" else PEROXIDE
        assert bottle.low <= strengths.min() and strengths.max() <= bottle.high


def test_law_where_offcuts_say_nothing_new_draws_are_spread_like_the_shipped_ones(monkeypatch):
    # two samples of one distribution: the chance of a distance this large (Kolmogorov and Smirnov) is not tiny
    monkeypatch.setattr(calibration, "FEW", 401.0)
    monkeypatch.setattr(survivors, "MOVES", 12)
    found = calibrate(Log.of([offcut(0, 20.0, clear=False)]))
    for name in ("rate_factor", "surface_rate", "gas_share", "stirring_rocked", "decay_factor"):
        assert stats.ks_2samp(found.draws[name], shipped_draws()[name]).pvalue > 0.001, name


def test_law_an_exact_bottle_stays_exact_in_new_draws(monkeypatch):
    monkeypatch.setattr(calibration, "FEW", 401.0)
    exact = dataclasses.replace(
        offcut(0, 215.0),
        acid=Bottle("HCl", 0.1, 0.1),
        peroxide=Bottle("H2O2", 0.7, 0.7),
        parts=(6, 1, 1),
    )
    found = calibrate(Log.of([exact]))
    assert np.all(found.strengths["HCl", "acid"] == 0.1) and np.all(
        found.strengths["H2O2", "peroxide"] == 0.7
    )


def test_law_new_draws_agree_with_weights_where_both_can_be_had(monkeypatch):
    # the same offcuts once by weights on the shipped draws and once by new draws: two ways to one answer
    rows_ = [offcut(0, 215.0), offcut(1, 470.0)]
    weighed = calibrate(Log.of(rows_))
    monkeypatch.setattr(calibration, "FEW", 401.0)
    made = calibrate(Log.of(rows_), seed=5)
    assert weighed.made == 0 and made.made == 400
    assert np.log(made.after) == pytest.approx(np.log(weighed.after), abs=0.06)
    by = [
        etched(BOARD, **found.doubt(BOARD, "acid", "peroxide")).run.band("time_to_clear")
        for found in (weighed, made)
    ]
    assert float(by[1].middle) == pytest.approx(float(by[0].middle), rel=0.05)
    assert width(by[1]) == pytest.approx(width(by[0]), rel=0.3)


def test_law_what_was_measured_counts_in_new_draws_too(monkeypatch):
    monkeypatch.setattr(calibration, "FEW", 401.0)
    found = calibrate(
        Log.of([offcut(0, 215.0)]),
        measured={("HCl", "acid"): Strength("HCl", 0.096, 0.001, "titration with lye")},
    )
    assert found.made == 400
    assert found.strengths["HCl", "acid"].mean() == pytest.approx(0.096, abs=0.0006)
    assert found.strengths["HCl", "acid"].std() == pytest.approx(0.001, rel=0.35)


def test_law_the_same_log_gives_the_same_draws(quick):
    again = calibrate(Log.of([offcut(0, 150.0), offcut(1, 280.0)]))
    assert all(np.array_equal(again.draws[name], quick[0].draws[name]) for name in again.draws)
    assert again.log_sha256 == quick[0].log_sha256
