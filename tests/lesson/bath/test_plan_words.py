"""A plan's sentence and its picture in words hold its own numbers, refused no amount (laws)."""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plan_pictures import words_in
from helpers.workshop import INPUTS

from pcbchem import Tray
from pcbchem.bench.hazards.verdicts import rules
from pcbchem.common.number_words import degrees
from pcbchem.lesson.bath import plan_picture as picture
from pcbchem.lesson.bath import plan_words as module
from pcbchem.lesson.bath import planned
from pcbchem.lesson.bath.plan_words import end, limit_words, limits, rows, title, words

AMOUNT = re.compile(r"\d\s*(m?L|litres?|cm³)\b(?! per cm²)|oz\b|pour|look first|resist")
"""An amount, or what to do with one."""
CONDITION = "if the board is not clear and the bath is at 25 °C or colder"


def numbers_of(plan):
    """Ends of a plan's bands, written out a second time: in the sentence, too, and elsewhere."""
    times, peak, after = (
        plan.bands[name] for name in ("time_to_clear", "etching_peak", "standing_peak")
    )
    first = [f"{times.low / 60:.1f} to {times.high / 60:.1f} min"]
    first += [f"{band.low - 273.15:.0f} to {band.high - 273.15:.0f} °C" for band in (peak, after)]
    reserve = plan.bands["reserve"]
    return first, [
        f"{times.middle / 60:.1f} min",
        "75 mL",
        "20 to 30 min",
        "1 min 30 s",
        f"{reserve.low:.1f} to {reserve.high:.1f} times",
    ]


def test_law_picture_and_words_say_the_plans_numbers(mild, pictures, narrow):
    drawn = words_in(pictures["mild", narrow])
    readout, alt = words(mild, "Bath")
    first, others = numbers_of(mild)
    for number in first:
        assert number in readout and number in alt and number in drawn, number
    for number in others:
        assert number in alt and number in drawn, number
    middle = f"the middle bath {mild.bands['etching_peak'].middle - 273.15:.0f} °C"
    assert readout.startswith("Mix it. 8 of 10") and middle in alt


def test_law_both_bands_of_warmth_stand_together(plans, pictures):
    """Title, sentence, alternative: each band by its name; nothing is the warmest of one alone."""
    for name, plan in plans.items():
        peak, hour, day = (
            degrees(plan.bands[key]) for key in ("etching_peak", "hour_peak", "standing_peak")
        )
        readout, alt = words(plan, "x")
        both = f"While etching they reach {peak}; in the hour after, {hour}."
        assert both in readout, (name, readout)
        both = f"hile etching {peak}; in the day after {day}"
        for said in (title(plan, "x"), alt.partition(" Bars:")[0]):
            assert both in said, (name, said)
        for said in (readout, alt, words_in(pictures[name, False])):
            assert "warmest" not in said.lower(), name


def test_law_the_course_is_told_or_why_there_is_none(plans):
    for name, plan in plans.items():
        alt = words(plan, "x")[1]
        start = plan.bands["mixing_temperature"].middle - 273.15
        course = f"temperature: from {start:.0f} °C at the start; while etching"
        if plan.inputs.second is not None:
            course = "temperature: its course is not kept with the peroxide in two portions; while"
        assert course in alt, name


@pytest.mark.parametrize(
    ("name", "first"),
    [
        ("two portions", "Into the jug, in this order"),
        ("all five", "Into the tray, in this order"),
    ],
)
def test_law_a_second_portion_is_said_with_its_conditions(plans, pictures, narrow, name, first):
    """Peroxide poured by the clock into a warm bath is the accident: 25 °C (our limit)."""
    plan = plans[name]
    minutes = round(plan.inputs.second[1] / 60)
    for said in (words(plan, "x")[1], words_in(pictures[name, narrow])):
        assert said.count(first) == 1
        assert f"Into the tray at {minutes} min, ONLY {CONDITION}: peroxide, " in said
        assert f"{minutes} min, only if not clear, 25 °C or colder" in said, "on the axis of time"
        assert not re.search(r"\d\. (at|peroxide, second)", said), "no number in the order"
    assert f"Only {CONDITION}" in str(plan)


def test_law_a_second_portion_into_a_warm_bath_is_refused(plans):
    """After 3 minutes the workshop's bath is warmer than 25 °C (our limit)."""
    plan = plans["too late"]
    assert float(plan.bands["second_bath_temperature"].high) > 298.15
    assert plan.refused and "Into the tray" not in words(plan, "x")[1]


def test_law_only_in_the_us_ounces_are_said(mild, pictures, narrow):
    """Volumes are in mL; US fluid ounces, 29.5735 mL, beside them where people measure in them."""
    assert "oz" not in words(mild, "Bath")[1] + words_in(pictures["mild", narrow])
    there = planned(**INPUTS | {"place": "US", "draws": 20})
    drawn = words_in(picture.show(picture.build(narrow), there, "Bath"))
    for said in (words(there, "Bath")[1], drawn):
        assert f"75 mL ({75 / 29.5735:.1f} US fl oz)" in said


def test_a_used_bath_is_poured_to_in_its_tray(plans, pictures):
    for said in (words(plans["used before"], "x")[1], words_in(pictures["used before", False])):
        assert said.count("Into the tray, in this order") == 1
        assert "ONLY" not in said and "jug" not in said.lower()


def test_an_upright_board_stands_in_a_tank(plans):
    upright = Tray(facing="upright", open_area=97e-4)
    for name, count in (("used before", 1), ("all five", 2)):
        inputs = plans[name].inputs.replace(tray=upright)
        alt = words(dataclasses.replace(plans[name], inputs=inputs), "x")[1]
        assert alt.count("nto the tank") == count and "nto the tray" not in alt


def test_law_a_refused_plan_has_no_amount_anywhere(plans, pictures, narrow):
    refused = {name: plan for name, plan in plans.items() if plan.refused}
    assert len(refused) >= 4
    for name, plan in refused.items():
        drawn = words_in(pictures[name, narrow])
        readout, alt = words(plan, "Bath")
        for said in (drawn, readout, alt):
            assert not AMOUNT.search(said), AMOUNT.search(said)
        assert "A curve to learn from" in drawn and "measures nothing out" in drawn
        assert readout.startswith(("Do not mix this. ", "This bath would not do the job, "))
    assert AMOUNT.search(words_in(pictures["mild", narrow])), "an amount would be found"


def test_the_ratio_of_a_refused_plan_is_said_part_by_part(plans):
    assert "parts water 3 : acid 1 : peroxide 1." in words(plans["refused"], "Bath")[1]


def test_never_clearing_baths_are_said_without_nan(plans):
    for plan in plans.values():
        assert not re.search(r"\b(nan|inf)\b", " ".join(words(plan, "Bath")))
    assert "Hardly ever clear" in title(plans["no peroxide"], "Bath")


def test_law_rows_are_the_plans_times(plans):
    for name, plan in plans.items():
        listed = {row.name: row for row in rows(plan)}
        times = plan.bands["time_to_clear"]
        clear = listed["board clear"]
        assert (clear.low, clear.high) == (times.low, times.high)
        assert ("look first" in listed) == (plan.first_look is not None), name
        assert end(plan) > times.middle or np.isinf(times.middle)


def test_law_limits_are_the_rules_of_a_peak():
    for quantity in ("etching_peak", "standing_peak"):
        expected = {round(rule.limit - 273.15, 6) for rule in rules() if rule.quantity == quantity}
        every = limits(quantity, -100, 400)
        assert {module.celsius_of(limit) for limit in every} == expected


def test_law_a_limit_says_every_rule_that_stands_at_it():
    for limit in limits("etching_peak", -100, 400):
        said = limit_words(limit)
        fallen = [
            rule.verdict
            for rule in rules()
            if rule.quantity == "etching_peak" and rule.limit == limit.value
        ]
        assert sorted(module.limit_verdicts(limit)) == sorted(fallen)
        assert all(verdict in said for verdict in fallen)


def test_the_limit_of_45_degrees_is_said_in_words(mild):
    said = "45 °C: 1 in 10 above it: with care; half: do not mix"
    assert said in words(mild, "x")[1]
