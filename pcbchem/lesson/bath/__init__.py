"""What do the pages about a bath share: how they draw it, say it, print it and keep it beside?"""

from ..form import leanest, planned
from .bench_card import card
from .kept_rows import picture_beside
from .plan_picture import picture

__all__ = ["card", "leanest", "picture", "picture_beside", "planned"]
