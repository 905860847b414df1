"""What page 03 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem.lesson.where_the_copper_goes import read_warmth, read_weaker, say_now, texts, why
from pcbchem.lesson.where_the_copper_goes.numbers import (
    hot_when_asked,
    tent,
    tray_bath,
    turning_point,
    wanted,
    warmths,
)
from pcbchem.lesson.workshop import tide_clock

STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")


def test_law_the_counts_of_why_are_the_tent_s():
    case = tent()
    told = re.search(
        r"acid is enough for ([\d.]+) boards, the peroxide for (\d+).*enough for ([\d.]+)\.", why()
    )
    equal, asked = case.at(1.0), case.at(2.0)
    expected = [case.acid[equal], case.peroxide[equal], case.acid[asked]]
    assert [float(text) for text in told.groups()] == pytest.approx(expected, rel=0.02)


def test_law_the_day_after_is_told_as_the_planner_counts_it():
    above, tried = hot_when_asked()
    assert f"tries {tried} *plausible baths*" in why()
    assert f"With 2 parts of peroxide, {above} of them get above 60 °C in the day after" in why()
    # "more boards from less peroxide"
    case = tent()
    assert case.carried[case.at(0.5)] > case.carried[case.at(1.0)]


def test_law_each_step_by_hand_is_right_as_printed():
    steps = STEP.findall(texts.by_hand())
    assert len(steps) == 4
    right_as_printed(steps)
    # each goes on with what the one before came to
    assert steps[1][2] == steps[3][2] == steps[0][3] and steps[2][2] == steps[1][3]
    case = tent()
    assert float(steps[2][3]) == pytest.approx(float(case.acid[case.at(1.0)]), abs=0.05)
    assert float(steps[3][3]) == pytest.approx(float(case.peroxide[case.at(1.0)]), abs=0.5)
    # what the bath holds on each cm²: 150 mL over 27 cm², mol/L as mmol/mL
    strengths = [float(tray_bath(1.0).concentration(name)) / 1000 for name in ("HCl", "H2O2")]
    held = [float(steps[2][0]), float(steps[3][0])]
    assert held == pytest.approx([150 / 27 * strength for strength in strengths], rel=0.004)


def test_second_source_what_an_offcut_loses():
    """IPC-4562 nominal weights (1 oz read, others from memory): 305, 152.5 and 610 g/m²."""
    lost = re.search(
        r"lose about ([\d.]+) g, a tenth more or less \(½ oz: ([\d.]+) g; 2 oz: ([\d.]+) g",
        say_now(),
    ).groups()
    for text, weight in zip(lost, (305.0, 152.5, 610.0), strict=True):
        assert float(text) == pytest.approx(weight * 20e-4, abs=0.006)


def test_law_less_bath_is_told_as_it_is():
    least, enough, usual = warmths()
    told = read_warmth()
    assert f"so thin, {least.never} never clear" in told and least.refused
    assert "about an eighth of the workshop's bath" in told
    assert least.room / usual.room == pytest.approx(1 / 8, rel=0.1)
    assert f"{wanted():g} times the copper (about a third of the workshop's)" in told
    assert enough.room / usual.room == pytest.approx(1 / 3, rel=0.1)
    assert f"{float(usual.warmest.middle) - 273.15:.0f} °C while it etches" in told
    # "most get too warm", "even that can get too warm"
    assert float(least.warmest.low) > 318.15 > float(enough.warmest.middle)
    assert float(enough.warmest.high) > 318.15


def test_law_the_weak_bottle_is_told_as_it_is():
    told = read_weaker()
    parts, change = re.search(r"about 1 : ([\d.]+)\..*near ([\d.]+) %", told).groups()
    assert float(parts) == pytest.approx(tent(3.0).top_parts, abs=0.05)
    assert float(change) == pytest.approx(turning_point(), abs=0.05)
    share, _ = tent(3.0).top
    assert share > 0.5


def test_law_the_sources_are_named():
    for needed in (
        "balanced by element and charge",
        "by definition",
        "IUPAC",
        "our limit",
        "model",
    ):
        assert texts.sources().count(needed) == 1
    assert tide_clock().foil.areal_mass * 1000 == pytest.approx(305, abs=0.5)
