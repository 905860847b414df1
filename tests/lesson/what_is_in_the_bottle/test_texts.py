"""Texts of page 01 print what they reckon, step by step (laws)."""

import re

import pytest

from pcbchem.lesson.what_is_in_the_bottle import texts
from pcbchem.lesson.what_is_in_the_bottle.numbers import FIRST, content


def test_law_by_hand_each_step_is_right_as_printed():
    weight, in_grams, in_moles, share = texts.by_hand()
    text = texts.why()
    assert f"weighs {weight:.0f} g at 20 °C" in text and f"{in_grams:.1f} g" in text
    assert in_grams == pytest.approx(weight * 0.3145, abs=0.05)
    assert in_moles == pytest.approx(in_grams / 36.46, abs=0.005)
    assert share == pytest.approx(in_moles / 5, abs=0.005)
    # by hand and by the package: volumes do not quite add
    assert 0 < content(FIRST).acid / 1000 - share < 0.01


def test_law_the_table_has_every_bottle_of_the_panel():
    rows = re.findall(r"^\| (acid|peroxide) ([\d.]+) % \|", texts.read_it(), re.MULTILINE)
    assert rows == [("peroxide", strength) for strength in ("3", "6", "12", "30")] + [
        ("acid", "10"),
        ("acid", "31.45"),
    ]


def test_law_the_gas_of_a_weaker_bottle_is_in_proportion():
    text = texts.prove_wrong()
    gas, weak_gas = (float(number) for number in re.findall(r"(\d+) mL(?: of gas|, and)", text))
    (weak,) = re.findall(r"holds ([\d.]+) %", text)
    assert float(weak) == pytest.approx(3 * weak_gas / gas, abs=0.06)


def test_law_cautions_come_before_the_test_with_peroxide_and_a_class_sees_none():
    text = texts.prove_wrong()
    assert text.index("its cautions](reference/cautions.md)") < text.index("1 mL")
    assert "never a stronger bottle" in text and "nothing closed" in text
    of_class = texts.prove_wrong(school=True)
    assert "for the teacher" in of_class and "mL" not in of_class and "yeast" in of_class
