"""What comes after a prediction: a text that waits for it, and the end of a page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import mistune
import traitlets as tr

from .base import WIDGETS
from .check import Check
from .prediction import Prediction
from .quiz import Quiz, folded

LATER = "This comes when you have predicted, above."
RECENT = 60.0
"""A page runs as a whole where its last two widgets are made within this time [s]: what a page
works out between them may take ten seconds and more."""
# the author's own text, which may have HTML in it: <sub> and the like
MARKDOWN = mistune.create_markdown(escape=False, plugins=["table"])


class Afterwards(Quiz):
    """A text that stands on the page once predictions are made, and a line in its place till then.

    Parameters
    ----------
    text : str
        What to say, in Markdown.
    *predictions : Prediction
        All of these must be made first.
    """

    # nothing of the text goes to the page before it may be read there
    html = tr.Unicode().tag(sync=True)
    waits = tr.Unicode(LATER).tag(sync=True)

    def __init__(self, text: str, *predictions: Prediction) -> None:
        self.text, self.predictions = text, predictions
        super().__init__(kind="afterwards")
        self._look()
        for prediction in predictions:
            prediction.observe(self._look, ["made"])

    def _look(self, change: Any = None) -> None:
        """Show the text if all predictions are made, else nothing of it."""
        self.html = ""
        if all(prediction.made for prediction in self.predictions):
            self.html = as_html(self.text)

    def receive(self, message: Mapping[str, Any]) -> None:
        """Do nothing: the page asks nothing of it."""

    def still(self) -> str:
        """Return the text, folded where it waits for a prediction."""
        if not self.predictions:
            return as_html(self.text)
        return folded(as_html(self.text))


class PageEnd(Quiz):
    """The last cell of a page: a link back up to its start, and a fresh start for new pupils.

    When the whole page has run, its script brings the reader back up by itself, once: `fresh` is
    then set false by the page. Whoever runs this cell alone stays where they are.

    Parameters
    ----------
    question_title : str
        What the link calls the question, or "".
    place : str
        Where the link leads: what a reader first does something with.
    """

    link_words = tr.Unicode().tag(sync=True)
    fresh = tr.Bool().tag(sync=True)
    forgets = tr.Bool().tag(sync=True)
    at = tr.Float().tag(sync=True)

    def __init__(self, question_title: str = "", place: str = "the question") -> None:
        words = f"Back up to {place}"
        if question_title:
            words = f"{words}: {question_title}"
        latest = max((widget.birth for widget in WIDGETS), default=0.0)
        super().__init__(kind="end", link_words=words)
        self.at = self.birth * 1000  # [ms], as the page counts
        self.fresh = self.birth - latest < RECENT
        # a page that asks nothing keeps no answers
        self.forgets = any(isinstance(widget, Prediction | Check) for widget in WIDGETS)

    def receive(self, message: Mapping[str, Any]) -> None:
        """Do nothing: the page asks nothing of it but to forget."""

    def still(self) -> str:
        """Return nothing: without a kernel there is nothing to forget, and no way was lost."""
        return ""


def as_html(text: str) -> str:
    """Return Markdown as HTML.

    Examples
    --------
    >>> print(as_html("Twice *as long*."), end="")
    <p>Twice <em>as long</em>.</p>
    """
    return str(MARKDOWN(text))
