"""Page 00: what will this bath do to my board?

Its `panel`, `words` and `picture` (on another page also `questions`) are the files that the next
author copies; `fields` is the table of the panel's form, to be copied where a page has a form.
"""

from .drawn_only import curve_only, share, share_words
from .fields import leanest, planned
from .panel import planner
from .picture import pictured

__all__ = ["curve_only", "leanest", "pictured", "planned", "planner", "share", "share_words"]
