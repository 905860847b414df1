"""What stands before anything is poured: what to wear, when to stop, and who may not. Laws."""

import re

import pytest

from pcbchem import Bottle
from pcbchem.bench.hazards.caution import LAYERS, Caution, cautions, method_cautions
from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.hazards.words import (
    CAUTIONS_PAGE,
    HEADS,
    MIXED_ALREADY,
    NO_USE,
    OPENING,
    REMINDER,
    bullets,
    head,
    layer,
    look_up,
    offcut_cautions,
    safety,
    sources_by_line,
    warned,
)

FIRE = Caution("fire", "No flames.", "A book", "2026-11-25")
EYES = Caution("eyes", "Rinse.", "A book", "2026-11-26")
SKIN = Caution("skin", "Wash.", "Another", "2026-11-25")
STRONG = Bottle("HCl", 0.30, 0.32), Bottle("H2O2", 0.30, 0.35)


def test_every_verdict_has_its_head():
    assert tuple(HEADS) == VERDICTS
    assert [head(verdict) for verdict in VERDICTS] == [
        "Mix it.",
        "Mix it, with care:",
        "Do not mix this.",
    ]


def test_a_bath_that_would_not_finish_is_not_called_a_harm():
    assert head(VERDICTS[-1], harm=False) == NO_USE
    assert NO_USE == "This bath would not do the job, so no amounts are given."
    assert head(VERDICTS[0], harm=False) == HEADS[VERDICTS[0]]


def test_a_bath_that_may_be_mixed_is_met_with_what_to_see_to():
    for words in (safety(False), safety(False, cautions=False), REMINDER):
        for needed in ("Under 18 only with an adult", "never alone", "oggles", "gloves", "45 °C"):
            assert needed in words
        assert "safe" not in words


def test_a_refused_bath_is_met_with_what_makes_it_no_safer():
    words = f"Goggles, open air or a fume cupboard do not make it safe. {MIXED_ALREADY}"
    assert safety(True).startswith(words) and "cautions below" in safety(True)
    assert safety(True, cautions=False) == words
    # of a bath that is only of no use it would not be true
    assert "safe" not in safety(True, harm=False)
    assert safety(True, cautions=False, harm=False) == ""
    for refused in (safety(True), safety(True, cautions=False)):
        assert "Pour" not in refused.replace(MIXED_ALREADY, "") and "45 °C" not in refused


def test_who_has_mixed_it_already_is_told_to_leave_it():
    assert safety(True).count("Pour nothing more, no water either. Leave upwind") == 1
    assert "your emergency number" in safety(True)
    # nothing of the kind threatens who has a bath that only does not finish, or one to be mixed
    for other in (safety(True, harm=False), safety(False), REMINDER):
        assert "Mixed already?" not in other


def test_nothing_is_opened_where_a_plan_is_refused():
    assert "open" in OPENING[False] and "open" not in OPENING[True]
    heading, _ = layer(cautions(*STRONG, "EU"), 1, refused=True)
    assert heading == f"**{OPENING[True]}**"


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_a_layer_is_written_a_line_each_under_its_heading(number):
    every = cautions(*STRONG, "EU")
    heading, lines = layer(every, number)
    assert heading == f"**{LAYERS[number]}**"
    assert lines == bullets(line.words for line in every if line.layer == number)
    assert "<details>" not in heading + lines


@pytest.mark.parametrize("markdown", [True, False])
@pytest.mark.parametrize("place", ["EU", "US", "elsewhere"])
def test_the_last_layer_holds_strengths_law_and_heat(markdown, place):
    every = cautions(*STRONG, place)
    words = "\n".join(look_up(every, markdown))
    assert "Weaker is not harmless: treat acid of any strength and every bath as" in words
    for line in every:
        if line.layer == 5:
            assert line.words in words
    assert ("<details>" in words) == ("</details>" in words) == markdown
    assert "Law, as of 2026-11-2" in words


def test_each_line_has_its_source():
    every = cautions(*STRONG, "GB")
    lines = sources_by_line(every)
    for caution in every:
        place = f"{caution.layer}.{caution.number}"
        for work in caution.works:
            # a work that was read, and not the same one from memory
            (line,) = (
                line for line in lines if re.sub(r"^[\d., ]+: |^all else: ", "", line) == work
            )
            # most lines are common practice: they are what is left over
            assert place in line.split(":")[0].split(", ") or line.startswith("all else: ")
    assert lines[-1] == "all else: common practice, no source"
    folded = "\n".join(look_up(every, markdown=True))
    assert all(line in folded for line in lines)
    assert CAUTIONS_PAGE in "\n".join(look_up(every, markdown=False))


def test_a_refused_plan_names_no_source_of_what_it_does_not_show():
    every = cautions(*STRONG, "GB")
    for refused in (False, True):
        words = "\n".join(look_up(every, markdown=True, refused=refused))
        lines = re.findall(r"^- ([\d., ]+): ", words, re.MULTILINE)
        layers = {line[0] for numbers in lines for line in numbers.split(", ")}
        assert layers == ({"1", "4", "5"} if refused else {"1", "2", "3", "4", "5"})


@pytest.mark.parametrize("markdown", [True, False])
def test_the_cautions_of_an_offcut_are_all_written(markdown):
    words = "\n".join(offcut_cautions(markdown))
    assert all(caution.words in words for caution in method_cautions("offcut"))
    assert words.startswith("**Before you etch an offcut**")


@pytest.mark.parametrize("markdown", [True, False])
def test_cautions_come_with_their_dates_and_sources(markdown):
    head, lines, sources_head, sources, end = warned([FIRE, EYES, SKIN], "Cautions", markdown)
    assert head == "**Cautions** (as of 2026-11-25, 2026-11-26)"
    expected = ["**fire**: No flames.", "**eyes**: Rinse.", "**skin**: Wash."]
    assert lines == bullets(expected) and lines.count("\n- ") == 2
    assert sources == bullets(["fire; eyes: A book", "skin: Another"])
    assert ("<details>" in sources_head) == markdown == (end == "</details>")
    assert "Where these are from" in sources_head
