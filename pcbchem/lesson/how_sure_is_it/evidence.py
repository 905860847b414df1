"""What speaks for the model and what against it: each fact predicted from the others."""

from __future__ import annotations

import dataclasses

import numpy as np

from ...common import tables
from ...common.number_words import figures
from ...page.picture import (
    INK,
    NARROW,
    SIZE,
    SMALL,
    WIDE,
    Drawing,
    Picture,
    figure,
    picture_of,
    title_over,
)
from ...page.row_chart import ChartRow, RowChart

RATIOS = (0.2, 12.0)
"""Ends of the axis of what was predicted over what was seen [-]."""
# doubling and doubling again: on an axis of factors these are equal steps
TICKS = (0.25, 0.5, 1, 2, 4, 8)


KINDS = {"s": "time", "µm/min": "rate", "-": "ratio"}
"""What a fact is, by the unit in its table."""


@dataclasses.dataclass(frozen=True)
class LeftOut:
    """A fact and its prediction without it, all over the middle of what was seen [-]."""

    name: str
    practice: str
    kind: str
    low: float
    middle: float
    high: float
    seen_low: float
    seen_high: float

    @property
    def missed(self) -> bool:
        """Whether nothing that was seen lies in the band."""
        return self.low > self.seen_high or self.high < self.seen_low

    @property
    def beside(self) -> bool:
        """Whether the band meets what was seen, and its middle does not."""
        is_inside = self.seen_low <= self.middle <= self.seen_high
        return not self.missed and not is_inside

    @property
    def side(self) -> str:
        """How a miss misses, in words, for a time or a rate: what was seen over its nearest end."""
        if self.low > self.seen_high:
            factor = f"at least {figures(self.low / self.seen_high)} times what was seen"
            return f"predicted {factor}{self._pace(1.0)}"
        if self.high < self.seen_low:
            factor = f"at most {figures(self.high / self.seen_low)} times what was seen"
            return f"predicted {factor}{self._pace(-1.0)}"
        return ""

    @property
    def middle_words(self) -> str:
        """Name the fact with its middle [-] and the side it is on."""
        return f"{self.name} ({self.kind} ×{figures(self.middle)}{self._pace(self.middle - 1)})"

    def _pace(self, excess: float) -> str:
        """Say whether more than was seen (above 0), or less, is too quick or too slow [-]."""
        if self.kind not in ("time", "rate"):
            return ""
        # a long time is slow, a high rate is quick
        is_quick = (excess > 0) == (self.kind == "rate")
        return ", too quick" if is_quick else ", too slow"

    @property
    def words(self) -> str:
        """What was predicted, in times what was seen [-]: middle, ends, and whether it misses."""
        low, middle, high = (figures(end) for end in (self.low, self.middle, self.high))
        missed = ", missed" if self.missed else ""
        return f"×{middle} (×{low} to ×{high}){missed}"


def left_out_rows() -> list[LeftOut]:
    """List each fact left out in turn, from the table of the package [-]."""
    facts = []
    for row in tables.read("leave_one_out"):
        seen_low, seen_high = float(row["seen_low"]), float(row["seen_high"])
        # the middle on an axis of factors; where it may be more, what was seen at least
        scale = seen_low
        if np.isfinite(seen_high):
            scale = float(np.sqrt(seen_low * seen_high))
        low, middle, high = (float(row[name]) / scale for name in ("low", "middle", "high"))
        facts.append(
            LeftOut(
                row["fact"],
                row["practice"].replace("-", "–"),  # a range, as the page sets it
                KINDS[row["unit"]],
                low,
                middle,
                high,
                seen_low / scale,
                seen_high / scale,
            )
        )
    return facts


def left_out() -> Picture:
    """Draw each fact predicted from the others, beside what was seen: what agrees, what misses.

    Returns
    -------
    Picture
        With its narrow twin and its words.
    """
    facts = left_out_rows()
    missed = [fact.name for fact in facts if fact.missed]
    meet = f"{len(facts) - len(missed)} of {len(facts)} bands meet what was seen"
    title = f"{meet}; missed: {', '.join(missed) or 'none'}"
    lines = [f"{fact.name}, {fact.practice} seen: predicted {fact.words}" for fact in facts]
    alt = (
        f"{title}. Each fact predicted by a model that was not told it, in times what was seen. "
        f"{'; '.join(lines)}."
    )
    return picture_of(draw_left_out(facts, title, False), alt, draw_left_out(facts, title, True))


def draw_left_out(facts: list[LeftOut], title: str, narrow: bool) -> Drawing:
    """Draw facts left out: predicted over seen [-], and what was seen as dark bars."""
    height, width, size = (6.8, NARROW, SMALL) if narrow else (4.8, WIDE, SIZE)
    label = "predicted without being told, in times what was seen (dark bar: what was seen)"
    if narrow:
        label = "predicted, in times what was seen"
        title = title.replace("; ", ";\n")
    sheet = figure(height, width)
    names = [f"{fact.name}\n{fact.practice}" for fact in facts]
    chart = RowChart(sheet.subplots(), names, RATIOS, size, above=True)
    chart.axes.set_xticks(TICKS, [f"×{tick:g}" for tick in TICKS], fontsize=size, color=INK)
    chart.axes.set_xlabel(label, fontsize=size, color=INK)
    chart.seen({place: (fact.seen_low, fact.seen_high) for place, fact in enumerate(facts)})
    # the dotted line at 1: as was seen
    chart.draw([ChartRow(fact.low, fact.middle, fact.high, fact.words) for fact in facts], 1.0)
    title_over(sheet, title, size)
    return Drawing(sheet)


def missed_words() -> str:
    """Say plainly which facts the model misses and by how much, in Markdown.

    Returns
    -------
    str
        Each miss with its factor and its side [-], and what follows for a reader.
    """
    facts = left_out_rows()
    misses = [fact for fact in facts if fact.missed]
    if not misses:
        return f"All {len(facts)} bands meet what was seen."
    lines = [f"**{fact.name}** ({fact.practice} seen), {fact.kind} {fact.side}" for fact in misses]
    beside = [fact.middle_words for fact in facts if fact.beside]
    return (
        f"Missed: {'; '.join(lines)}. **A strong bath may be faster than "
        "this page says.** Covered, but with its "
        f"middle outside what was seen: {', '.join(beside) or 'none'}."
    )
