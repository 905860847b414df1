"""The patterns by which an answer is read: numbers, fractions, clocks, ranges and their dress.

A page without Python reads by the same ones: `export/judging` hands over each that stands here.
"""

from __future__ import annotations

import re

# before small raised figures become plain ones
RAISED_POWER = re.compile(r"10([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
# every kind of minus and dash that a keyboard or a copied text may bring
DASH = re.compile("[−‐‑‒–—]")
TIMES_TEN = re.compile(r"(?<=\d) ?[×x·⋅∙*] ?10 ?(?:\^|\*\*) ?([+-]?\d+)")
BLANKS = re.compile(r"\s+")
SIGN_APART = re.compile(r"^([+-]) ")

# re.A, here and below: 0 to 9 alone, no digits of other scripts
# 1/2, 7 1/2, 2.1, .5, 2 100 and each of them with e3 behind it; too many points are found out later
NUMBER = re.compile(
    r"[+-]?(?:(?:\d+ )?\d+/\d+|(?:\d[\d.,]*|[.,]\d+)(?: \d{3}(?!\d))*[\d.,]*)(?:[eE][+-]?\d+)?",
    re.A,
)
FRACTION = re.compile(r"[+-]?(?:(\d+) )?(\d+)/(\d+)(?:[eE].*)?")
# 1,234 is a thousand to some and one and a bit to others; 12,34 and 0,123 are clear
TWO_READINGS = re.compile(r"([1-9]\d{0,2}),(\d{3})")
# 7:30 and 0:07:30, with a unit or without
CLOCK = re.compile(r"(\d+):(\d\d)(?::(\d\d))? ?(\D*)", re.A)
# one of several: the 30 s in "7 min 30 s"
PART_OF_TIME = re.compile(rf"({NUMBER.pattern}) ?([^\d+-]*)", re.A)
AFTER_PART = re.compile(r"(,| and)* ?$")
OPENING = re.compile(r"^(?:about|approximately|approx\.?|roughly|circa|ca\.?|[~≈=]|is) ?", re.I)
# "a factor of 2.6" and "× 2.6": in other answers the sign stands behind the number
TIMES_FIRST = re.compile(r"^(?:by )?(?:a )?(?:factor(?: of)?|times|[×xX]) ?(?=[\d.,])")
# 7-8, 7 to 8, 7 ± 1: which of the two would be judged?
RANGE = re.compile(r"\d\D{0,12}?(?: -|[^eE^/]\bto\b|\.\.|…|±|\+/-)|\d-\d")
MINUS_OF_NO_RANGE = re.compile(r"[eE]-|\^-|[a-zA-Z]-\d")  # as in e-3, m^-3 and dm-3
# what a unit may have in it and changes nothing
JOINT = re.compile(r"[ ·⋅∙*]")
DIGIT = re.compile(r"\d")


def less_of(subject: str) -> re.Pattern[str]:
    """Return the pattern of "less sugar" and the like, without spaces; its group leaves it out.

    Examples
    --------
    >>> print(less_of("sugar").sub(r"\\1", "timeslesssugar"))
    timesless
    """
    return re.compile(f"(less|aslittle|more|asmuch){re.escape(subject)}", re.IGNORECASE)
