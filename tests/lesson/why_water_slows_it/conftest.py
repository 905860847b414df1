"""The bench's own numbers for the three pairs of bottles, and the page's panels, made once."""

import pytest
from helpers.water_baths import PARTS, STRENGTHS, own

from pcbchem.bench.plan.dilution import dilution
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.why_water_slows_it import (
    GUESSES,
    GUESSES_AGAIN,
    roomy_panel,
    water_panel,
)
from pcbchem.page import Prediction
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def bench():
    """What water does to each pair of bottles, worked out apart from the page."""
    with collecting_warnings():
        return {bottles: dilution(own(bottles), PARTS) for bottles in STRENGTHS}


@pytest.fixture(scope="session")
def panel():
    KEPT.clear()
    return water_panel(Prediction("water", "How many times longer?", GUESSES))


@pytest.fixture(scope="session")
def roomy():
    KEPT.clear()
    return roomy_panel(Prediction("roomy", "And now?", GUESSES_AGAIN))
