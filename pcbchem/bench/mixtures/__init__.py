"""What of several mixtures? All that two bottles give on one map, and plans beside each other."""

from .comparison import Comparison, compare, row
from .triangle import Mixtures, mixtures
from .wanted import Wanted

__all__ = ["Comparison", "Mixtures", "Wanted", "compare", "mixtures", "row"]
