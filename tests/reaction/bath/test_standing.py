"""A bath left standing for longer: as one long stand, and stopped where nothing more can come.

Laws.
"""

import numpy as np
import pytest

from pcbchem import RateParameters, Tray, stand
from pcbchem.common.arrays import as_draws
from pcbchem.common.limits import collecting_warnings
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.bath.standing import go_on, may_get_warmer, rest_of, row_of, stacked

DRAWS = 60
PARAMETERS = RateParameters.plausible(DRAWS)
TRAYS = {"usual": Tray(), "jar": Tray(open_area=20e-4, perimeter=0.18, T_air=299.15)}
HOUR, DAY = 3600.0, 86400.0


def bath(peroxide, T=298.15):
    """Return 150 mL of a used bath, every draw alike but for a copper(I) that some hold."""
    cuprous = as_draws(np.where(np.arange(DRAWS) % 3, 0.0, 40.0 if peroxide == 0 else 0.0))
    return Start(HCl=1500.0, H2O2=peroxide, T=T, volume=150e-6, CuCl2=90.0, CuCl=cuprous)


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
@pytest.mark.parametrize("peroxide", [0.0, 400.0, 1700.0])
def test_an_hour_and_the_rest_of_a_day_are_a_day(peroxide, tray):
    """By one stand of a whole day: only the solver's own error is between them."""
    start = bath(peroxide)
    with collecting_warnings():
        first = stand(start, tray, HOUR, PARAMETERS)
        both = go_on(start, first, tray, DAY - HOUR, PARAMETERS, np.ones(DRAWS, bool))
        whole = stand(start, tray, DAY, PARAMETERS)
    assert both.draws == DRAWS
    for name, error in (("peak_temperature", 0.5), ("temperature", 0.5), ("peroxide", 10.0)):
        expected = pytest.approx(np.asarray(getattr(whole, name)), abs=error)
        assert np.asarray(getattr(both, name)) == expected, name
    assert np.asarray(both.oxygen) == pytest.approx(np.asarray(whole.oxygen), rel=0.02, abs=2e-5)


def test_only_those_that_are_wanted_go_on():
    start, tray = bath(1700.0), TRAYS["usual"]
    goes_on = np.arange(DRAWS) % 2 == 0
    with collecting_warnings():
        first = stand(start, tray, HOUR, PARAMETERS)
        some = go_on(start, first, tray, DAY - HOUR, PARAMETERS, goes_on)
        every = go_on(start, first, tray, DAY - HOUR, PARAMETERS, np.ones(DRAWS, bool))
        none = go_on(start, first, tray, DAY - HOUR, PARAMETERS, np.zeros(DRAWS, bool))
    for name in ("peak_temperature", "temperature", "peroxide", "oxygen"):
        values, expected = (np.asarray(getattr(each, name)) for each in (some, every))
        assert values[goes_on] == pytest.approx(expected[goes_on], rel=1e-9), name
    assert np.isnan(np.asarray(some.peroxide)[~goes_on]).all()
    hour_peak = np.asarray(first.peak_temperature)
    assert np.array_equal(np.asarray(some.peak_temperature)[~goes_on], hour_peak[~goes_on])
    assert np.array_equal(none.peak_temperature, hour_peak) and np.isnan(none.oxygen).all()


@pytest.mark.parametrize("tray", TRAYS.values(), ids=TRAYS)
@pytest.mark.parametrize(("peroxide", "T"), [(400.0, 298.15), (1700.0, 283.15), (3000.0, 298.15)])
def test_what_may_not_get_warmer_does_not(peroxide, T, tray):
    """Over a whole day, than its own peak of the first hour, and than a limit above it."""
    start = bath(peroxide, T)
    with collecting_warnings():
        first = stand(start, tray, HOUR, PARAMETERS)
        day = stand(start, tray, DAY, PARAMETERS)
    peak, true_peak = np.asarray(first.peak_temperature), np.asarray(day.peak_temperature)
    stops = []
    for limit in (peak, np.maximum(peak, 318.15)):
        may = may_get_warmer(rest_of(start, first), tray, PARAMETERS, limit)
        assert np.all(true_peak[~may] <= limit[~may] + 0.1), "the solver's own error"
        stops.append(not may.all())
    assert any(stops)


def test_a_bath_without_peroxide_gets_no_warmer_than_the_air():
    start = bath(0.0, 313.15)
    may = may_get_warmer(start, Tray(T_air=293.15), PARAMETERS, np.full(DRAWS, 313.15))
    assert not may.any()
    cold = bath(0.0, 283.15)
    assert may_get_warmer(cold, Tray(T_air=299.15), PARAMETERS, np.full(DRAWS, 283.15)).all()


def test_two_sets_of_parameters_are_each_as_alone():
    """Side by side on a first axis, also where the baths are of several variants."""
    heat, tray = PARAMETERS.for_heat_after(), Tray()
    volumes = np.array([[100e-6], [200e-6]])
    for volume, axes in ((150e-6, 1), (volumes, 2)):
        start = Start(HCl=1500.0, H2O2=1700.0, T=298.15, volume=volume, CuCl2=90.0)
        together = stand(start, tray, HOUR, stacked(heat, PARAMETERS, axes))
        for row, parameters in enumerate((heat, PARAMETERS)):
            alone, one = stand(start, tray, HOUR, parameters), row_of(together, row)
            assert one.draws == DRAWS
            for name in ("peak_temperature", "peroxide", "oxygen"):
                ours, theirs = (np.asarray(getattr(each, name)) for each in (one, alone))
                assert ours == pytest.approx(theirs, rel=1e-9), name
