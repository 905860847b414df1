"""Plans of every kind, and their pictures, made once for the tests of words, picture and jug."""

import pytest
from helpers.workshop import INPUTS, REFUSED, USED_BATH

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


CARDS = {
    "mild": {"place": "EU"},
    "with care": {
        "acid": (31.45, "%"),
        "peroxide": (30, 32.5, "%"),
        "parts": (6, 1, 1),
        "total_mL": 300,
        "place": "GB",
        "air_C": 28,
        "bottles_C": 27,
    },
    "in the US": {
        "acid": (31.45, "%"),
        "peroxide": (3, "%"),
        "parts": (0, 1, 2),
        "place": "US",
    },
    "used before": {"parts": (2, 1, 1), "used_bath": USED_BATH},
    "two portions": {"parts": (1, 1, 1), "second": (50, 1)},
    "cold start": {"bottles_C": 14, "air_C": 30},
    "upright": {"facing": "upright", "tray_mm": (80, 29)},
    "for a class": {"school": True},
    "a class, two portions": {"parts": (1, 1, 1), "second": (50, 1), "school": True},
}
NO_CARDS = {"harmful": REFUSED, "no use": {**INPUTS, "parts": (1, 1, 0)}}
NO_CARDS["too much"] = {**INPUTS, "board_mm": (300, 300), "total_mL": 3500}
"""Baths that nobody mixes: for harm, because nothing would happen, for their size."""


@pytest.fixture(scope="session")
def poured():
    """Plans that may be mixed, of every kind, by name: their cards hold the order of pouring."""
    return {name: planned(**INPUTS | changed, draws=20) for name, changed in CARDS.items()}


@pytest.fixture(scope="session")
def refusals():
    """Plans that nobody mixes, by name."""
    return {name: planned(**inputs, draws=20) for name, inputs in NO_CARDS.items()}
