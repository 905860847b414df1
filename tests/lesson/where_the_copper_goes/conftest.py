"""The page's panels and questions, made once."""

import pytest

from pcbchem.lesson.where_the_copper_goes import (
    boards_prediction,
    bottle_prediction,
    heat_panel,
    tray_panel,
    weaker_panel,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def tray():
    KEPT.clear()
    return tray_panel(boards_prediction())


@pytest.fixture(scope="session")
def weaker():
    KEPT.clear()
    return weaker_panel(bottle_prediction())


@pytest.fixture(scope="session")
def heat():
    return heat_panel()
