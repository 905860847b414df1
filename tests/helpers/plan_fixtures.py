"""Plans that tests share, each made once: two of the workshop, and random ones, refused or not.

What asks for random plans stands in files that `tests/conftest.py` keeps in one process.
"""

import numpy as np
import pytest

from helpers.plans import USED_BATH, mild_plan
from helpers.second_reading import some_inputs
from pcbchem.bench.plan.planning import planned

# Seeds of random plans, chosen among the first 600: so that every rule, cause, lever, place and
# kind of bath is there three times, and no time is lost on plans of the other verdict.
REFUSED_SEEDS = (
    *(
        3,
        9,
        10,
        14,
        19,
        22,
        33,
        38,
        42,
        44,
        46,
        50,
        51,
        52,
    ),
    *(
        61,
        79,
        88,
        152,
        159,
        204,
        352,
        390,
        436,
        463,
        471,
        483,
        524,
    ),
)
MIXABLE_SEEDS = (
    *(
        7,
        16,
        17,
        48,
        49,
        64,
        112,
        125,
        182,
        226,
        250,
        253,
        254,
        285,
    ),
    *(
        317,
        359,
        480,
        515,
        540,
    ),
)
DRAWS = 8


def random_plan(seed):
    """Plan one of the random inputs that people might try."""
    return planned(some_inputs(np.random.default_rng(seed), DRAWS))


@pytest.fixture(scope="session")
def whole():
    """Plan everything at once: a used bath, water, and peroxide in two portions."""
    return mild_plan(used_bath=USED_BATH, second=(0.3, 100.0))


@pytest.fixture(scope="session")
def mild():
    """Plan the workshop's mild bath."""
    return mild_plan()


@pytest.fixture(scope="session")
def refused_plans():
    """Plan random baths that nobody may mix."""
    return [random_plan(seed) for seed in REFUSED_SEEDS]


@pytest.fixture(scope="session")
def mixable_plans():
    """Plan random baths that may be mixed, with care or without."""
    return [random_plan(seed) for seed in MIXABLE_SEEDS]
