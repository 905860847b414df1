"""Page 05: when does the heat that a bath makes outrun the heat that it loses?

`numbers` follows a used bath through its hour after, `picture` draws it.
"""

from .numbers import used_bath
from .panel import depth_panel, weak_panel
from .predictions import jar_prediction, weak_prediction
from .questions import warm_questions
from .texts import read_it, read_weak, say_now

__all__ = [
    "depth_panel",
    "jar_prediction",
    "read_it",
    "read_weak",
    "say_now",
    "used_bath",
    "warm_questions",
    "weak_panel",
    "weak_prediction",
]
