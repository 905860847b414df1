"""What if: what do all mixtures of my two bottles do?"""

from .panel import what_if

__all__ = ["what_if"]
