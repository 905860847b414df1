"""What page 09 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem.bench.air import RULE as RULE_OF_THE_BENCH
from pcbchem.bench.air import breathe, spill
from pcbchem.lesson.what_goes_into_the_air import read_acids, texts, why, words
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    ACIDS,
    FAN,
    OPEN_AIR,
    OVER_ACIDS,
    breathed,
    each_step,
    large_tray,
    less_than_at_first,
    less_with_mild_acid,
    over_liquid,
    spilt_acid,
    weighed,
)

STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")
ENDS = r"([\d.]+) times less \(([\d.]+) to ([\d.]+)\)"


def number(text):
    return float(text.replace("\u202f", ""))


def cells(line):
    return [cell.strip() for cell in line.strip("|").split("|")]


def test_law_each_step_by_hand_is_right_as_printed():
    told = texts.by_hand()
    steps = STEP.findall(told)
    assert len(steps) == 2 and steps[1][0] == steps[0][3]
    right_as_printed(steps)
    grams, weight, spilt = re.search(
        r"or ([\d.]+) g\. Spilt were (\d+) g of acid, 31 % of it HCl: (\d+) g\.", told
    ).groups()
    assert 0.31 * float(weight) == pytest.approx(float(spilt), abs=0.5)
    assert float(grams) == pytest.approx(float(steps[1][3]) / 1000, abs=0.051)
    assert float(spilt) == pytest.approx(1000 * spilt_acid(), abs=0.51)
    # what the package's own lines print
    room = 1e6 * float(breathed().room.middle)
    assert float(grams) == pytest.approx(room * 1.5157 * 30 / 1000, abs=0.051)


def test_law_the_table_over_acid_is_the_package_s():
    head, _, *rows = (line for line in why().splitlines() if line.startswith("|"))
    assert cells(head) == ["acid", "ppm"]
    assert [cells(row)[0] for row in rows] == [f"{acid:g} %" for acid in OVER_ACIDS]
    told = [number(cells(row)[1]) for row in rows]
    assert told == pytest.approx([1e6 * over_liquid(acid) for acid in OVER_ACIDS], rel=0.051)
    assert f"about {each_step():.0f} times as much" in why()


def test_law_the_table_of_bottles_is_the_package_s():
    _, _, *rows = (line for line in read_acids().splitlines() if line.startswith("|"))
    assert len(rows) == len(ACIDS)
    for line, acid in zip(rows, ACIDS, strict=True):
        name, bottle, spill = cells(line)
        air = breathed(acid)
        assert name == f"{acid:g} %"
        assert number(bottle) == pytest.approx(1e6 * float(air.bottle.middle), rel=0.051)
        assert number(spill) == pytest.approx(1e6 * float(air.spill.middle), rel=0.051)


def test_law_less_and_less_follow_places_and_bottles():
    fan, outdoors = re.findall(ENDS, why())
    (mild,) = re.findall(ENDS, read_acids())
    pairs = (
        (fan, less_than_at_first(FAN)),
        (outdoors, less_than_at_first(OPEN_AIR)),
        (mild, less_with_mild_acid()),
    )
    for told, band in pairs:
        wanted = [float(band.middle), float(band.low), float(band.high)]
        assert [number(each) for each in told] == pytest.approx(wanted, rel=0.051)


def test_law_peroxide_is_told_with_its_numbers():
    told = texts.peroxide()
    assert "no smell" in told and told in why()
    times, *large = re.search(
        r"gives (\d+) times as much .* gives ([\d.]+) \(([\d.]+) to ([\d.]+)\) ppm", told
    ).groups()
    air, band = breathed(), large_tray()
    assert float(times) == pytest.approx(float(air.peroxide_times.middle), rel=0.051)
    wanted = [1e6 * float(end) for end in (band.middle, band.low, band.high)]
    assert [float(each) for each in large] == pytest.approx(wanted, rel=0.051)


def test_law_what_is_not_in_a_number_is_said():
    assert "downwind, near the ground, ten times and more come back" in why()
    assert "bubbles, which may outweigh its gas" in why()
    assert "because nobody has measured its chlorine and mist" in texts.say_now()
    # in every place, with every acid, the same ceiling
    for told in (why(), read_acids()):
        assert "87 ppm" in told and re.search(r"at once from 10|10 are dangerous at once", told)


def test_law_a_little_spilt_is_told_with_its_numbers():
    told = re.search(r"10 mL spilt give ([\d.]+) \(([\d.]+) to ([\d.]+)\)", why()).groups()
    band = breathe(spill(10e-6, 0.31), "shut room", 900.0).band("peak")
    wanted = [1e6 * float(end) for end in (band.middle, band.low, band.high)]
    assert [float(each) for each in told] == pytest.approx(wanted, rel=0.051)


def test_law_water_is_told_with_its_bands():
    found = re.findall(r"([\d.]+) g \(([\d.]+) to ([\d.]+)\)", texts.weigh_water())
    for told, band in zip(found, weighed(), strict=True):
        wanted = [1000 * float(end) for end in (band.middle, band.low, band.high)]
        assert [float(each) for each in told] == pytest.approx(wanted, rel=0.051)


def test_law_limits_are_said_with_whose_they_are():
    told = texts.sources()
    for part in ("in Britain over 15 minutes, in the US never", "NIOSH, a US office, 2025"):
        assert part in told
    assert "lies are guessed" in told


def test_law_the_page_s_rule_is_the_bench_s():
    """In fewer words: both places, and nothing else."""
    for place in ("in the open air", "in a working fume cupboard"):
        assert place in words.RULE and place in RULE_OF_THE_BENCH
