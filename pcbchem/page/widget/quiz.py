"""What the small widgets of a page share: messages, what this kernel keeps, and how it forgets."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import traitlets as tr

from .base import WIDGETS, PageWidget, error_words

KEPT: dict[str, Any] = {}
"""What was answered under each key in this kernel: it outlives a cell that is run again."""
# not before other words: "3 minutes and 2 more" may end a line anywhere
BEFORE_UNIT = re.compile(r"(?<=[\d½]) (?=(?:min|s|h|m?L|g|k?J|K|mol|ppm|part|parts)\b|[%°])")
"""A space between a number and its unit."""


def tied(text: str) -> str:
    """Return the text with each number held to its unit, so that no line ends between them."""
    return BEFORE_UNIT.sub("\u00a0", text)


def keep(key: str, value: Any) -> None:
    """Keep an answer under a key in this kernel; a value that is empty forgets it."""
    if value:
        KEPT[key] = value
    else:
        KEPT.pop(key, None)
    tell_whether_kept()


def forget_all() -> None:
    """Make a fresh start for the next readers: each widget of this kernel forgets its answers."""
    KEPT.clear()
    # a list: what forgets may make others draw, and the set may change meanwhile
    for widget in list(WIDGETS):
        widget.forget()
    tell_whether_kept()


def tell_whether_kept() -> None:
    """Tell every quiz of this kernel whether there is anything to forget."""
    for widget in list(WIDGETS):
        if isinstance(widget, Quiz):
            widget.keeps = bool(KEPT)


class Quiz(PageWidget):
    """What both widgets share: messages of the page, none of them ever merged with another.

    `done` is the number of the message answered last.
    """

    scripts = ("shared.js", "prediction.js", "check.js", "afterwards.js", "quiz.js")
    styles = ("shared.css", "quiz.css")
    kind = tr.Unicode().tag(sync=True)
    done = tr.Unicode().tag(sync=True)
    # whether there is anything in this kernel that new pupils would want forgotten
    keeps = tr.Bool().tag(sync=True)

    def __init__(self, **traits: Any) -> None:
        super().__init__(**traits)
        self.keeps = bool(KEPT)
        self.on_msg(self._received)

    def receive(self, message: Mapping[str, Any]) -> None:
        """Do what a message of the page asks for; an error comes out."""
        raise NotImplementedError

    def _received(self, widget: Any, message: Mapping[str, Any], buffers: Any) -> None:
        """Answer the page; an error stays until who has `seen` it sends something that works."""
        with self.turn:
            # an error that came while this message was on its way has not been read yet
            words = self.error
            if message.get("seen", "") == words:
                words = ""
            try:
                if message.get("forget"):
                    forget_all()
                else:
                    self.receive(message)
            except Exception as error:
                self.failure = error
                words += error_words(error)
            if not words:
                self.failure = None
            # in one message: the page must not take an old error for the answer
            with self.hold_sync():
                self.error, self.done = words, message["number"]

    def still(self) -> str:
        """Return the widget for a page without a kernel, as HTML."""
        raise NotImplementedError

    def still_forms(self) -> dict[str, str]:
        """Return it by its media type."""
        return {"text/html": self.still()}


def folded(content: str) -> str:
    """Return HTML that opens when a reader without a kernel has made a prediction for themselves.

    Examples
    --------
    >>> print("Predict first" in folded("<p>Four times.</p>"))
    True
    """
    summary = "<summary>Predict first, then open</summary>"
    return f'<details class="pcbchem-predict-first">{summary}{content}</details>'
