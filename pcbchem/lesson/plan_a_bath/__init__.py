"""Page 00: what will this bath do to my board?"""

from .drawn_only import curve_only, share, share_words
from .fields import mildest, planned
from .panel import planner
from .picture import pictured

__all__ = ["curve_only", "mildest", "pictured", "planned", "planner", "share", "share_words"]
