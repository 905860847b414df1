"""What of several mixtures? All that two bottles give with water, on one map."""

from .triangle import Mixtures, mixtures
from .wanted import Wanted

__all__ = ["Mixtures", "Wanted", "mixtures"]
