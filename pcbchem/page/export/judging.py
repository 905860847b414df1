"""What a page without Python needs to judge answers as `page/answers` does: tables and questions.

`judge.js` holds the steps; every unit, pattern and example comes from here, so that none of them
stands in two places.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from .. import answer_patterns
from ..answer_patterns import less_of
from ..answer_units import ANY_CASE, EXAMPLES, LESS, MORE, OTHER_THINGS, SCALES, WAYS
from ..answers import CLOSE, MOST_CHARACTERS, ONE_DECIMAL_MORE, Verdict, check_unit
from ..why import WhyQuestion, judge_why
from ..widget.check import Asked
from ..widget.quiz import BEFORE_UNIT, tied

SCRIPT = Path(__file__).parent / "judge.js"
# what \w is in Python, as the classes of Unicode
WORD = r"[\p{L}\p{N}_]"
EDGE_OF_WORD = rf"(?:(?<={WORD})(?!{WORD})|(?<!{WORD})(?={WORD}))"
# JavaScript's own \s knows one blank more and five fewer
BLANK = r"\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000"
# to Python "\n" alone ends a line, and the end of a text is before it too
LINE_ENDS = {".": r"[^\n]", "$": r"(?=\n?$)"}
# without regard to capitals Python takes these for one letter, JavaScript does not
LETTER_I = "[iıİ]"
SYNTAX = set("^$\\.*+?()[]{}|/")
"""What may stand behind a backslash in JavaScript to mean itself."""
KNOWN_FLAGS = re.UNICODE | re.ASCII | re.IGNORECASE
ONLY_IN_PYTHON = re.compile(r"\(\?(?![:=!]|<[=!])|[*+?}]\+")
"""Named groups, flags inside, comments; and what never gives back."""


def for_script(pattern: re.Pattern[str]) -> dict[str, str]:
    """Return a pattern as JavaScript's `RegExp` takes it, to find the same in every text.

    Parameters
    ----------
    pattern : re.Pattern
        Of Python. Digits, words, blanks and capitals mean in JavaScript other characters, and are
        written out.

    Returns
    -------
    dict
        Its "source" and its "flags".

    Raises
    ------
    ValueError
        The pattern has something in it that this function does not know.

    Examples
    --------
    >>> print(for_script(re.compile(r"\\d-\\d", re.A)))
    {'source': '[0-9]-[0-9]', 'flags': 'u'}
    >>> print(for_script(re.compile("is", re.I)))
    {'source': '[iıİ]s', 'flags': 'iu'}
    """
    if pattern.flags & ~KNOWN_FLAGS or ONLY_IN_PYTHON.search(pattern.pattern):
        raise ValueError(f"{pattern!r}: a flag or a group that no script has")
    any_case = bool(pattern.flags & re.IGNORECASE)
    in_class = False
    pieces = []
    for token in re.findall(r"\\.|.", pattern.pattern, re.DOTALL):
        if token[0] == "\\":
            pieces.append(_escape(token[1], in_class, bool(pattern.flags & re.ASCII)))
        elif any_case and token in "iıİ":
            pieces.append(LETTER_I[1:-1] if in_class else LETTER_I)
        else:
            pieces.append(token if in_class else LINE_ENDS.get(token, token))
            # a bracket inside brackets is no second class
            in_class = token == "[" or (in_class and token != "]")
    return {"source": "".join(pieces), "flags": "iu" if any_case else "u"}


def _escape(letter: str, in_class: bool, only_ascii: bool) -> str:
    """Return what stands for a backslash with this letter behind it."""
    digits = "0-9" if only_ascii else r"\p{Nd}"
    inside = {"d": digits, "s": BLANK, "-": r"\-"}
    outside = {"d": f"[{digits}]", "D": f"[^{digits}]", "s": f"[{BLANK}]", "b": EDGE_OF_WORD}
    known = inside if in_class else outside
    if letter in known and not (only_ascii and letter in "sb"):
        return known[letter]
    if letter in SYNTAX:
        return f"\\{letter}"
    if letter.isalnum() or in_class:
        raise ValueError(f"\\{letter} in a pattern: say here what it is in a script")
    return letter


def reading_tables() -> dict[str, Any]:
    """Return the tables and patterns by which an answer is read, for `judge.js`.

    Returns
    -------
    dict
        Of numbers, texts, lists and dicts alone, so that it can be written as JSON.
    """
    patterns = {"BEFORE_UNIT": BEFORE_UNIT}
    for name, pattern in vars(answer_patterns).items():
        if isinstance(pattern, re.Pattern):
            patterns[name] = pattern
    return {
        "ways": WAYS,
        "anyCase": ANY_CASE,
        "scales": SCALES,
        "examples": EXAMPLES,
        "less": list(LESS),
        "more": list(MORE),
        "otherThings": [
            [kind, for_script(re.compile(pattern)), words] for kind, pattern, words in OTHER_THINGS
        ],
        "patterns": {name: for_script(pattern) for name, pattern in patterns.items()},
        "mostCharacters": MOST_CHARACTERS,
        "oneDecimalMore": list(ONE_DECIMAL_MORE),
        "close": CLOSE,
    }


def for_copy(question: Asked) -> dict[str, Any]:
    """Return a question as `judgeAnswer` of `judge.js` takes it, with its answer.

    Parameters
    ----------
    question : Question or WhyQuestion
        What is asked.

    Returns
    -------
    dict
        Of a `Question` its answer, slips and margins in SI, as JSON keeps them to the last bit; of
        a `WhyQuestion` the verdict on each answer.

    Raises
    ------
    InputError
        A kind or a unit that is not known.

    Examples
    --------
    >>> from pcbchem.page.answers import Question
    >>> slips = ((0.006, "That is double."),)
    >>> half = Question("half", "Half of 3 g?", "mass", "g", 0.0015, 0.02, slips, "3 / 2")
    >>> print(for_copy(half)["slips"])
    [[0.006, 0.00012, 'That is double.']]
    """
    if isinstance(question, WhyQuestion):
        keys = ["", *(key for key, _, _ in question.options)]
        verdicts = {key: as_shown(judge_why(question, key)) for key in keys}
        return {"key": question.key, "verdicts": verdicts}
    check_unit(question.kind, question.unit)
    pattern = for_script(less_of(question.subject)) if question.subject else None
    return {
        "key": question.key,
        "kind": question.kind,
        "unit": question.unit,
        "lessOf": pattern,
        "answer": question.answer,
        "margin": question.margin(question.answer),
        "within": question.tolerance_words(),
        "slips": [[slip, question.margin(slip), hint] for slip, hint in question.slips],
    }


def as_shown(verdict: Verdict) -> dict[str, str]:
    """Return a verdict as a page shows it."""
    return {"grade": verdict.grade, "words": tied(verdict.words)}


def judge_script() -> str:
    """Return `judge.js` with its tables before it, to stand in a page among other scripts."""
    # "<" could end the script, or begin a comment in it; it stands in texts alone
    tables = json.dumps(reading_tables(), allow_nan=False).replace("<", "\\u003c")
    return f"const READING = {tables};\n{SCRIPT.read_text(encoding='utf-8')}"
