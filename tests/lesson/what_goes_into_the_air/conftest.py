"""The page's panels, made once."""

import pytest

from pcbchem.lesson.what_goes_into_the_air import (
    acid_panel,
    air_panel,
    air_prediction,
    mild_prediction,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def things():
    KEPT.clear()
    return air_panel(air_prediction())


@pytest.fixture(scope="session")
def acids():
    KEPT.clear()
    return acid_panel(mild_prediction())
