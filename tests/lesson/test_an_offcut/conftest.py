"""The page's panels, made once."""

import pytest

from pcbchem.lesson.test_an_offcut import (
    funnel_panel,
    times_panel,
    times_prediction,
    width_prediction,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def funnel():
    KEPT.clear()
    return funnel_panel(width_prediction())


@pytest.fixture(scope="session")
def timed():
    KEPT.clear()
    return times_panel(times_prediction())
