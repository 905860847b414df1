"""Law: a refused plan has nothing to pour and any other something, whatever is put together."""

import dataclasses

import pytest
from helpers.plans import mild_plan


@pytest.fixture(scope="module")
def refused():
    """Plan a bath far too small for its board."""
    plan = mild_plan(bath_per_area=1e-3, draws=5)
    assert plan.refused
    return plan


def test_a_refused_plan_cannot_be_turned_into_another(refused):
    with pytest.raises(ValueError, match="stages = 0"):
        dataclasses.replace(refused, reasons=())


def test_a_plan_cannot_be_refused_with_something_to_pour(mild, refused):
    with pytest.raises(ValueError, match="stages = 3"):
        dataclasses.replace(mild, reasons=refused.reasons)


def test_a_plan_that_is_not_refused_has_something_to_pour(mild):
    with pytest.raises(ValueError, match="stages = 0"):
        dataclasses.replace(mild, stages=())


@pytest.mark.parametrize(
    ("kinds", "verdict"),
    [
        ((), "mix it"),
        (("care",), "with care"),
        (("care", "care"), "with care"),
        (("harm",), "do not mix"),
        (("will not finish",), "do not mix"),
        (("will not finish", "harm"), "do not mix"),
    ],
)
def test_the_verdict_is_what_the_reasons_come_to(mild, refused, kinds, verdict):
    reason = refused.reasons[0]
    reasons = tuple(dataclasses.replace(reason, kind=kind) for kind in kinds)
    stages = () if verdict == "do not mix" else mild.stages
    plan = dataclasses.replace(mild, reasons=reasons, stages=stages)
    assert plan.verdict == verdict
    assert plan.harmful == ("harm" in kinds), "and not only because it would not finish"


def test_the_change_is_the_first_of_the_changes(mild, refused):
    assert mild.changes == () and mild.change is None
    assert refused.changes and refused.change is refused.changes[0]
