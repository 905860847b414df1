"""What do I pour? A mixture, what it will do, a verdict on it, and what would help."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .inputs import Inputs, Kept
from .planning import Plan, plan, planned

if TYPE_CHECKING:
    from .search import SearchResult, mildest

__all__ = ["Inputs", "Kept", "Plan", "SearchResult", "mildest", "plan", "planned"]


def __getattr__(name: str) -> Any:
    # One plan needs no search: without it `import pcbchem` is quicker
    if name not in ("SearchResult", "mildest"):
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from . import search

    return getattr(search, name)
