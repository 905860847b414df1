"""A learner's answer: read in any sensible notation, and judged with a hint that names the slip."""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass

from ..common.units import hour, minute
from .answer_units import EXAMPLES, LESS, MORE, OTHER_THINGS, SCALES, WAYS

CLOSE = 3.0
"""How many tolerances from the answer is "close" [-]."""
MOST_CHARACTERS = 60
"""A longer text is not read [characters]."""

_NUMBER = re.compile(
    r"[+-]?(?:(?:\d+ )?\d+/\d+|(?:\d[\d.,]*|[.,]\d+)(?: \d{3}(?!\d))*[\d.,]*)(?:[eE][+-]?\d+)?",
    re.A,
)
_CLOCK = re.compile(r"(\d+):(\d\d)(?::(\d\d))? ?(\D*)", re.A)
_OPENING = re.compile(r"^(?:about|approximately|approx\.?|roughly|circa|ca\.?|[~≈=]|is) ?", re.I)
_TIMES_FIRST = re.compile(r"^(?:by )?(?:a )?(?:factor(?: of)?|times|[×xX]) ?(?=[\d.,])")


def _cleaned(text: str) -> str:
    """The text in plain characters: fractions as 1/2, powers as e3, one kind of minus and of space."""
    text = re.sub(r"10([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)", r"10^\1", text)
    text = "".join(
        unicodedata.normalize("NFKC", f" {c} " if "⁄" in unicodedata.normalize("NFKC", c) else c)
        for c in text
        if unicodedata.category(c) != "Cf"
    )
    text = re.sub(
        "[−‐‑‒–—]",
        "-",
        text.replace("⁄", "/").replace("′", "'").replace("’", "'").replace("”", '"'),
    )
    text = re.sub(r"(?<=\d) ?[×x·⋅∙*] ?10 ?(?:\^|\*\*) ?([+-]?\d+)", r"e\1", text)
    return re.sub(r"^([+-]) ", r"\1", re.sub(r"\s+", " ", text).strip())


def _value(token: str, text: str) -> float:
    """The number that a token is."""
    if "/" in token:
        whole, top, bottom = re.fullmatch(r"[+-]?(?:(\d+) )?(\d+)/(\d+)(?:[eE].*)?", token).groups()  # type: ignore[union-attr]
        if not int(bottom) or "e" in token.lower():
            raise ValueError(
                f"{text!r} has a fraction that is no number: write a plain decimal number"
            )
        size = int(whole or 0) + int(top) / int(bottom)
        return -size if token.startswith("-") else size
    mantissa, power = [*re.split("[eE]", token), "0"][:2]
    mantissa = mantissa.rstrip(".,")
    sign, digits = ("-", mantissa[1:]) if mantissa.startswith("-") else ("", mantissa.lstrip("+"))
    if digits.count(",") + digits.count(".") > 1:
        raise ValueError(
            f"{text!r} has two points or commas in one number: write one for the decimals, and nothing "
            "between thousands"
        )
    if found := re.fullmatch(r"([1-9]\d{0,2}),(\d{3})", digits):
        raise ValueError(
            f"{text!r} can be read in two ways: write {found[1]}.{found[2]} or {found[1]}{found[2]}"
        )
    value = float(f"{sign}{digits.replace(' ', '').replace(',', '.')}e{power}")
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large a number")
    return value


def _spelling(written: str, kind: str, unit: str, text: str) -> str:
    """A unit as written, in the spelling of `WAYS`; `unit` is the one asked for."""
    word = re.sub(r"[ ·⋅∙*]", "", written)
    word = word if word in WAYS[kind] else word.rstrip(".,;!")
    if word not in WAYS[kind]:
        folded = {name.casefold(): name for name in WAYS[kind] if name not in ("M", "mM")}
        for whose, pattern, words in OTHER_THINGS:
            if (
                whose == kind
                and re.fullmatch(pattern, word.casefold())
                and word.casefold() not in folded
            ):
                raise ValueError(f"{text!r}: {written!r} {words}. Write it as in {EXAMPLES[kind]}")
        if word.casefold() not in folded:
            what = f"{written!r}, which is no unit of {kind} known here"
            what = "more than one number" if re.search(r"\d", word) else what
            raise ValueError(f"{text!r} holds {what}. Write it as in {EXAMPLES[kind]}")
        word = folded[word.casefold()]
    if unit in LESS and word in MORE:
        raise ValueError(f"{text!r} says {written!r}, but the question asks how many times less")
    return word


def _clock(found: re.Match[str], unit: str, text: str) -> float:
    """A time written with colons [s]."""
    parts = [int(part) for part in found.groups()[:3] if part is not None]
    given = WAYS["time"][_spelling(found[4] or ("h" if unit == "h" else "min"), "time", unit, text)]
    if any(part > 59 for part in parts[1:]) or given < minute:
        raise ValueError(f"{text!r} is no time on a clock: write it as in {EXAMPLES['time']}")
    first = hour if len(parts) == 3 else given
    return sum(part * first / 60.0**place for place, part in enumerate(parts))


def _time(text: str, said: str, unit: str) -> float:
    """A time, of one or several parts such as 7 min 30 s [s]."""
    if found := _CLOCK.fullmatch(said):
        return _clock(found, unit, text)
    total, place, last = 0.0, 0, math.inf
    while place < len(said):
        found = re.compile(rf"({_NUMBER.pattern}) ?([^\d+-]*)", re.A).match(said, place)
        if not found:
            raise ValueError(f"{text!r} is not a time: write it as in {EXAMPLES['time']}")
        written = re.sub(r"(,| and)* ?$", "", found[2])
        follows = {hour: minute, minute: 1.0}.get(last, 0.0)
        factor = (
            WAYS["time"][_spelling(written, "time", unit, text)]
            if written
            else follows or WAYS["time"][unit]
        )
        value, place = _value(found[1], text), found.end()
        if factor >= last or (last < math.inf and value * factor >= last):
            raise ValueError(
                f"{text!r}: {found[0].strip()!r} does not fit after what stands before it. "
                f"Write it as in {EXAMPLES['time']}"
            )
        total, last = total + value * factor, factor
    return total


def read(text: str, kind: str, unit: str) -> float:
    """Read what a person wrote as an answer.

    Parameters
    ----------
    text : str
        What was written, such as "2,1 M" or "7½ min".
    kind : str
        "time", "concentration", "temperature", "mass", "ratio" or "share".
    unit : str
        What a bare number counts in, such as "min"; for a ratio "", or "timesless" where less is asked for.

    Returns
    -------
    float
        The value in SI [s, mol/m³, K, kg, -, kg/kg].

    Raises
    ------
    ValueError
        Says in plain words what could not be read; or an unknown kind or unit, naming it and the choices.

    Examples
    --------
    >>> print(f"{read('7½ min', 'time', 'min'):.0f} s, {read('2,1 M', 'concentration', 'mol/L'):.0f} mol/m³")
    450 s, 2100 mol/m³
    """
    if kind not in WAYS:
        raise ValueError(f"kind = {kind!r} is not known: choose from {', '.join(WAYS)}")
    if unit not in WAYS[kind]:
        raise ValueError(
            f"unit = {unit!r} is not known for a {kind}: choose from {', '.join(WAYS[kind])}"
        )
    said, opening = _cleaned(text), ""
    while said != opening:
        opening, said = said, _OPENING.sub("", said)
    if not said or len(said) > MOST_CHARACTERS:
        raise ValueError(f"Write one number with its unit, such as {EXAMPLES[kind]}")
    if re.search(
        r"\d\D{0,12}?(?: -|[^eE^/]\bto\b|\.\.|…|±|\+/-)|\d-\d",
        re.sub(r"[eE]-|\^-|[a-zA-Z]-\d", "", said),
    ):
        raise ValueError(f"{text!r} is a range: write one number")
    said = _TIMES_FIRST.sub("", said) if kind == "ratio" else said
    found = _NUMBER.match(said)
    if not found:
        raise ValueError(f"{text!r} does not begin with a number. Write it as in {EXAMPLES[kind]}")
    if kind == "time":
        value = _time(text, said, unit)
    else:
        written = said[found.end() :].strip(" ")
        if kind == "temperature" and written in ("°", "deg", "degrees"):
            written = unit
        spelling = _spelling(written or unit, kind, unit, text)
        value = _value(found[0], text) * WAYS[kind][spelling] + (
            SCALES[spelling] if kind == "temperature" else 0.0
        )
    if value < 0:
        raise ValueError(
            f"{text!r} is below {'absolute zero' if kind == 'temperature' else 'zero'}: check the sign"
        )
    if kind == "share" and value > 1:
        raise ValueError(f"{text!r} is more than the whole: a share is at most 100 %")
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large a number")
    return value


def written(value: float, kind: str, unit: str) -> str:
    """An SI value as a page writes it, in a unit.

    Parameters
    ----------
    value : float
        The value in SI [s, mol/m³, K, kg, -, kg/kg].
    kind, unit : str
        As in `read`.

    Returns
    -------
    str
        Number of three digits with its unit.

    Examples
    --------
    >>> print(written(1437, "concentration", "mol/L"))
    1.44 mol/L
    """
    factor = WAYS[kind][unit]
    number = (value - (SCALES[unit] if kind == "temperature" else 0.0)) / factor
    digits = max(0, 2 - math.floor(math.log10(abs(number)))) if number else 0
    said = f"{number:.{min(digits, 6)}f}"
    if kind == "temperature":
        said = f"{number:.1f}"
    return (f"×{said}" if kind == "ratio" else f"{said} {unit}").replace("-", "−").strip()


@dataclass(frozen=True)
class Question:
    """One question with numbers in it.

    Parameters
    ----------
    key : str
        Its name among the questions of a page.
    text : str
        The question, in plain words; each line a paragraph.
    kind, unit : str
        What is asked for and in which unit a bare number counts, as in `read`.
    answer : float
        The answer in SI [s, mol/m³, K, kg, -, kg/kg].
    tolerance : float
        How far off still counts as right: share of the answer [-]; of a temperature degrees [K].
    slips : tuple
        Pairs of the value [SI] that a known slip leads to, and a hint that names the idea.
    explanation : str
        The way to the answer, a step a line.
    from_lesson : str
        What the earlier lesson was about that the question goes back to, or "".
    """

    key: str
    text: str
    kind: str
    unit: str
    answer: float
    tolerance: float
    slips: tuple[tuple[float, str], ...]
    explanation: str
    from_lesson: str = ""

    def margin(self, value: float) -> float:
        """How far from a value [SI] still counts as that value [SI]."""
        return self.tolerance if self.kind == "temperature" else self.tolerance * abs(value)

    def tolerance_words(self) -> str:
        """What counts as right, such as "within 2 %"."""
        return (
            f"within {self.tolerance:g} °C"
            if self.kind == "temperature"
            else f"within {100 * self.tolerance:g} %"
        )


@dataclass(frozen=True)
class Verdict:
    """What is said to an answer: `found` is "right", "slip", "wrong" or "unread"; `words` go on the page."""

    found: str
    words: str


def judge(question: Question, text: str) -> Verdict:
    """Judge an answer.

    Parameters
    ----------
    question : Question
        What was asked.
    text : str
        What the learner wrote.

    Returns
    -------
    Verdict
        Right within the tolerance; else the hint of the slip whose value it is; else too high or too low.

    Examples
    --------
    >>> half = Question("half", "Half of 3 g?", "mass", "g", 0.0015, 0.02, ((0.006, "That is double."),), "3 / 2")
    >>> print(judge(half, "1,5").found, judge(half, "6 g").words)
    right Not yet (read as 6.00 g). That is double.
    """
    try:
        value = read(text, question.kind, question.unit)
    except ValueError as error:
        return Verdict("unread", f"Could not read this. {error}.".replace("..", "."))
    said = f"read as {written(value, question.kind, question.unit)}"
    counts = f"An answer {question.tolerance_words()} counts as right."
    off, margin = value - question.answer, question.margin(question.answer)
    if abs(off) <= margin:
        return Verdict("right", f"Right ({said}; {question.tolerance_words()}).")
    for slip, hint in question.slips:
        if abs(value - slip) <= question.margin(slip):
            return Verdict("slip", f"Not yet ({said}). {hint}")
    way = "high" if off > 0 else "low"
    if abs(off) <= CLOSE * margin:
        return Verdict("wrong", f"Close, but a little too {way} ({said}). {counts}")
    return Verdict("wrong", f"Too {way} ({said}). {counts}")
