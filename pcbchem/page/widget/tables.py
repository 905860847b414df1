"""A table in a panel: plain texts, and a bar with a word at the rows that are marked."""

from __future__ import annotations

import dataclasses
import html
from collections.abc import Sequence

from ...common.limits import InputError

CELL = "text-align:left;vertical-align:top;padding:2px 8px"
BAR = "border-left:4px solid currentColor"
"""Says without a colour that a row is marked; the word beside it says how."""


@dataclasses.dataclass(frozen=True)
class Table:
    """Rows of plain texts under their columns' names.

    Parameters
    ----------
    caption : str
        What the table shows.
    head : sequence of str
        Names of the columns.
    rows : sequence of sequence of str
        Cells from left to right, as many as there are columns; the first names its row.
    marks : sequence of str
        For each row a word, as "bad row", or "" where there is none; left out: no row is marked.

    Raises
    ------
    InputError
        A row has other cells than there are columns, or there are other marks than rows.
    """

    caption: str
    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    marks: Sequence[str] = ()

    def __post_init__(self) -> None:
        for number, row in enumerate(self.rows, 1):
            if len(row) != len(self.head):
                rule = f"it must have {len(self.head)} cells, and has {len(row)}"
                raise InputError(f"row {number}", rule, about="", wrong="is impossible")
        if self.marks and len(self.marks) != len(self.rows):
            rule = f"there must be {len(self.rows)}, one for each row"
            raise InputError("marks", rule, value=len(self.marks))

    def html(self) -> str:
        """Return it as HTML, which scrolls inside its own frame, also by keyboard.

        Examples
        --------
        >>> print("2 &lt; 3" in Table("Two", ["a"], [["2 < 3"]]).html())
        True
        """
        caption = html.escape(self.caption)
        head = "".join(
            f'<th scope="col" style="{CELL}">{html.escape(name)}</th>' for name in self.head
        )
        marks = self.marks or [""] * len(self.rows)
        body = "".join(row_html(row, mark) for row, mark in zip(self.rows, marks, strict=True))
        # JupyterLab would take the arrow keys from a frame without the attribute
        return (
            f'<div class="pcbchem-sheet" role="region" aria-label="{caption}" tabindex="0" '
            'data-lm-suppress-shortcuts="true" style="overflow-x:auto">'
            f'<table style="border-collapse:collapse;text-align:left">'
            f'<caption style="text-align:left;font-weight:600">{caption}</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
        )


def row_html(row: Sequence[str], mark: str) -> str:
    """Return a row as HTML; where it is marked its word stands under its name, beside a bar."""
    name, *cells = (html.escape(cell) for cell in row)
    style = CELL
    if mark:
        style = f"{CELL};{BAR}"
        name += f"<br><strong>{html.escape(mark)}</strong>"
    rest = "".join(f'<td style="{CELL}">{cell}</td>' for cell in cells)
    return f'<tr><th scope="row" style="{style}">{name}</th>{rest}</tr>'
