"""What a panel does once when a button is pressed: its work, its progress, and rows kept beside."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from .base import error_words
from .controls import Done, Progress

Work = Callable[[Mapping[str, Any], Mapping[str, Any], Progress], Done]
"""Takes all values [units of the controls], what came with the press, and a way to tell how far it
is; an upload comes with `name` and `data` [bytes]."""
MOST_UPLOADS = 3
"""So many files that came in pieces are held at most [-]: a page that was left half way is
forgotten."""


@dataclasses.dataclass(frozen=True)
class Beside:
    """Rows that a reader keeps beside each other.

    Parameters
    ----------
    name : str
        Under which the browser keeps them: pages that share it share their rows.
    show : callable
        Takes rows, as `PanelWords.row` had them, and the panel's values; returns HTML, CSV, and the
        places of rows that cannot be read any more [-, from 0].
    most : int
        How many there may be [-].
    puts_back : bool
        Whether a row is one of this panel's values, and may be put into its fields.
    """

    name: str
    show: Callable[[Sequence[Mapping[str, Any]], Mapping[str, Any]], tuple[str, str, Sequence[int]]]
    most: int = 6
    puts_back: bool = True

    def for_script(self) -> dict[str, Any]:
        """Return what the page's script has to know, by name."""
        return {"name": self.name, "most": self.most, "puts_back": self.puts_back}


# `panel` is a `Panel`, which imports this module: it cannot be imported here


def heard(panel: Any, content: Mapping[str, Any], buffers: Sequence[Any]) -> None:
    """Answer a message of a panel's page: a press, a piece of a file [bytes], or rows to show."""
    with panel.turn:
        if "upload" in content:
            take_piece(panel, content, buffers)
        elif "press" in content:
            press(panel, content)
        elif "beside" in content and panel.rows is not None:
            show_rows(panel, content)


def take_piece(panel: Any, content: Mapping[str, Any], buffers: Sequence[Any]) -> None:
    """Keep a piece of a file [bytes] until its button is pressed."""
    # the last few only, in the order of coming
    pieces = panel.pieces.setdefault(content["upload"], [])
    while len(panel.pieces) > MOST_UPLOADS:
        panel.pieces.pop(next(iter(panel.pieces)))
    if content["piece"] == len(pieces):  # one that is sent again is not taken twice
        pieces.append(bytes(buffers[0]))


def press(panel: Any, content: Mapping[str, Any]) -> None:
    """Do the work of a button once, and send what it comes to; an error goes onto the page."""
    name, number = content["press"], content["number"]
    if number == panel.last_press:  # a message that came twice
        return
    panel.last_press = number

    def tell(progress: float, words: str) -> None:
        panel.send({"work": name, "number": number, "progress": progress, "words": words})

    came_with: dict[str, Any] = {}
    if content.get("upload_of"):
        came_with["data"] = b"".join(panel.pieces.pop(content["upload_of"], []))
        came_with["name"] = content["file_name"]
    try:
        done = panel.works[name](dict(panel.values), came_with, tell)
        if done.values:
            panel.redraw(**done.values)
    except ValueError as refusal:
        done = Done(remark=panel.refusal_words(refusal))
    except Exception as error:
        panel.failure = error
        done = Done(remark=error_words(error))
    panel.send(
        {
            "work": name,
            "number": number,
            "remark": done.remark,
            "html": done.html,
            "offers": [[words, dict(values)] for words, values in done.offers],
            "page": done.page,
            "file": list(done.file) if done.file else None,
        }
    )


def show_rows(panel: Any, content: Mapping[str, Any]) -> None:
    """Send table and picture of the rows that a page keeps."""
    assert panel.rows is not None
    number, html, csv = content["number"], "", ""
    lost: Sequence[int] = ()
    if content["beside"]:
        try:
            html, csv, lost = panel.rows.show(content["beside"], panel.values)
        except Exception as error:
            panel.failure = error
            html = error_words(error)
    panel.send({"beside": True, "number": number, "html": html, "csv": csv, "lost": list(lost)})
