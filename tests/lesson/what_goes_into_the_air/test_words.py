"""What is said of the air: numbers of the package, always the rule, never a permission (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.what_goes_into_the_air import words
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    ACIDS,
    DANGER,
    MOMENT,
    OPEN_AIR,
    PLACES,
    SMELL,
    STRONG,
    breathed,
    limit,
)

SETTINGS = [(acid, place) for acid in ACIDS for place in PLACES]
CALMING = re.compile(
    r"\b(safe|safely|fine|enough|harmless|allowed|acceptable|permitted|low|little|only|below|under)"
    r"\b|no danger|within the limit",
    re.IGNORECASE,
)
"""Words that would make a permission of a number."""


def number(text):
    return float(text.replace("\u202f", ""))


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_a_sentence_holds_the_rows(acid, place):
    said, air = words.answer_words(acid, place), breathed(acid, place)
    found = re.search(
        r"acid of (\d+) %: at most bath ([\d.]+) ppm, bottle ([\d.]+), spill ([\d.]+) "
        r"\(([\d.]+) to ([\d.]+)\)\. ",
        said.readout,
    )
    values = [number(group) for group in found.groups()]
    rows = [1e6 * float(row.middle) for row in air.rows]
    spill = [1e6 * float(air.spill.low), 1e6 * float(air.spill.high)]
    assert values == pytest.approx([acid, *rows, *spill], rel=0.051)
    assert said.readout.startswith(words.PLACE_WORDS[place])
    for row in air.rows:
        assert words.band_words(row) in said.alt


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_the_rule_and_the_fourth_row_never_go(acid, place):
    said = words.answer_words(acid, place)
    assert said.readout.endswith("Work in the open air or in a working fume cupboard.")
    assert "chlorine, mist, a bath run hot; nobody has measured this" in said.readout
    assert "hatched from end to end" in said.alt and said.title.endswith("Work outdoors")
    assert ("upwind, head out of it" in said.readout) == (place == OPEN_AIR)
    assert ("near the ground, it is ten times as much" in said.readout) == (place == OPEN_AIR)
    assert "Nor opening a warm bottle, nor pouring." in said.readout
    for asked in (words.question_words(), words.question_words(is_mild=True)):
        assert asked.readout.endswith(words.RULE) and "nobody has measured this" in asked.alt


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_no_number_becomes_a_permission(acid, place):
    said = words.answer_words(acid, place, "“all three about alike”")
    for text in (said.title, said.readout, said.alt):
        assert not CALMING.search(text), CALMING.search(text)


@pytest.mark.parametrize("place", PLACES)
def test_law_the_bath_s_peroxide_has_its_number_in_the_sentence(place):
    air = breathed(STRONG, place)
    found = re.search(
        r"The bath gives ([\d.]+) ppm of peroxide too, without smell: (\d+) times its acid gas\.",
        words.answer_words(STRONG, place).readout,
    )
    wanted = [1e6 * float(air.peroxide.middle), float(air.peroxide_times.middle)]
    assert [float(each) for each in found.groups()] == pytest.approx(wanted, rel=0.051)


def test_law_a_calming_word_would_be_seen():
    for planted in ("far below smell", "That is fine.", "Safe here", "a window is enough"):
        assert CALMING.search(planted)


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_the_highest_line_that_the_spill_reaches_is_named(acid, place):
    air, said = breathed(acid, place), words.spill_words(breathed(acid, place))
    reached = [
        kind for kind in (DANGER, MOMENT, SMELL) if float(air.spill.high) > limit(kind).value
    ]
    if not reached:
        assert said == ""
        return
    line = limit(reached[0]).value
    count = int(np.sum(air.spill.values > line))
    assert f"over {1e6 * line:g} ppm, {words.LINE_WORDS[reached[0]]}, in {count} of 200" in said
    assert count >= 20


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_a_title_says_how_many_times(acid, place):
    air = breathed(acid, place)
    found = re.match(
        r"Bottle: (1/)?([\d.\u202f]+) (times|of) the bath's acid gas, "
        r"spill: ([\d.\u202f]+) times\. Work",
        words.answer_words(acid, place).title,
    )
    part, bottle, way, spill = found.groups()
    times = 1 / number(bottle) if part else number(bottle)
    assert bool(part) == (way == "of") == (float(air.bottle_times.middle) < 1)
    assert times == pytest.approx(float(air.bottle_times.middle), rel=0.051)
    assert number(spill) == pytest.approx(float(air.spill_times.middle), rel=0.051)


def test_law_a_question_tells_no_number():
    for is_mild in (False, True):
        asked = words.question_words(is_mild)
        told = f"{asked.title} {asked.readout} {asked.alt}"
        assert "redict first" in told
        # the lines, the times, what is spilt, and the acid that is asked about
        assert set(re.findall(r"[\d.]*\d", told)) <= {"0.77", "5", "45", "15", "10", "100"}


@pytest.mark.parametrize(
    "value, text",
    [(0.2213, "0.22"), (1.76e-6, "0.0000018"), (9.96, "10"), (43.4, "43"), (0.02, "0.02")],
)
def test_law_two_figures_without_an_exponent(value, text):
    assert words.two_figures(value) == text


def test_law_thousands_are_parted_by_a_narrow_space():
    assert words.two_figures(23_890) == "24\u202f000" and words.two_figures(1951) == "2000"
    assert words.two_figures(138_260) == "140\u202f000"
