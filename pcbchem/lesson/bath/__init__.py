"""What do the pages about a bath share: how they ask for one, draw it, and say it?"""

from .fields import leanest, planned
from .plan_picture import pictured

__all__ = ["leanest", "pictured", "planned"]
