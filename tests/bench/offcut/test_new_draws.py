"""New draws around those left over, held to cases whose answer is known exactly."""

import numpy as np
import pytest
from helpers.offcuts import offcut, strengths_of
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.bench.offcut import new_draws as module
from pcbchem.bench.offcut.new_draws import (
    draw_anew,
    effective_number,
    move_in_stages,
    next_power,
    picks,
)
from pcbchem.reaction.bath.parameters import shipped_draws


def test_law_equal_weights_all_count_and_one_alone_counts_once():
    assert effective_number(np.full(37, 0.2)) == pytest.approx(37)
    assert effective_number(np.array([0.0, 5.0, 0.0])) == pytest.approx(1)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0, 1), min_size=1, max_size=40).filter(lambda w: sum(w) > 1e-6),
    st.integers(1, 60),
    st.floats(0, 0.999),
)
def test_law_each_draw_comes_within_one_of_its_share(weights, count, start):
    weights = np.array(weights)
    chosen = picks(weights, count, start)
    often = np.bincount(chosen, minlength=weights.size)
    assert chosen.size == count and np.all(np.diff(chosen) >= 0)
    assert np.all(np.abs(often - count * weights / weights.sum()) <= 1 + 1e-6)
    assert np.all(often[weights == 0] == 0)


def test_law_a_stage_leaves_the_share_of_draws_that_it_should():
    fit = -(np.linspace(0, 40, 400) ** 2)
    power = next_power(fit, 0.0)
    left = effective_number(np.exp(power * (fit - fit.max())))
    assert 0 < power < 1 and left == pytest.approx(module.SHARE_LEFT * 400, rel=0.01)
    assert next_power(np.zeros(400), 0.0) == 1.0


def normal_case(seed, seen=3.0, spread=0.1):
    """Three normal coordinates and one between walls; only x0 + x1 is seen, x2 is above -1."""
    generator = np.random.default_rng(seed)
    places = np.vstack([generator.standard_normal((3, 400)), generator.random((1, 400))])
    shares = []

    def score(at):
        possible = (at[3] >= 0) & (at[3] <= 1) & (at[2] > -1)
        plausible = np.where(possible, -0.5 * (at[:3] ** 2).sum(axis=0), -np.inf)
        return plausible, -0.5 * ((at[0] + at[1] - seen) / spread) ** 2 - 3 * at[3]

    walled = np.array([False, False, False, True])
    return move_in_stages(places, score, walled, generator, shares.append), shares


def test_law_what_is_seen_and_what_is_not_come_out_as_they_must():
    # exact: x0, x1 normal of variance 1 and x0 + x1 = 3 ± 0.1: mean 3 / 2.01 each, variance
    # 1 - 1 / 2.01; x2 is normal above -1, mean 0.2876 (density over tail); x3 has a density
    # ~ exp(-3 x) on 0..1
    runs = [normal_case(seed) for seed in range(6)]
    places = np.hstack([places for places, _ in runs])
    assert places.min(axis=1)[2] > -1 and places[3].min() >= 0 and places[3].max() <= 1
    means, spreads = places.mean(axis=1), places.std(axis=1)
    error = 4 / np.sqrt(6 * 60)  # four standard errors, of at least 60 draws a run that count
    exact = 3 / 2.01
    assert means[:3] == pytest.approx([exact, exact, 0.2876], abs=error)
    assert means[3] == pytest.approx(1 / 3 - 1 / (np.exp(3) - 1), abs=0.25 * error)
    assert spreads[:2] == pytest.approx(np.sqrt(1 - 1 / 2.01), rel=0.1)
    assert (places[0] + places[1]).std() == pytest.approx(np.sqrt(2 - 4 / 2.01), rel=0.1)
    assert (places[0] + places[1]).mean() == pytest.approx(6 / 2.01, abs=0.03)
    for _, shares in runs:
        assert shares == sorted(shares) and shares[-1] == pytest.approx(1)


def test_law_most_draws_are_new_ones():
    places, _ = normal_case(1)
    assert np.unique(places[0]).size > 0.6 * places.shape[1]


def test_law_a_move_is_along_two_others_and_stays_within_walls():
    generator = np.random.default_rng(0)
    walled = np.full(5, True)
    places = generator.random((5, 50))
    tried = module._trial_places(places, walled, generator)
    assert tried.shape == places.shape and tried.min() >= 0 and tried.max() <= 1
    assert np.all((tried != places).any(axis=0))
    alike = np.full((5, 50), 0.5)  # where all draws are one, there is no difference to move along
    tried = module._trial_places(alike, walled, generator)
    assert tried == pytest.approx(alike, abs=10 * module.JITTER)
    assert np.all((tried != alike).any(axis=0))  # and yet none stays where it is


def test_law_each_stage_picks_from_another_start(monkeypatch):
    starts = []

    def noting(weights, count, start):
        starts.append(start)
        return picks(weights, count, start)

    monkeypatch.setattr(module, "picks", noting)
    normal_case(1)
    assert len({*starts}) == len(starts) > 1 and all(0 <= start < 1 for start in starts)


def test_law_the_same_seed_gives_the_same_draws(monkeypatch):
    monkeypatch.setattr(module, "MOVES", 1)
    offcuts = [offcut(0, 20.0, clear=False)]  # says nothing: one stage

    draws = {name: column[:80] for name, column in shipped_draws().items()}
    strengths = {name: column[:80] for name, column in strengths_of(offcuts).items()}

    def anew(seed):
        generator = np.random.default_rng(seed)
        return draw_anew(offcuts, draws, strengths, 0.15, {}, generator, lambda share: None)

    first, again, other = anew(1), anew(1), anew(2)
    for name in draws:
        assert np.array_equal(first[0][name], again[0][name]), name
    assert np.array_equal(first[1]["HCl", "acid"], again[1]["HCl", "acid"])
    for rate_factor in (draws["rate_factor"], other[0]["rate_factor"]):
        assert not np.array_equal(first[0]["rate_factor"], rate_factor)
