"""Maps for the tests of the page: coarse ones, and one in full."""

import pytest

from pcbchem.lesson.what_if import maps, panel

BOTTLES = {
    "workshop": {},
    "maker": {"acid": 31.45, "peroxide": 3, "window_to": 25},
    "strong": {"acid": 31, "peroxide": 30},
}
"""Bottles of the tests, as values of the page's fields."""


@pytest.fixture(scope="session")
def values_of():
    """The page's values for some bottles, and others changed."""

    def values(name, **changed):
        return panel.starts() | BOTTLES[name] | changed

    return values


@pytest.fixture(scope="session")
def coarse(values_of):
    """Maps of ten steps and 40 plausible baths, by their bottles."""
    every = {}
    for name in BOTTLES:
        values = values_of(name)
        every[name] = maps.wanting(maps.made(maps.key_of(values), 40, 10), values)
    return every


@pytest.fixture(scope="session")
def whole(values_of):
    """The map of the maker's bottles in full."""
    return maps.full_map(values_of("maker"))


@pytest.fixture
def small(monkeypatch):
    """The page with small maps: ten steps, 8 and then 12 plausible baths."""
    monkeypatch.setattr(maps, "STEPS", 10)
    monkeypatch.setattr(maps, "QUICK", 8)
    monkeypatch.setattr(maps, "FULL", 12)
    maps.SHOWN.clear()
    yield
    maps.SHOWN.clear()
