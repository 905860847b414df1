"""The page's panels, made once."""

import pytest

from pcbchem.lesson.after_the_last_board import (
    clear_prediction,
    copper_panel,
    peroxide_panel,
    quiet_prediction,
)
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def peroxide():
    KEPT.clear()
    return peroxide_panel(quiet_prediction())


@pytest.fixture(scope="session")
def copper():
    KEPT.clear()
    return copper_panel(clear_prediction())


@pytest.fixture
def copper_panel_drawn(copper):
    """Draws the second panel, everything shown, and returns its band."""

    def drawn(**values):
        return copper.picture_and_words(False, predicted="-", **values)[0].parts["band"]

    return drawn
