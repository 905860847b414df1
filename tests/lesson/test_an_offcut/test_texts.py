"""What page 08 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import math
import re

import numpy as np
import pytest

from pcbchem.bench.offcut.calibration import ABOUT_TIME
from pcbchem.common import tables
from pcbchem.lesson.test_an_offcut import read_times, say_now, texts, why

SENTENCE = re.compile(r"(?<=[.?!:])[*)]*\s+|\n")
ROWS = {(row["way"], row["offcuts"]): row for row in tables.read("timed_benches")}


def test_law_each_step_by_hand_is_right_as_printed():
    told = texts.by_hand().replace("√(", "").replace("²)", "²")
    number = r"([\d.]+)"
    labels, of_labels = re.search(rf"Labels: 1 ÷ {number}² = (\d+)", told).groups()
    assert float(of_labels) == round(1 / float(labels) ** 2)
    one, six, timed = re.search(rf"Six times: {number} ÷ √(\d) = {number}\.", told).groups()
    assert float(timed) == round(float(one) / math.sqrt(float(six)), 2)
    first, step, both = re.search(rf"{number}² \+ {number}² = {number},", told).groups()
    assert first == timed and float(both) == round(math.hypot(float(first), float(step)), 2)
    again, sureness = re.search(rf"and 1 ÷ {number}² = (\d+)\.", told).groups()
    assert again == both and float(sureness) == round(1 / float(both) ** 2)
    a, b, sum_of = re.search(r"Together (\d+) \+ (\d+) = (\d+),", told).groups()
    assert (a, b) == (of_labels, sureness) and int(sum_of) == int(a) + int(b)
    root, doubt = re.search(rf"1 ÷ √(\d+) = {number}\.\n", told).groups()
    assert root == sum_of and float(doubt) == round(1 / math.sqrt(int(root)), 3)
    percent, wider = re.search(rf"takes it (\d+) % wider, .*: {number}\.\n", told).groups()
    assert float(wider) == round(float(doubt) * (1 + int(percent) / 100), 3)
    end, last, by_hand, package = re.search(
        rf"e\^\(2 × {number} × {number}\) = {number}\. Package: {number}\.", told
    ).groups()
    assert last == wider
    assert float(by_hand) == round(math.exp(2 * float(end) * float(last)), 2)
    # by hand all times are one number with one doubt: near the package, not on it
    assert float(by_hand) == pytest.approx(float(package), rel=0.03)


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
        "watched": "care",
        "a look every 2 min, written down": "looks",
        "half-way to the look before, written down": "half-way",
        "a look every half minute": "often",
    }.items():
        row = ROWS[way, "6"]
        line = f"| {words} | {float(row['high_over_low']):.2f} | {row['held']} |"
        assert line in read_times()


def test_law_what_helps_helps_and_what_does_not_is_not_praised():
    held = {way: int(ROWS[way, "6"]["held"]) for way in ("care", "looks", "half-way", "often")}
    assert min(held["half-way"], held["often"]) > 0.95 * held["care"] > 1.2 * held["looks"]
    told, watched = ROWS["told", "6"], ROWS["care", "6"]
    assert int(told["held"]) > 0.95 * held["care"]
    # "and costs width"
    assert float(told["high_over_low"]) > 1.05 * float(watched["high_over_low"])


def test_law_it_is_said_that_this_is_about_time_word_for_word():
    assert ABOUT_TIME in read_times()


def test_law_too_few_inside_is_as_rare_as_said():
    """Simulated: ten bands that hold 8 times in 10, a hundred thousand times."""
    inside = np.random.default_rng(1).binomial(10, 0.8, 100_000)
    share = 100 * np.mean(inside <= texts.TOO_FEW)
    assert share == pytest.approx(texts.BY_CHANCE, abs=0.5)
    assert f"{texts.TOO_FEW} or fewer happens by chance on {texts.BY_CHANCE} of 100" in say_now()


def test_law_a_class_sees_no_wet_test():
    told, of_class = say_now(), say_now(school=True)
    order = ["(reference/cautions.md)", "the planner", "teacher alone", "Before each"]
    assert sorted(order, key=told.index) == order
    assert "10 offcuts" not in of_class and "teacher" in of_class


@pytest.mark.parametrize("tell", [why, read_times, say_now])
def test_law_sentences_are_short(tell):
    text = re.sub(r"^\|.*$|\]\([^)]*\)", "", tell(), flags=re.MULTILINE)
    for sentence in SENTENCE.split(text):
        assert len(sentence.split()) <= 25, sentence
