"""What do I pour? A mixture, what it will do, a verdict on it, and what would help."""

from .inputs import Inputs, UsedBath
from .planning import Plan, plan, planned
from .search import SearchResult, mildest, search_words
from .words import text, widens

__all__ = [
    "Inputs",
    "Plan",
    "SearchResult",
    "UsedBath",
    "mildest",
    "plan",
    "planned",
    "search_words",
    "text",
    "widens",
]
