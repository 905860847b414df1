"""What is a page made of? Panels, quizzes, pictures, tables and claims; it knows no chemistry."""

from .claims import claim
from .picture import picture_of
from .table import Table, counting
from .widget.quiz import Check, Prediction

__all__ = ["Check", "Prediction", "Table", "claim", "counting", "picture_of"]
