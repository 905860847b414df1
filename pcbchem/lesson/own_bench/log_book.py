"""The log of offcuts as a page keeps it: in a file of the reader's folder, or in memory.

A file is read anew whenever the page looks, for a spreadsheet, another tab or another program may
have changed it meanwhile. It is only ever added to. What cannot be is said in words, and what was
read last is kept until something else is opened.
"""

from __future__ import annotations

import contextlib
import hashlib
import pathlib
import re
from collections.abc import Iterator

from ...bench.offcut import Log, Offcut, append_offcuts, read_log, with_offcuts
from ...bench.offcut.log_file import MOST_BYTES, read_bytes
from ...bench.offcut.log_row import cells_of
from ...common.limits import InputError, naming

FIRST_NAME = "my_offcuts.csv"
"""What the log is called where nobody says."""
MOST_LETTERS = 60
"""Longest name of a file [letters]."""
# letters that some system forbids in a name, another folder, hidden files, names of devices
NO_NAME = re.compile(
    r"""[\\/:*?"<>|\x00-\x1f\x7f\u2028\u2029\ud800-\udfff]|^\.|^\s|\s$"""
    r"|^(con|prn|aux|nul|com\d|lpt\d)\.",
    re.IGNORECASE,
)
NAME_RULE = (
    f"a plain name that ends in .csv, at most {MOST_LETTERS} letters, without a folder and without "
    r'\ / : * ? " < > |'
)
IN_A_SPREADSHEET = "Is it open in a spreadsheet? Close it there"
"""What most often keeps a file from being read or written."""
NOT_SAVED = "Not saved here: take it with you."
"""Stands beside a log that lies in no folder of its reader."""


class LogBook:
    """One log, open or not: its name, what it held when it was last looked at, and its rows.

    Parameters
    ----------
    folder : Path or None
        Where files are opened and started; None: in memory alone.
    """

    def __init__(self, folder: pathlib.Path | None) -> None:
        self.folder = folder
        self.name = ""
        self.data = b""
        self.log = Log.of([])
        self.digest = ""
        self.was_hot = False
        """Whether an offcut had to be lifted out: none more is offered then."""
        self.added = ""
        """What was said of the row that was added last."""

    @property
    def is_open(self) -> bool:
        """Whether there is a log."""
        return bool(self.name)

    def open_or_start(self, name: str) -> str:
        """Open the log of that name in the folder, or start one where there is none.

        Parameters
        ----------
        name : str
            A plain name, see `NAME_RULE`.

        Returns
        -------
        str
            What was done, in words.

        Raises
        ------
        ValueError
            No such name, a file that is no log, or one that cannot be read or written: in words.
            What was open before stays open.
        """
        check_name(name)
        if self.folder is None:
            self._take(name, with_offcuts(b""))
            return f"{name} is started. {NOT_SAVED}"
        file = self.folder / name
        # an empty file is a log that was not begun
        is_new = not file.exists() or (file.is_file() and file.stat().st_size == 0)
        if is_new:
            with in_words(name):
                append_offcuts(file)
        self._take(name, self._read(name))
        if is_new:
            return f"{name} is started, in the folder of this page."
        return f"{name} is open: {counted(self.log)}."

    def take_in(self, name: str, data: bytes) -> str:
        """Open a log that came from the reader's computer: nothing is written anywhere.

        Parameters
        ----------
        name : str
            What the file is called.
        data : bytes
            All that it holds.

        Returns
        -------
        str
            What was opened, in words.

        Raises
        ------
        ValueError
            A file that is no log: in words. What was open before stays open.
        """
        check_name(name)
        self._take(name, data)
        return f"{name} is open: {counted(self.log)}. {NOT_SAVED}"

    def look(self) -> None:
        """Read the file again, if there is one: somebody else may have changed it.

        Raises
        ------
        ValueError
            It is gone, cannot be read, or is no log any more: in words. What was read last stays.
        """
        if not self.is_open or self.folder is None:
            return
        data = self._read(self.name)
        if data != self.data:
            self._take(self.name, data)

    def add(self, offcut: Offcut) -> str:
        """Add one row to the end, once.

        Parameters
        ----------
        offcut : Offcut
            Etched, with its time.

        Returns
        -------
        str
            Which line it has become.

        Raises
        ------
        ValueError
            No log is open, its file is gone or cannot be written, or the row is there already: in
            words, and nothing is written.
        """
        if not self.is_open:
            first = "Open it, or start it"
            raise ValueError(f"There is no log yet. Press “{first}” first: nothing was added.")
        if self.folder is None:
            with naming(self.name):
                data = with_offcuts(self.data, offcut)
            self._take(self.name, data)
        else:
            # a log that was taken away is not started anew behind its reader's back
            self.look()
            with in_words(self.name):
                append_offcuts(self.folder / self.name, offcut)
            self.look()
        self.added = f"Added: line {self._line_of(offcut)} of {self.name}."
        if self.folder is None:
            self.added += f" {NOT_SAVED}"
        return self.added

    def _line_of(self, offcut: Offcut) -> int:
        """Return the line of a row: another tab may have added one after it."""
        row = cells_of(offcut)
        rows = zip(self.log.lines, self.log.offcuts, strict=True)
        return max((line for line, each in rows if cells_of(each) == row), default=0)

    def _read(self, name: str) -> bytes:
        """Return all that the file holds, or say in words why it cannot be read."""
        assert self.folder is not None
        file = self.folder / name
        try:
            data = read_bytes(file)
        except ValueError as error:
            if not file.exists():
                raise ValueError(
                    f"{name} is gone from the folder of this page. What was read last is still "
                    "here: take it with you, or put the file back. Nothing is added meanwhile."
                ) from None
            if not file.is_file():
                raise ValueError(f"{name} {error}: rename it, or choose another name.") from None
            raise ValueError(f"{name} {error}. {IN_A_SPREADSHEET}, then try again.") from None
        if len(data) > MOST_BYTES:
            raise ValueError(f"{name} is larger than {MOST_BYTES / 1e6:g} MB: that is no log.")
        return data

    def _take(self, name: str, data: bytes) -> None:
        """Make a file's bytes the open log; where they are none, nothing changes."""
        log = read_log(data, name=name)
        self.name, self.data, self.log = name, data, log
        self.digest = hashlib.sha256(data).hexdigest()


@contextlib.contextmanager
def in_words(name: str) -> Iterator[None]:
    """Turn what a system says of a file into words of the page: nothing was written.

    Raises
    ------
    ValueError
        In place of an OSError: the file, what is wrong, and what to do.
    """
    try:
        yield
    except OSError as error:
        reason = error.strerror or str(error)
        if isinstance(error, PermissionError):
            reason = f"{reason}. {IN_A_SPREADSHEET}, then press again"
        raise ValueError(f"{name} could not be written: {reason}. Nothing was added.") from None


def check_name(name: str) -> None:
    """Refuse what is no plain name of a CSV file.

    Raises
    ------
    InputError
        With the rule.

    Examples
    --------
    >>> check_name("my_offcuts.csv")
    """
    is_plain = isinstance(name, str) and not NO_NAME.search(name)
    if is_plain and name.lower().endswith(".csv") and 4 < len(name) <= MOST_LETTERS:
        return
    raise InputError(
        "file here", f"it must be {NAME_RULE}", value=name, about=f" = {str(name)[:80]!r}"
    )


def counted(log: Log) -> str:
    """Say how many rows a log has, and how many of them are bad.

    Examples
    --------
    >>> print(counted(Log.of([])))
    no offcut yet
    """
    count, bad = len(log.offcuts), len(log.bad)
    words = {0: "no offcut yet", 1: "1 offcut"}.get(count, f"{count} offcuts")
    if not bad:
        return words
    if bad == 1:
        return f"{words}, and 1 row that does not count"
    return f"{words}, and {bad} rows that do not count"
