"""What water does to the workshop's baths is the bench's, worked out once (laws)."""

import numpy as np
import pytest
from helpers.water_baths import PARTS, STRENGTHS, own

from pcbchem import Bottle
from pcbchem.bench.plan.dilution import cost_without, dilution, offcuts, times_without
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.why_water_slows_it import numbers
from pcbchem.lesson.workshop import ROOMY


@pytest.mark.parametrize("bottles", STRENGTHS)
def test_law_the_course_is_the_bench_s(bench, bottles):
    course = numbers.course(bottles)
    places = [course.at(parts) for parts in PARTS]
    assert np.allclose(course.times.values[places], bench[bottles].times.values, rtol=1e-9)
    assert np.allclose(course.peroxide[places], bench[bottles].peroxide, rtol=1e-9)


def test_law_each_is_worked_out_once():
    assert numbers.course("mild") is numbers.course("mild")
    assert numbers.cost("mild", 1.2) is numbers.cost("mild", 1.2)
    assert numbers.without("mild", 1.2) is numbers.without("mild", 1.2)


def test_law_effects_taken_away_are_the_bench_s():
    with collecting_warnings():
        times, costs = times_without(own("mild", parts=1.2)), cost_without(own("mild"), 1.2)
    for name, band in numbers.without("mild", 1.2).items():
        assert band.middle == pytest.approx(times[name].middle)
    for name, band in numbers.cost("mild", 1.2).items():
        assert band.middle == pytest.approx(costs[name].middle)


def test_law_two_offcuts_are_the_bench_s():
    times, ratio = numbers.two_offcuts()
    with collecting_warnings():
        expected = offcuts(own("mild"), 2.0)
    ends = (expected.low, expected.middle, expected.high)
    assert times == 2 and (ratio.low, ratio.middle, ratio.high) == pytest.approx(ends)


def test_second_source_what_water_costs_a_roomy_weak_bath():
    """Of the answer to the second question, by a separate program (computed, not measured)."""
    course = numbers.course("weak", ROOMY)
    middle = course.ratio.middle[course.at(numbers.QUESTION)]
    assert middle == pytest.approx(1.75, rel=0.05)


def test_second_source_what_water_costs_a_mild_bath():
    """By a separate program, for bottles that hold what their labels say (computed)."""
    acid, peroxide = STRENGTHS["mild"]
    exact = own("mild").replace(
        acid=Bottle("HCl", acid, acid), peroxide=Bottle("H2O2", peroxide, peroxide)
    )
    with collecting_warnings():
        ratio = dilution(exact, [0.0, 1.2, 2.0]).ratio
    for place, ends in ((1, (2.3, 3.0, 3.7)), (2, (3.3, 4.5, 6.3))):
        said = [band[place] for band in (ratio.low, ratio.middle, ratio.high)]
        assert said == pytest.approx(ends, rel=0.05)


def test_second_source_how_far_the_mild_bath_rests_on_its_gas():
    """By a separate program: a third and three times of the gas share, default values."""
    for factor, times in ((1 / 3, 1.56), (3, 0.39)):
        assert numbers.gas_shares(factor)[0] == pytest.approx(times, rel=0.10)


def test_law_the_gas_as_it_is_changes_nothing():
    course = numbers.course("mild")
    time, cost = numbers.gas_shares(1.0)
    assert time == 1
    assert cost == pytest.approx(course.ratio.middle[course.at(numbers.QUESTION)])


@pytest.mark.parametrize("exponent", [0.0, 0.25, 0.5])
def test_law_two_sizes_go_by_the_exponent_where_nothing_bubbles(exponent):
    """Three times as long, so 3 to the exponent: but for depletion and convection."""
    assert float(numbers.two_sizes(exponent).middle) == pytest.approx(3**exponent, rel=0.06)
