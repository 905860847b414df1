"""The file of a log: its separators and encoding, its rows one by one, and new rows at its end whoever else writes."""

from __future__ import annotations

import codecs
import contextlib
import csv
import dataclasses
import decimal
import errno
import io
import os
import pathlib
import re
import sys
import time
from collections.abc import Iterator, Sequence

COLUMNS = (
    "date",
    "acid_bottle",
    "acid_low_percent",
    "acid_high_percent",
    "peroxide_bottle",
    "peroxide_low_percent",
    "peroxide_high_percent",
    "water_parts",
    "acid_parts",
    "peroxide_parts",
    "bath_mL",
    "bare_cm2",
    "foil_g_per_m2",
    "agitation",
    "facing",
    "open_cm2",
    "bottles_C",
    "air_C",
    "clear_after_s",
    "not_clear_after_s",
    "note",
)
"""Every column; in this order, with commas, points and line feeds in UTF-8, when we make the file."""
WORDS = {"date", "acid_bottle", "peroxide_bottle", "agitation", "facing", "note"}
MOST_BYTES = 2_000_000
MOST_LINES = 50  # of one row, where a cell has line breaks in it
LOCK_WAIT = 30.0  # s until a file that another program has locked is given up
BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
LOCKED_BYTE = 2**31 - 2  # in Windows: behind any log, so that others can still read it
NUMBER = re.compile(r"[+-]?(?:[0-9]+([.,])?[0-9]*|([.,])[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}")
HEADER = ",".join(COLUMNS) + "\n"
SAVE = "save it as CSV in UTF-8"
SEPARATOR = re.compile('"?sep=[,;\t]"?', re.IGNORECASE)
"""A first line that some spreadsheets write above the header; the header itself shows the separator."""


@dataclasses.dataclass(frozen=True)
class Layout:
    """How a file writes a row: `columns` in order, unnamed ones at the end as "", separators, line end, encoding.

    `mark` is the decimal mark. `sure`: a number like 1.234 can only be meant one way; `unsure`: the line of such a
    number where nothing in the file tells; `cut`: the last line has no line break, and its last cell may be cut short.
    """

    columns: tuple[str, ...] = COLUMNS
    delimiter: str = ","
    line_end: str = "\n"
    encoding: str = "utf-8"
    mark: str = "."
    sure: bool = True
    unsure: int | None = None
    cut: bool = False

    def cells(self, row: dict[str, str]) -> list[str]:
        """A row in the file's own order and with its decimal mark, from texts with decimal points."""
        return [
            row.get(name, "") if name in WORDS else row.get(name, "").replace(".", self.mark)
            for name in self.columns
        ]

    def text(self, row: dict[str, str]) -> str:
        """A row as the file writes it, from texts with decimal points."""
        return (
            self.delimiter.join(
                '"' + cell.replace('"', '""') + '"' if re.search('[",;\t\r\n]', cell) else cell
                for cell in self.cells(row)
            )
            + self.line_end
        )

    def number(self, name: str, text: str) -> decimal.Decimal:
        """The number in a cell as it stands [unit in the name]; what could be meant two ways is refused."""
        plain = text.strip().replace("\N{MINUS SIGN}", "-")
        like = f"a number like 12{self.mark}5"
        if len(plain) > 60 or not NUMBER.fullmatch(plain):
            raise ValueError(
                f"{name} = {text!r:.80} is not a number: it must be {like}, "
                "without a unit or a separator of thousands"
            )
        if ({",", "."} - {self.mark}).pop() in plain:
            raise ValueError(
                f"{name} = {plain!r} is not clear: this file writes decimals with {self.mark!r}, "
                f"it must be {like}"
            )
        if THOUSANDS.fullmatch(plain) and not self.sure:
            raise ValueError(
                f"{name} = {plain!r} could be thousands or decimals, and the file does not tell: "
                f"write it as {plain}0 or as {re.sub('[.,]', '', plain)}"
            )
        return decimal.Decimal(plain.replace(",", "."))


@dataclasses.dataclass(frozen=True)
class Sheet:
    """A file taken apart: `rows` as (line, cells in the order of the file), `bad` as (line, reason)."""

    layout: Layout
    rows: tuple[tuple[int, list[str]], ...]
    bad: tuple[tuple[int, str], ...]


def taken_apart(data: bytes) -> Sheet:
    """Find out how a file is written, and take it apart row by row.

    Parameters
    ----------
    data : bytes
        All of the file.

    Returns
    -------
    Sheet
        Rows as texts.

    Raises
    ------
    ValueError
        Too large, empty, no text, no header, or a column missing, unknown or there twice.

    Examples
    --------
    >>> print(taken_apart(HEADER.replace(",", ";").encode("utf-16")).layout.delimiter)
    ;
    """
    if len(data) > MOST_BYTES:
        raise ValueError(f"is too large for a log: it must be at most {MOST_BYTES} bytes")
    bom, encoding = next((pair for pair in BOMS if data.startswith(pair[0])), (b"", "utf-8"))
    lines = list(io.StringIO(data[len(bom) :].decode(encoding, "replace"), newline=""))
    written = (at for at, line in enumerate(lines) if line.strip(' \t\r\n,;"'))
    first = next(written, None)
    if first is not None and SEPARATOR.fullmatch(lines[first].strip(" \r\n")):
        first = next(written, None)
    if first is None:
        raise ValueError(f"is empty: its first line must name the columns {', '.join(COLUMNS)}")
    delimiter, columns = _header(lines[first], data)
    layout = Layout(
        columns, delimiter, lines[first][len(lines[first].rstrip("\r\n")) :] or "\n", encoding
    )
    rows: list[tuple[int, list[str]]] = []
    bad: list[tuple[int, str]] = []
    at, end = first + 1, 0
    while at < len(lines):
        found, used = _row(lines, at, layout)
        if isinstance(found, str):
            bad.append((at + 1, found))
        elif found:
            rows.append((at + 1, found))
            end = at + used
        at += used
    if (
        end == len(lines)
        and not lines[-1].endswith(("\r", "\n"))
        and layout.columns[-1] not in ("note", "")
    ):
        layout = dataclasses.replace(layout, cut=True)
        bad.append(
            (
                rows.pop()[0],
                "ends without a line break, and its last cell may be cut short: "
                "end the line if it is whole",
            )
        )
    if delimiter != "," or any('"' in line for line in lines):  # else no cell can hold a comma
        layout = _with_mark(layout, rows)
    return Sheet(layout, tuple(rows), tuple(bad))


def _header(line: str, data: bytes) -> tuple[str, tuple[str, ...]]:
    """Separator and columns that a first line names, whatever their case."""
    known = {name.casefold(): name for name in COLUMNS}

    def read_with(delimiter: str) -> list[str]:
        with contextlib.suppress(csv.Error):
            return [
                known.get(cell.strip().casefold(), cell.strip())
                for cell in next(csv.reader([line], delimiter=delimiter, strict=True))
            ]
        return []

    delimiter = max(",;\t", key=lambda each: len({*read_with(each)} & {*COLUMNS}))
    columns = read_with(delimiter)
    while columns and not columns[-1]:
        columns.pop()
    if not {*columns} & {*COLUMNS}:
        if data.startswith(b"PK"):
            raise ValueError(f"is a workbook and no text: {SAVE}")
        if "\0" in line or "\N{REPLACEMENT CHARACTER}" in line:
            raise ValueError(f"is not text in UTF-8: {SAVE}")
        raise ValueError(
            f"has no header: its first line must name the columns {', '.join(COLUMNS)}"
        )
    strange = [name for name in columns if name and name not in COLUMNS]
    for name in [*COLUMNS, *columns]:
        if columns.count(name) != 1 or name not in COLUMNS:
            wrong = (
                "missing"
                if name not in columns
                else "there twice"
                if name in COLUMNS
                else "unknown"
            )
            instead = (
                f", and {strange[0]!r:.40} is unknown" if wrong == "missing" and strange else ""
            )
            raise ValueError(
                f"column {name!r:.80} is {wrong}{instead}: its first line must name {', '.join(COLUMNS)}, "
                "and nothing else"
            )
    return delimiter, (*columns, *[""] * (len(read_with(delimiter)) - len(columns)))


def _row(lines: Sequence[str], at: int, layout: Layout) -> tuple[list[str] | str, int]:
    """The cells of the row that begins there (none: it is blank) or what is wrong, and how many lines it takes.

    A quotation mark that nobody closed would swallow the rows below: then only its own line is bad.
    """
    width, line, used = len(layout.columns), lines[at], 1
    if '"' not in line:
        cells = line.rstrip("\r\n").split(layout.delimiter)
    else:
        reader = csv.reader(lines[at : at + MOST_LINES], delimiter=layout.delimiter, strict=True)
        try:
            cells, used = next(reader), reader.line_num
        except csv.Error as wrong:
            return (
                "has a cell that is too long"
                if "limit" in str(wrong)
                else 'has a quotation mark that is not closed, or something stands behind it: a " in a cell is "", '
                "and the cell stands in quotation marks"
            ), 1
        if used > 1:
            swallowed = any(
                part.count(layout.delimiter) >= width - 1
                for cell in cells
                for part in cell.splitlines()
            )
            if swallowed or len(cells) != width:
                return "has a quotation mark that is not closed", 1
            cells = [cell.replace("\r\n", "\n").replace("\r", "\n") for cell in cells]
    whole = "".join(cells)
    if not whole.strip():
        return [], used
    if "\N{REPLACEMENT CHARACTER}" in whole or "\0" in whole:
        return (
            f"holds bytes that are not text in UTF-8: write it again, or if many lines do, {SAVE}",
            used,
        )
    if len(cells) != width:
        return f"has {len(cells)} cells, it must have {width} as the first line has", used
    if not layout.columns[-1] and "".join(cells[layout.columns.index("") :]).strip():
        return "has something in a column that the first line does not name", used
    return cells, used


def _with_mark(layout: Layout, rows: Sequence[tuple[int, list[str]]]) -> Layout:
    """The layout with the decimal mark that most numbers show which can be meant one way only."""
    shown, unsure = {",": 0, ".": 0}, None
    for line, cells in rows:
        for name, cell in zip(layout.columns, cells, strict=True):
            found = (
                None
                if name in WORDS
                else NUMBER.fullmatch(cell.strip().replace("\N{MINUS SIGN}", "-"))
            )
            mark = found and (found[1] or found[2])
            if found and mark and not THOUSANDS.fullmatch(found[0]):
                shown[mark] += 1
            elif mark:
                unsure = unsure or line
    tie = shown[","] == shown["."]
    mark = (
        ("," if layout.delimiter == ";" else ".")
        if tie
        else max(shown, key=lambda each: shown[each])
    )
    sure = not all(shown.values()) and (shown[mark] > 0 or layout.delimiter == ",")
    return dataclasses.replace(
        layout, mark=mark, sure=sure, unsure=None if sure or any(shown.values()) else unsure
    )


def held(file: pathlib.Path | int) -> bytes:
    """All that a file, or one open already, holds, up to just over `MOST_BYTES`, or ValueError saying why not."""
    if isinstance(file, int):
        os.lseek(file, 0, os.SEEK_SET)
    elif not file.is_file():
        raise ValueError("there is no such file" if not os.path.lexists(file) else "is not a file")
    try:
        with open(file, "rb", closefd=not isinstance(file, int)) as opened:
            return opened.read(MOST_BYTES + 1)
    except OSError as wrong:
        raise ValueError(f"cannot be read: {wrong.strerror}") from None


@contextlib.contextmanager
def locked(file: pathlib.Path) -> Iterator[int]:
    """Open a file for appending and keep other writers out, making it where there is none; gives its descriptor.

    The lock is on the file itself: it is never replaced, so there is no second file to be left behind.
    """
    if file.exists() and not file.is_file():
        raise ValueError("is not a file")
    end = time.monotonic() + LOCK_WAIT
    while True:
        handle = os.open(
            file, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666
        )
        mine = False
        try:
            mine = _lock(handle)
            if mine and _still_there(handle, file):
                yield handle
                return
        finally:
            if mine:
                _lock(handle, free=True)
            os.close(handle)
        if time.monotonic() > end:
            raise TimeoutError(
                errno.EAGAIN, "another program keeps the log locked, nothing was written", str(file)
            )
        time.sleep(0.002)


def _lock(handle: int, *, free: bool = False) -> bool:
    """Lock an open file if nobody else has, or free it: a crash does so too, and closing, in Windows not at once."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(handle, LOCKED_BYTE, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_UNLCK if free else msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_UN if free else fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def _still_there(handle: int, file: pathlib.Path) -> bool:
    """Whether an open file is still the one of that name: a program that saves may have replaced or removed it."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(file))
    except FileNotFoundError:
        return False


def add(handle: int, data: bytes) -> None:
    """Write to the end of an open file, in one piece and to the disk, or take back what was written of it."""
    size = os.fstat(handle).st_size
    try:
        if os.write(handle, data) != len(data):
            raise OSError(errno.ENOSPC, "no room for all of it, nothing was written")
        os.fsync(handle)
    except BaseException:
        with contextlib.suppress(OSError):
            os.ftruncate(handle, size)
        raise
