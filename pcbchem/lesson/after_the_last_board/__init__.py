"""Page 10: what do I do with the rest?

`numbers` counts, `picture` draws peroxide over weeks, `copper_picture` copper over pH.
"""

from .numbers import rest
from .panel import copper_panel, peroxide_panel
from .predictions import clear_prediction, quiet_prediction
from .questions import rest_questions
from .texts import read_copper, say_now, to_do, where, why

__all__ = [
    "clear_prediction",
    "copper_panel",
    "peroxide_panel",
    "quiet_prediction",
    "read_copper",
    "rest",
    "rest_questions",
    "say_now",
    "to_do",
    "where",
    "why",
]
