"""What a search misses is said with figures that tell it from what was asked. Laws.

What a whole search says: `test_search`.
"""

import re

import numpy as np
import pytest
from helpers.amounts import amounts
from helpers.second_reading import ZERO
from helpers.workshop import INPUTS

from pcbchem.bench.plan.search_result import (
    Aim,
    Ends,
    NearMiss,
    SearchResult,
    miss_words,
    search_words,
)
from pcbchem.lesson.bath import planned


def seconds(words):
    """Read a time in words [s], and half of its last digit."""
    if words == "never":
        return np.inf, 0.0
    number, unit = words.split()
    scale = {"s": 1, "min": 60, "h": 3600}[unit]
    return float(number) * scale, 0.5001 * scale * (0.1 if "." in number else 1)


@pytest.mark.parametrize(
    ("low", "high", "peak"),
    [
        (173.79, 293.72, 40.02),
        (173.7, 294.0, 40.4),
        (100.0, 3000.0, 60.0),
        (173.799999, 293.700001, 40.000001),
        (5.0, np.inf, 99.0),
    ],
)
def test_what_is_missed_by_little_is_told_apart(low, high, peak):
    """Read back: asked and found are two numbers, the right way round, even 0.01 s apart."""
    aim = Aim(173.8, 293.7, ZERO + 40, 0.9, 100, None)
    missed = Ends(low, high, ZERO + peak, ZERO + peak)
    sooner, longer, *warmer = miss_words(missed, aim, is_refused=False)
    asked, found = re.fullmatch(
        r"1 bath in 10 would be clear sooner than (.+ \w+), in (.+ \w+)", sooner
    ).groups()
    assert seconds(asked)[0] > seconds(found)[0]
    asked, found = re.fullmatch(
        r"1 bath in 10 would take longer than (.+ \w+): (.+ \w+|never)", longer
    ).groups()
    assert seconds(asked)[0] < seconds(found)[0]
    for words, when in zip(warmer, ("while etching", "in the hour after"), strict=True):
        pattern = rf"1 bath in 10 would get warmer than (.+) °C {when}: (.+) °C"
        asked, found = (float(number) for number in re.fullmatch(pattern, words).groups())
        assert asked < found and [asked, found] == pytest.approx([40, peak], abs=0.5001)


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.9, "1 bath in 10"), (0.5, "half of the baths"), (0.75, "25 baths in 100")],
)
def test_a_miss_says_how_many_baths_it_is_about(share, words):
    aim = Aim(180.0, 480.0, ZERO + 40, share, 100, None)
    (miss,) = miss_words(Ends(200.0, 900.0, ZERO + 30, ZERO + 30), aim, is_refused=False)
    assert miss == f"{words} would take longer than 8.0 min: 15 min"


@pytest.mark.parametrize(
    ("changed", "verdict"), [({}, "mix it"), ({"total_mL": 75}, "mix it, with care")]
)
def test_the_nearest_has_its_verdict_as_the_others_have(changed, verdict):
    plan = planned(**INPUTS | changed, draws=20)
    near = (NearMiss(plan.inputs, plan.verdict, ("too slow",), 0.1),)
    words = search_words(SearchResult(plan, False, ("too slow",), 9, near))
    assert re.search(rf"The nearest is [^()]*\([^()]*\)[^()]* \({verdict}\): too slow\.", words)


def near_misses(sizes, school):
    """What a search says whose near misses are of one ratio, the first one its plan [mL]."""
    plan = planned(**INPUTS | {"total_mL": sizes[0]}, draws=20, school=school)
    others = [planned(**INPUTS | {"total_mL": size}, draws=20).inputs for size in sizes[1:]]
    near = [NearMiss(inputs, "mix it", ("too slow",), 0.1) for inputs in (plan.inputs, *others)]
    words = search_words(SearchResult(plan, False, ("too slow",), 9, tuple(near)))
    found = re.findall(r"0 : 1 : 1 \(water : acid : peroxide\)([^(:]*)", words)
    return [name.strip(" ,") for name in found[: len(sizes)]]


@pytest.mark.parametrize(
    ("sizes", "names"),
    [
        ((150,), [""]),
        ((150, 100), ["more", "less"]),
        ((100, 150, 200), ["the least", "the second least", "the most"]),
        (
            (300, 100, 150, 200, 250),
            ["the most", "the least", "the second least", "the third least", "the fourth least"],
        ),
    ],
)
def test_law_a_class_tells_mixtures_of_one_ratio_apart(sizes, names):
    """Without a size two of them would read alike: which has more bath is said, not how much."""
    assert near_misses(sizes, school=True) == [
        f"with {name} bath for the copper" if name else "" for name in names
    ]
    assert amounts(" ".join(near_misses(sizes, school=True))) == []
    assert all("mL per cm²" in name for name in near_misses(sizes, school=False))
