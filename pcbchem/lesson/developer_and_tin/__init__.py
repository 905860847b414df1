"""Page 11: developer and tin: what are the baths before and after, and what spoils them?"""

from .panel import lye_panel, tin_panel
from .predictions import lye_prediction, tin_prediction
from .questions import bath_questions
from .texts import read_tin, say_now, why

__all__ = [
    "bath_questions",
    "lye_panel",
    "lye_prediction",
    "read_tin",
    "say_now",
    "tin_panel",
    "tin_prediction",
    "why",
]
