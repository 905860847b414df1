"""A log of offcuts in a text file: read row by row, added to at its end, never written anew."""

from __future__ import annotations

import dataclasses
import os
import pathlib
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from ...common.limits import InputError, naming
from ..bottle.bottle import Bottle
from .log_file import (
    MOST_BYTES,
    add_bytes,
    is_still_there,
    lock,
    open_to_append,
    read_bytes,
    read_handle,
)
from .log_layout import COLUMNS, HEADER, Layout, RawLog, parse_log
from .log_row import cells_of, offcut_of
from .offcut import LONGEST_TEXT, Offcut


class FirstUse(NamedTuple):
    """The row that first names a bottle: its line, how it writes the name, and what it says."""

    line: int
    name: str
    bottle: Bottle


FirstUses = dict[tuple[str, str], FirstUse]
"""By "acid" or "peroxide" and the bottle's name without capitals."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class Log:
    """Offcuts that were etched on a bench. A log says what was done, not that it was wise.

    Parameters
    ----------
    offcuts : tuple of Offcut
        The good rows.
    lines : tuple of int
        The line of the file on which each begins.
    bad : tuple of tuple
        Line and reason of every row that cannot be read; it does not count.

    Raises
    ------
    ValueError
        Not as many lines as offcuts.
    """

    offcuts: tuple[Offcut, ...]
    lines: tuple[int, ...]
    bad: tuple[tuple[int, str], ...]

    def __post_init__(self) -> None:
        if len(self.offcuts) != len(self.lines):
            raise InputError(
                "lines",
                f"it must be {len(self.offcuts)} numbers, one an offcut",
                value=self.lines,
                about=f" = {self.lines!r:.80}",
            )

    def __str__(self) -> str:
        good = f"{len(self.offcuts)} offcuts"
        if len(self.offcuts) == 1:
            good = "1 offcut"
        if not self.bad:
            return f"{good}, no bad rows"
        bad = f"{len(self.bad)} rows are bad and do not count"
        if len(self.bad) == 1:
            bad = "1 row is bad and does not count"
        reasons = [f"line {line}: {reason}" for line, reason in self.bad]
        return "\n".join([f"{good}; {bad}:", *reasons])

    def __repr__(self) -> str:
        return f"Log(good rows: {len(self.offcuts)}, bad rows: {len(self.bad)})"

    @classmethod
    def of(cls, offcuts: Iterable[Offcut]) -> Log:
        """Make a log from memory, with the lines that its rows would have in a new file.

        Unlike a file it may hold the same row twice, or a text like a formula: nothing is written
        from it.

        Parameters
        ----------
        offcuts : iterable of Offcut
            Etched, each with its time.

        Returns
        -------
        Log
            Without bad rows.

        Raises
        ------
        ValueError
            Something else, an offcut without a time, one name for two bottles, or two that differ
            in capitals only.

        Examples
        --------
        >>> print(len(Log.of([]).offcuts))
        0
        """
        offcuts = tuple(offcuts)
        first_uses: FirstUses = {}
        lines = []
        line = 2  # below the header
        for offcut in offcuts:
            row = Layout().text(cells_of(offcut))
            _check_bottles(offcut, line, first_uses)
            lines.append(line)
            line += row.count("\n")  # a note may have several lines
        return cls(offcuts, tuple(lines), ())


def read_log(path: str | os.PathLike[str] | bytes, *, name: str | None = None) -> Log:
    """Read a log, also as a spreadsheet saves it.

    Cells may be separated by commas, semicolons or tabs, decimals by a point or a comma; the
    encoding may be UTF-8 or UTF-16.

    Parameters
    ----------
    path : str, Path or bytes
        The file, which is only read, or all that it holds.
    name : str, optional
        What bytes are called in errors: needed with them, and only with them.

    Returns
    -------
    Log
        Its good rows, and each bad one by its line and the reason.

    Raises
    ------
    ValueError
        No file, not a log, too large, or a column missing or unknown: the file's name, then the
        reason. Bytes without a name, or a name without them.

    Examples
    --------
    >>> import tempfile
    >>> from pcbchem import Board, Tray
    >>> offcut = Offcut(
    ...     acid=Bottle("HCl", 0.09, 0.11),
    ...     peroxide=Bottle("H2O2", 0.09, 0.12),
    ...     parts=(1, 1, 1),
    ...     volume=50e-6,
    ...     board=Board(area=5e-4),
    ...     tray=Tray(),
    ...     T_bottles=293.15,
    ...     time=240,
    ...     note="lamp on",
    ... )
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     append_offcuts(f"{folder}/offcuts.csv", offcut)
    ...     print(f"{read_log(f'{folder}/offcuts.csv').offcuts[0].time:.0f} s")
    240 s
    """
    if isinstance(path, bytes) != (name is not None):
        raise InputError("name", "give it with bytes, and only with them", about=f" = {name!r:.80}")
    if isinstance(path, bytes):
        with naming(str(name)):
            return _check_rows(parse_log(path))
    file = _path_of(path)
    with naming(file.name or str(file)):
        return _check_rows(parse_log(read_bytes(file)))


def append_offcuts(path: str | os.PathLike[str], *offcuts: Offcut) -> None:
    """Add rows to the end of a log, all or none, in its own way of writing.

    What is in it stays byte for byte. Programs that add rows at the same time wait for one another;
    on some systems the empty hidden file by which they do stays beside the log.

    Parameters
    ----------
    path : str or Path
        The log; a new one is made where there is none.
    *offcuts : Offcut
        Etched, each with its time; none at all makes an empty log, to be typed into.

    Raises
    ------
    ValueError
        The file is no log, or an offcut has no time, names a bottle that has other limits or
        capitals in the log, is there already, or has a text that a spreadsheet would take for a
        formula: nothing is written.
    OSError
        The system will not write or lock, or another program keeps the log locked: nothing is
        written.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     append_offcuts(f"{folder}/offcuts.csv")
    ...     print(read_log(f"{folder}/offcuts.csv"))
    0 offcuts, no bad rows
    """
    file = _path_of(path)
    rows = _rows_of(offcuts)
    # Under the lock the log is read, checked and added to: no other row can come in between
    with naming(file.name or str(file)), lock(file):
        # An editor knows no lock, and one that saves puts a new file in the place of the log. Rows
        # that went into the old one meanwhile are lost with it: they are added to the new one too
        safe = False
        while not safe:
            with open_to_append(file) as handle:
                data = _bytes_to_add(read_handle(handle), rows, offcuts)
                if data:
                    add_bytes(handle, data)
                safe = is_still_there(handle, file)


def with_offcuts(data: bytes, *offcuts: Offcut) -> bytes:
    """Return what a log holds with rows added to its end, as `append_offcuts` adds them to a file.

    Parameters
    ----------
    data : bytes
        All that the log holds; nothing yet begins a new one.
    *offcuts : Offcut
        Etched, each with its time.

    Returns
    -------
    bytes
        The same bytes, and the new rows after them.

    Raises
    ------
    ValueError
        As for `append_offcuts`.

    Examples
    --------
    >>> print(read_log(with_offcuts(b""), name="new.csv"))
    0 offcuts, no bad rows
    """
    return data + _bytes_to_add(data, _rows_of(offcuts), offcuts)


def _rows_of(offcuts: Sequence[Offcut]) -> list[dict[str, str]]:
    """Return the rows of offcuts, or refuse what they say together."""
    rows = [cells_of(offcut) for offcut in offcuts]
    first_uses: FirstUses = {}
    for number, (cells, offcut) in enumerate(zip(rows, offcuts, strict=True), 1):
        _check_bottles(offcut, number, first_uses)
        _check_texts(cells)
        if cells in rows[: number - 1]:
            raise ValueError("offcut is given twice: if it is another test, say so in its note")
    return rows


def _bytes_to_add(data: bytes, rows: Sequence[dict[str, str]], offcuts: Sequence[Offcut]) -> bytes:
    """Return what rows look like at the end of a file, or refuse them."""
    # So begins a new log too (nothing yet), and one whose maker was stopped in the first line
    if HEADER.encode().startswith(data):
        layout = Layout()
        text = HEADER[len(data) :]
    else:
        raw_log = parse_log(data)
        _check_additions(raw_log, rows, offcuts)
        layout = raw_log.layout
        text = ""
        if not data.decode(layout.encoding, "replace").endswith(("\n", "\r")):
            text = layout.line_end  # or the new row would go on in the last one
    text += "".join(layout.text(cells) for cells in rows)
    tail = text.encode(layout.encoding)
    # UTF-16 has two bytes a letter
    if layout.encoding != "utf-8" and len(data) % 2:
        tail = b"\0" + tail  # the rest of a letter cut in two
    if len(data) + len(tail) > MOST_BYTES:
        raise ValueError(f"is full: a log must be at most {MOST_BYTES} bytes, begin another")
    return tail


def _path_of(path: Any) -> pathlib.Path:
    """Return a path, or refuse what is none."""
    if not isinstance(path, str | os.PathLike):
        raise InputError(
            "path", "it must be the name of a file", value=path, about=f" = {path!r:.80}"
        )
    return pathlib.Path(path)


def _check_rows(raw_log: RawLog) -> Log:
    """Check every row of a log: the good ones become offcuts, the others are listed."""
    first_uses: FirstUses = {}
    line_of: dict[tuple[str, ...], int] = {}  # by all cells of a row
    offcuts, lines = [], []
    bad = list(raw_log.bad)
    for line, texts in raw_log.rows:
        cells = dict(zip(raw_log.layout.columns, texts, strict=True))
        try:
            offcut = offcut_of(cells, raw_log.layout)
            # Written anew: 9 and 9.0, or 0,5 and .5, are the same row
            row = tuple(cells_of(offcut).values())
            if row in line_of:
                raise ValueError(
                    f"is line {line_of[row]} again in every column: if it is another test, "
                    "say so in its note"
                )
            # Last, so that no row which is bad says what is in a bottle
            _check_bottles(offcut, line, first_uses)
        except ValueError as error:
            bad.append((line, str(error)))
        else:
            line_of[row] = line
            offcuts.append(offcut)
            lines.append(line)
    return Log(tuple(offcuts), tuple(lines), tuple(sorted(bad)))


def _check_bottles(offcut: Offcut, line: int, first_uses: FirstUses) -> None:
    """Note the bottles of an offcut, or refuse a name that stood for another strength or spelling.

    "Acid" beside "acid" would be two unknown strengths where the bench has one bottle, and nobody
    would see it.
    """
    # Noted only when both bottles are good: a refused row leaves no trace
    new: FirstUses = {}
    for kind in ("acid", "peroxide"):
        name: str = getattr(offcut, f"{kind}_bottle")
        bottle: Bottle = getattr(offcut, kind)
        first = first_uses.get((kind, _folded(name)))
        if first is None:
            new[kind, _folded(name)] = FirstUse(line, name, bottle)
            continue
        if name != first.name:
            raise ValueError(
                f"{kind}_bottle = {name!r} is {first.name!r} in line {first.line}: "
                "write it alike, or give another bottle another name"
            )
        if bottle != first.bottle:
            raise ValueError(
                f"{kind}_bottle = {name!r} is {_percent(bottle)} here and "
                f"{_percent(first.bottle)} in line {first.line}: "
                "give another bottle another name; the same one, measured since, keeps the limits "
                "of that line, and what was measured counts beside them"
            )
    first_uses.update(new)


def _percent(bottle: Bottle) -> str:
    """Write the ends of a bottle."""
    return f"{bottle.low * 100:g} to {bottle.high * 100:g} %"


def _folded(name: str) -> str:
    """Return a bottle's name without capitals and double spaces."""
    return " ".join(name.casefold().split())


def _check_texts(cells: dict[str, str]) -> None:
    """Refuse a text that a spreadsheet would run as a formula, or that looks like rows of a log."""
    for name in LONGEST_TEXT:
        text = cells[name]
        if text.lstrip(" \t\n").startswith(("=", "+", "-", "@")):
            raise InputError(
                name,
                "a spreadsheet would take it for a formula, begin it with a letter",
                value=text,
                wrong="is impossible in a log",
            )
        if "\n" not in text:
            continue
        # After a quotation mark that is lost such a line would be read as a row
        most = max(line.count(mark) for line in text.split("\n") for mark in ",;\t")
        if most >= len(COLUMNS) - 1:
            raise InputError(
                name,
                "it must not look like rows of one",
                value=text,
                wrong="is impossible in a log",
            )


def _check_additions(
    raw_log: RawLog, rows: Sequence[dict[str, str]], offcuts: Sequence[Offcut]
) -> None:
    """Refuse rows that would be bad ones in this log, or would change what its others mean."""
    layout = raw_log.layout
    # Behind a number cut short a line break would make a whole, wrong number of it
    if layout.cut:
        raise ValueError(
            f"line {raw_log.bad[-1][0]} ends without a line break and may be cut short: "
            "end it first"
        )
    # The first new row would settle the decimal mark, and so the meaning of the old ones
    if layout.unclear_line is not None and rows:
        raise ValueError(
            f"line {layout.unclear_line} has a number that could be thousands or decimals: "
            "write it so that it is clear first"
        )
    additions = [layout.cells(cells) for cells in rows]
    for line, texts in raw_log.rows:
        if texts in additions:
            raise ValueError(
                f"line {line} holds this offcut already: if it is another test, say so in its note"
            )
    # To check every row of a long log takes long: only where the cells of a bottle differ
    if not _bottles_look_alike(raw_log, additions):
        first_uses: FirstUses = {}
        log = _check_rows(raw_log)
        for line, offcut in zip(log.lines, log.offcuts, strict=True):
            _check_bottles(offcut, line, first_uses)
        for offcut in offcuts:
            _check_bottles(offcut, 0, first_uses)


def _bottles_look_alike(raw_log: RawLog, additions: Sequence[Sequence[str]]) -> bool:
    """Tell whether added rows write each bottle that the log names just as the log does."""
    columns = raw_log.layout.columns
    for kind in ("acid", "peroxide"):
        name = columns.index(f"{kind}_bottle")
        low = columns.index(f"{kind}_low_percent")
        high = columns.index(f"{kind}_high_percent")
        in_log = {(cells[name], cells[low], cells[high]) for _, cells in raw_log.rows}
        in_added = {(cells[name], cells[low], cells[high]) for cells in additions}
        # A bottle of the log that no new row writes so must not be in a new row at all
        names_in_log_only = {_folded(cells[0]) for cells in in_log - in_added}
        if names_in_log_only & {_folded(cells[0]) for cells in in_added}:
            return False
    return True
