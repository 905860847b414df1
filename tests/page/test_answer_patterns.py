"""The patterns of an answer find what they are for and nothing beside it (laws)."""

import re

import pytest

from pcbchem.page import answer_patterns
from pcbchem.page.answer_patterns import less_of

# name, what it finds whole, what it does not
WHOLE = [
    ("NUMBER", ["1/2", "7 1/2", "2.1", ".5", "2 100", "2e3", "-7", "1,234.5"], ["e3", "٣", "x"]),
    ("FRACTION", ["1/2", "7 1/2", "-7 1/2", "1/2e3"], ["7", "1/", "/2"]),
    ("TWO_READINGS", ["1,234", "123,456"], ["0,123", "12,34", "1.234"]),
    ("CLOCK", ["7:30", "0:07:30", "7:30 min"], ["7:3", "7.30", "7:30 5"]),
    ("PART_OF_TIME", ["7 min", "30", "7m "], ["7 min 30", "min"]),
    ("RAISED_POWER", ["10³", "10⁻³"], ["10", "1³"]),
]


@pytest.mark.parametrize("name, good, bad", WHOLE)
def test_law_a_pattern_finds_what_it_is_for(name, good, bad):
    pattern = getattr(answer_patterns, name)
    assert [text for text in good if not pattern.fullmatch(text)] == []
    assert [text for text in bad if pattern.fullmatch(text)] == []


@pytest.mark.parametrize("text", ["7-8", "7 to 8", "7 ± 1", "7 -8", "7..8", "7 +/- 1"])
def test_law_a_range_is_seen(text):
    assert answer_patterns.RANGE.search(text)
    assert not answer_patterns.RANGE.search("7 tons 8")


def test_law_no_pattern_finds_nothing_over_and_over():
    """All but the end of a part want a character: else they find nothing as well."""
    for name, pattern in vars(answer_patterns).items():
        if isinstance(pattern, re.Pattern) and name != "AFTER_PART":
            assert not pattern.fullmatch(""), name


@pytest.mark.parametrize("subject", ["sugar", "a.c*(d)", "$1"])
def test_law_a_subject_is_taken_by_its_letters(subject):
    assert less_of(subject).sub(r"\1", f"timesLESS{subject.upper()}") == "timesLESS"
    assert less_of(subject).sub(r"\1", "timeslesssalt") == "timeslesssalt"
