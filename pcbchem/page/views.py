"""Several drawings of one panel, of which its choice shows one."""

from __future__ import annotations

from typing import Any

from .picture import Drawing


class Views(Drawing):
    """Drawings by name, each with its own parts; `shown` is the one whose picture is made.

    Parameters
    ----------
    drawings : dict of Drawing
        All of one size, so that nothing under the picture jumps; the first is shown at first.
    """

    def __init__(self, **drawings: Drawing) -> None:
        self.drawings = drawings
        self.show(next(iter(drawings)))

    def show(self, name: str) -> Drawing:
        """Show the drawing of this name from now on, and return it."""
        self.shown = name
        drawing = self.drawings[name]
        # whoever asks this for its figure means the one that is seen
        self.figure, self.moving, self.parts = drawing.figure, drawing.moving, drawing.parts
        return drawing

    def pixels(self, dpr: float = 1.0) -> Any:
        """Return the picture of the drawing shown as pixels, so many to one of the page [-]."""
        return self.drawings[self.shown].pixels(dpr)
