"""What is a page made of? Panels, quizzes, pictures, tables and claims; it knows no chemistry."""

from ..common.extras import extra

# this face runs before any module of the page: here alone it is said what they need
with extra("pages"):
    from .claims import claim
    from .picture import picture_of
    from .table import Table, counting
    from .widget.afterwards import Afterwards, PageEnd
    from .widget.check import Check
    from .widget.prediction import Option, Prediction

__all__ = [
    "Afterwards",
    "Check",
    "Option",
    "PageEnd",
    "Prediction",
    "Table",
    "claim",
    "counting",
    "picture_of",
]
