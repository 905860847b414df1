"""New draws around the survivors, held to cases whose answer is known exactly."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.bench.offcut import new_draws as survivors


def test_law_equal_weights_all_count_and_one_alone_counts_once():
    assert survivors.effective(np.full(37, 0.2)) == pytest.approx(37)
    assert survivors.effective(np.array([0.0, 5.0, 0.0])) == pytest.approx(1)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0, 1), min_size=1, max_size=40).filter(lambda w: sum(w) > 1e-6),
    st.integers(1, 60),
    st.floats(0, 0.999),
)
def test_law_each_draw_comes_within_one_of_its_share(weights, count, start):
    w = np.array(weights)
    kept = survivors.resampled(w, count, start)
    often = np.bincount(kept, minlength=w.size)
    assert kept.size == count and np.all(np.diff(kept) >= 0)
    assert np.all(np.abs(often - count * w / w.sum()) <= 1 + 1e-6)
    assert np.all(often[w == 0] == 0)


def test_law_a_stage_keeps_the_share_of_draws_that_it_should():
    fit = -(np.linspace(0, 40, 400) ** 2)
    to = survivors.sharpened(fit, 0.0)
    left = survivors.effective(np.exp(to * (fit - fit.max())))
    assert 0 < to < 1 and left == pytest.approx(survivors.STILL * 400, rel=0.01)
    assert survivors.sharpened(np.zeros(400), 0.0) == 1.0


def normal_case(seed, seen=3.0, spread=0.1):
    """Three normal coordinates and one between walls; only x0 + x1 is seen, and some of the first are impossible."""
    generator = np.random.default_rng(seed)
    places = np.vstack([generator.standard_normal((3, 400)), generator.random((1, 400))])
    told = []

    def score(at):
        walled = (at[3] >= 0) & (at[3] <= 1)
        return (
            np.where(walled & (at[2] > -1), -0.5 * (at[:3] ** 2).sum(axis=0), -np.inf),
            -0.5 * ((at[0] + at[1] - seen) / spread) ** 2 - 3 * at[3],
        )

    walls = np.array([False, False, False, True])
    return survivors.around(places, score, walls, generator, told.append), told


def test_law_what_is_seen_and_what_is_not_come_out_as_they_must():
    # exact: x0, x1 normal of variance 1 and x0 + x1 = 3 ± 0.1: mean 3 / 2.01 each, variance 1 - 1 / 2.01;
    # x2 is normal above -1, mean 0.2876 (density over tail), x3 has density ~ exp(-3 x) on 0..1: mean 0.2810
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
    for _, told in runs:
        assert told == sorted(told) and told[-1] == pytest.approx(1)


def test_law_most_draws_are_new_ones():
    places, _ = normal_case(1)
    assert np.unique(places[0]).size > 0.6 * places.shape[1]


def test_law_a_step_moves_a_draw_by_two_others_and_stays_within_walls():
    generator = np.random.default_rng(0)
    places = generator.random((5, 50))
    tried = survivors._step(places, np.full(5, True), generator)
    assert tried.shape == places.shape and tried.min() >= 0 and tried.max() <= 1
    assert np.all((tried != places).any(axis=0))
    alike = np.full((5, 50), 0.5)  # where all draws are one, there is no difference to move along
    assert survivors._step(alike, np.full(5, True), generator) == pytest.approx(
        alike, abs=10 * survivors.JITTER
    )
