"""Three baths of page 00, planned once; each page and its claims run once, for all tests here."""

from functools import cache
from pathlib import Path

import pytest
from helpers.page_run import NOTEBOOKS, run
from helpers.solved_before import solved_before as solved_before
from helpers.workshop import DOUBTFUL, INPUTS, REFUSED

from pcbchem.lesson.bath import planned
from pcbchem.page.claims import run_claims

CLAIMS = NOTEBOOKS / "claims"


@pytest.fixture(scope="session")
def mild():
    return planned(**INPUTS)


@pytest.fixture(scope="session")
def doubtful():
    return planned(**DOUBTFUL)


@pytest.fixture(scope="session")
def refused():
    return planned(**REFUSED)


@pytest.fixture(scope="session")
def ran_page():
    """A page by its file name: its cells with what each shows, its names, its panels.

    The code cells run once, one after the other, in this process: a warning is an error here. With
    `school` they run a second time, as a class sees them, where all that they have made still is.
    """

    @cache
    def ran(name, school=False):
        return run(name, dict(ran(name).names) if school else {}, school)

    return ran


@pytest.fixture(scope="session")
def claimed_by():
    """What a page claims, by its file name: its claims run once, and an error comes out."""
    return cache(lambda name: run_claims(CLAIMS / f"{Path(name).stem}.py"))
