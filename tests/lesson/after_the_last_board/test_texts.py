"""What page 10 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import re

import pytest
from helpers.by_hand import right_as_printed

from pcbchem.bench.hazards.law import PLACES
from pcbchem.bench.waste import label_of
from pcbchem.bench.waste.where import ASK, where_it_goes
from pcbchem.common import tables
from pcbchem.lesson.after_the_last_board import (
    read_copper,
    rest,
    say_now,
    texts,
    to_do,
    where,
    why,
)
from pcbchem.lesson.after_the_last_board.numbers import (
    DEATHS,
    WATER,
    peroxide_left,
    rinsed,
    total_copper,
)
from pcbchem.lesson.after_the_last_board.words import RULE

STEP = re.compile(r"([\d.]+) ([×÷]) ([\d.]+) = ([\d.]*\d)")


def test_law_each_step_by_hand_is_right_as_printed():
    steps = STEP.findall(texts.closed_by_hand())
    assert len(steps) == 4
    right_as_printed(steps)
    oxygen, volumes, room, pressure = steps
    assert volumes[0] == oxygen[3]
    assert (pressure[0], pressure[2]) == (volumes[3], room[3])
    assert float(pressure[3]) > 5, "many times what a bottle stands"


@pytest.mark.parametrize("bottles", WATER)
def test_law_the_spans_follow_the_bottles(bottles):
    units = {"hours": 3600, "days": 86_400, "weeks": 7 * 86_400}
    told = re.search(
        r"Half are done within (\d+) (\w+), one in ten within (\d+) (\w+), one in ten only after "
        r"(\d+) (\w+)[.,]",
        why(bottles),
    ).groups()
    gone = peroxide_left(bottles).gone
    spans = [float(told[place]) * units[told[place + 1]] for place in (0, 2, 4)]
    ends = [float(end) for end in (gone.middle, gone.low, gone.high)]
    assert spans == pytest.approx(ends, rel=0.08)


def test_law_doubts_and_sources_are_said():
    told = why()
    for words in ("Mlasi 2015", "a guess a thousandfold wide"):
        assert words in told
    sources = texts.sources()
    for words in ("published", "computed", "common practice", "Hidmi and Edwards 1999"):
        assert words in sources
    listed = to_do(label_of(rest()))
    for words in ("a university's safety alert", "from memory", "common practice"):
        assert words in listed


def test_law_the_whole_test_by_strip_stands_in_one_place():
    """One drop in 100, on two days, the strip itself tried; vented even then."""
    told = to_do(label_of(rest()))
    order = [
        "on two days",
        "one drop of bath to 100 of water",
        "Never in the bath itself",
        "a drop of shop peroxide goes into that water",
        "has told nothing",
        "starts the count anew",
        "It shows anything",
        "is not carried",
        "Nothing on both days",
        "to the site as it said",
        "vented plastic container, at most half full",
    ]
    assert sorted(order, key=told.index) == order
    caution = next(
        row["words"] for row in tables.read("cautions") if "100 of water" in row["words"]
    )
    assert "two days" in caution and "half full" in caution
    assert "then in the bath itself" not in told + caution


def test_law_nothing_says_that_a_bath_may_be_closed():
    told = [to_do(label_of(rest())), why(), say_now(), say_now(school=True), RULE]
    for text in told:
        for sentence in re.split(r"(?<=[.?!])\s|\n", text):
            assert "close" not in sentence.lower() or re.search(r"\b[Nn]ever\b", sentence), sentence


def test_law_the_label_is_that_of_what_is_left():
    tub = label_of(rest())
    told = to_do(tub)
    assert tub.signal == "Danger" and f"{tub.signal}. Pictograms: corrosion, environment." in told
    for words in (*tub.class_words, *tub.pictograms, f"as of {tub.as_of}"):
        assert words.lower() in told.lower(), words
    for substance in ("hydrochloric acid", "hydrogen peroxide", "copper chloride"):
        assert substance in told


def test_law_a_class_is_told_that_only_the_teacher_does_it():
    tub = label_of(rest())
    assert "A class does none of this." in to_do(tub, school=True)
    assert "A class" not in to_do(tub)


def test_law_copper_is_told_as_counted():
    told = read_copper()
    times = re.search(r"fill (\d+) 000 times its room", told)[1]
    assert float(times) * 1000 == pytest.approx(total_copper() / DEATHS, abs=501)


def test_law_soda_is_told_as_chemistry_and_no_dose():
    told = next(part for part in read_copper().split("\n\n") if "What baking soda does" in part)
    assert "as chemistry, never done to a bath" in told and "foams" in told
    # no amount, no end point, no steps
    assert not re.search(r"\d", told) and "until" not in told and "mole" not in told
    assert told.endswith("the copper stays.")


def test_law_every_rule_stands_once_under_its_place():
    told = where()
    tables_of = told.split("\n\n| | **")
    heads = ["Everywhere", *texts.PLACE_WORDS.values()]
    assert [part.split("**")[0] for part in tables_of[1:]] == heads
    for place, head in texts.PLACE_WORDS.items():
        part = next(part for part in tables_of if part.startswith(f"{head}**"))
        for rule in where_it_goes(place):
            row = texts.rule_words(rule.words, head)
            assert re.search(rf"{re.escape(row)}(\*\*)? \| {texts.KNOWN[rule.status]} \|", told)
            assert told.count(row) == 1
            assert (row in part) != (row in tables_of[1])
        # the place stands at its head and not in every row
        assert f"{head}: " not in part
    assert set(texts.PLACE_WORDS) == set(PLACES)
    assert told.index(ASK) < told.index("| | **Everywhere")


def test_law_the_rules_are_dated_once():
    dates = {rule.as_of for place in PLACES for rule in where_it_goes(place)}
    assert len(dates) == 1 and where().count(dates.pop()) == 1


def test_law_a_dish_is_told_with_its_band():
    told = say_now()
    low, high = re.search(r"reads (\d+) to (\d+) mg/L", told).groups()
    band = rinsed()
    assert float(low) == pytest.approx(1000 * float(band.low), abs=0.51)
    assert float(high) == pytest.approx(1000 * float(band.high), abs=0.51)
    # what would prove it wrong lies outside every plausible dish
    assert 0.010 < band.values.min() and band.values.max() < 0.100
    assert "Not tried by us" in told and "(reference/cautions.md) first" in told
