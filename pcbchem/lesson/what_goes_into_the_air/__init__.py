"""Page 09: what goes into the air, and where may I do this?

`numbers` asks the bench for the air near a bath, an open bottle and a spill; `picture` draws a row
for each, and one for what nobody has measured.
"""

from .panel import acid_panel, air_panel
from .predictions import air_prediction, mild_prediction
from .questions import air_questions
from .texts import read_acids, say_now, why

__all__ = [
    "acid_panel",
    "air_panel",
    "air_prediction",
    "air_questions",
    "mild_prediction",
    "read_acids",
    "say_now",
    "why",
]
