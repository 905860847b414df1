"""What page 08 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import math
import re

import numpy as np
import pytest

from pcbchem.bench.offcut.board_time import WIDER
from pcbchem.bench.offcut.calibrating import SPREAD
from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.bench.offcut.offcut import SAME_TRAY
from pcbchem.common import tables
from pcbchem.lesson.test_an_offcut import read_times, say_now, texts, why
from pcbchem.lesson.test_an_offcut.words import HOW

SENTENCE = re.compile(r"(?<=[.?!:])[*)]*\s+|\n")
ROWS = {(row["way"], row["offcuts"]): row for row in tables.read("timed_benches")}


def test_law_each_step_by_hand_is_right_as_printed():
    number = r"([\d.]+)"
    line = (
        rf": {number} ÷ √(\d+) = {number}, with the step √\({number}² \+ {number}²\) = {number} %\."
    )
    lines = re.findall(line, texts.by_hand())
    assert [offcuts for _, offcuts, *_ in lines] == ["1", "6", "100"]
    left = []
    for single, offcuts, chance, again, step, both in lines:
        assert again == chance
        assert float(chance) == round(float(single) / math.sqrt(float(offcuts)), 1)
        assert float(both) == round(math.hypot(float(chance), float(step)), 1)
        left.append(float(both) / float(step))
    # more offcuts leave less, and never less than the step
    assert left == sorted(left, reverse=True) and 1 < left[-1] < 1.02


def test_second_source_by_hand_it_goes_as_it_was_counted():
    """Doubt of the times and that of the labels add as surenesses: near the package, not on it."""
    labels = math.log(float(ROWS["labels alone", "0"]["high_over_low"])) / (2 * 1.2816)
    for offcuts in (1, 6):
        times = math.hypot(SPREAD / math.sqrt(offcuts), SAME_TRAY)
        doubt = WIDER / math.sqrt(1 / labels**2 + 1 / times**2)
        counted = float(ROWS["care", str(offcuts)]["high_over_low"])
        assert math.exp(2 * 1.2816 * doubt) == pytest.approx(counted, rel=0.04)


def test_as_printed_tables_are_those_that_were_counted():
    for words, key in {
        "labels alone": ("labels alone", "0"),
        "both bottles known": ("both bottles known", "0"),
        "six small offcuts, each in a dish": ("small", "6"),
        "one large offcut, half the board": ("care", "1"),
        "six": ("care", "6"),
    }.items():
        value = float(ROWS[key]["high_over_low"])
        assert f"| {words} | {value:.2f} |" in why()
    for words, way in {
        "watched all the time": "care",
        "a look every 2 min, and that time written down": "looks",
        "a look every 2 min, and half-way to the look before written down": "half-way",
        "a look every half minute, and that time written down": "often",
    }.items():
        row = ROWS[way, "6"]
        line = f"| {words} | {float(row['high_over_low']):.2f} | {row['held']} |"
        assert line in read_times()


def test_law_what_helps_helps_and_what_does_not_is_not_praised():
    held = {way: int(ROWS[way, "6"]["held"]) for way in ("care", "looks", "half-way", "often")}
    assert min(held["half-way"], held["often"]) > 0.95 * held["care"] > 1.2 * held["looks"]
    told, watched = ROWS["told", "6"], ROWS["care", "6"]
    assert int(told["held"]) > 0.95 * held["care"]
    # "costs width"
    assert float(told["high_over_low"]) > 1.05 * float(watched["high_over_low"])


def test_law_it_is_said_that_this_is_about_time_word_for_word():
    assert ABOUT_TIME in read_times()


def test_law_choice_and_table_call_a_way_the_same():
    for words in HOW.values():
        assert f"| {words} | " in read_times()


def test_law_too_few_inside_is_as_rare_as_said():
    """Simulated: ten bands that hold 8 times in 10, a hundred thousand times."""
    inside = np.random.default_rng(1).binomial(10, 0.8, 100_000)
    share = 100 * np.mean(inside <= texts.TOO_FEW)
    assert share == pytest.approx(texts.BY_CHANCE, abs=0.5)
    assert f"{texts.TOO_FEW} or fewer is chance on {texts.BY_CHANCE} of 100" in say_now()


def test_law_a_class_sees_no_wet_test():
    told, of_class = say_now(), say_now(school=True)
    order = [
        "(reference/cautions.md)",
        "the planner",
        "that you etch anyway",
        "should see it clear",
    ]
    assert sorted(order, key=told.index) == order
    assert "10 offcuts" not in of_class
    for text in (told, of_class):
        assert "only the teacher, with a second adult beside, never in front of the class" in text
        assert "the school's own risk assessment" in text


def test_law_a_class_is_told_the_same_but_for_what_invites():
    assert why(school=True) in why() and read_times(school=True) in read_times()
    assert "Your own offcut can" in why().removeprefix(why(school=True))
    rest = read_times().removeprefix(read_times(school=True))
    assert ABOUT_TIME in rest


@pytest.mark.parametrize("tell", [why, read_times, say_now])
def test_law_sentences_are_short(tell):
    text = re.sub(r"^\|.*$|\]\([^)]*\)", "", tell(), flags=re.MULTILINE)
    for sentence in SENTENCE.split(text):
        assert len(sentence.split()) <= 25, sentence
