"""How strong is the bottle? What its label says, and five ways to measure it."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

from .bottle import FADED, LABEL_DOUBT, Bottle

if TYPE_CHECKING:
    from .oxygen import by_oxygen, oxygen_to_expect
    from .readings import aged, combined
    from .strength import APART, Strength
    from .titration import by_carbonate, by_lye, by_permanganate
    from .weighing import by_weighing

__all__ = [
    "APART",
    "FADED",
    "LABEL_DOUBT",
    "Bottle",
    "Strength",
    "aged",
    "by_carbonate",
    "by_lye",
    "by_oxygen",
    "by_permanganate",
    "by_weighing",
    "combined",
    "oxygen_to_expect",
]

MEASURING = {
    "APART": "strength",
    "Strength": "strength",
    "aged": "readings",
    "by_carbonate": "titration",
    "by_lye": "titration",
    "by_oxygen": "oxygen",
    "by_permanganate": "titration",
    "by_weighing": "weighing",
    "combined": "readings",
    "oxygen_to_expect": "oxygen",
}
"""Where the names are that this face imports only when somebody asks for them."""


def __getattr__(name: str) -> Any:
    # A plan needs a label and no measuring: without it `import pcbchem` is quicker
    if name not in MEASURING:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(importlib.import_module(f"{__name__}.{MEASURING[name]}"), name)
