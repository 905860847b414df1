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
    *(3, 9, 10, 14, 33, 43, 50, 61, 79, 88, 110, 130, 152, 159),
    *(182, 184, 187, 188, 205, 269, 352, 435, 436, 471, 483, 506, 512),
)
MIXABLE_SEEDS = (
    *(7, 16, 17, 49, 64, 112, 125, 150, 161, 176, 195),
    *(230, 250, 253, 254, 276, 359, 515, 540, 591),
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
