"""How the file of a log is written: its columns, separators, decimal mark and encoding.

A log is a text file with one row an offcut. It may have been saved by a spreadsheet: with another
separator, another decimal mark, in another encoding, with its columns in another order. `parse_log`
finds out how it is written and takes it apart into texts; `Layout` writes new rows in the same way.
"""

from __future__ import annotations

import codecs
import csv
import dataclasses
import decimal
import io
import re
from collections.abc import Sequence

from ...common.limits import InputError
from .log_file import MOST_BYTES

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
"""Every column. A new file has them in this order, with commas, points and line feeds, in UTF-8."""
WORDS = {"date", "acid_bottle", "peroxide_bottle", "agitation", "facing", "note"}
"""Columns that hold words; all others hold numbers."""
HEADER = ",".join(COLUMNS) + "\n"
MOST_LINES = 50
"""Most lines of one row, where a cell has line breaks in it."""
BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# As a whole number, with a mark behind or between its digits (group 1) or before them (group 2)
NUMBER = re.compile(r"[+-]?(?:[0-9]+([.,])?[0-9]*|([.,])[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
LONGEST_NUMBER = 60  # letters
THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}[.,][0-9]{3}")
"""A number like 1.234: a thousand and more to some, a little more than one to others."""
SEPARATOR = re.compile('"?sep=[,;\t]"?', re.IGNORECASE)
"""A first line that some spreadsheets write above the header; the header itself shows it."""
NAMES_THE_COLUMNS = f"its first line must name the columns {', '.join(COLUMNS)}"
SAVE = "save it as CSV in UTF-8"
UNREADABLE = "\N{REPLACEMENT CHARACTER}"
"""What decoding puts where bytes are no text."""

Row = tuple[int, list[str]]
"""The line on which a row begins, and its cells in the order of the file."""


@dataclasses.dataclass(frozen=True)
class Layout:
    """How a file writes a row.

    Parameters
    ----------
    columns : tuple of str
        Names of the columns in order; those at the end without a name are "".
    delimiter, line_end, encoding, decimal_mark : str
        What stands between cells, at the end of a row, and in a number.
    thousands_are_clear : bool
        Whether a number like 1.234 can be meant only one way in this file.
    unclear_line : int, optional
        Line of such a number, where nothing in the file tells.
    cut : bool
        The last line has no line break, and its last cell may be cut short.
    """

    columns: tuple[str, ...] = COLUMNS
    delimiter: str = ","
    line_end: str = "\n"
    encoding: str = "utf-8"
    decimal_mark: str = "."
    thousands_are_clear: bool = True
    unclear_line: int | None = None
    cut: bool = False

    def cells(self, row: dict[str, str]) -> list[str]:
        """Put a row, texts by column with decimal points, in the file's order and decimal mark."""
        cells = []
        for name in self.columns:
            text = row.get(name, "")
            if name not in WORDS:
                text = text.replace(".", self.decimal_mark)
            cells.append(text)
        return cells

    def text(self, row: dict[str, str]) -> str:
        """Write a row, texts by column with decimal points, as the file does, with its line end."""
        cells = []
        for cell in self.cells(row):
            # With every separator that there is: a program may open the file by another one
            if re.search('[",;\t\r\n]', cell):
                cell = '"' + cell.replace('"', '""') + '"'
            cells.append(cell)
        return self.delimiter.join(cells) + self.line_end

    def number(self, name: str, text: str) -> decimal.Decimal:
        """Read the number in a cell exactly as it stands.

        Parameters
        ----------
        name : str
            The column.
        text : str
            What the cell holds.

        Returns
        -------
        Decimal
            The number [unit in the name of the column].

        Raises
        ------
        InputError
            No number, or one that could be meant in two ways: nothing is guessed.

        Examples
        --------
        >>> print(Layout(decimal_mark=",").number("bath_mL", "12,5"))
        12.5
        """
        plain = _plain(text)
        example = f"a number like 12{self.decimal_mark}5"
        if len(plain) > LONGEST_NUMBER or not NUMBER.fullmatch(plain):
            raise InputError(
                name,
                f"it must be {example}, without a unit or a separator of thousands",
                value=text,
                wrong="is not a number",
            )
        other_mark = "," if self.decimal_mark == "." else "."
        if other_mark in plain:
            raise InputError(
                name,
                f"this file writes decimals with {self.decimal_mark!r}, it must be {example}",
                value=plain,
                wrong="is not clear",
            )
        if THOUSANDS.fullmatch(plain) and not self.thousands_are_clear:
            raise InputError(
                name,
                f"write it as {plain}0 or as {re.sub('[.,]', '', plain)}",
                value=plain,
                wrong="could be thousands or decimals, and the file does not tell",
            )
        # A decimal number keeps what stands there; a binary one would round it here and in SI
        return decimal.Decimal(plain.replace(",", "."))


@dataclasses.dataclass(frozen=True)
class RawLog:
    """A file taken apart into texts: its layout, its rows, and (line, reason) of each bad one."""

    layout: Layout
    rows: tuple[Row, ...]
    bad: tuple[tuple[int, str], ...]


def parse_log(data: bytes) -> RawLog:
    """Find out how a file is written, and take it apart row by row.

    Parameters
    ----------
    data : bytes
        All of the file.

    Returns
    -------
    RawLog
        Rows as texts.

    Raises
    ------
    ValueError
        Too large, empty, no text, no header, or a column missing, unknown or there twice.

    Examples
    --------
    >>> print(parse_log(HEADER.replace(",", ";").encode("utf-16")).layout.delimiter)
    ;
    """
    if len(data) > MOST_BYTES:
        raise ValueError(f"is too large for a log: it must be at most {MOST_BYTES} bytes")
    # A file without a mark is taken for UTF-8: bytes that are none spoil their own row only
    mark, encoding = b"", "utf-8"
    for each_mark, each_encoding in BYTE_ORDER_MARKS:
        if data.startswith(each_mark):
            mark, encoding = each_mark, each_encoding
    text = data[len(mark) :].decode(encoding, "replace")
    lines = list(io.StringIO(text, newline=""))  # by any line end, which each of them keeps

    nonblank = [number for number, line in enumerate(lines) if line.strip(' \t\r\n,;"')]
    if nonblank and SEPARATOR.fullmatch(lines[nonblank[0]].strip(" \r\n")):
        nonblank = nonblank[1:]
    if not nonblank:
        raise ValueError(f"is empty: {NAMES_THE_COLUMNS}")
    header = lines[nonblank[0]]
    delimiter, columns = _read_header(header, data)
    # The file's own line end: what the header has behind its names
    line_end = header[len(header.rstrip("\r\n")) :] or "\n"
    layout = Layout(columns, delimiter, line_end, encoding)

    rows, bad, last_row_ends = _read_rows(lines, nonblank[0] + 1, layout)
    has_line_end = lines[-1].endswith(("\r", "\n"))
    # A note or an empty cell that is cut short does no harm, a number or a bottle's name does
    may_be_cut = columns[-1] not in ("note", "")
    if last_row_ends == len(lines) and not has_line_end and may_be_cut:
        layout = dataclasses.replace(layout, cut=True)
        reason = (
            "ends without a line break, and its last cell may be cut short: "
            "end the line if it is whole"
        )
        bad.append((rows.pop()[0], reason))
    # All rows are looked through before the first number is read: any of them may show the mark.
    # Between commas without quotation marks no cell can hold a comma
    if delimiter != "," or any('"' in line for line in lines):
        layout = _with_decimal_mark(layout, rows)
    return RawLog(layout, tuple(rows), tuple(bad))


def _read_header(header: str, data: bytes) -> tuple[str, tuple[str, ...]]:
    """Return the delimiter and the columns of a first line; names may be in capitals."""
    columns: list[str] = []
    delimiter = ","
    for separator in ",;\t":
        names = _names_in(header, separator)
        # The right delimiter is the one by which most columns come out
        if len({*names} & {*COLUMNS}) > len({*columns} & {*COLUMNS}):
            delimiter, columns = separator, names
    if not {*columns} & {*COLUMNS}:
        if data.startswith(b"PK"):
            raise ValueError(f"is a workbook and no text: {SAVE}")
        if "\0" in header or UNREADABLE in header:
            raise ValueError(f"is not text in UTF-8: {SAVE}")
        raise ValueError(f"has no header: {NAMES_THE_COLUMNS}")
    # A spreadsheet may save empty columns at the right end
    width = len(columns)
    while not columns[-1]:
        columns.pop()
    _check_columns(columns)
    without_name = [""] * (width - len(columns))
    return delimiter, (*columns, *without_name)


def _names_in(header: str, delimiter: str) -> list[str]:
    """Return the names in a first line; those of columns come in their own spelling."""
    spelling = {name.casefold(): name for name in COLUMNS}
    try:
        cells = next(csv.reader([header], delimiter=delimiter, strict=True))
    except csv.Error:
        return []
    names = []
    for cell in cells:
        name = cell.strip()
        names.append(spelling.get(name.casefold(), name))
    return names


def _check_columns(columns: Sequence[str]) -> None:
    """Refuse a header that lacks a column, or names one that is unknown or there twice."""
    strangers = [name for name in columns if name and name not in COLUMNS]
    # Ours first: "bath_mL is missing" says more than "bath_L is unknown"
    for name in (*COLUMNS, *columns):
        if name in COLUMNS and columns.count(name) == 1:
            continue
        if name not in COLUMNS:
            wrong = "unknown"
        elif name in columns:
            wrong = "there twice"
        elif strangers:
            wrong = f"missing, and {strangers[0]!r:.40} is unknown"
        else:
            wrong = "missing"
        raise ValueError(
            f"column {name!r:.80} is {wrong}: its first line must name {', '.join(COLUMNS)}, "
            "and nothing else"
        )


def _read_rows(
    lines: Sequence[str], start: int, layout: Layout
) -> tuple[list[Row], list[tuple[int, str]], int]:
    """Return all rows below the header, the bad ones, and the line after the last good row."""
    rows: list[Row] = []
    bad: list[tuple[int, str]] = []
    last_row_ends = 0
    at = start
    while at < len(lines):
        cells, line_count = _read_row(lines, at, layout)
        if isinstance(cells, str):
            bad.append((at + 1, cells))
        elif cells:
            rows.append((at + 1, cells))
            last_row_ends = at + line_count
        at += line_count
    return rows, bad, last_row_ends


def _read_row(lines: Sequence[str], at: int, layout: Layout) -> tuple[list[str] | str, int]:
    """Return the cells of the row that begins there, or what is wrong, and how many lines it takes.

    A blank row has no cells. A quotation mark that nobody closed would swallow the rows below it:
    then only its own line is bad.
    """
    width = len(layout.columns)
    line_count = 1
    if '"' in lines[at]:
        reader = csv.reader(lines[at : at + MOST_LINES], delimiter=layout.delimiter, strict=True)
        try:
            cells = next(reader)
        except csv.Error as error:
            if "limit" in str(error):  # the library's longest cell, which only its words tell
                return "has a cell that is too long", 1
            return (
                "has a quotation mark that is not closed, or something stands behind it: "
                'a " in a cell is "", and the cell stands in quotation marks',
                1,
            )
        line_count = reader.line_num
        if line_count > 1:
            # It was closed by a mark in a row farther down: what lies between are rows, no note
            if len(cells) != width or _holds_a_row(cells, layout):
                return "has a quotation mark that is not closed", 1
            cells = [cell.replace("\r\n", "\n").replace("\r", "\n") for cell in cells]
    else:
        # Without a mark nothing is quoted, and to split is much quicker
        cells = lines[at].rstrip("\r\n").split(layout.delimiter)

    text = "".join(cells)
    if not text.strip():
        return [], line_count
    if UNREADABLE in text or "\0" in text:
        return (
            f"holds bytes that are not text in UTF-8: write it again, or if many lines do, {SAVE}",
            line_count,
        )
    if len(cells) != width:
        return f"has {len(cells)} cells, it must have {width} as the first line has", line_count
    if "" in layout.columns:
        without_name = cells[layout.columns.index("") :]
        if "".join(without_name).strip():
            return "has something in a column that the first line does not name", line_count
    return cells, line_count


def _holds_a_row(cells: Sequence[str], layout: Layout) -> bool:
    """Tell whether a line within a cell has as many delimiters as a row."""
    for cell in cells:
        for line in cell.splitlines():
            if line.count(layout.delimiter) >= len(layout.columns) - 1:
                return True
    return False


def _with_decimal_mark(layout: Layout, rows: Sequence[Row]) -> Layout:
    """Return the layout with the decimal mark of most numbers that can be meant in one way only."""
    counts = {",": 0, ".": 0}
    unclear_line = None
    # A number such as 1.234 is no witness: to some its point separates thousands
    for line, cells in rows:
        for name, cell in zip(layout.columns, cells, strict=True):
            if name in WORDS:
                continue
            text = _plain(cell)
            number = NUMBER.fullmatch(text)
            if number is None or (number[1] is None and number[2] is None):
                continue  # no number, or one without a decimal mark
            if not THOUSANDS.fullmatch(text):
                counts[number[1] or number[2]] += 1
            elif unclear_line is None:
                unclear_line = line

    if counts[","] > counts["."]:
        mark = ","
    elif counts["."] > counts[","]:
        mark = "."
    elif layout.delimiter == ";":
        mark = ","  # where a semicolon separates cells, the comma is taken for decimals
    else:
        mark = "."
    # Where both marks stand, or none, 1.234 stays unclear. Between commas, as in our own files, a
    # point needs no witness
    two_marks = counts[","] > 0 and counts["."] > 0
    clear = not two_marks and (counts[mark] > 0 or layout.delimiter == ",")
    if clear or counts[","] > 0 or counts["."] > 0:
        unclear_line = None  # a new row changes nothing: the file has its mark
    return dataclasses.replace(
        layout, decimal_mark=mark, thousands_are_clear=clear, unclear_line=unclear_line
    )


def _plain(cell: str) -> str:
    """Return what stands in a cell without spaces around it and with a plain minus sign."""
    return cell.strip().replace("\N{MINUS SIGN}", "-")
