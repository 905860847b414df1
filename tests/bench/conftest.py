"""Random plans, computed once: a few for every test of the room, and two hundred refused for what is refused."""

import numpy as np
import pytest

from pcbchem.bench.plan import planned

from .reading import some_inputs

REFUSED, FEW = 200, 60


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
