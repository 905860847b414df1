"""An answer is read in any sensible notation and judged with its hint (laws; SI values by hand)."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.page.answer_units import WAYS
from pcbchem.page.answers import Question, answer_words, judge, read_answer

UNIT = {
    "time": "min",
    "concentration": "mol/L",
    "temperature": "°C",
    "mass": "g",
    "ratio": "",
    "share": "%",
}

# text, kind, SI value: 2.1 mol/L is 2100 mol/m³; 7½ min is 7.5 × 60 = 450 s; 68 °F is
# (68 − 32) / 1.8 = 20 °C
ACCEPTED = [
    ("2.1 mol/L", "concentration", 2100),
    ("2,1 M", "concentration", 2100),
    ("2.1", "concentration", 2100),
    ("2100 mol/m3", "concentration", 2100),
    ("2100 mol/m³", "concentration", 2100),
    ("2.1mol/l", "concentration", 2100),
    ("2 100 mol·m⁻³", "concentration", 2100),
    ("2.1 mol L⁻¹", "concentration", 2100),
    ("2.1 moles per litre", "concentration", 2100),
    ("2.1 mol dm-3", "concentration", 2100),
    ("2.1·10³ mol/m³", "concentration", 2100),
    ("2.1 × 10^3 mol/m^3", "concentration", 2100),
    ("2.1e3 mol/m3", "concentration", 2100),
    ("2100 mM", "concentration", 2100),
    ("2.1 mmol/mL", "concentration", 2100),
    ("7½ min", "time", 450),
    ("7 1/2 min", "time", 450),
    ("7 min 30 s", "time", 450),
    ("450 s", "time", 450),
    ("7:30 min", "time", 450),
    ("7:30", "time", 450),
    ("0:07:30", "time", 450),
    ("7m30s", "time", 450),
    ("7 minutes and 30 seconds", "time", 450),
    ("7′30″", "time", 450),
    ("about 7,5 Min.", "time", 450),
    ("7 min 30", "time", 450),
    ("⅛ h", "time", 450),
    ("7.5", "time", 450),
    ("1 h 1 min 1 s", "time", 3661),
    ("2.6 times", "ratio", 2.6),
    ("×2.6", "ratio", 2.6),
    ("x 2,6", "ratio", 2.6),
    ("2.6×", "ratio", 2.6),
    ("2.6 : 1", "ratio", 2.6),
    ("260 %", "ratio", 2.6),
    ("2.6-fold", "ratio", 2.6),
    ("a factor of 2.6", "ratio", 2.6),
    ("2.6 times as long", "ratio", 2.6),
    ("2,6 times less", "ratio", 2.6),
    ("1e1", "ratio", 10),
    ("2.6× less", "ratio", 2.6),
    ("2.6-fold lower.", "ratio", 2.6),
    ("68 degF", "temperature", 293.15),
    ("293.15 k", "temperature", 293.15),
    ("293.15 Kelvin", "temperature", 293.15),
    ("20 °C", "temperature", 293.15),
    ("68 °F", "temperature", 293.15),
    ("293.15 K", "temperature", 293.15),
    ("20", "temperature", 293.15),
    ("20°", "temperature", 293.15),
    ("−5 ℃", "temperature", 268.15),
    ("- 5 degrees Celsius", "temperature", 268.15),
    ("−40 °F", "temperature", 233.15),
    ("1.5 g", "mass", 0.0015),
    ("1500 mg", "mass", 0.0015),
    ("0,0015 kg", "mass", 0.0015),
    ("1½", "mass", 0.0015),
    ("1.5e-3 kg", "mass", 0.0015),
    ("\u200b１.５\u202fg", "mass", 0.0015),
    ("6.8 % by weight", "share", 0.068),
    ("6.8", "share", 0.068),
    ("68 g/kg", "share", 0.068),
    ("6,8 wt%", "share", 0.068),
]

# text, kind, a word of what is said to it
REFUSED = [
    ("1,234.5 s", "time", "two points or commas"),
    ("1.234,5 s", "time", "two points or commas"),
    ("1,234 s", "time", "two ways: write 1.234 or 1234"),
    ("", "time", "Write one number"),
    ("quick", "time", "begin with a number"),
    ("7–8 min", "time", "range"),
    ("7 to 8 min", "time", "range"),
    ("7 ± 1 min", "time", "range"),
    ("7 or 8 min", "time", "'or'"),
    ("−5 min", "time", "below zero"),
    ("30 s 7 min", "time", "'7 min' does not fit"),
    ("7:75", "time", "clock"),
    ("7:30 s", "time", "clock"),
    ("7 min 90 s", "time", "'90 s' does not fit"),
    ("1/0 h", "time", "fraction"),
    ("2.6 times", "time", "is a ratio"),
    ("2 3 mol/L", "concentration", "more than one number"),
    ("2.1 mol", "concentration", "is an amount"),
    ("2.1 m", "concentration", "per kg"),
    ("77 g/L", "concentration", "is a mass per volume"),
    ("10 %", "concentration", "is a share"),
    ("2.1 furlongs", "concentration", "'furlongs'"),
    ("−300 °C", "temperature", "absolute zero"),
    ("20 °R", "temperature", "'°R'"),
    ("12 % w/v", "share", "by volume"),
    ("120 %", "share", "more than the whole"),
    ("5 mL", "mass", "is a volume"),
    ("1 oz", "mass", "thickness"),
    ("1e999 g", "mass", "too large"),
    ("nan", "mass", "begin with a number"),
    ("inf g", "mass", "begin with a number"),
    ("3 min", "ratio", "is a time"),
    ("2 times 3", "ratio", "more than one number"),
    ("2.6 timesbanana", "ratio", "'timesbanana'"),
    ("2.6 times banana", "ratio", "'times banana'"),
    ("9" * 80, "ratio", "Write one number"),
]
EASY = Question(
    "easy",
    "How strong?",
    "concentration",
    "mol/L",
    1400.0,
    0.02,
    ((2800.0, "Forgot the peroxide."), (1300.0, "Forgot the density.")),
    "By hand.",
)


def test_law_every_kind_is_read_and_refused():
    assert {kind for _, kind, _ in ACCEPTED} == {kind for _, kind, _ in REFUSED} == set(WAYS)


@pytest.mark.parametrize("text, kind, value", ACCEPTED)
def test_law_a_sensible_notation_is_read(text, kind, value):
    assert math.isclose(read_answer(text, kind, UNIT[kind]), value, rel_tol=1e-12)
    assert math.isclose(read_answer(f"\u00a0{text} ", kind, UNIT[kind]), value, rel_tol=1e-12)


@pytest.mark.parametrize("text, kind, words", REFUSED)
def test_law_what_cannot_be_read_is_refused_in_words(text, kind, words):
    with pytest.raises(ValueError) as refused:
        read_answer(text, kind, UNIT[kind])
    assert words in str(refused.value)


@pytest.mark.parametrize(
    "unit, text, value",
    [
        ("s", "7:30", 450),
        ("h", "7:30", 27000),
        ("h", "7:30 min", 450),
        ("s", "90", 90),
        ("h", "1½", 5400),
    ],
)
def test_law_a_bare_number_counts_in_the_unit_of_the_question(unit, text, value):
    assert read_answer(text, "time", unit) == value


@pytest.mark.parametrize(
    "words",
    ["times less", "× less", "times as little", "times slower", "", "×"],
)
def test_law_how_many_times_less_may_be_said_so(words):
    assert read_answer(f"2.77 {words}", "ratio", "timesless") == 2.77


@pytest.mark.parametrize("words", ["times less sugar", "× Less sugar each second", "fold less"])
def test_law_what_it_is_less_of_may_be_said(words):
    assert read_answer(f"2.77 {words}", "ratio", "timesless", "sugar") == 2.77


@pytest.mark.parametrize("subject", ["", "salt"])
def test_law_less_of_something_else_is_refused(subject):
    with pytest.raises(ValueError, match="'times less sugar', which is no unit"):
        read_answer("2.77 times less sugar", "ratio", "timesless", subject)


@pytest.mark.parametrize(
    "words",
    ["times more", "times faster", "× more", "Times more sugar", "times as much", "fold higher"],
)
def test_law_more_is_refused_where_less_is_asked_and_only_there(words):
    less = Question(
        "less", "How much less?", "ratio", "timesless", 2.77, 0.03, (), "By hand.", subject="sugar"
    )
    verdict = judge(less, f"2.77 {words}")
    assert verdict.grade == "unread" and "asks how many times less" in verdict.words
    assert read_answer(f"2.77 {words}", "ratio", "", "sugar") == 2.77


def test_law_a_bare_temperature_may_be_asked_in_any_scale():
    assert math.isclose(read_answer("68", "temperature", "°F"), 293.15)
    assert read_answer("293.15", "temperature", "K") == 293.15


@pytest.mark.parametrize(
    "kind, unit, words", [("length", "m", "kind = 'length'"), ("time", "year", "unit = 'year'")]
)
def test_law_an_unknown_kind_or_unit_is_named(kind, unit, words):
    with pytest.raises(ValueError, match=words):
        read_answer("1", kind, unit)


def is_read_or_refused(text, kind):
    """A text is a finite number at least 0, or it is refused in words of ours."""
    try:
        value = read_answer(text, kind, UNIT[kind])
    except ValueError as refused:
        words = str(refused)
        assert len(words) > 10 and "math" not in words and "convert" not in words
    else:
        assert math.isfinite(value) and value >= 0


@settings(deadline=None)
@given(st.text(max_size=70), st.sampled_from(sorted(WAYS)))
def test_law_any_text_is_read_or_refused_in_words(text, kind):
    is_read_or_refused(text, kind)


@settings(deadline=None)
@given(
    st.from_regex(r"[ \d.,:/eE+×·^½³-]{1,14}( ?(min|s|h|mol/L|g|x|%|°C))?", fullmatch=True),
    st.sampled_from(sorted(WAYS)),
)
def test_law_any_jumble_of_digits_is_read_or_refused_in_words(text, kind):
    is_read_or_refused(text, kind)


@settings(deadline=None)
@given(st.floats(1e-3, 1e5), st.sampled_from(sorted(set(WAYS) - {"share"})))
def test_law_what_is_written_is_read_back(value, kind):
    # three digits: half of the last one is at most 0.5 %; temperatures to 0.1 °C; at most six
    # decimals
    near = 0.051 if kind == "temperature" else 0.51e-6 * WAYS[kind][UNIT[kind]]
    assert math.isclose(
        read_answer(answer_words(value, kind, UNIT[kind]), kind, UNIT[kind]),
        value,
        rel_tol=5.1e-3,
        abs_tol=near,
    )


@pytest.mark.parametrize(
    "text, found, words",
    [
        ("1.4 M", "right", "within 2 %"),
        ("1,425", "unread", "two ways"),
        ("1.424", "right", "read as 1.42 mol/L"),
        ("1.376", "right", "Right"),
        ("2.8", "slip", "Forgot the peroxide."),
        ("2.75", "slip", "Forgot the peroxide."),
        ("1.3", "slip", "Forgot the density."),
        ("1.43", "wrong", "little too high"),
        ("1.46", "wrong", "little too high"),
        ("1.35", "wrong", "little too low"),
        ("2", "wrong", "Too high"),
        ("0.7", "wrong", "Too low"),
        ("0", "wrong", "within 2 %"),
        ("soon", "unread", "Could not"),
    ],
)
def test_law_an_answer_is_judged(text, found, words):
    verdict = judge(EASY, text)
    assert verdict.grade == found and words in verdict.words
    assert "1.40" not in verdict.words or found == "right", "the answer is not given away"


def test_law_a_temperature_is_judged_in_degrees():
    warm = Question("warm", "How warm?", "temperature", "°C", 300.0, 1.0, (), "By hand.")
    for text in ("27.8 °C", "25.9", "82 °F"):
        assert judge(warm, text).grade == "right", text
    assert judge(warm, "301.1 K").grade == "wrong"
    assert warm.tolerance_words() == "within 1 °C"
