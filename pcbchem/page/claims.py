"""Every number in a page's text, held against the package: `notebooks/claims` has a file a page."""

from __future__ import annotations

import re
import runpy
from pathlib import Path
from typing import Any

from ..common import tables
from ..common.limits import InputError

CLAIMED: list[str] = []
"""Every phrase claimed so far, for the test that looks for numbers nobody claims."""
VULGAR = {"½": ".5", "¼": ".25", "¾": ".75"}
"""Decimals of the fractions that stand in a text as one character."""
# not inside a word or behind a point: H2 and version 1.2.3 hold no numbers of the text
# a narrow space stands between thousands
NUMBER = re.compile(r"(?<![\w.,])[-\u2212]?\d+(?:\u202f\d{3})*(?:\.\d+)?[½¼¾]?|[½¼¾]")


def numbers(phrase: str) -> list[tuple[float, float]]:
    """Return each number in a phrase, and how far off it may be [units of the phrase].

    That is half a unit of its last printed figure, or an eighth where it has a fraction.

    Examples
    --------
    >>> print(numbers("7½ to 12 min, 2.6 times"))
    [(7.5, 0.125), (12.0, 0.5), (2.6, 0.05)]
    """
    return [number_and_half(text) for text in NUMBER.findall(phrase)]


def number_and_half(text: str) -> tuple[float, float]:
    """Return a number as it is printed, and half a unit of its last figure [its own unit]."""
    plain = text.replace("\u2212", "-").replace("\u202f", "")
    if plain[-1] in VULGAR:
        whole = plain[:-1] or "0"
        return float(whole + VULGAR[plain[-1]]), 0.125
    decimals = len(plain.partition(".")[2])
    return float(plain), 0.5 * 10.0**-decimals


def claim(phrase: str, *values: Any, rel: float = 0.0, source: str = "") -> None:
    """Hold the numbers of one phrase of the page against what the package computes, or a source.

    Parameters
    ----------
    phrase : str
        As it stands in the text, word for word.
    *values : float
        What each number of the phrase is, in its order [units of the phrase]; or nothing, beside a
        source.
    rel : float
        How far off a number may be that is called "about" [-]; otherwise half a unit of its last
        printed figure.
    source : str
        Where the numbers are from instead: a key of the package's sources, "input" (chosen for this
        page) or "definition".

    Raises
    ------
    AssertionError
        A number that is not the value, or values and numbers of another count.
    InputError
        Neither values nor a known source.

    Examples
    --------
    >>> claim("2.6 times as long", 2.58)
    >>> try: claim("2.6 times as long", 2.7)
    ... except AssertionError as error: print(error)
    2.6 times as long: 2.6 is not 2.7
    """
    # before it is checked: a claim that fails is a claim all the same
    CLAIMED.append(phrase)
    if not values:
        check_source(source)
        return
    printed = numbers(phrase)
    if len(printed) != len(values):
        raise AssertionError(f"{phrase}: {len(printed)} numbers for {len(values)} values")
    for (number, half), value in zip(printed, map(float, values), strict=True):
        near = max(half, rel * abs(value)) * (1 + 1e-9)  # half a unit off, as floats have it
        is_near = abs(number - value) <= near  # false for NaN
        if not is_near:
            raise AssertionError(f"{phrase}: {number:g} is not {value:.4g}")


def run_claims(path: str | Path) -> list[str]:
    """Run the claims of a page, and return the phrases that it claims.

    Parameters
    ----------
    path : str or Path
        A file of `notebooks/claims`.

    Returns
    -------
    list of str
        Each phrase in its order.

    Raises
    ------
    AssertionError
        A number that is not what the package computes.
    InputError
        A claim with neither values nor a known source.
    """
    CLAIMED.clear()
    runpy.run_path(str(path))
    return list(CLAIMED)


def check_source(source: str) -> None:
    """Refuse a claim without values that names no source the package knows."""
    keys = [row["key"] for row in tables.read("sources")]
    if source not in ("input", "definition", *keys):
        rule = "give values, or 'input', 'definition' or a key of the table of sources"
        raise InputError("source", rule, value=source, about=f" = {source!r}", wrong="is not known")


def unclaimed(text: str, phrases: list[str]) -> list[str]:
    """Find what still holds a figure once every claimed phrase is taken out of a text.

    Parameters
    ----------
    text : str
        All that the page says.
    phrases : list of str
        What it claims.

    Returns
    -------
    list of str
        Each figure with a little of what stands around it.

    Examples
    --------
    >>> print(unclaimed("It takes 2.6 times as long, 7 min.", ["2.6 times as long"]))
    ['It takes , 7 min.']
    """
    # the longest first: a short phrase may be part of it
    for phrase in sorted(phrases, key=len, reverse=True):
        text = text.replace(phrase, "")
    return re.findall(r".{0,30}[0-9½¼¾].{0,30}", text)
