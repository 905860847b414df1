"""What is a page made of? Panels, quizzes, pictures, tables and claims; it knows no chemistry."""

from .claims import claim
from .picture import picture
from .table import Sheet, counting
from .widget.quiz import Check, Prediction

__all__ = ["Check", "Prediction", "Sheet", "claim", "counting", "picture"]
