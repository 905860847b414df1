"""Page 06: why does shop peroxide take so long, or never finish?

`numbers` etches 200 plausible baths at every place of the slider, `picture` draws their courses and
a square for each.
"""

from .numbers import asked_bath
from .panel import strong_panel, weak_panel
from .predictions import enough_prediction, strong_prediction
from .questions import weak_questions
from .texts import read_strong, say_now, why

__all__ = [
    "asked_bath",
    "enough_prediction",
    "read_strong",
    "say_now",
    "strong_panel",
    "strong_prediction",
    "weak_panel",
    "weak_questions",
    "why",
]
