"""How words become the HTML of a card, and how much paper they take: so that it fits one page."""

from __future__ import annotations

import dataclasses
import functools
import html
import re
from collections.abc import Iterable

GAP, SIDES = 4.0, 5.0
"""Between two columns, and both sides of a frame with what they keep free [mm]."""
POINT = 25.4 / 72
"""A point [mm]."""
LINE, TIGHT = 1.07, 1.02
"""Height of a line over the size of its font [-], and on a card that is too full."""
DASH = 0.8
"""Width of the dash before a line of a list over the size of its font [-]."""
TICKS_LINE, TICKS_LEAST = 1.23, 3.95
"""The same of a line with boxes in it [-], and what their boxes take at least [mm]."""
ABOVE = 1.2
"""What a heading keeps free above it [mm]."""
HEADING = 1.12
"""Size of a heading over that of the words under it [-]."""
BOLD = 1.13
"""Width of bold letters over that of plain ones [-], in the widest of the fonts."""
WIDER = 1.03
"""Width of words in the widest font that a card may get, over that by `LETTERS` [-].

Where nothing like Arial is installed it is DejaVu Sans Condensed, measured on words of a card.
"""
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
class Setting:
    """How a card is set: size of its small print [pt], and how wide it is [mm]."""

    size: float
    width: float

    @property
    def column(self) -> float:
        """Return how wide one of two columns is [mm]."""
        return (self.width - GAP) / 2

    @property
    def inside(self) -> float:
        """Return how much room a frame leaves to what it holds [mm]."""
        return self.width - SIDES


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
    9.5 mm
    """
    of_letter = widths()
    width = sum(of_letter.get(letter, WIDEST) for letter in words)
    return WIDER * width * size * POINT


@functools.lru_cache(4096)
def lines_high(words: str, width: float, size: float) -> float:
    """Return how high words are [mm] in a column so wide [mm], in letters of a size [pt]."""
    text = GLUED.sub("\N{NO-BREAK SPACE}", words.replace("**", ""))
    letters = size
    # all of it is bold, not a few words
    if words.startswith("**") and words.endswith("**") and words.count("**") == 2:
        letters = BOLD * size
    space = width_of(" ", letters)
    count = 1
    used = 0.0
    # as a browser breaks lines: a word that finds no room begins the next one
    for word in text.split(" "):
        wide = width_of(word.replace("\N{NO-BREAK SPACE}", " "), letters)
        if used and used + space + wide > width:
            count += 1
            used = wide
        else:
            used += wide + space * bool(used)
    return count * LINE * size * POINT


def heading_high(size: float) -> float:
    """Return how high a heading with its margins is [mm] over words of a size [pt]."""
    return HEADING * LINE * size * POINT + ABOVE + 0.8


def paragraph(words: str, setting: Setting, kind: str = "") -> Block:
    """Write a paragraph over the whole width; nothing of no words."""
    if not words:
        return Block("", 0.0)
    wide = BOLD * setting.size if kind else setting.size
    high = lines_high(words, setting.width, wide) + 1.0
    return Block(f'<p class="{kind}">{marked(words)}</p>', high)


def listed(lines: Iterable[str]) -> str:
    """Write lines as a list."""
    return f"<ul>{''.join(f'<li>{marked(line)}</li>' for line in lines)}</ul>"


def list_high(lines: Iterable[str], width: float, size: float) -> float:
    """Return how high a list of lines is [mm] in a column so wide [mm]."""
    return sum(lines_high(line, width - DASH * size * POINT, size) + 0.3 for line in lines)


def columns(sections: Iterable[Section], setting: Setting) -> Block:
    """Write sections into two columns, as high as each other as they go; no line is parted.

    Parameters
    ----------
    sections : iterable of Section
        In order: down the first column, then down the second.
    setting : Setting
        Of the card.
    """
    texts = []
    heights: list[float] = []
    for each in sections:
        heading = ""
        # a heading never parts from its first line
        above = 0.5
        if each.heading:
            heading = f"<h2>{html.escape(each.heading)}</h2>"
            above += heading_high(setting.size)
            # the first begins at the very top
            if not heights:
                above -= ABOVE
        for line in each.lines:
            heights.append(above + list_high([line], setting.column, setting.size))
            above = 0.0
        if each.under.html:
            heights.append(each.under.height)
        texts.append(f"<section>{heading}{listed(each.lines)}{each.under.html}</section>")
    splits = range(len(heights) + 1)
    high = min(max(sum(heights[:at]), sum(heights[at:])) for at in splits) + 1.2
    return Block(f'<div class="two">{"".join(texts)}</div>', high)


def ticks(heading: str, things: Iterable[str], setting: Setting) -> Block:
    """Write things in a row, each with a box to tick, behind their heading."""
    every = tuple(things)  # it is gone through twice
    spans = " ".join(f'<span class="tick">{html.escape(thing)}</span>' for thing in every)
    used = width_of(f"{heading} ", HEADING * BOLD * setting.size)
    rows = 1
    for thing in every:
        # its box and the gap behind it
        wide = width_of(f"{thing} ", setting.size) + 6.5
        if used + wide > setting.width:
            rows += 1
            used = 0.0
        used += wide
    high = max(TICKS_LEAST, TICKS_LINE * setting.size * POINT)
    text = f'<section class="ready"><h2 class="run">{html.escape(heading)}</h2> {spans}</section>'
    return Block(text, rows * high + 1.4)


def blank(words: str) -> str:
    """Write something to fill in, as HTML: its name, and a line."""
    return f'<span>{html.escape(words)} <span class="blank"></span></span>'
