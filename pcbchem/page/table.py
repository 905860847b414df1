"""Tables as a page shows them, and a line that counts while a search runs."""

from __future__ import annotations

import dataclasses
import html
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from ..common.extras import extra
from ..common.number_words import figures

CELL = "text-align:left;padding:4px"  # narrow, so that a table fits a telephone


def cell_text(value: Any) -> str:
    """Return what stands in a cell: a number to 3 figures [any unit], "never" for infinity.

    Not a number is a cell that stays blank.

    Examples
    --------
    >>> print([cell_text(value) for value in (1249.6, 0.08, 0.002, 0.0, "blue")])
    ['1250', '0.08', 'under 0.01', '0', 'blue']
    >>> print([cell_text(value) for value in (float("inf"), float("nan"))])
    ['never', '']
    """
    if not isinstance(value, float):
        return str(value)
    if math.isnan(value):
        return ""
    if math.isinf(value):
        return "never"
    if 0 < value < 0.01:
        # two decimals would make a zero of it
        return "under 0.01"
    return figures(round(value, 2), 3)


def row_of(name: str, cells: Iterable[Any], tag: str = "td") -> str:
    """Return a row of a table as HTML: its name, then a cell for each value [any unit].

    Examples
    --------
    >>> print(row_of("acid", [2.0])[-51:])
    <td style="text-align:left;padding:4px">2</td></tr>
    """
    text = f'<tr><th style="{CELL}">{html.escape(name, quote=False)}</th>'
    for value in cells:
        text += f'<{tag} style="{CELL}">{html.escape(cell_text(value), quote=False)}</{tag}>'
    return f"{text}</tr>"


@dataclasses.dataclass(frozen=True)
class Table:
    """A table as a page shows it: nothing cut short, read from the left.

    Parameters
    ----------
    rows : dict
        What stands in it: of each row its name, and its cells by the names of the columns, which
        are the same in all rows.
    beneath : str
        Name of the column that stands as text under the table, or "".
    caption : str
        What its numbers are, above it.
    """

    rows: Mapping[str, Mapping[str, Any]]
    beneath: str = ""
    caption: str = ""

    def _repr_html_(self) -> str:
        columns = [name for name in next(iter(self.rows.values()), {}) if name != self.beneath]
        body = ""
        for name, row in self.rows.items():
            body += row_of(name, [row[column] for column in columns])
        caption = ""
        if self.caption:
            style = f"{CELL};caption-side:top"
            caption = f'<caption style="{style}">{html.escape(self.caption)}</caption>'
        # "dataframe": notebooks style a table of this class as one of numbers
        return (
            f'<table style="text-align:left" class="dataframe">{caption}'
            f"<thead>{row_of('', columns, 'th')}</thead><tbody>{body}</tbody></table>"
            f"{self._notes() if self.beneath else ''}"
        )

    def _notes(self) -> str:
        """Return the column `beneath` as lines, rows with the same text in one line."""
        names_of: dict[str, list[str]] = {}
        # a source that most rows share is read once
        for name, row in self.rows.items():
            names_of.setdefault(str(row[self.beneath]), []).append(name)
        lines = ""
        for note, names in names_of.items():
            lines += f"<br>{' · '.join(names)}: {html.escape(note)}"
        return f"<p>{self.beneath.capitalize()}{lines}</p>"


@contextmanager
def counting(what: str = "tried") -> Iterator[Callable[[int, int], None]]:
    """Count on the page while a search runs, "tried 120 of 462"; the line is gone when it ends.

    Parameters
    ----------
    what : str
        The word before the count [-].

    Yields
    ------
    callable
        Takes how many are done and how many there are [-].
    """
    with extra("pages"):
        from IPython.display import DisplayHandle

    def line(text: str) -> dict[str, str]:
        words = f'<div role="status">{html.escape(text)}</div>' if text else ""
        return {"text/plain": text, "text/html": words}

    # one output that is written over: a line for each try would fill the page
    handle: Any = DisplayHandle()  # type: ignore[no-untyped-call]

    def count(done: int, total: int) -> None:
        handle.update(line(f"{what} {done} of {total}"), raw=True)

    handle.display(line(""), raw=True)
    try:
        yield count
    finally:
        # also when the search fails: nothing may say that it still runs
        handle.update(line(""), raw=True)
