"""A log of offcuts in a file of text: read row by row, added to at its end, never written anew."""

from __future__ import annotations

import dataclasses
import hashlib
import operator
import os
import pathlib
from collections.abc import Iterable
from typing import Any

from ...common.limits import naming
from ..bottle.bottle import Bottle
from .log_file import COLUMNS, HEADER, MOST_BYTES, Layout, Sheet, add, held, locked, taken_apart
from .offcut import LONGEST_TEXT, Offcut, cells_of, offcut_of

__all__ = ["COLUMNS", "Log", "Offcut", "append", "read_log"]

Known = dict[tuple[str, str], tuple[int, str, Bottle]]
"""By kind and name without capitals: the line that first names a bottle, how it writes it, and what it says of it."""


@dataclasses.dataclass(frozen=True, eq=False, repr=False)
class Log:
    """Offcuts, the line of the file each begins on, the bad rows as (line, reason), and the hash of the bytes.

    A log says what was done, not that it was wise.
    """

    offcuts: tuple[Offcut, ...]
    lines: tuple[int, ...]
    bad: tuple[tuple[int, str], ...]
    sha256: str

    def __post_init__(self) -> None:
        if len(self.offcuts) != len(self.lines):
            raise ValueError(
                f"lines = {self.lines!r:.80} is impossible: it must be {len(self.offcuts)} numbers, "
                "one an offcut"
            )

    def __str__(self) -> str:
        said = f"{len(self.offcuts)} offcut{'s' * (len(self.offcuts) != 1)}"
        if not self.bad:
            return f"{said}, no bad rows"
        rows = (
            "1 row is bad and does"
            if len(self.bad) == 1
            else f"{len(self.bad)} rows are bad and do"
        )
        return "\n".join(
            [f"{said}; {rows} not count:", *(f"line {line}: {reason}" for line, reason in self.bad)]
        )

    def __repr__(self) -> str:
        return f"Log(good rows: {len(self.offcuts)}, bad rows: {len(self.bad)})"

    @classmethod
    def of(cls, offcuts: Iterable[Offcut]) -> Log:
        """A log from memory, with the lines that its rows would have in a new file.

        Unlike a file it may hold the same row twice, or a text like a formula: nothing is written from it.

        Parameters
        ----------
        offcuts : iterable of Offcut
            Etched, each with its time.

        Returns
        -------
        Log
            `sha256` is that of the text the file would hold.

        Raises
        ------
        ValueError
            Something else, an offcut without a time, one name for two bottles, or two that differ in capitals only.

        Examples
        --------
        >>> print(len(Log.of([]).offcuts))
        0
        """
        known: Known = {}
        rows, lines, at = [HEADER], [], 2
        offcuts = tuple(offcuts)
        for offcut in offcuts:
            rows.append(Layout().text(cells_of(offcut)))
            _share_bottles(offcut, at, known)
            lines.append(at)
            at += rows[-1].count("\n")
        return cls(
            offcuts, tuple(lines), (), hashlib.sha256("".join(rows).encode("utf-8")).hexdigest()
        )


def _share_bottles(offcut: Offcut, line: int, known: Known) -> None:
    """Note which bottles an offcut names, or refuse a name that stood for another strength or was written otherwise.

    "Acid" beside "acid" would be two unknown strengths where the bench has one bottle, and nobody would see it.
    """
    mine = {
        (kind, _folded(getattr(offcut, f"{kind}_bottle"))): (
            line,
            getattr(offcut, f"{kind}_bottle"),
            getattr(offcut, kind),
        )
        for kind in ("acid", "peroxide")
    }
    for (kind, folded), (_, name, bottle) in mine.items():
        first, written, before = known.get((kind, folded), (line, name, bottle))
        if name != written:
            raise ValueError(
                f"{kind}_bottle = {name!r} is {written!r} in line {first}: write it alike, "
                "or give another bottle another name"
            )
        if bottle != before:
            raise ValueError(
                f"{kind}_bottle = {name!r} is {bottle.low * 100:g} to {bottle.high * 100:g} % here and "
                f"{before.low * 100:g} to {before.high * 100:g} % in line {first}: "
                "give another bottle another name; the same one, measured since, keeps the limits of "
                "that line, and the measurement goes into calibrate(measured=...)"
            )
    for names, row in mine.items():
        known.setdefault(names, row)


def _folded(name: str) -> str:
    """A bottle's name without capitals and double spaces."""
    return " ".join(name.casefold().split())


def read_log(path: str | os.PathLike[str]) -> Log:
    """Read a log, also as a spreadsheet saves it: any of three separators, decimal point or comma, UTF-8 or UTF-16.

    Parameters
    ----------
    path : str or Path
        The file; it is only read.

    Returns
    -------
    Log
        Its good rows, and each bad one by its line and the reason.

    Raises
    ------
    ValueError
        No file, not a log, too large, or a column missing or unknown: the file's name, then the reason.

    Examples
    --------
    >>> import tempfile
    >>> from pcbchem import Board, Tray
    >>> offcut = Offcut(Bottle("HCl", 0.09, 0.11), Bottle("H2O2", 0.09, 0.12), (1, 1, 1), 50e-6, Board(area=5e-4),
    ...                 Tray(), 293.15, time=240, note="lamp on")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     append(f"{folder}/offcuts.csv", offcut)
    ...     print(f"{read_log(f'{folder}/offcuts.csv').offcuts[0].time:.0f} s")
    240 s
    """
    file = _a_path(path)
    with naming(file.name or str(file)):
        data = held(file)
        return _checked_rows(taken_apart(data), hashlib.sha256(data).hexdigest())


def append(path: str | os.PathLike[str], *offcuts: Offcut) -> None:
    """Add rows to the end of a log, all or none, in its own way of writing; what is in it stays byte for byte.

    Parameters
    ----------
    path : str or Path
        The log; a new one is made where there is none.
    *offcuts : Offcut
        Etched, each with its time; none at all makes an empty log, to be typed into.

    Raises
    ------
    ValueError
        The file is no log, or an offcut has no time, names a bottle that has other limits or capitals in the log, is
        there already, or has a text that a spreadsheet would take for a formula: nothing is written.
    OSError
        The system will not write, or another program keeps the file locked: nothing is written.

    Examples
    --------
    >>> try: append("offcuts.csv", "a piece of board")
    ... except ValueError as error: print(error)
    offcut = 'a piece of board' is impossible: it must be an Offcut
    """
    file, rows, known = _a_path(path), [cells_of(offcut) for offcut in offcuts], Known()
    for at, (cells, offcut) in enumerate(zip(rows, offcuts, strict=True)):
        _share_bottles(offcut, at + 1, known)
        _harmless(cells)
        if cells in rows[:at]:
            raise ValueError("offcut is given twice: if it is another test, say so in its note")
    with naming(file.name or str(file)), locked(file) as handle:
        data = held(handle)
        if HEADER.encode().startswith(data):  # new, or its maker was stopped in the first line
            layout, start = Layout(), HEADER[len(data) :]
        else:
            sheet = taken_apart(data)
            layout = sheet.layout
            _may_follow(sheet, rows, offcuts)
            start = (
                ""
                if data.decode(layout.encoding, "replace").endswith(("\n", "\r"))
                else layout.line_end
            )
        new = b"\0" * (
            layout.encoding != "utf-8" and len(data) % 2
        )  # the rest of a letter cut in two
        new += (start + "".join(layout.text(cells) for cells in rows)).encode(layout.encoding)
        if len(data) + len(new) > MOST_BYTES:
            raise ValueError(f"is full: a log must be at most {MOST_BYTES} bytes, begin another")
        if new:
            add(handle, new)


def _a_path(path: Any) -> pathlib.Path:
    """What was given as a path, or ValueError."""
    if not isinstance(path, str | os.PathLike):
        raise ValueError(f"path = {path!r:.80} is impossible: it must be the name of a file")
    return pathlib.Path(path)


def _checked_rows(sheet: Sheet, sha256: str) -> Log:
    """The rows that a log holds after every check, and the bad ones."""
    known, seen, good, bad = Known(), dict[tuple[str, ...], int](), [], list(sheet.bad)
    for line, texts in sheet.rows:
        try:
            offcut = offcut_of(dict(zip(sheet.layout.columns, texts, strict=True)), sheet.layout)
            same = tuple(cells_of(offcut).values())
            if same in seen:
                raise ValueError(
                    f"is line {seen[same]} again in every column: if it is another test, "
                    "say so in its note"
                )
            _share_bottles(offcut, line, known)
        except ValueError as wrong:
            bad.append((line, str(wrong)))
        else:
            seen[same] = line
            good.append((line, offcut))
    return Log(
        tuple(offcut for _, offcut in good),
        tuple(line for line, _ in good),
        tuple(sorted(bad)),
        sha256,
    )


def _harmless(cells: dict[str, str]) -> None:
    """Refuse a text that does not come back from a spreadsheet, or that one would run as a formula."""
    for name in LONGEST_TEXT:
        if cells[name].lstrip(" \t\n").startswith(("=", "+", "-", "@")):
            raise ValueError(
                f"{name} = {cells[name]!r:.80} is impossible in a log: a spreadsheet would take it for a "
                "formula, begin it with a letter"
            )
        parts = cells[name].split("\n")
        if len(parts) > 1 and any(
            part.count(mark) >= len(COLUMNS) - 1 for part in parts for mark in ",;\t"
        ):
            raise ValueError(
                f"{name} = {cells[name]!r:.80} is impossible in a log: it must not look like rows of one"
            )


def _may_follow(sheet: Sheet, rows: list[dict[str, str]], offcuts: tuple[Offcut, ...]) -> None:
    """Refuse rows that would be bad ones in this log, or that would change what its other rows mean."""
    layout, strange = sheet.layout, False
    if layout.cut:
        raise ValueError(
            f"line {sheet.bad[-1][0]} ends without a line break and may be cut short: end it first"
        )
    if layout.unsure and rows:
        raise ValueError(
            f"line {layout.unsure} has a number that could be thousands or decimals: "
            "write it so that it is clear first"
        )
    added = [layout.cells(cells) for cells in rows]
    for line, texts in sheet.rows:
        if texts in added:
            raise ValueError(
                f"line {line} holds this offcut already: if it is another test, say so in its note"
            )
    for kind in ("acid", "peroxide"):
        places = [
            layout.columns.index(f"{kind}_{what}")
            for what in ("bottle", "low_percent", "high_percent")
        ]
        there, mine = (
            set(map(operator.itemgetter(*places), every))
            for every in ([texts for _, texts in sheet.rows], added)
        )
        strange |= bool(
            {_folded(name) for name, *_ in mine} & {_folded(name) for name, *_ in there - mine}
        )
    if strange:  # written otherwise, or really another strength
        known, log = Known(), _checked_rows(sheet, "")
        for line, offcut in (
            *zip(log.lines, log.offcuts, strict=True),
            *((0, offcut) for offcut in offcuts),
        ):
            _share_bottles(offcut, line, known)
