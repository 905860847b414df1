"""What is said of a tin bath: with its source, no promise of a thickness, and no recipe."""

import re

import pytest
from helpers.permissions import permissions
from helpers.refusals import Case, assert_refused, cases

from pcbchem.bench.tin import STOPS, THIOUREA_PER_TIN, USABLE, fact, facts, words
from pcbchem.common import tables
from pcbchem.reaction.chemistry import potential

ALL = " ".join(each.words for each in facts())


def test_law_the_table_and_the_topics_are_the_same():
    assert tuple(row["topic"] for row in tables.read("tin_facts")) == words.TOPICS
    assert len(set(words.TOPICS)) == len(facts()) == len(words.TOPICS)


def test_law_each_has_words_a_source_a_status_and_a_date():
    for each in facts():
        assert each.words.endswith(".") and each.sources and all(each.sources), each
        assert re.fullmatch(r"20\d\d-\d\d-\d\d", each.as_of), each
        assert each.status in (
            "published",
            "from memory",
            "common practice",
            "assumed",
            "our limit",
        ), each


def test_law_what_was_not_read_is_not_called_published():
    read = {row["citation"]: row["read_in_a_copy"] for row in tables.read("sources")}
    for each in facts():
        if each.status == "published":
            assert {read[work] for work in each.sources} <= {"yes", "partly", "abstract"}, each
        if each.status == "from memory":
            assert {read[work] for work in each.sources} == {"no"}, each


def test_law_the_figures_in_words_are_those_of_the_room():
    low, high = (f"{1e6 * end:g}" for end in STOPS)
    assert f"{low} to {high} µm" in fact("it stops").words
    assert f"{THIOUREA_PER_TIN} thiourea" in fact("how it works").words
    assert USABLE == (0.1, 0.2) and "A tenth to a fifth" in fact("usable").words


def test_law_the_other_metals_are_as_their_potentials_say():
    said = fact("other metals").words
    assert potential("silver") > potential("copper") > max(map(potential, ("nickel", "zinc")))
    assert re.search(r"Silver comes out .*by itself", said)
    assert re.search(r"Nickel and zinc never do", said)


def test_law_no_sentence_permits_anything_and_each_end_is_the_site():
    assert permissions(ALL) == []
    assert "hazardous-waste site" in fact("waste").words
    assert "never with the etching bath" in fact("waste").words


def test_law_there_is_no_recipe():
    # a number here is a layer, or how many of one take part: no strength, no mass, no temperature
    assert not re.search(r"\d ?(?:g|mg|kg|mL|L|mol|mmol|%|°C|K|min|s|h)\b", ALL)
    assert "label" in fact("no recipe").words


REFUSED: list[Case] = [
    ("unknown topic", lambda: fact("recipe"), ("topic", "'recipe'", "thiourea")),
    ("no topic", lambda: fact(None), ("topic", "None", "it stops")),  # type: ignore[arg-type]
    ("number", lambda: fact(1), ("topic", "1", "waste")),  # type: ignore[arg-type]
]


@cases(REFUSED)
def test_law_another_topic_is_refused(call, words):
    assert_refused(call, words)


@pytest.mark.parametrize("topic", words.TOPICS)
def test_law_each_is_short_enough_to_be_read(topic):
    assert 40 < len(fact(topic).words) < 280
