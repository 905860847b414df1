"""Random plans: verdict, first look, resist and words are what their draws come to.

Laws, except where another kind is said.
"""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import is_shown, mild_plan
from helpers.second_reading import cut, figures_in

from pcbchem import Bottle

HEADS = {
    ("mix it", False): "Mix it.",
    ("with care", False): "Mix it, with care:",
    ("do not mix", True): "Do not mix this.",
    ("do not mix", False): "This bath would not do the job, so no amounts are given.",
}
"""By the verdict, and by whether it is refused for harm."""


@pytest.fixture(scope="module")
def every_plan(refused_plans, mixable_plans):
    return [*refused_plans, *mixable_plans]


def test_first_look_comes_before_one_bath_in_ten_is_clear(mixable_plans, mild):
    plans = [plan for plan in [*mixable_plans, mild] if plan.first_look is not None]
    assert len(plans) >= 12
    for plan in plans:
        soonest = float(cut(plan.run.time_to_clear, 1))
        is_half = 0.4 * soonest < plan.first_look <= 0.5 * soonest
        assert is_half, "half of the 10 % time, down by a fifth at most"
        middle = float(cut(plan.run.time_to_clear, 5))
        assert plan.over_etch == pytest.approx((0.1 * middle, 0.3 * middle))
    nothing_clears = mild_plan(peroxide=Bottle("H2O2", 0, 0), draws=20)
    assert nothing_clears.first_look is nothing_clears.look_every is None


def test_the_first_look_is_said_to_the_second_and_easy_to_keep(mixable_plans, mild):
    for plan in [*mixable_plans, mild]:
        if plan.first_look is None:
            continue
        words = re.search(
            r"Look first after (?:(\d+) min)? ?(?:(\d+) s)?, "
            r"then every (?:(\d+) min)? ?(?:(\d+) s)?\.",
            str(plan),
        ).groups()
        numbers = [int(number or 0) for number in words]
        for (minutes, seconds), time in zip(
            (numbers[:2], numbers[2:]), (plan.first_look, plan.look_every), strict=True
        ):
            assert 60 * minutes + seconds == time
            assert seconds < 60 and (not minutes or seconds % 5 == 0)
            assert minutes < 10 or seconds == 0


def test_between_two_looks_hardly_a_tenth_of_the_time_is_lost(mixable_plans, mild):
    """Down by a fifth at most, and 5 s at least, whatever the time."""
    plans = [plan for plan in [*mixable_plans, mild] if plan.first_look is not None]
    for plan in plans:
        tenth = 0.1 * float(cut(plan.run.time_to_clear, 5))
        assert plan.look_every >= 5
        assert 0.8 * tenth < plan.look_every <= max(tenth, 5)
    for plan in [*mixable_plans, mild]:
        assert (plan.look_every is None) == (plan.first_look is None)


def test_resist_life_is_for_baths_neither_strong_nor_warm(mixable_plans, mild):
    """As printed: 20 to 30 min, common practice, no source."""
    assert mild.resist_life == (20 * 60, 30 * 60)
    counts = {True: 0, False: 0}
    for plan in mixable_plans:
        figures = figures_in(plan)
        is_gentle = bool(cut(figures["acid"], 9) <= 3 and cut(figures["etching"], 9) <= 45)
        assert (plan.resist_life is not None) == is_gentle
        counts[is_gentle] += 1
    assert min(counts.values()) >= 2, counts


def test_a_verdict_is_what_the_reasons_come_to(every_plan):
    for plan in every_plan:
        kinds = {reason.kind for reason in plan.reasons}
        verdict = "do not mix"
        if not kinds:
            verdict = "mix it"
        elif kinds == {"care"}:
            verdict = "with care"
        assert plan.verdict == verdict
    assert {(plan.verdict, plan.harmful) for plan in every_plan} == set(HEADS)


def test_a_refused_plan_has_no_steps_and_nothing_for_later(every_plan):
    for plan in every_plan:
        is_refused = plan.verdict == "do not mix"
        assert plan.refused == is_refused
        assert (plan.stages == ()) == is_refused
        assert (plan.later is None) == is_refused


def test_a_verdict_cannot_be_set(every_plan):
    for plan in (every_plan[0], every_plan[-1]):
        with pytest.raises(TypeError):
            dataclasses.replace(plan, verdict="mix it")
        with pytest.raises(AttributeError):
            plan.verdict = "mix it"


def test_a_refused_plan_keeps_no_amount_in_what_it_worked_out(refused_plans):
    assert any(plan.inputs.second for plan in refused_plans)
    for plan in refused_plans:
        run = plan.run
        for amount in (run.volume, run.mass, run.oxygen_amount, plan.after.oxygen):
            assert np.isnan(np.asarray(amount)).all()
        assert not {"volume", "acid_used", "copper_used", "peroxide_left_day"} & set(plan.bands)
        assert np.all(np.asarray(plan.mixture.mass) == 1)
        with pytest.raises(ValueError, match="kept without its amounts"):
            run.bath_after  # noqa: B018 (reading it is the test)


def test_a_plan_that_may_be_mixed_keeps_its_amounts(mixable_plans):
    for plan in mixable_plans:
        assert np.isfinite(np.asarray(plan.after.oxygen)).all()
        assert float(plan.bands["volume"].low) > 0


def test_print_says_the_verdict_first(every_plan):
    for plan in every_plan:
        words, markdown = str(plan), plan._repr_markdown_()
        head = HEADS[plan.verdict, plan.harmful]
        assert words.splitlines()[0] == head
        assert markdown.startswith(f"**{head}**")
        assert repr(plan).startswith(f"Plan({plan.verdict}")


def test_print_says_every_reason_and_caution_with_its_source(every_plan):
    """Of a refused bath nothing is done at the tray or afterwards: it has the other layers."""
    for plan in every_plan:
        for words in (str(plan), plan._repr_markdown_()):
            assert all(reason.words[1:] in words for reason in plan.reasons)
            assert all(reason.source in words for reason in plan.reasons)
            for caution in plan.cautions:
                assert (caution.words in words) == is_shown(caution, plan), caution.topic
        # on paper a page of all cautions names the sources
        for caution in plan.cautions:
            if is_shown(caution, plan):
                practice = "common practice, no source"
                assert all(work in words or work == practice for work in caution.works)
