"""Law: what stands before anything is poured says what to wear, when to stop, and who may not."""

import pytest

from pcbchem.bench.hazards.caution import Caution
from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.hazards.words import HEADS, OPENING, REMINDER, bullets, safety, warned

FIRE = Caution("fire", "No flames.", "A book", "2026-11-25")
EYES = Caution("eyes", "Rinse.", "A book", "2026-11-26")
SKIN = Caution("skin", "Wash.", "Another", "2026-11-25")


def test_every_verdict_has_its_head():
    assert tuple(HEADS) == VERDICTS


def test_a_bath_that_may_be_mixed_is_met_with_what_to_see_to():
    for words in (safety(False), safety(False, cautions=False), REMINDER):
        for needed in ("Under 18 only with an adult", "never alone", "oggles", "gloves", "45 °C"):
            assert needed in words
        assert "Nobody" not in words


def test_a_refused_bath_is_met_with_nobody_mixes_this():
    assert safety(True).startswith("Nobody mixes this")
    assert "cautions below" in safety(True) and "cautions" not in safety(True, cautions=False)
    for words in (safety(True), safety(True, cautions=False)):
        assert "Pour" not in words and "45 °C" not in words


def test_nothing_is_opened_where_a_plan_is_refused():
    assert "open" in OPENING[False] and "open" not in OPENING[True]


@pytest.mark.parametrize("markdown", [True, False])
def test_cautions_come_with_their_dates_and_sources(markdown):
    head, lines, sources_head, sources, end = warned([FIRE, EYES, SKIN], "Cautions", markdown)
    assert head == "**Cautions** (as of 2026-11-25, 2026-11-26)"
    expected = ["**fire**: No flames.", "**eyes**: Rinse.", "**skin**: Wash."]
    assert lines == bullets(expected) and lines.count("\n- ") == 2
    assert sources == bullets(["fire; eyes: A book", "skin: Another"])
    assert ("<details>" in sources_head) == markdown == (end == "</details>")
    assert "Where these are from" in sources_head
