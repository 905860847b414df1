"""What page 02 tells afterwards: numbers of the package, and what is known how (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem import Solution, mix
from pcbchem.lesson.acid_into_water import texts
from pcbchem.lesson.acid_into_water.numbers import ASKED, hill

STEP = re.compile(r"([\d.]+)(?: mol of acid| kJ)? ([×÷]) ([\d.]+)(?: kJ for each)? = \**([\d.]+\d)")


def test_law_each_step_by_hand_is_right_as_printed():
    text = texts.why(6.58)
    steps = STEP.findall(text)
    assert [way for _, way, _, _ in steps] == ["×", "÷"]
    right_as_printed(steps)


def test_law_the_package_says_the_same():
    acid, water = (Solution.of(volume=v, T=298.15, HCl=w) for v, w in ((1, 0.3145), (3, 0.0)))
    rise = float(mix(acid, water).T) - 298.15
    by_hand = float(STEP.findall(texts.why(rise))[1][3])
    assert by_hand == pytest.approx(rise, abs=0.1)
    assert f"says {rise:.1f}" in texts.why(rise)


def test_law_where_each_number_comes_from_is_said():
    for kind in ("Published", "From memory", "Our limits", "Not computed"):
        assert texts.why(6.6).count(f"**{kind}:**") == 1
    origin = texts.why(6.6).partition("**Where the numbers come from**")[2]
    assert len(origin.split()) <= 90
    for school, most in ((True, 70), (False, 120)):
        proof = texts.prove_it_wrong(school).partition("\n\n")[2]
        assert len([word for word in proof.split() if re.search(r"\w", word)]) <= most


def test_law_a_class_is_shown_no_test_with_acid():
    assert "labelled hydrochloric acid" in texts.prove_it_wrong()
    assert "For the teacher" in texts.prove_it_wrong(True)
    assert "goggles" not in texts.prove_it_wrong(True) and "cup" not in texts.prove_it_wrong(True)


@pytest.mark.parametrize("acid", [10.0, 31.45, 37.0])
def test_law_the_text_follows_the_acid_that_is_chosen(acid):
    pair = hill(acid)
    strengths = [way.at(25)[0] / 1000 for way in (pair.over, pair.up)]
    printed = re.findall(r"acid of ([\d.]+) mol/L, out of yours of ([\d.]+)", texts.read_it(acid))
    assert [float(number) for number in printed[0]] == pytest.approx(strengths, rel=0.05)
    (top,) = re.findall(r"none is hotter than ([\d.]+) °C", texts.read_it(acid))
    assert float(top) == pytest.approx(pair.top[1] - 273.15, abs=0.51)


def test_law_the_reader_is_not_led_to_think_that_order_is_nothing():
    alike = texts.read_it()
    assert alike.startswith("**The same end, and not the same way.**")
    assert "out of the wrong jug is acid" in alike and "boils" in alike
    assert "Acid first is water into acid once more" in texts.read_peroxide()
    assert "chlorine" in texts.read_peroxide()


def test_law_most_of_the_heat_comes_with_the_first_water():
    """As *why a hill* says: up to the top more than half of it, in under a third of the water."""
    over = hill(ASKED).over
    top = int(over.T.argmax())
    assert top < over.T.size / 3
    acid = Solution.of(volume=1, T=298.15, HCl=0.3145)

    def freed(parts):
        # what it takes to cool the mixture back to where both were [J]
        mixture = mix(acid, Solution.of(volume=parts, T=298.15))
        return float(mixture.mass * mixture.heat_capacity) * (float(mixture.T) - 298.15)

    assert freed(3 * top / (over.T.size - 1)) > 0.5 * freed(3)


def test_law_acid_is_heavier_than_water():
    acid, water = (Solution.of(volume=1, T=293.15, HCl=w) for w in (0.3145, 0.0))
    assert float(acid.density) > 1.1 * float(water.density)


@pytest.mark.parametrize("text", [texts.why(6.6), texts.read_it(), texts.prove_it_wrong()])
def test_law_no_number_is_missing(text):
    assert "nan" not in text and "inf" not in text
