"""What is lye good for before and after the etch, and what spoils it? No minutes: a strip tells."""

from .ageing import (
    VESSELS,
    air_for,
    carbon_dioxide_taken,
    lye_after,
    lye_left,
    vinegar_counts,
)
from .lye import (
    HANDLING,
    MOST_STRENGTH,
    heat_of_solution,
    lye_mass,
    lye_strength,
    pH_of_lye,
    warming,
)
from .practice import FILMS, NO_MINUTES, Practice, in_practice, practice

__all__ = [
    "FILMS",
    "HANDLING",
    "MOST_STRENGTH",
    "NO_MINUTES",
    "VESSELS",
    "Practice",
    "air_for",
    "carbon_dioxide_taken",
    "heat_of_solution",
    "in_practice",
    "lye_after",
    "lye_left",
    "lye_mass",
    "lye_strength",
    "pH_of_lye",
    "practice",
    "vinegar_counts",
    "warming",
]
