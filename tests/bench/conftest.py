"""Two hundred refused plans and some that are not, computed once for all tests of the room."""

import numpy as np
import pytest

from pcbchem.bench.outlook import outlook
from pcbchem.bench.plan import planned
from pcbchem.matter.arrays import hushed

from .reading import levels, some_inputs

REFUSED, WHATEVER = 200, 60


@pytest.fixture(scope="session")
def found():
    """Random plans until 200 of them are refused: (those refused, those and whatever came among the first 60)."""
    random = np.random.default_rng(7)
    every, refused, tried = [], [], 0
    while len(refused) < REFUSED:
        given = some_inputs(random, 20 if tried < WHATEVER else 8)
        tried += 1
        with hushed():
            likely = levels(outlook(given), 0.0) == 2  # a plan costs ten times as much
        if likely or tried <= WHATEVER:
            every.append(planned(given))
            refused += every[-1:] if every[-1].refused else []
    return refused, every
