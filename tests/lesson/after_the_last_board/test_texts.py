"""What page 10 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import re

import pytest

from pcbchem.bench.hazards.law import PLACES
from pcbchem.bench.waste.where import ASK, where_it_goes
from pcbchem.lesson.after_the_last_board import read_copper, say_now, texts, where, why
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    MUCH,
    WATER,
    copper_left,
    peroxide_left,
    rinsed,
    total_copper,
)

STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")
DO = {"×": lambda a, b: a * b, "÷": lambda a, b: a / b}


def test_law_each_step_by_hand_is_right_as_printed():
    steps = STEP.findall(texts.closed_by_hand())
    assert len(steps) == 4
    for first, way, second, result in steps:
        half = 0.5 * 10.0 ** -len(result.partition(".")[2])
        assert abs(DO[way](float(first), float(second)) - float(result)) <= half * 1.001
    oxygen, volumes, room, pressure = steps
    assert volumes[0] == oxygen[3]
    assert (pressure[0], pressure[2]) == (volumes[3], room[3])
    assert float(pressure[3]) > 5, "many times what a bottle stands"


@pytest.mark.parametrize("bottles", WATER)
def test_law_the_spans_follow_the_bottles(bottles):
    units = {"hours": 3600, "days": 86_400, "weeks": 7 * 86_400}
    told = re.search(
        r"Half are done within (\d+) (\w+), one in ten within (\d+) (\w+), one in ten only after "
        r"(\d+) (\w+)\.",
        why(bottles),
    ).groups()
    gone = peroxide_left(bottles).gone
    spans = [float(told[place]) * units[told[place + 1]] for place in (0, 2, 4)]
    ends = [float(end) for end in (gone.middle, gone.low, gone.high)]
    assert spans == pytest.approx(ends, rel=0.08)


def test_law_doubts_and_sources_are_said():
    told = why()
    for words in ("Mlasi 2015", "a guess a thousandfold wide", "from memory", "common practice"):
        assert words in told
    sources = texts.sources()
    for words in ("published", "computed", "common practice", "Hidmi and Edwards 1999"):
        assert words in sources


def test_law_a_strip_is_dipped_into_thinned_bath_first():
    told = why()
    order = ["may fail and read nothing", "one drop of bath to 100", "the bath itself"]
    assert sorted(order, key=told.index) == order


def test_law_copper_is_told_as_counted():
    told = read_copper()
    eight, nine = re.search(r"at least ([\d.]+) mg/L at pH 8 and ([\d.]+) at pH 9", told).groups()
    much = copper_left(MUCH)
    assert float(eight) == pytest.approx(1000 * much.at(8.0)[0], rel=0.05)
    assert float(nine) == pytest.approx(1000 * much.at(9.0)[0], rel=0.05)
    times = re.search(r"fill (\d+) 000 times its room", told)[1]
    assert float(times) * 1000 == pytest.approx(total_copper() / DEATHS, abs=501)
    dish = re.search(r"first rinse dish (\d+) mg/L", told)[1]
    assert float(dish) == pytest.approx(1000 * float(rinsed().middle), abs=0.51)


def test_law_soda_is_told_a_mole_at_a_time_and_only_if_the_site_asks():
    told = next(part for part in read_copper().split("\n\n") if "What soda does" in part)
    assert "a mole at a time" in told and told.endswith(
        "Only if the site asks for it, and as the site says."
    )
    # no grams, no litres, no steps
    assert not re.search(r"\d\s*(g|kg|mL|L)\b", told) and "until" not in told
    assert "foams over" in told


def test_law_every_rule_stands_once_with_its_date():
    told = where()
    rules = {rule for place in PLACES for rule in where_it_goes(place)}
    for rule in rules:
        words = rule.words.removesuffix(ASK).strip()
        assert told.count(f"| {words} *{rule.status}, {rule.as_of}* |") == 1
    assert told.index(ASK) < told.index("| rule")


def test_law_a_dish_is_told_with_its_band():
    told = say_now()
    low, high = re.search(r"reads (\d+) to (\d+) mg/L", told).groups()
    band = rinsed()
    assert float(low) == pytest.approx(1000 * float(band.low), abs=0.51)
    assert float(high) == pytest.approx(1000 * float(band.high), abs=0.51)
    # what would prove it wrong lies outside every plausible dish
    assert 0.010 < band.values.min() and band.values.max() < 0.100
    assert "Not tried by us" in told and "(reference/cautions.md) first" in told
