"""The page's panels, made once, with their predictions."""

import pytest

from pcbchem.lesson.acid_into_water import (
    first_prediction,
    jug_prediction,
    peroxide_panel,
    water_panel,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def panel():
    KEPT.clear()
    return water_panel(jug_prediction())


@pytest.fixture(scope="session")
def shop():
    KEPT.clear()
    return peroxide_panel(first_prediction(), jug_prediction())
