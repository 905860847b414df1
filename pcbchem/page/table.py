"""Tables as a page shows them, and a line that counts while a search runs."""

from __future__ import annotations

import dataclasses
import html
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np
import pandas

from ..common.number_words import figures

CELL = "text-align:left;padding:4px"  # narrow, so that a table fits a telephone


def shown(value: Any) -> str:
    """What stands in a cell of a table: a number to 3 figures [any unit], "never" for infinity, blank for NaN.

    Examples
    --------
    >>> print([shown(v) for v in (1249.6, 0.08, 0.002, 0.0, float("inf"), float("nan"), "acid")])
    ['1250', '0.08', 'under 0.01', '0', 'never', '', 'acid']
    """
    if not isinstance(value, float):
        return str(value)
    if 0 < value < 0.01:
        return "under 0.01"
    return "" if np.isnan(value) else figures(round(value, 2), 3) if np.isfinite(value) else "never"


@dataclasses.dataclass(frozen=True)
class Sheet:
    """A table as a page shows it: nothing cut short, read from the left, the column `beneath` as text under it.

    `caption` says above it what its numbers are.
    """

    frame: pandas.DataFrame
    beneath: str = ""
    caption: str = ""

    def _repr_html_(self) -> str:
        import pandas

        with pandas.option_context("display.max_colwidth", None):
            table = self.frame.drop(columns=self.beneath or []).map(shown)
            text = table.rename_axis(None).to_html(border=0)
        if self.beneath:
            notes: dict[str, list[str]] = {}
            for name, note in self.frame[self.beneath].items():
                notes.setdefault(str(note), []).append(str(name))
            lines = "".join(
                f"<br>{' · '.join(names)}: {html.escape(note)}" for note, names in notes.items()
            )
            text += f"<p>{self.beneath.capitalize()}{lines}</p>"
        if self.caption:
            above = (
                f'<caption style="{CELL};caption-side:top">{html.escape(self.caption)}</caption>'
            )
            text = re.sub(r"(<table [^>]*>)", lambda opened: opened[1] + above, text, count=1)
        return (
            text.replace("<table ", '<table style="text-align:left" ')
            .replace("<th>", f'<th style="{CELL}">')
            .replace("<td>", f'<td style="{CELL}">')
            .replace(' style="text-align: right;"', "")
        )


@contextmanager
def counting(what: str = "tried") -> Iterator[Callable[[int, int], None]]:
    """A line on the page that counts while a search runs, "tried 120 of 462", and is gone when it ends.

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
        return {
            "text/plain": text,
            "text/html": f'<div role="status">{html.escape(text)}</div>' if text else "",
        }

    handle: Any = DisplayHandle()  # type: ignore[no-untyped-call]
    handle.display(line(""), raw=True)
    try:
        yield lambda done, total: handle.update(line(f"{what} {done} of {total}"), raw=True)
    finally:
        handle.update(line(""), raw=True)
