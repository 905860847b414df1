"""Questions of page 01: each answer and slip recognised, by hand from what is printed (law)."""

import csv
import re
from pathlib import Path

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers

from pcbchem.lesson.what_is_in_the_bottle import bottle_questions
from pcbchem.matter.solution import Solution, mix
from pcbchem.page.answers import answer_words, judge

PUBLISHED = Path(__file__).parents[2] / "published"
SEEDS = range(1, 201)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) ([×+]) ([\d.]+) = ([\d.]*\d)")


@pytest.fixture(scope="module")
def dry_ones():
    return [bottle_questions(seed)[1] for seed in SEEDS]


def printed(question):
    """Parts of acid and peroxide, strength, and the weight of a litre of each, as printed."""
    return numbers(
        r"(\d?½?) parts? of 10 % acid and (\d?½?) parts? of ([\d.]+) % peroxide[\s\S]*acid weighs "
        r"(\d+) g, a litre of this peroxide (\d+) g",
        question.text,
    )


def test_law_three_questions_one_asks_why_and_none_goes_back():
    for seed in SEEDS[:45]:
        asked = bottle_questions(seed)
        assert [question.key for question in asked] == ["strength", "dry", "why"]
        assert not any(question.from_lesson for question in asked)


def test_law_tables_differ():
    answers = {round(bottle_questions(table)[1].answer, 4) for table in TABLES}
    assert len(answers) >= 30
    assert len({bottle_questions(table)[2].text for table in TABLES}) == 6


def test_law_each_answer_and_slip_is_recognised_as_written(dry_ones):
    ideas = ("HCl alone", "H₂O₂ alone", "added both strengths", "That is the water")
    for question in dry_ones:
        right = answer_words(question.answer, question.kind, question.unit)
        assert judge(question, right).grade == "right"
        for (value, _), idea in zip(question.slips, ideas, strict=True):
            verdict = judge(question, answer_words(value, question.kind, question.unit))
            assert verdict.grade == "slip" and idea in verdict.words


def test_law_by_hand_from_what_is_printed(dry_ones):
    for question in dry_ones:
        acid, peroxide, strength, heavy, light = printed(question)
        whole = acid * heavy + peroxide * light
        dry = acid * heavy * 0.1 + peroxide * light * strength / 100
        assert question.answer == pytest.approx(dry / whole, rel=1e-12)
        assert "both strengths" in judge(question, f"{10 + strength:g} %").words
        assert "is the water" in judge(question, f"{100 - 100 * dry / whole:.1f} %").words
        # the explanation comes to it, step by step as printed
        steps = STEP.findall(question.explanation)
        assert len(steps) == 5
        right_as_printed(steps)
        last = re.search(r"that is ([\d.]+) %", question.explanation)[1]
        assert judge(question, f"{last} %").grade == "right"


def test_law_it_is_what_the_package_mixes(dry_ones):
    for question in dry_ones[::10]:
        acid, peroxide, strength, _, _ = printed(question)
        mixture = mix(
            Solution.of(volume=acid, T=293.15, HCl=0.10),
            Solution.of(volume=peroxide, T=293.15, H2O2=strength / 100),
        )
        assert question.answer == pytest.approx(1 - float(mixture.mass_fraction("H2O")), abs=5e-5)


def test_second_source_weights_of_a_litre(dry_ones):
    """Perry's table of peroxide at 18 °C (from memory), and three tables of acid at 20 °C."""
    with (PUBLISHED / "h2o2_density.csv").open(encoding="utf-8") as file:
        rows = sorted(
            (float(row["mass_fraction"]), float(row["density_kg_m3"]))
            for row in csv.DictReader(file)
        )
    for question in dry_ones:
        _, _, strength, heavy, light = printed(question)
        book = float(np.interp(strength / 100, *zip(*rows, strict=True)))
        assert heavy == pytest.approx(1047.7, abs=1) and light == pytest.approx(book, abs=2)


def test_law_only_mild_mixtures_are_named(dry_ones):
    for question in dry_ones:
        _, _, strength, _, _ = printed(question)
        assert 3 <= strength <= 12
