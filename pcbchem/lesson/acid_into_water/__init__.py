"""Page 02: acid into water: why does it warm, how much, and why that order?"""

from .panel import peroxide_panel, water_panel
from .predictions import first_prediction, jug_prediction
from .questions import pouring_questions
from .texts import prove_it_wrong, say_now, why

__all__ = [
    "first_prediction",
    "jug_prediction",
    "peroxide_panel",
    "pouring_questions",
    "prove_it_wrong",
    "say_now",
    "water_panel",
    "why",
]
