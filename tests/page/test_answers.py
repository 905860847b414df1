"""An answer is read in any sensible notation and judged with its hint (laws; SI values by hand)."""

import math

import pytest
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
    UNIT,
    WARM,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem.page.answer_units import WAYS
from pcbchem.page.answers import answer_words, judge, read_answer


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


@pytest.mark.parametrize("unit, text, value", BARE_TIMES)
def test_law_a_bare_number_counts_in_the_unit_of_the_question(unit, text, value):
    assert read_answer(text, "time", unit) == value


@pytest.mark.parametrize("words", SAID_LESS)
def test_law_how_many_times_less_may_be_said_so(words):
    assert read_answer(f"2.77 {words}", "ratio", "timesless") == 2.77


@pytest.mark.parametrize("words", SAID_LESS_SUGAR)
def test_law_what_it_is_less_of_may_be_said(words):
    assert read_answer(f"2.77 {words}", "ratio", "timesless", "sugar") == 2.77


@pytest.mark.parametrize("subject", ["", "salt"])
def test_law_less_of_something_else_is_refused(subject):
    with pytest.raises(ValueError, match="'times less sugar', which is no unit"):
        read_answer("2.77 times less sugar", "ratio", "timesless", subject)


@pytest.mark.parametrize("words", SAID_MORE)
def test_law_more_is_refused_where_less_is_asked_and_only_there(words):
    verdict = judge(LESS_SUGAR, f"2.77 {words}")
    assert verdict.grade == "unread" and "asks how many times less" in verdict.words
    assert read_answer(f"2.77 {words}", "ratio", "", "sugar") == 2.77


def test_law_a_bare_temperature_may_be_asked_in_any_scale():
    assert math.isclose(read_answer("68", "temperature", "°F"), 293.15)
    assert read_answer("293.15", "temperature", "K") == 293.15


@pytest.mark.parametrize(
    "kind, unit, words",
    [("pressure", "bar", "kind = 'pressure'"), ("time", "year", "unit = 'year'")],
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


@pytest.mark.parametrize("text, found, words", JUDGED)
def test_law_an_answer_is_judged(text, found, words):
    verdict = judge(EASY, text)
    assert verdict.grade == found and words in verdict.words
    assert "1.40" not in verdict.words or found == "right", "the answer is not given away"


def test_law_a_temperature_is_judged_in_degrees():
    for text in ("27.8 °C", "25.9", "82 °F"):
        assert judge(WARM, text).grade == "right", text
    assert judge(WARM, "301.1 K").grade == "wrong"
    assert WARM.tolerance_words() == "within 1 °C"
