"""Page 04: why does water slow the etching?"""

from .evidence import left_out, offcut_words
from .numbers import course
from .one_effect_away import taken_away_panel
from .panel import GUESSES, GUESSES_AGAIN, roomy_panel, water_panel
from .questions import water_questions

__all__ = [
    "GUESSES",
    "GUESSES_AGAIN",
    "course",
    "left_out",
    "offcut_words",
    "roomy_panel",
    "taken_away_panel",
    "water_panel",
    "water_questions",
]
