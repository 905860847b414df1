"""Which ventilation would do: words that permit nothing, shares of draws, fresh air."""

import re
import warnings

import numpy as np
import pytest
from helpers.refusals import Case, assert_refused, cases

from pcbchem import Solution
from pcbchem.bench.air import (
    NAMES,
    RULE,
    breathe,
    fresh_air_needed,
    limits,
    mass_per_air,
    open_bottle,
    spill,
    tray,
    which,
    workplace,
)
from pcbchem.bench.air.doubts import factor
from pcbchem.bench.air.exposure import AT_WORK, MEASURES
from pcbchem.bench.air.ventilation import MIST_UNKNOWN, WHY
from pcbchem.bench.hazards import PLACES
from pcbchem.common.limits import RangeWarning

T20 = 293.15
MILD = Solution.of(volume=150e-6, T=T20, HCl=0.05, H2O2=0.06)
SOURCES = {
    "bath": lambda: tray(MILD, 0.015, T=301.15),
    "bubbled bath": lambda: tray(MILD, 0.015, agitation="bubbled"),
    "bottle": lambda: open_bottle(0.3145),
    "spill": lambda: spill(100e-6, 0.3145),
    "weak spill": lambda: spill(100e-6, 0.10),
}
PERMISSION = re.compile(
    r"\b(safe|safely|fine|enough|harmless|allowed|permitted|may be done|ok|suffices|below the limit"
    r"|kept|garage is)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("gas", ["HCl", "H2O2"])
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", SOURCES)
def test_law_words_begin_by_vapour_alone_and_end_with_the_rule(name, place, gas):
    source = SOURCES[name]()
    answers = which(source, 900, place, draws=20, gas=gas)
    assert tuple(answer.name for answer in answers) == NAMES
    for answer in answers:
        assert answer.words.startswith("By vapour alone ")
        assert answer.words.endswith(f"{WHY} {RULE}")
        assert (MIST_UNKNOWN in answer.words) == source.mist_unknown
        assert not PERMISSION.search(answer.words), answer.words
        assert answer.words.count("hood") == 1


def test_law_the_rule_names_the_only_two_places():
    assert "open air" in RULE and "working fume cupboard" in RULE
    assert "kitchen hood counts as none" in RULE
    assert PERMISSION.search("A garage is enough") and not PERMISSION.search(RULE + WHY)


def test_law_a_limit_that_is_not_known_is_no_limit_kept():
    for answer in which(SOURCES["bath"](), 900, "EU", draws=20, gas="H2O2"):
        assert answer.passed == {}
        assert "no limit at work is known to us" in answer.words and " of 10" not in answer.words


def test_law_each_limit_stands_against_its_own_measure():
    for answer in which(SOURCES["spill"](), 900, "elsewhere"):
        assert [limit.kind for limit in answer.passed] == [
            limit.kind for limit in limits("elsewhere", "HCl") if limit.kind in AT_WORK
        ]
        for limit, share in answer.passed.items():
            measure = np.asarray(getattr(answer.air, MEASURES[limit.kind]))
            assert share == pytest.approx(np.mean(measure > limit.value))
            assert share <= answer.any_passed
        assert answer.any_passed <= 1


def test_law_a_spill_of_strong_acid_passes_a_limit_in_every_room():
    for answer in which(SOURCES["spill"](), 900, "US")[:3]:
        assert answer.any_passed == 1 and " 10 of 10 " in answer.words
    for answer in which(SOURCES["bath"](), 900, "US"):
        assert answer.any_passed == 0 and " 0 of 10 " in answer.words


def test_law_a_share_is_rounded_away_from_all_and_none():
    # 1 in 200 is not "0 of 10", and 199 in 200 not "10 of 10"
    seen = set()
    for w in (0.25, 0.26, 0.27, 0.28, 0.29, 0.30):
        for answer in which(open_bottle(w, empty=0.0), 3600, "GB"):
            count = int(re.search(r" (\d+) of 10", answer.words)[1])
            seen.add(count)
            assert (count == 0) == (answer.any_passed == 0)
            assert (count == 10) == (answer.any_passed == 1)
    assert len(seen) > 3


def test_law_scenarios_stand_before_the_draws():
    strengths = np.array([0.10, 0.20, 0.3145])[:, None]
    shut = which(spill(100e-6, strengths), 900, "GB")[0]
    assert shut.air.near.shape == (3, 200)
    assert np.shape(shut.any_passed) == (3,) and np.all(np.diff(shut.any_passed) >= 0)


def test_law_stricter_limits_need_more_air():
    source = open_bottle(0.3145, empty=0.0)
    us = [limit for limit in limits("US", "HCl") if limit.kind == "ceiling"]
    loose, strict = (fresh_air_needed(source, limit) for limit in us)
    assert us[0].value > us[1].value
    assert np.all(loose.values < strict.values)
    assert 0 < loose.low < loose.middle < loose.high


def test_second_source_a_milligram_a_second_needs_480_cubic_metres_an_hour():
    # 1 mg/s at 5 ppm (7.5 mg/m³): 480 m³/h if all of it mixes, 3 times where 0.33 does; 20 % acid
    # whose stream is 1 mg/s by its own draws
    source = tray(Solution.of(volume=1e-3, T=T20, HCl=0.25), 0.05)
    (limit, _) = [limit for limit in limits("US", "HCl") if limit.kind == "ceiling"]
    band = fresh_air_needed(source, limit)

    given_off = (
        np.asarray(source.stream("HCl", workplace("window and fan"), 200, T20))
        * np.asarray(source.share("HCl", 200))
        * mass_per_air(1.0, "HCl")
    )
    for_a_milligram = 3600 * band.values / given_off * 1e-6 * np.asarray(factor("mixing", 200))
    assert for_a_milligram == pytest.approx(np.full(200, 480.0), rel=0.02)


def test_law_strong_peroxide_warns_once_for_all_places():
    source = tray(Solution.of(volume=150e-6, T=T20, HCl=0.05, H2O2=0.2), 0.015)
    for call in (
        lambda: which(source, 900, "GB", gas="H2O2"),
        lambda: breathe(source, "shut room", 900, gas="H2O2"),
    ):
        with warnings.catch_warnings(record=True) as records:
            warnings.simplefilter("always")
            call()
        assert [record.category for record in records] == [RangeWarning]
        assert records[0].filename == __file__
    which(source, 900, "GB")  # of acid gas there is nothing to warn of: warnings are errors here


BOTTLE = open_bottle(0.3)
COPPER = limits("GB", "copper mist")[0]
REFUSED: list[Case] = [
    ("a place", lambda: which(BOTTLE, 900, "Mars"), ("place", "Mars", "EU, GB")),
    ("no time", lambda: which(BOTTLE, 0, "EU"), ("duration", "0", "1 to 28800 s")),
    ("a gas", lambda: which(BOTTLE, 900, "EU", gas="H2O"), ("substance", "H2O", "HCl, Cl2")),
    ("chlorine", lambda: which(BOTTLE, 900, "EU", gas="Cl2"), ("gas", "Cl2", "HCl, H2O2")),
    ("no source", lambda: which("bottle", 900, "EU"), ("source", "bottle", "Source")),
    ("air in °C", lambda: which(BOTTLE, 900, "EU", T_air=20), ("T_air", "20", "273.15")),
    ("a number as limit", lambda: fresh_air_needed(BOTTLE, 5e-6), ("limit", "5e-06", "Limit")),
    ("a solid", lambda: fresh_air_needed(BOTTLE, COPPER), ("gas", "copper mist", "HCl, H2O2")),
    ("source", lambda: fresh_air_needed(3, limits("EU")[0]), ("source", "3", "Source")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
