"""The bench's own numbers for the mild bath in each tray, and the page's panels, made once."""

import pytest
from helpers.water_baths import PARTS, own

from pcbchem.bench.plan.dilution import dilution
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.why_water_slows_it import (
    shaken_panel,
    shaken_prediction,
    still_prediction,
    taken_away_panel,
    water_panel,
)
from pcbchem.lesson.why_water_slows_it.numbers import SHAKEN, STILL
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def bench():
    """What water does to the mild bath in each tray, worked out apart from the page."""
    with collecting_warnings():
        return {
            movement: dilution(own("mild", agitation=movement), PARTS)
            for movement in (STILL, SHAKEN)
        }


@pytest.fixture(scope="session")
def panel():
    KEPT.clear()
    return water_panel(still_prediction())


@pytest.fixture(scope="session")
def shaken():
    KEPT.clear()
    return shaken_panel(shaken_prediction())


@pytest.fixture(scope="session")
def rows_panel():
    return taken_away_panel()
