"""Cautions: each is sourced and dated, none is lost to a stronger bottle, and nothing is permitted.

Laws, except where another kind is said.
"""

import datetime
import re
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Bottle, Solution, mix
from pcbchem.bench.hazards.caution import (
    DILUTING_METHODS,
    LAW,
    LAW_ON_BOTTLE,
    PLACES,
    cautions,
    method_cautions,
    over_public,
)
from pcbchem.bench.hazards.verdicts import rule_named, rules
from pcbchem.common import tables

ZERO = 273.15
TABLES = ("verdict_rules", "cautions", "public_limits", "method_cautions")


def bottle(substance, high, label=None, low=0.0):
    """Make something with the attributes of a bottle, without its checks."""
    return SimpleNamespace(substance=substance, low=low, high=high, label=label)


def every_text():
    """Collect every text that the tables can say, without the numbers of a bath."""
    return [
        row[name]
        for table in TABLES
        for row in tables.read(table)
        for name in row
        if name.startswith("words")
    ]


# Sources and dates


@pytest.mark.parametrize("table", TABLES)
def test_every_row_has_a_source_a_status_and_a_date(table):
    for row in tables.read(table):
        as_of = datetime.date.fromisoformat(row["as_of"])
        assert datetime.date(2026, 11, 25) <= as_of <= datetime.date.today()
        assert row["status"] in ("published", "from memory", "computed", "common practice")
        is_trade = row["source"] == "trade"
        assert (row["status"] == "common practice") == is_trade, row
        source = tables.cited(row)
        assert (source == "common practice, no source") == is_trade
        assert source.startswith("from memory: ") == (row["status"] == "from memory")


def test_what_people_read_is_sourced_and_dated():
    strong = bottle("HCl", 0.36), bottle("H2O2", 0.5)
    every = [*rules(), *(caution for place in PLACES for caution in cautions(*strong, place))]
    for thing in every:
        assert thing.source and thing.as_of >= "2026-11-25" and thing.words[-1:] not in (" ", "")


def test_every_law_says_check_the_current_rule():
    for row in tables.read("public_limits"):
        for name in ("words", "words_above"):
            assert "heck the current rule" in row[name]
            assert ("sk locally" in row[name]) or row["place"] != "elsewhere"
        assert "without a licence" in row["words_above"]
        assert "diluting it yourself means holding it first" in row["words_above"]
    assert "check the current rule" in rule_named("above the public limit").words


def test_as_printed_the_public_limits():
    # Regulation (EU) 2019/1148 Annex I; SI 2023/63 reg. 8 and GOV.UK labelling guidance of
    # 11 October 2023
    limits = {
        (row["place"], row["substance"]): float(row["limit_percent_by_weight"])
        for row in tables.read("public_limits")
    }
    assert limits[("EU", "H2O2")] == limits[("GB", "H2O2")] == 12 and limits[("GB", "HCl")] == 10
    # elsewhere shows the strictest of those known
    assert limits[("elsewhere", "H2O2")] == 12 and limits[("elsewhere", "HCl")] == 10
    assert len(limits) == 5


@pytest.mark.parametrize(
    ("substance", "percent", "codes"),
    [
        # CLP Annex VI 017-002-01-X (hydrochloric acid)
        ("HCl", 10, {"H315", "H319", "H335"}),
        ("HCl", 25, {"H314"}),
        # CLP Annex VI 008-003-00-9 (hydrogen peroxide); 25 and 30 %: German BG data sheet, 8-35 %
        ("H2O2", 5, {"H319"}),
        ("H2O2", 8, {"H318"}),
        ("H2O2", 25, {"H302"}),
        ("H2O2", 30, {"H332"}),
        ("H2O2", 35, {"H315", "H335"}),
        ("H2O2", 50, {"H314"}),
        ("H2O2", 70, {"H271"}),
    ],
)
def test_as_printed_the_classes_by_strength(substance, percent, codes):
    def codes_at(share):
        pair = [bottle(name, share if name == substance else 0.0) for name in ("HCl", "H2O2")]
        texts = [caution.words for caution in cautions(*pair, "EU")]
        return {code for text in texts for code in re.findall(r"H\d{3}", text)}

    assert codes <= codes_at(percent / 100)
    assert not codes & (codes_at(percent / 100 - 0.001) - codes_at(0.0)), "said below its limit"


# A stronger bottle


@st.composite
def raised(draw, substance, most):
    """A bottle, and the same with its low, its high or its label raised, some or all of them."""
    low, high = sorted(draw(st.tuples(st.floats(0, most), st.floats(0, most))))
    higher_low = draw(st.one_of(st.just(low), st.floats(low, most)))
    higher_high = draw(st.one_of(st.just(high), st.floats(high, most)))
    label = draw(st.one_of(st.none(), st.floats(0, most)))
    higher_label = label
    if label is not None:
        higher_label = draw(st.one_of(st.just(label), st.floats(label, most)))
    weak = Bottle(substance, low, high, label)
    return weak, Bottle(substance, higher_low, max(higher_high, higher_low), higher_label)


@given(raised("HCl", 0.45), raised("H2O2", 0.70), st.sampled_from(PLACES))
@settings(max_examples=150, deadline=None)
def test_a_stronger_bottle_never_shortens_the_cautions(acids, peroxides, place):
    weak, strong = (
        {(caution.topic, caution.words) for caution in cautions(acid, peroxide, place)}
        for acid, peroxide in zip(acids, peroxides, strict=True)
    )
    assert weak <= strong


@pytest.mark.parametrize("substance", ["HCl", "H2O2"])
@pytest.mark.parametrize("label", [0.03, 0.10, 0.25, 0.36])
def test_a_label_never_takes_a_caution_away(substance, label):
    """Of the bottle itself: who may hold it goes by the label where that is near the truth."""

    def topics(named):
        other = bottle({"HCl": "H2O2", "H2O2": "HCl"}[substance], 0.0)
        every = {caution.topic for caution in cautions(named, other, "GB")}
        return every - {LAW_ON_BOTTLE}

    for high in (0.02, 0.12, 0.30, 0.36):
        assert topics(bottle(substance, high)) <= topics(bottle(substance, high, label))


def test_a_reading_below_the_label_takes_no_caution_away():
    """A reading may be wrong: 20 % found in a bottle of 31 % is cautioned of as 31 %."""
    measured = bottle("HCl", 0.20, 0.31), bottle("H2O2", 0.03, 0.35)
    topics = {caution.topic for caution in cautions(*measured, "EU")}
    assert {"acid class, 25 %", "peroxide class, 35 %"} <= topics


def test_a_strength_is_at_its_limit_whatever_its_last_bit():
    """25 % and 12 % as sums and differences: a bit below and a bit above."""
    below, above = 0.35 - 0.10, 0.10 + 0.02
    assert 100 * below < 25 and 100 * above > 12
    every = cautions(bottle("HCl", below), bottle("H2O2", above), "EU")
    topics = {caution.topic for caution in every}
    assert "acid class, 25 %" in topics and LAW_ON_BOTTLE not in topics
    assert over_public(bottle("HCl", below), bottle("H2O2", above), "EU") == 1.0


STRENGTHS = st.tuples(st.floats(0, 0.45), st.floats(0, 0.45), st.floats(0, 0.7), st.floats(0, 0.7))


@given(STRENGTHS, st.sampled_from(PLACES), st.booleans())
@settings(max_examples=100, deadline=None)
def test_a_stronger_bottle_is_never_less_over_the_public_limit(strengths, place, has_labels):
    acids, peroxides = sorted(strengths[:2]), sorted(strengths[2:])

    def over(acid, peroxide):
        labels = (acid, peroxide) if has_labels else (None, None)
        return over_public(
            bottle("HCl", acid, labels[0]), bottle("H2O2", peroxide, labels[1]), place
        )

    weak, stronger_acid = over(acids[0], peroxides[0]), over(acids[1], peroxides[0])
    assert weak <= stronger_acid <= over(acids[1], peroxides[1])


@pytest.mark.parametrize(
    ("place", "acid", "peroxide", "expected"),
    [
        ("EU", (0.37, None), (0.03, None), 0.25),
        ("EU", (0.31, None), (0.30, None), 2.5),
        ("GB", (0.31, None), (0.03, None), 3.1),
        ("GB", (0.11, 0.10), (0.12, 0.12), 1.0),
        ("elsewhere", (0.31, None), (0.12, None), 3.1),
        ("elsewhere", (0.05, None), (0.24, None), 2.0),
        ("EU", (0.1, None), (0.13, 0.12), 1.0),
        # nor is one that the bottle may hold far more than
        ("EU", (0.1, None), (0.36, 0.12), 3.0),
        # a label below all that the bottle may hold is no label
        ("EU", (0.1, None), (0.36, 0.12, 0.30), 3.0),
        ("GB", (0.32, 0.10, 0.30), (0.03, None), 3.2),
    ],
)
def test_the_label_counts_where_there_is_one(place, acid, peroxide, expected):
    pair = bottle("HCl", *acid), bottle("H2O2", *peroxide)
    assert over_public(*pair, place) == pytest.approx(expected)
    topics = {caution.topic for caution in cautions(*pair, place)}
    assert (LAW_ON_BOTTLE in topics) == (expected > 1)
    assert LAW in topics, "the law of the place is always shown"


@pytest.mark.parametrize(
    ("place", "name"), [("EU", "EU"), ("GB", "Great Britain"), ("elsewhere", "sk locally")]
)
def test_the_law_shown_is_that_of_the_place(place, name):
    every = cautions(bottle("HCl", 0.36), bottle("H2O2", 0.35), place)
    texts = [caution.words for caution in every if caution.topic in (LAW, LAW_ON_BOTTLE)]
    words = " ".join(texts)
    others = {"EU", "Great Britain", "sk locally"} - {name}
    assert name in words and not any(other in words for other in others)


def test_what_comes_before_pouring_comes_first():
    every = cautions(bottle("HCl", 0.36), bottle("H2O2", 0.35), "GB")
    assert [caution.topic for caution in every if caution.first] == [
        LAW_ON_BOTTLE,
        LAW_ON_BOTTLE,
        "who",
        "what to wear",
        "air",
        "strong acid",
        "order of pouring",
        "never undiluted",
        "too warm",
    ]


@pytest.mark.parametrize("call", [over_public, cautions])
def test_an_unknown_place_is_refused_by_name(call):
    with pytest.raises(ValueError, match=r"place = 'Atlantis'.*EU, GB, elsewhere"):
        call(bottle("HCl", 0.1), bottle("H2O2", 0.1), "Atlantis")


# Methods


def test_cautions_of_a_method_are_its_own_and_the_shared_ones():
    rows = tables.read("method_cautions")
    counts = {}
    for row in rows:
        counts[row["method"]] = counts.get(row["method"], 0) + 1
    for method in ("weighing", "oxygen", "washing soda", "lye", "permanganate", "offcut"):
        dilution = counts["dilution"] if method in DILUTING_METHODS else 0
        found = method_cautions(method)
        assert len(found) == counts["any"] + dilution + counts[method]
        assert all(caution.first for caution in found)
        own = [row["words"] for row in rows if row["method"] == method]
        assert [caution.words for caution in found][-len(own) :] == own


# What is said, and what must never be


FORBIDDEN = {  # a dangerous word, and the only ways in which it may stand
    r"drain|sink|toilet": r"Nothing down the drain",
    r"closed|seal(?!ed goggles)|bottle it|screw": (
        r"Never keep the bath, new or used, in a closed bottle|closed bottles have burst|"
        r"closed shoes|Never in a closed vessel"
    ),
    r"undiluted": (
        r"never meet undiluted|more than \{limit\}: strong acid and peroxide meet undiluted"
    ),
    r"indoors|\broom\b|kitchen|garage": (
        r"never in a room|A kitchen hood, an open window or a garage is neither|"
        r"never go back to a kitchen"
    ),
    r"\balone\b|\bunder 18": r"Never alone|Under 18 only with an adult beside you",
    r"\bsafe\b|harmless|\ballowed|permitted": r"(?!)",
    r"into strong acid": r"Never water into strong acid",
    r"\bhalf full\b": r"vented cap, at most half full",
}


@pytest.mark.parametrize("word", FORBIDDEN)
def test_no_sentence_permits_what_is_dangerous(word):
    texts = every_text()
    assert len(texts) > 50
    for text in texts:
        rest = re.sub(FORBIDDEN[word], "", text)
        assert not re.search(word, rest, re.IGNORECASE), text


@pytest.mark.parametrize(
    "needed",
    [
        "sealed goggles",
        "gloves",
        "apron",
        "fume cupboard",
        "risk assessment",
        "school-science guidance",
        "Water first",
        "peroxide last",
        "Never water into strong acid",
        "never meet undiluted",
        "drink bottle",
        "its name, the date and its hazards",
        "Children and pets",
        "aluminium",
        "zinc",
        "galvanised",
        "steel",
        "brass",
        "plastic or glass",
        "oxygen",
        "bleach",
        "acetone",
        "thermometer",
        "At 45 °C stop",
        "Under 18",
        "Never alone",
        "tongs",
        "never stored",
        "corrosive",
        "adult",
        "Nothing goes back into the peroxide bottle",
        "sodium bicarbonate",
        "Acid in the eye",
        "15 minutes",
        "Peroxide or bath in the eye",
        "30 minutes",
        "On the skin",
        "Swallowed",
        "Breathed in",
        "poison line",
        "Never neutralise",
        "Nothing down the drain",
        "on the ground",
        "hazardous-waste site",
    ],
)
def test_what_everyone_must_hear_is_said_whatever_the_bottles(needed):
    every = cautions(bottle("HCl", 0.0), bottle("H2O2", 0.0), "EU")
    assert needed in " ".join(caution.words for caution in every)


def test_sentences_are_short():
    for text in every_text():
        for sentence in re.split(r"(?<=[.:;]) ", text):
            assert len(sentence.split()) <= 33, sentence


def test_acid_into_water_warms_by_as_much_as_is_said():
    """Second source: the package's `mix`, whose heats are held to the CRC Handbook elsewhere.

    To the whole degree that is said.
    """
    (row,) = (row for row in tables.read("cautions") if row["topic"] == "heat of pouring")
    figures = re.findall(r"(\d+) %.*?about (\d+) °C", row["words"])

    def most(percent):
        acid = Solution.of(volume=1e-4, T=20 + ZERO, HCl=percent / 100)
        water = Solution.of(volume=1e-4 * np.geomspace(0.05, 20, 60), T=20 + ZERO)
        return float(np.max(mix(water, acid).T)) - 20 - ZERO

    assert [percent for percent, _ in figures] == ["31", "37"]
    for percent, degrees in figures:
        assert most(float(percent)) == pytest.approx(float(degrees), abs=0.5)


def test_second_source_acid_of_36_percent_let_down_to_10_percent():
    # handbook solution enthalpies, from memory: near +9 K for 100 in 320 volumes of water; two
    # figures, so 1.5 K
    acid = Solution.of(volume=1e-4, T=20 + ZERO, HCl=0.36)
    water = Solution.of(volume=3.2e-4, T=20 + ZERO)
    assert float(mix(water, acid).T) - 20 - ZERO == pytest.approx(9, abs=1.5)


# Each way to measure a bottle is offered with its cautions

METHODS = ("weighing", "oxygen", "washing soda", "lye", "permanganate", "offcut")
WITH_DILUTION = ("oxygen", "washing soda", "lye", "permanganate")


def words_of(method):
    return " ".join(caution.words for caution in method_cautions(method))


@pytest.mark.parametrize("method", METHODS)
def test_law_each_caution_is_a_sentence_with_source_and_date(method):
    for caution in method_cautions(method):
        assert caution.source and caution.as_of >= "2026-11-25"
        assert caution.words.endswith(".")


@pytest.mark.parametrize("method", METHODS)
def test_law_what_holds_for_every_method_is_said_of_each(method):
    words = words_of(method)
    assert "Goggles" in words and "never goes back" in words
    assert ("Write the dilution down" in words) == (method in WITH_DILUTION)


@pytest.mark.parametrize(
    "method, phrases",
    [
        (
            "oxygen",
            ("Never in a closed vessel", "at least five times", "chlorine", "35 %", "14 times"),
        ),
        ("lye", ("1 mol/L", "eye", "30 minutes", "no acid", "aluminium")),
        ("washing soda", ("foams", "boil", "open flask")),
        (
            "permanganate",
            (
                "hydrochloric acid or a bath: they give off chlorine",
                "concentrated sulfuric acid",
                "explodes",
                "0.02 mol/L",
                "fire",
                "For a teacher",
            ),
        ),
        ("weighing", ("outdoors", "never stopper peroxide")),
        ("offcut", ("flat wide dish", "Plan it first", "both sides", "half an hour")),
    ],
)
def test_law_what_a_method_must_warn_of_is_said(method, phrases):
    words = words_of(method)
    assert [phrase for phrase in phrases if phrase not in words] == [], words


def test_law_every_caution_belongs_to_a_method_there_is():
    rows = tables.read("method_cautions")
    assert {row["method"] for row in rows} == {*METHODS, "any", "dilution"}


def test_law_another_method_is_refused_by_name():
    words = (
        r"method = 'spoon'.*choose from weighing, oxygen, washing soda, lye, permanganate, offcut"
    )
    with pytest.raises(ValueError, match=words):
        method_cautions("spoon")
