"""The page's panels, made once."""

import pytest

from pcbchem.lesson.when_to_lift_it_out import (
    foil_panel,
    foil_prediction,
    inspection_panel,
    trace_panel,
    trace_prediction,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def trace():
    KEPT.clear()
    return trace_panel(trace_prediction())


@pytest.fixture(scope="session")
def foils():
    KEPT.clear()
    return foil_panel(foil_prediction())


@pytest.fixture(scope="session")
def inspected():
    return inspection_panel()
