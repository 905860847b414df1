"""Page 08: how do I make the prediction mine, and how far may I then trust it?

`numbers` makes up benches, `benches` counts two hundred of them, `picture` draws the funnel.
"""

from .panel import funnel_panel, times_panel
from .predictions import times_prediction, width_prediction
from .questions import offcut_questions
from .texts import read_times, say_now, why

__all__ = [
    "funnel_panel",
    "offcut_questions",
    "read_times",
    "say_now",
    "times_panel",
    "times_prediction",
    "why",
    "width_prediction",
]
