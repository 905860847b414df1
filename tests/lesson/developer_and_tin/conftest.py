"""The page's panels, made once."""

import pytest

from pcbchem.lesson.developer_and_tin import lye_panel, lye_prediction, tin_panel, tin_prediction
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def lye():
    KEPT.clear()
    return lye_panel(lye_prediction())


@pytest.fixture(scope="session")
def tin():
    KEPT.clear()
    return tin_panel(tin_prediction())
