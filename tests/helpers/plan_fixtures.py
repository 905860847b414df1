"""Plans that tests share, each made once: two of the workshop, and random ones, refused or not.

What asks for random plans stands in files that `tests/conftest.py` keeps in one process.
"""

import numpy as np
import pytest

from helpers.plans import USED_BATH, mild_plan
from helpers.second_reading import some_inputs
from pcbchem.bench.plan.planning import planned

# Seeds of random plans, chosen among the first 700: so that every rule, cause, lever, place and
# kind of bath is there three times, or as often as among forty, and no time is lost on plans of the
# other verdict.
REFUSED_SEEDS = (
    *(0, 1, 3, 4, 5, 9, 14, 15, 19, 20, 22, 23, 24, 25, 33, 42, 61, 63, 79, 130, 132, 142, 258),
    *(322, 463, 471, 507),
)
MIXABLE_SEEDS = (7, 16, 17, 49, 55, 85, 125, 128, 152, 161, 188, 226, 254, 317, 515, 632)
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
    """Plan sixteen random baths that may be mixed, with care or without."""
    return [random_plan(seed) for seed in MIXABLE_SEEDS]
