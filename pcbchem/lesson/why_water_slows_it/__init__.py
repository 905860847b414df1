"""Page 04: why does water slow the etching?

Its `panel`, `words`, `picture` and `questions` are the four files that the next author copies;
`numbers` keeps what they share, and each other module is one more part of the page.
"""

from .evidence import left_out, offcut_words
from .numbers import QUESTION, cost, course, gas_shares, two_sizes, without
from .one_effect_away import factors, taken_away_panel
from .panel import GUESSES, GUESSES_AGAIN, roomy_panel, water_panel
from .questions import water_questions

__all__ = [
    "GUESSES",
    "GUESSES_AGAIN",
    "QUESTION",
    "cost",
    "course",
    "factors",
    "gas_shares",
    "left_out",
    "offcut_words",
    "roomy_panel",
    "taken_away_panel",
    "two_sizes",
    "water_panel",
    "water_questions",
    "without",
]
