"""Page 03: how much copper can a bath carry, and which of the two runs out first?

`numbers` counts, `picture` draws the tent and `heat` what less bath would come to.
"""

from .heat import heat_panel
from .numbers import tray_bath
from .panel import tray_panel, weaker_panel
from .predictions import boards_prediction, bottle_prediction
from .questions import copper_questions
from .texts import read_warmth, read_weaker, say_now, why

__all__ = [
    "boards_prediction",
    "bottle_prediction",
    "copper_questions",
    "heat_panel",
    "read_warmth",
    "read_weaker",
    "say_now",
    "tray_bath",
    "tray_panel",
    "weaker_panel",
    "why",
]
