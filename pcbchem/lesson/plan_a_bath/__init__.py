"""Page 00: what will this bath do to my board?

What it shares with other pages about a bath (form, picture and words of a plan) stands in
`lesson/bath`.
"""

from ..bath import leanest, picture, planned
from .drawn_only import curve_only, undiluted
from .examples import example
from .panel import planner

__all__ = ["curve_only", "example", "leanest", "picture", "planned", "planner", "undiluted"]
