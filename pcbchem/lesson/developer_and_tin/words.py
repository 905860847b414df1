"""What is said of lye and of tin: title, live sentence and picture in words, from the numbers."""

from __future__ import annotations

from ...bench.resist import practice
from ...common.band import Band
from ...common.number_words import figures
from ...common.units import cm
from ...page.picture import Words, in_one_line
from .numbers import (
    BEAKER,
    BOTTLE,
    DISH,
    MILLIMOLE,
    TIN,
    Left,
    carried,
    coating,
    fresh_grams,
    lye_left,
    traces,
    weakest,
)

FILM_WORDS = {
    "positive": "film that light\nmakes soluble",
    "negative": "film that\nlight hardens",
}
"""Names of both films, as they stand before their boxes."""
BOX_WORDS = {
    ("positive", "weak"): "too weak",
    ("positive", "develops"): "develops",
    ("positive", "harsh"): "harsh",
    ("positive", "strips"): "eats the\npicture",
    ("negative", "weak"): "too weak",
    ("negative", "harsh"): "wears the\npicture off",
    ("negative", "strips"): "strips it\noff the board",
}
"""What stands in each box, by film and word of practice."""
VESSEL_WORDS = {
    DISH: "the flat dish",
    BEAKER: "a tall beaker",
    BOTTLE: "a labelled bottle with a lid",
}
"""How a sentence names what the developer stands in."""
RINSE_WORDS = {0: "Not rinsed", 1: "Rinsed in a fresh dish", 2: "Rinsed in two fresh dishes"}
"""How a sentence begins, by the dishes."""
WAITS = "Predict first: then the answer appears here."
BURNS = "However old, it burns eyes: goggles. Weak lye is never topped up."
"""The last sentence under the first picture, whatever is left."""
ALL_WASTE = "Each bath has dishes of its own; their water is waste as the bath is."
"""The last sentence under the second one, whatever was rinsed."""
BEFORE = "Developer mixed this morning, not used: how much lye is left?"
BEFORE_TIN = "Boards go in dripping: after how many is the tin gone?"
"""Titles before a prediction."""
ON_BOARD, KILLED = "stays on the board\nas its coating", "killed by what\nclings to a board"
"""Names of the rows of tin."""


def hours_words(hours: int) -> str:
    """Write whole hours: "1 hour", "6 hours"."""
    return f"{hours} hour{'s' * (hours != 1)}"


def grams_words(lye: float) -> str:
    """Write lye [g/L, as kg/m³] to a tenth, without the unit.

    Examples
    --------
    >>> print(grams_words(6.31), grams_words(12.49), grams_words(0.02))
    6.3 12.5 0.0
    """
    return f"{lye:.1f}"


def span_words(band: Band) -> str:
    """Write both ends of a band of lye [g/L, as kg/m³] to a tenth: "3.1 to 9.0"."""
    return f"{grams_words(float(band.low))} to {grams_words(float(band.high))}"


def millimoles_words(amount: float) -> str:
    """Write an amount [mol] in mmol to two figures, without the unit.

    Examples
    --------
    >>> print(millimoles_words(2.124e-3), millimoles_words(1.02e-7))
    2.1 0.0001
    """
    return figures(amount / MILLIMOLE, 2 if amount >= 1e-6 else 1)


def boxes_words() -> str:
    """Describe both rows of boxes, with what lye does by its strength."""
    rows = []
    for film, name in FILM_WORDS.items():
        boxes = [
            f"from {band.low:g} g/L {in_one_line(BOX_WORDS[film, band.word])}"
            for band in practice(film)
        ]
        rows.append(f"{in_one_line(name)}: {', '.join(boxes)}")
    return f"Two rows of boxes. {'. '.join(rows)}."


def lye_question() -> Words:
    """Say the first question, and nothing of its answer."""
    alt = (
        f"{BEFORE} An axis of lye, 0 to 26 g/L, with a dashed line at "
        f"{grams_words(fresh_grams())}, mixed this morning. {boxes_words()} {WAITS}"
    )
    return Words(BEFORE, WAITS, alt)


def lye_words(left: Left, guess: str = "") -> Words:
    """Say what is left of the developer.

    Parameters
    ----------
    left : Left
        After so many hours in a vessel.
    guess : str
        What the hollow mark stands for, where one is drawn.
    """
    morning, now = grams_words(fresh_grams()), grams_words(float(left.lye.middle))
    when = hours_words(left.hours) if left.hours else "Just mixed"
    place = f"{when} in {VESSEL_WORDS[left.vessel]}"
    title = f"{place}, nothing developed: {now} of {morning} g/L left"
    span = span_words(left.lye)
    # ends that read alike would look like certainty
    is_narrow = len(set(span.split(" to "))) == 1
    cases = "in all cases" if is_narrow else f"{span} in 8 of 10 cases"
    readout = (
        f"{place}: {now} g/L left of {morning} ({cases}). Too weak for film "
        f"that light makes soluble (under {weakest():g} g/L) in {left.weak} of {left.cases} cases. "
        f"{BURNS}"
    )
    mark = f" Your prediction, “{guess}”, is a hollow diamond." if guess else ""
    alt = (
        f"{title}. On an axis of lye, 0 to 26 g/L, a dot at {now} in a bar from {span}, and a "
        f"thick line down from it; a dashed line at {morning}, mixed this morning. {boxes_words()}"
        f"{mark} {readout}"
    )
    return Words(title, readout, alt)


def tin_question() -> Words:
    """Say the second question, and nothing of its answer."""
    names = ", ".join(in_one_line(name) for name in (ON_BOARD, KILLED))
    alt = (
        f"{BEFORE_TIN} Two empty rows on an axis of tin in mmol, where each line is a factor of "
        f"100: {names}. A line at {TIN / MILLIMOLE:g}, all the tin in the bath. {WAITS}"
    )
    return Words(BEFORE_TIN, WAITS, alt)


def tin_words(dishes: int, guess: str = "") -> Words:
    """Say what a board takes out of the tin bath.

    Parameters
    ----------
    dishes : int
        In how many it was rinsed.
    guess : str
        What the hollow mark stands for, where one is drawn.
    """
    board = carried(dishes)
    least, most = (millimoles_words(end) for end in coating())
    low, middle, high = (
        millimoles_words(float(end))
        for end in (board.killed.low, board.killed.middle, board.killed.high)
    )
    boards = f"{float(board.boards.middle):.0f}"
    first, last = (f"{float(end):.0f}" for end in (board.boards.low, board.boards.high))
    # ends that are nearly one number would look like certainty
    is_wide = float(board.boards.high) > 1.02 * float(board.boards.low)
    span = f" ({first} to {last} in 8 of 10 cases)" if is_wide else ""
    title = f"{RINSE_WORDS[dishes]}: after {boards} boards the tin is gone"
    readout = (
        f"{RINSE_WORDS[dishes]}: what clings to a board kills {middle} mmol of tin ({low} to "
        f"{high}). {least} to {most} stay on its {traces() / cm**2:.0f} cm² of copper. Of "
        f"{TIN / MILLIMOLE:g} mmol none is left after {boards} boards at the latest{span}. "
        f"{ALL_WASTE}"
    )
    mark = f" Your prediction, “{guess}”, is a hollow diamond." if guess else ""
    alt = (
        f"{title}. Tin in mmol, on an axis where each line is a factor of 100: "
        f"{in_one_line(ON_BOARD)}, a bar from {least} to {most}; {in_one_line(KILLED)}, a dot at "
        f"{middle} in a bar from {low} to {high}; a line at {TIN / MILLIMOLE:g}, all the tin in "
        f"the bath.{mark} {readout}"
    )
    return Words(title, readout, alt)


def left_at_question() -> tuple[str, str]:
    """Write what is left at the hours asked, and its band [g/L]."""
    left = lye_left()
    return grams_words(float(left.lye.middle)), span_words(left.lye)
