"""What page 05 tells afterwards holds the package's own numbers and follows the controls (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem.lesson.warm_baths import read_it, read_weak, texts
from pcbchem.lesson.warm_baths.numbers import FLAT, JAR, MILD, STRONG, WEAK, hour_after

STEP = re.compile(r"([\d.]+)(?: mol)? ([×÷+]) ([\d.]+)(?: kJ each)? = ([\d.]*\d)")


@pytest.mark.parametrize("bottles", [MILD, STRONG])
def test_law_each_step_by_hand_is_right_as_printed(bottles):
    told = texts.ceiling_by_hand(hour_after(bottles))
    steps = STEP.findall(told)
    assert len(steps) == 3
    right_as_printed(steps)
    # each goes on with what the one before came to
    assert steps[1][0] == steps[0][3] and steps[2][2] == steps[1][3]
    package = float(re.search(r"by the package (\d+)", told)[1])
    assert package == pytest.approx(hour_after(bottles).highest - 273.15, abs=0.51)
    assert float(steps[2][3]) == pytest.approx(package, abs=1.0)


@pytest.mark.parametrize("bottles", [MILD, STRONG])
@pytest.mark.parametrize("depth", [6, FLAT, 20, JAR])
def test_law_why_follows_bottles_and_depth(bottles, depth):
    hour = hour_after(bottles)
    told = read_it(hour, depth)
    out = float(hour.out.middle)
    match = re.search(r"At (\d+) °C that warms the middle bath by ([\d.]+) °C a minute", told)
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
    for depth in (6, FLAT, 20, JAR):
        told = read_weak(depth)
        made, tray, *here = (float(each) for each in re.findall(r"([\d.]+) °C a minute", told))
        assert made < tray and len(here) == (depth != FLAT)
        assert not here or here[0] == pytest.approx(
            60 * hour.lost_at(float(hour.out.middle), depth), abs=0.0051
        )
        assert all(made < lost for lost in here) and "only cools" in told
        assert "never closed" in told
    assert float(hour.peak(JAR).middle) - float(hour.peak(FLAT).middle) < 1


def test_law_the_count_of_flat_trays_is_the_draws():
    for bottles in (MILD, STRONG):
        hour = hour_after(bottles)
        # the third place of the slider, from 6 mm in steps of 2
        count = int((hour.warmest[2] > 318.15).sum())
        assert f"{count} of 200 exceed 45 °C" in texts.how_sure(hour)
        assert hour.too_warm(FLAT) == count


@pytest.mark.parametrize("depth", [6, FLAT, 20, JAR])
def test_law_made_is_under_lost_once_so_much_of_the_peroxide_is_gone(depth):
    """As warm as when the board comes out: made falls in proportion to what is left."""
    hour = hour_after(MILD)
    out = float(hour.out.middle)
    shares = [float(each) / 100 for each in re.findall(r"([\d.]+) %", texts.lead(hour, depth))]
    for share, each in zip(shares, (FLAT, depth), strict=False):
        made = hour.made_at(out) * (1 - share)
        assert made == pytest.approx(hour.lost_at(out, each), rel=0.02)
    assert ("from the first" in texts.lead(hour, depth)) == (depth == 6)
    assert len(shares) == (2 if depth > FLAT else 1)
