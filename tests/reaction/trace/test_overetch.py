"""How long past clearing a board stays in: by hand, and from a run of the model."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Board, Foil, RateParameters, Solution, etch
from pcbchem.common.arrays import Draws, as_draws
from pcbchem.common.band import Band, between
from pcbchem.reaction import trace
from pcbchem.reaction.trace import overetch, undercut
from pcbchem.reaction.trace.overetch import UNEVEN, pulled, time_at_loss
from pcbchem.reaction.trace.undercut import etch_factor, over_at_loss, widths

MADE_UP = as_draws([100.0, 150.0, 200.0, 250.0, np.inf])
"""Times to clear of five draws [s], one of which never clears."""
times = st.lists(st.floats(1.0, 1e4) | st.just(np.inf), min_size=1, max_size=20)
cheap = settings(max_examples=60, deadline=None)


@pytest.fixture(scope="module")
def runs():
    """The same board in a roomy, a weak and a strong bath."""
    board, p = Board(area=27e-4, foil=Foil.ounces(1)), RateParameters.plausible(40)
    roomy = Solution.of(volume=150e-6, T=293.15, HCl=0.05, H2O2=0.06)
    weak = Solution.of(volume=150e-6, T=293.15, HCl=0.034, H2O2=0.02)
    strong = Solution.of(volume=80e-6, T=293.15, HCl=0.07, H2O2=0.05)
    return {
        name: etch(bath, board, None, p, history=True)
        for name, bath in (("roomy", roomy), ("weak", weak), ("strong", strong))
    }


def test_law_a_blind_pull_is_what_it_comes_to_by_hand():
    out = pulled(MADE_UP, at=200)
    assert out.seconds.tolist() == [100, 50, 0, 0, 0]
    np.testing.assert_allclose(out.over, [1.0, 1 / 3, 0, 0, 0])
    assert out.clear.tolist() == [True, True, True, False, False]
    assert out.not_clear == pytest.approx(0.4)
    assert out.time.tolist() == [200] * 5
    assert pulled(MADE_UP, at=200, weights=[1, 1, 1, 3, 4]).not_clear == pytest.approx(0.7)


def test_law_the_first_place_is_over_etched_for_the_last():
    out = pulled(MADE_UP, at=200, uneven=0.2)  # last places clear at 120, 180, 240, 300 s
    assert out.seconds.tolist() == [100, 50, 0, 0, 0]
    assert out.clear.tolist() == [True, True, False, False, False]
    looked = pulled(MADE_UP, looks_every=50, first_look=100, uneven=0.2)
    assert looked.time.tolist() == [150, 200, 250, 300, np.inf]
    assert looked.seconds.tolist() == [50, 50, 50, 50, 0]
    assert looked.not_clear == pytest.approx(0.2)


def test_law_a_look_is_what_it_comes_to_by_hand():
    out = pulled(MADE_UP, looks_every=60, first_look=130)
    assert out.time.tolist() == [130, 190, 250, 250, np.inf]
    assert out.seconds.tolist() == [30, 40, 50, 0, 0]
    np.testing.assert_allclose(out.over, [0.3, 40 / 150, 0.25, 0, 0])
    assert out.clear.tolist() == [True] * 4 + [False]
    assert pulled(MADE_UP, looks_every=100).time.tolist() == [100, 200, 200, 300, np.inf]


def test_law_clear_at_the_very_moment_of_a_look_comes_out():
    out = pulled(100.0, looks_every=10, uneven=0.1)  # 100 · 1.1 is a little over 110 in floats
    assert 100.0 * 1.1 > 110 and out.time == pytest.approx(110)


@cheap
@given(times, st.floats(0.5, 500), st.floats(0.5, 500), st.floats(0, 1))
def test_law_over_etch_by_looks_is_at_most_one_look(clears, every, first, uneven):
    t = np.array(clears)
    out = pulled(t, looks_every=every, first_look=first, uneven=uneven)
    assert not np.isnan(out.seconds).any() and not np.isnan(out.over).any()
    ever = np.isfinite(t)
    assert np.array_equal(out.clear, ever) and np.array_equal(np.isfinite(out.time), ever)
    full = t[ever] * (1 + uneven)
    late = out.time[ever] - full
    assert np.all(late >= -1e-6) and np.all(
        (late <= every * (1 + 1e-9) + 1e-6) | (out.time[ever] == first)
    )
    np.testing.assert_allclose(out.seconds[ever], out.time[ever] - t[ever], atol=1e-6)
    np.testing.assert_allclose(out.over[ever], out.seconds[ever] / t[ever])
    assert np.all(out.over[~ever] == 0)


@cheap
@given(times, st.floats(0.5, 2e4), st.floats(0, 1))
def test_law_over_etch_blind_grows_with_the_wait(clears, at, uneven):
    t = np.array(clears)
    one, later = pulled(t, at=at, uneven=uneven), pulled(t, at=2 * at, uneven=uneven)
    assert not np.isnan(one.over).any()
    assert np.all(later.over >= one.over) and np.all(later.clear >= one.clear)
    assert np.all(~np.asarray(later.not_clear > one.not_clear))


def test_law_who_looks_always_over_etches_by_the_uneven_share():
    t = MADE_UP[:4]
    for every in (10.0, 1.0, 0.1, 0.01):
        assert np.all(pulled(t, looks_every=every).seconds <= every)
        np.testing.assert_allclose(
            pulled(t, looks_every=every, uneven=UNEVEN[0]).over, UNEVEN[0], atol=every / 100
        )


def test_law_time_of_loss_is_over_etch_of_loss_in_seconds():
    factor = between(1, 2, 5, seed=4)
    when = time_at_loss(MADE_UP, 100e-6, 35e-6, factor)
    assert isinstance(when, Draws) and np.isinf(when[4])
    for k in range(4):
        over = pulled(float(MADE_UP[k]), at=float(when[k]) * (1 + 1e-9)).over
        assert over == pytest.approx(float(over_at_loss(100e-6, 35e-6, factor)[k]), abs=1e-6)
        assert widths(100e-6, 35e-6, factor[k], over).lost
        assert not widths(100e-6, 35e-6, factor[k], over * (1 - 1e-6)).lost


def test_law_a_run_goes_straight_into_widths(runs):
    run = runs["roomy"]
    band = run.band("time_to_clear")
    blind = pulled(run, at=band.high)
    assert isinstance(blind.over, Draws) and blind.not_clear <= 0.1
    looked = pulled(run, looks_every=20, first_look=band.low, uneven=between(*UNEVEN, 40, seed=6))
    lines = widths(
        np.array([[150e-6], [300e-6]]),
        run.board.foil.thickness,
        etch_factor("rocked", 40, seed=7),
        looked.over,
    )
    assert lines.top.shape == (2, 40)
    one, spread = (Band.of(lines.top, 40, None), Band.of(blind.seconds, 40, None))
    assert np.all(one.low <= one.high) and spread.high == pytest.approx(
        float(band.high - band.low), rel=0.1
    )


def test_law_the_two_paces_differ_little_in_a_roomy_bath(runs):
    share = {}
    for name, run in runs.items():
        clear = np.isfinite(run.time_to_clear)
        mean, last = (
            pulled(run, looks_every=30, uneven=0.2, pace=pace) for pace in ("mean", "last")
        )
        np.testing.assert_array_equal(mean.seconds, last.seconds)
        assert np.all(last.over[~clear] == 0) and clear.sum() > 10
        share[name] = np.median(last.over[clear] / mean.over[clear])
        # the last tenth of the foil by the run's own history, read at one time
        k = int(np.flatnonzero(clear)[0])
        t = float(run.time_to_clear[k])
        h = float(run.board.foil.thickness)
        pace = h * float(last.over[k] / last.seconds[k])
        early = t - 0.1 * h / pace
        assert run.at([early])["thickness"][0, k] == pytest.approx(0.1 * h, rel=0.01)
    assert share["weak"] < 1 < share["roomy"] < 1.1  # a tenth or less, as the module says
    assert 1 - share["weak"] > share["roomy"] - 1
    assert share["roomy"] < share["strong"] < 1.25  # faster in the end, by up to a quarter


def test_law_the_face_hands_on_what_its_modules_hold():
    for module in (overetch, undercut):
        for name in set(trace.__all__) & set(vars(module)):
            assert getattr(trace, name) is getattr(module, name), name


IMPOSSIBLE = {
    "neither": (
        lambda: pulled(MADE_UP),
        "at = None, looks_every = None.*must be at alone, or looks_every",
    ),
    "both": (lambda: pulled(MADE_UP, at=100, looks_every=20), "at = 100, looks_every = 20"),
    "a first look at a blind pull": (
        lambda: pulled(MADE_UP, at=100, first_look=20),
        "first_look = 20 is impossible",
    ),
    "at no time": (lambda: pulled(MADE_UP, at=0.0), "at = 0 is impossible: it must be 0.01 to 1e"),
    "a band that never ends": (lambda: pulled(MADE_UP, at=np.inf), "at = inf is impossible"),
    "no pause": (
        lambda: pulled(MADE_UP, looks_every=0.0),
        "looks_every = 0 is impossible: it must be 0.01",
    ),
    "a look before": (
        lambda: pulled(MADE_UP, looks_every=1, first_look=-5),
        "first_look = -5 is impossible",
    ),
    "too even": (
        lambda: pulled(MADE_UP, at=100, uneven=-0.1),
        "uneven = -0.1 is impossible: it must be 0 to 2",
    ),
    "clears at once": (
        lambda: pulled([10.0, 0.0], at=100),
        "run = 0 is impossible: it must be above 0",
    ),
    "not a number": (lambda: time_at_loss(np.nan, 1e-4, 35e-6, 1), "run = nan is impossible"),
    "not a run": (lambda: pulled("board", at=100), "run = 'board' is not an EtchRun or times"),
    "an unknown pace": (
        lambda: pulled(MADE_UP, at=100, pace="fast"),
        "pace = 'fast' is not known: choose from mean",
    ),
    "no history": (
        lambda: pulled(MADE_UP, at=100, pace="last"),
        "pace = 'last' is impossible here.*history=True",
    ),
    "two lengths": (lambda: pulled(MADE_UP, at=as_draws([1.0, 2.0])), "draws of two lengths"),
    "weights": (
        lambda: pulled(MADE_UP, at=100, weights=[1.0, 2.0]),
        r"weights = array of shape \(2,\)",
    ),
}


@pytest.mark.parametrize("case", IMPOSSIBLE)
def test_law_the_impossible_is_refused_by_name_value_and_limits(case):
    call, said = IMPOSSIBLE[case]
    with pytest.raises(ValueError, match=said):
        call()
