"""What a panel does once when a button is pressed: its work, its progress, and rows kept beside."""

from __future__ import annotations

import contextlib
import dataclasses
import pathlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from .base import error_words
from .controls import Done, Progress, Upload
from .uploads import NotTaken, put_together, take_piece

Work = Callable[[Mapping[str, Any], Mapping[str, Any], Progress], Done]
"""Takes all values [units of the controls], what came with the press, and a way to tell how far it
is; an upload comes with `name` and `data` [bytes], or with `removed`: its file is to be forgotten.
"""
PRESSES = 50
"""So many presses are remembered [-]: a message that comes again does nothing again."""
CORRECT_FIRST = "First correct the field that is marked."
"""Said to a press beside a field that holds what cannot be."""


class Telling:
    """How far an answer is: told to whoever waits for it, and to nobody where there is no page."""

    def __init__(self) -> None:
        self.listener: Progress | None = None
        self.last_news = ("", -1)

    def tell(self, share: float, words: str) -> None:
        """Tell how much is done [-, 0 to 1], and in words what is being done."""
        # not each step of thousands: a per cent more, or other words
        news = words, int(100 * share)
        if self.listener is not None and news != self.last_news:
            self.last_news = news
            self.listener(share, words)

    @contextlib.contextmanager
    def to(self, listener: Progress) -> Iterator[None]:
        """Let somebody hear it while something is worked out."""
        before = self.listener
        self.listener, self.last_news = listener, ("", -1)
        try:
            yield
        finally:
            self.listener = before


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
    keep, heading : str
        What stands on the button that keeps a row, and over the rows.
    file : str
        Name of the file to download.
    redraws : bool
        Whether the panel's picture is of the rows, too: it is drawn again after each `show`, which
        is then called when there are none, too.
    """

    name: str
    show: Callable[[Sequence[Mapping[str, Any]], Mapping[str, Any]], tuple[str, str, Sequence[int]]]
    most: int = 6
    puts_back: bool = True
    keep: str = "Keep this one beside"
    heading: str = "Kept beside"
    file: str = "beside.csv"
    redraws: bool = False

    def for_script(self) -> dict[str, Any]:
        """Return what the page's script has to know, by name."""
        names = ("name", "most", "puts_back", "keep", "heading", "file", "redraws")
        return {name: getattr(self, name) for name in names}


# `panel` is a `Panel`, which imports this module: it cannot be imported here


def heard(panel: Any, content: Mapping[str, Any], buffers: Sequence[Any]) -> None:
    """Answer a message of a panel's page: a press, a piece of a file [bytes], or rows to show."""
    with panel.turn:
        if "upload" in content:
            most = max((tool.most_bytes for tool in uploads_of(panel)), default=0)
            take_piece(panel.pieces, content, buffers, most)
        elif "press" in content:
            press(panel, content)
        elif "beside" in content and panel.rows is not None:
            show_rows(panel, content)
        elif "fresh" in content:
            tell_files(panel)


def uploads_of(panel: Any) -> list[Upload]:
    """Return the buttons of a panel that take a file."""
    return [tool for tool in panel.tools.values() if isinstance(tool, Upload)]


def refusal_in_words(error: ValueError | OSError) -> str:
    """Say why a work did nothing: what was wrong, and of a file that nothing was written.

    Examples
    --------
    >>> print(refusal_in_words(OSError(28, "No space left on device", "/home/maker/log.csv")))
    No space left on device (log.csv): nothing was written.
    """
    if not isinstance(error, OSError):
        return str(error)
    words = error.strerror or str(error) or type(error).__name__
    if error.filename:
        # a path says nothing to a reader, and may hold a name
        words += f" ({pathlib.PurePath(str(error.filename)).name})"
    return f"{words}: nothing was written."


def press(panel: Any, content: Mapping[str, Any]) -> None:
    """Do the work of a button once, and send what it comes to; an error goes onto the page."""
    name, number = content["press"], content["number"]
    if number in panel.presses:  # a message that came twice
        return
    panel.presses.append(number)

    def tell(progress: float, words: str) -> None:
        panel.send({"work": name, "number": number, "progress": progress, "words": words})

    taken = None
    try:
        came_with = what_came(panel, content)
        done = panel.works[name](panel.usable_values(), came_with, tell)
        if done.values or done.redraws:
            with panel.telling.to(tell):
                panel.redraw(**done.values)
        taken = taken_file(panel, name, came_with)
    except NotTaken as refusal:
        done = Done(remark=str(refusal))
    except (ValueError, OSError) as refusal:
        done = Done(remark=panel.refusal_words(refusal))
    except Exception as error:
        panel.failure = error
        done = Done(remark=error_words(error))
    file, buffers = None, []
    if done.file:
        file = list(done.file)
        if isinstance(done.file[1], bytes):
            # no text: they go beside the words, and come out as they are
            file, buffers = [done.file[0], None], [done.file[1]]
    panel.send(
        {
            "work": name,
            "number": number,
            "remark": done.remark,
            "html": done.html,
            "offers": [[words, dict(values)] for words, values in done.offers],
            "page": done.page,
            "file": file,
            "taken": taken,
        },
        buffers,
    )


def what_came(panel: Any, content: Mapping[str, Any]) -> dict[str, Any]:
    """Return what came with a press: nothing, a file [bytes] with its name, or that it is removed.

    Raises
    ------
    NotTaken
        A file that is not taken, or a press beside a field that holds what cannot be.
    """
    tool = panel.tools[content["press"]]
    if content.get("removed"):
        return {"removed": True}
    pieces = panel.pieces.pop(content.get("upload_of"), None)
    if panel.beside_fields:
        raise NotTaken(CORRECT_FIRST)
    if not isinstance(tool, Upload):
        return {}
    name, data = put_together(pieces, tool, content.get("file_name", ""))
    return {"name": name, "data": data}


def taken_file(panel: Any, name: str, came_with: Mapping[str, Any]) -> list[Any] | None:
    """Return name and size [B] of a file that a work has taken; [] of one that is forgotten."""
    if "removed" in came_with:
        panel.uploaded.pop(name, None)
        return []
    if "data" not in came_with:
        return None
    taken = [came_with["name"], len(came_with["data"])]
    panel.uploaded[name] = taken
    return taken


def tell_files(panel: Any) -> None:
    """Tell a page that was loaded again which files Python still holds: none of them is lost."""
    for name, taken in panel.uploaded.items():
        panel.send({"work": name, "number": "", "taken": taken})


def show_rows(panel: Any, content: Mapping[str, Any]) -> None:
    """Send table and picture of the rows that a page keeps, and draw the panel with them."""
    assert panel.rows is not None
    number, html, csv = content["number"], "", ""
    lost: Sequence[int] = ()
    if content["beside"] or panel.rows.redraws:
        try:
            html, csv, lost = panel.rows.show(content["beside"], panel.usable_values())
        except Exception as error:
            panel.failure = error
            html = error_words(error)
    if panel.rows.redraws:
        try:
            panel.redraw()
        except Exception as error:
            panel.show_failure(error)
    panel.send({"beside": True, "number": number, "html": html, "csv": csv, "lost": list(lost)})
