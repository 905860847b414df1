"""Cautions: five layers, each line sourced and dated, none lost, and nothing is permitted.

Laws, except where another kind is said.
"""

import csv
import datetime
import re
from collections import Counter
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from helpers.sentences import long_sentences
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Bottle, Solution, mix
from pcbchem.bench.air import breathe, limits, spill
from pcbchem.bench.hazards.caution import (
    DILUTING_METHODS,
    LAYERS,
    PLACES,
    bath_cautions,
    cautions,
    method_cautions,
)
from pcbchem.bench.hazards.law import LAW, LOOK_UP
from pcbchem.common import tables

ZERO = 273.15
TABLES = ("cautions", "public_limits", "method_cautions", "bath_cautions")
MOST_LINES = 7
OLD_CAUTIONS = Path(__file__).parent / "old_cautions.csv"
"""The cautions of the first edition: each with the line it is in now, and what it must keep."""


def bottle(substance, high, label=None, low=0.0):
    """Make something with the attributes of a bottle, without its checks."""
    return SimpleNamespace(substance=substance, low=low, high=high, label=label)


def of(acid, peroxide, place="EU"):
    """List the cautions of two bottles of these strengths [kg/kg]."""
    return cautions(bottle("HCl", acid), bottle("H2O2", peroxide), place)


def every_text():
    """Collect every text that the tables can say, without the numbers of a bath."""
    return [
        row[name]
        for table in (*TABLES, "verdict_rules")
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
        keys, statuses = row["source"].split("; "), row["status"].split("; ")
        for key, status in zip(keys, statuses, strict=True):
            assert status in (
                *("published", "from memory", "computed"),
                *("common practice", "our limit"),
            )
            assert (status == "common practice") == (key == "trade"), row
            assert (status == "our limit") == (key == "our-limit"), row
            source = tables.cited({"source": key, "status": status})
            assert source.startswith("from memory: ") == (status == "from memory")


def test_every_line_is_sourced_and_dated():
    for place in PLACES:
        for line in of(0.36, 0.5, place):
            assert line.works and line.source == "; ".join(line.works)
            assert line.as_of >= "2026-11-25" and line.words[-1:] not in (" ", "")


def test_what_is_ours_is_said_to_be_ours_and_practice_is_not():
    """45 °C is what people who etch go by; where acid and peroxide may meet is our limit."""
    lines = {(line.layer, line.number): line for line in of(0.0, 0.0)}
    meeting, stop = lines[1, 7], lines[2, 2]
    assert "12 %" in meeting.words and "6 %" in meeting.words and "25 °C" in meeting.words
    assert "(our limits)" in meeting.words and "our limit, no source" in meeting.works
    assert "45 °C" in stop.words and stop.works == ("common practice, no source",)


# Layers


@given(st.floats(0, 0.45), st.floats(0, 0.70), st.sampled_from(PLACES))
@settings(max_examples=60, deadline=None)
def test_no_layer_has_more_than_seven_lines(acid, peroxide, place):
    lines = {(line.layer, line.number) for line in of(acid, peroxide, place)}
    counts = Counter(layer for layer, _ in lines)
    assert set(counts) == set(LAYERS) == {1, 2, 3, 4, 5}
    assert max(counts.values()) <= MOST_LINES
    # each line but the table of strengths and the law is one thing to read
    every = [(line.layer, line.number) for line in of(acid, peroxide, place)]
    assert every == sorted(every)
    assert all(every.count(line) == 1 for line in lines if line[0] != LOOK_UP)


def test_what_to_read_first_is_which_bottles():
    first, *_ = of(0.0, 0.0)
    assert (first.layer, first.number) == (1, 1)
    assert first.words.startswith("Only hydrochloric acid and hydrogen peroxide, ")
    assert "battery and drain acid are sulfuric: never with peroxide" in first.words
    assert "No label: do not use it." in first.words


def test_each_first_aid_is_complete_in_itself():
    aids = [line.words for line in of(0.0, 0.0) if line.layer == 4]
    elsewhere = re.compile(r"same way|likewise|as above|[Ss]ee: |line \d")
    assert not any(elsewhere.search(words) for words in aids)
    eye, skin, swallowed, breathed, *_ = aids
    assert "running water at once" in eye and "30 minutes" in eye and "hospital" in eye
    for words in (eye, swallowed, breathed):
        assert "emergency number" in words
    assert "under running water" in skin and "doctor" in skin


def old_cautions():
    """Read the cautions of the first edition."""
    with OLD_CAUTIONS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("old", old_cautions(), ids=lambda old: old["topic"])
def test_no_caution_of_the_first_edition_is_lost(old):
    """Its key facts stand in the line that it is in now, for bottles of its own strength."""
    strengths = {"HCl": 0.0, "H2O2": 0.0}
    if old["substance"] != "any":
        strengths[old["substance"]] = float(old["from_percent_by_weight"]) / 100
    lines = of(strengths["HCl"], strengths["H2O2"])
    here = [line for line in lines if f"{line.layer}.{line.number}" == old["line"]]
    words = " ".join(f"{line.topic}: {line.words}" for line in here).lower()
    missing = [fact for fact in old["kept"].split("|") if fact.lower() not in words]
    assert not missing, words


def test_the_list_of_old_cautions_is_whole():
    """As printed: 46 rows less their head line, and no fact of theirs is empty."""
    rows = old_cautions()
    assert len(rows) == len({row["topic"] for row in rows}) == 45
    assert all(row["kept"] and "||" not in row["kept"] for row in rows)
    # numbers, hazard statements and "never" are key facts
    for row in rows:
        codes = set(re.findall(r"H\d{3}", row["old_words"]))
        assert codes <= set(re.findall(r"H\d{3}", row["kept"])), row["topic"]


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
        texts = [line.words for line in cautions(*pair, "EU")]
        return {code for text in texts for code in re.findall(r"H\d{3}", text)}

    def topics_at(share):
        pair = [bottle(name, share if name == substance else 0.0) for name in ("HCl", "H2O2")]
        return {line.topic for line in cautions(*pair, "EU")}

    topic = f"{'acid' if substance == 'HCl' else 'peroxide'} from {percent} %"
    assert topic in topics_at(percent / 100) - topics_at(percent / 100 - 0.001)
    assert codes <= codes_at(percent / 100)
    assert not codes & (codes_at(percent / 100 - 0.001) - codes_at(0.0)), "said below its limit"


# A stronger bottle


def sentences(lines):
    """Collect the sentences of lines, each with its layer and line."""
    return {
        (line.layer, line.number, sentence)
        for line in lines
        for sentence in re.split(r"(?<=[.])\s", f"{line.words}")
    }


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
        sentences(cautions(acid, peroxide, place))
        for acid, peroxide in zip(acids, peroxides, strict=True)
    )
    assert weak <= strong


@pytest.mark.parametrize("substance", ["HCl", "H2O2"])
@pytest.mark.parametrize("label", [0.03, 0.10, 0.25, 0.36])
def test_a_label_never_takes_a_caution_away(substance, label):
    def said(named):
        other = bottle({"HCl": "H2O2", "H2O2": "HCl"}[substance], 0.0)
        return sentences(cautions(named, other, "GB"))

    for high in (0.02, 0.12, 0.30, 0.36):
        assert said(bottle(substance, high)) <= said(bottle(substance, high, label))


def test_a_reading_below_the_label_takes_no_caution_away():
    """A reading may be wrong: 20 % found in a bottle of 31 % is cautioned of as 31 %."""
    measured = bottle("HCl", 0.20, 0.31), bottle("H2O2", 0.03, 0.35)
    topics = {line.topic for line in cautions(*measured, "EU")}
    assert {"acid from 25 %", "peroxide from 35 %"} <= topics


def test_a_strength_is_at_its_limit_whatever_its_last_bit():
    """25 % as a difference: a bit below."""
    below = 0.35 - 0.10
    assert 100 * below < 25
    assert "acid from 25 %" in {line.topic for line in of(below, 0.0)}


@pytest.mark.parametrize(
    ("acid", "peroxide", "words"),
    [
        (0.10, 0.0, "Acid of 10 % and more fumes."),
        (0.25, 0.0, "One breath over acid of 25 % and more can burn the lungs"),
        (0.25, 0.0, "Acid of 25 % and more fumes: leave its spill, upwind."),
        (0.0, 0.10, "Peroxide of 10 % and more turns it white"),
        (0.0, 0.121, "Peroxide above 12 % foams hot on dirt or metal"),
    ],
)
def test_a_strong_bottle_is_cautioned_of(acid, peroxide, words):
    def said(scale):
        return " ".join(line.words for line in of(scale * acid, scale * peroxide))

    assert words in said(1.0) and words not in said(0.99)


def test_strong_acid_spilt_is_dangerous_at_once_and_weak_acid_is_not():
    """Second source: 100 mL in a shut room against the figure of NIOSH, by vapour alone."""
    (dangerous,) = (each for each in limits("US", "HCl") if each.kind == "dangerous at once")
    strong, weak = (breathe(spill(100e-6, w), "shut room", 15 * 60) for w in (0.3145, 0.10))
    assert strong.band("peak").middle > dangerous.value > 100 * weak.band("peak").high


def test_what_is_left_over_gets_no_other_waste():
    lines = {line.number: line.words for line in of(0.0, 0.0) if line.layer == 3}
    assert "No lye, developer or tin bath to a used bath, no foil, steel wool, scrap" in lines[5]
    assert "Never boil, dry or soak it up" in lines[5]
    assert lines[6].startswith("Nothing down the drain")
    assert "Never neutralise a bath" in lines[6]


def test_a_strip_is_never_dipped_into_the_bath_and_is_itself_tried():
    """The one rule for closing: thinned, on two days, and by a strip that is not spoilt."""
    (line,) = [line for line in of(0.0, 0.0) if (line.layer, line.number) == (3, 6)]
    for words in ("one drop of bath to 100 of water", "on two days", "Never in the bath itself"):
        assert words in line.words
    assert "A blank strip has to turn once shop peroxide is in that water." in line.words


def test_who_reads_of_a_spill_reads_first_when_to_leave_it():
    spills = [line.words for line in of(0.0, 0.0) if line.layer == 4 and "spill" in line.words]
    large, small = spills
    assert large.startswith("A spill that fumes") and "Never go in to fetch somebody" in large
    assert small.startswith("Small spill that does not fume, of acid only below 25 %")


def test_no_strength_opens_a_bottle_in_a_room():
    for strength in (0.0, 0.099, 0.36):
        words = " ".join(line.words for line in of(strength, 0.0))
        assert "Acid of any strength: never open it in a room" in words
    (shared, *_) = method_cautions("weighing")
    assert shared.words.endswith("working fume cupboard only, whatever the strength.")


def test_the_law_of_the_place_is_looked_up_and_never_first():
    lines = of(0.36, 0.35, "GB")
    assert {line.layer for line in lines if line.topic == LAW} == {LOOK_UP}


def test_an_unknown_place_is_refused_by_name():
    with pytest.raises(ValueError, match=r"place = 'Atlantis'.*EU, GB, US, elsewhere"):
        of(0.1, 0.1, "Atlantis")


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
        own = [row["words"] for row in rows if row["method"] == method]
        assert [caution.words for caution in found][-len(own) :] == own


# What is said, and what must never be


FORBIDDEN = {  # a dangerous word, and the only ways in which it may stand
    r"drain|sink|toilet": r"Nothing down the drain|battery and drain acid are sulfuric: never",
    r"closed|seal(?!ed goggles)|bottle it|screw": (
        r"Never close it up, in a bottle or under a sealing lid|closed bottles have burst|"
        r"closed shoes|Never in a closed vessel|spray only in a closed machine"
    ),
    r"undiluted": r"never meet undiluted|never meets peroxide above 4 % undiluted",
    r"indoors|\broom\b|kitchen|garage": (
        r"never open it in a room|no kitchen hood, open window or garage|never again for a kitchen"
    ),
    r"\balone\b|\bunder 18": r"Never alone|Under 18: an adult",
    r"\bsafe\b|harmless|\ballowed|permitted": r"Weaker is not harmless",
    r"into strong acid": r"Never water into strong acid|would be poured into strong acid",
    r"\bhalf full\b": r"[Vv]ented cap, at most half full",
    r"\btake (?:it|the board) out|\bpull\b": r"(?!)",
    r"collection point|(?<!hazardous-)waste site|kept bath|open air|mildest bath": r"(?!)",
    r"\bpass(?:es|ed)?\b": r"(?!)",
}


@pytest.mark.parametrize("word", FORBIDDEN)
def test_no_sentence_permits_what_is_dangerous(word):
    texts = every_text()
    assert len(texts) > 50
    for text in texts:
        rest = re.sub(FORBIDDEN[word], "", text)
        assert not re.search(word, rest, re.IGNORECASE), text


def test_no_sentence_has_more_than_25_words():
    for table in TABLES:
        for row in tables.read(table):
            texts = [row["words"], row.get("words_above") or ""]
            assert [sentence for text in texts for sentence in long_sentences(text)] == []


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


# The baths before and after, which are offered nowhere without theirs

BATHS = {
    "developer": (
        "Lye blinds",
        "sealed goggles",
        "into cold water",
        "Never water onto lye",
        "goes on burning",
        "aluminium",
        "above 50 g/L or above 50 °C is refused",
        "burns",
        "acid, peroxide, a bath or its waste",
    ),
    "stripper": ("Lye blinds", "Acetone never near acid or peroxide", "no flame", "explosive"),
    "tin bath": (
        "thiourea",
        "causing cancer",
        "unborn",
        "pregnant",
        "no recipe",
        "rinsed in two dishes before",
    ),
}


def said_of(bath):
    return " ".join(caution.words for caution in bath_cautions(bath))


@pytest.mark.parametrize("bath", BATHS)
def test_law_what_a_bath_must_warn_of_is_said(bath):
    words = said_of(bath)
    assert [phrase for phrase in BATHS[bath] if phrase not in words] == [], words
    for phrase in ("30 minutes", "emergency number", "hospital", "a labelled tub of its own"):
        assert phrase in words
    # eyes first: who is in trouble reads no further than the second line
    assert bath_cautions(bath)[1].topic == "first aid, eye"
    for caution in bath_cautions(bath):
        assert caution.works and caution.words.endswith(".") and caution.as_of >= "2026-11-30"


def test_law_a_stripper_is_lye_and_loses_none_of_the_developer_s():
    assert {line.words for line in bath_cautions("developer")} < {
        line.words for line in bath_cautions("stripper")
    }
    assert "acetone" not in said_of("tin bath").lower()


def test_law_every_row_belongs_to_a_bath_there_is():
    rows = tables.read("bath_cautions")
    assert {row["bath"] for row in rows} == {*BATHS, "any"}
    everything = {line.words for bath in BATHS for line in bath_cautions(bath)}
    assert everything == {row["words"] for row in rows}


def test_law_another_bath_is_refused_by_name():
    with pytest.raises(ValueError, match=r"bath = 'nickel'.*developer, stripper, tin bath"):
        bath_cautions("nickel")
