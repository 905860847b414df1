"""What a script needs to judge: patterns that find the same, tables and questions whole (laws)."""

import json
import re
from pathlib import Path

import pytest
from helpers.answers import EASY, JUDGED, LESS_SUGAR, WARM
from helpers.widgets import send

from pcbchem.common.limits import InputError
from pcbchem.page import Check
from pcbchem.page.answer_units import EXAMPLES, WAYS
from pcbchem.page.answers import Question, judge
from pcbchem.page.export import judging
from pcbchem.page.export.judging import (
    as_shown,
    for_copy,
    for_script,
    judge_script,
    reading_tables,
)
from pcbchem.page.why import WhyQuestion, judge_why
from pcbchem.page.widget import base

TOP_LEVEL = re.compile(r"^(?:export )?(?:async )?(?:const|let|var|function|class) +(\w+)", re.M)
ICE = WhyQuestion(
    "sea",
    "Why?",
    (("a", "Light.", "2 g more."), ("b", "Cold.", "Is it?"), ("c", "Salt.", "Yes.")),
    "c",
    "Salt.",
)


@pytest.mark.parametrize(
    "pattern, source",
    [
        (re.compile(r"\d[\d.]"), r"[\p{Nd}][\p{Nd}.]"),
        (re.compile(r"\D[^\d+-]", re.A), "[^0-9][^0-9+-]"),
        (re.compile(r"a.c$"), r"a[^\n]c(?=\n?$)"),
        (re.compile(r"[.$]\.\$"), r"[.$]\.\$"),
        (re.compile(r"[.[]."), r"[.[][^\n]"),
        (re.compile("hi[hi]", re.I), "h[iıİ][hiıİ]"),
        (re.compile(re.escape("a b-c#")), "a b-c#"),
        (re.compile(r"[a\-c]"), r"[a\-c]"),
    ],
)
def test_law_a_pattern_is_written_for_a_script(pattern, source):
    flags = "iu" if pattern.flags & re.I else "u"
    assert for_script(pattern) == {"source": source, "flags": flags}


@pytest.mark.parametrize(
    "source, flags",
    [
        ("a b", re.X),
        ("^a", re.M),
        (".", re.S),
        ("(?P<n>a)", 0),
        ("(?>a)", 0),
        ("a++", 0),
        (r"\w", 0),
        (r"\Z", 0),
        (r"[\D]", 0),
        (r"\bto", re.A),
        (r"\s", re.A),
        (r"(a)\1", 0),
    ],
)
def test_law_a_pattern_that_a_script_would_take_otherwise_is_refused(source, flags):
    with pytest.raises(ValueError):
        for_script(re.compile(source, flags))


def test_law_a_blank_is_one_of_pythons():
    blanks = {chr(code) for code in range(0x10000) if re.match(r"\s", chr(code))}
    assert {chr(code) for code in range(0x10000) if re.match(f"[{judging.BLANK}]", chr(code))} == (
        blanks
    )


def test_law_an_i_is_one_of_pythons():
    """And no other letter of English has another one beside it that a script does not know."""
    for letter in "abcdefghijklmnopqrstuvwxyz":
        pattern = re.compile(letter, re.I)
        alike = {chr(code) for code in range(0x10000) if pattern.match(chr(code))}
        # long s and the sign of kelvin are letters of English to a script too
        expected = {*judging.LETTER_I[1:-1], "I"} if letter == "i" else {letter, letter.upper()}
        assert alike - {"ſ", "\u212a"} == expected


def test_law_the_tables_are_whole_and_plain():
    tables = reading_tables()
    assert json.loads(json.dumps(tables, allow_nan=False)) == tables
    assert tables["ways"] == WAYS and tables["examples"] == EXAMPLES
    names = re.findall(
        r'(?:(?:isFoundIn|replaceAllOf|matchAt)\("|patterns\.)([A-Z_]+)',
        judging.SCRIPT.read_text("utf-8"),
    )
    assert set(names) == set(tables["patterns"])


def test_law_the_script_can_stand_in_a_page_beside_the_others():
    script = judge_script()
    tables = script.partition("\n")[0]
    assert tables.startswith("const READING = ") and "<" not in tables
    assert json.loads(tables.removeprefix("const READING = ").rstrip(";")) == reading_tables()
    assert "import " not in script and "export " not in script and "</" not in script
    names = TOP_LEVEL.findall(script)
    assert {"READING", "judgeAnswer", "Unreadable"} < set(names)
    assert len(names) == len(set(names))
    others = [*base.FOLDER.glob("*.js"), *Path(judging.__file__).parent.glob("*.js")]
    assert len(others) > 4
    for path in others:
        if path != judging.SCRIPT:
            assert not set(names) & set(TOP_LEVEL.findall(path.read_text("utf-8"))), path.name


def test_law_a_question_has_its_answer_and_margins():
    """By hand: 2 % of 1400, 2800 and 1300 mol/m³; a degree is a kelvin; numbers survive whole."""
    copy = json.loads(json.dumps(for_copy(EASY)))
    assert (copy["kind"], copy["unit"], copy["within"]) == ("concentration", "mol/L", "within 2 %")
    assert (copy["answer"], copy["margin"], copy["lessOf"]) == (1400.0, 28.0, None)
    assert copy["slips"] == [
        [2800.0, 56.0, "Forgot the peroxide."],
        [1300.0, 26.0, "Forgot the density."],
    ]
    assert (for_copy(WARM)["margin"], for_copy(WARM)["within"]) == (1.0, "within 1 °C")
    assert "sugar" in for_copy(LESS_SUGAR)["lessOf"]["source"]
    third = Question("third", "?", "ratio", "", 1 / 3, 0.03, ((0.1 + 0.2, "No."),), ".")
    copy = json.loads(json.dumps(for_copy(third)))
    assert (copy["answer"], copy["slips"][0][0]) == (1 / 3, 0.1 + 0.2)


def test_law_a_why_has_the_verdict_on_each_answer():
    verdicts = for_copy(ICE)["verdicts"]
    assert set(verdicts) == {"", "a", "b", "c"}
    for key, verdict in verdicts.items():
        assert verdict == as_shown(judge_why(ICE, key))
    assert verdicts["a"]["words"] == "Not yet. 2\u00a0g more."


@pytest.mark.parametrize("kind, unit", [("pressure", "bar"), ("time", "year")])
def test_law_a_question_that_cannot_be_read_is_no_copy(kind, unit):
    with pytest.raises(InputError, match="choose from"):
        for_copy(Question("odd", "?", kind, unit, 1.0, 0.02, (), "."))


@pytest.mark.parametrize("text", [text for text, _, _ in JUDGED])
def test_law_a_verdict_is_what_a_live_page_shows(text):
    sheet = Check(lambda seed: [EASY])
    send(sheet, key="easy", text=text)
    shown = as_shown(judge(EASY, text))
    assert sheet.verdicts["easy"] == {"text": text, **shown}
