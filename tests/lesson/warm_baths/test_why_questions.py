"""The questions that ask why: true of the package, for whatever they draw (laws)."""

import re

import numpy as np
import pytest
from helpers.why_laws import WhyLaws

from pcbchem.lesson.warm_baths.numbers import FLAT, MILD, STRONG, WEAK, hour_after
from pcbchem.lesson.warm_baths.why_questions import SETTINGS, part_ways


class TestWhy(WhyLaws):
    settings = SETTINGS
    # two of them say of two baths how warm they get, in one sentence
    most_words = 31


def test_law_temperatures_of_a_text_are_the_package_s():
    for setting, bottles in zip(SETTINGS[:2], ((MILD, MILD), (MILD, WEAK)), strict=True):
        for seed in range(6):
            asked = setting(np.random.default_rng(seed))
            depth = int(re.search(r"(\d+) mm deep", asked.text, re.IGNORECASE)[1])
            first, second = (float(each) for each in re.findall(r"(\d+) °C", asked.text)[:2])
            other = FLAT if setting is SETTINGS[0] else depth
            assert first == round(float(hour_after(bottles[0]).peak(depth).middle) - 273.15)
            assert second == round(float(hour_after(bottles[1]).peak(other).middle) - 273.15)


def test_law_the_warmer_of_two_warms_itself_and_the_cooler_cools():
    hour = hour_after(MILD)
    for seed in range(6):
        asked = part_ways(np.random.default_rng(seed))
        depth = int(re.search(r"(\d+) mm deep", asked.text)[1])
        cool, warm = (float(each) + 273.15 for each in re.findall(r"(\d+) °C", asked.text)[:2])
        assert hour.made_at(cool) < hour.lost_at(cool, depth)
        assert hour.made_at(warm) > hour.lost_at(warm, depth)


def test_law_strong_holds_nearly_as_much_and_comes_out_warmer():
    mild, strong = hour_after(MILD), hour_after(STRONG)
    assert float(strong.left.middle) == pytest.approx(float(mild.left.middle), rel=0.12)
    assert float(strong.out.middle) > float(mild.out.middle) + 3
    # "per 10 °C more about 2½ times as fast", from 28 to 38 °C
    for hour in (mild, strong):
        assert hour.made_at(311.15) / hour.made_at(301.15) == pytest.approx(2.5, abs=0.3)
