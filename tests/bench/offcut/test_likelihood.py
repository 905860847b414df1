"""What each draw expects of an offcut, and how likely that makes what was seen."""

import dataclasses

import numpy as np
import pytest
from helpers.offcuts import ACID, PEROXIDE, offcut, strengths_of
from scipy import stats

from pcbchem import Board, Bottle, Foil, RateParameters, Tray
from pcbchem.bench.bottle.strength import Strength
from pcbchem.bench.offcut import likelihood as module
from pcbchem.bench.offcut.likelihood import (
    Bath,
    bottles_of,
    expected_times,
    fit_of_draws,
    fit_of_measurements,
    likelihood_of_slip,
    likelihood_of_time,
    likely_steps,
    steps_to_offcuts,
)
from pcbchem.bench.offcut.offcut import Offcut
from pcbchem.bench.plan.outlook import etched
from pcbchem.reaction.bath.parameters import shipped_draws
from pcbchem.reaction.bath.plausible import FACTS


@pytest.mark.parametrize(
    "tray, T_bottles, foil",
    [
        (Tray(), 293.15, 0.305),
        (Tray(agitation="still", facing="upright"), 285.0, 0.15),
        (Tray(agitation="bubbled", open_area=20e-4, T_air=300.0), 293.15, 0.305),
    ],
)
def test_law_expected_times_are_those_of_a_plan(tray, T_bottles, foil):
    # the same bath by the plan's own way: poured, mixed and etched alone
    board = Board(area=4e-4, foil=Foil(foil))
    test = Offcut(ACID, PEROXIDE, (0.5, 1, 1.2), 30e-6, board, tray, T_bottles)
    acid, peroxide = ACID.strengths(400, 3), PEROXIDE.strengths(400, 4)
    strengths = {
        ("HCl", "acid"): np.asarray(acid),
        ("H2O2", "peroxide"): np.asarray(peroxide),
    }
    both = expected_times([test, offcut(1)], shipped_draws(), strengths)
    alone = etched(
        test.inputs,
        parameters=RateParameters.plausible(400),
        strengths={"acid": acid, "peroxide": peroxide},
    ).run.time_to_clear
    assert both.shape == (2, 400)
    assert both[0] == pytest.approx(np.asarray(alone), rel=1e-9)


def test_law_other_baths_stand_beside_offcuts():
    fact = FACTS[1]
    bath = Bath(fact.bath, fact.board, Tray())
    alike = [offcut(), offcut(note="again")]  # etched once, and yet a row each
    times = expected_times(alike, shipped_draws(), strengths_of(alike), [bath])
    assert times.shape == (3, 400)
    assert times[2] == pytest.approx(fact.predict(RateParameters.plausible(400)), rel=1e-9)


DIFFERENT = {
    "parts": {"parts": (0.2, 1, 1)},
    "volume": {"volume": 20e-6},
    "area": {"board": Board(area=6e-4)},
    "foil": {"board": Board(area=4e-4, foil=Foil.ounces(2))},
    "bottles": {"T_bottles": 285.0},
    "moved": {"tray": Tray("still")},
    "facing": {"tray": Tray(facing="down")},
    "dish": {"tray": Tray(open_area=6e-4)},
    "air": {"tray": Tray(T_air=310.0)},
    "acid": {"acid_bottle": "A"},
    "peroxide": {"peroxide_bottle": "P"},
}


def test_law_offcuts_that_differ_in_one_thing_are_told_apart():
    offcuts = [offcut(0)]
    offcuts += [dataclasses.replace(offcut(0), **change) for change in DIFFERENT.values()]
    base, *others = expected_times(offcuts, shipped_draws(), strengths_of(offcuts))
    alike = [
        name for name, times in zip(DIFFERENT, others, strict=True) if np.array_equal(times, base)
    ]
    assert alike == []


def test_law_equal_offcuts_are_etched_once(monkeypatch):
    shapes, etch = [], module.etch

    def counted(start, *rest):
        shapes.append(start.HCl.shape)
        return etch(start, *rest)

    monkeypatch.setattr(module, "etch", counted)
    offcuts = [offcut(0, 215.0), offcut(1, 470.0), offcut(0, 222.0), offcut(0, 218.0, note="two")]
    times = expected_times(offcuts, shipped_draws(), strengths_of(offcuts))
    assert shapes == [(2, 400)] and times.shape == (4, 400)
    assert np.array_equal(times[0], times[3]) and not np.array_equal(times[0], times[1])


def test_law_one_name_stands_for_one_strength():
    stronger = dataclasses.replace(offcut(0), acid=Bottle("HCl", 0.2, 0.21))
    assert bottles_of([offcut(0), offcut(1)]) == {
        ("HCl", "acid"): Bottle("HCl", ACID.low, ACID.high),
        ("H2O2", "peroxide"): Bottle("H2O2", PEROXIDE.low, PEROXIDE.high),
    }
    with pytest.raises(ValueError, match=r"bottle 'acid' of HCl is impossible with two strengths"):
        bottles_of([offcut(0), stronger])


# ---- how likely it is


@pytest.mark.parametrize("spread", [0.05, 0.4])
def test_second_source_time_and_no_time_are_log_normal(spread):
    times = np.array([80.0, 200.0, 350.0])
    density = likelihood_of_time(210.0, True, times, spread)
    # the density of the logarithm of the time is the time times that of the time
    assert density == pytest.approx(210.0 * stats.lognorm.pdf(210.0, s=spread, scale=times))
    later = likelihood_of_time(210.0, False, times, spread)
    assert later == pytest.approx(stats.lognorm.sf(210.0, s=spread, scale=times))


def test_law_what_never_clears_was_not_clear_and_is_there_later():
    never = np.array([np.inf, 100.0])
    assert likelihood_of_time(100.0, True, never, 0.15)[0] == 0
    later = likelihood_of_time(14_000.0, False, never, 0.15)
    assert later == pytest.approx([1.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("time, chance", [(0.01, 1.0), (1.0, 1.0), (120.0, 0.75), (14_400.0, 0.5)])
def test_law_by_a_slip_the_chance_to_be_later_falls_to_a_half(time, chance):
    # 120 s is half way from 1 s to 4 h in powers; after 4 h only what never clears is left
    assert likelihood_of_slip(time, False) == pytest.approx(chance)


@pytest.mark.parametrize("clear", [True, False])
@pytest.mark.parametrize("spread", [0.02, 1.0])
@pytest.mark.parametrize("time", [0.01, 1.0, 200.0, 14_399.9, 14_400.0])
def test_law_no_row_is_impossible_for_every_draw(time, spread, clear):
    times = np.array([[50.0, 300.0, np.inf]])
    fit, slips = fit_of_draws([offcut(0, time, clear=clear)], times, spread)
    assert np.all(np.isfinite(fit)) and np.all((slips >= 0) & (slips <= 1))


def test_second_source_a_measurement_is_normal():
    strengths = {
        ("HCl", "acid"): np.array([0.09, 0.1]),
        ("H2O2", "peroxide"): np.array([0.11, 0.12]),
    }
    measured = {("H2O2", "peroxide"): Strength("H2O2", 0.106, 0.002, "oxygen over water")}
    fit = fit_of_measurements(measured, strengths, 2)
    exact = stats.norm.logpdf(strengths["H2O2", "peroxide"], 0.106, 0.002)
    assert fit - fit[0] == pytest.approx(exact - exact[0])
    assert fit_of_measurements({}, strengths, 2) == pytest.approx([0.0, 0.0])


# ---- from a board to its offcuts


@pytest.mark.parametrize("transfer", [0.15, 0.3])
def test_law_board_and_offcut_differ_by_the_transfer(transfer):
    # each as doubtful as the table says, and the ratio of their times by the stated deviation
    rates = np.exp(0.25 * stats.norm.ppf((np.arange(400) + 0.5) / 400))
    steps = steps_to_offcuts(transfer, rates)
    assert np.log(steps).std() == pytest.approx(transfer, rel=0.05)
    assert np.log(rates / steps).std() == pytest.approx(0.25, rel=0.05)
    assert np.all(steps_to_offcuts(0.0, rates) == 1)


def test_second_source_one_step_is_shared_by_all_rows():
    # of normal doubts: rows alike are one row whose variance is the step's and the mean's
    steps = steps_to_offcuts(0.3, np.ones(3))
    times = np.array([[150.0, 200.0, 260.0]] * 2)
    fit, _ = fit_of_draws([offcut(0, 200.0)] * 2, times, 0.2, steps)
    variance = np.log(steps[:, 0]).var() + 0.2**2 / 2
    exact = stats.norm.logpdf(np.log(200 / times[0]), scale=np.sqrt(variance))
    assert fit - fit[1] == pytest.approx(exact - exact[1], abs=0.08)


def test_law_the_likely_step_leads_from_the_draw_to_the_time_seen():
    steps = steps_to_offcuts(0.3, np.ones(400))
    times = np.full((1, 400), 200.0)
    chosen = likely_steps([offcut(0, 280.0)], times, 0.02, steps)
    assert chosen.mean() == pytest.approx(1.4, rel=0.05) and chosen.std() < 0.1
    free = likely_steps([], np.zeros((0, 400)), 0.15, steps)
    assert np.log(free).std() == pytest.approx(np.log(steps[:, 0]).std(), rel=0.02)
