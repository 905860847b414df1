"""What page 05 tells afterwards holds the package's own numbers and follows the controls (laws)."""

import re

import pytest

from pcbchem.lesson.warm_baths import read_it, read_weak, texts
from pcbchem.lesson.warm_baths.numbers import FLAT, JAR, MILD, STRONG, WEAK, hour_after

STEP = re.compile(r"([\d.]+) ([×÷+]) ([\d.]+) = ([\d.]*\d)")
DO = {"×": lambda a, b: a * b, "÷": lambda a, b: a / b, "+": lambda a, b: a + b}


def test_law_each_step_by_hand_is_right_as_printed():
    steps = STEP.findall(texts.ceiling_by_hand())
    assert len(steps) == 3
    for first, way, second, result in steps:
        half = 0.5 * 10.0 ** -len(result.partition(".")[2])
        assert abs(DO[way](float(first), float(second)) - float(result)) <= half * 1.001
    # each goes on with what the one before came to
    assert steps[1][0] == steps[0][3] and steps[2][2] == steps[1][3]


@pytest.mark.parametrize("bottles", [MILD, STRONG])
@pytest.mark.parametrize("depth", [6, FLAT, 20, JAR])
def test_law_why_follows_bottles_and_depth(bottles, depth):
    hour = hour_after(bottles)
    told = read_it(hour, depth)
    out = float(hour.out.middle)
    match = re.search(r"At (\d+) °C the middle one is warmed by ([\d.]+) °C a minute", told)
    assert float(match[1]) == pytest.approx(out - 273.15, abs=0.51)
    assert float(match[2]) == pytest.approx(60 * hour.made_at(out), abs=0.0051)
    tray = re.search(r"flat tray takes ([\d.]+) °C a minute away", told)
    assert float(tray[1]) == pytest.approx(60 * hour.lost_at(out, FLAT), abs=0.0051)
    here = re.search(rf"{depth} mm deep the bath loses ([\d.]+) °C", told)
    assert (here is None) == (depth == FLAT)
    if here:
        assert float(here[1]) == pytest.approx(60 * hour.lost_at(out, depth), abs=0.0051)


def test_law_of_weak_bottles_lost_is_more_than_made():
    hour = hour_after(WEAK)
    made, jar, tray = (float(each) for each in re.findall(r"([\d.]+) °C a minute", read_weak()))
    assert made < jar < tray and "cools in both" in read_weak()
    assert float(hour.peak(JAR).middle) - float(hour.peak(FLAT).middle) < 1


def test_law_the_count_of_flat_trays_is_the_draws():
    hour = hour_after(MILD)
    count = int((hour.warmest[list(range(len(hour.warmest)))[2]] > 318.15).sum())
    assert f"{hour.too_warm(FLAT)} of 200 exceed 45 °C" in texts.how_sure()
    assert hour.too_warm(FLAT) == count
