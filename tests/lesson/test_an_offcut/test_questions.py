"""Questions of page 08: each answer and slip recognised, steps right as printed, by hand (law)."""

import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers

from pcbchem.bench.bottle.oxygen import by_oxygen
from pcbchem.bench.bottle.titration import by_carbonate
from pcbchem.lesson.test_an_offcut import offcut_questions
from pcbchem.lesson.test_an_offcut.questions import band_question, gas_question, soda_question
from pcbchem.matter.labels import strength
from pcbchem.page.answers import judge

SEEDS = range(300)
TABLES = range(1, 41)
STEP = re.compile(r"([\d.]+) (?:\w+ )?([×÷]) ([\d.]+)(?: [\w/]+)? = ([\d.]*\d)")


def every(ask):
    return [ask(np.random.default_rng(seed)) for seed in SEEDS]


def check_slips(question, ideas, form):
    """Each idea is told from the others by its own hint."""
    assert len(question.slips) == len(ideas)
    for idea, value in ideas.items():
        verdict = judge(question, form.format(value))
        assert verdict.grade == "slip" and idea in verdict.words, (question.text, idea)


def test_law_three_are_about_the_page_and_one_goes_back():
    for seed in TABLES:
        asked = offcut_questions(seed)
        reading = ("soda", "gas")[seed % 2]
        assert [question.key for question in asked] == ["band", reading, "why", "strength"]
        assert [bool(question.from_lesson) for question in asked] == [False, False, False, True]


def test_law_narrower_by_hand_from_what_is_printed():
    for question in every(band_question):
        low, high, new_low, new_high = numbers(
            r"takes ([\d.]+) to ([\d.]+) min, by some offcuts ([\d.]+) to ([\d.]+) min",
            question.text,
        )
        answer = (high / low) / (new_high / new_low)
        assert question.answer == pytest.approx(answer) and answer > 1.1
        assert low < new_low < new_high < high
        assert judge(question, f"{answer:.2f}").grade == "right"
        ideas = {
            "differences": (high - low) / (new_high - new_low),
            "new band alone": new_high / new_low,
            "old band alone": high / low,
            "wrong way round": 1 / answer,
        }
        check_slips(question, ideas, "{:.4g}")


def test_law_soda_by_hand_from_what_is_printed():
    for question in every(soda_question):
        dilution, soda, acid, molar, each = numbers(
            r"to (\d+) times its volume\. Dry washing soda, ([\d.]+) g of it, took ([\d.]+) mL of "
            r"that\. 1 mol of soda weighs (\d+) g and takes (\d+) mol",
            question.text,
        )
        answer = each * soda / molar / (acid / 1000) * dilution
        assert question.answer == pytest.approx(1000 * answer)
        assert judge(question, f"{answer:.3g} mol/L").grade == "right"
        ideas = {
            "One soda takes two of acid.": answer / 2,
            "That is the diluted acid": answer / dilution,
            "and the bottle is stronger": answer / dilution / 2,
            "so multiply": answer / dilution**2,
        }
        check_slips(question, ideas, "{:.4g} mol/L")


def test_law_gas_by_hand_from_what_is_printed():
    for question in every(gas_question):
        dilution, gas, molar, each = numbers(
            r"to (\d+) times its volume\. From 1 mL of that came ([\d.]+) mL of oxygen\. 1 mol of "
            r"gas is (\d+) L here, and (\d+) H2O2 give one O2",
            question.text,
        )
        answer = each * gas / molar * dilution
        assert question.answer == pytest.approx(1000 * answer)
        assert judge(question, f"{answer:.3g} mol/L").grade == "right"
        ideas = {
            "That is oxygen": answer / 2,
            "multiply by two": answer / 4,
            "That is the diluted peroxide": answer / dilution,
            "so multiply": answer / dilution**2,
        }
        check_slips(question, ideas, "{:.4g} mol/L")


def test_second_source_the_bench_reads_soda_the_same():
    """The bottle's share by weight, as the bench has it, turned into mol/L."""
    for question in every(soda_question)[:40]:
        soda, acid, dilution = numbers(r"([\d.]+) g; ([\d.]+) mL; (\d+)", question.given)
        reading = by_carbonate(mass=soda / 1000, volume=acid * 1e-6, dilution=dilution)
        in_bottle = strength(reading.middle, "mol/L", "HCl")
        # the molar mass of soda stands in the question without decimals
        assert question.answer == pytest.approx(1000 * float(in_bottle), rel=0.002)


def test_second_source_the_bench_reads_gas_the_same():
    """At the pressure at which a mole of gas is 24 L beside the water vapour."""
    for question in every(gas_question)[:40]:
        gas, dilution = numbers(r"([\d.]+) mL; (\d+)", question.given)
        reading = by_oxygen(
            gas=gas * 1e-6,
            sample=1e-6,
            label=0.027 * dilution,
            dilution=dilution,
            p=8.314 * 293.15 / 0.024 + 2339,
        )
        in_bottle = strength(reading.middle, "mol/L", "H2O2")
        assert question.answer == pytest.approx(1000 * float(in_bottle), rel=0.005)


@pytest.mark.parametrize("ask", [band_question, soda_question, gas_question])
def test_law_each_step_is_right_as_printed(ask):
    for question in every(ask)[:100]:
        steps = STEP.findall(question.explanation)
        assert len(steps) >= 2, question.explanation
        right_as_printed(steps, slack=0.002)


def test_law_texts_read_as_sentences():
    for ask in (band_question, soda_question, gas_question):
        for question in every(ask)[:40]:
            assert not re.search(
                r"\bnan\b|\binf\b|e[+-]\d|  ", question.text + question.explanation
            )
            assert question.text.endswith(("?", "digits."))
            for sentence in re.split(r"(?<=[.?!:])\s", question.text):
                assert len(sentence.split()) <= 25, sentence
