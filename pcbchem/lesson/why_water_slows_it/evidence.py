"""What speaks for the page on water and what could speak against it: facts left out, and a test that can fail."""

from __future__ import annotations

import dataclasses

import numpy as np

from ...common import tables
from ...common.number_words import figures
from ...page.picture import INK, NARROW, WIDE, Drawing, Picture, figure, picture
from ...page.row_chart import SIZE, SMALL, Row, Rows
from ..trust import seen
from .numbers import TEST, two_offcuts

RATIOS = (0.2, 12.0)
"""Ends of the axis of what was predicted over what was seen [-]."""
TICKS = (0.25, 0.5, 1, 2, 4, 8)


@dataclasses.dataclass(frozen=True)
class LeftOut:
    """A fact and its prediction without it, all over the middle of what was seen [-]."""

    name: str
    practice: str
    low: float
    middle: float
    high: float
    seen: tuple[float, float]


def left_out_rows() -> list[LeftOut]:
    """Each fact left out in turn, from the table of the package [-]."""
    found = []
    for row in tables.read("leave_one_out"):
        low, middle, high = (float(row[name]) for name in ("low", "middle", "high"))
        least, most = seen(row["practice"], row["unit"])
        scale = float(np.sqrt(least * most)) if np.isfinite(most) else least
        found.append(
            LeftOut(
                row["fact"],
                row["practice"].replace("-", "–"),
                low / scale,
                middle / scale,
                high / scale,
                (least / scale, most / scale),
            )
        )
    return found


def missed(rows: list[LeftOut]) -> list[str]:
    """Facts of which nothing that was seen lies in the band, by name."""
    return [named(row) for row in rows if row.low > row.seen[1] or row.high < row.seen[0]]


def named(row: LeftOut) -> str:
    """A fact as the page calls it: there the film is the liquid, and what a laboratory etched is a layer."""
    return row.name.replace("film", "layer")


def told(row: LeftOut) -> str:
    """What was predicted, in times what was seen [-]: middle, ends, and whether it misses."""
    low, middle, high = (figures(end) for end in (row.low, row.middle, row.high))
    return f"×{middle} (×{low} to ×{high}){', missed' if missed([row]) else ''}"


def left_out() -> Picture:
    """Each fact predicted from the others, beside what was seen: where the page agrees, and where it misses.

    Returns
    -------
    Picture
        With its narrow twin and its words.
    """
    rows = left_out_rows()
    off = missed(rows)
    title = f"{len(rows) - len(off)} of {len(rows)} bands meet what was seen; missed: {', '.join(off) or 'none'}"
    said = "; ".join(f"{named(row)}, {row.practice} seen: predicted {told(row)}" for row in rows)
    alt = f"{title}. Each fact predicted by a model that was not told it, in times what was seen. {said}."
    wide, narrow = (drawn(rows, title, small) for small in (False, True))
    return picture(wide, alt, narrow)


def drawn(rows: list[LeftOut], title: str, narrow: bool) -> Drawing:
    """The picture of facts left out: predicted over seen [-], what was seen as dark bars."""
    size = SMALL if narrow else SIZE
    made = figure(6.8 if narrow else 4.8, NARROW if narrow else WIDE)
    names = [f"{named(row)}\n{row.practice}" for row in rows]
    chart = Rows(made.subplots(), names, RATIOS, size, above=True)
    chart.axes.set_xticks(TICKS, [f"×{tick:g}" for tick in TICKS], fontsize=size, color=INK)
    chart.axes.set_xlabel(
        "predicted, in times what was seen"
        if narrow
        else "predicted without being told, in times what was seen (dark bar: what was seen)",
        fontsize=size,
        color=INK,
    )
    chart.seen({k: row.seen for k, row in enumerate(rows)})
    chart.draw([Row(row.low, row.middle, row.high, told(row)) for row in rows], 1.0)
    title = title.replace("; ", ";\n") if narrow else title
    made.suptitle(title, x=0.01, ha="left", fontsize=size + 1, fontweight="bold", color=INK)
    return Drawing(made)


def offcut_words() -> str:
    """The experiment that would prove the page wrong, with the ratio to expect [-], in Markdown.

    Returns
    -------
    str
        What to do, what to expect with its band, and what a ratio near strength alone would mean.
    """
    times, ratio = two_offcuts()
    alone, expected = figures(times), figures(float(ratio.middle))
    low, high = figures(float(ratio.low)), figures(float(ratio.high))
    return (
        "Etch two offcuts of one board, one after the other, each in a fresh little bath of its own: the first in "
        f"the workshop's mixture, the second in the same with {figures(TEST)} parts of water ({alone} times "
        "weaker), as much bath for the copper in both. Time each with a stopwatch. This page expects the second "
        f"to take **{expected} times** as long as the first ({low} to {high} in 8 of 10 plausible baths).\n\n"
        f"- **About {alone}**: strength alone explains it. The page is wrong about gas and warmth in this bath.\n"
        f"- **Between {alone} and {low}**: undecided. Do it again.\n"
        f"- **{low} to {high}**: the page has passed a test that it could have failed.\n"
        f"- **Above {high}**, and again when you repeat it: water slows it more than the page says."
    )
