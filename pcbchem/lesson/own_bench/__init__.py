"""What does my own bench say? Readings of my bottles, a log of my offcuts, my artwork."""

from __future__ import annotations

from ...page.folder import own_folder
from ...page.widget.afterwards import Afterwards
from ...page.widget.panel import Panel
from .artwork_panel import panel_of_artwork
from .bench import Bench
from .bottle_panel import panel_of_bottle
from .offcut_panel import panel_of_offcuts

__all__ = ["Bench", "bench_of", "panel_of_artwork", "panel_of_bottle", "panel_of_offcuts", "panels"]

NOT_FOR_A_CLASS = "*Your own bench* is not on a page for a class: what it reads are amounts."


def bench_of() -> Bench:
    """Return a bench whose files lie in the folder of the page, if that is its reader's."""
    return Bench(own_folder())


def panels(school: bool) -> list[Panel | Afterwards | None]:
    """Make the three panels of one bench: bottle, offcuts and artwork.

    Parameters
    ----------
    school : bool
        For a class: words in their place, and no panel.

    Returns
    -------
    list
        What the three cells of a page show, in order; None: nothing.
    """
    if school:
        return [Afterwards(NOT_FOR_A_CLASS), None, None]
    bench = bench_of()
    return [panel_of_bottle(bench), panel_of_offcuts(bench), panel_of_artwork()]
