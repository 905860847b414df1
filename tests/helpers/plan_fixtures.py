"""Plans that tests share, each made once: two of the workshop, and random ones, refused or not.

What asks for random plans stands in files that `tests/conftest.py` keeps in one process.
"""

import numpy as np
import pytest

from helpers.plans import USED_BATH, mild_plan
from helpers.second_reading import some_inputs
from pcbchem.bench.plan.planning import planned

# Seeds of random plans, chosen among the first 500: so that every rule, cause, lever, place and
# kind of bath is there three times, or as often as among forty, and no time is lost on plans of the
# other verdict.
REFUSED_SEEDS = (
    *(0, 3, 4, 5, 7, 9, 10, 12, 33, 42, 71, 76, 78, 91, 110, 123, 153, 217, 261, 289, 299, 386),
    *(419, 450, 454, 487, 490),
)
MIXABLE_SEEDS = (*(2, 6, 8, 37, 72, 159, 175, 284, 296, 315, 356, 359, 395, 427, 444, 447),)
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
    """Plan sixteen random baths that may be mixed, with cares or without."""
    return [random_plan(seed) for seed in MIXABLE_SEEDS]
