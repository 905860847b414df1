"""A sweep: every panel of a page drawn at every corner of its controls, so that no error hides."""

from __future__ import annotations

from typing import Any

from . import panel as panels
from .panel import Panel

MANY = 50
"""A panel with so many settings is swept wide at each of them, and narrow at every fourth."""


def sweep() -> int:
    """Draw every panel of this kernel at every corner of its controls; the first error comes out.

    Returns
    -------
    int
        How many pictures were drawn [-].

    Raises
    ------
    AssertionError
        A panel drew nothing, or said nothing.
    """
    count = 0
    for panel in panels.PANELS.values():
        settings = sweep_settings(panel)
        for number, values in enumerate(settings):
            widths = [False]
            if len(settings) < MANY or number % 4 == 0:
                widths = [False, True]
            for narrow in widths:
                drawing, words = panel.picture_and_words(narrow, **values)
                if not (drawing.png() and words.readout and words.alt):
                    raise AssertionError(f"{panel.title}: nothing said at {values}")
                count += 1
    return count


def sweep_settings(panel: Panel) -> list[dict[str, Any]]:
    """Return every corner of a panel, predicted, and then its start with every prediction."""
    if panel.prediction is None:
        return [*panel.corners(), {}]
    # None waits, "-" looks without one; with an answer (any of them) most is drawn
    guesses = [None, "-", *panel.prediction.options]
    settings = [{**corner, "predicted": guesses[-1]} for corner in panel.corners()]
    return settings + [{"predicted": guess} for guess in guesses]
