"""What water does to the workshop's baths is the bench's, worked out once (laws)."""

import numpy as np
import pytest
from helpers.water_baths import PARTS, STRENGTHS, own

from pcbchem.bench.plan.dilution import cost_without, offcuts, times_without
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


@pytest.mark.parametrize(
    ("bottles", "room", "factor", "doubt"),
    [("weak", ROOMY, 1.75, 0.05), ("mild", numbers.USUAL, 2.6, 0.10)],
)
def test_second_source_what_the_questions_water_costs(bottles, room, factor, doubt):
    """For strength alone 1.6, worked out by a separate program (computed, not measured)."""
    course = numbers.course(bottles, room)
    middle = course.ratio.middle[course.at(numbers.QUESTION)]
    assert middle == pytest.approx(factor, rel=doubt)
