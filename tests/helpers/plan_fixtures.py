"""Plans that tests share, each made once: two of the workshop, and random ones, two hundred refused.

What asks for random plans stands in files that `tests/conftest.py` keeps in one process.
"""

import numpy as np
import pytest

from helpers.plans import KEPT, made_of
from helpers.second_reading import some_inputs
from pcbchem.bench.plan.planning import planned

REFUSED, FEW = 200, 60


@pytest.fixture(scope="session")
def whole():
    """Everything at once: a bath kept, water, and peroxide in two portions."""
    return made_of(kept=KEPT, second=(0.3, 100.0))


@pytest.fixture(scope="session")
def mild():
    return made_of()


@pytest.fixture(scope="session")
def few():
    """Sixty random plans, refused or not, as they come."""
    random = np.random.default_rng(7)
    return [planned(some_inputs(random, 20)) for _ in range(FEW)]


@pytest.fixture(scope="session")
def found(few):
    """Random plans until 200 of them are refused: (those refused, all). It takes half a minute: ask for `few` first."""
    random = np.random.default_rng(8)
    every = list(few)
    while sum(made.refused for made in every) < REFUSED:
        every.append(planned(some_inputs(random, 8)))
    return [made for made in every if made.refused], every
