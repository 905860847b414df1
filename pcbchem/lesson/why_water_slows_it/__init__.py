"""Page 04: why does water slow the etching?

Its `panel`, `words`, `picture` and `questions` are the four files that the next author copies, with
`predictions` and `texts`; `numbers` keeps what they share.
"""

from .panel import shaken_panel, water_panel
from .predictions import layers_prediction, shaken_prediction, still_prediction
from .questions import water_questions
from .taken_away import taken_away_panel
from .texts import read_it, read_shaken, say_now, sources, why

__all__ = [
    "layers_prediction",
    "read_it",
    "read_shaken",
    "say_now",
    "shaken_panel",
    "shaken_prediction",
    "sources",
    "still_prediction",
    "taken_away_panel",
    "water_panel",
    "water_questions",
    "why",
]
