"""What is said of the air: numbers of the package, always the rule, never a permission (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.what_goes_into_the_air import words
from pcbchem.lesson.what_goes_into_the_air.numbers import (
    ACIDS,
    DANGER,
    FAN,
    GARAGE,
    MOMENT,
    OPEN_AIR,
    PLACES,
    SMELL,
    breathed,
    limit,
    mild_plan,
    over_liquid,
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
        r", highest moment: bath ([\d.]+) ppm \(and ([\d.]+) of peroxide\), bottle of (\d+)\u00a0% "
        r"([\d.]+) \(right over it ([\d.\u202f]+)\), spill about ([\d.]+) "
        r"\(([\d.]+) to ([\d.]+) in 8 of 10 cases\)\. ",
        said.readout,
    )
    values = [number(group) for group in found.groups()]
    bath, bottle, spill = (1e6 * float(row.middle) for row in air.rows)
    ends = [1e6 * float(air.spill.low), 1e6 * float(air.spill.high)]
    peroxide, over = 1e6 * float(air.peroxide.middle), 1e6 * over_liquid(acid)
    wanted = [bath, peroxide, acid, bottle, over, spill, *ends]
    assert values == pytest.approx(wanted, rel=0.051)
    assert said.readout.startswith(words.PLACE_WORDS[place])
    for row in air.rows:
        assert words.band_words(row) in said.alt


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_the_rule_and_the_fourth_row_never_go(acid, place):
    said = words.answer_words(acid, place)
    assert said.readout.endswith("Work in the open air or in a working fume cupboard.")
    assert "mist, opening, pouring, chlorine; nobody has measured this." in said.readout
    assert "hatched from end to end: chlorine, mist; nobody has measured this" in said.alt
    rule = "Stay upwind" if place == OPEN_AIR else "Work outdoors"
    assert said.title.endswith(rule)
    assert ("upwind, never lean over it" in said.readout) == (place == OPEN_AIR)
    assert ("near the ground, it is ten times as much" in said.readout) == (place == OPEN_AIR)
    for asked in (words.question_words(), words.question_words(is_mild=True)):
        assert asked.readout.endswith(words.RULE) and "nobody has measured this" in asked.alt


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_no_number_becomes_a_permission(acid, place):
    said = words.answer_words(acid, place, "“all three about alike”")
    for text in (said.title, said.readout, said.alt):
        assert not CALMING.search(text), CALMING.search(text)


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_the_ceiling_of_chlorine_stands_against_its_danger(acid, place):
    """In every place, mild acid too: half of the bath's acid in moles, spread over a room."""
    said = words.answer_words(acid, place)
    room = 60 if place == GARAGE else 30
    found = re.search(
        r"All the bath's acid as chlorine: (\d+) ppm in (a shut room of )?(\d+) m³; "
        r"dangerous at once from (\d+)\.",
        said.readout,
    )
    told, shut, *more = found.groups()
    values = [more[0], told, more[1]]
    acid_in_bath = float(np.median(mild_plan().mixture.amount("HCl")))
    ceiling = 1e6 * acid_in_bath / 2 * 24.06e-3 / room
    assert [float(each) for each in values] == pytest.approx([room, ceiling, 10], rel=0.051)
    # the open air has no walls
    assert bool(shut) == (place == OPEN_AIR)
    mark = f"all its acid as chlorine: {values[1]} in {room} m³, dangerous at once from 10"
    assert f"An open triangle in it: {mark}." in said.alt


@pytest.mark.parametrize("acid", ACIDS)
def test_law_fewer_cases_with_a_fan_are_no_less_danger(acid):
    for place in PLACES:
        said = words.spill_words(breathed(acid, place))
        assert ("do not end that" in said) == (place == FAN and bool(said))


def test_law_a_calming_word_would_be_seen():
    for planted in ("far below smell", "That is fine.", "Safe here", "a window is enough"):
        assert CALMING.search(planted)


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_the_highest_line_that_the_spill_reaches_is_named(acid, place):
    air, said = breathed(acid, place), words.spill_words(breathed(acid, place))
    reached = [
        kind for kind in (DANGER, MOMENT, SMELL) if np.any(air.spill.values > limit(kind).value)
    ]
    if not reached:
        assert said == ""
        return
    line = limit(reached[0]).value
    count = int(np.sum(air.spill.values > line))
    name = words.LINE_WORDS[reached[0]]
    assert said.endswith("Leave such a spill, upwind, and keep others out. ")
    assert f"In {count} of 200 cases the spill is over {1e6 * line:g}, {name}" in said


@pytest.mark.parametrize("acid, place", SETTINGS)
def test_law_a_title_says_how_many_times(acid, place):
    air = breathed(acid, place)
    found = re.match(
        r"[\d.]+ %: bottle about (1/)?([\d.\u202f]+) (times|of) the bath, "
        r"spill ([\d.\u202f]+) times\. [WS]",
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
