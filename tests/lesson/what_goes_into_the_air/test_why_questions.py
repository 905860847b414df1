"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import re

import pytest
from helpers.why_laws import WhyLaws, drawn

from pcbchem.lesson.what_goes_into_the_air import why_questions
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    FAN,
    MILD_ACID,
    breathed,
    less_than_at_first,
    over_liquid,
)
from pcbchem.lesson.what_goes_into_the_air.why_questions import (
    BATH_PLACES,
    SETTINGS,
    STRONG_ACIDS,
)


class TestWhy(WhyLaws):
    settings = SETTINGS
    never = r"\bsafe|harmless|\bfine\b|below the limit"


def number(text):
    return float(text.replace("\u202f", ""))


def test_law_how_many_times_is_the_package_s():
    for setting in drawn(why_questions.wide_bath):
        acid, times = re.search(r"bottle of (\d+) % .* gives ([\d.]+) times", setting.text).groups()
        wanted = float(breathed(float(acid)).bottle_times.middle)
        assert number(times) == pytest.approx(wanted, rel=0.051) and wanted > 2
    for setting in drawn(why_questions.fan_and_spill):
        acid, less = re.search(
            r"Acid of (\d+) % .* only ([\d.]+) times less", setting.text
        ).groups()
        wanted = float(less_than_at_first(FAN, float(acid)).middle)
        assert number(less) == pytest.approx(wanted, rel=0.051) and 1 < wanted < 2.5
    for setting in drawn(why_questions.in_the_neck):
        place = next(key for key, words in BATH_PLACES.items() if words in setting.text)
        less = re.search(r"gives ([\d.]+) times less", setting.text)[1]
        wanted = 1 / float(breathed(MILD_ACID, place).bottle_times.middle)
        assert number(less) == pytest.approx(wanted, rel=0.051) and wanted > 20
    for setting in drawn(why_questions.not_three_times):
        acid, share, times = re.search(
            r"of (\d+) % is ([\d.]+) times as strong .* holds ([\d\u202f]+) times", setting.text
        ).groups()
        assert float(share) == pytest.approx(float(acid) / 10)
        wanted = over_liquid(float(acid)) / over_liquid(10.0)
        assert number(times) == pytest.approx(wanted, rel=0.051)
    for setting in drawn(why_questions.smallest_row):
        place = next(
            key for key, words in BATH_PLACES.items() if f"In {words} the mild" in setting.text
        )
        bath = re.search(r"gives ([\d.]+) ppm", setting.text)[1]
        wanted = 1e6 * float(breathed(MILD_ACID, place).bath.middle)
        assert number(bath) == pytest.approx(wanted, rel=0.051)


def test_law_the_bath_is_the_smaller_row_of_each_strong_acid():
    for acid in STRONG_ACIDS:
        assert breathed(acid).bottle_times.low > 4


def test_law_a_fan_changes_the_air_once_or_twice():
    """In a quarter of an hour: 5 to 20 changes an hour, of which 0.3 to 1 mix."""
    middle = (5 * 20) ** 0.5 * (0.3 * 1) ** 0.5 / 4
    assert 1 < middle < 2


def test_law_the_smallest_row_permits_nothing():
    assert "permits nothing" in drawn(why_questions.smallest_row)[0].explanation
