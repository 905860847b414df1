"""Every number in a page's text, held against the package: a page claims each of them in its last cells."""

from __future__ import annotations

import re
from typing import Any

from ..common import tables

CLAIMED: list[str] = []
"""Every phrase claimed in this kernel, for the test that looks for numbers nobody claims."""
VULGAR = {"½": ".5", "¼": ".25", "¾": ".75"}
NUMBER = re.compile(r"(?<![\w.,])[-\u2212]?\d+(?:\.\d+)?[½¼¾]?|[½¼¾]")


def numbers(phrase: str) -> list[tuple[float, float]]:
    """Each number in a phrase with half a unit of its last printed figure [units of the phrase].

    Examples
    --------
    >>> print(numbers("7½ to 12 min, 2.6 times"))
    [(7.5, 0.125), (12.0, 0.5), (2.6, 0.05)]
    """
    found = []
    for text in NUMBER.findall(phrase):
        vulgar = VULGAR.get(text[-1], "")
        plain = (text[:-1] if vulgar else text).replace("\u2212", "-")
        decimals = len(plain.partition(".")[2])
        found.append((float(f"{plain or 0}{vulgar}"), 0.125 if vulgar else 0.5 * 10.0**-decimals))
    return found


def claim(phrase: str, *values: Any, rel: float = 0.0, source: str = "") -> None:
    """Hold the numbers of one phrase of the page against what the package computes, or against a source.

    Parameters
    ----------
    phrase : str
        As it stands in the text, word for word.
    *values : float
        What each number of the phrase is, in its order [units of the phrase]; or nothing, beside a source.
    rel : float
        How far off a number may be that is called "about" [-]; otherwise half a unit of its last printed figure.
    source : str
        Where the numbers are from instead: a key of the package's sources, "input" (chosen for this page) or
        "definition".

    Raises
    ------
    AssertionError
        A number that is not the value, or values and numbers of another count.
    ValueError
        Neither values nor a known source.

    Examples
    --------
    >>> claim("2.6 times as long", 2.58)
    >>> try: claim("2.6 times as long", 2.7)
    ... except AssertionError as error: print(error)
    2.6 times as long: 2.6 is not 2.7
    """
    CLAIMED.append(phrase)
    if not values:
        if source not in {"input", "definition", *(row["key"] for row in tables.read("sources"))}:
            raise ValueError(
                f"source = {source!r} is not known: give values, or 'input', 'definition' or a key of the "
                "table of sources"
            )
        return
    printed = numbers(phrase)
    if len(printed) != len(values):
        raise AssertionError(f"{phrase}: {len(printed)} numbers for {len(values)} values")
    for (number, half), value in zip(printed, values, strict=True):
        near = max(half, rel * abs(float(value))) * (1 + 1e-9)
        if not abs(number - float(value)) <= near:
            raise AssertionError(f"{phrase}: {number:g} is not {float(value):.4g}")


def unclaimed(text: str, phrases: list[str]) -> list[str]:
    """What still holds a figure once every claimed phrase is taken out of a text, a little of its surroundings each.

    Examples
    --------
    >>> print(unclaimed("It takes 2.6 times as long, 7 min.", ["2.6 times as long"]))
    ['It takes , 7 min.']
    """
    for phrase in sorted(phrases, key=len, reverse=True):
        text = text.replace(phrase, "")
    return re.findall(r".{0,30}[0-9½¼¾].{0,30}", text)
