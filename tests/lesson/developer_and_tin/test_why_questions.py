"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import numpy as np
import pytest
from helpers.questions import numbers
from helpers.why_laws import WhyLaws, drawn

from pcbchem.bench.resist import in_practice
from pcbchem.bench.resist.ageing import vessel
from pcbchem.lesson.developer_and_tin import why_questions
from pcbchem.lesson.developer_and_tin.numbers import BEAKER, DISH, carried, lye_left
from pcbchem.lesson.developer_and_tin.why_questions import SETTINGS


class TestWhy(WhyLaws):
    settings = SETTINGS
    never = r"\b(drain|sewer|sink|safe|harmless|fine|enough)\b|minutes|µm"


def test_law_what_is_left_is_the_bench_s():
    for setting in drawn(why_questions.unused):
        hours, now, morning = numbers(
            r"for (\d+) hours, unused\. ([\d.]+) of ([\d.]+)", setting.text
        )
        assert now == pytest.approx(float(lye_left(DISH, int(hours)).lye.middle), abs=0.051)
        assert now < morning and hours != 6


def test_law_a_beaker_keeps_more_in_every_case():
    for setting in drawn(why_questions.beaker):
        hours, dish, tall = numbers(
            r"the same (\d+) hours.* dish ([\d.]+) g/L.* beaker ([\d.]+)\.", setting.text
        )
        wide, deep = (lye_left(each, int(hours)).lye for each in (DISH, BEAKER))
        assert [dish, tall] == pytest.approx([float(wide.middle), float(deep.middle)], abs=0.051)
        assert np.all(deep.values > wide.values)
    # "a seventh of the surface", and still air below its rim
    assert vessel(DISH).area / vessel(BEAKER).area == pytest.approx(7, rel=0.05)
    assert vessel(BEAKER).below_rim > 0 == vessel(DISH).below_rim


def test_law_one_strength_develops_one_film_and_spoils_the_other():
    for setting in drawn(why_questions.two_films):
        (strength,) = numbers(r"Lye of (\d+) g/L", setting.text)
        assert in_practice(strength, "positive").word == "develops"
        assert "wears the picture off" in in_practice(strength, "negative").words


def test_law_a_dish_thins_what_clings():
    """By hand: 1.35 mL into the dish, and as much of that along: divide by their ratio."""
    for setting in drawn(why_questions.rinsed):
        dripping, water, once = numbers(
            r"kills ([\d.]+) mmol .* dish of (\d+) mL it kills ([\d.]+) mmol", setting.text
        )
        assert dripping == pytest.approx(1000 * float(carried().killed.middle), rel=0.051)
        assert once == pytest.approx(dripping * 1.35 / (water + 1.35), rel=0.15)
