"""Questions of page 02: each answer and slip recognised, steps right as printed, by hand (law).

The tests by hand read the numbers from the question as it is printed, as a learner does.
"""

import re

import pytest
from helpers.by_hand import right_as_printed
from helpers.questions import numbers

from pcbchem.lesson.acid_into_water import questions as asking
from pcbchem.lesson.acid_into_water.questions import pouring_questions
from pcbchem.matter.solution import Solution, mix
from pcbchem.page import Check
from pcbchem.page.answers import Question, judge

SEEDS = range(300)
TABLES = range(1, 41)
SHEETS = (0, 40, 80)
FEWEST_OF_40 = 30
HINTS = (
    "how much it gets warmer",
    "bottle's mol/L",
    "counted one mole",
    "kJ, not °C",
    "took the rise away",
)
"""An idea of the hint of each slip, in their order."""
STEP = re.compile(
    r"([\d.]+)(?: mol| kJ| °C) ([×÷+]) ([\d.]+)(?: kJ| °C) = ([\d.]*\d)(?= (?:kJ|°C)\.)"
)


@pytest.fixture(scope="module")
def rises():
    """How warm, of 300 seeds; a RangeWarning in any would be an error."""
    return [pouring_questions(seed)[0] for seed in SEEDS]


def by_hand(question):
    """Start [°C], mol in a litre, kJ of each, kJ for each °C, mol/L of the bottle: as printed."""
    return numbers(
        r"both at (\d+) °C .* holds ([\d.]+) mol .* set ([\d.]+) kJ free.* takes ([\d.]+) kJ",
        question.text,
    )


def test_law_there_are_three_and_one_goes_back():
    for seed in SEEDS:
        asked = pouring_questions(seed)
        assert [question.key for question in asked] == ["rise", "why", "volumes"]
        assert asked[2].from_lesson == "what is in the bottle"


def test_law_by_hand_from_what_is_printed(rises):
    for question in rises:
        start, moles, heat, per_degree = by_hand(question)
        end = start + moles * heat / per_degree
        assert question.answer - 273.15 == pytest.approx(end, abs=1e-9)
        assert judge(question, f"{end:.1f}").grade == "right"
        for wrong, hint in (
            (end - start, HINTS[0]),
            (start + heat / per_degree, HINTS[2]),
            (2 * start - end, HINTS[4]),
        ):
            assert hint in judge(question, f"{wrong:.1f} °C").words, question


def test_law_every_slip_has_its_hint(rises):
    for question in rises:
        hints = [hint for _, hint in question.slips]
        assert len(hints) == len(HINTS), question
        for idea, hint in zip(HINTS, hints, strict=True):
            assert idea in hint


def test_law_each_step_of_an_explanation_is_right_as_printed(rises):
    for question in rises:
        steps = STEP.findall(question.explanation)
        assert [way for _, way, _, _ in steps] == ["×", "÷", "+"], question.explanation
        right_as_printed(steps)
        assert judge(question, steps[-1][3]).grade == "right"


def test_law_the_package_s_own_answer_is_near(rises):
    """Mixed a second time, by the bottle that is printed; heats are listed for 25 °C."""
    for question in rises:
        (printed,) = numbers(r"package says ([\d.]+) °C", question.explanation)
        start, moles, _, _ = by_hand(question)
        (bottle,) = numbers(r"acid of ([\d.]+) mol/L", question.text)
        acid = min(asking.STRONG, key=lambda strength: abs(litre(strength, start) - bottle))
        parts = min(asking.WATER, key=lambda part: abs(mixed(acid, part, start)[0] - moles))
        assert mixed(acid, parts, start)[1] == pytest.approx(printed, abs=0.051)
        # so the package's own answer counts as right
        assert judge(question, f"{printed} °C").grade == "right", question


def litre(acid, start):
    """Moles in a litre of acid [% by weight], at a temperature [°C]."""
    bottle = Solution.of(volume=1, T=start + 273.15, HCl=acid / 100)
    return float(bottle.concentration("HCl")) / 1000


def mixed(acid, parts, start):
    """Moles in a litre of acid [% by weight] with parts of water, and its temperature [°C]."""
    T = start + 273.15
    mixture = mix(Solution.of(volume=1, T=T, HCl=acid / 100), Solution.of(volume=parts, T=T))
    return float(mixture.concentration("HCl")) / 1000, float(mixture.T) - 273.15


def test_law_the_page_does_not_print_an_answer(rises):
    """No table is asked what the page works out itself."""
    assert asking.PRINTED[0] in asking.STRONG and asking.PRINTED[1] in asking.WATER
    for question in rises:
        _, moles, heat, _ = by_hand(question)
        assert (moles, heat) != (2.49, 9.80)


@pytest.mark.parametrize("sheet", SHEETS)
def test_law_tables_differ(sheet):
    asked = [pouring_questions(table + sheet)[0] for table in TABLES]
    assert len({question.text for question in asked}) >= FEWEST_OF_40


def test_law_strong_acid_is_only_worked_out(rises):
    for question in rises:
        assert "never mixed here" in question.text
        assert not re.search(r"\bpart|\d (mL|L)\b", question.text)


def test_law_the_fields_say_what_is_asked_for():
    asks = Check(with_numbers, seed=4).asks
    assert [ask["label"] for ask in asks] == ["Your answer in °C", "Your answer in %"]


def with_numbers(seed):
    return [question for question in pouring_questions(seed) if isinstance(question, Question)]
