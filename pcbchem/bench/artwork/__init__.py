"""How much copper is bare? Read from the picture of an artwork."""

from .artwork import Artwork, Narrow, read_artwork

__all__ = ["Artwork", "Narrow", "read_artwork"]
