"""What water does to the workshop's baths is the bench's, worked out once (laws)."""

import numpy as np
import pytest
from helpers.water_baths import PARTS, STRENGTHS, own

from pcbchem import Bottle
from pcbchem.bench.plan.dilution import cost_without, dilution
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.why_water_slows_it import numbers
from pcbchem.lesson.why_water_slows_it.numbers import SHAKEN, STILL


@pytest.mark.parametrize("movement", [STILL, SHAKEN])
def test_law_the_course_is_the_bench_s(bench, movement):
    course = numbers.course(movement)
    places = [course.at(parts) for parts in PARTS]
    assert np.allclose(course.times.values[places], bench[movement].times.values, rtol=1e-9)
    assert np.allclose(course.peroxide[places], bench[movement].peroxide, rtol=1e-9)


def test_law_each_is_worked_out_once():
    assert numbers.course("still") is numbers.course("still")
    assert numbers.cost("bubbles") is numbers.cost("bubbles")


def test_law_what_is_taken_away_is_the_bench_s():
    with collecting_warnings():
        costs = cost_without(own("mild", agitation="still"), numbers.QUESTION)
    assert numbers.cost().middle == pytest.approx(costs["all on"].middle)
    assert numbers.cost("bubbles").middle == pytest.approx(costs["without gas stirring"].middle)
    alone = costs["without depletion"].middle
    assert numbers.cost("running down").middle == pytest.approx(alone)
    # three kinds of warmth at once cost more than any one of them
    for kind in ("surface heating", "bath heating", "heat of mixing"):
        assert numbers.cost("warmth").middle < costs[f"without {kind}"].middle


def test_second_source_what_water_costs_a_mild_bath():
    """By a separate program, for bottles that hold what their labels say, rocked (computed)."""
    acid, peroxide = STRENGTHS["mild"]
    exact = own("mild").replace(
        acid=Bottle("HCl", acid, acid), peroxide=Bottle("H2O2", peroxide, peroxide)
    )
    with collecting_warnings():
        ratio = dilution(exact, [0.0, 1.2, 2.0]).ratio
    for place, ends in ((1, (2.3, 3.0, 3.7)), (2, (3.3, 4.5, 6.3))):
        band = [ratio.low[place], ratio.middle[place], ratio.high[place]]
        assert band == pytest.approx(ends, rel=0.05)


def test_law_the_gas_as_it_is_changes_nothing():
    course = numbers.course("still")
    cost = numbers.cost_with_gas(1.0)
    assert float(cost.middle) == pytest.approx(course.ratio.middle[course.at(numbers.QUESTION)])
    less, more = (float(numbers.cost_with_gas(share).middle) for share in (1 / 3, 3.0))
    assert less < float(cost.middle) < more


def test_as_printed_the_two_layers():
    """As printed: 1714 and 214 mol/m³ of acid, 762.9 and 79.5 of peroxide; µm in a minute."""
    pair = numbers.layers()
    assert pair.peroxide == pytest.approx(762.9 / 79.5) and pair.acid == pytest.approx(1714 / 214)
    assert pair.fast == (3.5, 4.0) and pair.slow == (0.35, 0.4)
    assert pair.slower == pytest.approx(10) and round(pair.multiplied) == 77
