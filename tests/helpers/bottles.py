"""Bottles as they are measured in the tests: what a balance shows, and readings of each method."""

from pcbchem.bench.bottle import by_carbonate, by_lye, by_oxygen, by_permanganate, by_weighing
from pcbchem.matter.properties import density

T20 = 293.15
FLASK = 1e-4
"""A good flask of 100 mL [m³]."""
ATMOSPHERE = 101325.0
AIR, WEIGHTS = 1.2, 8000.0
"""Air bears 1.2 g of each litre; a balance is set with steel [kg/m³]."""


def on_balance(substance, mass_fraction, T=T20, volume=FLASK):
    """What a balance set with steel shows [kg] for a volume of a liquid."""
    liquid = density(T, **{substance: mass_fraction})
    return volume * (liquid - AIR) / (1 - AIR / WEIGHTS)


def weighed(substance, mass_fraction, **changes):
    """A strength by weighing 100 mL of this liquid at 20 °C."""
    mass = on_balance(substance, mass_fraction)
    return by_weighing(substance, mass=mass, volume=FLASK, T=T20, **changes)


def by_soda_with(**changes):
    """A titration with washing soda, with some readings changed."""
    return by_carbonate(**{"mass": 0.2e-3, "volume": 4e-6, **changes})


def by_lye_with(**changes):
    """A titration with lye, with some readings changed."""
    return by_lye(**{"concentration": 1000.0, "titrant": 9e-6, "sample": 1e-5, **changes})


def by_permanganate_with(**changes):
    """A titration with permanganate, with some readings changed."""
    return by_permanganate(**{"concentration": 20.0, "titrant": 17e-6, "sample": 1e-6, **changes})


def by_oxygen_with(**changes):
    """Shop peroxide by its oxygen, with some readings changed."""
    return by_oxygen(**{"gas": 8e-6, "sample": 1e-6, "label": 0.03, "p": ATMOSPHERE, **changes})
