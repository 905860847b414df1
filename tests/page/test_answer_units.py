"""Every spelling in the tables is read as itself, and every example as an answer (laws)."""

import math
import re

import pytest
from helpers.answers import UNIT

from pcbchem.page.answer_units import EXAMPLES, LESS, MORE, OTHER_THINGS, SCALES, WAYS
from pcbchem.page.answers import read_answer


@pytest.mark.parametrize("kind", WAYS)
def test_law_every_spelling_is_read_as_itself(kind):
    number = "0.5" if kind == "share" else "2"
    for spelling, size in WAYS[kind].items():
        zero = read_answer(f"0{spelling}", kind, UNIT[kind]) if kind == "temperature" else 0.0
        value = read_answer(f"{number}{spelling}", kind, UNIT[kind])
        assert math.isclose(value, zero + float(number) * size), spelling


@pytest.mark.parametrize("kind", EXAMPLES)
def test_law_every_example_is_an_answer(kind):
    assert set(EXAMPLES) == set(WAYS)
    for example in re.split(", | or ", EXAMPLES[kind]):
        assert read_answer(example, kind, UNIT[kind]) > 0, example


def test_as_printed_a_unit_is_so_much_in_si():
    # 1 L is 1e-3 m³, 1 h is 3600 s, a degree Fahrenheit 5/9 K, and 0 °F is 459.67 × 5/9 K
    assert WAYS["concentration"]["mol/L"] == WAYS["concentration"]["M"] == 1000
    assert WAYS["concentration"]["mmol/mL"] == 1000 and WAYS["concentration"]["mol/m3"] == 1
    assert WAYS["time"]["h"] == 3600 and WAYS["mass"]["mg"] == 1e-6
    assert WAYS["temperature"]["°F"] == 5 / 9
    assert math.isclose(SCALES["°F"], 459.67 * 5 / 9) and SCALES["°C"] == 273.15


def test_law_less_is_never_more():
    assert not set(LESS) & set(MORE)
    assert {*LESS, *MORE} < set(WAYS["ratio"])


def test_law_no_unit_of_a_kind_is_called_another_thing():
    """But for `m`, which is a minute among times and a molality among strengths."""
    for kind, pattern, words in OTHER_THINGS:
        assert kind in WAYS and words
        for spelling in WAYS[kind]:
            if spelling != "M":  # told from a small m by its capital
                assert not re.fullmatch(pattern, spelling.casefold()), (kind, spelling)
