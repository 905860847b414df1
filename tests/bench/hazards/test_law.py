"""The law of a place: a line with the bottle's own strength, no part of a verdict. Laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Bottle
from pcbchem.bench.hazards.caution import cautions
from pcbchem.bench.hazards.law import PLACES, above_limit, law_of, strength_by_law
from pcbchem.bench.hazards.verdicts import rules
from pcbchem.common import tables


def above(place, acid=(0.0, 0.0), peroxide=(0.0, 0.0)):
    """Return the lines on two bottles: each by low and high, or with a label [kg/kg]."""
    return above_limit(Bottle("HCl", *acid), Bottle("H2O2", *peroxide), place)


def test_as_printed_the_public_limits():
    # Regulation (EU) 2019/1148 Annex I; SI 2023/63 reg. 8 and GOV.UK labelling guidance of
    # 11 October 2023
    rows = tables.read("public_limits")
    limits = {(row["place"], row["substance"]): row["limit_percent_by_weight"] for row in rows}
    # elsewhere shows the strictest of those known
    assert limits == {
        ("EU", "H2O2"): "12",
        ("GB", "H2O2"): "12",
        ("GB", "HCl"): "10",
        ("US", "any"): "inf",
        ("elsewhere", "H2O2"): "12",
        ("elsewhere", "HCl"): "10",
    }


def test_the_line_says_the_bottles_own_strength_and_the_limit():
    (line,) = above("GB", acid=(0.30, 0.32, 0.31))
    assert line.words.startswith(
        "Your acid of 31 % is above the 10 % that members of the public may hold in Great Britain "
        "without a licence."
    )
    (line,) = above("EU", peroxide=(0.297, 0.35, 0.35))
    assert "Your peroxide of 35 % is above the 12 % that" in line.words and "the EU" in line.words
    both = above("elsewhere", acid=(0.30, 0.32, 0.31), peroxide=(0.30, 0.35, 0.35))
    assert [line.words.split(":")[0] for line in both] == [
        "Your acid of 31 %",
        "Your peroxide of 35 %",
    ]


def test_the_line_says_what_stands_on_the_label():
    (line,) = above("GB", acid=(0.305, 0.324, 0.3145))
    assert line.words.startswith("Your acid of 31.45 % is above the 10 % that")


def test_a_bottle_hardly_above_a_limit_is_told_from_it():
    (line,) = above("GB", acid=(0.0999, 0.10004))
    assert "acid of 10.004 % is above the 10 % that" in line.words


@pytest.mark.parametrize(
    ("place", "acid", "peroxide", "count"),
    [
        ("EU", (0.36, 0.37), (0.03, 0.03), 0),
        ("EU", (0.30, 0.31), (0.29, 0.30), 1),
        ("GB", (0.30, 0.31), (0.03, 0.03), 1),
        ("GB", (0.30, 0.31), (0.12, 0.13), 2),
        ("elsewhere", (0.30, 0.31), (0.29, 0.30), 2),
        ("US", (0.36, 0.37), (0.65, 0.70), 0),
        # the label counts where the bottle may be hardly stronger
        ("GB", (0.09, 0.11, 0.10), (0.102, 0.12, 0.12), 0),
        ("EU", (0.10, 0.10), (0.11, 0.13, 0.12), 0),
        # nor is one that the bottle may hold far more than
        ("EU", (0.10, 0.10), (0.11, 0.36, 0.12), 1),
        # a label below all that the bottle may hold is no label
        ("GB", (0.30, 0.32, 0.10), (0.03, 0.03), 1),
        # 12 % as a sum is a bit above it by its last bit
        ("EU", (0.10, 0.10), (0.10 + 0.02, 0.10 + 0.02), 0),
    ],
)
def test_each_bottle_above_its_limit_has_a_line(place, acid, peroxide, count):
    assert len(above(place, acid, peroxide)) == count


def test_the_strength_by_law_is_the_label_where_it_is_near():
    assert strength_by_law(Bottle("HCl", 0.30, 0.32, 0.31)) == 0.31
    assert strength_by_law(Bottle("HCl", 0.30, 0.33, 0.31)) == 0.33
    assert strength_by_law(Bottle("HCl", 0.30, 0.32)) == 0.32


STRENGTHS = st.tuples(st.floats(0, 0.45), st.floats(0, 0.45))


@given(STRENGTHS, st.sampled_from(PLACES), st.booleans())
@settings(max_examples=60, deadline=None)
def test_a_stronger_bottle_never_loses_its_line(strengths, place, has_label):
    counts = []
    for strength in sorted(strengths):
        label = strength if has_label else None
        counts.append(len(above(place, acid=(strength, strength, label))))
    assert counts == sorted(counts)


@pytest.mark.parametrize(
    ("place", "name"),
    [
        ("EU", "EU"),
        ("GB", "Great Britain"),
        ("US", "United States"),
        ("elsewhere", "sk locally"),
    ],
)
def test_the_law_shown_is_that_of_the_place(place, name):
    strong = Bottle("HCl", 0.36, 0.36), Bottle("H2O2", 0.5, 0.5)
    lines = [*law_of(place), *above_limit(*strong, place)]
    assert all(name.lower() in line.words.lower() for line in law_of(place))
    words = " ".join(line.words for line in lines)
    others = {"EU", "Great Britain", "United States", "sk locally"} - {name}
    assert not any(other in words for other in others)
    # whatever the bottles, it can be looked up
    assert set(law_of(place)) <= set(cautions(*strong, place))


def test_of_the_us_no_limit_is_known_and_that_is_said():
    (line,) = law_of("US")
    assert "no federal limit" in line.words and "state and town may have one" in line.words
    assert line.source.startswith("from memory: ")


def test_every_law_says_check_the_current_rule():
    for row in tables.read("public_limits"):
        assert row["words"].endswith("Check the current rule.")
        if row["limit_percent_by_weight"] != "inf":
            assert row["words_above"].endswith("Check the current rule.")
            assert "iluting it means holding it first" in row["words_above"]
            assert "{strength} %" in row["words_above"] and "{limit} %" in row["words_above"]
            assert "without a licence" in row["words_above"]
        assert "sk locally" in row["words"] or row["place"] != "elsewhere"


def test_no_rule_of_the_verdict_is_about_the_law():
    assert not any("public" in rule.name or "licence" in rule.words for rule in rules())


@pytest.mark.parametrize("call", [law_of, above])
def test_an_unknown_place_is_refused_by_name(call):
    with pytest.raises(ValueError, match=r"place = 'Atlantis'.*EU, GB, US, elsewhere"):
        call("Atlantis")
