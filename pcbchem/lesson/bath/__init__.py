"""What do the pages about a bath share: how they ask for one, draw it, say it, and print it?"""

from .bench_card import card
from .fields import leanest, planned
from .plan_picture import pictured

__all__ = ["card", "leanest", "pictured", "planned"]
