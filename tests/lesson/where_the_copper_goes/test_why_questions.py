"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import re

import numpy as np
import pytest
from helpers.why_laws import SEEDS, WhyLaws

from pcbchem.lesson.where_the_copper_goes import why_questions
from pcbchem.lesson.where_the_copper_goes.numbers import tent, tray_bath, turning_point, warmths
from pcbchem.lesson.where_the_copper_goes.why_questions import (
    MORE,
    SETTINGS,
    SOME_MORE,
    STRONG,
    WEAK,
    boards,
)
from pcbchem.lesson.workshop import tide_clock
from pcbchem.matter.solution import Solution, mix
from pcbchem.reaction.chemistry import limiting_reagent, reactions, reserve


class TestWhy(WhyLaws):
    settings = SETTINGS


@pytest.mark.parametrize("strength", STRONG)
def test_law_more_of_what_is_left_over_carries_less(strength):
    assert limiting_reagent(tray_bath(1, strength)) == "HCl" and strength > turning_point()
    for parts in MORE:
        assert float(boards(parts, strength)) < float(boards(1.0, strength))
        # "more peroxide makes the peroxide in the tray stronger; only the acid got less"
        before, after = tray_bath(1, strength), tray_bath(parts, strength)
        assert after.concentration("H2O2") > before.concentration("H2O2")
        assert after.amount("HCl") < before.amount("HCl")


@pytest.mark.parametrize("strength", WEAK)
def test_law_more_of_what_is_scarce_carries_more(strength):
    assert limiting_reagent(tray_bath(1, strength)) == "H2O2" and strength < turning_point()
    for parts in SOME_MORE:
        assert limiting_reagent(tray_bath(parts, strength)) == "H2O2"
        assert float(boards(parts, strength)) > float(boards(1.0, strength))


def test_law_half_the_copper_is_twice_the_boards():
    for strength in STRONG:
        thick, thin = (float(boards(1.0, strength, ounces)) for ounces in (1.0, 0.5))
        assert thin == pytest.approx(2 * thick, abs=0.15)


def test_law_water_changes_no_count():
    bath = tray_bath(1)
    for parts in (1, 2, 3):
        more = mix(bath, Solution.of(volume=parts * 75e-6, T=293.15))
        assert reserve(more, tide_clock()) == pytest.approx(reserve(bath, tide_clock()))
        assert more.concentration("HCl") < bath.concentration("HCl")
    count = float(tent().carried[tent().at(1.0)])
    setting = why_questions.water_added(np.random.default_rng(1))
    assert f"Still {count:.1f}:" in setting.right[0]
    # nobody is to pour water into a bath that works
    assert "adds" not in setting.text and "water first" in setting.text


def test_law_as_much_copper_on_one_side_as_on_the_other():
    """1 oz is 30.515 mg/cm², by definition."""
    coefficients = reactions()["direct"].coefficients
    assert coefficients["Cu(s)"] == -coefficients["Cu2+(aq)"]
    for seed in SEEDS:
        text = why_questions.green_bath(np.random.default_rng(seed)).text
        area, grams = re.search(r"of (\d+) cm²: it is ([\d.]+) g", text).groups()
        assert float(grams) == pytest.approx(0.0305152 * float(area), abs=0.05)


def test_law_the_thin_layer_is_refused_and_the_others_are_not():
    least, enough, usual = warmths()
    assert least.refused and not enough.refused and not usual.refused
    for seed in SEEDS:
        text = why_questions.for_the_heat(np.random.default_rng(seed)).text
        assert re.search(r"With (\d+) times", text)[1] in ("3", "8")
        assert "that is no permission" in text and "mL" not in text
