"""Questions and thousands of texts as answers to them, to compare two readings of the same text."""

import math
import random
import unicodedata
from itertools import chain

import numpy as np

from helpers.answers import (
    ACCEPTED,
    BARE_TIMES,
    EASY,
    JUDGED,
    LESS_SUGAR,
    REFUSED,
    SAID_LESS,
    SAID_LESS_SUGAR,
    SAID_MORE,
    WARM,
)
from pcbchem.lesson.key import QUESTIONS, asking
from pcbchem.lesson.review_questions import REVIEW_QUESTIONS
from pcbchem.page.answer_units import SCALES, WAYS
from pcbchem.page.answers import Question
from pcbchem.page.why import WhyQuestion

TABLES = 6
"""So many tables are asked with numbers of their own [-]."""
GARBAGE = 4000
"""So many texts are put together from pieces [-]."""
UNITS = {
    "time": ("s", "min", "h"),
    "concentration": ("mol/L", "mol/m3", "mM"),
    "temperature": ("°C", "°F", "K"),
    "mass": ("g", "mg", "kg"),
    "mass per volume": ("mg/L", "g/L", "µg/mL"),
    "length": ("mm", "µm", "mil"),
    "ratio": ("", "timesless", "%"),
    "share": ("%", "g/kg", "kg/kg"),
    "share of air": ("ppm", "ppb", "%"),
}
"""By kind: units in which a question may ask."""
SHARED = [text for text, *_ in ACCEPTED + REFUSED + JUDGED]
SHARED += [text for _, text, _ in BARE_TIMES]
SHARED += [f"2.77 {words}" for words in SAID_LESS + SAID_LESS_SUGAR + SAID_MORE]
# where one step alone decides
RARE = [
    *("7:59", "7:60", "0:07:60", "0:60:00", "99:59 h", "7 min 59 s", "7 min 60 s", "1 h 60 min"),
    *("1 h 30", "2h15", "1 h 1 min 59", "7 min 7 min", "7 min, 30 s", "1e0 h 5", "5 s 3"),
    *("5 min!", "5 M!", "5 x;", "5 sec.", "5 wt.%", "5 wt.%.", "20 degrees", "20 deg.", "20 deg"),
    *("-7 1/2 °C", "−½", "-1/3 °F", "3 1/2e3", "1/2e3", "3/0", "0/3 s", "5 e-3", "5e-3 m^-3"),
    *("5 %bymaß", "5 %BYMAẞ", "5 constructor", "5 __proto__", "5 toString", "5 hasOwnProperty"),
    *("7" + "𐐀" * 59, "7" + "𐐀" * 60, "7" + "x" * 59, "7" + "x" * 60, "​" * 80 + "7"),
    *("is about 5", "about about ca. 5 s", "about", "~ - 5", "+ 5", "± 5", "'5' \"m\"", "5 'x\\y'"),
]
# what is read in two ways, is not seen, looks like a digit or a letter, or is a name in a script
PIECES = [
    *"0123456789.,:;/'\"\\%°+-*^eE×xX·⋅∙½¼⅛⅔²³⁻¹⁰±~≈=…−‐‑‒–—′″’”⁄",
    *(" ", " ", " ", "\t", "\n", "\r", "\x00", "\x1c", "\x1f", "\x7f", "\x85", "\xa0", "\xad"),
    *("\u200b", "\u2009", "\u202f", "\u2028", "\u2029", "\u3000", "\ufeff", "\U000e0001"),
    *("٣", "४", "３", "𝟕", "㎏", "㏖", "①", "Ⅷ", "K", "ℓ", "㎎", "㎗", "℃", "℉", "％"),
    *("ß", "ẞ", "ı", "İ", "ſ", "ǰ", "ẖ", "ẗ", "ẘ", "ẙ", "ﬀ", "Σ", "ς", "é", "e\u0301", "🜁"),
    *("min", "s", "h", "m", "M", "mM", "mol/L", "MOL/l", "g", "kg", "oz", "times", "less", "more"),
    *(
        "to",
        " to ",
        "ot",
        "too",
        "é to é",
        " to٣",
        "and",
        " and ",
        "about ",
        "Is ",
        "ıs ",
        "cİrca ",
    ),
    *("a factor of ", "by a ", "10", "×10³", "·10^-3", "*10**2", "e3", "e-3", "E+2", "100 000"),
    *("1,234", "12,34", "7:30", "0:07:30", "7:5", "1/3", "7 1/2", "1/0", "..", ". ", "+/-", " -"),
    *("%bymaß", "wẗ", "°c", "DEG", "degrees ", "per litre", "m^-3", "dm-3", "w/v", "vol", "mL"),
    *(
        "constructor",
        "__proto__",
        "toString",
        "NaN",
        "Infinity",
        "inf",
        "0x10",
        "1_000",
        "$1",
        "$&",
    ),
    *("sugar", "SUGAR", "copper", "acİd", "(a+b)", "banana", "½ min", "2 mol/L of 3 g"),
]


def asked_in_lessons():
    """List the questions of the first tables on every page that asks, and those that go back."""
    questions = []
    for name in QUESTIONS:
        for table in range(1, TABLES + 1):
            questions += asking(name)(table)
    for ask in REVIEW_QUESTIONS:
        questions += [ask(np.random.default_rng(table)) for table in range(1, TABLES + 1)]
    return questions


def asked_in_every_unit():
    """List a question of each kind in each unit, and some whose words may mislead a script."""
    questions = [EASY, WARM, LESS_SUGAR]
    for kind, units in UNITS.items():
        for unit in units:
            size = WAYS[kind][unit]
            zero = SCALES[unit] if kind == "temperature" else 0.0
            answer = 0.5 * size if kind == "share" else 12.5 * size + zero
            slips = ((answer * 1.5, "It is '2 min', not 10 %.."), (answer / 3, "No $& \\ <b>."))
            questions.append(Question(unit, "?", kind, unit, answer, 0.04, slips, "."))
    for subject in ("acid", "a.c*(d)-$1[x]", "two words", "Straße"):
        questions.append(
            Question(subject, "?", "ratio", "timesless", 3.0, 0.02, (), ".", subject=subject)
        )
    return questions


def in_unit(value, kind, unit):
    """Return a number that stands before a unit, from a value [SI]."""
    zero = SCALES[unit] if kind == "temperature" else 0.0
    return (value - zero) / WAYS[kind][unit]


def notations(number, dice):
    """List ways to write a number [any unit], some of them not allowed."""
    plain = f"{number:.{dice.choice((3, 4, 6))}g}"
    whole = math.floor(abs(number))
    mantissa, power = f"{number:.4e}".split("e")
    raised = str(int(power)).translate(str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻"))
    return [
        plain,
        plain.replace(".", ","),
        repr(number),
        f"{number:,.2f}",
        f"{number:,.1f}".replace(",", " "),
        f"{whole}½",
        f"{whole} {dice.randrange(9)}/{dice.randrange(9)}",
        f"{mantissa}×10{raised}",
        f"{mantissa} * 10^{power}",
        f"{mantissa}E{power}",
        f"about {plain}",
        f"{plain}.",
    ]


def clocks(seconds, dice):
    """List ways to write a time [s] in several parts."""
    minutes, rest = divmod(round(abs(seconds)), 60)
    hours, less = divmod(minutes, 60)
    return [
        f"{minutes}:{rest:02}",
        f"{hours}:{less:02}:{rest:02}",
        f"{minutes}:{rest:02} {dice.choice(('min', 'h', 's', 'Min.', 'x'))}",
        f"{minutes} min {rest} s",
        f"{minutes}m{rest}",
        f"{hours} h, {less} min and {rest} seconds.",
        f"{minutes}′{rest}″",
        f"{rest} s {minutes} min",
    ]


def disguised(text, dice):
    """Return a text as copied, typed on another keyboard, or mistyped."""
    place = dice.randrange(len(text) + 1)
    return dice.choice(
        [
            text.replace(" ", "\u00a0"),
            text.replace(" ", ""),
            text.replace("-", "−"),
            text.translate({ord("0") + digit: ord("０") + digit for digit in range(10)}),
            text.upper(),
            text.title(),
            text[:place] + dice.choice(PIECES) + text[place:],
            text[:place] + text[place + 1 :],
            f"\ufeff {text}\u200b",
        ]
    )


def texts_for(question, dice):
    """List texts for a question with numbers: its values in its units, and near its margins."""
    values = [question.answer, *(slip for slip, _ in question.slips)]
    texts = []
    for value in values:
        texts += [
            f"{number} {question.unit}"
            for number in notations(in_unit(value, question.kind, question.unit), dice)
        ]
        # at the edge of what counts, and on both sides of it
        for share in (1.0, 3.0):
            for sign in (-1, 1):
                for nudge in (1 - 1e-9, 1.0, 1 + 1e-9):
                    edge = value + sign * share * nudge * question.margin(value)
                    texts.append(repr(in_unit(edge, question.kind, question.unit)))
        if question.kind == "time":
            texts += clocks(value, dice)
    for spelling in WAYS[question.kind]:
        number = in_unit(dice.choice(values), question.kind, spelling)
        gap = dice.choice(("", " ", " ", "\u00a0"))
        texts.append(f"{dice.choice(notations(number, dice))}{gap}{spelling}")
    return texts


def hard_to_round():
    """List numbers in the middle between two that are shown, at powers of ten, huge or long."""
    texts = []
    for halves in range(1, 64):
        for places in range(1, 9):
            texts.append(repr(halves / 2**places))
            texts.append(repr(100 + halves / 2**places))
    for power in range(-9, 24):
        number = 10.0**power
        edges = [number, 0.9995 * number, 0.5 * number]
        for edge in edges:
            texts += [repr(math.nextafter(edge, side)) for side in (0.0, math.inf)]
            texts.append(repr(edge))
    texts += [f"{2**53 + odd}/{3 * odd}" for odd in (1, 3, 5, 10**6 + 1)]
    texts += ["1" * 20 + "/7", "7/" + "1" * 30, "1" * 25 + " 1/3", "9" * 30 + "/" + "8" * 28]
    texts += ["9" * 40, "1e300", "1e308", "1.8e308", "1e-300", "1e-400", "-0", "−0/5", "0/7", "0"]
    return list(dict.fromkeys(texts))


def garbage(dice):
    """List texts put together from pieces, and from any characters that this Python knows."""
    texts = []
    for _ in range(GARBAGE):
        pieces = dice.choices(PIECES, k=dice.randrange(1, 8))
        texts.append("".join(pieces))
        texts.append(f"{dice.randrange(100)}{''.join(pieces[:4])}")
    while len(texts) < 3 * GARBAGE:
        character = chr(dice.randrange(0x110000))
        # one that has no meaning yet may have one in a newer browser; half a pair is no text
        if unicodedata.category(character) not in ("Cn", "Cs"):
            texts.append(f"7{character}{dice.choice(('', ' s', 'min', '5'))}")
    return texts


def corpus(seed=1):
    """Return questions, and pairs of the place of a question among them and a text to judge."""
    dice = random.Random(seed)
    lessons, others = asked_in_lessons(), asked_in_every_unit()
    questions = lessons + others
    pairs = []
    for place, question in enumerate(questions):
        if isinstance(question, WhyQuestion):
            pairs += [(place, key) for key in ("", *(key for key, _, _ in question.options))]
            continue
        texts = texts_for(question, dice)
        texts += [disguised(text, dice) for text in dice.sample(texts, len(texts) // 4)]
        pairs += [(place, text) for text in texts]
    numeric = [place for place, asked in enumerate(questions) if isinstance(asked, Question)]
    numbers = hard_to_round()
    for place in range(len(lessons), len(questions)):
        few = dice.sample(numbers, len(numbers) // 3)
        pairs += [(place, text) for text in chain(SHARED, RARE, few)]
        subject = questions[place].subject
        pairs += [(place, f"3 {way}{subject}") for way in ("× less ", "ASLIttle", "times more ")]
        pairs.append((place, f"3 times less {subject.upper().replace('I', 'İ')}"))
    one_of_each = {questions[place].key: place for place in numeric if place < len(lessons)}
    for place in one_of_each.values():
        pairs += [(place, text) for text in SHARED + RARE]
    pairs += [(dice.choice(numeric), text) for text in garbage(dice)]
    # so long that a function which calls itself for each sign would run out of room
    pairs.append((numeric[0], "~" * 30000 + "5"))
    return questions, pairs
