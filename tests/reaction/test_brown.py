"""The brown stage of a run: against its own course, a finer one, and the books. Laws."""

import numpy as np
import pytest

from pcbchem import Board, Foil, RateParameters, Solution, etch
from pcbchem.common.limits import collecting_warnings
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.brown import cuprous_held, stages

DRAWS = 40
BOARD = Board(area=27e-4, foil=Foil.ounces(1))
PLAUSIBLE = RateParameters.plausible(DRAWS).for_heat_after()


def run_of(per_area, **changes):
    """Return a run of weak bottles in equal parts, with so much bath to the copper [m]."""
    bath = Solution.of(volume=per_area * 27e-4, T=294.0, HCl=0.0512, H2O2=0.0147)
    with collecting_warnings():
        return etch(bath, BOARD, parameters=PLAUSIBLE, history=True, **changes)


@pytest.fixture(scope="module")
def scarce():
    return run_of(0.0133)


def test_law_each_bath_clears_first_turns_brown_and_clears_or_never_does(scarce):
    found = stages(scarce)
    times = np.asarray(scarce.time_to_clear)
    assert np.array_equal(np.asarray(found.clears), np.isfinite(times))
    # all three kinds are there, or nothing is told here
    assert len({(bool(b), bool(c)) for b, c in zip(found.brown, found.clears, strict=True)}) == 3
    spent_at, gone = np.asarray(found.spent_at), np.asarray(found.gone)
    assert np.all(spent_at[found.clears & found.brown] < times[found.clears & found.brown])
    assert np.all(gone[~found.brown] == pytest.approx(1.0, abs=1e-6))
    assert np.all((0 < gone[found.brown]) & (gone[found.brown] < 1))
    assert np.asarray(scarce.stopped_by)[~found.clears].tolist() == ["peroxide"] * int(
        np.sum(~found.clears)
    )


def test_law_then_the_peroxide_is_gone_and_before_it_was_not(scarce):
    """Read by `EtchRun.at`, which knows nothing of stages."""
    found = stages(scarce)
    start = np.asarray(scarce.at(0.0)["peroxide"])
    for draw in np.flatnonzero(found.brown):
        when = float(found.spent_at[draw])
        before, after = (
            float(scarce.at(moment)["peroxide"][draw]) for moment in (0.8 * when, 1.001 * when)
        )
        limit = 0.01 * start[draw] + 0.5
        assert after <= limit < before
        foil = float(scarce.at(when)["thickness"][draw]) / float(BOARD.foil.thickness)
        assert found.gone[draw] == pytest.approx(1 - foil, abs=1e-6)


def test_law_a_finer_course_says_the_same(scarce):
    coarse, fine = stages(scarce), stages(run_of(0.0133, tolerance=1e-5))
    assert np.mean(np.asarray(coarse.brown) == np.asarray(fine.brown)) > 0.97
    both = np.asarray(coarse.brown) & np.asarray(fine.brown)
    assert np.asarray(coarse.gone)[both] == pytest.approx(np.asarray(fine.gone)[both], abs=0.02)


def test_law_after_it_no_more_copper_goes_than_the_dissolved_and_the_chloride_allow(scarce):
    """Two Cu(I) for each copper: half of what chloride holds, and no more."""
    found = stages(scarce)
    brown = np.asarray(found.brown & ~found.clears)
    copper = float(BOARD.foil.amount) / 0.0133  # all the foil in the bath, mol/m³
    left = np.asarray(scarce.end["thickness"]) / float(BOARD.foil.thickness)
    went = (1 - left - np.asarray(found.gone)) * copper
    hot = Start(HCl=1500.0, H2O2=0.0, T=float(np.max(scarce.peak_temperature)), volume=36e-6)
    held = np.asarray(cuprous_held(hot, PLAUSIBLE))
    assert np.all(went[brown] > 0) and np.all(went[brown] <= held[brown] / 2 * 1.02)


def test_law_more_than_enough_never_turns_brown_and_no_peroxide_is_spent_at_once():
    roomy = stages(run_of(0.2))
    assert not np.any(roomy.brown) and np.all(np.asarray(roomy.clears))
    cupric = Solution.of(volume=150e-6, T=294.0, HCl=0.08, CuCl2=0.02)
    alone = stages(etch(cupric, BOARD, history=True))
    assert alone.spent_at == 0 and alone.gone == 0


def test_shape_is_that_of_the_run():
    bath = Solution.of(volume=np.array([[36e-6], [75e-6]]), T=294.0, HCl=0.0512, H2O2=0.0147)
    with collecting_warnings():
        found = stages(etch(bath, BOARD, parameters=PLAUSIBLE, history=True))
    assert np.shape(found.gone) == np.shape(found.brown) == np.shape(found.clears) == (2, DRAWS)


def test_bad_input_is_named():
    with pytest.raises(ValueError, match="history = False"):
        stages(etch(Solution.of(volume=150e-6, T=294.0, HCl=0.05, H2O2=0.06), BOARD))
    with pytest.raises(ValueError, match="bath"):
        cuprous_held("brown")


def test_as_printed_copper_one_in_a_mole_of_chloride():
    """K2 = 0.060, K3 = 1.95 L/mol at 25 °C: x + K2 x + 2 K2 K3 x² = 1 mol/L, solved by halving."""
    low, high = 0.0, 1.0
    for _ in range(60):
        free = (low + high) / 2
        low, high = (free, high) if free * 1.06 + 0.234 * free**2 < 1 else (low, free)
    expected = 1000 * 0.060 * free * (1 + 1.95 * free)
    acid = Start(HCl=1000.0, H2O2=0.0, T=298.15, volume=1e-4)
    assert cuprous_held(acid) == pytest.approx(expected, rel=1e-6)
    # 10 K more: exp(2000 K (1/298.15 - 1/308.15))
    warm = Start(HCl=1000.0, H2O2=0.0, T=308.15, volume=1e-4)
    assert cuprous_held(warm) / cuprous_held(acid) == pytest.approx(1.2434, rel=1e-3)


@pytest.mark.parametrize("chloride", [500.0, 1450.0, 3000.0, 5000.0])
def test_second_source_copper_one_by_the_constants_of_a_water_database(chloride):
    """WATEQ4F (U.S. Geological Survey; read in a copy, usgs-coupled/phreeqc3 on GitHub), 25 °C.

    log K of CuCl(s) = Cu+ + Cl- is -6.76, of Cu+ + 2 Cl- = CuCl2- 5.50, of Cu+ + 3 Cl- = CuCl3-2
    5.70; activities are taken for concentrations, so a quarter is what they may differ by.
    """
    two, three = 10 ** (5.50 - 6.76), 10 ** (5.70 - 6.76)
    # CuCl2- takes one chloride beside that of the solid, CuCl3-2 two
    free = max(np.roots([2 * three, 1 + two, -chloride / 1000]).real)
    expected = 1000 * (two * free + three * free**2)
    acid = Start(HCl=chloride, H2O2=0.0, T=298.15, volume=1e-4)
    assert cuprous_held(acid) == pytest.approx(expected, rel=0.25)
    drawn = np.asarray(cuprous_held(acid, PLAUSIBLE))
    assert drawn.min() < expected < drawn.max()


def test_law_the_film_holds_as_much():
    """Where Cu(I) is at its most the copper route stops: `flux` of a bath at rest is 0 there."""
    from pcbchem.reaction.bath import flux

    without_warmth = {"HCl": 1400.0, "H2O2": 0.0, "CuCl2": 100.0, "T": 298.15, "area": 27e-4}
    most = float(cuprous_held(Start(HCl=1400.0, H2O2=0.0, CuCl2=100.0, T=298.15, volume=1e-4)))
    assert flux(**without_warmth, CuCl=0.9 * most)["copper"] > 0
    assert flux(**without_warmth, CuCl=1.01 * most)["copper"] == pytest.approx(0, abs=1e-9)
