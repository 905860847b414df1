"""The bench's own pairs of baths, put together apart from the page."""

import pytest
from helpers.tray_baths import PAIRS, undiluted

from pcbchem.bench.plan.dilution import dilution, times_without
from pcbchem.common.limits import collecting_warnings


@pytest.fixture(scope="session")
def bench():
    """Each pair: without water and with two parts of it, over the same plausible baths."""
    with collecting_warnings():
        return {name: dilution(undiluted(name), (0.0, 2.0)) for name in PAIRS}


@pytest.fixture(scope="session")
def bench_without():
    """Times without one effect after the other, by bath."""
    with collecting_warnings():
        return {name: times_without(undiluted(name)) for name in ("still", "strong")}
