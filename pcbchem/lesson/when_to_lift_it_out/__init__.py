"""Page 07: what does a minute too long cost, and what does the perfect moment cost?

`numbers` counts, `picture` draws the cut and the line, `inspection` makes up a board with faults.
"""

from .panel import foil_panel, trace_panel
from .predictions import foil_prediction, trace_prediction
from .questions import trace_questions
from .texts import read_foils, read_inspection, say_now, why
from .two_views import inspection_panel

__all__ = [
    "foil_panel",
    "foil_prediction",
    "inspection_panel",
    "read_foils",
    "read_inspection",
    "say_now",
    "trace_panel",
    "trace_prediction",
    "trace_questions",
    "why",
]
