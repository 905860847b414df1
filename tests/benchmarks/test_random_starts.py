"""Forty lots of 40 000 random permitted starts, each run to its end: `pytest tests/benchmarks`."""

import warnings
from time import perf_counter

import numpy as np
import pytest
from helpers.random_starts import random_lot

from pcbchem import RangeWarning, RateParameters, etch

LOTS = 20
STARTS = 100


@pytest.mark.parametrize("without", [(), ("gas stirring",)], ids=["all effects", "no stirring gas"])
def test_law_forty_thousand_random_starts_never_break(say, without):
    """Twenty lots of 100 starts by 400 plausible draws, over all movements and facings."""
    parameters = RateParameters.plausible(400)
    begun = perf_counter()
    baths = 0
    for number in range(LOTS):
        start, board, tray = random_lot(number, STARTS)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", RangeWarning)  # far outside: that is the point
            run = etch(start, board, tray, parameters, without)
        for value in (run.peak_temperature, run.oxygen_amount, run.reserve, *run.end.values()):
            assert np.isfinite(value).all(), number
        assert not np.isnan(run.time_to_clear).any(), number
        baths += np.size(run.time_to_clear)
    seconds = perf_counter() - begun
    say(f"{LOTS} lots, {baths} baths in {seconds:.0f} s without a NaN")
    assert baths == LOTS * 40_000
