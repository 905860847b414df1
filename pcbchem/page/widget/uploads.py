"""A file on its way from the page: put together only if it came whole, and only if it is taken."""

from __future__ import annotations

import dataclasses
import re
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any

from .controls import Upload

MOST_UPLOADS = 3
"""So many files that came in pieces are held at most [-]: a page that was left half way is
forgotten."""


class NotTaken(ValueError):
    """A file that no work is given: its words say to the reader why."""


@dataclasses.dataclass
class Pieces:
    """What has come of one file.

    Parameters
    ----------
    count : int
        Of how many pieces it is [-].
    parts : dict of bytes
        Those that are there, by their place from 0.
    is_spoiled : bool
        Two of them contradict each other, or there is more than any file may be.
    """

    count: int
    parts: dict[int, bytes] = dataclasses.field(default_factory=dict)
    is_spoiled: bool = False

    def take(self, content: Mapping[str, Any], part: bytes, most_bytes: int) -> None:
        """Keep a piece [bytes], also if it comes twice or before its neighbours."""
        place = content["piece"]
        is_other = self.parts.get(place, part) != part
        is_outside = not 0 <= place < self.count or content["count"] != self.count
        self.parts[place] = part
        is_too_much = sum(map(len, self.parts.values())) > most_bytes
        if is_other or is_outside or is_too_much:
            self.is_spoiled = True
            self.parts.clear()

    def is_whole(self) -> bool:
        """Tell whether every piece is there."""
        return not self.is_spoiled and len(self.parts) == self.count


def take_piece(
    uploads: dict[str, Pieces],
    content: Mapping[str, Any],
    buffers: Sequence[Any],
    most_bytes: int,
) -> None:
    """Keep a piece of a file [bytes] until its button is pressed.

    Parameters
    ----------
    uploads : dict of Pieces
        Those that are on their way, in the order of their first piece: the last few are kept.
    content : dict
        What the page says of the piece: `upload`, `piece` and `count`.
    buffers : sequence of bytes
        The piece.
    most_bytes : int
        So much is the largest file that any button takes [B].
    """
    pieces = uploads.setdefault(content["upload"], Pieces(content["count"]))
    while len(uploads) > MOST_UPLOADS:
        uploads.pop(next(iter(uploads)))
    pieces.take(content, b"".join(bytes(buffer) for buffer in buffers), most_bytes)


def put_together(pieces: Pieces | None, upload: Upload, name: str) -> tuple[str, bytes]:
    """Return a file's name and its bytes.

    Parameters
    ----------
    pieces : Pieces or None
        What came of it; None: nothing.
    upload : Upload
        The button that takes it: its kinds, and its largest size [B].
    name : str
        As the page tells it.

    Returns
    -------
    tuple of str and bytes
        The name without folders.

    Raises
    ------
    NotTaken
        Of another kind, too large, or not whole.
    """
    # a page may be older than its Python, or hold another script: nothing it says is taken for true
    plain = plain_name(name)
    if not plain.lower().endswith(upload.kinds):
        raise NotTaken(f"{plain or 'A file without a name'} is none of these: {kinds_of(upload)}.")
    if pieces is None or not pieces.is_whole():
        raise NotTaken(f"{plain} did not arrive whole: choose it again.")
    data = b"".join(pieces.parts[place] for place in range(pieces.count))
    if len(data) > upload.most_bytes:
        raise NotTaken(f"{plain} is too large: at most {upload.most_bytes / 1e6:g} MB.")
    return plain, data


def kinds_of(upload: Upload) -> str:
    """Return the endings that are taken, in words."""
    return ", ".join(upload.kinds)


def plain_name(name: str) -> str:
    """Return the last part of a file's name, without letters that cannot be seen.

    Examples
    --------
    >>> print(plain_name("../x.png"), plain_name(r"C:\\\\maker\\\\y.png"))
    x.png y.png
    """
    last = re.split(r"[/\\:]", name)[-1]
    return "".join(letter for letter in last if not unicodedata.category(letter).startswith("C"))
