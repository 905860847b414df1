"""What is lye of a strength good for, in words of practice and for both kinds of film?

All of it is common practice and of no film in particular. No minutes are told: what decides is a
step strip on an offcut.
"""

from __future__ import annotations

import dataclasses

from ...common.limits import InputError, check_choice, check_number
from ...common.tables import cited, read
from .lye import TEMPERATURES, checked_strength

FILMS = ("positive", "negative")
"""Kinds of film: light makes the first soluble, and hardens the second."""
NO_MINUTES = (
    "No minutes are told for any film: they hang on film, lamp, exposure and age. A step strip on "
    "an offcut decides."
)
"""Why no time stands here."""
TOO_WARM = "lye above 50 °C is refused: it spits and burns the faster, and no film here needs it"
"""What is said of hotter lye."""
COLDER = "Colder than {low:.0f} °C it is weaker than that."
WARMER = "Warmer than {high:.0f} °C it is harsher than that."
"""What is added where lye is not as warm as the words hold for."""


@dataclasses.dataclass(frozen=True)
class Practice:
    """What lye between two strengths does to a film.

    Parameters
    ----------
    film : str
        "positive" or "negative".
    word : str
        "weak", "develops", "harsh" or "strips".
    low, high : float
        From which strength to which [kg/m³, as g/L].
    T_low, T_high : float
        How warm the words hold for [K].
    words : str
        The same in a sentence.
    source : str
        Who says so.
    status : str
        "common practice", or what else it stands on.
    as_of : str
        When it was written down.
    """

    film: str
    word: str
    low: float
    high: float
    T_low: float
    T_high: float
    words: str
    source: str
    status: str
    as_of: str


def practice(film: str) -> tuple[Practice, ...]:
    """List what lye does to a film, from the weakest on.

    Parameters
    ----------
    film : str
        "positive": light makes it soluble; "negative": light hardens it.

    Returns
    -------
    tuple of Practice
        Each begins where the one before it ends; from 0 to 50 g/L.

    Raises
    ------
    InputError
        Another film.

    Examples
    --------
    >>> print([row.word for row in practice("positive")])
    ['weak', 'develops', 'harsh', 'strips']
    """
    check_choice("film", film, FILMS)
    return tuple(
        Practice(
            film,
            row["word"],
            float(row["low_g_per_L"]),
            float(row["high_g_per_L"]),
            float(row["low_T_K"]),
            float(row["high_T_K"]),
            row["words"],
            cited(row),
            row["status"],
            row["as_of"],
        )
        for row in read("resist_baths")
        if row["film"] == film
    )


def in_practice(strength: float, film: str, T: float = 293.15) -> Practice:
    """Say what lye of a strength does to a film.

    Parameters
    ----------
    strength : float
        Lye [kg/m³, as g/L], 0 to 50.
    film : str
        "positive" or "negative".
    T : float
        How warm it is [K], 273.15 to 323.15.

    Returns
    -------
    Practice
        Its words say too where it is colder or warmer than they hold for.

    Raises
    ------
    InputError
        Another film, lye above 50 g/L or above 50 °C: refused, in words.

    Examples
    --------
    >>> print(in_practice(12.5, "positive").word, "·", in_practice(12.5, "negative").word)
    develops · harsh
    """
    rows = practice(film)
    number = float(checked_strength("strength", strength))
    warmth = _checked_warmth(T)
    # what lies on an edge counts as the harsher
    found = next(row for row in reversed(rows) if number >= row.low)
    aside = ""
    if warmth < found.T_low:
        aside = COLDER.format(low=found.T_low - 273.15)
    elif warmth > found.T_high:
        aside = WARMER.format(high=found.T_high - 273.15)
    return dataclasses.replace(found, words=f"{found.words} {aside}".rstrip())


def _checked_warmth(T: float) -> float:
    """Return how warm lye is [K], or say that so warm it is refused."""
    least, most = TEMPERATURES
    try:
        return check_number("T", T, least, most, "K")
    except InputError as error:
        if isinstance(error.value, float) and error.value > most:
            raise InputError(
                "T", TOO_WARM, value=error.value, low=least, high=most, unit="K"
            ) from None
        raise
