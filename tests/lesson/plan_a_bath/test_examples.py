"""The examples of page 00: what they are planned from, and that none can be poured (laws)."""

import numpy as np
import pytest
from helpers.amounts import amounts
from helpers.workshop import BENCH, DOUBTFUL, INPUTS, REFUSED, USED_BATH

from pcbchem.common.limits import InputError
from pcbchem.lesson.plan_a_bath.examples import (
    BENCH as PAGE_BENCH,
)
from pcbchem.lesson.plan_a_bath.examples import (
    EXAMPLES,
    OLD_BOTTLE,
    PORTIONS,
    REUSED,
    TOO_LITTLE,
    TWICE,
    example,
)
from pcbchem.lesson.trust import beside

FEW = 20


def test_inputs_of_the_page_are_those_of_the_tests():
    whole = {"tray_mm": None}
    assert PAGE_BENCH == BENCH | whole
    assert EXAMPLES[TWICE] == INPUTS | whole
    assert EXAMPLES[OLD_BOTTLE] == DOUBTFUL | whole and EXAMPLES[TOO_LITTLE] == REFUSED | whole
    assert EXAMPLES["half of it used"]["used_bath"] == USED_BATH


def test_every_example_is_shown():
    assert set(EXAMPLES) == {OLD_BOTTLE, TOO_LITTLE, *PORTIONS, *REUSED}


@pytest.mark.parametrize("name", EXAMPLES)
def test_law_an_example_holds_no_amount(name):
    plan = example(name, FEW)
    assert plan.school and all(np.isnan(stage.volume) for stage in plan.stages)
    assert amounts(str(plan)) == []


def test_law_rows_of_examples_hold_no_amount():
    rows = beside({name: example(name, FEW) for name in (*PORTIONS, *REUSED)})
    assert amounts(str(rows)) == []


def test_only_examples_of_the_page_are_planned():
    with pytest.raises(InputError, match="an old bottle"):
        example("another")
