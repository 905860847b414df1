"""Which ventilation would do: words that permit nothing, shares of draws, fresh air."""

import re
import warnings

import numpy as np
import pytest
from helpers.permissions import permissions
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
from pcbchem.bench.air.room import beside_you, near_share, steady_share
from pcbchem.bench.air.ventilation import (
    BURNS_LUNGS,
    DOWNWIND,
    MIST_UNKNOWN,
    ONE_BREATH,
    OPENING_UNKNOWN,
    RULE_OF_SPILL,
    WHY,
    WHY_OF_SPILL,
)
from pcbchem.bench.hazards import PLACES
from pcbchem.common import tables
from pcbchem.common.limits import InputError, RangeWarning

T20 = 293.15
MILD = Solution.of(volume=150e-6, T=T20, HCl=0.05, H2O2=0.06)
SOURCES = {
    "bath": lambda: tray(MILD, 0.015, T=301.15),
    "bubbled bath": lambda: tray(MILD, 0.015, agitation="bubbled"),
    "bottle": lambda: open_bottle(0.3145),
    "spill": lambda: spill(100e-6, 0.3145),
    "weak spill": lambda: spill(100e-6, 0.10),
    "peroxide spill": lambda: spill(1e-3, 0.0, H2O2=0.10),
}
PERMISSION = re.compile(
    r"\b(safe|safely|fine|enough|harmless|allowed|permitted|may be done|ok|suffices|below the limit"
    r"|kept|garage is)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("gas", ["HCl", "H2O2", None])
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", SOURCES)
def test_law_words_begin_by_vapour_alone_and_end_with_the_rule(name, place, gas):
    source = SOURCES[name]()
    if gas not in (None, *source.gases):
        with pytest.raises(InputError, match=f"gas = {gas!r}"):
            which(source, 900, place, draws=20, gas=gas)
        return
    answers = which(source, 900, place, draws=20, gas=gas)
    why = f"{WHY} {RULE}"
    if source.kind == "spill":
        why = f"{WHY_OF_SPILL} {RULE_OF_SPILL}"
    assert tuple(answer.name for answer in answers) == NAMES
    for answer in answers:
        assert answer.words.startswith("By vapour alone ")
        assert answer.words.endswith(why)
        assert (DOWNWIND in answer.words) == (answer.name == "open air")
        assert (MIST_UNKNOWN in answer.words) == source.mist_unknown
        assert not PERMISSION.search(answer.words), answer.words
        assert answer.words.count("hood") == (source.kind != "spill")
        assert (OPENING_UNKNOWN in answer.words) == (source.kind == "bottle")
        assert (ONE_BREATH in answer.words) == (name in ("bottle", "spill"))
        assert permissions(answer.words) == []


def test_law_the_rule_names_the_only_two_places():
    assert "open air" in RULE and "working fume cupboard" in RULE
    assert "kitchen hood counts as none" in RULE
    assert PERMISSION.search("A garage is enough")
    assert "never lean over it" in RULE
    said = (RULE, RULE_OF_SPILL, WHY, WHY_OF_SPILL, DOWNWIND, OPENING_UNKNOWN, ONE_BREATH)
    assert not PERMISSION.search(" ".join(said))


def test_law_a_spill_is_not_told_that_it_does_not_count():
    words = which(SOURCES["spill"](), 900, "GB", draws=20)[0].words
    assert WHY not in words and "a larger spill" in words


@pytest.mark.parametrize("name", ["spill", "weak spill", "peroxide spill"])
def test_law_beside_a_spill_nobody_is_told_where_to_work(name):
    for place in PLACES:
        for answer in which(SOURCES[name](), 900, place, draws=20):
            assert not re.search(r"\bwork (?:in|on|there|goes)\b|\bcupboard\b", answer.words)
            for part in ("leave a spill that fumes", "upwind", "keep others out", "call for help"):
                assert part in answer.words


def test_law_the_spill_to_leave_is_that_of_the_cautions():
    rows = {row["topic"]: row for row in tables.read("cautions")}
    to_leave, burns = rows["strong acid spilt"], rows["very strong acid"]
    percent = f"{100 * BURNS_LUNGS:g}"
    assert percent == to_leave["from_percent_by_weight"] == burns["from_percent_by_weight"]
    assert f"{percent} % and more" in RULE_OF_SPILL
    assert "One breath" in burns["words"] and "burn the lungs" in ONE_BREATH


def test_law_strong_acid_burns_lungs_in_every_place_and_weaker_acid_is_capped_too():
    for w, burns in ((0.10, False), (0.249, False), (0.25, True), ([[0.1], [0.36]], True)):
        for answer in which(open_bottle(np.array(w)), 900, "EU", draws=20):
            assert (ONE_BREATH in answer.words) == burns
            assert "cap on at once" in answer.words


def test_law_no_limit_passed_decides_nothing():
    """An open bottle of 31 % passes no limit of the EU by its own vapour: that is no answer."""
    seen = 0
    for name in SOURCES:
        for place in PLACES:
            for answer in which(SOURCES[name](), 900, place, draws=20):
                assert " 0 of 10" not in answer.words
                none = "By vapour alone nothing is decided here, though no limit is passed"
                assert answer.words.startswith(none) == (answer.any_passed == 0)
                seen += answer.any_passed == 0
    assert seen > 10
    shut = which(SOURCES["bottle"](), 900, "EU")[0]
    assert shut.any_passed == 0 and ONE_BREATH in shut.words


def test_law_a_limit_that_is_not_known_is_no_limit_kept():
    for answer in which(SOURCES["bath"](), 900, "EU", draws=20, gas="H2O2"):
        assert answer.passed == {}
        assert "no limit at work is known to us" in answer.words and " of 10" not in answer.words
        # a share would read as how often one is passed
        assert np.isnan(answer.any_passed)
    for answer in which(SOURCES["bath"](), 900, "EU", draws=20):
        assert "Of peroxide no limit at work is known to us here." in answer.words
        assert answer.any_passed == 0 and set(answer.airs) == {"HCl", "H2O2"}
    for answer in which(SOURCES["bath"](), 900, "GB", draws=20):
        assert "is known" not in answer.words


def test_law_gases_that_burn_alike_add_up():
    """Each below its limit, together above: what they are of their limits is added, by kind."""
    wide = tray(Solution.of(volume=4e-3, T=T20, HCl=0.11, H2O2=0.06), 0.4, T=303.15)
    found = False
    for both, acid, peroxide in zip(
        which(wide, 4 * 3600, "GB"),
        which(wide, 4 * 3600, "GB", gas="HCl"),
        which(wide, 4 * 3600, "GB", gas="H2O2"),
        strict=True,
    ):
        sums = [
            np.asarray(both.airs["HCl"].eight_hours) / 1e-6
            + np.asarray(both.airs["H2O2"].eight_hours) / 1e-6,
            np.asarray(both.airs["HCl"].worst_quarter) / 5e-6
            + np.asarray(both.airs["H2O2"].worst_quarter) / 2e-6,
        ]
        assert both.any_passed == np.mean(np.max(sums, axis=0) > 1)
        assert both.any_passed >= max(acid.any_passed, peroxide.any_passed)
        found |= both.any_passed > max(acid.any_passed, peroxide.any_passed)
        assert set(both.passed) == {*acid.passed, *peroxide.passed}
    assert found, "somewhere only both together are too much"


def test_law_no_gas_is_asked_of_what_does_not_hold_it():
    """None of ten cases would read as air that keeps every limit."""
    for call in (
        lambda: which(open_bottle(0.3), 900, "GB", gas="H2O2"),
        lambda: fresh_air_needed(open_bottle(0.3), limits("GB", "H2O2")[0]),
    ):
        with pytest.raises(InputError, match=r"'H2O2' is unknown: it must be|HCl"):
            call()
    assert set(which(open_bottle(0.3), 900, "GB", draws=20)[0].airs) == {"HCl"}


def test_second_source_a_large_tray_of_peroxide_passes_a_limit_in_a_room():
    """2 L of the mild bath in 0.2 m², an hour in a shut room: about 1 ppm of peroxide by hand.

    p = c/H at 28 °C. Such water evaporates into half-damp quiet air of 20 °C at 0.07 g/m²/s for a
    drive of 2610 Pa; peroxide as much slower as it spreads more slowly, ^⅔, and 0.7 of all that.
    """
    bath = tray(Solution.of(volume=2e-3, T=T20, HCl=0.05, H2O2=0.06), 0.2, T=301.15)
    c, henry = 1800.0, 830 * np.exp(7400 * (1 / 301.15 - 1 / 298.15))
    over = c / henry / 101_325
    of_water = 7.0e-5 / (2610 * 0.018 / (8.314 * 297))
    k = 0.7 * (1.55 / 2.50) ** (2 / 3) * of_water
    g, beside = k * 0.2, 0.5 * 2 * np.pi * 0.25 * 0.1
    room = g * over * 3600 / 30 * 0.7
    by_hand = (g * over + beside * room) / (g + beside)
    air = breathe(bath, "shut room", 3600, gas="H2O2")
    assert air.band("near").low < by_hand < air.band("near").high
    assert by_hand == pytest.approx(1e-6, rel=0.2)
    assert which(bath, 3600, "GB", gas="HCl")[0].any_passed == 0
    assert which(bath, 8 * 3600, "GB")[0].any_passed > 0.5


def test_law_each_limit_stands_against_its_own_measure():
    for answer in which(SOURCES["spill"](), 900, "elsewhere"):
        assert [limit.kind for limit in answer.passed] == [
            limit.kind for limit in limits("elsewhere", "HCl") if limit.kind in AT_WORK
        ]
        for limit, share in answer.passed.items():
            measure = np.asarray(getattr(answer.airs["HCl"], MEASURES[limit.kind]))
            assert share == pytest.approx(np.mean(measure > limit.value))
            assert share <= answer.any_passed
        assert answer.any_passed <= 1


def test_law_a_spill_of_strong_acid_passes_a_limit_in_every_room():
    for answer in which(SOURCES["spill"](), 900, "US")[:3]:
        assert answer.any_passed == 1 and " 10 of 10 " in answer.words
    for answer in which(SOURCES["bath"](), 900, "US"):
        assert answer.any_passed == 0 and "nothing is decided here" in answer.words


def test_law_a_share_is_rounded_away_from_all_and_none():
    # 1 in 200 is not "0 of 10", and 199 in 200 not "10 of 10"
    seen = set()
    for w in (0.25, 0.26, 0.27, 0.28, 0.29, 0.30):
        for answer in which(open_bottle(w, empty=0.0), 3600, "GB"):
            told = re.search(r" (\d+) of 10", answer.words)
            count = int(told[1]) if told else 0
            seen.add(count)
            assert (count == 0) == (answer.any_passed == 0)
            assert (count == 10) == (answer.any_passed == 1)
    assert len(seen) > 3


def test_law_scenarios_stand_before_the_draws():
    strengths = np.array([0.10, 0.20, 0.3145])[:, None]
    shut = which(spill(100e-6, strengths), 900, "GB")[0]
    assert shut.airs["HCl"].near.shape == (3, 200)
    assert np.shape(shut.any_passed) == (3,) and np.all(np.diff(shut.any_passed) >= 0)


def test_law_stricter_limits_need_more_air():
    source = open_bottle(0.3145)
    us = [limit for limit in limits("US", "HCl") if limit.kind == "ceiling"]
    loose, strict = (fresh_air_needed(source, limit) for limit in us)
    assert us[0].value > us[1].value
    assert np.all(loose.values < strict.values)
    assert 0 < loose.low < loose.middle < loose.high


def test_second_source_a_milligram_a_second_needs_480_cubic_metres_an_hour():
    # 1 mg/s at 5 ppm (7.5 mg/m³): 480 m³/h if all of it mixes, 3 times where 0.33 does; acid whose
    # stream is 1 mg/s by its own draws, and what comes near you straight from it taken off it
    source = tray(Solution.of(volume=1e-3, T=T20, HCl=0.25), 0.0015)
    (limit, _) = [limit for limit in limits("US", "HCl") if limit.kind == "ceiling"]
    band = fresh_air_needed(source, limit)
    assert np.all(np.isfinite(band.values))

    given_off = (
        np.asarray(source.stream("HCl", workplace("window and fan"), 200, T20))
        * np.asarray(source.share("HCl", 200))
        * mass_per_air(1.0, "HCl")
    )
    straight = given_off / mass_per_air(1.0, "HCl")
    straight = straight / np.asarray(beside_you(workplace("window and fan").speed(200)))
    for_a_milligram = 3600 * band.values / given_off * 1e-6 * np.asarray(factor("mixing", 200))
    expected = 480.0 * limit.value / (limit.value - straight)
    assert for_a_milligram == pytest.approx(expected, rel=0.02)


def test_law_with_the_air_needed_the_limit_is_kept_near_you():
    """Draw by draw, in a room whose air is renewed so fast; where none would do it is infinite."""
    (limit,) = [limit for limit in limits("GB", "HCl") if limit.kind == "15 min"]
    for source in (open_bottle(0.3145, empty=0.0), open_bottle(0.36)):
        needed = fresh_air_needed(source, limit).values
        fan = workplace("window and fan")
        g = np.asarray(source.stream("HCl", fan, 200, T20))
        x_s = np.asarray(source.share("HCl", 200))
        fresh = needed * np.asarray(factor("mixing", 200))
        room = np.where(np.isinf(fresh), 0.0, steady_share(g, x_s, np.minimum(fresh, 99.0)))
        near = near_share(g, x_s, room, fan.speed(200))
        is_known = np.isfinite(needed)
        assert near[is_known] == pytest.approx(np.full(is_known.sum(), limit.value), rel=1e-6)
        assert np.all(near[~is_known] >= limit.value)
        assert 0 < is_known.sum()


def test_law_no_fresh_air_at_all_is_never_the_answer():
    """Where the surface itself stays within the limit there is no number: 0 m³/s would permit."""
    (quarter,) = [limit for limit in limits("GB", "HCl") if limit.kind == "15 min"]
    mild = fresh_air_needed(SOURCES["bath"](), quarter)
    for values in (mild.low, mild.middle, mild.high, mild.values):
        assert np.all(np.isnan(values))
    # between the two, draws without a number stand at the low end
    mixed = False
    for w in (0.06, 0.07, 0.08, 0.09, 0.10):
        source = open_bottle(w)
        band = fresh_air_needed(source, quarter)
        within = np.asarray(source.share("HCl", 200)) <= quarter.value
        assert np.array_equal(np.isnan(band.values), within)
        assert np.isnan(band.low) == (np.mean(within) >= 0.1)
        assert np.isnan(band.high) == (np.mean(within) >= 0.9)
        assert not np.any(band.values == 0)
        mixed |= 0 < np.mean(within) < 1
    assert mixed
    assert "never an answer to where" in fresh_air_needed.__doc__
    assert "`RULE`" in fresh_air_needed.__doc__


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
    which(
        source, 900, "GB", gas="HCl"
    )  # of acid gas there is nothing to warn of: warnings are errors here


BOTTLE = open_bottle(0.3)
COPPER = limits("GB", "copper mist")[0]
REFUSED: list[Case] = [
    ("a place", lambda: which(BOTTLE, 900, "Mars"), ("place", "Mars", "EU, GB")),
    ("no time", lambda: which(BOTTLE, 0, "EU"), ("duration", "0", "1 to 28800 s")),
    ("a gas", lambda: which(BOTTLE, 900, "EU", gas="H2O"), ("gas", "H2O", "HCl")),
    ("chlorine", lambda: which(BOTTLE, 900, "EU", gas="Cl2"), ("gas", "Cl2", "HCl")),
    ("no source", lambda: which("bottle", 900, "EU"), ("source", "bottle", "Source")),
    ("air in °C", lambda: which(BOTTLE, 900, "EU", T_air=20), ("T_air", "20", "273.15")),
    ("a number as limit", lambda: fresh_air_needed(BOTTLE, 5e-6), ("limit", "5e-06", "Limit")),
    ("a solid", lambda: fresh_air_needed(BOTTLE, COPPER), ("gas", "copper mist", "HCl, H2O2")),
    ("source", lambda: fresh_air_needed(3, limits("EU")[0]), ("source", "3", "Source")),
]


@cases(REFUSED)
def test_law_impossible_input_is_refused(call, words):
    assert_refused(call, words)
