"""What page 07 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import csv
import re
from pathlib import Path

import pytest
from helpers.by_hand import right_as_printed

import pcbchem
from pcbchem.lesson.when_to_lift_it_out import read_foils, read_inspection, say_now, texts, why
from pcbchem.lesson.when_to_lift_it_out.numbers import (
    BATHS,
    DRAWN,
    course,
    lost_lines,
    on_time,
    over_resist,
    thickness,
)

STEP = re.compile(r"([\d.]+) ([×÷−]) ([\d.]+) = ([\d.]*\d)")
TABLE = Path(pcbchem.__file__).parent / "data" / "etch_factor.csv"
SENTENCE = re.compile(r"(?<=[.?!])[*)]*\s+|\n")


def test_law_each_step_by_hand_is_right_as_printed():
    steps = STEP.findall(texts.by_hand())
    assert len(steps) == 3
    right_as_printed([*steps, *STEP.findall(texts.sources())])
    # each goes on with what the one before came to
    assert steps[1][2] == steps[0][3] and steps[2][2] == steps[1][3]
    assert float(steps[2][3]) == pytest.approx(1e6 * float(on_time().middle), abs=0.5)


@pytest.mark.parametrize("name", BATHS)
def test_law_the_pace_follows_the_bath(name):
    low, middle, high = (
        60e6 * float(getattr(course(name).pace, end)) for end in ("low", "middle", "high")
    )
    told = re.search(r"costs ([\d.]+) µm of width \(([\d.]+) to ([\d.]+)\)", why(name)).groups()
    half = 0.5 if "." not in told[0] else 0.05
    assert [float(number) for number in told] == pytest.approx([middle, low, high], abs=half)
    assert f"a minute too long {told[0]} more" in why(name)
    # to the second it is the same in any bath
    assert "the perfect moment costs 45 µm" in why(name)
    for sentence in SENTENCE.split(re.sub(r"^\|.*$", "", why(name), flags=re.MULTILINE)):
        assert len(sentence.split()) <= 25, sentence


def test_law_in_the_weak_bath_resist_sets_the_time():
    assert f"{over_resist(1200)} of 200 need more than 20 min, {over_resist(1800)}" in why("weak")
    assert "is a mean" in why("weak") and "The first costs" not in why("weak")
    assert "resist stands" not in why("mild").lower()


def test_as_printed_published_factors_stand_beside_ours():
    """Each row of the page from the table's own file, with what they would leave."""
    with TABLE.open(encoding="utf-8") as file:
        rows = {row["case"]: row for row in csv.DictReader(file)}
    told = texts.sources()
    for case in ("rocked", "photo_etching", "general_boards"):
        row = rows[case]
        low, high = row["low_depth_over_undercut"], row["high_depth_over_undercut"]
        left = [1000 * (DRAWN - 2 * thickness() / float(end)) for end in (low, high)]
        line = next(line for line in told.splitlines() if f"| {low} to {high} |" in line)
        assert f"| {left[0]:.3f} to {left[1]:.3f} mm |" in line
        assert ("published" in line) == (row["status"] == "published")
        assert ("a guess" in line) == (row["status"] == "assumed")
        if row["status"] == "published":
            # where the table says that it was measured, the page says it too
            assert "on the finished" in row["what"] and "on the finished" in line
    for words in ("mostly sprays (from memory)", "comes out lower", "careful side"):
        assert words in told


def test_law_how_to_pull_follows_the_times():
    told = read_inspection()
    low, middle = (float(getattr(course().clear, end)) / 60 for end in ("low", "middle"))
    # half the low end is 1.57 min, a tenth of the middle 24 s: as people keep a watch
    assert "after 1½ min" in told and low / 2 == pytest.approx(1.5, abs=0.1)
    assert "then every 30 s or so" in told and middle * 6 == pytest.approx(30, abs=7)
    order = [
        "rinse it",
        "resist on",
        "goggles on",
        "below 45 °C",
        "Resist off only when rinsed and dry",
    ]
    assert sorted(order, key=told.index) == order
    for fault in ("haze", "bridge", "cut"):
        assert f"\n| {fault}" in told
    # no word of colours: in a dark theme the picture's are turned
    assert not re.search(r"\b(brown|black|bright|dark)\b", told)


def test_law_thin_foil_is_told_with_its_losses():
    losses = re.search(r"costs (\d+) µm on ½ oz, (\d+) µm on 1 oz, (\d+) µm on 2 oz", read_foils())
    for loss, weight in zip(losses.groups(), (0.5, 1.0, 2.0), strict=True):
        assert float(loss) == pytest.approx(1e6 * (DRAWN - float(on_time(weight).middle)), abs=0.5)
    assert "In all 200 plausible baths" in read_foils()


def test_law_an_offcut_is_told_with_its_counts():
    told = texts.etch_an_offcut()
    first, second, third, last = lost_lines().values()
    assert f"lost in {first}, {second}, {third} and none of 200 plausible baths" in told
    low, high = re.search(r"0\.30 mm one has lost ([\d.]+) to ([\d.]+) mm", told).groups()
    pace = course().pace
    assert float(low) == pytest.approx(900e3 * float(pace.low), abs=0.0051)
    assert float(high) == pytest.approx(900e3 * float(pace.high), abs=0.0051)
    assert last == 0 and "drawn 0.15, 0.20, 0.30 and 0.50 mm" in told


def test_law_a_class_sees_no_wet_test():
    told, of_class = say_now(), say_now(school=True)
    order = ["(reference/cautions.md)", "the planner", "teacher alone", "An offcut in"]
    assert sorted(order, key=told.index) == order
    assert "0.15" not in of_class and "15 min" not in of_class and "teacher" in of_class
