"""The two baths of the plain page, computed once for all tests of the room."""

import pytest
from workshop import INPUTS, WEAK

from pcbchem.lesson.trial import trial


@pytest.fixture(scope="session")
def mild():
    return trial(**INPUTS)


@pytest.fixture(scope="session")
def weak():
    return trial(**WEAK)
