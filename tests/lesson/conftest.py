"""The three baths of the plain page, planned once for all tests of the room."""

import pytest
from workshop import DOUBTFUL, INPUTS, REFUSED

from pcbchem.lesson.fields import planned


@pytest.fixture(scope="session")
def mild():
    return planned(**INPUTS)


@pytest.fixture(scope="session")
def doubtful():
    return planned(**DOUBTFUL)


@pytest.fixture(scope="session")
def refused():
    return planned(**REFUSED)
