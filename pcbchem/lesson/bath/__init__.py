"""What do the pages about a bath share: how they ask for one, draw it, and say it?"""

from .fields import leanest, planned
from .plan_picture import picture

__all__ = ["leanest", "picture", "planned"]
