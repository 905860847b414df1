"""The page's panels and questions, made once."""

import pytest

from pcbchem.lesson.warm_baths import depth_panel, jar_prediction, weak_panel, weak_prediction
from pcbchem.page.widget.quiz import KEPT


@pytest.fixture(scope="session")
def deep():
    KEPT.clear()
    return depth_panel(jar_prediction())


@pytest.fixture(scope="session")
def weak():
    KEPT.clear()
    return weak_panel(weak_prediction())
