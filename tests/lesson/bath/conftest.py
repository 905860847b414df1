"""Plans of every kind, and their pictures, made once for the tests of words, picture and jug."""

import pytest
from helpers.workshop import INPUTS, USED_BATH

from pcbchem.lesson.bath import plan_picture as picture
from pcbchem.lesson.bath import planned

OTHERS = {
    "two portions": {"second": (50, 1), "draws": 60},
    "used before": {"used_bath": USED_BATH, "draws": 60},
    "all five": {"parts": (2, 1, 1), "used_bath": USED_BATH, "second": (50, 1), "draws": 60},
    "too late": {"second": (50, 3), "draws": 60},
    "weak": {"peroxide": (3, "%"), "parts": (0, 1, 2), "draws": 60},
    "no peroxide": {"parts": (1, 1, 0), "draws": 60},
    "little": {"total_mL": 12, "draws": 60},
    "thin": {"parts": (50, 1, 1), "draws": 60},
    "thick": {"foil_oz": 16, "draws": 60},
}
EVERY = ("mild", "doubtful", "refused", *OTHERS)


@pytest.fixture(scope="session")
def plans(mild, doubtful, refused):
    """Plans by name: `EVERY` one of them."""
    others = {name: planned(**INPUTS | changed) for name, changed in OTHERS.items()}
    return {"mild": mild, "doubtful": doubtful, "refused": refused} | others


@pytest.fixture(scope="session")
def pictures(plans):
    """The picture of each plan, by name and whether it is narrow; nobody may draw into them."""
    return {
        (name, narrow): picture.show(picture.build(narrow), plan, "Bath")
        for name, plan in plans.items()
        for narrow in (False, True)
    }


@pytest.fixture(params=[False, True], ids=["wide", "narrow"])
def narrow(request):
    return request.param
