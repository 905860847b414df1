"""The page's panels, made once."""

import pytest

from pcbchem.lesson.weak_peroxide import (
    enough_prediction,
    strong_panel,
    strong_prediction,
    weak_panel,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def weak():
    KEPT.clear()
    return weak_panel(enough_prediction())


@pytest.fixture(scope="session")
def strong():
    KEPT.clear()
    return strong_panel(strong_prediction())
