"""Questions that ask why: what their texts, answers and replies state holds (laws)."""

import itertools
import re

import numpy as np
import pytest

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
from pcbchem.page.why import ask_in_turn, judge_why
from pcbchem.reaction.chemistry import limiting_reagent, reactions, reserve

LONGEST_SENTENCE = 25
DRAWS = range(12)


@pytest.fixture(scope="module")
def sheets():
    """The questions of three sheets of 40 tables."""
    return [ask_in_turn(SETTINGS, np.random.default_rng(seed), seed) for seed in range(1, 121)]


def words_of(setting):
    answers = (setting.right, *setting.wrong)
    return [setting.text, setting.explanation, *(part for answer in answers for part in answer)]


@pytest.mark.parametrize("ask", SETTINGS, ids=lambda ask: ask.__name__)
def test_law_one_answer_is_right_and_each_has_a_reply(ask):
    for seed in DRAWS:
        setting = ask(np.random.default_rng(seed))
        answers = (setting.right, *setting.wrong)
        assert len({reply for _, reply in answers}) == len(answers) == 4
        assert all(reply for _, reply in answers)
        for words in words_of(setting):
            for sentence in re.split(r"[.?!:]\s", words):
                assert len(sentence.split()) <= LONGEST_SENTENCE, sentence


def test_law_the_order_goes_by_the_seed_alone(sheets):
    assert sheets[4] == ask_in_turn(SETTINGS, np.random.default_rng(5), 5)
    assert {question.right for question in sheets} == set("abcd")


def test_law_neighbours_have_other_settings(sheets):
    for first, second in itertools.pairwise(sheets):
        assert first.text != second.text


def test_law_the_right_answer_stays_the_right_one(sheets):
    for seed, question in enumerate(sheets, start=1):
        verdicts = {key: judge_why(question, key).grade for key, _, _ in question.options}
        assert sorted(verdicts.values()) == ["right", "slip", "slip", "slip"]
        setting = SETTINGS[seed % len(SETTINGS)](np.random.default_rng(seed))
        words = {key: words for key, words, _ in question.options}
        assert words[question.right] == setting.right[0]


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
    for seed in DRAWS:
        text = why_questions.green_bath(np.random.default_rng(seed)).text
        area, grams = re.search(r"of (\d+) cm²: it is ([\d.]+) g", text).groups()
        assert float(grams) == pytest.approx(0.0305152 * float(area), abs=0.05)


def test_law_the_thin_layer_is_refused_and_the_others_are_not():
    least, enough, usual = warmths()
    assert least.refused and not enough.refused and not usual.refused
    for seed in DRAWS:
        text = why_questions.for_the_heat(np.random.default_rng(seed)).text
        assert re.search(r"With (\d+) times", text)[1] in ("3", "8")
        assert "that is no permission" in text and "mL" not in text
