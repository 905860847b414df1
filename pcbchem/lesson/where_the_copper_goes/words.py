"""What is said of a tray and of its warmth: title, sentence and picture in words, in one place."""

from __future__ import annotations

from ...common.number_words import degrees, figures
from ...common.units import to_celsius
from ...page.picture import Words
from .numbers import EQUAL, Tent, Warmth, too_warm, wanted

NAMES = {"HCl": "acid", "H2O2": "peroxide"}
"""What people call the two reagents."""
PARTS_OF_IT = {
    2: "half",
    3: "a third",
    4: "a quarter",
    5: "a fifth",
    6: "a sixth",
    7: "a seventh",
    8: "an eighth",
    9: "a ninth",
    10: "a tenth",
}
"""Shares in words, by how many of them make one [-]."""
LATER = "left standing it may get far hotter"
"""What is said of the workshop's bath, wherever its warmth while it etches is."""
WHOLE = 20.0
"""From so many boards on no tenth of one is said [-]."""


def ratio_words(parts: float) -> str:
    """Write parts of peroxide to one of acid [-] as people do.

    Examples
    --------
    >>> print(ratio_words(2.0), "|", ratio_words(0.387))
    1 : 2 | 1 : 0.39
    """
    return f"1 : {figures(parts)}"


def boards_words(boards: float) -> str:
    """Write a count of boards [-]: with a tenth where there are few.

    Examples
    --------
    >>> print(boards_words(5.538), boards_words(28.34))
    5.5 28
    """
    if boards < WHOLE:
        return f"{boards:.1f}"
    return f"{boards:.0f}"


def first_words(tent: Tent, place: int) -> str:
    """Say which of the two runs out first at a place of the slider, as a sentence begins."""
    if tent.together(place):
        return "Both run out together"
    return f"The {NAMES[str(tent.first[place])]} runs out first"


def question_words(tent: Tent, place: int) -> Words:
    """Say the question at a place of the slider, and nothing of the answer.

    Parameters
    ----------
    tent : Tent
        Over all parts of peroxide.
    place : int
        Which of them [-].

    Returns
    -------
    Words
        Parts and bottle, and no count.
    """
    title = f"{ratio_words(tent.parts[place])} with {tent.bottle:g} % peroxide: how many boards?"
    return Words(
        title,
        "Predict first: then the answer appears here.",
        f"{title} An empty picture: boards that the tray's bath can carry, over the share of "
        "peroxide in it. The answer appears when you have predicted.",
    )


def answer_words(tent: Tent, place: int, guess: str = "") -> Words:
    """Say what the tray can carry at a place of the slider.

    Parameters
    ----------
    tent : Tent
        Over all parts of peroxide.
    place : int
        Which of them [-].
    guess : str
        What the hollow mark stands for, where one is drawn.

    Returns
    -------
    Words
        Boards by each reagent, what runs out first, and what is left of the other [-].
    """
    parts = float(tent.parts[place])
    boards = boards_words(float(tent.carried[place]))
    ratio, first = ratio_words(parts), first_words(tent, place)
    title = f"{tent.bottle:g} % peroxide, {ratio}: copper of {boards} boards. {first}"
    by_acid, by_peroxide = (boards_words(float(by[place])) for by in (tent.acid, tent.peroxide))
    left = ""
    if not tent.together(place):
        other = "peroxide" if str(tent.first[place]) == "HCl" else "acid"
        left = f", {100 * tent.left(place):.0f} % of the {other} is left"
    equal = boards_words(float(tent.carried[tent.at(EQUAL)]))
    before = "" if parts == EQUAL else f" At {ratio_words(EQUAL)} it is {equal} boards."
    readout = (
        f"{ratio} with {tent.bottle:g} % peroxide: acid for {by_acid} boards, peroxide for "
        f"{by_peroxide}. {first}{left}.{before}"
    )
    if tent.together(place):
        readout += " That is the most by count, and not the mix to pour."
    _, top = tent.top
    mark = f" Your prediction, {guess}, is a hollow mark." if guess else ""
    alt = (
        f"{title}. Boards whose copper the tray's bath can carry, over the share of peroxide in "
        f"it: a tent, from 0 at acid only up to {boards_words(top)} at "
        f"about {ratio_words(tent.top_parts)} and down to 0 at peroxide only. Left of its top the "
        "peroxide runs out first, right of it the acid; dotted lines go on with what the other "
        f"could carry. Its top is not the mix to pour. {wanted():g} boards' worth is the planner's "
        f"least; one board, one bath is 1.{mark} {readout}"
    )
    return Words(title, readout, alt)


def degrees_words(temperature: float) -> str:
    """Write a temperature [K in] as people do: "63 °C"."""
    return f"{float(to_celsius(temperature)):.0f} °C"


def part_words(share: float) -> str:
    """Write a share of the workshop's bath [-] in words: a bath that is refused shows no volume.

    Examples
    --------
    >>> print(part_words(0.12), "|", part_words(0.36))
    about an eighth | about a third
    """
    return f"about {PARTS_OF_IT[round(1 / share)]}"


def name_words(warmth: Warmth, usual: Warmth, short: bool = False) -> str:
    """Say which bath it is: times the copper by count, and its share of the workshop's [-]."""
    if warmth is usual:
        return f"the workshop's bath: {warmth.times:.0f} times that"
    share = part_words(warmth.room / usual.room)
    if warmth.times == 1:
        return f"just enough{':' if short else ' by count,'} {share} of the workshop's bath"
    return f"{warmth.times:g} times that, the planner's least"


def row_words(warmth: Warmth, short: bool = False) -> str:
    """Say how warm a bath gets [K], and what is bad about it.

    Parameters
    ----------
    warmth : Warmth
        Of one bath.
    short : bool
        Without the ends between which 8 of 10 plausible baths lie.
    """
    said = degrees_words(float(warmth.warmest.middle))
    if not short:
        said += f" ({degrees(warmth.warmest).removesuffix(' °C')})"
    if warmth.refused:
        return f"{said}: refused"
    if float(warmth.warmest.high) > too_warm():
        return f"{said}: can get too warm"
    return f"{said}; {'later maybe' if short else 'left standing maybe'} far hotter"


def warmth_words(rows: tuple[Warmth, ...]) -> Words:
    """Say how warm a bath gets where there is less of it [K].

    Parameters
    ----------
    rows : tuple of Warmth
        From just enough by count to the workshop's own bath.

    Returns
    -------
    Words
        Warmest in the bath over the plausible baths [°C], and which of them the planner refuses.
    """
    least, usual = rows[0], rows[-1]
    title = "Most of the bath is there for the heat, not for the copper"
    hot, mild = (degrees_words(float(row.warmest.middle)) for row in (least, usual))
    readout = (
        f"With {part_words(least.room / usual.room)} of the workshop's bath, just enough by count, "
        f"half of the plausible baths get to {hot} or more. The workshop's: {mild} while it "
        f"etches; {LATER}: stay with it."
    )
    named = [f"{name_words(row, usual)}: {row_words(row)}" for row in rows]
    listed = ". ".join(f"{words[:1].upper()}{words[1:]}" for words in named)
    alt = (
        f"{title}. Bars of the warmest in the bath while it etches, from 20 °C on, middle and 8 of "
        f"10 plausible baths. {listed}. A line at {degrees_words(too_warm())}: lift the board "
        f"out. {LATER.capitalize()}."
    )
    return Words(title, readout, alt)
