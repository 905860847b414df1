"""What the map says: every rule has its words, refused mixtures no amounts, one source (laws)."""

import re

import numpy as np
import pytest
from helpers.workshop import POUR

from pcbchem.bench.hazards.verdicts import REFUSED, VERDICTS, rules
from pcbchem.common.limits import InputError
from pcbchem.common.number_words import clock, span
from pcbchem.lesson.what_if import maps, words

NAMES = ("workshop", "maker", "strong")


def test_law_every_rule_has_its_words():
    refusals = {rule.name for rule in rules() if rule.verdict == VERDICTS[REFUSED]}
    assert set(words.REFUSALS) == refusals
    assert set(words.CARES) == {rule.name for rule in rules()} - refusals


def test_law_words_on_the_map_are_short():
    for short, long in words.REFUSALS.values():
        assert max(len(line) for line in short.split("\n")) <= 13
        assert not long.endswith(".") and len(long.split()) <= 16


@pytest.mark.parametrize("name", NAMES)
def test_law_a_sentence_gives_what_the_map_holds(coarse, name):
    every = coarse[name]
    for place in range(len(every)):
        said = words.under_cursor(every, place)
        times = words.band_at(every.bands["time_to_clear"], place)
        if every.severity[place] == REFUSED:
            assert said.lower().startswith(words.REFUSALS[every.reason[place]][1])
            assert "Nothing of it is handed on." in said
            # neither parts nor times: there is nothing to try
            assert not re.search(r"\d", said)
        else:
            assert f"Clear in {span(times)} (8 of 10), middle {clock(times.middle)}." in said
            assert said.lower().startswith(words.parts_words(every.parts(place)))
            assert ("never clear" in said) == bool(every.never[place] > 0)
            assert ("First care" in said) == (every.severity[place] == 1)


@pytest.mark.parametrize("name", NAMES)
def test_law_no_volume_is_said(coarse, name):
    every = coarse[name]
    texts = [words.notes(every)]
    for layer in words.LAYERS.values():
        texts += [words.alt_words(every, layer, place) for place in range(0, len(every), 7)]
    for text in texts:
        assert not POUR.search(text), POUR.search(text)


def test_law_a_refused_row_of_the_table_says_only_why(coarse):
    rows = words.table_rows(coarse["strong"])
    assert rows["0 : 1 : 1"]["verdict"].startswith("do not mix: ")
    others = [cell for head, cell in rows["0 : 1 : 1"].items() if head != "verdict"]
    assert others == ["–"] * 3


def test_law_the_title_counts_every_mixture(coarse):
    for every in coarse.values():
        total, *counts = map(int, re.findall(r"\d+", words.title_words(every)))
        assert total == len(every) == sum(counts)


def test_law_the_picture_in_words_says_verdicts_reasons_and_cursor(coarse):
    every = coarse["maker"]
    place = every.nearest(0, 1, 1)
    alt = words.alt_words(every, words.LAYERS["time"], place)
    for part in ("acid 31.45 % at the left", "peroxide 3 % at the right", "too strong: acid ("):
        assert part in alt
    assert words.under_cursor(every, place) in alt and words.title_words(every) in alt
    assert words.QUICK_LOOK.format(draws=40, full=200) in alt


def test_law_a_full_map_is_no_first_look(whole):
    assert words.quick_words(whole) == ""
    assert "First look" not in words.alt_words(whole, words.LAYERS["time"], 0)


def test_law_why_equal_parts_is_a_poor_choice_of_the_maker_s(whole):
    """Counted anew: others are as quick with less acid, one in a quarter of it or less."""
    equal = whole.nearest(0, 1, 1)
    usable = whole.severity < REFUSED
    acid, times = whole.acid_amount, whole.bands["time_to_clear"].middle
    better = usable & (times <= times[equal]) & (acid < acid[equal])
    with np.errstate(invalid="ignore"):
        more = usable & (acid > acid[equal])
    assert f"{int(better.sum())} are as quick with less acid" in words.finding(whole)
    assert f"{int(more.sum())} take more acid" in words.finding(whole)
    assert better.sum() > 20 > more.sum()
    rows = words.table_rows(whole)
    best = next(row for name, row in rows.items() if "as quick as equal parts, least acid" in name)
    assert float(best[words.ACID]) <= 0.25


def test_law_what_is_as_quick_with_least_acid_is_said_first(whole, coarse):
    first, *_ = words.finding(whole).split(". ")
    instead = maps.least_acid_as_quick(whole, whole.nearest(0, 1, 1))
    assert words.parts_words(whole.parts(instead)) in first and "more acid than they need" in first
    assert f"(planner: {whole.verdict(instead)})" in first
    # and not where they do not
    assert "none are as quick with less acid" in words.finding(coarse["workshop"])
    assert "than they need" not in words.finding(coarse["workshop"])


def test_law_where_equal_parts_are_refused_it_says_so(coarse):
    said = words.finding(coarse["strong"])
    assert "do not mix" in said and not re.search(r"\d", said)


def test_where_none_is_lean_enough_it_says_so(coarse, values_of):
    every = maps.wanting(coarse["maker"], values_of("maker", window_to=8))
    assert every.leanest is None
    assert "No mixture is clear in 3.0 min to 8.0 min at 40 °C" in words.notes(every)
    assert "No mixture is clear" not in words.notes(coarse["workshop"])


def test_law_a_doubtful_bottle_is_named_by_both_ends(values_of):
    values = values_of("workshop", acid_sure="between", acid_low=8, acid_to=11)
    every = maps.made(maps.key_of(values), 8, 2)
    assert words.corner_words(every)[1] == "acid 8 to 11 %"


@pytest.mark.parametrize(
    "error, said",
    [
        (InputError("per_cm2", "it must be above 0", value=0), "Bath for the copper = 0 cannot be"),
        (InputError("acid", "it must be a number", about="", wrong=""), "Acid: it must be"),
        (ValueError("no board"), "no board"),
    ],
)
def test_what_is_wrong_is_said_by_the_field_s_label(error, said):
    assert words.wrong_words(error).startswith(said)
