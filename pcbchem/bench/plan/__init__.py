"""What do I pour? A mixture, what it will do, a verdict on it, and what would help."""

from .inputs import Inputs, UsedBath
from .planning import Plan, plan, planned
from .search import leanest
from .search_result import NearMiss, SearchResult, search_words
from .words import text, widens

__all__ = [
    "Inputs",
    "NearMiss",
    "Plan",
    "SearchResult",
    "UsedBath",
    "leanest",
    "plan",
    "planned",
    "search_words",
    "text",
    "widens",
]
