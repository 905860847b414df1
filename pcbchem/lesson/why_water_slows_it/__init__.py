"""Page 04: why does water slow the etching?

Its `panel`, `words`, `picture` and `questions` are the four files that the next author copies;
`numbers` keeps what they share, and each other module is one more part of the page.
"""

from .numbers import QUESTION, cost, course, gas_shares, two_sizes, without
from .panel import GUESSES, GUESSES_AGAIN, roomy_panel, water_panel
from .questions import water_questions

__all__ = [
    "GUESSES",
    "GUESSES_AGAIN",
    "QUESTION",
    "cost",
    "course",
    "gas_shares",
    "roomy_panel",
    "two_sizes",
    "water_panel",
    "water_questions",
    "without",
]
