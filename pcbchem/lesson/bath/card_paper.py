"""How words become the HTML of a card, and how much paper they take: so that it fits one page."""

from __future__ import annotations

import dataclasses
import functools
import html
import re
from collections.abc import Iterable

WIDTH, COLUMN = 196.0, 96.0
"""Width of the card and of a column [mm]: A4, the narrower of the two, less its margins."""
POINT = 25.4 / 72
"""A point [mm]."""
LINE = 1.11
"""Height of a line over the size of its font [-]."""
DASH = 0.8
"""Width of the dash before a line of a list over the size of its font [-]."""
TICKS_LINE = 1.2
"""The same of a line with boxes in it [-]."""
HEADING = 1.12
"""Size of a heading over that of the words under it [-]."""
BOLD = 1.07
"""Width of bold letters over that of plain ones [-]."""
LETTERS = {
    0.222: "ijl'|`",
    0.278: " !,./:;I[]ft",
    0.333: "()-r²",
    0.4: "°*",
    0.5: "ckvxyzsJ",
    0.556: "0123456789abdeghnopquL_?µ–",
    0.584: "+<=>×",
    0.611: "FTZ",
    0.667: "&ABEKPSVXY",
    0.722: "CDHNRUw",
    0.778: "GOQ",
    0.833: "Mm",
    0.889: "%",
    0.944: "W",
}
"""Letters by their width over the size of the font [-]: of the fonts that the card asks for."""
WIDEST = 1.0
"""Width of any other letter [-]: a line too many costs less than a line cut off."""
UNITS = "µm|mL|US fl oz|°C|%|min|s|h|cm²|mm|oz|g/L|mol/L"
GLUED = re.compile(
    rf"(?<=\d) (?=(?:{UNITS})(?!\w))|(?<=US) (?=fl)|(?<=fl) (?=oz)|"
    r"(?<=\d) (?=[×]|to \d)|(?<=×) |(?<=\d to) (?=\d)|(?<=\d min) (?=\d+ s\b)"
)
"""A space before a unit, or between both ends of a band: nothing of a quantity is parted."""


@dataclasses.dataclass(frozen=True)
class Block:
    """A piece of the card: its HTML, and how high it will be [mm] by our estimate."""

    html: str
    height: float


@dataclasses.dataclass(frozen=True)
class Section:
    """A heading ("": none), its lines, and what stands under them."""

    heading: str
    lines: list[str]
    under: Block = Block("", 0.0)


def height_of(blocks: Iterable[Block]) -> float:
    """Return how high blocks are together [mm]."""
    return sum(block.height for block in blocks)


def marked(words: str) -> str:
    """Write words of the bench as HTML: bold is bold, and no number is parted from its unit.

    Examples
    --------
    >>> print(marked("acid: **75 mL**"))
    acid: <strong>75&nbsp;mL</strong>
    """
    text = GLUED.sub("\N{NO-BREAK SPACE}", html.escape(words, quote=False))
    text = re.sub(r"\*\*(.+?)\*\*", r"<strong>\1</strong>", text)
    return text.replace("\N{NO-BREAK SPACE}", "&nbsp;")


@functools.cache
def widths() -> dict[str, float]:
    """Return the width of each letter over the size of its font [-]."""
    return {letter: width for width, letters in LETTERS.items() for letter in letters}


def width_of(words: str, size: float) -> float:
    """Return how wide words are [mm] in letters of a size [pt], all in one line.

    Examples
    --------
    >>> print(f"{width_of('Mix it.', 10):.1f} mm")
    9.2 mm
    """
    of_letter = widths()
    return sum(of_letter.get(letter, WIDEST) for letter in words) * size * POINT


@functools.lru_cache(4096)
def lines_high(words: str, width: float, size: float) -> float:
    """Return how high words are [mm] in a column so wide [mm], in letters of a size [pt]."""
    text = GLUED.sub("\N{NO-BREAK SPACE}", words.replace("**", ""))
    space = width_of(" ", size)
    count = 1
    used = 0.0
    # as a browser breaks lines: a word that finds no room begins the next one
    for word in text.split(" "):
        wide = width_of(word.replace("\N{NO-BREAK SPACE}", " "), size)
        if used and used + space + wide > width:
            count += 1
            used = wide
        else:
            used += wide + space * bool(used)
    return count * LINE * size * POINT


def heading_high(size: float) -> float:
    """Return how high a heading with its margins is [mm] over words of a size [pt]."""
    return HEADING * LINE * size * POINT + 2.0


def paragraph(words: str, size: float, kind: str = "") -> Block:
    """Write a paragraph over the whole width, in letters of a size [pt]; nothing of no words."""
    if not words:
        return Block("", 0.0)
    wide = BOLD * size if kind else size
    return Block(f'<p class="{kind}">{marked(words)}</p>', lines_high(words, WIDTH, wide) + 1.0)


def listed(lines: Iterable[str]) -> str:
    """Write lines as a list."""
    return f"<ul>{''.join(f'<li>{marked(line)}</li>' for line in lines)}</ul>"


def list_high(lines: Iterable[str], width: float, size: float) -> float:
    """Return how high a list of lines is [mm] in a column so wide [mm]."""
    return sum(lines_high(line, width - DASH * size * POINT, size) + 0.3 for line in lines)


def columns(sections: Iterable[Section], size: float, flowing: bool = False) -> Block:
    """Write sections into two columns, as high as each other as they go.

    Parameters
    ----------
    sections : iterable of Section
        In order: down the first column, then down the second.
    size : float
        Of their letters [pt].
    flowing : bool
        Whether a line of the list may begin in one column and end in the next.
    """
    texts = []
    heights = []
    for each in sections:
        heading = ""
        # a heading never parts from its first line
        above = 0.5
        if each.heading:
            heading = f"<h2>{html.escape(each.heading)}</h2>"
            above += heading_high(size)
        for line in each.lines:
            heights.append(above + list_high([line], COLUMN, size))
            above = 0.0
        if each.under.html:
            heights.append(each.under.height)
        texts.append(f"<section>{heading}{listed(each.lines)}{each.under.html}</section>")
    one_line = LINE * size * POINT
    if flowing:
        high = sum(heights) / 2 + one_line
    else:
        splits = range(len(heights) + 1)
        high = min(max(sum(heights[:at]), sum(heights[at:])) for at in splits) + 1.2
    kind = "two flow" if flowing else "two"
    return Block(f'<div class="{kind}">{"".join(texts)}</div>', high)


def ticks(heading: str, things: Iterable[str], size: float) -> Block:
    """Write things in a row, each with a box to tick, behind their heading [size in pt]."""
    every = tuple(things)  # it is gone through twice
    spans = " ".join(f'<span class="tick">{html.escape(thing)}</span>' for thing in every)
    used = width_of(f"{heading} ", HEADING * BOLD * size)
    rows = 1
    for thing in every:
        # its box and the gap behind it
        wide = width_of(f"{thing} ", size) + 6.5
        if used + wide > WIDTH:
            rows += 1
            used = 0.0
        used += wide
    text = f'<section class="ready"><h2 class="run">{html.escape(heading)}</h2> {spans}</section>'
    return Block(text, rows * TICKS_LINE * size * POINT + 1.4)


def blank(words: str) -> str:
    """Write something to fill in, as HTML: its name, and a line."""
    return f'<span>{html.escape(words)} <span class="blank"></span></span>'
