"""One line that people read: its words, whom they are from, and when that was read."""

from __future__ import annotations

import dataclasses


@dataclasses.dataclass(frozen=True)
class Caution:
    """One thing to take care of, or one law, in plain sentences.

    Parameters
    ----------
    topic : str
        What it is about.
    words : str
        What to do, and why.
    source : str
        Citations, "common practice, no source" or "our limit".
    as_of : str
        When it was read.
    layer : int
        When it is needed [-], a key of `caution.LAYERS`; 0 where it belongs to none: the law on a
        bottle, and the cautions of a method.
    number : int
        Which line of its layer it is [-], from 1; all rows of the table of strengths are one line.
    works : tuple of str
        What `source` cites, one by one.
    """

    topic: str
    words: str
    source: str
    as_of: str
    layer: int = 0
    number: int = 0
    works: tuple[str, ...] = ()
