"""What is asked: one answer stands clear of the others, each has a reply (laws)."""

import pytest

from pcbchem.lesson.warm_baths import jar_prediction, weak_prediction
from pcbchem.lesson.warm_baths.numbers import FLAT, JAR, MILD, WEAK, hour_after
from pcbchem.lesson.warm_baths.predictions import guessed


def test_law_the_right_answer_is_the_jar_s_and_stands_clear_of_the_others():
    right = float(hour_after(MILD).peak(JAR).middle)
    assert guessed("page") == pytest.approx(right)
    assert guessed("cools") == pytest.approx(float(hour_after(MILD).peak(FLAT).middle))
    for key in ("cools", "little", "some"):
        assert guessed(key) < right - 5
    assert guessed("-") is None and guessed(None) is None
    words = jar_prediction().options["page"].words
    assert words == f"about {right - 273.15:.0f} °C"


def test_law_the_second_answer_flips():
    hour = hour_after(WEAK)
    assert abs(float(hour.peak(JAR).middle - hour.peak(FLAT).middle)) < 1
    assert "less than 1 °C" in weak_prediction().options["less"].words


@pytest.mark.parametrize("make", [jar_prediction, weak_prediction])
def test_law_each_answer_and_reason_has_a_reply(make):
    asked = make()
    assert len(asked.options) == 4 and len(asked.reasons) == 4
    for option in [*asked.options.values(), *asked.reasons.values()]:
        assert option.words and len(option.reply) > 20
    # no range among single numbers
    assert not any(" to " in option.words for option in asked.options.values())


def test_law_the_first_question_says_nothing_of_the_second():
    first = jar_prediction()
    words = [first.question, *(option.reply for option in first.options.values())]
    words += [option.reply for option in first.reasons.values()]
    assert not any("3 %" in text or "weak" in text for text in words)
