"""What do I pour? A mixture, what it will do, a verdict on it, and what would help."""

from .inputs import Inputs, Kept
from .planning import Plan, plan, planned
from .search import SearchResult, mildest

__all__ = ["Inputs", "Kept", "Plan", "SearchResult", "mildest", "plan", "planned"]
