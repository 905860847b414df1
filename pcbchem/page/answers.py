"""A learner's answer: read in any sensible notation, judged with a hint that names the slip."""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass

from ..common.limits import InputError, check_choice
from ..common.units import hour, minute
from .answer_patterns import (
    AFTER_PART,
    BLANKS,
    CLOCK,
    DASH,
    DIGIT,
    FRACTION,
    JOINT,
    MINUS_OF_NO_RANGE,
    NUMBER,
    OPENING,
    PART_OF_TIME,
    RAISED_POWER,
    RANGE,
    SIGN_APART,
    TIMES_FIRST,
    TIMES_TEN,
    TWO_READINGS,
    less_of,
)
from .answer_units import ANY_CASE, EXAMPLES, LESS, MORE, OTHER_THINGS, SCALES, WAYS

CLOSE = 3.0
"""How many tolerances from the answer is "close" [-]."""
MOST_CHARACTERS = 60
"""A longer text is not read [characters]."""
ONE_DECIMAL_MORE = (99.95, 9.995, 0.9995, 0.09995, 0.009995, 0.0009995)
"""Below each of these a number is shown with one decimal more, for three digits in all [-].

Compared, not computed by a logarithm: at 10 that may come out on either side.
"""


def _cleaned(text: str) -> str:
    """Return a text in plain characters: fractions as 1/2, powers as e3, one kind of minus."""
    text = RAISED_POWER.sub(r"10^\1", text)
    characters = []
    for character in text:
        if unicodedata.category(character) == "Cf":
            continue  # cannot be seen: it came along when the answer was copied
        plain = unicodedata.normalize("NFKC", character)
        if "⁄" in plain:
            plain = f" {plain} "  # keeps 7½ apart: 7 1/2
        characters.append(plain)
    text = "".join(characters)
    text = text.replace("⁄", "/").replace("′", "'").replace("’", "'").replace("”", '"')
    text = DASH.sub("-", text)
    text = TIMES_TEN.sub(r"e\1", text)
    text = BLANKS.sub(" ", text).strip()
    return SIGN_APART.sub(r"\1", text)


def _without_opening(answer: str) -> str:
    """Return an answer without "about" and the like before its number."""
    before = ""
    # "is about 5" has two of them
    while answer != before:
        before, answer = answer, OPENING.sub("", answer)
    return answer


def _value(number: str, text: str) -> float:
    """Return the value of a number that stands in a text."""
    fraction = FRACTION.fullmatch(number)
    if fraction is None:
        return _decimal(number, text)
    whole, top, bottom = fraction.groups()
    if int(bottom) == 0 or "e" in number.lower():
        raise ValueError(f"{text!r} has a fraction that is no number: write a plain decimal number")
    size = int(whole or 0) + int(top) / int(bottom)
    # the sign is for whole and fraction together: -7 1/2
    if number.startswith("-"):
        return -size
    return size


def _decimal(number: str, text: str) -> float:
    """Return the value of a decimal number, with a point or a comma, if it has only one reading."""
    mantissa, _, power = number.lower().partition("e")
    mantissa = mantissa.rstrip(".,")  # the end of the sentence, not of the number
    sign = "-" if mantissa.startswith("-") else ""
    digits = mantissa.lstrip("+-")
    if digits.count(",") + digits.count(".") > 1:
        raise ValueError(
            f"{text!r} has two points or commas in one number: write one for the decimals, and "
            "nothing between thousands"
        )
    thousands = TWO_READINGS.fullmatch(digits)
    if thousands:
        first, last = thousands.groups()
        raise ValueError(f"{text!r} can be read in two ways: write {first}.{last} or {first}{last}")
    plain = digits.replace(" ", "").replace(",", ".")
    value = float(f"{sign}{plain}e{power or 0}")
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large a number")
    return value


def _spelling(unit_text: str, kind: str, unit: str, text: str, subject: str = "") -> str:
    """Return what stands as a unit in the spelling of `WAYS`; `unit` is the one asked for."""
    word = JOINT.sub("", unit_text)
    if subject:
        # "2 times less sugar": of what may be said, and changes nothing
        word = less_of(subject).sub(r"\1", word)
    if word not in WAYS[kind]:
        # a sentence may end here; only now, because "sec." and "wt.%" have points of their own
        word = word.rstrip(".,;!")
    if word not in WAYS[kind]:
        word = _spelling_of_any_case(word, unit_text, kind, text)
    if unit in LESS and word in MORE:
        raise ValueError(f"{text!r} says {unit_text!r}, but the question asks how many times less")
    return word


def _spelling_of_any_case(word: str, unit_text: str, kind: str, text: str) -> str:
    """Return the spelling that differs in capitals alone, or say what is wrong with this unit."""
    word = word.casefold()
    if word in ANY_CASE[kind]:
        return ANY_CASE[kind][word]
    example = f"Write it as in {EXAMPLES[kind]}"
    for other_kind, pattern, difference in OTHER_THINGS:
        if other_kind == kind and re.fullmatch(pattern, word):
            raise ValueError(f"{text!r}: {unit_text!r} {difference}. {example}")
    if DIGIT.search(word):
        raise ValueError(f"{text!r} holds more than one number. {example}")
    raise ValueError(
        f"{text!r} holds {unit_text!r}, which is no unit of {kind} known here. {example}"
    )


def _clock(clock: re.Match[str], unit: str, text: str) -> float:
    """Return a time written with colons [s]: 7:30 is minutes and seconds, or hours if asked."""
    # a unit behind the clock is that of its first part, whatever was asked for
    hours_or_minutes, *later, unit_text = clock.groups()
    parts = [int(hours_or_minutes), *(int(part) for part in later if part is not None)]
    if not unit_text:
        unit_text = "h" if unit == "h" else "min"
    size = WAYS["time"][_spelling(unit_text, "time", unit, text)]
    if max(parts[1:]) > 59 or size < minute:
        raise ValueError(f"{text!r} is no time on a clock: write it as in {EXAMPLES['time']}")
    if len(parts) == 3:
        size = hour  # 0:07:30 can only begin with hours
    return sum(part * size / 60.0**place for place, part in enumerate(parts))


def _time(answer: str, unit: str, text: str) -> float:
    """Return a time [s]: on a clock, or of one or several parts such as 7 min 30 s."""
    clock = CLOCK.fullmatch(answer)
    if clock:
        return _clock(clock, unit, text)
    total, place = 0.0, 0
    last_size = math.inf  # nothing is too long to come first
    while place < len(answer):
        part = PART_OF_TIME.match(answer, place)
        if part is None:
            raise ValueError(f"{text!r} is not a time: write it as in {EXAMPLES['time']}")
        size = _size_of_part(part[2], last_size, unit, text)
        seconds = _value(part[1], text) * size
        # 30 s 7 min goes the wrong way, and 7 min 90 s is more than the next minute
        is_too_long = last_size < math.inf and seconds >= last_size
        if size >= last_size or is_too_long:
            raise ValueError(
                f"{text!r}: {part[0].strip()!r} does not fit after what stands before it. "
                f"Write it as in {EXAMPLES['time']}"
            )
        total += seconds
        last_size = size
        place = part.end()
    return total


def _size_of_part(unit_text: str, last_size: float, unit: str, text: str) -> float:
    """Return one of the unit of a part of a time [s]: a bare number after minutes is seconds."""
    unit_text = AFTER_PART.sub("", unit_text)
    if unit_text:
        return WAYS["time"][_spelling(unit_text, "time", unit, text)]
    if last_size == hour:
        return minute  # 1 h 30
    if last_size == minute:
        return 1.0
    return WAYS["time"][unit]


def _quantity(answer: str, number: str, kind: str, unit: str, text: str, subject: str) -> float:
    """Return the SI value of an answer that begins with a number [unit by kind]."""
    unit_text = answer[len(number) :].strip(" ")
    # degrees alone are those that the question asks for
    if kind == "temperature" and unit_text in ("°", "deg", "degrees"):
        unit_text = unit
    spelling = _spelling(unit_text or unit, kind, unit, text, subject)
    zero = SCALES[spelling] if kind == "temperature" else 0.0
    return _value(number, text) * WAYS[kind][spelling] + zero


def _possible(value: float, kind: str, text: str) -> float:
    """Return an SI value [unit by kind], or refuse one that nothing can have."""
    if value < 0:
        zero = "absolute zero" if kind == "temperature" else "zero"
        raise ValueError(f"{text!r} is below {zero}: check the sign")
    if kind == "share" and value > 1:
        raise ValueError(f"{text!r} is more than the whole: a share is at most 100 %")
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large a number")
    return value


def check_unit(kind: str, unit: str) -> None:
    """Refuse a kind or a unit in which no question can be asked, with the choices."""
    check_choice("kind", kind, tuple(WAYS))
    if unit not in WAYS[kind]:
        rule = f"choose from {', '.join(WAYS[kind])}"
        raise InputError("unit", rule, value=unit, wrong=f"is not known for a {kind}")


def read_answer(text: str, kind: str, unit: str, subject: str = "") -> float:
    """Read what a person wrote as an answer.

    Parameters
    ----------
    text : str
        What was written, such as "2,1 M" or "7½ min".
    kind : str
        "time", "concentration", "temperature", "mass", "mass per volume", "length", "ratio",
        "share" or "share of air".
    unit : str
        What a bare number counts in, such as "min"; for a ratio "", or "timesless" where less is
        asked for.
    subject : str
        What there is less or more of, where that may be said after a ratio.

    Returns
    -------
    float
        The value in SI [s, mol/m³, K, kg, kg/m³, m, -, kg/kg].

    Raises
    ------
    ValueError
        Says to the learner in plain words what could not be read.
    InputError
        An unknown kind or unit, with the choices.

    Examples
    --------
    >>> print(f"{read_answer('7½ min', 'time', 'min'):.0f} s")
    450 s
    >>> print(f"{read_answer('2,1 M', 'concentration', 'mol/L'):.0f} mol/m³")
    2100 mol/m³
    """
    check_unit(kind, unit)
    answer = _without_opening(_cleaned(text))
    if not answer or len(answer) > MOST_CHARACTERS:
        raise ValueError(f"Write one number with its unit, such as {EXAMPLES[kind]}")
    # the minus of e-3 or m^-3 is taken out first: it parts no two numbers
    if RANGE.search(MINUS_OF_NO_RANGE.sub("", answer)):
        raise ValueError(f"{text!r} is a range: write one number")
    if kind == "ratio":
        answer = TIMES_FIRST.sub("", answer)
    number = NUMBER.match(answer)
    if number is None:
        raise ValueError(f"{text!r} does not begin with a number. Write it as in {EXAMPLES[kind]}")
    if kind == "time":
        return _possible(_time(answer, unit, text), kind, text)
    return _possible(_quantity(answer, number[0], kind, unit, text, subject), kind, text)


def answer_words(value: float, kind: str, unit: str) -> str:
    """Write an SI value as a page does, in a unit.

    Parameters
    ----------
    value : float
        The value in SI [s, mol/m³, K, kg, kg/m³, m, -, kg/kg].
    kind, unit : str
        As in `read_answer`.

    Returns
    -------
    str
        Number of three digits with its unit; a temperature to a tenth of a degree.

    Examples
    --------
    >>> print(answer_words(1437, "concentration", "mol/L"))
    1.44 mol/L
    """
    zero = SCALES[unit] if kind == "temperature" else 0.0
    number = (value - zero) / WAYS[kind][unit]
    decimals = 0
    if kind == "temperature":
        decimals = 1
    elif number:
        decimals = sum(abs(number) < size for size in ONE_DECIMAL_MORE)
    words = f"{number:.{decimals}f}"
    words = f"×{words}" if kind == "ratio" else f"{words} {unit}"
    return words.replace("-", "−").strip()


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
        What is asked for and in which unit a bare number counts, as in `read_answer`.
    answer : float
        The answer in SI [s, mol/m³, K, kg, kg/m³, m, -, kg/kg].
    tolerance : float
        How far off still counts as right: share of the answer [-]; of a temperature degrees [K].
    slips : tuple
        Pairs of the value [SI] that a known slip leads to, and a hint that names the idea.
    explanation : str
        The way to the answer, a step a line.
    from_lesson : str
        What the earlier lesson was about that the question goes back to, or "".
    subject : str
        Of a question for a ratio: what there is less or more of, or "".
    given : str
        The numbers that are its own, in a few characters, for the key on paper.
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
    subject: str = ""
    given: str = ""

    def margin(self, value: float) -> float:
        """Return how far from a value [SI] still counts as that value [SI]."""
        # a share of a temperature would depend on where its scale begins
        if self.kind == "temperature":
            return self.tolerance
        return self.tolerance * abs(value)

    def tolerance_words(self) -> str:
        """Return what counts as right, such as "within 2 %"."""
        if self.kind == "temperature":
            return f"within {self.tolerance:g} °C"
        if self.kind == "share":
            # of the answer itself: the answer is in % too
            return f"within {100 * self.tolerance:g} % of it"
        return f"within {100 * self.tolerance:g} %"


@dataclass(frozen=True)
class Verdict:
    """What is said to an answer.

    Parameters
    ----------
    grade : str
        "right", "slip", "wrong" or "unread".
    words : str
        What the page says.
    """

    grade: str
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
        Right within the tolerance; else the hint of the slip whose value it is; else too high or
        too low.

    Examples
    --------
    >>> hint = "That is double."
    >>> slips = ((0.006, hint),)
    >>> half = Question("half", "Half of 3 g?", "mass", "g", 0.0015, 0.02, slips, "3 / 2")
    >>> print(judge(half, "1,5").grade, judge(half, "6 g").words)
    right Not yet (read as 6.00 g). That is double.
    """
    try:
        value = read_answer(text, question.kind, question.unit, question.subject)
    except ValueError as error:
        return Verdict("unread", f"Could not read this. {error}.".replace("..", "."))
    read_as = f"read as {answer_words(value, question.kind, question.unit)}"
    counts = f"An answer {question.tolerance_words()} counts as right."
    excess = value - question.answer
    margin = question.margin(question.answer)
    # right comes first: a slip that happens to lead there does no harm
    if abs(excess) <= margin:
        return Verdict("right", f"Right ({read_as}; {question.tolerance_words()}).")
    for slip, hint in question.slips:
        if abs(value - slip) <= question.margin(slip):
            return Verdict("slip", f"Not yet ({read_as}). {hint}")
    way = "high" if excess > 0 else "low"
    if abs(excess) <= CLOSE * margin:
        return Verdict("wrong", f"Close, but a little too {way} ({read_as}). {counts}")
    return Verdict("wrong", f"Too {way} ({read_as}). {counts}")
