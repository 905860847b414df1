"""How does a page ask for a bath: which fields, what do they understand, what comes of them?"""

from .fields import leanest, planned

__all__ = ["leanest", "planned"]
