"""What lye does to a film, in words: no gap, no minutes, no more than 50 g/L or 50 °C (laws)."""

import itertools
import re

import pytest
from helpers.permissions import permissions
from helpers.refusals import NAN, Case, assert_refused, cases

from pcbchem.bench.resist import FILMS, NO_MINUTES, in_practice, practice
from pcbchem.bench.resist import lye as lye_module
from pcbchem.bench.resist.film_words import TOO_WARM

WORDS = {"weak", "develops", "harsh", "strips"}


@pytest.mark.parametrize("film", FILMS)
def test_law_each_strength_has_one_word(film):
    rows = practice(film)
    assert rows[0].low == 0 and rows[-1].high == 50
    for first, second in itertools.pairwise(rows):
        assert first.high == second.low, "no gap and nothing twice"
    assert {row.word for row in rows} <= WORDS
    for row in rows:
        assert row.status == "common practice" and row.film == film
        assert in_practice((row.low + row.high) / 2, film, row.T_low).word == row.word
        # on an edge the harsher one counts
        assert in_practice(row.low, film).word == row.word


def test_facts_of_the_trade():
    """Read in guides and notes: 10 g/L develops photo boards, 1 % wears dry film off, 1.5 to 3 %
    strip it at room temperature; soda is its developer."""
    assert in_practice(10, "positive").word == "develops"
    assert in_practice(10, "negative").word == "harsh"
    assert in_practice(5, "positive").word == "weak"
    for strength in (15, 30):
        assert in_practice(strength, "negative").word == "strips"
    assert "developer is soda" in in_practice(10, "negative").words


def test_law_the_lye_that_develops_one_film_spoils_the_other():
    for strength in (7, 10, 14.9):
        assert in_practice(strength, "positive").word == "develops"
        assert in_practice(strength, "negative").word in ("harsh", "strips")


def test_law_colder_and_warmer_are_said():
    usual, cold, warm = (in_practice(10, "positive", T).words for T in (298.15, 285.15, 313.15))
    assert cold == f"{usual} Colder than 20 °C it is weaker than that."
    assert warm == f"{usual} Warmer than 30 °C it is harsher than that."


def test_law_no_minutes_and_no_permission():
    told = [row.words for film in FILMS for row in practice(film)]
    told += [NO_MINUTES, TOO_WARM, lye_module.TOO_STRONG, lye_module.HANDLING]
    for words in told:
        assert not re.search(r"\d\s*(min|s\b|second)", words)
        assert permissions(words) == [], words
    assert "step strip" in NO_MINUTES


REFUSED: list[Case] = [
    ("film", lambda: practice("dry"), ("film = 'dry'", "positive, negative")),
    ("film is none", lambda: in_practice(10, None), ("film = None", "positive")),
    ("strong", lambda: in_practice(50.1, "positive"), ("strength = 50.1", "lye above 50 g/L")),
    ("as mol/m³", lambda: in_practice(312.5, "negative"), ("lye above 50 g/L", "blinds")),
    ("negative", lambda: in_practice(-1, "positive"), ("strength = -1", "0 to 50 kg/m³")),
    ("NaN", lambda: in_practice(NAN, "positive"), ("strength = nan", "0 to 50")),
    ("hot", lambda: in_practice(10, "positive", 324.0), ("T = 324", "lye above 50 °C")),
    ("cold", lambda: in_practice(10, "positive", 20.0), ("T = 20", "273.15 to 323.15 K")),
    ("text", lambda: in_practice("ten", "positive"), ("strength", "not a number")),
    ("an array", lambda: in_practice([5.0, 10.0], "positive"), ("strength", "one number")),
]


@cases(REFUSED)
def test_refused(call, words):
    assert_refused(call, words)
