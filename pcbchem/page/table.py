"""Tables as a page shows them, and a line that counts while a search runs."""

from __future__ import annotations

import dataclasses
import html
import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from ..common.number_words import figures

if TYPE_CHECKING:
    import pandas

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


@dataclasses.dataclass(frozen=True)
class Table:
    """A table as a page shows it: nothing cut short, read from the left.

    Parameters
    ----------
    frame : DataFrame
        What stands in it.
    beneath : str
        Name of the column that stands as text under the table, or "".
    caption : str
        What its numbers are, above it.
    """

    frame: pandas.DataFrame
    beneath: str = ""
    caption: str = ""

    def _repr_html_(self) -> str:
        text = self._table()
        if self.caption:
            caption = html.escape(self.caption)
            # HTML wants it to be the first thing in the table
            start = text.index(">", text.index("<table ")) + 1
            caption = f'<caption style="{CELL};caption-side:top">{caption}</caption>'
            text = text[:start] + caption + text[start:]
        # pandas puts headings to the right; a reader on a telephone looks to the left
        return (
            text.replace("<table ", '<table style="text-align:left" ')
            .replace("<th>", f'<th style="{CELL}">')
            .replace("<td>", f'<td style="{CELL}">')
            .replace(' style="text-align: right;"', "")
        )

    def _table(self) -> str:
        """Return the table and the text under it, in the style of pandas."""
        import pandas

        columns = [self.beneath] if self.beneath else []
        # None: pandas cuts long words short even in HTML
        with pandas.option_context("display.max_colwidth", None):
            cells = self.frame.drop(columns=columns).map(cell_text)
            text = cells.rename_axis(None).to_html(border=0)
        if self.beneath:
            text += self._notes()
        return text

    def _notes(self) -> str:
        """Return the column `beneath` as lines, rows with the same text in one line."""
        names_of: dict[str, list[str]] = {}
        # a source that most rows share is read once
        for name, note in self.frame[self.beneath].items():
            names_of.setdefault(str(note), []).append(str(name))
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
