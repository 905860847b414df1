"""How strong is the bottle? What its label says, and five ways to measure it."""

from .bottle import FADED, LABEL_DOUBT, Bottle
from .oxygen import by_oxygen, oxygen_to_expect
from .readings import aged, combined
from .strength import APART, Strength
from .titration import by_carbonate, by_lye, by_permanganate
from .weighing import by_weighing

__all__ = [
    "APART",
    "FADED",
    "LABEL_DOUBT",
    "Bottle",
    "Strength",
    "aged",
    "by_carbonate",
    "by_lye",
    "by_oxygen",
    "by_permanganate",
    "by_weighing",
    "combined",
    "oxygen_to_expect",
]
